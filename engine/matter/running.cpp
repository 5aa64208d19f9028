// SPDX-License-Identifier: Apache-2.0
// Ground water coming in: what runs down the wall, what falls and what spurts. How fast and how thick: ours,
// by eye; what falls does so by gravity.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;
constexpr double gravity_m_s2 = 9.81;
constexpr double shutter_s =
    0.012;  // of a camera of 25 pictures a second in the dark (common practice, no source)

double bumpy(const Vec3& p, double size, std::uint32_t seed, int octaves) {
  return static_cast<double>(layered_noise(static_cast<float>(p.x / size), static_cast<float>(p.y / size),
                                           static_cast<float>(p.z / size), seed, octaves));
}

struct Running {
  double radius;
  double hour;
  std::uint64_t seed64;
  double time_s;
  std::uint32_t seed = static_cast<std::uint32_t>(seed64);
  double top = std::remainder(hour, 12.0) * tau / 12;  // of the place, from the crown

  Vec3 on(double angle, double out, double z) const {
    return {(radius + out) * std::sin(angle), (radius + out) * std::cos(angle), z};
  }

  /// The film that runs from the place down to the invert, `wide_m` at its foot.
  Solid film(double wide_m, double thick_m) const {
    const double side = top >= 0 ? 1 : -1, last = side * tau / 2;
    constexpr int rows = 90, columns = 24;
    SolidPart part{Stuff::wet, 0, rows + 1, columns + 1, false, {}};
    for (int r = 0; r <= rows; ++r)
      for (int c = 0; c <= columns; ++c) {
        const double t = static_cast<double>(r) / rows, u = 2.0 * c / columns - 1;
        const double a = top - side * 0.05 + (last - top + side * 0.05) * t;
        const double ragged = 1 + 0.7 * bumpy({a * radius, u > 0 ? 1.0 : 0.0, 0}, 0.02, seed + 1U, 3);
        const double wander = 0.4 * wide_m * bumpy({a * radius, 0.5, 0}, 0.05, seed + 2U, 2);
        const double z = wander + u * wide_m * ragged * (0.45 + 0.55 * t);
        // Ripples go down it.
        const Vec3 own{a * radius - 0.25 * time_s, 0, z};
        const double k = 0.0004 + thick_m * (1 - u * u) * (1 + 0.8 * bumpy(own, 0.012, seed + 3U, 2));
        part.points.push_back({on(a, -(std::abs(u) > 0.99 ? 0.0 : std::max(0.0002, k)), z), own});
      }
    return {{std::move(part)}, {}};
  }

  /// A drop that is falling; how far it goes while the shutter is open it is drawn out.
  static Solid drop(const Vec3& at, double r, const Vec3& way) {
    const double drawn = std::max(scene::length(way), 0.2 * r);
    const Vec3 end = at + (drawn / std::max(1e-9, scene::length(way))) * way;
    return rod(
        smooth_line({at, end}, 8), [r](double t) { return r * (0.75 + 0.25 * t); }, 14, {}, Stuff::stream, 0);
  }

  /// What leaves the wall with a velocity, at a time after.
  Vec3 thrown(const Vec3& from, const Vec3& speed, double after) const {
    return from + after * speed + Vec3{0, -gravity_m_s2 / 2 * after * after, 0};
  }
  bool inside(const Vec3& p) const { return p.x * p.x + p.y * p.y < radius * radius; }

  /// When what is thrown meets the wall.
  double flight_s(const Vec3& from, const Vec3& speed) const {
    double after = 0.004;
    while (after < 1 && inside(thrown(from, speed, after))) after += 0.002;
    return after;
  }

  /// Drops thrown up where water strikes.
  void splash(Solid& all, const Vec3& at, int count, double speed, base::Random& random) const {
    for (int i = 0; i < count; ++i) {
      const double life = random.uniform(0.06, 0.14), phase = random.uniform();
      const Vec3 inward = scene::normalised({-at.x, -at.y, 0});
      const Vec3 way =
          speed * random.uniform(0.4, 1.0) *
          scene::normalised(inward + 0.9 * Vec3{random.normal(), random.normal(), random.normal()});
      const double r = random.uniform(0.0004, 0.0011);
      double after = life * (time_s / life + phase - std::floor(time_s / life + phase));
      const Vec3 p = thrown(at + 0.002 * inward, way, after);
      if (inside(p) && scene::dot(way, inward) > 0) add(all, drop(p, r, 0.3 * shutter_s * way));
    }
  }

