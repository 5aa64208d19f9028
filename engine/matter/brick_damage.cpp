// SPDX-License-Identifier: Apache-2.0
#include "matter/brick_damage.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/solid_build.hpp"

namespace haunch::matter {
namespace {

using scene::Brick;
using scene::BrickPlace;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

double hours(double angle) { return base::wrap_hours(angle * 12 / tau); }

/// Courses whose middles lie in the arc, clockwise; the one nearest its middle where none does.
std::vector<int> courses_in(const base::ClockArc& arc, int courses) {
  const double width = base::arc_width_h(arc), each = 12.0 / courses;
  const double from = arc.from_h / each;
  std::vector<int> found;
  for (int k = static_cast<int>(std::ceil(from - 0.5 - 1e-9)); (k + 0.5) * each <= arc.from_h + width + 1e-9;
       ++k)
    found.push_back((k % courses + courses) % courses);
  if (found.empty()) found.push_back(static_cast<int>(std::floor((arc.from_h + width / 2) / each)) % courses);
  return found;
}

}  // namespace

bool BrickArea::holds(const Brick& brick) const {
  return std::any_of(bricks.begin(), bricks.end(), [&](const Brick& other) {
    return other.course == brick.course && other.row == brick.row;
  });
}

BrickArea bricks_of(const scene::Scene& scene, const scene::BrickDamage& damage) {
  const double middle = (damage.from_m + damage.to_m) / 2;
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, middle))];
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  BrickArea area;
  area.bore_mm = section.bore_mm;
  const int courses = scene::brick_courses(section.bore_mm);
  const std::vector<int> round = courses_in(damage.arc, courses);
  area.from_angle = round.front() * tau / courses;
  area.span = static_cast<double>(round.size()) * tau / courses;
  area.arc = {hours(area.from_angle), hours(area.from_angle + area.span), false};
  area.from_m = 1e9, area.to_m = -1e9;
  for (const int course : round) {
    const double angle = (course + 0.5) * tau / courses;
    const std::size_t before = area.bricks.size();
    const int first = scene::brick_at(section.bore_mm, damage.from_m, angle).row,
              last = scene::brick_at(section.bore_mm, damage.to_m, angle).row;
    for (int row = first; row <= last; ++row) {
      const BrickPlace place = scene::place_of(section.bore_mm, {course, row});
      // Bricks cut by the end of the brickwork are left alone.
      if (place.z_m - place.length_m / 2 < section.from_m || place.z_m + place.length_m / 2 > section.to_m)
        continue;
      if (place.z_m >= damage.from_m - 1e-9 && place.z_m <= damage.to_m + 1e-9)
        area.bricks.push_back({course, row});
    }
    if (area.bricks.size() == before) area.bricks.push_back(scene::brick_at(section.bore_mm, middle, angle));
  }
  for (const Brick& brick : area.bricks) {
    const BrickPlace place = scene::place_of(section.bore_mm, brick);
    area.from_m = std::min(area.from_m, place.z_m - place.length_m / 2);
    area.to_m = std::max(area.to_m, place.z_m + place.length_m / 2);
  }
  return area;
}

double edge_distance_m(const BrickArea& area, double z, double angle) {
  double nearest = 1e9;
  for (const Brick& brick : area.bricks) {
    const BrickPlace place = scene::place_of(area.bore_mm, brick);
    const double dz = std::abs(z - place.z_m) - place.length_m / 2,
                 ds =
                     std::abs(std::remainder(angle - place.angle, tau)) * area.radius_m() - place.width_m / 2;
    const double out = std::hypot(std::max(dz, 0.0), std::max(ds, 0.0)) + std::min(std::max(dz, ds), 0.0);
    nearest = std::min(nearest, out);
  }
  return nearest;
}

double joint_distance_m(double bore_mm, double z, double angle) {
  const BrickPlace place = scene::place_of(bore_mm, scene::brick_at(bore_mm, z, angle));
  const double head = place.length_m / 2 - std::abs(z - place.z_m),
               bed = place.width_m / 2 - std::abs(std::remainder(angle - place.angle, tau)) * bore_mm / 2000;
  return std::max(0.0, std::min(head, bed));
}

double dropped_m(const BrickArea& area, const scene::BrickDamage& damage, double z) {
  const double ramp = std::min(0.15, 0.25 * (area.to_m - area.from_m));
  const double in = std::clamp(std::min(z - area.from_m, area.to_m - z) / ramp, 0.0, 1.0);
  return damage.moved_mm / 1000 * (0.35 + 0.65 * in * in * (3 - 2 * in));
}

