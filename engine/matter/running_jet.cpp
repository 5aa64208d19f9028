// SPDX-License-Identifier: Apache-2.0
// Ground water coming in under pressure, and what it does where it strikes. How fast and how thick: ours,
// by eye; what falls does so by gravity.
#include <algorithm>
#include <cmath>

#include "matter/running_build.hpp"

namespace haunch::matter {

using scene::Vec3;

Solid Running::froth(const Vec3& at, double wide_m, double high_m) const {
  const bool in_water = at.y <= level + 0.002;
  const Vec3 up = in_water ? Vec3{0, 1, 0} : scene::normalised({-at.x, -at.y, 0});
  const Turn lies = along_y(up, {0, 0, 1});
  constexpr int rows = 14, columns = 40;
  SolidPart part{Stuff::foam, 0, rows + 1, columns, true, {}};
  for (int r = 0; r <= rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const double t = 0.03 + 0.97 * r / rows, a = tau * c / columns;
      const double reach =
          wide_m * (1 + 0.6 * bumpy({std::cos(a), std::sin(a), 3 * time_s}, 0.5, seed + 61U, 3));
      const Vec3 flat{t * reach * std::cos(a), 0, 1.5 * t * reach * std::sin(a)};
      const double lumps = bumpy(flat + Vec3{0, 1.7 * time_s, 0}, 0.0045, seed + 62U, 3);
      double high = high_m * (1 - t * t) * std::max(0.0, 0.25 + 2.0 * lumps);
      if (high < 0.40 * high_m) high = -0.001;  // between the lumps there is nothing of it
      Vec3 p = at + lies(flat + Vec3{0, high, 0});
      // It follows the wall's curve.
      if (const double away = std::hypot(p.x, p.y); !in_water && away > 1e-6) {
        const double wanted = radius - high;
        p.x *= wanted / away, p.y *= wanted / away;
      }
      part.points.push_back({p, flat});
    }
  return {{std::move(part)}, {}};
}

void Running::thread(Solid& all, const Vec3& from, const Vec3& speed, double whole, double first, double last,
                     double r, double parts, Stuff stuff, std::uint32_t seed_t) const {
  std::vector<Vec3> line;
  const int count = 18 + static_cast<int>(40 * (last - first));
  for (int i = 0; i <= count; ++i) {
    const double t = first + (last - first) * i / count, after = whole * t;
    Vec3 p = thrown(from, speed, after);
    const double wave = (0.0004 + 0.7 * r) * t, gone = (after - time_s) * 18;
    p.x += wave * bumpy({gone, 0.1, 0}, 1, seed_t + 8U, 3);
    p.y += wave * bumpy({gone, 2.1, 0}, 1, seed_t + 8U, 3);
    p.z += wave * bumpy({gone, 5.1, 0}, 1, seed_t + 8U, 3);
    line.push_back(p);
  }
  add(all, rod(
               line,
               [&](double s) {
                 const double t = first + (last - first) * s;
                 const double beads = bumpy({(t * whole - time_s) * 70, 0, 0.5}, 1, seed_t + 9U, 2);
                 const double ends = std::min(1.0, 6 * (1 - s)) * std::min(1.0, 0.4 + 6 * s);
                 return r * ends * std::max(0.06, 1 - 0.35 * t + parts * t * (1.9 * beads - 0.25));
               },
               7, {}, stuff, 0));
}

Solid Running::sheet(const Vec3& from, const Vec3& speed, const Vec3& aside, double fast,
                     double whole) const {
  constexpr int rows = 36, columns = 44;
  SolidPart part{Stuff::stream, 0, rows + 1, columns + 1, false, {}};
  const Vec3 off = scene::normalised(scene::cross(speed, aside));
  for (int r = 0; r <= rows; ++r)
    for (int c = 0; c <= columns; ++c) {
      const double u = 2.0 * c / columns - 1;
      const double torn = 0.42 + 0.30 * bumpy({u * 4, time_s * 9, 0}, 1, seed + 71U, 3) - 0.22 * u * u;
      const double after = whole * std::max(0.08, torn) * r / rows;
      const Vec3 place = from + (0.006 * u) * aside, way = speed + (0.26 * fast * u) * aside;
      const Vec3 own{u * 0.02, (after - time_s) * fast, 0};
      const double ripple = (0.0004 + 0.012 * after * fast) * bumpy(own, 0.009, seed + 72U, 3);
      part.points.push_back({thrown(place, way, after) + ripple * off, own});
    }
  return {{std::move(part)}, {}};
}

Solid Running::gushes() const {
  base::Random random(seed64 ^ 0x91U);
  const Vec3 inward = scene::normalised({-std::sin(top), -std::cos(top), 0});
  const Vec3 round{std::cos(top), -std::sin(top), 0};  // along the gap it comes out of
  const Vec3 aim = scene::normalised(
      inward + Vec3{random.uniform(-0.25, 0.25), random.uniform(-0.1, 0.25), random.uniform(-0.4, 0.4)});
  const double fast = random.uniform(1.6, 2.8);
  const Vec3 from = on(top, -0.001, 0), speed = fast * aim;
  const Vec3 aside = scene::normalised(round - scene::dot(round, aim) * aim);
  const double whole = flight_s(from, speed),
               r = std::clamp(radius * random.uniform(0.030, 0.045), 0.002, 0.006);
  const Vec3 struck = thrown(from, speed, whole);
  Solid all = film(top, 0, 0.03 + 0.3 * radius * random.uniform(0.8, 1.3), 0.0022, 0);
  if (struck.y > level + 0.01)
    add(all, film(std::atan2(struck.x, struck.y), struck.z, 0.03 + 0.35 * radius, 0.0020, 20));
  add(all, sheet(from, speed, aside, fast, whole));
  // Threads: thick in the middle of the fan, thin at its sides; some leave the sheet late, some end early.
  const auto cast = [&](double spread_round, double spread_along) {
    return speed + fast * (spread_round * aside + Vec3{0, 0, spread_along}) +
           0.05 * fast * Vec3{random.normal(), random.normal(), random.normal()};
  };
  Solid spray;
  for (int i = 0; i < 34; ++i) {
    const double u = std::clamp(0.5 * random.normal(), -1.0, 1.0);
    const Vec3 way = cast(0.30 * u, 0.05 * random.normal());
    const double flight = flight_s(from, way), first = i < 6 ? 0.0 : random.uniform(0.05, 0.45);
    const double last = std::min(1.0, first + (i < 6 ? 1.0 : random.uniform(0.15, 0.6)));
    const double thick = r * (i < 6 ? 0.9 : random.uniform(0.18, 0.5)) * (1 - 0.4 * std::abs(u));
    thread(i % 2 == 0 ? all : spray, from + (0.005 * u) * aside, way, flight, first, last, thick, 0.9,
           i % 2 == 0 ? Stuff::stream : Stuff::foam, seed + 50U * static_cast<std::uint32_t>(i));
  }
  splash(all, struck, 90, 1.5, random);
  // Drops torn off along the way, ever more of them, and mist.
  for (int i = 0; i < 170; ++i) {
    const double life = whole * random.uniform(0.7, 1.3), phase = random.uniform(), big = random.uniform();
    const Vec3 way = cast(0.42 * random.normal(), 0.16 * random.normal());
    const double after = life * (time_s / life + phase - std::floor(time_s / life + phase));
    const Vec3 p = thrown(from, way, after);
    if (inside(p) && after > 0.1 * whole)
      add(spray,
          drop(p, 0.0003 + 0.0015 * big * big * big * big, (0.08 + 0.2 * random.uniform()) * shutter_s * way,
               big > 0.6 ? Stuff::stream : Stuff::foam));
  }
  add(spray, froth(struck, 0.10 * radius + 0.014, 0.008));
  std::stable_sort(spray.parts.begin(), spray.parts.end(),
                   [](const SolidPart& a, const SolidPart& b) { return a.stuff < b.stuff; });
  add(all, std::move(spray));
  return all;
}

}  // namespace haunch::matter
