// SPDX-License-Identifier: Apache-2.0
// Water that runs in by a connection: as deep in its own pipe as Manning has it, then down the wall in a
// thread, or free where the pipe stands in or comes from above. How it spreads and glistens: ours, by eye.
#include <algorithm>
#include <cmath>

#include "matter/branch.hpp"
#include "matter/running_build.hpp"
#include "scene/water_of_run.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = Running::tau;
constexpr double steep = 0.55;  // ours: nearer the crown than this, radians, it drops instead of clinging

struct Incoming {
  const Running& running;
  const BranchShape& shape;
  double share;     ///< of its own bore's height
  double velocity;  ///< m/s
  double flow_l_s;
  std::uint32_t tint;
  double r = shape.bore_radius_m;
  double deep = 2 * r * share;
  double half = std::sqrt(std::max(0.0, deep*(2 * r - deep)));
  double side = std::sin(lowest_turn(shape));
  Vec3 out_way{std::sin(shape.angle), std::cos(shape.angle), 0};
  Vec3 low{side * std::cos(shape.angle), -side* std::sin(shape.angle), 0};
  bool stands_in = shape.reach_in_m > 0.0005;
  double end = stands_in
                   ? running.radius - shape.reach_in_m
                   : std::sqrt(std::max(0.0, running.radius* running.radius - r * r)) + shape.set_back_m;

  /// A sheet of points; `own` carries ripples along with the flow.
  template <class Place>
  Solid sheet(int rows, int columns, Place place) const {
    SolidPart part{Stuff::stream, tint, rows + 1, columns + 1, false, {}};
    for (int i = 0; i <= rows; ++i)
      for (int k = 0; k <= columns; ++k) {
        const Vec3 p = place(static_cast<double>(i) / rows, 2.0 * k / columns - 1);
        part.points.push_back({p, p});
      }
    return {{std::move(part)}, {}};
  }

  /// How deep it is where it goes over the lip.
  double lip_deep = std::min(deep, std::clamp(0.60 * deep, 0.0020, 0.014));
  double lip_half = std::sqrt(std::max(0.0, lip_deep*(2 * r - lip_deep)));

  /// The mouth's rim lies lowest in its middle: how low it is beside that, across the branch ..
  double rim_low(double u) const {
    const double beside = u * lip_half;
    return std::sqrt(std::max(0.0, r * r - beside * beside));
  }
  /// .. and how far out, where water that clings leaves its pipe.
  double rim_out(double u) const {
    const double rim = rim_low(u);
    return std::sqrt(std::max(0.0, running.radius * running.radius - rim * rim)) + shape.set_back_m;
  }
  Vec3 over_the_lip(double u) const {
    return rim_out(u) * out_way + (r - lip_deep) * low + Vec3{0, 0, u * lip_half};
  }

  /// Along its pipe and, where it clings, over the lip.
  Solid in_its_pipe(bool clings) const {
    constexpr double seen_m = 0.30, bends = 0.25;  // share of the rows
    const double sinks = r - deep;
    const double brink =
        clings ? std::sqrt(std::max(0.0, running.radius * running.radius - sinks * sinks)) + shape.set_back_m
               : end;
    return sheet(80, 24, [&](double t, double u) {
      const double on = std::max(0.0, (t - bends) / (1 - bends)), over = 1 - std::min(1.0, t / bends);
      const double out =
          clings ? (t >= bends ? brink + seen_m * on : brink + (rim_out(u) - brink) * over) : end + seen_m * t;
      const double falls = clings ? (deep - lip_deep) * over * over : 0;
      const double left = deep - falls, wide = std::sqrt(std::max(0.0, left * (2 * r - left)));
      const double ripple = 0.05 * deep * (clings ? std::min(1.0, t / bends) : 1.0) *
                            Running::bumpy({(out + 1.5 * velocity * running.time_s) / 3, 0.2, u * wide},
                                           0.010, running.seed + 31U, 2);
      return out * out_way + (r - left - ripple) * low + Vec3{0, 0, u * wide};
    });
  }

  /// Down the wall from the mouth's lowest place to the flow, or to the invert.
  Solid down_the_wall(double from, double to) const {
    const double thick = std::clamp(0.30 * deep, 0.0012, 0.006);
    // In one sheet with what comes over the lip, so that nothing shows between.
    constexpr double joins = 0.10;
    return sheet(100, 28, [&](double whole, double u) {
      const double t = std::max(0.0, (whole - joins) / (1 - joins)), on = std::min(1.0, whole / joins);
      const double rim = from - side * (std::asin(std::min(1.0, r / running.radius)) -
                                        std::asin(std::min(1.0, rim_low(u) / running.radius)));
      const double a = rim + side * 0.03 + (to - rim - side * 0.03) * t, s = std::abs(a - from) * running.radius;
      const double edge =
          1 + 0.35 * t * Running::bumpy({s, u > 0 ? 2.0 : 0.0, 0.4}, 0.018, running.seed + 33U, 3);
      // It draws together as it runs faster, and spreads at its foot.
      const double narrow = 1 - 0.42 * std::sqrt(t) + 0.5 * std::pow(t, 6);
      const double wide = std::max(0.004, lip_half * narrow) * edge;
      const double wander = 0.25 * lip_half * t * Running::bumpy({s, 0.9, 0}, 0.05, running.seed + 35U, 2);
      const double runs =
          Running::bumpy({0.2 * (s - 0.9 * running.time_s), 0.7, u * wide}, 0.005, running.seed + 37U, 3);
      const double full = thick * (1 - 0.55 * t) * (1 - u * u) * std::max(0.12, 0.9 + 0.9 * runs);
      const Vec3 wall = running.on(a, -(std::abs(u) > 0.99 ? 0.0002 : 0.0004 + full), wander + u * wide);
      const Vec3 bulge = (-0.0025 * std::sin(tau / 2 * on) * (1 - u * u)) * out_way;
      return over_the_lip(u) + on * (wall - over_the_lip(u)) + bulge;
    });
  }

