// SPDX-License-Identifier: Apache-2.0
#include "scene/water_of_run.hpp"

#include <algorithm>
#include <cmath>

#include "scene/materials.hpp"

namespace haunch::scene {
namespace {

constexpr double least_slope = 0.001;       // ours: flow never runs deeper than on this grade
constexpr double shallowest_pond_m = 5e-4;  // ours: a film, not a pond

/// Lowest point of the opening that two circles share.
double bottom_of_opening(Vec2 a, double a_radius, Vec2 b, double b_radius) {
  const Vec2 a_bottom{a.x, a.y - a_radius};
  const Vec2 b_bottom{b.x, b.y - b_radius};
  if (length(a_bottom - b) <= b_radius) return a_bottom.y;
  if (length(b_bottom - a) <= a_radius) return b_bottom.y;
  const double apart = length(b - a);
  if (apart >= a_radius + b_radius || apart == 0) return std::max(a_bottom.y, b_bottom.y);
  const double along = (apart * apart + a_radius * a_radius - b_radius * b_radius) / (2.0 * apart);
  const double across = std::sqrt(std::max(0.0, a_radius * a_radius - along * along));
  const Vec2 unit = (1.0 / apart) * (b - a);
  return a.y + along * unit.y - across * std::abs(unit.x);
}

/// The same of two sections that need not be round: the higher of their two lower walls, where that lies
/// lowest; both are bowls, so there is one such place.
double bottom_of_opening(Vec2 a, const Bore& a_bore, Vec2 b, const Bore& b_bore) {
  if (a_bore.round() && b_bore.round())
    return bottom_of_opening(a, a_bore.half_height_m, b, b_bore.half_height_m);
  const auto wall_below = [](Vec2 c, const Bore& bore, double x) { return c.y - depth_below(bore, x - c.x); };
  const auto higher = [&](double x) { return std::max(wall_below(a, a_bore, x), wall_below(b, b_bore, x)); };
  double low = std::max(a.x - a_bore.half_width_m, b.x - b_bore.half_width_m),
         high = std::min(a.x + a_bore.half_width_m, b.x + b_bore.half_width_m);
  if (low >= high) return std::max(a.y - a_bore.half_height_m, b.y - b_bore.half_height_m);
  for (int i = 0; i < 100; ++i) {
    const double p = low + (high - low) / 3, q = high - (high - low) / 3;
    (higher(p) < higher(q) ? high : low) = higher(p) < higher(q) ? q : p;
  }
  return higher((low + high) / 2);
}

/// What a lining leaves clear.
Bore clear_of(const Bore& bore, const Piece& piece) {
  return {bore.half_width_m - piece.lined_m, bore.half_height_m - piece.lined_m, bore.form};
}
double invert_from(const Piece& piece) {
  return piece.from_centre.y - piece.from_bore.half_height_m + piece.lined_m;
}
double invert_to(const Piece& piece) {
  return piece.to_centre.y - piece.to_bore.half_height_m + piece.lined_m;
}

bool steps_between(const Piece& up, const Piece& down) {
  return length(down.from_centre - up.to_centre) > 1e-9 || std::abs(down.lined_m - up.lined_m) > 1e-9 ||
         std::abs(down.from_bore.half_height_m - up.to_bore.half_height_m) > 1e-9 ||
         std::abs(down.from_bore.half_width_m - up.to_bore.half_width_m) > 1e-9 ||
         down.from_bore.form != up.to_bore.form;
}

/// Pieces end where a connection brings water, so that one flow holds for all of one.
double flow_of(const Scene& scene, const Piece& piece) {
  return flow_at_l_s(scene.scenario, (piece.from_m + piece.to_m) / 2);
}

/// Running depth of one piece, m.
double running_depth(const Scene& scene, const Piece& piece) {
  const Scenario& scenario = scene.scenario;
  const double flow_l_s = flow_of(scene, piece);
  if (flow_l_s <= 0) return 0;
  const double fall = (invert_from(piece) - invert_to(piece)) / (piece.to_m - piece.from_m);
  // On the flat or rising parts of a sag Manning has no answer; half the run's even grade drains them.
  const double slope = std::max({fall, scenario.gradient_percent / 200.0, least_slope});
  const double bore = 2.0 * (piece.radius_m - piece.lined_m);
  const Section& section = scenario.sections[static_cast<std::size_t>(piece.section)];
  if (!piece.round())
    return depth_for_flow_m(clear_of(bore_at(piece, (piece.from_m + piece.to_m) / 2), piece),
                            flow_l_s / 1000.0, slope, section.manning_n);
  return bore * depth_share_for_flow(bore, flow_l_s / 1000.0, slope, section.manning_n);
}

/// Surface of running water at both ends of each piece: depths of neighbours meet halfway where
/// the invert is unbroken.
struct Surface {
  double from = 0, to = 0;
};
std::vector<Surface> running_surface(const Scene& scene) {
  const std::vector<Piece>& pieces = scene.pieces;
  std::vector<double> depth;
  depth.reserve(pieces.size());
  for (const Piece& piece : pieces) depth.push_back(running_depth(scene, piece));
  std::vector<Surface> surface(pieces.size());
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto meet = [&](std::size_t a, std::size_t b) { return (depth[a] + depth[b]) / 2.0; };
    // Where the first water comes in, it lies as deep as it runs.
    const bool joined_up = i > 0 && depth[i - 1] > 0 && !steps_between(pieces[i - 1], pieces[i]);
    const bool joined_down =
        i + 1 < pieces.size() && depth[i] > 0 && !steps_between(pieces[i], pieces[i + 1]);
    // Where water leaves, the surface has come down to what goes on already.
    const auto leaves_at = [&](double z) {
      return std::any_of(scene.scenario.faults.begin(), scene.scenario.faults.end(), [&](const Fault& fault) {
        const auto* loss = std::get_if<Exfiltration>(&fault.kind);
        return loss && std::abs(loss->at_m - z) < 1e-6;
      });
    };
    if (joined_up && leaves_at(pieces[i].from_m)) {
      surface[i].from = invert_from(pieces[i]) + depth[i];
      surface[i].to = invert_to(pieces[i]) + (joined_down ? meet(i, i + 1) : depth[i]);
      continue;
    }
    if (joined_down && leaves_at(pieces[i].to_m)) {
      surface[i].from = invert_from(pieces[i]) + (joined_up ? meet(i - 1, i) : depth[i]);
      surface[i].to = invert_to(pieces[i]) + depth[i + 1];
      continue;
    }
    surface[i].from = invert_from(pieces[i]) + (joined_up ? meet(i - 1, i) : depth[i]);
    surface[i].to = invert_to(pieces[i]) + (joined_down ? meet(i, i + 1) : depth[i]);
  }
  return surface;
}

std::vector<InvertPoint> profile_above(const Scene& scene, const std::vector<Surface>& surface) {
  std::vector<InvertPoint> points;
  for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
    const Piece& piece = scene.pieces[i];
    points.push_back({piece.from_m, surface[i].from});
    points.push_back({piece.to_m, surface[i].to});
    if (i + 1 == scene.pieces.size() || !steps_between(piece, scene.pieces[i + 1])) continue;
    const Piece& next = scene.pieces[i + 1];
    const double bottom = bottom_of_opening(piece.to_centre, clear_of(piece.to_bore, piece), next.from_centre,
                                            clear_of(next.from_bore, next));
    const double above = std::min(surface[i].to - invert_to(piece), surface[i + 1].from - invert_from(next));
    points.push_back({piece.to_m, bottom + above});
  }
  return points;
}

