// SPDX-License-Identifier: Apache-2.0
#include "scene/bends.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haunch::scene {
namespace {

constexpr double piece_turn_deg = 0.25;  // straight pieces that leave the curve by less than anyone sees

std::vector<Bend> bends_of(const Scenario& scenario) {
  std::vector<Bend> bends;
  for (const Fault& fault : scenario.faults)
    if (const auto* bend = std::get_if<Bend>(&fault.kind);
        bend && bend->angle_deg > 0 && bend->to_m > bend->from_m)
      bends.push_back(*bend);
  return bends;
}

}  // namespace

Vec2 bent_aside(const Scenario& scenario, double z_m) {
  Vec2 aside{};
  for (const Bend& bend : bends_of(scenario)) {
    if (z_m <= bend.from_m) continue;
    // The direction turns evenly, so the slope is the tangent of an angle that grows with z: its integral.
    const double angle = bend.angle_deg * std::numbers::pi / 180, per_m = angle / (bend.to_m - bend.from_m);
    const double turned = per_m * (std::min(z_m, bend.to_m) - bend.from_m);
    double off = -std::log(std::cos(turned)) / per_m;
    if (z_m > bend.to_m) off += (z_m - bend.to_m) * std::tan(angle);
    aside = aside + off * toward_clock(bend.toward_clock_h);
  }
  return aside;
}

std::vector<double> bend_cuts(const Scenario& scenario, double from_m, double to_m) {
  std::vector<double> cuts;
  for (const Bend& bend : bends_of(scenario)) {
    const int pieces = std::max(8, static_cast<int>(std::ceil(bend.angle_deg / piece_turn_deg)));
    for (int k = 0; k <= pieces; ++k) {
      const double z = bend.from_m + (bend.to_m - bend.from_m) * k / pieces;
      if (z > from_m + 1e-6 && z < to_m - 1e-6) cuts.push_back(z);
    }
  }
  return cuts;
}

bool bends_between(const Scenario& scenario, double from_m, double to_m) {
  const std::vector<Bend> bends = bends_of(scenario);
  return std::any_of(bends.begin(), bends.end(), [&](const Bend& bend) {
    return bend.from_m < to_m - 1e-9 && bend.to_m > from_m + 1e-9;
  });
}

}  // namespace haunch::scene
