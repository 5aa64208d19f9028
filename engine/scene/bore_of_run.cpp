// SPDX-License-Identifier: Apache-2.0
#include "scene/bore_of_run.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "scene/materials.hpp"

namespace haunch::scene {
namespace {

constexpr double taper_bores = 3;  // ours: about how far the ground goes from bearing to pressing
constexpr int taper_pieces = 12;   // straight pieces that follow the taper to a hundredth of its depth

/// A squashed stretch with the places where its tapers end.
struct Press {
  const Squashed* fault = nullptr;
  double full_from_m = 0, full_to_m = 0;
  double share_at(double z) const {
    const auto smooth = [](double x) {
      const double t = std::clamp(x, 0.0, 1.0);
      return t * t * (3 - 2 * t);
    };
    if (z <= fault->from_m || z >= fault->to_m) return 0;
    if (z < full_from_m) return smooth((z - fault->from_m) / (full_from_m - fault->from_m));
    if (z > full_to_m) return smooth((fault->to_m - z) / (fault->to_m - full_to_m));
    return 1;
  }
};

std::vector<Press> presses_of(const Scenario& scenario) {
  std::vector<Press> presses;
  int number = 0;
  for (const Fault& fault : scenario.faults) {
    ++number;
    const auto* squashed = std::get_if<Squashed>(&fault.kind);
    if (squashed == nullptr || !(squashed->percent > 0)) continue;
    double bore_m = 0;
    for (const Section& section : scenario.sections)
      if (bore_m == 0 || squashed->from_m >= section.from_m) bore_m = section.bore_mm / 1000;
    base::Random random(fault_seed(scenario, number));
    double before = taper_bores * bore_m * random.uniform(0.7, 1.4),
           after = taper_bores * bore_m * random.uniform(0.7, 1.4);
    const double fits = std::min(1.0, (squashed->to_m - squashed->from_m) / (before + after));
    before *= fits, after *= fits;
    Press press{squashed, squashed->from_m + before, squashed->to_m - after};
    if (fits < 1) press.full_to_m = press.full_from_m;
    presses.push_back(press);
  }
  return presses;
}

}  // namespace

Bore bore_of_run(const Scenario& scenario, const Section& section, double z_m) {
  const double radius = section.bore_mm / 2000.0;
  if (section.shape != PipeShape::circular)
    return {radius, clear_height_mm(section) / 2000.0,
            section.shape == PipeShape::egg ? BoreForm::egg : BoreForm::box};
  for (const Press& press : presses_of(scenario)) {
    const double lost = press.fault->percent / 100 * press.share_at(z_m);
    if (!(lost > 0)) continue;
    const bool hinged = !is_flexible(section.material);
    const double small = radius * (1 - lost),
                 large = hinged ? other_hinged_half_m(radius, lost) : other_half_axis_m(radius, lost);
    const BoreForm form = hinged ? BoreForm::hinged : BoreForm::oval;
    return press.fault->vertical ? Bore{large, small, form} : Bore{small, large, form};
  }
  return {radius, radius};
}

std::vector<double> bore_cuts(const Scenario& scenario, double from_m, double to_m) {
  std::vector<double> cuts;
  const auto cut = [&](double z) {
    if (z > from_m + 1e-6 && z < to_m - 1e-6) cuts.push_back(z);
  };
  for (const Press& press : presses_of(scenario))
    for (int k = 0; k <= taper_pieces; ++k) {
      const double share = static_cast<double>(k) / taper_pieces;
      cut(press.fault->from_m + share * (press.full_from_m - press.fault->from_m));
      cut(press.full_to_m + share * (press.fault->to_m - press.full_to_m));
    }
  return cuts;
}

bool bore_changes(const Scenario& scenario, double from_m, double to_m) {
  const std::vector<Press> presses = presses_of(scenario);
  return std::any_of(presses.begin(), presses.end(),
                     [&](const Press& press) { return press.share_at(from_m) != press.share_at(to_m); });
}

}  // namespace haunch::scene