double deepest(const std::vector<InvertPoint>& profile, const WaterReach& pond) {
  double depth = 0;
  for (const InvertPoint& point : profile) {
    if (point.z_m < pond.from_m || point.z_m > pond.to_m) continue;
    depth = std::max(depth, pond.from_level_m - point.y_m);
  }
  return depth;
}

/// Does it end where a connection brings more than ran before, on an invert that falls?
bool backed_up(const Scene& scene, const WaterReach& pond) {
  const auto brings = [&](const Fault& fault) {
    const auto* connection = std::get_if<Connection>(&fault.kind);
    return connection && connection->flow_l_s > 0 && std::abs(connection->at_m - pond.to_m) < 1e-6;
  };
  return std::any_of(scene.scenario.faults.begin(), scene.scenario.faults.end(), brings) &&
         invert_at(scene, pond.from_m) >= pond.to_level_m - 1e-6 &&
         invert_at(scene, (pond.from_m + pond.to_m) / 2) >= invert_at(scene, pond.to_m) - 1e-9;
}

/// Running water over [from, to], where there is any, piece by piece.
void add_running(const Scene& scene, const std::vector<Surface>& surface, double from, double to,
                 std::vector<WaterReach>& reaches) {
  for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
    const Piece& piece = scene.pieces[i];
    if (flow_of(scene, piece) <= 0) continue;
    const double a = std::max(from, piece.from_m), b = std::min(to, piece.to_m);
    if (b <= a) continue;
    const double per_m = (surface[i].to - surface[i].from) / (piece.to_m - piece.from_m);
    reaches.push_back({a, b, surface[i].from + per_m * (a - piece.from_m),
                       surface[i].from + per_m * (b - piece.from_m), false});
  }
}

