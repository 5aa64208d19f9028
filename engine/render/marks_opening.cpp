// SPDX-License-Identifier: Apache-2.0
// Where the wall is missing, and what an opening leaves on the wall about it: a chipped or worn edge,
// the seam of a fitting, the streak that runs down from a branch, the shade of a pipe that stands in.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/squashed.hpp"
#include "render/marks.hpp"

namespace haunch::render {
namespace {

constexpr float tau = 2 * std::numbers::pi_v<float>;
constexpr float edge_reach_m = 0.006F;    // chips and seams
constexpr float shadow_reach_m = 0.055F;  // of a pipe that stands in
constexpr float streak_m = 0.074F, streak_above_m = 0.004F, streak_step_m = 0.003F;

/// As samples have it: 0 to a full turn.
float whole_turn(double angle) {
  const float turned = std::fmod(static_cast<float>(angle), tau);
  return turned < 0 ? turned + tau : turned;
}

OpeningMark opening_mark(const scene::Scene& scene, double at_m, int fault) {
  OpeningMark mark;
  mark.fault = static_cast<std::uint16_t>(fault);
  mark.radius = static_cast<float>(scene::radius_at(scene, at_m));
  mark.seed = static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, fault));
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, at_m))];
  mark.broken = broken_ware(scene.scenario.sections[static_cast<std::size_t>(piece.section)]);
  return mark;
}

void bounds_of(OpeningMark& mark, const matter::WallOutline& outline) {
  double x = 0, y = 0;
  for (const scene::Vec2& c : outline.corners) x = std::max(x, std::abs(c.x)), y = std::max(y, std::abs(c.y));
  mark.z0 = static_cast<float>(outline.z_m - x - 0.006);
  mark.z1 = static_cast<float>(outline.z_m + x + 0.006);
  mark.angle = whole_turn(outline.angle);
  mark.half_angle = static_cast<float>(y + 0.006) / mark.radius;
  // Fine enough for the corners of a small hole.
  mark.grid_step = static_cast<float>(std::clamp(std::min(x, y) / 120, 0.0002, 0.0006));
  mark.grid_z = -static_cast<float>(x) - 0.006F, mark.grid_s = -static_cast<float>(y) - 0.006F;
  mark.grid_columns = static_cast<int>(-2 * mark.grid_z / mark.grid_step) + 2;
  mark.grid_rows = static_cast<int>(-2 * mark.grid_s / mark.grid_step) + 2;
  for (int row = 0; row < mark.grid_rows; ++row)
    for (int column = 0; column < mark.grid_columns; ++column)
      mark.grid.push_back(static_cast<float>(matter::edge_distance_m(
          outline, {static_cast<double>(mark.grid_z + static_cast<float>(column) * mark.grid_step),
                    static_cast<double>(mark.grid_s + static_cast<float>(row) * mark.grid_step)})));
}

float to_edge(const OpeningMark& mark, float z, float s) {
  const float u = (z - mark.grid_z) / mark.grid_step, v = (s - mark.grid_s) / mark.grid_step;
  const int column = static_cast<int>(u), row = static_cast<int>(v);
  if (u < 0 || v < 0 || column + 1 >= mark.grid_columns || row + 1 >= mark.grid_rows) return 1;
  const float* at = &mark.grid[static_cast<std::size_t>(row) * static_cast<std::size_t>(mark.grid_columns) +
                               static_cast<std::size_t>(column)];
  const float p = u - static_cast<float>(column), q = v - static_cast<float>(row);
  const float near = at[0] + p * (at[1] - at[0]);
  const float far = at[mark.grid_columns] + p * (at[mark.grid_columns + 1] - at[mark.grid_columns]);
  return near + q * (far - near);
}

float smooth(float from, float to, float x) {
  const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

void dim(Samples& m, int i, Rgb by) { m.red[i] *= by.r, m.green[i] *= by.g, m.blue[i] *= by.b; }

/// What a branch brings runs down to the flow and stains the wall on its way: on a grid over (along,
/// downwards from the opening's lowest edge).
std::vector<float> streak_below(OpeningMark& mark) {
  const auto bore = static_cast<float>(mark.branch.bore_radius_m);
  mark.streak_half = 0.75F * bore + 0.012F;
  const int columns = static_cast<int>(streak_m / streak_step_m) + 2;
  const int rows = static_cast<int>(2 * mark.streak_half / streak_step_m) + 2;
  std::vector<float> streak;
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column) {
      const float dz = static_cast<float>(row) * streak_step_m - mark.streak_half,
                  down = static_cast<float>(column) * streak_step_m - streak_above_m;
      const float wide = bore * (0.62F - std::min(2.2F * down, 0.22F));
      const float uneven = matter::noise(dz / 0.018F, down / 0.07F, 0.3F, mark.seed + 5U);
      const float off = std::abs(dz) - wide * (0.75F + 0.45F * uneven);
      const float thread = 0.6F + 0.6F * matter::noise(dz / 0.006F, down / 0.16F, 0.7F, mark.seed + 6U);
      streak.push_back((1 - smooth(0.012F, streak_m - streak_above_m, down)) *
                       (1 - smooth(-0.016F, 0.008F, off)) * std::clamp(thread, 0.15F, 1.0F));
    }
  return streak;
}

