// SPDX-License-Identifier: Apache-2.0
// What lies on or in the wall under grease, scale, slime or silt, or behind the strands of a root mass,
// judged on the very shapes the scene gives to whoever draws it.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <set>

#include "base/clock.hpp"
#include "matter/brick_damage.hpp"
#include "matter/coat.hpp"
#include "matter/deposit.hpp"
#include "matter/noise.hpp"
#include "matter/openings.hpp"
#include "matter/patch.hpp"
#include "matter/roots.hpp"
#include "matter/solid.hpp"
#include "matter/squashed.hpp"
#include "matter/wall.hpp"
#include "matter/weld.hpp"
#include "scene/camera.hpp"
#include "truth/finding.hpp"

namespace haunch::truth {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double film_m = 1e-5;  // thinner than this nothing is over anything

double mix(double a, double b, double share) { return a + share * (b - a); }

/// Places of a fault that show if nothing lies over them, and how much of it each stands for: metres
/// of a line, square metres of a face.
struct Place {
  scene::Vec3 at;
  double amount = 0;
};
struct Places {
  std::vector<Place> all;
  double least = 0;  ///< bare amount from which the fault is found
};

struct PlacesOf {
  const scene::Scene& scene;
  std::uint64_t seed;
  double least_m;

  scene::Vec3 on_wall(double z, double angle) const {
    const scene::Vec2 axis = scene::centre_at(scene, z);
    const scene::Vec2 out{std::sin(angle), std::cos(angle)};
    const scene::Vec2 place = axis + scene::radius_toward(scene::bore_at(scene, z), out) * out;
    return {place.x, place.y, z};
  }

  Places operator()(const scene::Crack& crack) const {
    const double radius = matter::wall_radius_m(scene, crack);
    Places places{{}, least_m};
    for (const matter::CrackLine& line : matter::crack_shape(crack, radius, seed).lines)
      for (std::size_t i = 1; i < line.nodes.size(); ++i) {
        const matter::CrackNode &a = line.nodes[i - 1], &b = line.nodes[i];
        places.all.push_back(
            {on_wall(b.z_m, b.angle), std::hypot(b.z_m - a.z_m, radius * (b.angle - a.angle))});
      }
    return places;
  }

  Places operator()(const scene::Roots& roots) const {
    const matter::RootShape shape = matter::root_shape(scene, roots, seed);
    Places places{{}, least_m};
    for (const matter::Strand& strand : shape.strands)
      for (int i = strand.first + 1; i < strand.first + strand.count; ++i) {
        const scene::Vec3 a = shape.nodes[static_cast<std::size_t>(i - 1)].at,
                          b = shape.nodes[static_cast<std::size_t>(i)].at;
        places.all.push_back({b, scene::length(b - a)});
      }
    return places;
  }

  Places operator()(const scene::Settled& settled) const {
    return face(matter::settled_bed(scene, settled, seed).top);
  }
  Places operator()(const scene::Attached& attached) const {
    return face(matter::attached_sheet(scene, attached, seed));
  }

  Places operator()(const scene::Obstacle& obstacle) const {
    return of_solid(matter::obstacle_solid(scene, obstacle, seed));
  }
  Places operator()(const scene::SoilIngress& soil) const {
    return of_solid(matter::soil_solid(scene, soil, seed));
  }
  Places operator()(const scene::Infiltration& water) const {
    return of_solid(matter::water_solid(scene, water, seed, 0));
  }
  Places operator()(const scene::Vermin& vermin) const {
    return of_solid(matter::vermin_solid(scene, vermin, seed));
  }
  Places operator()(const scene::BrokenWall& broken) const {
    return of_solid(matter::broken_solid(scene, broken, seed));
  }
  Places operator()(const scene::BrickDamage& damage) const {
    if (damage.form == scene::BrickForm::collapsed) return of_solid(matter::brick_solid(scene, damage, seed));
    const matter::BrickArea area = matter::bricks_of(scene, damage);
    Places places{{}, least_m};
    constexpr double step = 0.01;
    for (const scene::Brick& brick : area.bricks) {
      const scene::BrickPlace at = scene::place_of(area.bore_mm, brick);
      for (double z = at.z_m - at.length_m / 2 + step / 2; z < at.z_m + at.length_m / 2; z += step)
        places.all.push_back({on_wall(z, at.angle), step});
    }
    return places;
  }
  Places operator()(const scene::SealingRing& ring) const {
    return of_solid(matter::ring_solid(scene, ring, seed));
  }

