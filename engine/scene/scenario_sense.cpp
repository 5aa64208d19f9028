// SPDX-License-Identifier: Apache-2.0
#include "scene/scenario_sense.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>

#include "base/words.hpp"
#include "scene/layout.hpp"
#include "scene/scene.hpp"
#include "scene/water.hpp"

namespace haunch::scene {
namespace {

using Json = nlohmann::json;

/// A measure as people read it, to a thousandth.
std::string show(double value) { return base::show_number(std::round(value * 1000.0) / 1000.0); }
std::string metres(double value) { return show(value) + " m"; }

constexpr double root_reach_m = 0.1;  // ours: roots grow along a socket before they show

class Sense {
 public:
  Sense(const Scenario& scenario, const base::JsonDocument& document, const base::Problems& already)
      : scenario_(scenario), document_(document) {
    for (const base::Problem& problem : already) wrong_.insert({problem.place.line, problem.place.column});
    run_known_ = std::isfinite(scenario.length_m) && !is_wrong("/pipe/length_m");
  }

  base::Problems all() {
    sections();
    low_spots();
    camera();
    // Joints can only be told from sections that are in order.
    if (sections_known_) joints_ = joint_places(scenario_);
    for (number_ = 1; number_ <= static_cast<int>(scenario_.faults.size()); ++number_) {
      at_ = fault().pointer;
      std::visit([this](const auto& kind) { check(kind); }, fault().kind);
    }
    fullness();
    return std::move(problems_);
  }

 private:
  const Fault& fault() const { return scenario_.faults[static_cast<std::size_t>(number_ - 1)]; }

  /// A value that is wrong by itself: nothing is measured by it, and no more is said of it.
  bool is_wrong(const std::string& pointer) const {
    const base::Place place = document_.place(pointer);
    return document_.root().contains(Json::json_pointer(pointer)) &&
           wrong_.count({place.line, place.column}) > 0;
  }
  bool bore_is_wrong(std::size_t section) const {
    return is_wrong("/pipe/bore_mm") || is_wrong("/pipe/sections/" + std::to_string(section) + "/bore_mm");
  }

  void say(const std::string& pointer, std::string what, std::string expected) {
    if (!is_wrong(pointer))
      problems_.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
  }

  void warn(const std::string& pointer, std::string what, std::string expected) {
    problems_.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
    problems_.back().severity = base::Severity::warning;
  }

  void sections() {
    sections_known_ = run_known_ && !scenario_.sections.empty();
    for (std::size_t i = 0; i < scenario_.sections.size(); ++i) {
      const Section& section = scenario_.sections[i];
      const std::string pointer = "/pipe/sections/" + std::to_string(i);
      if (!std::isfinite(section.to_m) || !std::isfinite(section.unit_length_m) ||
          !std::isfinite(section.bore_mm) || !std::isfinite(section.first_joint_m)) {
        sections_known_ = false;
      }
      for (const char* key : {"/to_m", "/unit_length_m", "/bore_mm", "/first_joint_m"}) {
        if (is_wrong(pointer + key)) sections_known_ = false;
      }
      if (is_wrong("/pipe/bore_mm")) sections_known_ = false;
      if (section.to_m <= section.from_m) {
        sections_known_ = false;
        say(pointer + "/to_m",
            "section " + std::to_string(i + 1) + " ends at " + metres(section.to_m) +
                ", before it starts at " + metres(section.from_m),
            "more than " + metres(section.from_m));
      } else if (section.first_joint_m >= section.to_m - section.from_m) {
        say(pointer + "/first_joint_m", "the first joint lies past the end of the section",
            "less than " + metres(section.to_m - section.from_m));
      }
      if (run_known_ && i + 1 == scenario_.sections.size() &&
          std::abs(section.to_m - scenario_.length_m) > 1e-6) {
        sections_known_ = false;
        say(pointer + "/to_m",
            "the last section ends at " + metres(section.to_m) + " but the pipe is " +
                metres(scenario_.length_m) + " long",
            "the last section to end where the pipe ends");
      }
    }
  }

