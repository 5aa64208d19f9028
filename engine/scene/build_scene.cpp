// SPDX-License-Identifier: Apache-2.0
// Lays a scenario out in space. What a joint does to the line (a shift, a bend) goes on downstream.
#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numbers>

#include "scene/bends.hpp"
#include "scene/bore_of_run.hpp"
#include "scene/layout.hpp"
#include "scene/materials.hpp"
#include "scene/scene.hpp"
#include "scene/water_of_run.hpp"

namespace haunch::scene {
namespace {

constexpr double low_spot_piece_m = 0.25;  // straight pieces this short follow a sag closely

/// How far the even grade is lowered at z: a smooth bowl, flat at both ends and in the middle.
double dip_m(const Scenario& scenario, double z) {
  double dip = 0;
  for (const LowSpot& spot : scenario.low_spots) {
    const double length = spot.to_m - spot.from_m;
    if (length <= 0 || z <= spot.from_m || z >= spot.to_m) continue;
    const double turn = 2.0 * std::numbers::pi * (z - spot.from_m) / length;
    dip += spot.depth_mm / 1000.0 * (1.0 - std::cos(turn)) / 2.0;
  }
  return dip;
}

/// Ends of the straight pieces of a unit.
std::vector<double> cuts_of_unit(const Scenario& scenario, double from, double to) {
  std::vector<double> ends{from, to};
  for (const LowSpot& spot : scenario.low_spots) {
    for (const double z : {spot.from_m, spot.to_m}) {
      if (z > from + 1e-6 && z < to - 1e-6) ends.push_back(z);
    }
  }
  for (const double z : bore_cuts(scenario, from, to)) ends.push_back(z);
  for (const Fault& fault : scenario.faults)
    if (const auto* connection = std::get_if<Connection>(&fault.kind);
        connection && connection->flow_l_s > 0 && connection->at_m > from + 1e-6 &&
        connection->at_m < to - 1e-6)
      ends.push_back(connection->at_m);
  for (const double z : bend_cuts(scenario, from, to)) ends.push_back(z);
  for (const Fault& fault : scenario.faults) {
    std::vector<double> more;
    if (const auto* lining = std::get_if<ShortLining>(&fault.kind)) more = {lining->from_m, lining->to_m};
    if (const auto* loss = std::get_if<Exfiltration>(&fault.kind))
      more = {loss->at_m - dips_before_m, loss->at_m};
    for (const double z : more)
      if (z > from + 1e-6 && z < to - 1e-6) ends.push_back(z);
  }
  std::sort(ends.begin(), ends.end());
  std::vector<double> cuts{from};
  for (std::size_t i = 1; i < ends.size(); ++i) {
    const double a = ends[i - 1], b = ends[i];
    if (b - a < 1e-6) continue;
    const bool dips =
        std::any_of(scenario.low_spots.begin(), scenario.low_spots.end(), [&](const LowSpot& spot) {
          return spot.depth_mm != 0 && spot.from_m < b - 1e-6 && spot.to_m > a + 1e-6;
        });
    const int parts = dips ? static_cast<int>(std::ceil((b - a) / low_spot_piece_m - 1e-9)) : 1;
    for (int k = 1; k < parts; ++k) cuts.push_back(a + (b - a) * k / parts);
    cuts.push_back(b);
  }
  return cuts;
}

/// The line's sideways position: moved by shifts, turned by bends at joints.
struct Line {
  Vec2 offset, slope;
  double since_m = 0;
  Vec2 at(double z) const { return offset + (z - since_m) * slope; }
};

/// What the faults at a joint do to it and to the line after it.
struct AtJoint {
  Joint& joint;
  Line& line;

