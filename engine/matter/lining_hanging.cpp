// SPDX-License-Identifier: Apache-2.0
// What hangs off a lining: the strip over its seam, rags of its film; and holes in it. What nobody states is
// ours, by eye.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/lining_relief.hpp"
#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

}  // namespace

/// The strip over the seam: it hangs from where it still holds.
void add_hanging_seam(Coat& coat, const scene::Scene& scene, const CoatedWall& wall,
                      const LiningRelief& relief, double thick_m, double seam) {
  const PatchArea& area = relief.area();
  const std::uint64_t seed = scene::fault_seed(scene.scenario, relief.number());
  base::Random random(base::mix(seed + 4U));
  const bool held_upstream = random.uniform() < 0.5;
  const double reach = std::min(area.length_m, random.uniform(0.42, 0.58) * 2 * coat.radius_m),
               twist = random.uniform(0.5, 1.1) * (random.uniform() < 0.5 ? -1 : 1),
               curl = random.uniform(0.5, 1.1);
  const int rows = std::max(30, static_cast<int>(area.length_m / 0.004)), columns = 9;
  CoatSheet groove = empty_sheet(rows, 7);
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < 7; ++c) {
      const double z = area.from_m + area.length_m * r / (rows - 1), s = (c - 3) / 3.0;
      const std::size_t i = groove.index(r, c);
      groove.points[i] =
          wall.at(z, seam + s * seam_half_m / coat.radius_m,
                  thick_m + (c == 0 || c == 6 ? -0.0004 : 0.0007 - 0.0002 * (1 - std::abs(s))));
      groove.skin[i] = std::abs(s) < 0.2 ? Skin::dark : Skin::raw;
      groove.share[i] = 1, groove.fault[i] = static_cast<std::uint16_t>(relief.number());
    }
  coat.sheets.push_back(std::move(groove));
  CoatSheet strip = empty_sheet(rows, columns);
  const scene::Vec2 out{std::sin(seam), std::cos(seam)}, across{out.y, -out.x};
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const double t = static_cast<double>(r) / (rows - 1), free = held_upstream ? t : 1 - t;
      const double z = area.from_m + area.length_m * t, s = 2.0 * c / (columns - 1) - 1;
      const double off =
          reach * free * (1.35 - 0.35 * free) +
          0.003 * static_cast<double>(noise(static_cast<float>(9 * free), 0.3F, 0.7F, coat.seed));
      const double turn = twist * free + 0.25 * std::sin(5 * free);
      // Dished across, as it lay on the round; its free end curls.
      const double dish = 0.0035 * curl * free * s * s;
      const Vec3 foot = wall.at(z, seam, thick_m + 0.0012 + off + dish);
      const double side = s * 1.15 * seam_half_m;
      const std::size_t i = strip.index(r, c);
      strip.points[i] = foot + Vec3{side * (std::cos(turn) * across.x - std::sin(turn) * out.x),
                                    side * (std::cos(turn) * across.y - std::sin(turn) * out.y) -
                                        (seam > tau / 4 && seam < 3 * tau / 4 ? 0.0 : 0.012 * free * free),
                                    0.4 * side * std::sin(turn)};
      strip.skin[i] = Skin::seam;
      strip.share[i] = 1;
      strip.fault[i] = static_cast<std::uint16_t>(relief.number());
    }
  coat.sheets.push_back(std::move(strip));
}