namespace {

/// The colours of Stuff::brick that this wall is of.
constexpr std::uint32_t reds[] = {0, 1, 3};

/// A brick of the ring, its face inwards, y outwards; a little smaller than its place, as laid.
Solid ring_brick(const BrickPlace& place, std::uint32_t seed) {
  const double half_joint = scene::brick_joint_m / 2;
  const Vec3 half{place.width_m / 2 - half_joint, scene::brick_ring_m / 2, place.length_m / 2 - half_joint};
  return block(half, 0.004, {0.0008, 0.012, seed}, {0.0010, 0.010, seed + 3U}, Stuff::brick, reds[seed % 3U],
               0.004);
}

Solid displaced(const BrickArea& area, const scene::BrickDamage& damage, std::uint64_t seed64) {
  base::Random random(seed64 ^ 0xb7U);
  const auto most = random.below(static_cast<std::uint32_t>(area.bricks.size()));
  const double radius = area.radius_m(), middle = (area.from_m + area.to_m) / 2;
  Solid all;
  std::uint32_t number = 0;
  for (const Brick& brick : area.bricks) {
    const BrickPlace place = scene::place_of(area.bore_mm, brick);
    const double in = damage.moved_mm / 1000 *
                      (number == most           ? 1.0
                       : random.uniform() < 0.2 ? random.uniform(-0.5, -0.15)
                                                : random.uniform(0.15, 0.85));
    // Its most forward edge is what stands in so far.
    const double tilt = std::min(0.16, 0.5 * std::abs(in) / (place.length_m / 2));
    const double pitch = random.uniform(-1, 1) * tilt, roll = random.uniform(-0.10, 0.10),
                 yaw = random.uniform(-0.05, 0.05);
    const double forward =
        std::abs(std::sin(pitch)) * place.length_m / 2 + std::abs(std::sin(roll)) * place.width_m / 2;
    Solid one = ring_brick(place, static_cast<std::uint32_t>(seed64) + 31U * number);
    move(one, turned(roll, pitch, yaw), {});
    const Vec3 out{std::sin(place.angle), std::cos(place.angle), 0};
    const double away = radius + scene::brick_ring_m / 2 - in + (in > 0 ? std::min(forward, 0.8 * in) : 0);
    move(one, along_y(out, {0, 0, 1}), away * out + Vec3{0, 0, place.z_m - middle});
    add(all, std::move(one));
    ++number;
  }
  return all;
}

/// Bricks and bats, mortar and the ground behind, on the invert below where they were.
Solid fallen(const BrickArea& area, const scene::BrickDamage& damage, std::uint64_t seed64) {
  const auto seed = static_cast<std::uint32_t>(seed64);
  const double radius = area.radius_m();
  const double from_clock = hours(area.from_angle + area.span / 2);
  // Its size is sought with blocks of few points, which take up nearly as much.
  const auto made = [&](double high, double step_m) {
    base::Random random(seed64 ^ 0xfbU);
    const double long_m = (area.to_m - area.from_m) / 2 + std::max(0.5 * radius, 0.6 * high);
    Solid all = mound(radius, 0.85 * high, long_m, from_clock, 0.012, Stuff::earth, seed);
    Heap heap(radius);
    heap.take(all);
    // Whole bricks where much has come down and there is room for them, else bats of them.
    const double most = std::min(0.095, 0.42 * radius) * std::clamp(high / (0.9 * radius), 0.2, 1.0);
    for (int i = 0; i < 26; ++i) {
      const double l = most * (i < 6 ? random.uniform(0.75, 1.0) : random.uniform(0.25, 0.7));
      const Vec3 half{std::min(0.05, 0.55 * most) * random.uniform(0.7, 1.0),
                      std::min(0.033, 0.38 * most) * random.uniform(0.8, 1.0), l};
      Solid bat = block(half, 0.005, {0.001, 0.012, seed + static_cast<std::uint32_t>(i)},
                        {i < 6 ? 0.002 : 0.007, 0.016, seed + 40U + static_cast<std::uint32_t>(i)},
                        Stuff::brick, reds[random.below(3)], step_m);
      move(bat, turned(random.uniform(-0.6, 0.6), random.uniform(-0.5, 0.5), random.uniform(-1.6, 1.6)), {});
      std::vector<Vec3> places;
      for (int k = 0; k < 3; ++k)
        places.push_back({random.uniform(-0.6, 0.6) * radius, 0, random.uniform(-0.8, 0.8) * long_m});
      heap.let_roll(bat, places, 0.5 * half.y);
      add(all, std::move(bat));
    }
    for (int i = 0; i < 46; ++i) {
      const double r = random.uniform(0.004, 0.014);
      Solid lump = pebble({r, r * random.uniform(0.6, 0.9), r}, seed + 77U * static_cast<std::uint32_t>(i),
                          true, random.uniform() < 0.5 ? Stuff::mortar : Stuff::earth, random.below(2));
      std::vector<Vec3> places;
      for (int k = 0; k < 4; ++k)
        places.push_back({random.uniform(-0.85, 0.85) * radius, 0, random.uniform(-1, 1) * long_m});
      heap.let_roll(lump, places, 0.6 * r);
      add(all, std::move(lump));
    }
    return all;
  };
  const auto sought = [&](double share) {
    double low = 0, high = 2.4 * radius;
    for (int i = 0; i < 12; ++i) {
      const double middle = (low + high) / 2;
      (share_hidden(made(middle, 0.010), radius) < share ? low : high) = middle;
    }
    return (low + high) / 2;
  };
  // Fine blocks come to lie a little otherwise; that is made good once.
  const double share = damage.takes_percent / 100;
  const double off = share_hidden(made(sought(share), 0.004), radius) - share;
  return made(sought(std::max(0.0, share - off)), 0.004);
}

}  // namespace

Solid brick_solid(const scene::Scene& scene, const scene::BrickDamage& damage, std::uint64_t seed) {
  const BrickArea area = bricks_of(scene, damage);
  Solid solid;
  if (damage.form == scene::BrickForm::displaced) solid = displaced(area, damage, seed);
  if (damage.form == scene::BrickForm::collapsed) solid = fallen(area, damage, seed);
  if (solid.parts.empty()) return solid;
  solid.arc = area.arc;
  return into_scene(scene, (area.from_m + area.to_m) / 2, std::move(solid));
}

}  // namespace haunch::matter
