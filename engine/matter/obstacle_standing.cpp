// SPDX-License-Identifier: Apache-2.0
// What reaches in, crosses the bore or is stuck in it. Sizes of bricks and the like are
// common practice, no source; how they vary is ours.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/obstacle_build.hpp"

namespace haunch::matter {
namespace {

using scene::ObstacleForm;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

struct Standing : ObstacleMaker {
  /// A pipe of smooth plastic or a cable, from one place to another; r its radius.
  Solid line_of_something(const Vec3& from, const Vec3& to, double r, bool cable, double sag) const {
    base::Random random(seed ^ 0x33U);
    const Vec3 middle = 0.5 * (from + to) + Vec3{0, -sag, 0};
    const std::vector<Vec3> line = smooth_line({from, middle, to}, 48);
    const std::uint32_t tint = s >> 4U;
    return rod(
        line, [r](double) { return r; }, 56, {cable ? 0.0006 : 0.00015, 0.02, s},
        cable ? Stuff::rubber : Stuff::plastic, tint);
  }

  Solid crossing() const {
    const double a = obstacle.arc.from_h, b = obstacle.arc.to_h;
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const bool cable = random.uniform() < 0.25;
          const double r = k * radius, slant = random.uniform(-0.5, 0.5) * radius;
          const double beyond = r + 0.012;
          const Vec3 from = on_wall(radius, a, beyond, -slant), to = on_wall(radius, b, beyond, slant);
          Solid pipe = line_of_something(from, to, r, cable, cable ? 0.05 * radius : 0);
          for (const Vec3& end : {on_wall(radius, a, 0, -slant), on_wall(radius, b, 0, slant)}) {
            // The pipe meets the wall aslant: an ellipse as long as that.
            add(pipe,
                collar(radius, end, 0.95 * r, 1.10 * r + 0.005, Stuff::broken, s + (end.x > 0 ? 3U : 9U)));
          }
          return pipe;
        },
        0.02, 0.8);
    all.arc = {a, b, false};
    return all;
  }