  Places operator()(const scene::Hole& hole) const {
    const double radius = matter::wall_radius_m(scene, hole.at_m, hole.clock_h);
    const matter::WallOutline outline = matter::hole_outline(hole, radius, seed);
    Places places{{}, least_m};
    scene::Vec2 last = outline.corners.back();
    for (const scene::Vec2& c : outline.corners) {
      places.all.push_back(
          {on_wall(outline.z_m + c.x, outline.angle + c.y / radius), scene::length(c - last)});
      last = c;
    }
    return places;
  }

  Places operator()(const scene::SurfaceDamage& damage) const {
    return face(matter::damaged_area(scene, damage, seed));
  }

  Places operator()(const scene::FailedWeld& weld) const {
    const double radius = scene::radius_at(scene, weld.from_m);
    Places places{{}, least_m};
    const matter::CrackLine gap = matter::weld_gap(scene, weld, seed);
    for (std::size_t i = 1; i < gap.nodes.size(); ++i) {
      const matter::CrackNode &a = gap.nodes[i - 1], &b = gap.nodes[i];
      places.all.push_back(
          {on_wall(b.z_m, b.angle), std::hypot(b.z_m - a.z_m, radius * (b.angle - a.angle))});
    }
    return places;
  }
  Places operator()(const scene::PorousWall& f) const {
    return face(matter::patch_area(scene, f.from_m, f.to_m, f.arc, seed));
  }
  Places operator()(const scene::SweatingWall& f) const {
    return face(matter::patch_area(scene, f.from_m, f.to_m, f.arc, seed));
  }
  /// The line of the joint.
  Places operator()(const scene::MissingMortar& f) const {
    if (f.length_m > 0) return face(matter::mortar_area(scene, f, seed));
    const matter::PatchArea area = matter::mortar_area(scene, f, seed);
    Places places{{}, least_m};
    constexpr double step = 0.004;
    for (double round = step / 2; round < area.round_m; round += step)
      places.all.push_back(
          {on_wall(area.from_m + area.length_m / 2, area.from_angle + round / area.radius_m), step});
    return places;
  }

  /// The rim of its mouth, or of its end where it reaches in.
  Places operator()(const scene::Connection& connection) const {
    const double radius = scene::radius_at(scene, connection.at_m);
    const matter::BranchShape shape = matter::branch_shape(connection, radius, seed);
    Places places{{}, least_m};
    constexpr int steps = 180;
    for (int i = 0; i < steps; ++i) {
      const double turn = tau * i / steps;
      const double z = shape.z_m + shape.bore_radius_m * std::cos(turn);
      const double across = std::min(0.999, shape.bore_radius_m / radius * std::sin(turn));
      scene::Vec3 rim = on_wall(z, shape.angle + std::asin(across));
      rim.x -= shape.reach_in_m * std::sin(shape.angle);
      rim.y -= shape.reach_in_m * std::cos(shape.angle);
      places.all.push_back({rim, tau * shape.bore_radius_m / steps});
    }
    return places;
  }

