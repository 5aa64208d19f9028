// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include "scene/camera.hpp"
#include "sight/sight.hpp"

namespace haunch::sight {
namespace {

// Ours: slow enough that nothing passes between two looks, and long enough a halt to look round a mouth.
constexpr double most_step_m = 0.05, step_bores = 0.4, halt_s = 3;

double bore_m(const scene::Scene& scene, double z) { return 2 * scene::radius_at(scene, z); }

/// Looks at a connection's mouth from beside it, head turned square to the wall as far as it goes.
Look into(const scene::Scene& scene, const scene::Connection& connection) {
  const int way = scene::travel(scene.scenario);
  const double back = 0.35 * bore_m(scene, connection.at_m);
  Look look;
  look.lens_z_m = std::clamp(connection.at_m - way * back, 0.0, scene.length_m());
  // Right and up seen along travel: turning round swaps the sides.
  const double hour = connection.clock_h * std::numbers::pi / 6;
  look.yaw_deg = scene::most_turn_deg * way * std::sin(hour);
  look.pitch_deg = scene::most_turn_deg * std::cos(hour);
  look.seconds = halt_s;
  return look;
}

}  // namespace

Drive careful_drive(const scene::Scene& scene, std::optional<double> until_z_m) {
  const int way = scene::travel(scene.scenario);
  const double length = scene.length_m(), speed = std::max(0.01, scene.scenario.camera.speed_m_s);
  Drive drive;
  for (double along = 0; along < length + 1e-9;) {
    const double z = way > 0 ? along : length - along;
    const double step = std::min(most_step_m, step_bores * bore_m(scene, z));
    drive.push_back({std::clamp(z, 0.0, length), 0, 0, step / speed});
    along += step;
  }
  for (const scene::Fault& fault : scene.scenario.faults) {
    const auto* connection = std::get_if<scene::Connection>(&fault.kind);
    if (!connection) continue;
    const double before = connection->at_m - way * bore_m(scene, connection->at_m);
    drive.push_back({std::clamp(before, 0.0, length), 0, 0, halt_s});
    if (scene::head_turns(scene.scenario)) drive.push_back(into(scene, *connection));
  }
  std::stable_sort(drive.begin(), drive.end(),
                   [way](const Look& a, const Look& b) { return way * a.lens_z_m < way * b.lens_z_m; });
  if (until_z_m)
    std::erase_if(drive, [&](const Look& look) { return way * look.lens_z_m > way * *until_z_m + 1e-9; });
  return drive;
}

Drive near(const scene::Scene& scene, const Drive& drive, const std::vector<int>& faults, std::size_t most) {
  constexpr double reach_bores = 20;
  const int way = scene::travel(scene.scenario);
  Drive kept;
  for (const Look& look : drive) {
    const double reach_m = reach_bores * bore_m(scene, look.lens_z_m);
    const bool any = std::any_of(faults.begin(), faults.end(), [&](int fault) {
      const scene::Stretch lies =
          scene::stretch_of(scene.scenario.faults[static_cast<std::size_t>(fault - 1)]);
      const double first = way > 0 ? lies.from_m - look.lens_z_m : look.lens_z_m - lies.to_m;
      const double last = way > 0 ? lies.to_m - look.lens_z_m : look.lens_z_m - lies.from_m;
      return first <= reach_m && last >= -bore_m(scene, look.lens_z_m);
    });
    if (any) kept.push_back(look);
  }
  if (kept.size() <= most || most == 0) return kept;
  Drive few;
  for (std::size_t k = 0; k < most; ++k) {
    const auto from = kept.begin() + static_cast<std::ptrdiff_t>(k * kept.size() / most);
    const auto to = kept.begin() + static_cast<std::ptrdiff_t>((k + 1) * kept.size() / most);
    Look longest =
        *std::max_element(from, to, [](const Look& a, const Look& b) { return a.seconds < b.seconds; });
    longest.seconds = 0;
    for (auto look = from; look != to; ++look) longest.seconds += look->seconds;
    few.push_back(longest);
  }
  return few;
}

}  // namespace haunch::sight
