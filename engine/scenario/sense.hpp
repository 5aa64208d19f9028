// SPDX-License-Identifier: Apache-2.0
// Could this run lie in the ground? Checks no schema can make. Inside this room.
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/json_document.hpp"
#include "base/result.hpp"
#include "scene/layout.hpp"
#include "scene/scenario.hpp"

namespace haunch::scenario {

/// Every problem, at its place in the file. Values that are NaN, and those that `already` (what the
/// schema found) stands at, were wrong by themselves: nothing is measured by them.
base::Problems problems_of_sense(const scene::Scenario& scenario, const base::JsonDocument& document,
                                 const base::Problems& already);

/// A warning when a sound run stands full of water: seldom what its author meant.
base::Problems remarks_on_water(const scene::Scenario& scenario, const base::JsonDocument& document);

/// A warning for stirred silt that no lens goes into: it would hide nothing.
base::Problems remarks_on_silt(const scene::Scenario& scenario, const base::JsonDocument& document);

/// Walks a run past every check. What is asked of each kind of fault stands beside how a file says it.
class Sense {
 public:
  Sense(const scene::Scenario& scenario, const base::JsonDocument& document, const base::Problems& already);
  base::Problems all();

 private:
  void check(const scene::JointGap& gap);
  void check(const scene::JointShift& shift);
  void check(const scene::JointBend& bend);
  void check(const scene::Crack& crack);
  void check(const scene::Hole& hole);
  void check(const scene::SurfaceDamage& damage);
  void check(const scene::MissingMortar& mortar);
  void check(const scene::FailedWeld& weld);
  void check(const scene::PorousWall& porous);
  void check(const scene::SweatingWall& wall);
  void check(const scene::Roots& roots);
  void check(const scene::Settled& settled);
  void check(const scene::Attached& attached);
  void check(const scene::Connection& connection);
  void defects(const scene::Connection& connection);
  void check(const scene::Obstacle& obstacle);
  void check(const scene::SoilIngress& soil);
  void check(const scene::Infiltration& water);
  void check(const scene::Vermin& vermin);
  void check(const scene::BrokenWall& broken);
  void check(const scene::SealingRing& ring);
  void check(const scene::Squashed& squashed);
  void check(const scene::Bend& bend);
  void check(const scene::BrickDamage& damage);
  void check(const scene::Haze& haze);
  void check(const scene::OnLens& film);
  void check(const scene::ShortLining& lining);
  void check(const scene::LiningDefect& defect);
  void check(const scene::Repair& repair);
  void check(const scene::Exfiltration& water);

  const scene::Fault& fault() const { return scenario_.faults[static_cast<std::size_t>(number_ - 1)]; }
  /// A value that is wrong by itself: nothing is measured by it, and no more is said of it.
  bool is_wrong(const std::string& pointer) const;
  bool bore_is_wrong(std::size_t section) const;
  void say(const std::string& pointer, std::string what, std::string expected);
  void warn(const std::string& pointer, std::string what, std::string expected);
  /// A measure as people read it, to a thousandth.
  static std::string show(double value);
  static std::string metres(double value);

  void sections();
  void shape_of(const scene::Section& section, const std::string& pointer);
  /// What stands in a pipe that is not circular, if it can be drawn there.
  void fits_the_shape();
  void look(const std::string& pointer, const scene::Section& section);
  void low_spots();
  void water();
  void camera();
  void notes();
  /// What lies in the pipe at one place must fit into it.
  void fullness();

  void inside(const std::string& pointer, const std::string& thing, double z);
  /// On a run whose length makes sense.
  bool on_run(double z) const;
  void stretch(const std::string& pointer, const std::string& thing, double from, double to);
  void point_or_stretch(const std::string& thing, double from, double to, bool either_way = false);
  void wet_wall(const std::string& thing, double from, double to, const base::ClockArc& arc);
  void joint(double at_m);
  /// Is there a joint, a crack, a hole or a connection for something to come in by? A warning where not.
  void opening_for(const std::string& thing, double at_m, const std::string& way = "come in by");
  void replaced(const scene::Repair& repair);
  void at_connection(const scene::Repair& repair);
  void camera_passes(const scene::Squashed& squashed, double bore_mm);
  void clear_of_joints(const std::string& thing, double at_m, double half_m);
  const scene::Section* section_of(double z) const;
  /// Share of the bore's area that a fault takes up in its fullest place, %.
  static double area_percent(const scene::Fault& fault);

  const scene::Scenario& scenario_;
  const base::JsonDocument& document_;
  std::set<std::pair<int, int>> wrong_;  ///< places where the schema has found something wrong
  bool run_known_ = false;
  bool sections_known_ = false;
  std::vector<scene::JointPlace> joints_;
  std::set<std::pair<double, std::size_t>> joint_faults_;
  int number_ = 0;
  std::string at_;
  base::Problems problems_;
};

}  // namespace haunch::scenario