  void inside(const std::string& pointer, const std::string& thing, double z) {
    const std::string lies = thing == "the roots" ? " lie " : " lies ";
    if (run_known_ && z > scenario_.length_m) {
      say(pointer, thing + " at " + metres(z) + lies + "past the end of the pipe",
          "at most " + metres(scenario_.length_m));
    } else if (z < 0) {
      say(pointer, thing + " at " + metres(z) + lies + "before the pipe begins", "0 m or more");
    }
  }

  /// On a run whose length makes sense.
  bool on_run(double z) const { return run_known_ && z >= 0 && z <= scenario_.length_m; }

  void stretch(const std::string& pointer, const std::string& thing, double from, double to) {
    inside(pointer + "/from_m", "the beginning of the " + thing, from);
    inside(pointer + "/to_m", "the end of the " + thing, to);
    if (to <= from)
      say(pointer + "/to_m",
          "the " + thing + " ends at " + metres(to) + ", before it begins at " + metres(from),
          "more than " + metres(from));
  }

  void low_spots() {
    for (std::size_t i = 0; i < scenario_.low_spots.size(); ++i) {
      const LowSpot& spot = scenario_.low_spots[i];
      stretch("/pipe/low_spots/" + std::to_string(i), "low spot", spot.from_m, spot.to_m);
    }
  }

  void camera() {
    const CameraRig& rig = scenario_.camera;
    double narrowest = INFINITY;
    for (std::size_t i = 0; i < scenario_.sections.size(); ++i) {
      const double bore = scenario_.sections[i].bore_mm;
      if (!bore_is_wrong(i) && bore < narrowest) narrowest = bore;
    }
    if (is_wrong("/camera/head_mm")) return;
    if (rig.head_mm >= narrowest)
      say("/camera/head_mm", "the camera's head, " + show(rig.head_mm) + " mm, does not go into the pipe",
          "less than the narrowest bore, " + show(narrowest) + " mm");
    else if (rig.height_mm > 0 && rig.height_mm + rig.head_mm / 2 > narrowest)
      say("/camera/height_mm", "with its lens at " + show(rig.height_mm) + " mm the head strikes the crown",
          "at most " + show(narrowest - rig.head_mm / 2) + " mm in a bore of " + show(narrowest) + " mm");
    else if (rig.height_mm > 0 && rig.height_mm < rig.head_mm / 2)
      say("/camera/height_mm",
          "with its lens at " + show(rig.height_mm) + " mm the head is sunk in the invert",
          "at least half the head, " + show(rig.head_mm / 2) + " mm");
  }

  const Section* section_of(double z) const {
    if (!sections_known_ || !on_run(z)) return nullptr;
    return &scenario_.sections[static_cast<std::size_t>(section_at(scenario_, z))];
  }

  void joint(double at_m) {
    inside(at_ + "/at_m", "the joint", at_m);
    if (!sections_known_ || !on_run(at_m)) return;
    const auto near = nearest_joint(joints_, at_m);
    if (!near) {
      say(at_ + "/at_m", "there is no joint in this pipe", "a pipe of more than one unit");
      return;
    }
    if (std::abs(near->at_m - at_m) > joint_reach_m) {
      say(at_ + "/at_m", "there is no joint at " + metres(at_m),
          "a joint; the nearest is at " + metres(near->at_m));
      return;
    }
    if (!joint_faults_.insert({near->at_m, fault().kind.index()}).second)
      say(at_, "there is a " + kind_word(fault()) + " at the joint at " + metres(near->at_m) + " already",
          "one of each kind at a joint");
  }

  void check(const JointGap& gap) { joint(gap.at_m); }
  void check(const JointShift& shift) {
    joint(shift.at_m);
    const Section* section = section_of(shift.at_m);
    if (section && shift.offset_mm >= section->bore_mm)
      say(at_ + "/offset_mm", "an offset of " + show(shift.offset_mm) + " mm leaves no opening",
          "less than the bore, " + show(section->bore_mm) + " mm");
  }
  void check(const JointBend& bend) { joint(bend.at_m); }