  Solid through_wall() const {
    const double hour = obstacle.arc.from_h;
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const std::uint32_t sort = random.below(4);
          const double reach = std::clamp(random.uniform(0.7, 1.2) + 0.8 * share, 0.5, 1.75) * radius;
          const double r = k * radius;
          const Vec3 place = on_wall(radius, hour, 0, 0);
          const Vec3 inward =
              scene::normalised(Vec3{-place.x, -place.y, 0} + radius * Vec3{0.25 * random.uniform(-1, 1),
                                                                            0.25 * random.uniform(-1, 1),
                                                                            0.5 * random.uniform(-1, 1)});
          const Vec3 from = place - (r + 0.02) * inward, to = place + reach * inward;
          const std::vector<Vec3> line = smooth_line({from, to}, 40);
          Solid thing;
          if (sort == 0)  // a bar of steel, end cut off
            thing = rod(
                line, [&](double) { return r; }, 40, {0.0012, 0.008, s}, Stuff::steel, s >> 3U);
          else if (sort == 1)  // a post with a point
            thing = rod(
                line, [&](double t) { return r * std::clamp((1 - t) / 0.35, 0.12, 1.0); }, 9,
                {0.0012, 0.02, s}, Stuff::wood, s >> 3U);
          else if (sort == 2) {  // a pipe of plastic, cut off: one sees into it
            thing = rod(
                line, [&](double) { return r; }, 48, {0.0002, 0.02, s}, Stuff::plastic, s >> 4U);
            const std::vector<Vec3> mouth = smooth_line({to, to + 0.0012 * inward}, 3);
            add(thing, rod(
                           mouth, [&](double) { return 0.86 * r; }, 48, {}, Stuff::hollow, 0));
          } else  // a bar with ribs
            thing = rod(
                smooth_line({from, to}, 140),
                [&](double t) { return r * (std::fmod(t * 22, 1.0) < 0.35 ? 1.0 : 0.86); }, 28,
                {0.0006, 0.006, s}, Stuff::steel, s >> 3U);
          add(thing, collar(radius, place, 0.95 * r, 1.22 * r + 0.006, Stuff::broken, s + 3U));
          return thing;
        },
        0.02, 0.7);
    all.arc = {hour, hour, false};
    return all;
  }

  /// Something flat that has got stuck between two units.
  Solid in_joint() const {
    const double hour = obstacle.arc.from_h;
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const std::uint32_t sort = random.below(4);
          const Stuff stuff[] = {Stuff::stone, Stuff::wood, Stuff::steel, Stuff::broken};
          const double deep = k * radius * random.uniform(0.9, 1.3),
                       wide = k * radius * random.uniform(0.5, 0.9),
                       thick = sort == 2 ? 0.0025 : std::min(0.009, 0.2 * wide + 0.002);
          Solid thing = block({wide, deep, thick}, sort == 2 ? 0.0006 : 0.0030,
                              {sort == 2 ? 0.0004 : 0.0020, 0.012, s}, {0, 0.01, s}, stuff[sort], s >> 3U);
          // Corners of what broke off somewhere are missing.
          const double cut = random.uniform(-0.5, 0.5);
          for (SolidPart& part : thing.parts)
            for (SolidPoint& p : part.points) p.at.x *= 1 + cut * p.own.y / std::max(1e-6, deep) * 0.6;
          const Vec3 place = on_wall(radius, hour, 0.010, 0);
          const Vec3 inward = scene::normalised({-place.x, -place.y, 0});
          const Turn stand = along_y(inward, {0.15 * random.uniform(-1, 1), 0.15 * random.uniform(-1, 1), 1});
          move(thing, turned(random.uniform(-0.3, 0.3), 0, 0), {0, deep, 0});
          move(thing, stand, place);
          return thing;
        },
        0.05, 0.9);
    all.arc = arc_on_wall(all, radius, 0.02 * radius);
    return all;
  }

  /// The connection it comes in by, or nothing.
  const scene::Connection* connection() const {
    const scene::Connection* best = nullptr;
    for (const scene::Fault& fault : scene.scenario.faults)
      if (const auto* c = std::get_if<scene::Connection>(&fault.kind))
        if (best == nullptr || std::abs(c->at_m - obstacle.at_m) < std::abs(best->at_m - obstacle.at_m))
          best = c;
    return best;
  }

  Solid from_connection() const {
    const scene::Connection* by = connection();
    const double hour = by != nullptr ? by->clock_h : 2, z = by != nullptr ? by->at_m - obstacle.at_m : 0;
    const double widest = by != nullptr ? by->bore_mm / 2000 : 0.3 * radius;
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const bool twig = random.uniform() < 0.4;
          const double r = k * radius;
          const double lies = -std::sqrt(std::max(0.0, (radius - r) * (radius - r) - 0.01 * radius * radius));
          const Vec3 out = on_wall(radius, hour, 0.10, z), in = on_wall(radius, hour, -0.35 * radius, z);
          const double aside = in.x > 0 ? -0.1 * radius : 0.1 * radius;
          std::vector<Vec3> through;
          if (twig)
            through = {out, on_wall(radius, hour, 0, z),
                       Vec3{aside * random.uniform(-2, 2), -random.uniform(0.1, 0.5) * radius,
                            z + random.uniform(0.1, 0.8) * radius},
                       Vec3{aside * 3, lies, z + random.uniform(1.0, 2.0) * radius}};
          else
            through = {out,
                       on_wall(radius, hour, 0, z),
                       in,
                       Vec3{aside, lies, z + random.uniform(0.9, 1.4) * radius},
                       Vec3{-aside, lies, z + random.uniform(2.2, 3.2) * radius},
                       Vec3{0.5 * aside, lies, z + random.uniform(4.0, 5.0) * radius}};
          Solid thing = rod(
              smooth_line(through, 110), [&](double t) { return twig ? r * (1 - 0.5 * t) : r; },
              twig ? 14 : 36, {twig ? 0.0016 : 0.0003, 0.012, s}, twig ? Stuff::wood : Stuff::rubber,
              s >> 3U);
          if (twig)
            for (int i = 0; i < 3; ++i) {
              const Vec3 foot = through[2] + random.uniform(-0.2, 0.2) * radius * Vec3{1, 1, 1};
              const Vec3 tip = foot + radius * Vec3{random.uniform(-0.5, 0.5), random.uniform(-0.5, 0.4),
                                                    random.uniform(0.3, 0.8)};
              add(thing, rod(
                             smooth_line({foot, 0.5 * (foot + tip) + Vec3{0, 0.06 * radius, 0}, tip}, 24),
                             [&](double t) { return 0.5 * r * (1 - 0.7 * t); }, 10, {0.0008, 0.01, s},
                             Stuff::wood, s >> 3U));
            }
          return thing;
        },
        0.01, std::max(0.05, 0.9 * widest / radius));
    const double half = std::min(3.0, widest / radius * 6 / std::numbers::pi);
    all.arc = {base::wrap_hours(hour - half), base::wrap_hours(hour + half), false};
    return all;
  }

  /// A post or beam set in mortar.
  Solid built_in() const {
    const double hour = obstacle.arc.from_h;
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const std::uint32_t sort = random.below(3);
          const Stuff stuff[] = {Stuff::concrete, Stuff::wood, Stuff::steel};
          const double wide = k * radius, reach = radius + 0.02;
          const double off = random.uniform(-0.12, 0.12) * radius;
          Solid thing;
          if (sort == 2) {
            // Two flanges and a web.
            for (const double side : {-1.0, 1.0}) {
              Solid flange = block({0.12 * wide + 0.001, reach, wide}, 0.0012, {0.0008, 0.006, s},
                                   {0, 0.01, s}, stuff[sort], s >> 3U);
              move(flange, {}, {side * wide, 0, 0});
              add(thing, std::move(flange));
            }
            Solid web = block({wide, reach, 0.1 * wide + 0.001}, 0.0006, {0.0008, 0.006, s + 1U},
                              {0, 0.01, s}, stuff[sort], s >> 3U);
            add(thing, std::move(web));
          } else {
            thing = block({wide, reach, wide * random.uniform(0.8, 1.3)}, sort == 0 ? 0.003 : 0.0018,
                          {sort == 0 ? 0.0014 : 0.0008, 0.009, s}, {0, 0.01, s}, stuff[sort], s >> 3U);
          }
          const Vec3 place = on_wall(radius, hour, 0, 0);
          const Turn stand = along_y({-place.x, -place.y, 0.12 * radius * random.uniform(-1, 1)},
                                     {0.2 * random.uniform(-1, 1), 0.2 * random.uniform(-1, 1), 1});
          move(thing, stand, off * stand.x);
          // Mortar heaped about both ends, less of it in a narrow bore.
          const double heap = std::min(1.0, radius / 0.075);
          for (const double end : {-1.0, 1.0}) {
            Solid foot =
                block({wide * 1.5 + 0.006 * heap, 0.10 * radius + 0.004 * heap, wide * 1.6 + 0.008 * heap},
                      0.012 * heap, {0.007 * heap, 0.016, s + (end > 0 ? 21U : 22U)}, {0.01, 0.02, s},
                      Stuff::mortar, 1);
            const double far = std::sqrt(std::max(0.0, radius * radius - off * off));
            move(foot, stand, off * stand.x + (end * (far - 0.01 * radius)) * stand.y);
            add(thing, std::move(foot));
          }
          return thing;
        },
        0.02, 0.6);
    const double half = 0.5;
    all.arc = {base::wrap_hours(hour - half), base::wrap_hours(hour + half), false};
    return all;
  }

  /// A cleaning rod that broke off and stands aslant from the invert to the crown.
  Solid jammed() const {
    Solid all = fit(
        [&](double k) {
          base::Random random(seed);
          const double r = k * radius, long_m = random.uniform(2.5, 4.5) * radius;
          const double way = random.uniform() < 0.5 ? -1 : 1;
          const Vec3 low{random.uniform(-0.3, 0.3) * radius, -(0.96 * radius - r), -way * long_m / 2},
              high{random.uniform(-0.35, 0.35) * radius, 0.90 * radius - r, way * long_m / 2};
          const std::vector<Vec3> line =
              smooth_line({low, 0.5 * (low + high) + Vec3{0.08 * radius, 0.1 * radius, 0}, high}, 70);
          Solid thing = rod(
              line, [&](double) { return r; }, 28, {0.0003, 0.02, s},
              random.uniform() < 0.5 ? Stuff::wood : Stuff::plastic, s >> 4U);
          // The screw end, of brass gone dark.
          const Vec3 on = scene::normalised(line[1] - line[0]);
          add(thing, rod(
                         smooth_line({low - 0.2 * r * on, low + 4.5 * r * on}, 12),
                         [&](double) { return 1.3 * r; }, 24, {0.0003, 0.01, s}, Stuff::steel, 1));
          return thing;
        },
        0.01, 0.5);
    all.arc = {12, 6, false};
    return all;
  }
};

}  // namespace

Solid standing_solid(const ObstacleMaker& maker) {
  const Standing standing{maker};
  switch (maker.obstacle.form) {
    case ObstacleForm::through_wall:
      return standing.through_wall();
    case ObstacleForm::in_joint:
      return standing.in_joint();
    case ObstacleForm::from_connection:
      return standing.from_connection();
    case ObstacleForm::crossing:
      return standing.crossing();
    case ObstacleForm::built_in:
      return standing.built_in();
    default:
      return standing.jammed();
  }
}

}  // namespace haunch::matter
