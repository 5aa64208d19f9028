// SPDX-License-Identifier: Apache-2.0
#include "matter/branch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "base/random.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double drilled_play_m = 0.0015;  // ours: a ring's thickness between a drilled hole and its pipe
constexpr double bricks_m = 0.050;         // ours: mortar and a brick on edge about a pipe built in

double turn_of(int i) { return tau * i / branch_turns; }

/// How far round an arc of the rim a turn lies, 0 .. 1; below 0 outside.
double share_of_arc(const scene::Connection& connection, const base::ClockArc& arc, double turn) {
  if (arc.whole) return 0.5;
  const double width = std::max(1e-6, base::arc_width_h(arc));
  const double on = base::wrap_hours(rim_hour(connection, turn) - arc.from_h);
  return on >= 12 ? 0 : on <= width ? on / width : -1;
}

/// A crescent: widest in the middle of its arc, where it is as wide as stated.
std::vector<double> gaps(const scene::Connection& connection) {
  std::vector<double> gap;
  for (int i = 0; i < branch_turns; ++i) {
    const double on = share_of_arc(connection, connection.gap_arc, turn_of(i));
    gap.push_back(on < 0 ? 0 : connection.gap_mm / 1000 * std::sqrt(std::sin(on * tau / 2)));
  }
  return gap;
}

/// Shards that have come out: straight breaks between uneven corners, the deepest as deep as stated.
std::vector<double> breaks(const scene::Connection& connection, base::Random& random) {
  const double width =
      connection.broken_arc.whole ? tau : base::arc_width_h(connection.broken_arc) * tau / 12;
  const int corners = std::clamp(static_cast<int>(width / 0.28) + 1, 3, 18);
  std::vector<double> corner{connection.broken_arc.whole ? 0.5 : 0.0};
  for (int k = 1; k < corners; ++k)
    corner.push_back(k % 3 == 1   ? random.uniform(0.65, 1.0)
                     : k % 3 == 2 ? random.uniform(0.9, 1.0) * corner.back()
                                  : random.uniform(0.15, 0.6));
  corner.push_back(corner.front());
  const double deepest = *std::max_element(corner.begin(), corner.end());
  std::vector<double> broken;
  for (int i = 0; i < branch_turns; ++i) {
    double on = connection.broken_arc.whole ? static_cast<double>(i) / branch_turns
                                            : share_of_arc(connection, connection.broken_arc, turn_of(i));
    if (on < 0) {
      broken.push_back(0);
      continue;
    }
    on *= corners;
    const auto k = static_cast<std::size_t>(std::min(on, corners - 1e-9));
    const double t = on - static_cast<double>(k);
    broken.push_back(connection.broken_mm / 1000 * (corner[k] + t * (corner[k + 1] - corner[k])) / deepest);
  }
  const double most = *std::max_element(broken.begin(), broken.end());
  if (most > 0)
    for (double& b : broken) b *= connection.broken_mm / 1000 / most;
  return broken;
}

/// From the axis to a broken outline about it, at even turns.
std::vector<double> around(const std::vector<scene::Vec2>& corners) {
  std::vector<double> radius;
  for (int i = 0; i < branch_turns; ++i) {
    const scene::Vec2 way{std::cos(turn_of(i)), std::sin(turn_of(i))};
    double far = 0;
    for (std::size_t k = 0; k < corners.size(); ++k) {
      const scene::Vec2 a = corners[k], d = corners[(k + 1) % corners.size()] - a;
      const double across = way.x * d.y - way.y * d.x;
      if (std::abs(across) < 1e-12) continue;
      const double t = (a.x * d.y - a.y * d.x) / across, on = (a.x * way.y - a.y * way.x) / across;
      if (t > 0 && on >= -1e-9 && on <= 1 + 1e-9) far = std::max(far, t);
    }
    radius.push_back(far);
  }
  return radius;
}

/// The hole in the run's wall before any gap, by turn; none where the run's own wall runs on.
std::vector<double> hole_about(const BranchShape& shape, scene::Fitting fitting, base::Random& random) {
  const double outer = shape.bore_radius_m + shape.wall_m;
  switch (fitting) {
    case scene::Fitting::branch:
    case scene::Fitting::saddle:
      return {};
    case scene::Fitting::cut_in: {
      const double over = 2 * outer + random.uniform(0.012, 0.022);
      return around(broken_polygon(random, over * 1.04, over, 0.12, 11));
    }
    case scene::Fitting::saddle_chiselled: {
      const double over = 2 * (shape.bore_radius_m + shape.rim_m) + random.uniform(0.012, 0.024);
      return around(broken_polygon(random, over * 1.05, over, 0.16, 9));
    }
    case scene::Fitting::bricked_in: {
      const double over = 2 * (outer + bricks_m);
      return around(broken_polygon(random, over * 1.1, over, 0.06, 12));
    }
    case scene::Fitting::drilled_in:
      return std::vector<double>(branch_turns, outer + drilled_play_m);
    case scene::Fitting::hose:
      return std::vector<double>(branch_turns, outer + random.uniform(0.004, 0.008));
  }
  return {};
}

WallOutline outline_of(const BranchShape& shape, double run_radius_m) {
  WallOutline outline{shape.z_m, shape.angle, {}};
  for (int i = 0; i < branch_turns; ++i) {
    const double away = shape.hole_m[static_cast<std::size_t>(i)];
    const double across = std::clamp(away * std::sin(turn_of(i)) / run_radius_m, -0.985, 0.985);
    outline.corners.push_back({away * std::cos(turn_of(i)), run_radius_m * std::asin(across)});
  }
  return outline;
}

}  // namespace

