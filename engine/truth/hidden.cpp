// SPDX-License-Identifier: Apache-2.0
// What no careful drive could show: under cloudy water, passed with the camera under, or within a
// root mass. Judged on geometry alone.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/clock.hpp"
#include "scene/camera.hpp"
#include "truth/finding.hpp"

namespace haunch::truth {
namespace {

/// The arc of wall a fault takes up, or nothing where it goes the whole way round.
struct ArcOf {
  double bore_mm;
  double half_h(double width_mm) const { return width_mm / (std::numbers::pi * bore_mm) * 6.0; }

  std::optional<base::ClockArc> operator()(const scene::Crack& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::Roots& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::Attached& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::Hole& f) const {
    return around(f.clock_h, f.width_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::Connection& f) const {
    return around(f.clock_h, f.bore_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::Settled& f) const {
    const double half =
        std::acos(1.0 - 2.0 * std::clamp(f.depth_percent / 100.0, 0.0, 1.0)) * 6.0 / std::numbers::pi;
    return base::ClockArc{base::wrap_hours(6 - half), base::wrap_hours(6 + half), false};
  }
  template <class Joint>
  std::optional<base::ClockArc> operator()(const Joint&) const {
    return std::nullopt;
  }

 private:
  static std::optional<base::ClockArc> known(const base::ClockArc& arc) {
    if (arc.whole) return std::nullopt;
    return arc;
  }
  std::optional<base::ClockArc> around(double clock_h, double width_mm) const {
    const double half = half_h(width_mm);
    if (half >= 6) return std::nullopt;
    return base::ClockArc{base::wrap_hours(clock_h - half), base::wrap_hours(clock_h + half), false};
  }
};

/// Height of the highest point of an arc above the invert, as a share of the bore.
double top_of(const std::optional<base::ClockArc>& arc) {
  if (!arc || base::arc_contains(*arc, 12)) return 1;
  const auto height = [](double hour) { return (1.0 + std::cos(hour * std::numbers::pi / 6.0)) / 2.0; };
  return std::max(height(arc->from_h), height(arc->to_h));
}

std::vector<double> places_along(double from, double to) {
  constexpr double step_m = 0.05;
  const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / step_m)));
  std::vector<double> places;
  for (int i = 0; i <= steps; ++i) places.push_back(from + (to - from) * i / steps);
  return places;
}

bool reaches_in(const scene::Fault& fault) {
  const auto* connection = std::get_if<scene::Connection>(&fault.kind);
  return std::holds_alternative<scene::Roots>(fault.kind) || (connection && connection->intrudes_percent > 0);
}

bool under_cloudy_water(const scene::Scene& scene, const scene::Fault& fault, const scene::Stretch& reach) {
  // Roots and pipes that reach in stand higher than the wall they come from.
  if (scene.scenario.water != scene::WaterLook::cloudy || reaches_in(fault)) return false;
  const double bore_mm = 2000.0 * scene::radius_at(scene, reach.from_m);
  const double top = top_of(std::visit(ArcOf{bore_mm}, fault.kind));
  const std::vector<double> places = places_along(reach.from_m, reach.to_m);
  return std::all_of(places.begin(), places.end(), [&](double z) {
    const double level = scene::level_at(scene.water, z);
    return level >= scene::invert_at(scene, z) + 2.0 * scene::radius_at(scene, z) * top - 1e-9;
  });
}

/// From where the picture first shows the wall to where the lens has passed it, the head is under.
bool passed_blind(const scene::Scene& scene, const scene::Stretch& reach,
                  const std::vector<scene::Stretch>& blind) {
  const double ahead = scene::reference_ring_ahead_m(scene::radius_at(scene, reach.from_m));
  const bool downstream = scene::travel(scene.scenario) > 0;
  const double from = downstream ? reach.from_m - ahead : reach.from_m;
  const double to = downstream ? reach.to_m : reach.to_m + ahead;
  return std::any_of(blind.begin(), blind.end(),
                     [&](const scene::Stretch& under) { return under.from_m <= from && to <= under.to_m; });
}

bool within(const scene::Stretch& inner, const scene::Stretch& outer) {
  return outer.from_m <= inner.from_m + 1e-9 && inner.to_m <= outer.to_m + 1e-9;
}

/// The number of a root mass that hides a fault, or 0.
int mass_over(const scene::Scene& scene, int number, const scene::Stretch& reach, const Rules& rules) {
  const std::vector<scene::Fault>& faults = scene.scenario.faults;
  const auto arc = std::visit(ArcOf{2000.0 * scene::radius_at(scene, reach.from_m)},
                              faults[static_cast<std::size_t>(number - 1)].kind);
  if (!arc) return 0;
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const auto* roots = std::get_if<scene::Roots>(&faults[i].kind);
    if (!roots || static_cast<int>(i) + 1 == number || roots->form != scene::RootForm::mass) continue;
    if (roots->blocks_percent < rules.mass_hides_from_percent || !within(reach, scene::stretch_of(faults[i])))
      continue;
    const double shared = base::arc_overlap_h(*arc, roots->arc);
    const bool point = base::arc_width_h(*arc) == 0;
    if (point ? base::arc_contains(roots->arc, arc->from_h) : shared >= base::arc_width_h(*arc) - 1e-6)
      return static_cast<int>(i) + 1;
  }
  return 0;
}

}  // namespace

std::string why_hidden(const scene::Scene& scene, int number, const std::vector<scene::Stretch>& blind,
                       const Rules& rules) {
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
  scene::Stretch reach = scene::stretch_of(fault);
  if (const auto* connection = std::get_if<scene::Connection>(&fault.kind))
    reach = {reach.from_m - connection->bore_mm / 2000.0, reach.to_m + connection->bore_mm / 2000.0};
  if (under_cloudy_water(scene, fault, reach)) return "under cloudy water along its whole length";
  if (passed_blind(scene, reach, blind))
    return "passed with the camera wholly under water along its whole length";
  if (mass_over(scene, number, reach, rules) != 0) return "within a dense mass of roots";
  return {};
}

}  // namespace haunch::truth