/// One reach where a running surface goes on straight: pieces end at every joint, water does not.
std::vector<WaterReach> joined(const std::vector<WaterReach>& reaches) {
  std::vector<WaterReach> out;
  for (const WaterReach& reach : reaches) {
    if (!out.empty()) {
      WaterReach& last = out.back();
      const double fall_last = (last.from_level_m - last.to_level_m) / (last.to_m - last.from_m);
      const double fall = (reach.from_level_m - reach.to_level_m) / (reach.to_m - reach.from_m);
      if (!last.standing && !reach.standing && last.to_m == reach.from_m &&
          std::abs(last.to_level_m - reach.from_level_m) < 1e-9 && std::abs(fall_last - fall) < 1e-9) {
        last.to_m = reach.to_m;
        last.to_level_m = reach.to_level_m;
        continue;
      }
    }
    out.push_back(reach);
  }
  return out;
}

}  // namespace

namespace {

struct OwnPipe {
  double bore_m, slope, n;
};
OwnPipe own_pipe(const Scene& scene, const Connection& connection) {
  const Piece& piece = scene.pieces[static_cast<std::size_t>(piece_at(scene, connection.at_m))];
  const Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  return {connection.bore_mm / 1000, std::max(connection.gradient_percent / 100, least_slope),
          connection.fitting == Fitting::branch ? section.manning_n : manning_n(Material::pvc)};
}

}  // namespace

double incoming_depth_share(const Scene& scene, const Connection& connection) {
  if (connection.flow_l_s <= 0) return 0;
  const OwnPipe own = own_pipe(scene, connection);
  return depth_share_for_flow(own.bore_m, connection.flow_l_s / 1000, own.slope, own.n);
}

double incoming_velocity_m_s(const Scene& scene, const Connection& connection) {
  if (connection.flow_l_s <= 0) return 0;
  const OwnPipe own = own_pipe(scene, connection);
  return velocity_m_s(own.bore_m, incoming_depth_share(scene, connection), own.slope, own.n);
}

std::vector<InvertPoint> invert_profile(const Scene& scene) {
  std::vector<Surface> invert;
  invert.reserve(scene.pieces.size());
  for (const Piece& piece : scene.pieces) invert.push_back({invert_from(piece), invert_to(piece)});
  return profile_above(scene, invert);
}

Water water_of_run(const Scene& scene) {
  const std::vector<Surface> surface = running_surface(scene);
  const std::vector<InvertPoint> profile = profile_above(scene, surface);
  Water water;
  double done = 0;
  for (const WaterReach& pond : ponds(profile)) {
    if (deepest(profile, pond) < shallowest_pond_m) continue;
    add_running(scene, surface, done, pond.from_m, water.reaches);
    water.reaches.push_back(pond);
    // Backed up by what comes in and runs on: it does not lie there.
    water.reaches.back().standing = !backed_up(scene, pond);
    done = pond.to_m;
  }
  add_running(scene, surface, done, scene.length_m(), water.reaches);
  water.reaches = joined(water.reaches);
  return water;
}

}  // namespace haunch::scene