  void check(const Crack& crack) {
    point_or_stretch("crack", crack.from_m, crack.to_m);
    if (crack.form == CrackForm::along && crack.from_m == crack.to_m)
      say(at_, "a crack along the pipe needs a length", "from_m and to_m");
    if (crack.form == CrackForm::along && base::arc_width_h(crack.arc) > 3)
      say(at_ + "/clock", "a crack along the pipe does not go round it",
          "an hour, or an arc of at most 3 hours");
    if (crack.form == CrackForm::around && !crack.arc.whole && base::arc_width_h(crack.arc) == 0)
      say(at_ + "/clock", "a crack around the pipe needs an arc",
          "[from, to], or [12, 12] for the whole way round");
  }

  void check(const Hole& hole) {
    const double half = hole.length_mm / 2000.0;
    inside(at_ + "/at_m", "the hole", hole.at_m);
    if (!on_run(hole.at_m)) return;
    if (hole.at_m - half < 0 || hole.at_m + half > scenario_.length_m)
      say(at_ + "/length_mm", "the hole reaches past the end of the pipe",
          "at most " + show(2000.0 * std::min(hole.at_m, scenario_.length_m - hole.at_m)) + " mm here");
    const Section* section = section_of(hole.at_m);
    if (section && hole.width_mm > std::numbers::pi * section->bore_mm / 2.0)
      say(at_ + "/width_mm", "a hole " + show(hole.width_mm) + " mm wide leaves less than half the wall",
          "at most " + show(std::floor(std::numbers::pi * section->bore_mm / 2.0)) + " mm in this bore");
    clear_of_joints("hole", hole.at_m, half);
  }

  void check(const Roots& roots) {
    point_or_stretch("roots", roots.from_m, roots.to_m, true);
    if (!sections_known_ || !on_run(roots.from_m)) return;
    // Roots come in where the wall is not whole: Ostberg et al. 2010, Svenskt Vatten Utveckling 2010-04
    // (joints, connections); S. E. Dibble, Elements of Plumbing (cracks, cement joints).
    const auto near = nearest_joint(joints_, roots.from_m);
    if (near && std::abs(near->at_m - roots.from_m) <= root_reach_m) return;
    for (const Fault& other : scenario_.faults) {
      const bool opens = std::holds_alternative<Crack>(other.kind) ||
                         std::holds_alternative<Hole>(other.kind) ||
                         std::holds_alternative<Connection>(other.kind);
      const Stretch reach = stretch_of(other);
      if (opens && roots.from_m >= reach.from_m - root_reach_m && roots.from_m <= reach.to_m + root_reach_m)
        return;
    }
    warn(at_, "there is nothing here for the roots to come in by",
         near ? "a joint, a crack, a hole or a connection; the nearest joint is at " + metres(near->at_m)
              : "a crack, a hole or a connection");
  }
  void check(const Settled& settled) { stretch(at_, "deposit", settled.from_m, settled.to_m); }
  void check(const Attached& attached) {
    stretch(at_, kind_word(fault()), attached.from_m, attached.to_m);
    if (!attached.arc.whole && base::arc_width_h(attached.arc) == 0)
      say(at_ + "/clock", "what sticks to the wall covers an arc",
          "[from, to], or nothing for the whole way round");
  }

  void check(const Connection& connection) {
    inside(at_ + "/at_m", "the connection", connection.at_m);
    if (!on_run(connection.at_m)) return;
    const Section* section = section_of(connection.at_m);
    if (section && connection.bore_mm > section->bore_mm)
      say(at_ + "/bore_mm",
          "a connection of " + show(connection.bore_mm) + " mm is wider than the pipe it joins",
          "at most " + show(section->bore_mm) + " mm");
    const double half = connection.bore_mm / 2000.0;
    if (connection.at_m - half < 0 || connection.at_m + half > scenario_.length_m)
      say(at_ + "/at_m", "the connection's mouth reaches past the end of the pipe",
          "from " + metres(half) + " to " + metres(scenario_.length_m - half));
    clear_of_joints("connection", connection.at_m, half);
  }

