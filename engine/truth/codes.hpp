// SPDX-License-Identifier: Apache-2.0
// From a fault's measures to its codes, each with the reason. Clocks here look downstream. Each family of
// faults has a file of its own. Inside this room.
#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"
#include "truth/finding.hpp"

namespace haunch::truth {

double whole(double value);
/// Whole hours of an arc: nearest, so that turning round mirrors them; one hour where they meet.
void set_arc(coding::Observation& line, const base::ClockArc& arc);
/// Whole hours that an opening lies between.
void set_span(coding::Observation& line, double centre_h, double half_h);
coding::Observation line(const char* code, const char* ch1, const char* ch2 = "");

/// A characterisation, and what it says of a fault.
struct Letter {
  const char* letter;
  const char* says;
};
/// Of folds in a lining and cracks in a repair: which way they go.
Letter of_way(scene::FoldWay way);

/// The codes of one fault.
class Codes {
 public:
  Codes(const scene::Scene& scene, int number, const Rules& rules, base::LengthUnit words);
  std::vector<Finding> all();

 private:
  // Joints.
  void code(const scene::JointGap& gap);
  void code(const scene::JointShift& shift);
  void code(const scene::JointBend& bend);
  void code(const scene::SealingRing& ring);
  // The wall.
  void code(const scene::Crack& crack);
  void code(const scene::Hole& hole);
  void code(const scene::SurfaceDamage& damage);
  void code(const scene::MissingMortar& mortar);
  void code(const scene::FailedWeld& weld);
  void code(const scene::PorousWall& porous);
  void code(const scene::SweatingWall& wall);
  void code(const scene::BrokenWall& broken);
  void code(const scene::BrickDamage& damage);
  // What is in the bore.
  void code(const scene::Roots& roots);
  void code(const scene::Settled& settled);
  void code(const scene::Attached& attached);
  void code(const scene::Obstacle& obstacle);
  void code(const scene::SoilIngress& soil);
  void code(const scene::Infiltration& water);
  void code(const scene::Vermin& vermin);
  void code(const scene::Exfiltration& water);
  // What was built in.
  void code(const scene::Connection& connection);
  void defects(const scene::Connection& connection, int clock_h);
  void incoming(const scene::Connection& connection, int clock_h);
  // The bore's shape.
  void code(const scene::Squashed& squashed);
  void code(const scene::Bend& bend);
  // What takes the sight.
  void code(const scene::Haze& haze);
  void code(const scene::OnLens& film);
  // Linings.
  void code(const scene::ShortLining& lining);
  void code(const scene::LiningDefect& defect);
  void code(const scene::Repair& repair);

  const scene::Fault& fault() const { return scene_.scenario.faults[static_cast<std::size_t>(number_ - 1)]; }
  bool near_joint(double z) const;
  Finding& add(coding::Observation made, std::string reason);
  /// A point in its middle, or a stretch with a begin and an end.
  void add_long(coding::Observation made, std::string reason);
  /// A displaced joint stands where the joint is built.
  void add_joint(coding::Observation made, std::string reason);

  const scene::Scene& scene_;
  const Rules& rules_;
  int number_;
  base::LengthUnit words_;
  scene::Stretch reach_;
  std::vector<Finding> findings_;
};

}  // namespace haunch::truth