double at_turn(const std::vector<double>& by_turn, double turn) {
  if (by_turn.empty()) return 0;
  const double at = (turn / tau - std::floor(turn / tau)) * branch_turns;
  const auto i = static_cast<std::size_t>(at) % branch_turns;
  const double t = at - std::floor(at);
  return by_turn[i] + t * (by_turn[(i + 1) % branch_turns] - by_turn[i]);
}

double rim_hour(const scene::Connection& connection, double turn) {
  // Towards the crown is back round the clock on the right-hand side, and on round it on the left.
  const bool right = connection.clock_h > 0 && connection.clock_h < 6;
  return base::wrap_hours(3 + (right ? 12 : -12) * turn / tau);
}

double lowest_turn(const BranchShape& branch) { return std::sin(branch.angle) >= 0 ? tau / 4 : -tau / 4; }

BranchShape branch_shape(const scene::Connection& connection, double run_radius_m, std::uint64_t seed) {
  base::Random random(seed);
  BranchShape shape;
  shape.z_m = connection.at_m;
  shape.angle = base::degrees_from_crown(connection.clock_h) * tau / 360;
  shape.bore_radius_m = std::min(connection.bore_mm / 2000, 0.995 * run_radius_m);
  shape.wall_m = std::clamp(0.09 * shape.bore_radius_m, 0.003, 0.008);
  shape.reach_in_m = connection.intrudes_percent / 100 * 2 * run_radius_m;
  shape.set_back_m = connection.set_back_mm / 1000;
  shape.barrel_m =
      shape.set_back_m +
      (connection.closed && connection.stop != scene::Stop::plug ? 0.03 : 0.25 + 2 * shape.bore_radius_m);
  if (has_saddle(connection.fitting)) shape.rim_m = std::clamp(0.25 * shape.bore_radius_m, 0.008, 0.016);
  shape.own_end = shape.reach_in_m > 0.0005 || is_loose_pipe(connection.fitting);
  shape.ragged = connection.fitting != scene::Fitting::drilled_in &&
                 connection.fitting != scene::Fitting::hose && connection.fitting != scene::Fitting::saddle;
  shape.hole_m = hole_about(shape, connection.fitting, random);
  if (connection.gap_mm > 0) shape.gap_m = gaps(connection);
  if (connection.broken_mm > 0) {
    base::Random chips(seed ^ 0xb70U);
    shape.broken_m = breaks(connection, chips);
  }
  const double outer = shape.bore_radius_m + shape.wall_m;
  // A broken rim without a pipe's end is the run's own wall about the mouth.
  const bool wall_breaks = !shape.broken_m.empty() && !shape.own_end;
  if (wall_breaks && shape.hole_m.empty()) shape.hole_m.assign(branch_turns, shape.bore_radius_m);
  for (std::size_t i = 0; i < shape.hole_m.size(); ++i) {
    if (!shape.gap_m.empty() && shape.gap_m[i] > 0)
      shape.hole_m[i] = std::max(shape.hole_m[i], outer + shape.gap_m[i]);
    if (wall_breaks) shape.hole_m[i] = std::max(shape.hole_m[i], shape.bore_radius_m + shape.broken_m[i]);
    shape.hole_m[i] = std::min(shape.hole_m[i], std::max(outer, 0.98 * run_radius_m) + 0.02);
  }
  if (wall_breaks) shape.ragged = true;
  if (!shape.hole_m.empty()) shape.broken_edge = outline_of(shape, run_radius_m);
  return shape;
}

bool wall_missing(const BranchShape& branch, double run_radius_m, double z_m, double angle) {
  double da = std::remainder(angle - branch.angle, tau);
  const double dz = z_m - branch.z_m;
  if (!branch.broken_edge.corners.empty()) {
    if (edge_distance_m(branch.broken_edge, {dz, da * run_radius_m}) < 0) return true;
  }
  if (std::abs(da) > tau / 4) return false;
  const double across = run_radius_m * std::sin(da);
  return dz * dz + across * across < branch.bore_radius_m * branch.bore_radius_m;
}

std::vector<scene::Crack> cracks_of(const scene::Connection& connection, double run_radius_m,
                                    std::uint64_t seed) {
  std::vector<scene::Crack> cracks;
  if (connection.broken_mm <= 0 || scene::is_loose_pipe(connection.fitting)) return cracks;
  base::Random random(seed ^ 0xc4acU);
  const BranchShape shape = branch_shape(connection, run_radius_m, seed);
  // They run out along the pipe, where the ground's load splits it, from both sides of the rim.
  for (const double side : {1.0, -1.0}) {
    const double share = random.uniform(0.25, 0.8);
    const double turn = (side > 0 ? 0 : tau / 2) + random.uniform(-0.5, 0.5);
    const double away = at_turn(shape.hole_m, turn);
    const double z = shape.z_m + away * std::cos(turn);
    const double hour = connection.clock_h +
                        std::asin(std::clamp(away * std::sin(turn) / run_radius_m, -1.0, 1.0)) * 12 / tau;
    const double far = z + side * (0.03 + share * 0.09);
    const double at = base::wrap_hours(hour);
    cracks.push_back({std::min(z, far),
                      std::max(z, far),
                      {at, at, false},
                      scene::CrackForm::along,
                      random.uniform(0.8, 2.0)});
  }
  return cracks;
}

}  // namespace haunch::matter