  void operator()(const JointGap& gap) {
    joint.gap_m = gap.gap_mm / 1000.0;
    joint.open = true;
  }
  void operator()(const JointShift& shift) {
    line.offset = line.offset + shift.offset_mm / 1000.0 * toward_clock(shift.toward_clock_h);
  }
  void operator()(const JointBend& bend) {
    line.offset = line.at(joint.at_m);
    line.since_m = joint.at_m;
    line.slope =
        line.slope + std::tan(bend.angle_deg * std::numbers::pi / 180.0) * toward_clock(bend.toward_clock_h);
    joint.bend_deg = bend.angle_deg;
    joint.bend_clock_h = bend.toward_clock_h;
  }
  template <class Other>
  void operator()(const Other&) {}
};

bool is_joint_fault(const Fault& fault) {
  return std::holds_alternative<JointGap>(fault.kind) || std::holds_alternative<JointShift>(fault.kind) ||
         std::holds_alternative<JointBend>(fault.kind);
}

/// Numbers of the faults at each joint that has any: an author may be a little off.
std::map<double, std::vector<int>> faults_at_joints(const Scenario& scenario,
                                                    const std::vector<JointPlace>& places) {
  std::map<double, std::vector<int>> found;
  for (std::size_t i = 0; i < scenario.faults.size(); ++i) {
    if (!is_joint_fault(scenario.faults[i])) continue;
    if (const auto nearest = nearest_joint(places, stretch_of(scenario.faults[i]).from_m))
      found[nearest->at_m].push_back(static_cast<int>(i) + 1);
  }
  return found;
}

class Builder {
 public:
  explicit Builder(Scenario scenario) { scene_.scenario = std::move(scenario); }

  Scene build() {
    const std::vector<JointPlace> places = joint_places(scenario());
    faults_at_ = faults_at_joints(scenario(), places);
    double from = 0;
    int section = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      add_unit(from, places[i].at_m, places[i].section_before, static_cast<int>(i));
      add_joint(places[i]);
      from = places[i].at_m;
      section = places[i].section_after;
    }
    add_unit(from, scenario().length_m, section, static_cast<int>(places.size()));
    for (Joint& joint : scene_.joints) {
      const Piece& before = scene_.pieces[static_cast<std::size_t>(joint.before)];
      const Piece& after = scene_.pieces[static_cast<std::size_t>(joint.after)];
      joint.step = after.from_centre - before.to_centre;
    }
    scene_.water = water_of_run(scene_);
    return std::move(scene_);
  }

 private:
  const Scenario& scenario() const { return scene_.scenario; }

  /// A pressed pipe stays on its bedding: its invert keeps to the grade (ours).
  Vec2 centre(double z, const Bore& bore) const {
    const double grade = scenario().gradient_percent / 100.0 * (scenario().length_m - z);
    return line_.at(z) + bent_aside(scenario(), z) +
           Vec2{0, grade - dip_m(scenario(), z) + bore.half_height_m};
  }

  void add_unit(double from, double to, int section, int unit) {
    const Section& built = scenario().sections[static_cast<std::size_t>(section)];
    const double radius = built.bore_mm / 2000.0;
    const std::vector<double> cuts = cuts_of_unit(scenario(), from, to);
    for (std::size_t i = 1; i < cuts.size(); ++i) {
      const double a = cuts[i - 1], b = cuts[i];
      const Bore from_bore = bore_of_run(scenario(), built, a), to_bore = bore_of_run(scenario(), built, b);
      scene_.pieces.push_back({a, b, centre(a, from_bore), centre(b, to_bore), radius, section, unit,
                               from_bore, to_bore,
                               bore_changes(scenario(), a, b) || bends_between(scenario(), a, b),
                               lined_m(scenario(), (a + b) / 2)});
    }
  }

  void add_joint(const JointPlace& place) {
    const Section& before = scenario().sections[static_cast<std::size_t>(place.section_before)];
    const Section& after = scenario().sections[static_cast<std::size_t>(place.section_after)];
    Joint joint;
    joint.at_m = place.at_m;
    joint.gap_m = std::max(usual_joint_gap_m(before.material, before.look),
                           usual_joint_gap_m(after.material, after.look));
    joint.material_change = before.material != after.material;
    joint.before = static_cast<int>(scene_.pieces.size()) - 1;
    joint.after = joint.before + 1;
    const auto here = faults_at_.find(place.at_m);
    if (here != faults_at_.end()) joint.faults = here->second;
    for (const int number : joint.faults) {
      AtJoint act{joint, line_};
      std::visit(act, scenario().faults[static_cast<std::size_t>(number - 1)].kind);
    }
    scene_.joints.push_back(joint);
  }

  Scene scene_;
  Line line_;
  std::map<double, std::vector<int>> faults_at_;
};

}  // namespace

Scene build_scene(Scenario scenario) {
  assert(!scenario.sections.empty() && scenario.length_m > 0);
  return Builder(std::move(scenario)).build();
}

}  // namespace haunch::scene