/// Rags of film that still hang on.
void add_hanging_film(Coat& coat, const scene::Scene& scene, const CoatedWall& wall,
                      const LiningRelief& relief, double thick_m) {
  const PatchArea& area = relief.area();
  const std::uint64_t seed = scene::fault_seed(scene.scenario, relief.number());
  base::Random random(base::mix(seed + 5U));
  const int many = std::clamp(static_cast<int>(area.length_m * area.round_m / 0.004), 3, 14);
  for (int n = 0; n < many; ++n) {
    const double z0 = area.from_m + area.length_m * random.uniform(0.12, 0.88);
    const double a0 = area.from_angle + area.round_m / area.radius_m * random.uniform(0.1, 0.9);
    const double wide = random.uniform(0.008, 0.030), lean = random.uniform(-0.4, 0.4);
    const bool above = std::cos(a0) > -0.2;
    // What comes off overhead hangs down; low down it only lifts.
    const double longest = (above ? random.uniform(0.25, 0.75) : random.uniform(0.08, 0.2)) * coat.radius_m;
    const double wave = random.uniform(0, tau), flutter = random.uniform(0.05, 0.16);
    const int rows = 26, columns = 7;
    CoatSheet rag = empty_sheet(rows, columns);
    const Vec3 foot = wall.at(z0, a0, thick_m + 0.0005);
    const scene::Vec2 in{-std::sin(a0), -std::cos(a0)}, side{std::cos(a0), -std::sin(a0)};
    for (int r = 0; r < rows; ++r)
      for (int c = 0; c < columns; ++c) {
        const double t = static_cast<double>(r) / (rows - 1), s = 2.0 * c / (columns - 1) - 1;
        const double width =
            wide / 2 * (1 - 0.75 * t * t) *
            (1 + 0.3 * static_cast<double>(noise(static_cast<float>(6 * t), static_cast<float>(s), 0.2F,
                                                 coat.seed + static_cast<std::uint32_t>(n))));
        const double down = above ? longest * t : 0.3 * longest * t;
        const double off = above ? 0.35 * longest * t * (1 - 0.5 * t) : longest * t;
        const double sway = flutter * longest * t * std::sin(wave + 5 * t + 0.8 * s);
        Vec3 p =
            foot + Vec3{off * in.x + 0.6 * s * width * side.x, off * in.y - down + 0.6 * s * width * side.y,
                        0.8 * s * width + lean * longest * t + sway};
        const scene::Vec2 axis = scene::centre_at(scene, p.z);
        const double away = std::hypot(p.x - axis.x, p.y - axis.y), most = coat.radius_m - thick_m - 0.001;
        if (away > most)
          p.x = axis.x + (p.x - axis.x) * most / away, p.y = axis.y + (p.y - axis.y) * most / away;
        const std::size_t i = rag.index(r, c);
        rag.points[i] = p, rag.skin[i] = Skin::film, rag.share[i] = 1;
        rag.fault[i] = static_cast<std::uint16_t>(relief.number());
      }
    coat.sheets.push_back(std::move(rag));
  }
}

double share_lost(const scene::Scene& scene, int defect_number) {
  const auto& defect =
      std::get<scene::LiningDefect>(scene.scenario.faults[static_cast<std::size_t>(defect_number - 1)].kind);
  const auto lining = scene::lining_over(scene.scenario, (defect.from_m + defect.to_m) / 2);
  return lining ? LiningRelief(scene, *lining, defect_number).share_lost() : 0;
}

WallOutline lining_hole(const scene::Scene& scene, const scene::LiningDefect& defect, std::uint64_t seed) {
  const double radius = scene::radius_at(scene, (defect.from_m + defect.to_m) / 2);
  const scene::Hole hole{(defect.from_m + defect.to_m) / 2,
                         base::wrap_hours(defect.arc.from_h + base::arc_width_h(defect.arc) / 2),
                         1000 * (defect.to_m - defect.from_m),
                         1000 * base::arc_width_h(defect.arc) * tau / 12 * radius, scene::Behind::nothing};
  return hole_outline(hole, radius, seed);
}

scene::Hole void_behind(const scene::Scene& scene, const scene::LiningDefect& defect) {
  const double radius = scene::radius_at(scene, (defect.from_m + defect.to_m) / 2);
  // A little larger than the bulge: the sound lining about it covers the rest.
  constexpr double larger = 1.4 * 1000;
  return {(defect.from_m + defect.to_m) / 2,
          base::wrap_hours(defect.arc.from_h + base::arc_width_h(defect.arc) / 2),
          larger * (defect.to_m - defect.from_m), larger * base::arc_width_h(defect.arc) * tau / 12 * radius,
          scene::Behind::nothing};
}

}  // namespace haunch::matter
