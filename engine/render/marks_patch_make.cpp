// SPDX-License-Identifier: Apache-2.0
// Lays the grid of a patch: how far inside, how uneven, how stained; shells where it has flaked, bulges.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "render/marks.hpp"
#include "render/marks_patch.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double margin_m = 0.045;  // stains

/// A flake's bed: round about, deeper than its neighbour or not.
struct Shell {
  double along, round, radius, deep;
};

std::vector<Shell> shells_in(const matter::PatchArea& area, std::uint64_t seed) {
  base::Random random(base::mix(seed + 5U));
  const double least = std::min(area.length_m, area.round_m);
  const double large = std::clamp(0.34 * least, 0.006, 0.024);
  const int many =
      std::clamp(static_cast<int>(1.15 * area.length_m * area.round_m / (large * large)), 4, 4000);
  std::vector<Shell> shells;
  for (int n = 0; n < many; ++n) {
    const double share = random.uniform();
    const double radius = large * (0.28 + 0.72 * share * share);
    shells.push_back({random.uniform(0.6 * radius, std::max(0.7 * radius, area.length_m - 0.6 * radius)),
                      random.uniform(0.6 * radius, std::max(0.7 * radius, area.round_m - 0.6 * radius)),
                      radius, random.uniform(0.1, 1.0)});
  }
  return shells;
}

std::vector<PatchBump> bumps_in(const matter::PatchArea& area, double height, std::uint64_t seed) {
  base::Random random(base::mix(seed + 6U));
  std::vector<PatchBump> bumps;
  const auto f = [](double x) { return static_cast<float>(x); };
  // As large as the place allows, to the breadth of a hand; more of them where there is room.
  const double widest = std::min(0.11, 1.3 * area.radius_m);
  const int long_ = std::max(1, static_cast<int>(std::lround(area.length_m / widest))),
            wide = std::max(1, static_cast<int>(std::lround(area.round_m / widest)));
  for (int a = 0; a < long_; ++a)
    for (int b = 0; b < wide; ++b) {
      const bool one = long_ * wide == 1;
      const double cell_a = area.length_m / long_, cell_b = area.round_m / wide;
      const double size_a = one ? 1 : random.uniform(0.55, 1.0), size_b = one ? 1 : random.uniform(0.55, 1.0);
      const double at_a = (a + 0.5 + (1 - size_a) * random.uniform(-0.45, 0.45)) * cell_a,
                   at_b = (b + 0.5 + (1 - size_b) * random.uniform(-0.45, 0.45)) * cell_b;
      // Some stay small.
      const bool full = one || a + b == 0 || random.uniform() < 0.7;
      bumps.push_back({f(at_a), f(at_b), f(0.5 * size_a * cell_a), f(0.5 * size_b * cell_b),
                       f(height * (full ? random.uniform(0.8, 1.0) : random.uniform(0.3, 0.5)))});
    }
  bumps.front().height = f(height);
  return bumps;
}

