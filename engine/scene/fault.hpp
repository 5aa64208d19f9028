// SPDX-License-Identifier: Apache-2.0
// What is wrong with a pipe, as physical things: where, how wide, how much. No codes here.
// Distances in m from the upstream end; clocks looking downstream.
#pragma once

#include <string>
#include <variant>

#include "scene/faults_bore.hpp"
#include "scene/faults_brick.hpp"
#include "scene/faults_fitting.hpp"
#include "scene/faults_joint.hpp"
#include "scene/faults_lining.hpp"
#include "scene/faults_matter.hpp"
#include "scene/faults_repair.hpp"
#include "scene/faults_sight.hpp"
#include "scene/faults_wall.hpp"

namespace haunch::scene {

using FaultKind =
    std::variant<JointGap, JointShift, JointBend, Crack, Hole, SurfaceDamage, MissingMortar, PorousWall,
                 SweatingWall, Roots, Settled, Attached, Connection, Obstacle, SoilIngress, Infiltration,
                 Vermin, BrokenWall, SealingRing, Squashed, Bend, BrickDamage, Haze, OnLens, ShortLining,
                 LiningDefect, Repair, Exfiltration, FailedWeld>;

struct Fault {
  FaultKind kind;
  std::string pointer;  ///< JSON pointer of its place in the scenario file
  int chance = 0;       ///< the number its looks are drawn by; 0: its own
};

/// The stretch along the pipe a fault takes up (from <= to); a point has from == to.
struct Stretch {
  double from_m = 0, to_m = 0;
};
Stretch stretch_of(const Fault& fault);
/// "roots", "crack" .. : the word scenario files use.
std::string kind_word(const Fault& fault);

}  // namespace haunch::scene