  Places operator()(const scene::Squashed& squashed) const {
    return wall_along(squashed.from_m, squashed.to_m);
  }
  // Air, water and the window: nothing lies over them.
  Places operator()(const scene::Haze& /*haze*/) const { return {}; }
  Places operator()(const scene::OnLens& /*film*/) const { return {}; }
  Places operator()(const scene::Repair& repair) const {
    if (repair.form == scene::RepairForm::pipe_replaced) return wall_along(repair.from_m, repair.to_m);
    return of_coat(matter::repair_coat(scene, repair, number_of(&repair)));
  }
  Places operator()(const scene::Exfiltration& water) const {
    return of_solid(matter::loss_solid(scene, water, seed));
  }
  Places operator()(const scene::ShortLining& lining) const { return wall_along(lining.from_m, lining.to_m); }
  Places operator()(const scene::LiningDefect& f) const {
    if (f.form != scene::LiningForm::seam_off)
      return face(matter::patch_area(scene, f.from_m, f.to_m, f.arc, seed));
    return wall_along(f.from_m, f.to_m);
  }
  Places operator()(const scene::Bend& bend) const { return wall_along(bend.from_m, bend.to_m); }

  /// The ends of both units at the joint it is built at.
  template <class AtJoint>
  Places operator()(const AtJoint& fault) const {
    Places places{{}, least_m};
    const auto nearest = std::min_element(
        scene.joints.begin(), scene.joints.end(), [&](const scene::Joint& a, const scene::Joint& b) {
          return std::abs(a.at_m - fault.at_m) < std::abs(b.at_m - fault.at_m);
        });
    if (nearest == scene.joints.end()) return places;
    constexpr int steps = 360;
    for (const double side : {-0.5, 0.5})
      for (int i = 0; i < steps; ++i) {
        const double z = nearest->at_m + side * nearest->gap_m;
        places.all.push_back({on_wall(z, tau * i / steps), tau * scene::radius_at(scene, z) / steps});
      }
    return places;
  }

 private:
  Places face(const matter::PatchArea& area) const {
    Places places{{}, least_m * least_m};
    const double step = std::max(0.005, std::sqrt(area.length_m * area.round_m / 20000));
    for (double along = step / 2; along < area.length_m; along += step)
      for (double round = step / 2; round < area.round_m; round += step)
        if (matter::inside_m(area, along, round) > 0)
          places.all.push_back(
              {on_wall(area.from_m + along, area.from_angle + round / area.radius_m), step * step});
    return places;
  }

  /// Its faces within the bore, and of each as much as a point of its grid stands for.
  Places of_solid(const matter::Solid& solid) const {
    Places places{{}, least_m * least_m};
    for (const matter::SolidPart& part : solid.parts)
      for (int r = 1; r < part.rows; ++r)
        for (int c = 1; c < part.columns; ++c) {
          const auto at = [&](int row, int column) {
            return part
                .points[static_cast<std::size_t>(row) * static_cast<std::size_t>(part.columns) +
                        static_cast<std::size_t>(column)]
                .at;
          };
          const scene::Vec3 p = at(r, c);
          const scene::Vec2 axis = scene::centre_at(scene, p.z);
          if (std::hypot(p.x - axis.x, p.y - axis.y) > scene::radius_at(scene, p.z)) continue;
          places.all.push_back({p, scene::length(p - at(r - 1, c)) * scene::length(p - at(r, c - 1))});
        }
    return places;
  }

  Places of_coat(const matter::Coat& coat) const {
    Places places{{}, least_m * least_m};
    for (const matter::CoatSheet& sheet : coat.sheets)
      for (int r = 1; r < sheet.rows; ++r)
        for (int c = 1; c < sheet.columns; ++c) {
          const std::size_t i = sheet.index(r, c);
          if (!sheet.open.empty() && sheet.open[i]) continue;
          const scene::Vec3 p = sheet.points[i];
          const scene::Vec2 axis = scene::centre_at(scene, p.z);
          if (!scene::inside(scene::bore_at(scene, p.z), {p.x - axis.x, p.y - axis.y})) continue;
          places.all.push_back({p, scene::length(p - sheet.points[sheet.index(r - 1, c)]) *
                                       scene::length(p - sheet.points[sheet.index(r, c - 1)])});
        }
    return places;
  }
  /// Which fault of the scene this is: a coat is grown by its number.
  int number_of(const scene::Repair* repair) const {
    int number = 0;
    for (const scene::Fault& fault : scene.scenario.faults)
      if (++number; std::get_if<scene::Repair>(&fault.kind) == repair) return number;
    return 1;
  }

