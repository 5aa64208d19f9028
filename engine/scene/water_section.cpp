// SPDX-License-Identifier: Apache-2.0
// A part-full circle, and Manning's equation on it with n constant with depth.
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "scene/water.hpp"

namespace haunch::scene {
namespace {

constexpr double pi = std::numbers::pi;

/// Angle of the wet arc seen from the centre.
double wet_angle(double depth_share) {
  return 2.0 * std::acos(1.0 - 2.0 * std::clamp(depth_share, 0.0, 1.0));
}

/// Share of the full-bore flow carried at a depth.
double flow_share(double depth_share) {
  return area_share(depth_share) * std::pow(hydraulic_radius_share(depth_share), 2.0 / 3.0);
}

/// Depth where a circle carries most, by the flow curve's one maximum (golden section).
double depth_of_most_flow() {
  static const double depth = [] {
    const double golden = (std::sqrt(5.0) - 1.0) / 2.0;
    double low = 0.8, high = 1.0;
    for (int i = 0; i < 80; ++i) {
      const double left = high - golden * (high - low);
      const double right = low + golden * (high - low);
      if (flow_share(left) < flow_share(right)) {
        low = left;
      } else {
        high = right;
      }
    }
    return (low + high) / 2.0;
  }();
  return depth;
}

/// Where a function that grows over [low, high] reaches a value.
template <class F>
double where_reaches(F grows, double value, double low, double high) {
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2.0;
    (grows(middle) < value ? low : high) = middle;
  }
  return (low + high) / 2.0;
}

}  // namespace

double area_share(double depth_share) {
  const double t = wet_angle(depth_share);
  return (t - std::sin(t)) / (2.0 * pi);
}

double depth_from_area_share(double share) {
  if (share <= 0) return 0;
  if (share >= 1) return 1;
  return where_reaches(area_share, share, 0, 1);
}

double width_share(double depth_share) { return std::sin(wet_angle(depth_share) / 2.0); }

double hydraulic_radius_share(double depth_share) {
  const double t = wet_angle(depth_share);
  return t <= 0 ? 0.0 : 1.0 - std::sin(t) / t;
}

double full_flow_m3_s(double bore_m, double slope, double n) {
  const double area = pi * bore_m * bore_m / 4.0;
  return area * std::pow(bore_m / 4.0, 2.0 / 3.0) * std::sqrt(slope) / n;
}

double flow_m3_s(double bore_m, double depth_share, double slope, double n) {
  return full_flow_m3_s(bore_m, slope, n) * flow_share(depth_share);
}

double velocity_m_s(double bore_m, double depth_share, double slope, double n) {
  return std::pow(bore_m / 4.0 * hydraulic_radius_share(depth_share), 2.0 / 3.0) * std::sqrt(slope) / n;
}

double depth_share_for_flow(double bore_m, double flow, double slope, double n) {
  assert(bore_m > 0 && slope > 0 && n > 0);
  if (flow <= 0) return 0;
  const double share = flow / full_flow_m3_s(bore_m, slope, n);
  const double most = depth_of_most_flow();
  if (share >= flow_share(most)) return 1;
  return where_reaches(flow_share, share, 0, most);
}

double depth_for_flow_m(const Bore& bore, double flow, double slope, double n) {
  assert(slope > 0 && n > 0);
  if (flow <= 0) return 0;
  const double full = 2 * bore.half_height_m;
  const auto carried = [&](double depth) {
    const double area = area_m2(bore, depth), wetted = wetted_m(bore, depth);
    return wetted > 0 ? area * std::pow(area / wetted, 2.0 / 3.0) * std::sqrt(slope) / n : 0.0;
  };
  // Nearly full it carries most, as a circle does; what is more runs full. Under a flat lid that is just before
  // the water wets it.
  const double most = bore.form == BoreForm::box ? (1 - 1e-9) * full : depth_of_most_flow() * full;
  if (flow >= carried(most)) return full;
  return where_reaches(carried, flow, 0, most);
}

double level_at(const Water& water, double z_m) {
  // The last reach that begins at or before z; at a shared end the downstream one.
  const auto after = std::upper_bound(water.reaches.begin(), water.reaches.end(), z_m,
                                      [](double z, const WaterReach& reach) { return z < reach.from_m; });
  if (after == water.reaches.begin()) return dry_level_m;
  const WaterReach& reach = *(after - 1);
  if (z_m > reach.to_m) return dry_level_m;
  const double length = reach.to_m - reach.from_m;
  const double share = length > 0 ? (z_m - reach.from_m) / length : 0.0;
  return reach.from_level_m + share * (reach.to_level_m - reach.from_level_m);
}

}  // namespace haunch::scene
