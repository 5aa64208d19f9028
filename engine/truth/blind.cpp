// SPDX-License-Identifier: Apache-2.0
// Where the camera sees nothing, and what takes its sight: water, steam, silt, or what sticks to its window.
#include <algorithm>
#include <cmath>

#include "scene/camera.hpp"
#include "scene/haze.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

constexpr int sees = -1;  // 0: under water, else the number of the fault

double least_sight_m(const scene::Scene& scene, double z, const Rules& rules) {
  return rules.sight_lost_under_bores * 2.0 * scene::radius_at(scene, z);
}

/// What takes the sight of a lens at z.
int taken_by(const scene::Scene& scene, double z, const Rules& rules) {
  const scene::Scenario& scenario = scene.scenario;
  if (const int film = scene::film_at(scenario, z); film > 0) {
    const auto& on_lens = std::get<scene::OnLens>(scenario.faults[static_cast<std::size_t>(film - 1)].kind);
    if (whole(on_lens.covers_percent) >= rules.lens_covered_from_percent) return film;
  }
  const double least = least_sight_m(scene, z, rules);
  if (scene::sight_through_haze_m(scene, z, least) < least - 1e-9) {
    const scene::Vec3 lens = scene::pose_at(scene, z).lens;
    const bool under = scene::level_at(scene.water, lens.z) > lens.y;
    return scene::thickest_haze(scenario, under ? scene::HazeKind::silt : scene::HazeKind::steam, lens.z,
                                lens.z);
  }
  return scene::submerged_share(scene, scene::pose_at(scene, z)) >= 1.0 - 1e-9 ? 0 : sees;
}

/// Where what takes the sight changes, to a millimetre.
double turn_between(const scene::Scene& scene, double a, double b, const Rules& rules) {
  const int at_a = taken_by(scene, a, rules);
  while (b - a > 1e-3) {
    const double middle = (a + b) / 2.0;
    (taken_by(scene, middle, rules) == at_a ? a : b) = middle;
  }
  return (a + b) / 2.0;
}

}  // namespace

std::vector<Blind> blind_stretches(const scene::Scene& scene, const Rules& rules) {
  constexpr double step_m = 0.05;
  std::vector<Blind> found;
  const int steps = std::max(1, static_cast<int>(std::ceil(scene.length_m() / step_m)));
  const auto place = [&](int i) { return scene.length_m() * i / steps; };
  int before = taken_by(scene, 0, rules);
  if (before != sees) found.push_back({0, scene.length_m(), before});
  for (int i = 1; i <= steps; ++i) {
    const int now = taken_by(scene, place(i), rules);
    if (now == before) continue;
    const double turn = turn_between(scene, place(i - 1), place(i), rules);
    if (before != sees) found.back().to_m = turn;
    if (now != sees) found.push_back({turn, scene.length_m(), now});
    before = now;
  }
  return found;
}

namespace {

/// The cause as the standard has it, and in words.
struct Cause {
  const char* letter = "A";
  std::string says, remark;
};
Cause cause_of(const scene::Scene& scene, const Blind& blind, const Rules& rules, base::LengthUnit words) {
  if (blind.fault == 0)
    return {
        "A",
        "the camera's head, " + show(scene.scenario.camera.head_mm) + " mm thick, is wholly under water here",
        ""};
  const scene::FaultKind& kind = scene.scenario.faults[static_cast<std::size_t>(blind.fault - 1)].kind;
  if (const auto* haze = std::get_if<scene::Haze>(&kind)) {
    double least = least_sight_m(scene, (blind.from_m + blind.to_m) / 2, rules), far = least;
    for (int k = 0; k <= 20; ++k)
      far = std::min(far, scene::sight_through_haze_m(
                              scene, blind.from_m + (blind.to_m - blind.from_m) * k / 20, least));
    const bool steam = haze->kind == scene::HazeKind::steam;
    return {steam ? "C" : "B",
            std::string(steam ? "steam" : "silt stirred up in the water") + " lets the camera see only " +
                show_length(far, words) + ", less than " + show(rules.sight_lost_under_bores) + " bores (" +
                show_length(least, words) + ")",
            ""};
  }
  const auto& film = std::get<scene::OnLens>(kind);
  const std::string covers = " covers " + show(whole(film.covers_percent)) + " % of the lens, at least " +
                             show(rules.lens_covered_from_percent) + " %";
  switch (film.film) {
    case scene::LensFilm::mud:
      return {"B", "silt" + covers, ""};
    case scene::LensFilm::grease:
      return {"Z", "grease" + covers, "grease on the lens"};
    case scene::LensFilm::foam:
      return {"Z", "foam" + covers, "foam on the lens"};
    case scene::LensFilm::web:
      return {"Z", "a spider's web" + covers, "a web over the lens"};
  }
  return {};
}

}  // namespace

std::vector<Finding> findings_of_blindness(const scene::Scene& scene, const std::vector<Blind>& all,
                                           const Rules& rules, base::LengthUnit words) {
  std::vector<Finding> findings;
  for (const Blind& blind : all) {
    const Cause cause = cause_of(scene, blind, rules, words);
    Finding finding;
    finding.fault = blind.fault;
    finding.line = line("BDG", cause.letter);
    finding.line.remark = cause.remark;
    finding.continuous = length_written(blind.from_m, blind.to_m) > rules.point_up_to_m + 1e-9;
    finding.from_m = finding.continuous ? blind.from_m : (blind.from_m + blind.to_m) / 2.0;
    finding.to_m = finding.continuous ? blind.to_m : finding.from_m;
    finding.line.reason = cause.says + " -> BDG " + cause.letter;
    findings.push_back(finding);
  }
  return findings;
}

std::string passed_how(const scene::Scene& scene, const Blind& blind) {
  if (blind.fault == 0) return "with the camera wholly under water";
  const scene::FaultKind& kind = scene.scenario.faults[static_cast<std::size_t>(blind.fault - 1)].kind;
  if (const auto* haze = std::get_if<scene::Haze>(&kind))
    return haze->kind == scene::HazeKind::steam ? "in thick steam" : "in water full of stirred-up silt";
  return "with the lens covered";
}

// What takes the sight is recorded where it does, and nowhere else.
void Codes::code(const scene::Haze& /*haze*/) {}
void Codes::code(const scene::OnLens& /*film*/) {}

}  // namespace haunch::truth