  /// The wall all along.
  Places wall_along(double from_m, double to_m) const {
    Places places{{}, least_m * least_m};
    constexpr int steps = 36;
    const int rings = std::max(2, static_cast<int>((to_m - from_m) / 0.05));
    for (int k = 0; k < rings; ++k)
      for (int i = 0; i < steps; ++i) {
        const double z = mix(from_m, to_m, (k + 0.5) / rings);
        const double round = tau * scene::mean_radius_m(scene::bore_at(scene, z));
        places.all.push_back({on_wall(z, tau * i / steps), round / steps * (to_m - from_m) / rings});
      }
    return places;
  }

  Places face(const matter::Sheet& sheet) const {
    Places places{{}, least_m * least_m};
    for (int r = 1; r < sheet.rows; ++r)
      for (int c = 1; c < sheet.columns; ++c) {
        if (static_cast<double>(sheet.thick_m[sheet.index(r, c)]) < 0.0005 || sheet.open_cell(r - 1, c - 1))
          continue;
        const scene::Vec3 p = sheet.at(r, c);
        // A bed reaches a little into the wall.
        const scene::Vec2 axis = scene::centre_at(scene, p.z);
        if (!scene::inside(scene::bore_at(scene, p.z), {p.x - axis.x, p.y - axis.y})) continue;
        places.all.push_back(
            {p, scene::length(p - sheet.at(r - 1, c)) * scene::length(p - sheet.at(r, c - 1))});
      }
    return places;
  }
};

/// Matter that may lie over something, with its shape.
struct Layer {
  int fault = 0;
  bool settled = false;
  base::ClockArc arc;
  matter::Sheet sheet;
};

/// Where a row coordinate lies on a sheet, or outside it.
struct Cell {
  int at = -1;
  double share = 0;
  Cell(double place, int count) {
    if (place < 0 || place > count - 1) return;
    at = std::min(static_cast<int>(place), count - 2);
    share = place - at;
  }
};

/// The height of a bed's top at x on one of its rows, or far below beside it.
double top_at(const matter::Sheet& sheet, int row, double x) {
  const double first = sheet.at(row, 0).x, last = sheet.at(row, sheet.columns - 1).x;
  const Cell cell((x - first) / (last - first) * (sheet.columns - 1), sheet.columns);
  if (cell.at < 0) return -1e9;
  return mix(sheet.at(row, cell.at).y, sheet.at(row, cell.at + 1).y, cell.share);
}

bool lies_over(const scene::Scene& scene, const Layer& layer, const scene::Vec3& p) {
  const matter::Sheet& sheet = layer.sheet;
  const double first = sheet.at(0, 0).z, last = sheet.at(sheet.rows - 1, 0).z;
  const Cell row((p.z - first) / (last - first) * (sheet.rows - 1), sheet.rows);
  if (row.at < 0) return false;
  if (layer.settled)
    return p.y < mix(top_at(sheet, row.at, p.x), top_at(sheet, row.at + 1, p.x), row.share) - film_m;
  const scene::Vec2 axis = scene::centre_at(scene, p.z);
  const double width = base::arc_width_h(layer.arc) * tau / 12;
  double turned =
      std::atan2(p.x - axis.x, p.y - axis.y) - base::degrees_from_crown(layer.arc.from_h) * tau / 360;
  turned -= tau * std::floor(turned / tau);
  const Cell column(turned / width * (sheet.columns - 1), sheet.columns);
  if (column.at < 0 || sheet.open_cell(row.at, column.at)) return false;
  const auto from_axis = [&](int r, int c) {
    const scene::Vec3& q = sheet.at(r, c);
    return std::hypot(q.x - axis.x, q.y - axis.y);
  };
  const auto along = [&](int r) {
    return mix(from_axis(r, column.at), from_axis(r, column.at + 1), column.share);
  };
  return mix(along(row.at), along(row.at + 1), row.share) < std::hypot(p.x - axis.x, p.y - axis.y) - film_m;
}

std::vector<Layer> layers_near(const scene::Scene& scene, int number, const scene::Stretch& reach) {
  std::vector<Layer> layers;
  for (int other = 1; other <= static_cast<int>(scene.scenario.faults.size()); ++other) {
    const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(other - 1)];
    const scene::Stretch lies = scene::stretch_of(fault);
    if (other == number || lies.to_m <= reach.from_m || lies.from_m >= reach.to_m) continue;
    const std::uint64_t seed = scene::fault_seed(scene.scenario, other);
    if (const auto* attached = std::get_if<scene::Attached>(&fault.kind))
      layers.push_back({other, false, attached->arc, matter::attached_sheet(scene, *attached, seed, reach)});
    if (const auto* settled = std::get_if<scene::Settled>(&fault.kind))
      layers.push_back({other, true, {}, matter::settled_bed(scene, *settled, seed).top});
  }
  return layers;
}