void paint_streak(const OpeningMark& mark, Samples& m, int i, float dz, float around) {
  const float down = (mark.falls > 0 ? around : -around) * mark.radius - mark.mouth;
  const float p = (dz + mark.streak_half) * (1 / streak_step_m),
              q = (down + streak_above_m) * (1 / streak_step_m);
  constexpr int columns = static_cast<int>(streak_m / streak_step_m) + 2;
  const int rows = static_cast<int>(mark.streak.size()) / columns;
  const int row = static_cast<int>(p), column = static_cast<int>(q);
  if (p < 0 || q < 0 || row + 1 >= rows || column + 1 >= columns || std::abs(around) > mark.streak_angle)
    return;
  const float u = p - static_cast<float>(row), v = q - static_cast<float>(column);
  const float* at = &mark.streak[static_cast<std::size_t>(row) * columns + static_cast<std::size_t>(column)];
  const float near = at[0] + v * (at[1] - at[0]), far = at[columns] + v * (at[columns + 1] - at[columns]);
  const float k = near + u * (far - near);
  dim(m, i, {1 - 0.55F * k, 1 - 0.60F * k, 1 - 0.66F * k});
}

/// The lamps are a ring about the lens: beyond a pipe that stands in they light only in part.
void shade_behind(const OpeningMark& mark, Samples& m, int i, float dz, float ds) {
  const float away = std::sqrt(dz * dz + ds * ds);
  const float edge = away - static_cast<float>(mark.branch.bore_radius_m + mark.branch.wall_m);
  if (edge > shadow_reach_m) return;
  const float beyond = std::clamp((m.dir_z[i] > 0 ? dz : -dz) / std::max(away, 1e-4F) + 0.25F, 0.0F, 1.0F);
  const float contact = 1 - smooth(-0.004F, 0.018F, edge);
  const float cast = beyond * (1 - smooth(0.25F, 1.0F, edge / shadow_reach_m));
  const float k = 1 - std::max(0.78F * cast, 0.60F * contact);
  dim(m, i, {k, k, k});
}

}  // namespace

OpeningMark hole_mark(const scene::Scene& scene, const scene::Hole& hole, int number) {
  OpeningMark mark = opening_mark(scene, hole.at_m, number);
  mark.radius = static_cast<float>(matter::wall_radius_m(scene, hole.at_m, hole.clock_h));
  mark.outline =
      matter::hole_outline(hole, static_cast<double>(mark.radius), scene::fault_seed(scene.scenario, number));
  bounds_of(mark, mark.outline);
  return mark;
}

OpeningMark branch_mark(const scene::Scene& scene, const scene::Connection& connection, int number) {
  OpeningMark mark = opening_mark(scene, connection.at_m, number);
  const auto radius = static_cast<double>(mark.radius);
  mark.is_branch = true;
  mark.branch = matter::branch_shape(connection, radius, scene::fault_seed(scene.scenario, number));
  mark.outline = mark.branch.broken_edge;
  mark.angle = whole_turn(mark.branch.angle);
  mark.stands_in = mark.branch.reach_in_m > 0.0005;
  mark.moulded = connection.fitting == scene::Fitting::branch && !mark.stands_in && connection.broken_mm <= 0;
  double reach = mark.branch.bore_radius_m + static_cast<double>(edge_reach_m);
  if (!mark.outline.corners.empty()) {
    // As fine as a chip of a small one's rim, no finer than so large a hole needs.
    mark.grid_step = std::max(mark.grid_step, static_cast<float>(mark.branch.hole_m.front()) / 120);
    bounds_of(mark, mark.outline);
    reach = std::max(reach, static_cast<double>(mark.half_angle) * radius);
  }
  if (mark.stands_in)
    reach =
        std::max(reach, mark.branch.bore_radius_m + mark.branch.wall_m + static_cast<double>(shadow_reach_m));
  mark.z0 = static_cast<float>(mark.branch.z_m - reach),
  mark.z1 = static_cast<float>(mark.branch.z_m + reach);
  mark.half_angle = std::max(mark.half_angle, static_cast<float>(std::asin(std::min(1.0, reach / radius))));
  // Which way round is down; none where it comes in from below, or brings nothing.
  const float turned = std::remainder(mark.angle, tau);
  if (!connection.closed && !mark.stands_in && std::abs(turned) < 0.8F * tau / 2) {
    mark.falls = turned >= 0 ? 1.0F : -1.0F;
    const double half =
        std::max({mark.branch.bore_radius_m + mark.branch.rim_m,
                  matter::at_turn(mark.branch.hole_m, matter::lowest_turn(mark.branch)), 1e-3});
    mark.mouth = static_cast<float>(radius * std::asin(std::min(1.0, half / radius)));
    mark.streak_angle = tau / 2 - std::abs(turned);
    mark.streak = streak_below(mark);
  }
  return mark;
}

