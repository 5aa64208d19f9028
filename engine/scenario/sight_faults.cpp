// SPDX-License-Identifier: Apache-2.0
// What takes the sight away: how a file says it, and what makes no sense.
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/camera.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

std::optional<FaultKind> sight_fault(const std::string& kind, const Json& in) {
  const double from = number(in, "from_m"), to = number(in, "to_m");
  if (kind == "steam") return Haze{from, to, HazeKind::steam, number(in, "sight_m")};
  if (kind == "stirred silt") return Haze{from, to, HazeKind::silt, number(in, "sight_m")};
  if (kind == "on lens")
    return OnLens{from, to,
                  pick(text(in, "matter"),
                       {{"grease", LensFilm::grease},
                        {"foam", LensFilm::foam},
                        {"web", LensFilm::web},
                        {"mud", LensFilm::mud}},
                       LensFilm::grease),
                  number(in, "covers_percent")};
  return std::nullopt;
}

void Sense::check(const Haze& haze) { stretch(at_, kind_word(fault()), haze.from_m, haze.to_m); }

void Sense::check(const OnLens& film) {
  stretch(at_, "stretch with something on the lens", film.from_m, film.to_m);
}

base::Problems remarks_on_silt(const Scenario& scenario, const base::JsonDocument& document) {
  base::Problems remarks;
  const Scene scene = build_scene(scenario);
  for (const Fault& fault : scenario.faults) {
    const auto* haze = std::get_if<Haze>(&fault.kind);
    if (!haze || haze->kind != HazeKind::silt) continue;
    bool under = false;
    for (double z = haze->from_m; z <= haze->to_m && !under; z += 0.05) {
      const Vec3 lens = pose_at(scene, z).lens;
      under = level_at(scene.water, lens.z) > lens.y;
    }
    if (under) continue;
    remarks.push_back(document.problem(fault.pointer,
                                       "the lens stays above the water that the silt is stirred up in",
                                       "a stretch where the camera goes under, or silt hides nothing"));
    remarks.back().severity = base::Severity::warning;
  }
  return remarks;
}

}  // namespace haunch::scenario
