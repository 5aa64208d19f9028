// SPDX-License-Identifier: Apache-2.0
#include "render/wall_welds.hpp"

#include <cmath>

#include "base/random.hpp"

namespace haunch::render {
namespace {

constexpr int cones_a_roll = 7;

double per_square(double half) { return 1 / (half * half); }

/// Of one roll, 0 .. 1 across it: steep at both feet, round on top, leaning towards the weld.
double roll_height(double share) {
  const double x = 2 * share - 1 - 0.12 * (1 - (2 * share - 1) * (2 * share - 1));
  return std::sqrt(std::max(0.0, 1 - x * x));
}

}  // namespace

bool is_weld(const scene::Scene& scene, const scene::Joint& joint) {
  const auto welded = [&](int index) {
    const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(index)];
    const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
    return section.material == scene::Material::polyethylene &&
           section.shape == scene::PipeShape::circular;  // nobody rolls plastic into eggs
  };
  return welded(joint.before) && welded(joint.after);
}

double bead_m(const scene::Scene& scene, const scene::Joint& joint) {
  base::Random random(base::mix(scene.scenario.seed * 71 + static_cast<std::uint64_t>(joint.after) + 3U));
  return random.uniform(0.0021, 0.0030);
}

std::vector<Stretch> weld_stretches(
    const scene::Scene& scene, const scene::Joint& joint,
    const std::function<Stretch(const scene::Piece& piece, double z0, double z1)>& bore) {
  const double high = bead_m(scene, joint), wide = weld_width_m / 2;
  base::Random random(base::mix(scene.scenario.seed * 73 + static_cast<std::uint64_t>(joint.after) + 4U));
  // Neither roll is quite as high as the other, and between them the notch does not reach the wall.
  const double lower = random.uniform(0.82, 0.97);
  const bool first_lower = random.uniform() < 0.5;
  std::vector<Stretch> row;
  for (const bool first : {true, false}) {
    const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(first ? joint.before : joint.after)];
    const double from = first ? joint.at_m - wide : joint.at_m;
    const double own = high * (first == first_lower ? lower : 1);
    // From the outer foot to the weld.
    const auto height = [&](double share) {
      const double roll = own * roll_height(share);
      return share > 0.5 ? std::max(roll, 0.30 * own) : roll;
    };
    for (int k = 0; k < cones_a_roll; ++k) {
      // Closer together at the feet, where it is steepest.
      const auto place = [&](int n) {
        const double t = static_cast<double>(n) / cones_a_roll;
        return t * t * (3 - 2 * t);
      };
      const double a = place(k), b = place(k + 1);
      const double z0 = from + wide * a, z1 = from + wide * b;
      const double h0 = height(first ? a : 1 - a), h1 = height(first ? b : 1 - b);
      Stretch s = bore(piece, z0, z1);
      const scene::Bore at0 = scene::bore_at(piece, z0), at1 = scene::bore_at(piece, z1);
      const double length = z1 - z0;
      s.shape = oval_bore;
      s.wide = static_cast<float>(per_square(at0.half_width_m - h0));
      s.wide_slope = static_cast<float>(
          (per_square(at1.half_width_m - h1) - per_square(at0.half_width_m - h0)) / length);
      s.high = static_cast<float>(per_square(at0.half_height_m - h0));
      s.high_slope = static_cast<float>(
          (per_square(at1.half_height_m - h1) - per_square(at0.half_height_m - h0)) / length);
      s.curved = 1;
      s.bare = 1;
      s.per_smear_lo = s.per_smear_hi = 1e6F;
      row.push_back(s);
    }
  }
  return row;
}

}  // namespace haunch::render
