// SPDX-License-Identifier: Apache-2.0
// Water in the run: ponds filled to their spill lip, and flow by Manning's equation; the deeper wins.
#pragma once

#include <vector>

#include "scene/bore.hpp"

namespace haunch::scene {

/// Water over [from_m, to_m]; its surface runs straight between the two levels (elevations, m).
struct WaterReach {
  double from_m = 0, to_m = 0;
  double from_level_m = 0, to_level_m = 0;
  bool standing = false;  ///< a pond: level
};

struct Water {
  std::vector<WaterReach> reaches;  ///< in order, none overlapping; dry where there is none
};

/// Elevation of the surface at z, or a value far below the pipe where it is dry.
double level_at(const Water& water, double z_m);
inline constexpr double dry_level_m = -1e9;

// Part-full circle. depth, width and area as shares of the full bore; source of each formula:
// geometry of a circular segment.
double area_share(double depth_share);
double depth_from_area_share(double area_share);
double width_share(double depth_share);
double hydraulic_radius_share(double depth_share);

/// Manning, n constant with depth, SI.
double full_flow_m3_s(double bore_m, double slope, double n);
double flow_m3_s(double bore_m, double depth_share, double slope, double n);
double velocity_m_s(double bore_m, double depth_share, double slope, double n);
/// Depth share for a flow: the lower of two where there are two; 1 when the pipe runs full; needs slope > 0.
double depth_share_for_flow(double bore_m, double flow_m3_s, double slope, double n);

/// The same of any bore: its depth, m; the whole height when it runs full.
double depth_for_flow_m(const Bore& bore, double flow_m3_s, double slope, double n);

/// A corner of the invert; two at one chainage make a step.
struct InvertPoint {
  double z_m = 0, y_m = 0;
};
/// Standing water on an invert running downstream, filled from the downstream end so that ponds
/// merge; the last point is a free outlet.
std::vector<WaterReach> ponds(const std::vector<InvertPoint>& invert);

}  // namespace haunch::scene
