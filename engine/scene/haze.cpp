// SPDX-License-Identifier: Apache-2.0
#include "scene/haze.hpp"

#include <algorithm>
#include <cmath>

#include "scene/camera.hpp"

namespace haunch::scene {
namespace {

constexpr double ramp_m = 0.3;  // ours: steam drifts, silt spreads

/// 0 outside, 1 in the middle, even ramps at the ends.
double share_at(const Haze& haze, double z) {
  const double ramp = std::min(ramp_m, (haze.to_m - haze.from_m) / 3);
  if (ramp <= 0) return 0;
  return std::clamp(std::min(z - haze.from_m, haze.to_m - z) / ramp, 0.0, 1.0);
}
double per_m_of(const Haze& haze) { return hidden_behind / haze.sight_m; }

template <class Do>
void each_haze(const Scenario& scenario, HazeKind kind, Do act) {
  for (std::size_t i = 0; i < scenario.faults.size(); ++i)
    if (const auto* haze = std::get_if<Haze>(&scenario.faults[i].kind); haze && haze->kind == kind)
      act(*haze, static_cast<int>(i) + 1);
}

}  // namespace

double haze_per_m(const Scenario& scenario, HazeKind kind, double z_m) {
  double sum = 0;
  each_haze(scenario, kind, [&](const Haze& haze, int) { sum += per_m_of(haze) * share_at(haze, z_m); });
  return sum;
}

double haze_between(const Scenario& scenario, HazeKind kind, double z_m, double other_z_m) {
  const double from = std::min(z_m, other_z_m), to = std::max(z_m, other_z_m);
  double sum = 0;
  each_haze(scenario, kind, [&](const Haze& haze, int) {
    const double a = std::max(from, haze.from_m), b = std::min(to, haze.to_m);
    if (b <= a) return;
    // Ramps are straight, so short steps are all but exact.
    const int steps = std::max(4, static_cast<int>(std::ceil((b - a) / 0.02)));
    double way = 0;
    for (int k = 0; k < steps; ++k) way += share_at(haze, a + (b - a) * (k + 0.5) / steps);
    sum += per_m_of(haze) * way * (b - a) / steps;
  });
  return sum;
}

double sight_through_haze_m(const Scene& scene, double lens_z_m, double most_m) {
  const Vec3 lens = pose_at(scene, lens_z_m).lens;
  const bool under = level_at(scene.water, lens.z) > lens.y;
  const double per_m = haze_per_m(scene.scenario, under ? HazeKind::silt : HazeKind::steam, lens.z);
  return per_m * most_m < hidden_behind ? most_m : hidden_behind / per_m;
}

int thickest_haze(const Scenario& scenario, HazeKind kind, double z_m, double other_z_m) {
  int number = 0;
  double most = 0;
  each_haze(scenario, kind, [&](const Haze& haze, int own) {
    if (haze.to_m <= std::min(z_m, other_z_m) || haze.from_m >= std::max(z_m, other_z_m)) return;
    if (per_m_of(haze) > most) most = per_m_of(haze), number = own;
  });
  return number;
}

int film_at(const Scenario& scenario, double z_m) {
  int number = 0;
  double most = 0;
  for (std::size_t i = 0; i < scenario.faults.size(); ++i) {
    const auto* film = std::get_if<OnLens>(&scenario.faults[i].kind);
    if (!film || z_m < film->from_m || z_m > film->to_m || film->covers_percent <= most) continue;
    most = film->covers_percent;
    number = static_cast<int>(i) + 1;
  }
  return number;
}

}  // namespace haunch::scene