  Solid drips() const {
    base::Random random(seed64 ^ 0xd1U);
    const Vec3 from = on(top, -0.002, 0);
    Solid all = film(0.012 + 0.1 * radius * random.uniform(0.6, 1.4), 0.0004);
    const double period = random.uniform(0.35, 1.1), r = random.uniform(0.0019, 0.0027);
    const Vec3 nothing{};
    const double whole = flight_s(from, nothing);
    const double turn = time_s / period + random.uniform();
    const double since = period * (turn - std::floor(turn));
    // One hangs and grows at each of a few places; where one is ripe it falls.
    const int places = 1 + static_cast<int>(random.below(3));
    for (int i = 0; i < places; ++i) {
      const double z = i == 0 ? 0 : random.uniform(-0.05, 0.05),
                   a = top + (i == 0 ? 0 : random.uniform(-0.12, 0.12));
      const double grown = i == 0 ? std::min(1.0, since / period) : random.uniform(0.3, 0.9);
      const Vec3 foot = on(a, 0.0005, z);
      const double long_m = r * (0.6 + 1.9 * grown);
      add(all, rod(
                   smooth_line({foot, foot + Vec3{0, -long_m, 0}}, 12),
                   [&](double t) {
                     return r * (0.7 + 0.5 * grown) * (0.75 + 0.5 * t) *
                            std::sqrt(std::max(0.05, 1 - t * t * t * t));
                   },
                   20, {}, Stuff::stream, 0));
    }
    if (since < whole) {
      const double now = std::max(0.0, since);
      add(all,
          drop(thrown(from, nothing, now), 0.9 * r, {0, -std::min(gravity_m_s2 * now * shutter_s, 0.03), 0}));
    } else if (since < whole + 0.10) {
      // It has struck: a small crown of spray.
      Vec3 at = thrown(from, nothing, whole);
      const double after = since - whole;
      for (int i = 0; i < 7; ++i) {
        const double a = tau * i / 7 + random.uniform(-0.3, 0.3);
        const Vec3 way{0.35 * std::cos(a), random.uniform(0.35, 0.8), 0.35 * std::sin(a)};
        const Vec3 p = thrown(at, way, after);
        if (inside(p)) add(all, drop(p, random.uniform(0.0005, 0.0009), 0.3 * shutter_s * way));
      }
    }
    return all;
  }

  /// An unbroken thread: it falls free from the upper half of the bore, else it runs.
  Solid flows() const {
    base::Random random(seed64 ^ 0xf1U);
    Solid all = film(0.014 + 0.16 * radius * random.uniform(0.7, 1.3), 0.0011);
    if (std::cos(top) < 0.1) return all;
    const Vec3 inward = scene::normalised({-std::sin(top), -std::cos(top), 0});
    const Vec3 speed = random.uniform(0.05, 0.35) * inward + Vec3{0, 0, random.uniform(-0.1, 0.1)};
    const Vec3 from = on(top, -0.002, 0);
    const double whole = flight_s(from, speed), r = random.uniform(0.0018, 0.0032);
    std::vector<Vec3> line;
    for (int i = 0; i <= 60; ++i) {
      const double after = whole * i / 60.0;
      Vec3 p = thrown(from, speed, after);
      const double wave = 0.0016 * i / 60.0;
      const double gone = (after - time_s) * 14;
      p.x += wave * bumpy({gone, 0.1, 0}, 1, seed + 8U, 2),
          p.z += wave * bumpy({gone, 5.1, 0}, 1, seed + 8U, 2);
      line.push_back(p);
    }
    // It thins as it goes faster, and beads.
    add(all, rod(
                 line,
                 [&](double t) {
                   return r / std::sqrt(std::sqrt(1 + 30 * t * whole)) *
                          (1 + 0.5 * t * bumpy({(t * whole - time_s) * 60, 0, 0.5}, 1, seed + 9U, 1));
                 },
                 18, {}, Stuff::stream, 0));
    splash(all, line.back(), 16, 0.9, random);
    return all;
  }