  void clear_of_joints(const std::string& thing, double at_m, double half_m) {
    if (!sections_known_) return;
    const auto near = nearest_joint(joints_, at_m);
    if (near && std::abs(near->at_m - at_m) < half_m)
      warn(at_ + "/at_m", "the " + thing + " crosses the joint at " + metres(near->at_m),
           "its middle at least " + metres(half_m) + " from a joint");
  }

  void point_or_stretch(const std::string& thing, double from, double to, bool either_way = false) {
    if (from == to) return inside(at_ + "/at_m", "the " + thing, from);
    if (!either_way) return stretch(at_, thing, from, to);
    inside(at_ + "/from_m", "the beginning of the " + thing, from);
    inside(at_ + "/to_m", "the end of the " + thing, to);
  }

  /// Share of the bore's area that a fault takes up in its fullest place, %.
  static double area_percent(const Fault& fault) {
    if (const auto* roots = std::get_if<Roots>(&fault.kind)) return roots->blocks_percent;
    if (const auto* attached = std::get_if<Attached>(&fault.kind)) return attached->covers_percent;
    if (const auto* settled = std::get_if<Settled>(&fault.kind))
      return 100.0 * area_share(settled->depth_percent / 100.0);
    return 0;
  }
  /// What lies in the pipe at one place must fit into it.
  void fullness() {
    std::set<std::size_t> told;
    for (const Fault& here : scenario_.faults) {
      const Stretch stretch_here = stretch_of(here);
      const double z = (stretch_here.from_m + stretch_here.to_m) / 2.0;
      double sum = 0;
      std::size_t last = 0;
      std::vector<std::string> parts;
      for (std::size_t i = 0; i < scenario_.faults.size(); ++i) {
        const Fault& other = scenario_.faults[i];
        const Stretch reach = stretch_of(other);
        const double percent = area_percent(other);
        if (!(percent > 0 && percent <= 100 && reach.from_m <= z && z <= reach.to_m)) continue;
        sum += percent;
        last = i;
        parts.push_back(kind_word(other) + " " + show(std::round(percent)) + " %");
      }
      if (sum <= 100 || parts.size() < 2 || !told.insert(last).second) continue;
      say(scenario_.faults[last].pointer,
          "at " + metres(z) + " more lies in the pipe than fits: " + base::join(parts, ", "),
          "100 % together at most");
    }
  }

  const Scenario& scenario_;
  const base::JsonDocument& document_;
  std::set<std::pair<int, int>> wrong_;  ///< places where the schema has found something wrong
  bool run_known_ = false;
  bool sections_known_ = false;
  std::vector<JointPlace> joints_;
  std::set<std::pair<double, std::size_t>> joint_faults_;
  int number_ = 0;
  std::string at_;
  base::Problems problems_;
};

}  // namespace

base::Problems remarks_on_water(const Scenario& scenario, const base::JsonDocument& document) {
  const Scene scene = build_scene(scenario);
  double full_m = 0;
  for (const Piece& piece : scene.pieces) {
    const double z = (piece.from_m + piece.to_m) / 2.0;
    if (level_at(scene.water, z) >= centre_at(piece, z).y + piece.radius_m)
      full_m += piece.to_m - piece.from_m;
  }
  if (full_m <= scenario.length_m / 4.0) return {};
  base::Problem remark = document.problem(
      "/pipe",
      "water fills the bore to the crown over " + metres(full_m) + " of the " + metres(scenario.length_m),
      "a run that drains; a bend or a shift towards 12 that rises more than the fall holds all water back");
  remark.severity = base::Severity::warning;
  return {remark};
}

base::Problems problems_of_sense(const Scenario& scenario, const base::JsonDocument& document,
                                 const base::Problems& already) {
  return Sense(scenario, document, already).all();
}

}  // namespace haunch::scene
