// SPDX-License-Identifier: Apache-2.0
#include "render/patch_make.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

void pack_cells(PatchMark& mark) {
  const auto bits = [](float share, float most) {
    return static_cast<std::uint32_t>(std::clamp(share, 0.0F, 1.0F) * most + 0.5F);
  };
  mark.cells.reserve(mark.grid.size());
  for (const PatchMark::Cell& c : mark.grid)
    mark.cells.push_back(
        static_cast<std::int32_t>(bits((c.inside - patch_cell_least) / patch_cell_range, 65535) |
                                  bits(c.broad, 255) << 16U | bits(c.stain, 255) << 24U));
  mark.grid = {};
}

}  // namespace

void lay_grid(const scene::Scene& scene, const matter::PatchArea& area,
              const std::function<PatchMark::Cell(double along, double round)>& cell_at, PatchMark& mark,
              double margin_m) {
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
  mark.full_s = static_cast<float>(full);
  mark.crown_s = static_cast<float>((tau - from) * area.radius_m);
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
  if (!mark.tile.empty()) pack_cells(mark);
  // A whole number of tiles goes round.
  constexpr double tile_m = PatchTile::round * static_cast<double>(PatchTile::texel_mm) / 1000;
  const double tiles = std::max(1.0, std::round(full / tile_m));
  mark.per_texel_u = static_cast<float>(tiles * PatchTile::round / full);
  mark.per_texel_v = mark.per_texel_u;
  base::Random random(base::mix(mark.seed + 7U));
  mark.shift_u = static_cast<float>(random.uniform(0, PatchTile::round));
  mark.shift_v = static_cast<float>(random.uniform(0, PatchTile::along));
}

double ring_noise(const matter::PatchArea& area, double along, double round, double size,
                  std::uint32_t seed) {
  const double turn = area.from_angle + round / area.radius_m;
  return static_cast<double>(matter::noise(static_cast<float>(area.radius_m * std::sin(turn) / size),
                                           static_cast<float>(area.radius_m * std::cos(turn) / size),
                                           static_cast<float>((area.from_m + along) / size), seed));
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

}  // namespace haunch::render