  /// A jet under pressure that breaks up on the way.
  Solid gushes() const {
    base::Random random(seed64 ^ 0x91U);
    Solid all = film(0.03 + 0.3 * radius * random.uniform(0.8, 1.3), 0.0022);
    const Vec3 inward = scene::normalised({-std::sin(top), -std::cos(top), 0});
    const Vec3 aim = scene::normalised(
        inward + Vec3{random.uniform(-0.25, 0.25), random.uniform(-0.1, 0.25), random.uniform(-0.5, 0.5)});
    const double fast = random.uniform(1.6, 3.2);
    const Vec3 from = on(top, -0.001, 0), speed = fast * aim;
    const double whole = flight_s(from, speed),
                 r = std::clamp(radius * random.uniform(0.05, 0.09), 0.003, 0.012);
    for (int thread = 0; thread < 4; ++thread) {
      std::vector<Vec3> line;
      const auto seed_t = seed + 50U * static_cast<std::uint32_t>(thread);
      const Vec3 aside{thread == 0 ? 0 : random.uniform(-1, 1), thread == 0 ? 0 : random.uniform(-1, 1),
                       thread == 0 ? 0 : random.uniform(-1, 1)};
      for (int i = 0; i <= 60; ++i) {
        const double after = whole * i / 60.0, gone = (after - time_s) * 22;
        Vec3 p = thrown(from, speed, after) + (after * 0.10 * fast) * aside;
        const double wave = 0.35 * r * (0.3 + 2.0 * i / 60.0);
        p.x += wave * bumpy({gone, 0.1, 0}, 1, seed_t + 8U, 3),
            p.y += wave * bumpy({gone, 2.1, 0}, 1, seed_t + 8U, 3),
            p.z += wave * bumpy({gone, 5.1, 0}, 1, seed_t + 8U, 3);
        line.push_back(p);
      }
      const double thick = (thread == 0 ? 1.0 : random.uniform(0.3, 0.55)) * r;
      add(all,
          rod(
              line,
              [&](double t) {
                return thick * (0.8 + 0.6 * t) *
                       (1 + (0.25 + 0.5 * t) * bumpy({(t * whole - time_s) * 90, 0, 0.5}, 1, seed_t + 9U, 2));
              },
              20, {0.25 * thick, 0.004, seed_t + static_cast<std::uint32_t>(std::lround(time_s * 50))},
              thread == 0 ? Stuff::stream : Stuff::foam, 0));
    }
    const Vec3 struck = thrown(from, speed, whole);
    splash(all, struck, 70, 1.6, random);
    // Spray along the way.
    for (int i = 0; i < 60; ++i) {
      const double life = whole * random.uniform(0.8, 1.3), phase = random.uniform();
      const Vec3 way = speed + 0.22 * fast * Vec3{random.normal(), random.normal(), random.normal()};
      const double after = life * (time_s / life + phase - std::floor(time_s / life + phase));
      const Vec3 p = thrown(from, way, after);
      const double size = random.uniform(0.0004, 0.0012);
      if (inside(p)) add(all, drop(p, size, 0.25 * shutter_s * way));
    }
    return all;
  }
};

}  // namespace

Solid water_solid(const scene::Scene& scene, const scene::Infiltration& water, std::uint64_t seed,
                  double time_s) {
  const Running running{scene::radius_at(scene, water.at_m), water.arc.from_h, seed, time_s};
  Solid solid = water.rate == scene::WaterRate::drips   ? running.drips()
                : water.rate == scene::WaterRate::flows ? running.flows()
                                                        : running.gushes();
  solid.arc = {water.arc.from_h, water.arc.from_h, false};
  return into_scene(scene, water.at_m, std::move(solid));
}

}  // namespace haunch::matter
