// SPDX-License-Identifier: Apache-2.0
// What no careful drive could show: under cloudy water, passed with the camera under or its sight lost,
// within a root mass, or under matter. Judged on geometry alone.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>

#include "base/clock.hpp"
#include "matter/solid.hpp"
#include "scene/camera.hpp"
#include "scene/haze.hpp"
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
  std::optional<base::ClockArc> operator()(const scene::SurfaceDamage& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::MissingMortar& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::FailedWeld& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::PorousWall& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::SweatingWall& f) const { return known(f.arc); }
  /// A thing in the bore takes up no stretch of wall of its own: whatever shows of its bore shows of it.
  std::optional<base::ClockArc> operator()(const scene::Obstacle& f) const {
    if (!scene::lies_on_invert(f.form)) return std::nullopt;
    return around(6, bore_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::SoilIngress&) const { return around(6, bore_mm); }
  std::optional<base::ClockArc> operator()(const scene::Infiltration& f) const {
    return around(f.arc.from_h, 0.1 * bore_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::Exfiltration& f) const {
    return around(f.arc.from_h, 0.1 * bore_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::Repair& f) const {
    if (f.form == scene::RepairForm::patch) return around(f.arc.from_h, f.width_mm);
    return known(f.arc);
  }
  std::optional<base::ClockArc> operator()(const scene::LiningDefect& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::SealingRing& f) const { return known(f.arc); }
  std::optional<base::ClockArc> operator()(const scene::BrokenWall& f) const {
    if (f.fallen_in) return std::nullopt;
    return around(f.clock_h, f.width_mm);
  }
  std::optional<base::ClockArc> operator()(const scene::BrickDamage& f) const {
    if (f.form == scene::BrickForm::collapsed) return std::nullopt;
    return known(f.arc);
  }
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
  return std::holds_alternative<scene::Roots>(fault.kind) ||
         std::holds_alternative<scene::Obstacle>(fault.kind) ||
         std::holds_alternative<scene::SoilIngress>(fault.kind) ||
         std::holds_alternative<scene::Vermin>(fault.kind) ||
         std::holds_alternative<scene::BrokenWall>(fault.kind) ||
         std::holds_alternative<scene::SealingRing>(fault.kind) ||
         (connection && connection->intrudes_percent > 0);
}

/// A thing in the bore is as high as its shape.
bool solid_under_water(const scene::Scene& scene, const matter::Solid& solid, const scene::Stretch& reach,
                       const Rules& rules) {
  const double top = scene::invert_at(scene, reach.from_m) + matter::top_above_invert_m(scene, solid);
  return scene::level_at(scene.water, reach.from_m) >= top + rules.cloudy_hides_from_mm / 1000.0;
}

bool under_cloudy_water(const scene::Scene& scene, int number, const scene::Fault& fault,
                        const scene::Stretch& reach, const Rules& rules) {
  if (scene::hides(scene.scenario.water))
    if (const matter::Solid solid = matter::solid_of(scene, number); !solid.parts.empty())
      return solid_under_water(scene, solid, reach, rules);
  // Roots and pipes that reach in stand higher than the wall they come from.
  if (!scene::hides(scene.scenario.water) || reaches_in(fault)) return false;
  const double bore_mm = 2000.0 * scene::radius_at(scene, reach.from_m);
  const double top = top_of(std::visit(ArcOf{bore_mm}, fault.kind));
  const std::vector<double> places = places_along(reach.from_m, reach.to_m);
  return std::all_of(places.begin(), places.end(), [&](double z) {
    const double level = scene::level_at(scene.water, z);
    const double hides = rules.cloudy_hides_from_mm / 1000.0;
    const double invert = scene::invert_at(scene, z), crown = scene::crown_at(scene, z);
    return level >= invert + (crown - invert) * top + hides - 1e-9;
  });
}

/// The head is under from where the nearest wall in the picture is the fault's to where the lens has
/// passed it. It may still have been seen from farther off, before the lens went under: seen_before.
/// How, or empty.
std::string passed_blind(const scene::Scene& scene, const scene::Stretch& reach,
                         const std::vector<Blind>& blind) {
  const double ahead = scene::reference_ring_ahead_m(scene::radius_at(scene, reach.from_m));
  const bool downstream = scene::travel(scene.scenario) > 0;
  const double from = downstream ? reach.from_m - ahead : reach.from_m;
  const double to = downstream ? reach.to_m : reach.to_m + ahead;
  // Blind stretches of several causes may follow one another without a gap.
  double done = from;
  std::set<std::string> how;
  for (const Blind& one : blind) {
    if (one.from_m > done + 2e-3 || one.to_m <= done) continue;
    how.insert(passed_how(scene, one));
    done = one.to_m;
    if (done >= to) break;
  }
  if (how.empty() || done < to) return {};
  std::string words;
  for (const std::string& name : how) words += (words.empty() ? "" : " and ") + name;
  return words;
}

/// Sight lines along the bore. Walls, settled deposits, cloudy water and dense root masses end them;
/// thin roots, grease and what reaches in do not, so that in doubt a fault counts as seen.
class Sight {
 public:
  Sight(const scene::Scene& scene, int number, const std::vector<Blind>& blind, const Rules& rules)
      : scene_(scene), rules_(rules), number_(number), blind_(blind), way_(scene::travel(scene.scenario)) {}

  /// Some place of the fault is in sight of a lens above the water, before it is reached.
  bool sees(const scene::Stretch& reach, double range_m) const {
    const std::vector<double> places = places_along(reach.from_m, reach.to_m);
    return std::any_of(places.begin(), places.end(), [&](double z) {
      const std::vector<scene::Vec3> points = points_at(z);
      // Nearer than this the wall has left the picture.
      const double nearest = scene::reference_ring_ahead_m(scene::radius_at(scene_, z));
      for (double off = nearest; off <= range_m + 1e-9; off += 0.05) {
        const double from = z - way_ * off;
        if (from < 0 || from > scene_.length_m()) break;
        const scene::Vec3 lens = scene::pose_at(scene_, from).lens;
        if (lens.y <= scene::level_at(scene_.water, lens.z) || is_blind(from)) continue;
        if (std::any_of(points.begin(), points.end(), [&](const scene::Vec3& p) { return clear(lens, p); }))
          return true;
      }
      return false;
    });
  }

 private:
  const scene::Fault& fault(int number) const {
    return scene_.scenario.faults[static_cast<std::size_t>(number - 1)];
  }

  bool is_blind(double z) const {
    return std::any_of(blind_.begin(), blind_.end(),
                       [&](const Blind& one) { return one.from_m <= z && z <= one.to_m; });
  }

  std::vector<scene::Vec3> points_at(double z) const {
    const auto arc = std::visit(ArcOf{2000.0 * scene::radius_at(scene_, z)}, fault(number_).kind);
    const double from = arc ? arc->from_h : 0;
    const double width = arc ? base::arc_width_h(*arc) : 12;
    const int steps = static_cast<int>(std::ceil(width / 0.25));
    const scene::Vec2 axis = scene::centre_at(scene_, z);
    std::vector<scene::Vec3> points;
    for (int i = 0; i <= steps; ++i) {
      const double hour = base::wrap_hours(from + (steps == 0 ? 0 : width * i / steps));
      const scene::Vec3 wall = scene::wall_point(scene_, z, hour);
      const auto inwards = [&](double share) {
        return scene::Vec3{wall.x + share * (axis.x - wall.x), wall.y + share * (axis.y - wall.y), z};
      };
      points.push_back(inwards(0.01));
      // Roots and pipes that reach in stand clear of the wall.
      if (reaches_in(fault(number_))) points.push_back(inwards(0.5));
    }
    return points;
  }

  bool clear(const scene::Vec3& lens, const scene::Vec3& point) const {
    const scene::Stretch between{std::min(lens.z, point.z), std::max(lens.z, point.z)};
    for (std::size_t i = 0; i < scene_.scenario.faults.size(); ++i) {
      const auto* roots = std::get_if<scene::Roots>(&scene_.scenario.faults[i].kind);
      if (!roots || static_cast<int>(i) + 1 == number_ || roots->form != scene::RootForm::mass) continue;
      const scene::Stretch mass = scene::stretch_of(scene_.scenario.faults[i]);
      if (roots->blocks_percent >= rules_.mass_hides_from_percent && mass.from_m < between.to_m &&
          mass.to_m > between.from_m)
        return false;
    }
    if (scene::haze_between(scene_.scenario, scene::HazeKind::steam, lens.z, point.z) >= scene::hidden_behind)
      return false;
    constexpr double step_m = 0.01;
    const int steps = std::max(1, static_cast<int>(std::ceil((between.to_m - between.from_m) / step_m)));
    for (int i = 0; i <= steps; ++i) {
      const double share = static_cast<double>(i) / steps;
      if (!free_at(lens.x + share * (point.x - lens.x), lens.y + share * (point.y - lens.y),
                   lens.z + share * (point.z - lens.z)))
        return false;
    }
    return true;
  }

  /// Neither wall, nor cloudy water, nor deposit stands at this place.
  bool free_at(double x, double y, double z) const {
    const scene::Vec2 axis = scene::centre_at(scene_, z);
    const scene::Bore bore = scene::bore_at(scene_, z);
    if (!scene::inside(bore, {x - axis.x, y - axis.y}, 1e-6)) return false;
    if (scene::hides(scene_.scenario.water) && y < scene::level_at(scene_.water, z)) return false;
    for (std::size_t i = 0; i < scene_.scenario.faults.size(); ++i) {
      const auto* settled = std::get_if<scene::Settled>(&scene_.scenario.faults[i].kind);
      if (!settled || static_cast<int>(i) + 1 == number_ || z < settled->from_m || z > settled->to_m)
        continue;
      if (y < axis.y + bore.half_height_m * (2.0 * settled->depth_percent / 100.0 - 1.0)) return false;
    }
    return true;
  }

  const scene::Scene& scene_;
  const Rules& rules_;
  int number_;
  const std::vector<Blind>& blind_;
  int way_;
};

/// Where the wall is missing or broken: water under pressure through it can bring the ground down. What comes
/// through the wall or crosses the bore: it may be a gas pipe. Ours.
bool could_hurt(const scene::Fault& fault) {
  if (const auto* obstacle = std::get_if<scene::Obstacle>(&fault.kind))
    return obstacle->form == scene::ObstacleForm::crossing ||
           obstacle->form == scene::ObstacleForm::through_wall;
  const auto* damage = std::get_if<scene::SurfaceDamage>(&fault.kind);
  const auto* bricks = std::get_if<scene::BrickDamage>(&fault.kind);
  return std::holds_alternative<scene::Hole>(fault.kind) ||
         std::holds_alternative<scene::BrokenWall>(fault.kind) ||
         (bricks && bricks->form != scene::BrickForm::displaced) ||
         (damage && damage->form == scene::DamageForm::wall_gone);
}

/// A glimpse counts from as far as the finding would be known for what it is; of what could hurt
/// someone, from however far it can be seen at all.
bool seen_before(const scene::Scene& scene, int number, const scene::Stretch& reach,
                 const std::vector<Blind>& blind, const Rules& rules) {
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
  const double bore_m = 2.0 * scene::radius_at(scene, reach.from_m);
  const double range = could_hurt(fault) ? scene.length_m() : rules.sight_range_bores * bore_m;
  return Sight(scene, number, blind, rules).sees(reach, range);
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

std::string why_hidden(const scene::Scene& scene, int number, const std::vector<Blind>& blind,
                       const Rules& rules) {
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
  scene::Stretch reach = scene::stretch_of(fault);
  if (const auto* connection = std::get_if<scene::Connection>(&fault.kind))
    reach = {reach.from_m - connection->bore_mm / 2000.0, reach.to_m + connection->bore_mm / 2000.0};
  if (behind_lining(scene, fault, reach,
                    std::visit(ArcOf{2000.0 * scene::radius_at(scene, reach.from_m)}, fault.kind), rules))
    return "behind the short lining along its whole length";
  if (under_cloudy_water(scene, number, fault, reach, rules))
    return "under cloudy water along its whole length";
  if (const std::string how = passed_blind(scene, reach, blind);
      !how.empty() && !seen_before(scene, number, reach, blind, rules))
    return "passed " + how + " along its whole length, and out of sight before";
  if (const int mass = mass_over(scene, number, reach, rules); mass != 0 && !could_hurt(fault)) {
    // Roots are not told apart from those about them; of anything else what shows between them counts.
    if (std::holds_alternative<scene::Roots>(fault.kind) || behind_strands(scene, number, mass, reach, rules))
      return "within a dense mass of roots";
  }
  return why_covered(scene, number, reach, rules);
}

}  // namespace haunch::truth
