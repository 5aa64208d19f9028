// SPDX-License-Identifier: Apache-2.0
// Patches of each kind: how far inside each place is, how uneven, how stained; shells where it has flaked.
#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "matter/brick_damage.hpp"
#include "matter/noise.hpp"
#include "render/patch_make.hpp"

namespace haunch::render {
namespace {

/// A flake's bed: deeper than its neighbour or not, and on one side than on the other.
struct Shell {
  double along, round, radius, deep, lean_along, lean_round;
};

std::vector<Shell> shells_in(const matter::PatchArea& area, std::uint64_t seed) {
  base::Random random(base::mix(seed + 5U));
  const double least = std::min(area.length_m, area.round_m);
  const double large = std::clamp(0.36 * least, 0.006, 0.042);
  const int many =
      std::clamp(static_cast<int>(1.5 * area.length_m * area.round_m / (large * large)), 6, 4000);
  std::vector<Shell> shells;
  for (int n = 0; n < many; ++n) {
    const double share = random.uniform();
    const double radius = large * (0.12 + 0.88 * share * share * share);
    shells.push_back({random.uniform(0.6 * radius, std::max(0.7 * radius, area.length_m - 0.6 * radius)),
                      random.uniform(0.6 * radius, std::max(0.7 * radius, area.round_m - 0.6 * radius)),
                      radius, random.uniform(0.1, 0.8), random.uniform(-0.7, 0.7),
                      random.uniform(-0.7, 0.7)});
  }
  // One where the outline comes nearest to each stated edge: what is stated is what has spalled.
  constexpr int places = 40;
  for (const bool near : {true, false})
    for (const bool in_length : {true, false}) {
      if (area.whole && !in_length) continue;
      const double radius = large * random.uniform(0.5, 0.7), own = in_length ? area.length_m : area.round_m,
                   other = in_length ? area.round_m : area.length_m;
      const auto from_edge = [&](double off) { return near ? off : own - off; };
      double best = -1e9, at = other / 2;
      for (int k = 0; k < places; ++k) {
        const double place = other * (k + 0.5) / places;
        const double inside = in_length ? matter::inside_m(area, from_edge(0.001), place)
                                        : matter::inside_m(area, place, from_edge(0.001));
        if (inside > best) best = inside, at = place;
      }
      const double off = from_edge(0.5 * radius);
      shells.push_back({in_length ? off : at, in_length ? at : off, radius, random.uniform(0.2, 0.8),
                        random.uniform(-0.7, 0.7), random.uniform(-0.7, 0.7)});
    }
  return shells;
}

/// What has run off a patch lies beside it and below, in threads.
double stain_at(const matter::PatchArea& area, double inside, double along, double round,
                std::uint32_t seed) {
  const double turn = area.from_angle + round / area.radius_m;
  const double below = std::clamp(0.6 - 0.6 * std::cos(turn), 0.3, 1.0);
  const double thread = 0.55 + 0.45 * ring_noise(area, along * 4, round * 0.25, 0.05, seed + 34U) +
                        0.35 * ring_noise(area, along, round, 0.02, seed + 35U);
  return std::clamp(1 + inside / (patch_stained_m * 0.9 * below), 0.0, 1.0) * std::clamp(thread, 0.0, 1.0);
}

/// Damage gives way to sound wall over centimetres: bays and spits, islands of the one in the other.
double frayed(const matter::PatchArea& area, double inside, double along, double round, float over_m,
              std::uint32_t seed) {
  const double least = area.whole ? area.length_m : std::min(area.length_m, area.round_m);
  const double over = std::min(static_cast<double>(over_m), 0.30 * least);
  if (over <= 0 || inside > 1.25 * over || inside < 0) return inside;
  const double torn = 0.85 * ring_noise(area, along, round, 0.026, seed + 41U) +
                      0.60 * ring_noise(area, along, round, 0.011, seed + 42U) +
                      0.32 * ring_noise(area, along, round, 0.005, seed + 43U);
  return inside - over * std::clamp(0.42 + torn, 0.0, 1.2);
}

void lay_plain(const scene::Scene& scene, const matter::PatchArea& area, PatchMark& mark) {
  lay_grid(
      scene, area,
      [&](double along, double round) {
        const double inside = frayed(area, matter::inside_m(area, along, round), along, round,
                                     mark.relief.frays_over, mark.seed);
        const double broad = std::clamp(0.5 + 0.7 * ring_noise(area, along, round, 0.05, mark.seed + 31U) +
                                            0.3 * ring_noise(area, along, round, 0.02, mark.seed + 32U),
                                        0.0, 1.0);
        const double stain = mark.relief.stains > 0 ? stain_at(area, inside, along, round, mark.seed) : 0;
        return PatchMark::Cell{static_cast<float>(inside), static_cast<float>(broad),
                               static_cast<float>(stain)};
      },
      mark);
}

}  // namespace

PatchMark porous_patch(const scene::Scene& scene, const scene::PorousWall& wall, int number) {
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  porous_look(section_at(scene, (wall.from_m + wall.to_m) / 2), mark);
  lay_plain(scene, matter::patch_area(scene, wall.from_m, wall.to_m, wall.arc, seed), mark);
  return mark;
}

PatchMark sweating_patch(const scene::Scene& scene, const scene::SweatingWall& wall, int number) {
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  sweating_look(section_at(scene, (wall.from_m + wall.to_m) / 2), mark);
  lay_plain(scene, matter::patch_area(scene, wall.from_m, wall.to_m, wall.arc, seed), mark);
  return mark;
}

PatchMark mortar_patch(const scene::Scene& scene, const scene::MissingMortar& mortar, int number) {
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  const matter::PatchArea area = matter::mortar_area(scene, mortar, seed);
  const scene::Vec2 centre = scene::centre_at(scene, area.from_m + area.length_m / 2);
  mark.centre_x = static_cast<float>(centre.x), mark.centre_y = static_cast<float>(centre.y);
  mortar_look(mortar, mark);
  if (mortar.length_m <= 0) {
    lay_plain(scene, area, mark);
    return mark;
  }
  // Along the joints between bricks, each emptied unevenly; the bricks themselves stay.
  mark.over_joint = false;
  const double bore_mm = section_at(scene, mortar.at_m).bore_mm;
  lay_grid(
      scene, area,
      [&](double along, double round) {
        const double turn = area.from_angle + round / area.radius_m;
        const double off = matter::joint_distance_m(bore_mm, area.from_m + along, turn);
        const double torn = 0.0016 * ring_noise(area, along, round, 0.012, mark.seed + 36U);
        const double inside =
            std::min(matter::inside_m(area, along, round), scene::brick_joint_m / 2 - 0.0002 - off + torn);
        const double broad =
            std::clamp(0.5 + 0.8 * ring_noise(area, along, round, 0.05, mark.seed + 31U), 0.0, 1.0);
        return PatchMark::Cell{static_cast<float>(inside), static_cast<float>(broad), 0.0F};
      },
      mark);
  return mark;
}

PatchMark damage_patch(const scene::Scene& scene, const scene::SurfaceDamage& damage, int number) {
  using scene::DamageForm;
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  const scene::Section& section = section_at(scene, (damage.from_m + damage.to_m) / 2);
  const matter::PatchArea area = matter::damaged_area(scene, damage, seed);
  damage_look(damage, section, mark);
  const std::vector<Shell> shells =
      damage.form == DamageForm::spalled ? shells_in(area, seed) : std::vector<Shell>{};
  const auto noise = [&](double along, double round, double size, std::uint32_t more) {
    return ring_noise(area, along, round, size, mark.seed + more);
  };
  lay_grid(
      scene, area,
      [&](double along, double round) {
        double inside = matter::inside_m(area, along, round);
        const double stated = inside;
        double broad = std::clamp(
            0.5 + 0.7 * noise(along, round, 0.05, 31U) + 0.3 * noise(along, round, 0.02, 32U), 0.0, 1.0);
        if (!shells.empty() && inside > -0.02) {
          double best = -0.02;
          for (const Shell& shell : shells) {
            const double a = along - shell.along, b = round - shell.round;
            if (std::abs(a) > 1.4 * shell.radius || std::abs(b) > 1.4 * shell.radius) continue;
            const double into = shell.radius * (1 + 0.30 * noise(along, round, 0.7 * shell.radius, 33U) +
                                                0.12 * noise(along, round, 0.2 * shell.radius, 39U)) -
                                std::sqrt(a * a + b * b);
            if (into > best)
              best = into,
              broad = std::clamp(shell.deep + (shell.lean_along * a + shell.lean_round * b) / shell.radius,
                                 0.0, 1.0);
          }
          inside = std::min(inside + 0.004, best);
        } else {
          inside = frayed(area, inside, along, round, mark.relief.frays_over, mark.seed);
        }
        // What has run off it lies beside it and below.
        const double stain = mark.relief.stains > 0 ? stain_at(area, stated, along, round, mark.seed) : 0;
        return PatchMark::Cell{static_cast<float>(inside), static_cast<float>(broad),
                               static_cast<float>(stain)};
      },
      mark);
  return mark;
}

}  // namespace haunch::render