/// Does matter reach over the whole length? If not there is no need to build any shape.
bool may_be_covered(const scene::Scene& scene, int number, const scene::Stretch& reach) {
  constexpr double step_m = 0.02, slack_m = 0.02;  // what the ends look like the shapes tell
  const int steps = std::max(1, static_cast<int>(std::ceil((reach.to_m - reach.from_m) / step_m)));
  for (int i = 0; i <= steps; ++i) {
    const double z = mix(reach.from_m, reach.to_m, static_cast<double>(i) / steps);
    int other = 0;
    const bool any = std::any_of(
        scene.scenario.faults.begin(), scene.scenario.faults.end(), [&](const scene::Fault& fault) {
          const scene::Stretch lies = scene::stretch_of(fault);
          return ++other != number && lies.from_m - slack_m <= z && z <= lies.to_m + slack_m &&
                 (std::holds_alternative<scene::Attached>(fault.kind) ||
                  std::holds_alternative<scene::Settled>(fault.kind));
        });
    if (!any) return false;
  }
  return true;
}

}  // namespace

namespace {

/// A piece of root as the scene grows it.
struct Link {
  scene::Vec3 from, to;
  double radius_m = 0;
};

/// Square of the shortest way between two straight pieces.
double square_between(const scene::Vec3& a, const scene::Vec3& b, const scene::Vec3& c,
                      const scene::Vec3& d) {
  const scene::Vec3 u = b - a, v = d - c, w = a - c;
  const double uu = scene::dot(u, u), uv = scene::dot(u, v), vv = scene::dot(v, v), uw = scene::dot(u, w),
               vw = scene::dot(v, w);
  const double det = uu * vv - uv * uv;
  double s = det > 1e-18 ? std::clamp((uv * vw - vv * uw) / det, 0.0, 1.0) : 0.0;
  const double t = std::clamp(vv > 1e-18 ? (uv * s + vw) / vv : 0.0, 0.0, 1.0);
  s = std::clamp(uu > 1e-18 ? (uv * t - uw) / uu : 0.0, 0.0, 1.0);
  const scene::Vec3 apart = w + s * u - t * v;
  return scene::dot(apart, apart);
}

}  // namespace