/// The grid over an area and its margin; `inside` may carve the area further.
void lay_grid(const scene::Scene& scene, const matter::PatchArea& area,
              const std::function<PatchMark::Cell(double along, double round)>& cell_at, PatchMark& mark) {
  const double step =
      std::max(0.0015, std::sqrt((area.length_m + 2 * margin_m) * (area.round_m + 2 * margin_m) / 300000));
  const double full = tau * area.radius_m;
  mark.radius = static_cast<float>(area.radius_m);
  mark.whole = area.whole || area.round_m + 2 * margin_m >= full;
  mark.z0 = static_cast<float>(area.from_m - margin_m);
  mark.z1 = static_cast<float>(area.from_m + area.length_m + margin_m);
  mark.rows = std::max(2, static_cast<int>(std::ceil((area.length_m + 2 * margin_m) / step)) + 1);
  mark.step_z = static_cast<float>((area.length_m + 2 * margin_m) / (mark.rows - 1));
  const double wide = mark.whole ? full : area.round_m + 2 * margin_m;
  mark.columns = std::max(2, static_cast<int>(std::ceil(wide / step)) + 1);
  mark.step_s = static_cast<float>(wide / (mark.columns - 1));
  mark.span = static_cast<float>(wide / area.radius_m);
  // Margins meet on the far side where there is room for no more.
  const double before = area.whole ? 0 : mark.whole ? (full - area.round_m) / 2 : margin_m;
  double from = area.from_angle - before / area.radius_m;
  from -= tau * std::floor(from / tau);
  mark.from_angle = static_cast<float>(from);
  mark.grid.reserve(static_cast<std::size_t>(mark.rows) * static_cast<std::size_t>(mark.columns));
  for (int row = 0; row < mark.rows; ++row) {
    const double along = row * static_cast<double>(mark.step_z) - margin_m;
    const double z = std::clamp(area.from_m + along, 0.0, scene.length_m());
    const double invert = scene::invert_at(scene, z);
    mark.flow_y.push_back(static_cast<float>(
        std::max(scene::level_at(scene.water, z), invert + 0.14 * scene::radius_at(scene, z))));
    for (int column = 0; column < mark.columns; ++column)
      mark.grid.push_back(cell_at(along, column * static_cast<double>(mark.step_s) - before));
  }
  // A whole number of tiles goes round.
  constexpr double tile_m = PatchTile::round * static_cast<double>(PatchTile::texel_mm) / 1000;
  const double tiles = std::max(1.0, std::round(full / tile_m));
  mark.per_texel_u = static_cast<float>(tiles * PatchTile::round / full);
  mark.per_texel_v = mark.per_texel_u;
  base::Random random(base::mix(mark.seed + 7U));
  mark.shift_u = static_cast<float>(random.uniform(0, PatchTile::round));
  mark.shift_v = static_cast<float>(random.uniform(0, PatchTile::along));
}

}  // namespace

namespace {

/// Noise on the ring itself.
double ring_noise(const matter::PatchArea& area, double along, double round, double size,
                  std::uint32_t seed) {
  const double turn = area.from_angle + round / area.radius_m;
  return static_cast<double>(matter::noise(static_cast<float>(area.radius_m * std::sin(turn) / size),
                                           static_cast<float>(area.radius_m * std::cos(turn) / size),
                                           static_cast<float>((area.from_m + along) / size), seed));
}

/// What has run off a patch lies beside it and below, in threads.
double stain_at(const matter::PatchArea& area, double inside, double along, double round,
                std::uint32_t seed) {
  const double turn = area.from_angle + round / area.radius_m;
  const double below = std::clamp(0.6 - 0.6 * std::cos(turn), 0.3, 1.0);
  const double thread = 0.55 + 0.45 * ring_noise(area, along * 4, round * 0.25, 0.05, seed + 34U) +
                        0.35 * ring_noise(area, along, round, 0.02, seed + 35U);
  return std::clamp(1 + inside / (margin_m * 0.9 * below), 0.0, 1.0) * std::clamp(thread, 0.0, 1.0);
}

PatchMark new_patch(const scene::Scene& scene, int number, std::uint64_t& seed) {
  PatchMark mark;
  mark.fault = static_cast<std::uint16_t>(number);
  seed = scene::fault_seed(scene.scenario, number);
  mark.seed = static_cast<std::uint32_t>(seed);
  return mark;
}

const scene::Section& section_at(const scene::Scene& scene, double z) {
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, z))];
  return scene.scenario.sections[static_cast<std::size_t>(piece.section)];
}

void lay_plain(const scene::Scene& scene, const matter::PatchArea& area, PatchMark& mark) {
  lay_grid(
      scene, area,
      [&](double along, double round) {
        const double inside = matter::inside_m(area, along, round);
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
  lay_plain(scene, area, mark);
  return mark;
}

PatchMark damage_patch(const scene::Scene& scene, const scene::SurfaceDamage& damage, int number) {
  using scene::DamageForm;
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  const scene::Section& section = section_at(scene, (damage.from_m + damage.to_m) / 2);
  const matter::PatchArea area = matter::damaged_area(scene, damage, seed);
  damage_look(damage, section, mark);
  if (mark.relief.bends)
    mark.bumps = bumps_in(
        area, (damage.form == DamageForm::dent ? -1 : 1) * static_cast<double>(mark.relief.depth), seed);
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
            const double into = shell.radius * (1 + 0.22 * noise(along, round, 0.7 * shell.radius, 33U)) -
                                std::sqrt(a * a + b * b);
            if (into > best) best = into, broad = shell.deep;
          }
          inside = std::min(inside + 0.004, best);
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