  void falls_free(Solid& all, base::Random& random) const {
    const Vec3 from = end * out_way + (r - deep / 2) * low;
    const Vec3 speed = -std::clamp(velocity, 0.15, 1.5) * out_way;
    const double whole = running.flight_s(from, speed);
    const double thick = std::sqrt(flow_l_s / 1000 / (tau / 2 * std::clamp(velocity, 0.15, 1.5)));
    // As broad as it lay in the pipe: cords beside one another.
    const int cords = std::clamp(static_cast<int>(half / std::max(0.002, thick)) + 1, 1, 6);
    for (int i = 0; i < cords; ++i) {
      const double z = cords == 1 ? 0 : half * (2.0 * i / (cords - 1) - 1) * 0.75;
      running.thread(all, from + Vec3{0, 0, z}, speed + Vec3{0, 0, -0.8 * z / std::max(0.05, whole)}, whole,
                     0, 1, std::max(0.0012, thick / std::sqrt(static_cast<double>(cords)) * 1.2), 0.35,
                     Stuff::stream, running.seed + 41U * static_cast<std::uint32_t>(i + 1));
    }
    const Vec3 struck = Running::thrown(from, speed, whole);
    running.splash(all, struck, 12 + static_cast<int>(20 * std::min(1.0, flow_l_s)), 0.9, random);
    if (flow_l_s > 0.1) add(all, running.froth(struck, 0.5 * half + 0.010, 0.005));
  }

  /// What floats in it tells where it comes from: paper, or leaves.
  void brought(Solid& all, scene::Brings brings, double from, double to, base::Random& random) const {
    if (brings == scene::Brings::unsaid) return;
    const bool paper = brings == scene::Brings::foul;
    for (int i = 0; i < 5; ++i) {
      const std::uint32_t seed_i = running.seed + 71U * static_cast<std::uint32_t>(i);
      Solid thing = paper ? block({random.uniform(0.006, 0.014), 0.0007, random.uniform(0.005, 0.011)},
                                  0.0005, {0.0006, 0.006, seed_i}, {0.002, 0.005, seed_i}, Stuff::paper, 0)
                          : pebble({random.uniform(0.006, 0.010), 0.0008, random.uniform(0.011, 0.019)},
                                   seed_i, false, Stuff::wood, seed_i >> 2U);
      const double a = from + (to - from) * random.uniform(0.02, 0.8);
      const Vec3 place = running.on(a, -0.002, random.uniform(-0.9, 0.9) * lip_half);
      move(thing, turned(0, 0, random.uniform(0, tau)), {});
      move(thing, along_y({-place.x, -place.y, 0}, {0, 0, 1}), place);
      add(all, std::move(thing));
    }
  }
};

std::uint32_t tint_of(scene::IncomingLook look, std::uint32_t seed) {
  const std::uint32_t hue = (seed >> 6U) % 4 * 4;
  switch (look) {
    case scene::IncomingLook::clear:
      return 0;
    case scene::IncomingLook::cloudy:
      return 1;
    case scene::IncomingLook::coloured:
      return 2 + hue;
    case scene::IncomingLook::cloudy_and_coloured:
      break;
  }
  return 3 + hue;
}

}  // namespace

Solid incoming_solid(const scene::Scene& scene, const scene::Connection& connection, std::uint64_t seed,
                     double time_s) {
  if (connection.flow_l_s <= 0) return {};
  const double radius = scene::radius_at(scene, connection.at_m);
  const BranchShape shape = branch_shape(connection, radius, seed);
  const Running running{radius, connection.clock_h, seed, time_s,
                        std::max(-1.0e6, scene::level_at(scene.water, connection.at_m)) -
                            scene::centre_at(scene, connection.at_m).y};
  const auto seed32 = static_cast<std::uint32_t>(seed);
  const Incoming in{running,
                    shape,
                    scene::incoming_depth_share(scene, connection),
                    scene::incoming_velocity_m_s(scene, connection),
                    connection.flow_l_s,
                    tint_of(connection.look, seed32)};
  base::Random random(seed ^ 0x1f10U);
  const double from_crown = std::abs(std::remainder(shape.angle, tau));
  // Its foot, where the water below begins or the invert lies.
  const double foot =
      running.level > -radius ? std::acos(std::clamp(running.level / radius, -1.0, 1.0)) : tau / 2;
  const double lip = from_crown + std::asin(std::min(1.0, shape.bore_radius_m / radius));
  const bool clings = !in.stands_in && from_crown >= steep;
  Solid all = in.in_its_pipe(clings);
  if (!clings) {
    in.falls_free(all, random);
  } else if (lip < foot - 0.02) {
    add(all, running.film(in.side * (lip + 0.05), 0, 0.8 * in.lip_half + 0.006, 0.0004, 61U));
    add(all, in.down_the_wall(in.side * lip, in.side * (foot + 0.04)));
    if (connection.flow_l_s > 0.1)
      add(all, running.froth(running.on(in.side * foot, -0.003, 0), 0.6 * in.lip_half + 0.006, 0.004));
    in.brought(all, connection.brings, in.side * lip, in.side * foot, random);
  }
  for (SolidPart& part : all.parts)
    if (part.stuff == Stuff::stream || part.stuff == Stuff::foam) part.tint = in.tint;
  return into_scene(scene, connection.at_m, std::move(all));
}

}  // namespace haunch::matter