bool behind_strands(const scene::Scene& scene, int number, int mass, const scene::Stretch& reach,
                    const Rules& rules) {
  const auto& faults = scene.scenario.faults;
  const auto seed_of = [&](int n) { return scene::fault_seed(scene.scenario, n); };
  const matter::RootShape shape = matter::root_shape(
      scene, std::get<scene::Roots>(faults[static_cast<std::size_t>(mass - 1)].kind), seed_of(mass));
  std::vector<Link> links;
  for (const matter::Strand& strand : shape.strands)
    for (int i = strand.first + 1; i < strand.first + strand.count; ++i) {
      const matter::StrandNode &a = shape.nodes[static_cast<std::size_t>(i - 1)],
                               &b = shape.nodes[static_cast<std::size_t>(i)];
      links.push_back({a.at, b.at, (a.radius_m + b.radius_m) / 2});
    }
  const Places places = std::visit(PlacesOf{scene, seed_of(number), rules.found_from_mm / 1000},
                                   faults[static_cast<std::size_t>(number - 1)].kind);
  double whole = 0;
  for (const Place& place : places.all) whole += place.amount;
  const int way = scene::travel(scene.scenario);
  const double bore = 2 * scene::radius_at(scene, reach.from_m);
  const double nearest = scene::reference_ring_ahead_m(bore / 2);
  // At most some hundred places stand for all.
  const std::size_t step = std::max<std::size_t>(1, places.all.size() / 100);
  const double first = way > 0 ? reach.from_m : reach.to_m, last = way > 0 ? reach.to_m : reach.from_m;
  for (double off = -rules.sight_range_bores * bore; off <= std::abs(last - first); off += 0.25 * bore) {
    const scene::Vec3 lens = scene::pose_at(scene, std::clamp(first + way * off, 0.0, scene.length_m())).lens;
    double bare = 0;
    for (std::size_t i = 0; i < places.all.size(); i += step) {
      const Place& place = places.all[i];
      const double ahead = way * (place.at.z - lens.z);
      if (ahead < nearest || ahead > rules.sight_range_bores * bore) continue;
      const bool blocked = std::any_of(links.begin(), links.end(), [&](const Link& link) {
        const double low = std::min(lens.z, place.at.z), high = std::max(lens.z, place.at.z);
        if (std::max(link.from.z, link.to.z) < low || std::min(link.from.z, link.to.z) > high) return false;
        return square_between(lens, place.at, link.from, link.to) < link.radius_m * link.radius_m;
      });
      if (!blocked) bare += static_cast<double>(step) * place.amount;
      if (bare >= std::min(places.least, whole / 2)) return false;
    }
  }
  return true;
}

std::string why_covered(const scene::Scene& scene, int number, const scene::Stretch& reach,
                        const Rules& rules) {
  if (!may_be_covered(scene, number, reach)) return {};
  const std::vector<Layer> layers = layers_near(scene, number, {reach.from_m - 0.05, reach.to_m + 0.05});
  if (layers.empty()) return {};
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
  const Places places = std::visit(
      PlacesOf{scene, scene::fault_seed(scene.scenario, number), rules.found_from_mm / 1000}, fault.kind);
  double whole = 0;
  for (const Place& place : places.all) whole += place.amount;
  double bare = 0;
  std::set<std::string> over;
  for (const Place& place : places.all) {
    const auto layer = std::find_if(layers.begin(), layers.end(),
                                    [&](const Layer& l) { return lies_over(scene, l, place.at); });
    if (layer != layers.end()) {
      over.insert("the " +
                  scene::kind_word(scene.scenario.faults[static_cast<std::size_t>(layer->fault - 1)]));
    } else if (scene::hides(scene.scenario.water) &&
               place.at.y < scene::level_at(scene.water, place.at.z) - rules.cloudy_hides_from_mm / 1000) {
      over.insert("cloudy water");
    } else {
      bare += place.amount;
    }
    // Of what is itself no longer than that, half.
    if (bare >= std::min(places.least, whole / 2)) return {};
  }
  std::string words;
  for (const std::string& name : over) words += (words.empty() ? "" : " and ") + name;
  return "under " + words + " along its whole length";
}

}  // namespace haunch::truth