namespace {

void open_at(const OpeningMark& mark, Samples& m, int i) {
  float around = m.wall_angle[i] - mark.angle;
  around -= around > tau / 2 ? tau : around < -tau / 2 ? -tau : 0;
  const float dz = m.wall_z[i] - static_cast<float>(mark.is_branch ? mark.branch.z_m : mark.outline.z_m);
  if (mark.falls != 0) paint_streak(mark, m, i, dz, around);
  if (std::abs(around) > mark.half_angle) return;
  float edge = 1;  // metres outside the opening
  float ds = around * mark.radius;
  if (mark.is_branch) {
    ds = mark.radius * std::sin(around);
    edge = std::sqrt(dz * dz + ds * ds) - static_cast<float>(mark.branch.bore_radius_m);
    if (mark.stands_in) shade_behind(mark, m, i, dz, ds);
  }
  if (!mark.grid.empty() && edge > 0) edge = to_edge(mark, dz, around * mark.radius);
  if (edge > edge_reach_m) return;
  if (edge < 0) {
    m.depth[i] = nothing_hit;
    m.piece[i] = -1;
    m.fault[i] = mark.fault;
    m.red[i] = m.green[i] = m.blue[i] = 0;
    return;
  }
  const float s = around * mark.radius;
  const float grain = matter::noise(m.wall_z[i] / 0.0035F, s / 0.0035F, 0.2F, mark.seed);
  const bool hacked = !mark.outline.corners.empty() && (!mark.is_branch || mark.branch.ragged);
  const float cosine = std::max(
      0.03F, -(m.dir_x[i] * m.normal_x[i] + m.dir_y[i] * m.normal_y[i] + m.dir_z[i] * m.normal_z[i]));
  if (hacked) {
    const float chip = 0.0030F * std::clamp(0.5F + 1.2F * grain, 0.0F, 1.6F);
    const float chipped = std::clamp((chip - edge) / 0.0006F, 0.0F, 1.0F);
    const Rgb body = lit(m, i, {mark.broken, 0.05F, 20}, cosine, m.depth[i]);
    const Rgb wall = blend({m.red[i], m.green[i], m.blue[i]}, body, 0.85F * chipped);
    m.red[i] = wall.r, m.green[i] = wall.g, m.blue[i] = wall.b;
    if (chipped > 0.5F) m.fault[i] = mark.fault;
  } else if (mark.moulded) {
    // The wall rolls over into the branch: its edge faces the lamp on the far side and turns away
    // from it on the near one.
    const float roll = smooth(0.0045F, 0.0F, edge);
    const float away = std::max(1e-4F, std::sqrt(dz * dz + ds * ds));
    const float cos_a = std::cos(m.wall_angle[i]), sin_a = std::sin(m.wall_angle[i]);
    const float inward =
        (dz * m.dir_z[i] + ds * (m.dir_x[i] * cos_a - m.dir_y[i] * sin_a)) / away;  // of the ray, outwards
    const float facing = std::max(0.02F, (1 - roll) * cosine + 0.8F * roll * inward);
    const float k = std::clamp(facing / cosine, 0.30F, 2.4F) * (1 + 0.15F * roll * grain);
    dim(m, i, {k, k, k});
  } else {
    // Dirt in the seam of a fitting.
    const float k = 1 - 0.60F * std::clamp(1 - edge / 0.0045F, 0.0F, 1.0F);
    dim(m, i, {k, k, k});
  }
}

}  // namespace

void open_wall(const OpeningMark& mark, Samples& samples) {
  for (int i = 0; i < samples.count; ++i)
    if (samples.piece[i] >= 0 && samples.wall_z[i] > mark.z0 && samples.wall_z[i] < mark.z1)
      open_at(mark, samples, i);
}

}  // namespace haunch::render
