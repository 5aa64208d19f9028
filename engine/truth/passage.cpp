// SPDX-License-Identifier: Apache-2.0
// Where an inspection has to end before the run does: something leaves less than the camera's head, or the
// head goes under and does not come up again.
#include <algorithm>
#include <cmath>

#include "matter/passage.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

constexpr double touch_m = 0.02;   // the lens ends so far before what stops it; ours
constexpr double beside_m = 0.1;   // what stands so near behind it is still seen beside it; ours
constexpr double goes_in_m = 0.3;  // how far into water nobody drives out of; ours

struct Way {
  const scene::Scene& scene;
  double along(double z) const { return scene::travel(scene.scenario) > 0 ? z : scene.length_m() - z; }
  double z(double along) const {
    return scene::travel(scene.scenario) > 0 ? along : scene.length_m() - along;
  }
};

/// What a fault leaves open, where it begins on the camera's way, and where it is written down.
struct Narrow {
  double opening_m = 0, near_m = 0, at_m = 0;
};

/// Roots, rings and what sticks to the wall give way; a thing is taken by itself.
class NarrowOf {
 public:
  NarrowOf(const scene::Scene& scene, int number) : scene_(scene), number_(number) {}

  std::optional<Narrow> operator()(const scene::Obstacle& f) const { return past_solid(f.at_m); }
  std::optional<Narrow> operator()(const scene::SoilIngress& f) const { return past_solid(f.at_m); }
  std::optional<Narrow> operator()(const scene::BrokenWall& f) const { return past_solid(f.at_m); }
  std::optional<Narrow> operator()(const scene::BrickDamage& f) const {
    if (f.form != scene::BrickForm::collapsed) return std::nullopt;
    return past_solid((f.from_m + f.to_m) / 2);
  }
  std::optional<Narrow> operator()(const scene::Connection& f) const {
    const matter::Solid solid = matter::standing_in(scene_, f);
    if (solid.parts.empty()) return std::nullopt;
    const double half_m = f.bore_mm / 2000;
    return Narrow{matter::widest_opening_m(scene_, f.at_m, solid),
                  scene::travel(scene_.scenario) > 0 ? f.at_m - half_m : f.at_m + half_m, f.at_m};
  }
  std::optional<Narrow> operator()(const scene::JointShift& f) const {
    const double at = matter::joint_near_m(scene_, f.at_m);
    return Narrow{2 * scene::radius_at(scene_, at) - f.offset_mm / 1000, at, at};
  }
  std::optional<Narrow> operator()(const scene::Settled& f) const {
    const double middle = (f.from_m + f.to_m) / 2;
    const scene::Bore bore = scene::bore_at(scene_, middle);
    return Narrow{2 * std::min(bore.half_width_m, bore.half_height_m * (1 - f.depth_percent / 100)), middle,
                  middle};
  }
  template <class GivesWay>
  std::optional<Narrow> operator()(const GivesWay&) const {
    return std::nullopt;
  }

 private:
  std::optional<Narrow> past_solid(double at_m) const {
    const matter::Solid solid = matter::solid_of(scene_, number_);
    if (solid.parts.empty()) return std::nullopt;
    const int way = scene::travel(scene_.scenario);
    double near = at_m;
    for (const matter::SolidPart& part : solid.parts)
      for (const matter::SolidPoint& p : part.points)
        near = way > 0 ? std::min(near, p.at.z) : std::max(near, p.at.z);
    return Narrow{matter::widest_opening_m(scene_, at_m, solid), near, at_m};
  }

  const scene::Scene& scene_;
  int number_;
};

std::optional<Stop> stop_by_water(const scene::Scene& scene, std::vector<Blind> blind, const Rules& rules,
                                  base::LengthUnit words) {
  // What else takes the sight may be driven out of.
  std::erase_if(blind, [](const Blind& one) { return one.fault != 0; });
  if (blind.empty()) return std::nullopt;
  const Way way{scene};
  const bool downstream = scene::travel(scene.scenario) > 0;
  const Blind& last = downstream ? blind.back() : blind.front();
  const double from = way.along(downstream ? last.from_m : last.to_m);
  const double to = way.along(downstream ? last.to_m : last.from_m);
  if (to < scene.length_m() - 1e-6 || to - from < rules.abandoned_under_water_from_m) return std::nullopt;
  return Stop{way.z(from), way.z(std::min(from + goes_in_m, scene.length_m())), 0,
              "the camera's head goes under water here and stays under for the " +
                  show_length(to - from, words) + " up to the end of the run: nothing more can be seen"};
}

}  // namespace

std::optional<Stop> stop_of(const scene::Scene& scene, const std::vector<Blind>& blind,
                            const Rules& rules, base::LengthUnit words) {
  const Way way{scene};
  std::optional<Stop> first = stop_by_water(scene, blind, rules, words);
  const double head_m = scene.scenario.camera.head_mm / 1000;
  for (int number = 1; number <= static_cast<int>(scene.scenario.faults.size()); ++number) {
    const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
    const std::optional<Narrow> narrow = std::visit(NarrowOf(scene, number), fault.kind);
    if (!narrow || narrow->opening_m >= head_m) continue;
    const double near = std::clamp(way.along(narrow->near_m), 0.0, scene.length_m());
    if (first && way.along(first->lens_z_m) <= near - touch_m) continue;
    first = Stop{narrow->at_m, way.z(std::max(0.0, near - touch_m)), number,
                 "the " + scene::kind_word(fault) + " leaves " + show(whole(1000 * narrow->opening_m)) +
                     " mm, less than the camera's head of " + show(scene.scenario.camera.head_mm) + " mm"};
  }
  return first;
}

Finding abandoned(const Stop& stop) {
  Finding finding;
  finding.line = line("BDC", stop.fault > 0 ? "A" : "B", "E");
  finding.line.reason = stop.why + ": the inspection ends here -> BDC " + finding.line.ch1 +
                        "; whether the rest is inspected from the other end is not known here -> E";
  finding.from_m = finding.to_m = stop.at_z_m;
  return finding;
}

void end_at(const Stop& stop, const scene::Scene& scene, std::vector<Finding>& findings, const Rules& rules) {
  const Way way{scene};
  const double end = way.along(stop.at_z_m);
  for (Finding& finding : findings) {
    const bool it = stop.fault > 0 && finding.fault == stop.fault;
    const double a = way.along(finding.from_m), b = way.along(finding.to_m);
    const double near = std::min(a, b), far = std::max(a, b);
    if (near > end + beside_m && !it) {
      // What can be seen from where the head goes under has been asked already.
      if (finding.hidden.empty() && (stop.fault > 0 || finding.fault == 0))
        finding.hidden = "beyond the place where the inspection had to end";
    } else if (finding.continuous && far > end) {
      finding.continuous = length_written(near, std::max(near, end)) > rules.point_up_to_m + 1e-9;
      finding.from_m = way.z(near);
      finding.to_m = finding.continuous ? way.z(end) : finding.from_m;
      if (finding.from_m > finding.to_m) std::swap(finding.from_m, finding.to_m);
      finding.line.reason += "; it goes on beyond the place where the inspection had to end";
    }
  }
}

}  // namespace haunch::truth
