// SPDX-License-Identifier: Apache-2.0
// Lays the grid of a skin that is bulged or dented.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "render/marks.hpp"
#include "render/patch_make.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

/// A bulge or dent of the skin, m; a negative height is a dent.
struct Bump {
  double along, round, half_along, half_round, height;
};

std::vector<Bump> bumps_in(const matter::PatchArea& area, double height, std::uint64_t seed) {
  base::Random random(base::mix(seed + 6U));
  std::vector<Bump> bumps;
  // A low one is small, a high one as large as the breadth of a hand; more of them where there is room.
  const double widest =
      std::clamp(9 * std::abs(height), 0.035, std::max(0.035, std::min(0.11, 1.3 * area.radius_m)));
  const int long_ = std::max(1, static_cast<int>(std::lround(area.length_m / widest))),
            wide = std::max(1, static_cast<int>(std::lround(area.round_m / widest)));
  for (int a = 0; a < long_; ++a)
    for (int b = 0; b < wide; ++b) {
      const bool one = long_ * wide == 1;
      const double cell_a = area.length_m / long_, cell_b = area.round_m / wide;
      const double size_a = one ? 1 : random.uniform(0.65, 1.0), size_b = one ? 1 : random.uniform(0.65, 1.0);
      const double at_a = (a + 0.5 + (1 - size_a) * random.uniform(-0.45, 0.45)) * cell_a,
                   at_b = (b + 0.5 + (1 - size_b) * random.uniform(-0.45, 0.45)) * cell_b;
      // Some stay small.
      const bool full = one || a + b == 0 || random.uniform() < 0.7;
      bumps.push_back({at_a, at_b, 0.5 * size_a * cell_a, 0.5 * size_b * cell_b,
                       height * (full ? random.uniform(0.8, 1.0) : random.uniform(0.3, 0.5))});
    }
  bumps.front().height = height;
  return bumps;
}

/// A dome that meets the wall in a crease: 1 in its middle, 0 from its edge on.
double dome(double inside) {
  const double t = std::clamp(inside, 0.0, 1.0), crease = 0.05;
  const double risen = t < crease ? t * t / (2 * crease) : t - crease / 2;
  return risen * (1.35 - 0.35 * risen) / (1 - crease / 2) / (1 + 0.175 * crease);
}

}  // namespace

PatchMark bent_patch(const scene::Scene& scene, const scene::SurfaceDamage& damage, int number) {
  std::uint64_t seed = 0;
  PatchMark mark = new_patch(scene, number, seed);
  const scene::Section& section = section_at(scene, (damage.from_m + damage.to_m) / 2);
  const matter::PatchArea area = matter::damaged_area(scene, damage, seed);
  const double high = scene::depth_m_of(damage, section.wall_mm / 1000);
  const bool dent = damage.form == scene::DamageForm::dent;
  mark.relief.bends = true;
  (dent ? mark.relief.depth : mark.relief.top) = static_cast<float>(high);
  // Bent plastic turns pale, most so along a crease; other ware only opens fine cracks there.
  mark.steel = blend(1.3F * whole_ware(section), {0.62F, 0.58F, 0.54F}, 0.55F);
  const float turns_pale = section.material == scene::Material::pvc ? 0.60F : 0.20F;
  const std::vector<Bump> bumps = bumps_in(area, dent ? -high : high, seed);
  const auto noise = [&](double along, double round, double size, std::uint32_t more) {
    return ring_noise(area, along, round, size, mark.seed + more);
  };
  const double margin_m = patch_stained_m + static_cast<double>(patch_bend_slant) * high;
  lay_grid(
      scene, area,
      [&](double along, double round) {
        double height = 0, pale = 0;
        for (const Bump& bump : bumps) {
          const double a = (along - bump.along) / bump.half_along, b = (round - bump.round) / bump.half_round;
          const double away = a * a + b * b;
          if (away >= 1) continue;
          // No two are quite round, and none is quite smooth.
          const double inside =
              (1 - away) * (1 + 0.22 * noise(along, round, 0.7 * bump.half_along, 36U)) -
              0.10 * std::clamp(0.5 + noise(along, round, 0.4 * bump.half_along, 37U), 0.0, 1.0) * away;
          height += bump.height * std::min(dome(inside), 1.0);
          const double crease = std::clamp(1 - std::abs(inside - 0.10) / 0.16, 0.0, 1.0),
                       crest = std::clamp((inside - 0.72) / 0.28, 0.0, 1.0);
          pale = std::max(pale, (0.65 * crease + 0.55 * crest) *
                                    std::clamp(0.6 + 0.9 * noise(along, round, 0.014, 38U), 0.0, 1.0));
        }
        return PatchMark::Cell{static_cast<float>(height), turns_pale * static_cast<float>(pale), 0};
      },
      mark, margin_m);
  // The grid's own frame: margins before the area.
  const auto f = [](double x) { return static_cast<float>(x); };
  const double before = area.whole ? 0 : mark.whole ? (tau * area.radius_m - area.round_m) / 2 : margin_m;
  mark.bent = {f(margin_m), f(margin_m + area.length_m), f(before), f(before + area.round_m)};
  return mark;
}

}  // namespace haunch::render
