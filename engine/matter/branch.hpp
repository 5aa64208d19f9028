// SPDX-License-Identifier: Apache-2.0
// Where another pipe comes in: the pipe, the hole it comes in by, and what is wrong with its rim.
#pragma once

#include <cstdint>
#include <vector>

#include "matter/wall.hpp"
#include "scene/fault.hpp"

namespace haunch::matter {

/// Where a branch meets the run. Its axis stands square on the run's wall; round it turns are counted from
/// downstream over clockwise on the run's wall, radians.
struct BranchShape {
  double z_m = 0, angle = 0;
  double bore_radius_m = 0;  ///< of the branch
  double wall_m = 0;         ///< of the branch
  double reach_in_m = 0;     ///< how far its end stands in the run's bore; 0 flush
  double set_back_m = 0;     ///< how far its end lies outside the run's bore
  double barrel_m = 0;       ///< how much of it can be seen beyond the run's wall
  double rim_m = 0;          ///< saddle: width of the rim on the wall
  bool own_end = false;      ///< the end of a pipe shows; else the run's own wall runs on into it
  bool ragged = false;       ///< the hole was hacked or has broken; else it was drilled
  /// From the branch's axis to the edge of the hole in the run's wall, at even turns; none: its bore.
  std::vector<double> hole_m;
  /// How far it is open between the pipe and the hole, and how deep its rim is broken out, at even turns;
  /// none: nowhere.
  std::vector<double> gap_m, broken_m;
  WallOutline broken_edge;  ///< the hole on the unrolled wall; else no corners
};
inline constexpr int branch_turns = 240;
/// At any turn, straight between the even ones; 0 where there are none.
double at_turn(const std::vector<double>& by_turn, double turn);

BranchShape branch_shape(const scene::Connection& connection, double run_radius_m, std::uint64_t seed);
/// Is the run's wall missing here (as a whole, broken edge and all)?
bool wall_missing(const BranchShape& branch, double run_radius_m, double z_m, double angle);

/// The hour of the branch's own rim at a turn, as scene::Connection counts them.
double rim_hour(const scene::Connection& connection, double turn);
/// The turn at which a branch at that angle of the run lies lowest.
double lowest_turn(const BranchShape& branch);
/// Short cracks that start at a broken rim.
std::vector<scene::Crack> cracks_of(const scene::Connection& connection, double run_radius_m,
                                    std::uint64_t seed);

}  // namespace haunch::matter
