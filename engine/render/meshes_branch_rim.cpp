// SPDX-License-Identifier: Apache-2.0
// What a connection is set in: the saddle's collar, the drilled or hacked hole, mortar, bricks, and the
// ground that shows where it is open.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "render/marks.hpp"
#include "render/meshes_branch.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

float within(float v) { return std::clamp(v, 0.0F, 1.0F); }
const Rgb& mortar_grey() {
  static const Rgb grey = linear_from_srgb(126, 120, 108);
  return grey;
}

}  // namespace

void BranchBuilder::saddle(Mesh& mesh) const {
  // A collar that lies on the run's wall: a hub round the mouth, and a flange that ends in a step.
  const int rows = 26;
  add_patch(mesh, rows + 1, 2 * branch_round_steps, true, [&](int row, int column) {
    // Its first row is the hub's inner face.
    const double turn = tau * column / (2 * branch_round_steps);
    // Where it has broken only what lies beyond the break is left of it.
    const double gone = shape.own_end ? 0 : std::min(1.0, at_turn(shape.broken_m, turn) / shape.rim_m);
    const double t = gone + (1 - gone) * std::max(0.0, (row - 1.0) / (rows - 1));
    const double away = shape.bore_radius_m + shape.rim_m * t - (row == 0 && gone == 0 ? 0.0003 : 0.0);
    const double hub = 0.0026 * (t < 0.22 ? 1 : std::max(0.0, 1 - (t - 0.22) / 0.10));
    const double flange = 0.0030 * std::sqrt(std::clamp((1 - t) * 9.0, 0.0, 1.0));
    const double proud = hub + flange - (row == rows ? 0.0006 : row == 0 ? 0.0080 : 0.0);
    const scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away) - proud);
    // Dirt lies against the hub and along the flange's edge.
    const float corner = t > 0.22 && t < 0.42 ? 0.45F : t > 0.93 ? 0.30F : 1.0F;
    return PatchPoint{p, corner * grimed(ware, p, 0.6F)};
  });
}

void BranchBuilder::mortar(Mesh& mesh, double inner, double width, double height, double gaps) const {
  const Rgb dark = linear_from_srgb(66, 58, 48);
  // It never stands in as far as the pipe itself, and there is less of it in a narrow run.
  height = std::min(height, shape.reach_in_m > 0.0005 ? 0.5 * shape.reach_in_m : 0.1 * frame.run_radius);
  const int rows = 26;
  add_patch(mesh, rows + 1, branch_round_steps * 2, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps), t = static_cast<double>(row) / rows;
    const scene::Vec3 near = frame.at(turn, inner, frame.wall(turn, inner));
    const double ragged = static_cast<double>(branch_noise(near, 0.030, seed + 25U, 4));
    const double reach = width * std::max(0.30, 0.85 + 0.7 * ragged);
    const double away = inner + std::max(0.002, reach) * t;
    scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away));
    const auto lump = static_cast<double>(branch_noise(p, 0.011, seed + 27U, 4));
    double lost =
        gaps *
        std::clamp(2.4 * (static_cast<double>(branch_noise(near, 0.036, seed + 61U, 3)) - 0.02), 0.0, 1.0);
    // None where it was never joined in, or has broken away.
    const double open = std::max(at_turn(shape.gap_m, turn),
                                 shape.own_end ? 0.0 : at_turn(shape.broken_m, turn) - shape.rim_m);
    if (open > 0.0005) lost = 4;
    // Thick lumps that end in a rounded edge of their own.
    const double round = std::sqrt(std::max(0.0, 1 - t * t));
    double proud = height * round * std::max(0.12, 0.62 + 1.3 * lump) * (1 - 0.45 * t);
    proud -= lost * (proud + 0.007);
    if (row == rows) proud = -0.0012;
    p = frame.at(turn, away, frame.wall(turn, away) - proud);
    // Hollows and the foot lie in shade.
    const auto shade =
        static_cast<float>(std::clamp(0.85 + 1.2 * lump - 0.7 * lost - 0.45 * t * t, 0.12, 1.25));
    const float grey = within(0.55F + 0.9F * branch_noise(p, 0.016, seed + 29U, 4));
    return PatchPoint{p, shade * blend(dark, mortar_grey(), grey)};
  });
}

void BranchBuilder::drilled_face(Mesh& mesh) const {
  const Rgb cut = broken_ware(run.section), dirt = linear_from_srgb(70, 54, 40);
  const int rows = 12;
  const double thick = run_wall_m();
  add_patch(mesh, rows + 1, 2 * branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps), t = static_cast<double>(row) / rows;
    const double away = at_turn(shape.hole_m, turn);
    const scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away) + thick * t - 0.0002);
    // Rings of the core drill.
    const float ring = 0.10F * branch_noise({thick * t * 40, 0, 0}, 0.02, seed + 81U, 2);
    const auto light = static_cast<float>(std::exp(-1.6 * t));
    return PatchPoint{p, light * (1 + ring) *
                             blend(cut, dirt, within(0.25F + 0.8F * branch_noise(p, 0.014, seed + 82U, 3)))};
  });
}

void BranchBuilder::bedding(Mesh& mesh) const {
  // From the pipe, or the mouth's own edge, to under the run's wall.
  const int rows = 14;
  const double mortared = std::min(0.008, 0.6 * run_wall_m());
  add_patch(mesh, rows + 1, 2 * branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps), t = static_cast<double>(row) / rows;
    const double gap = at_turn(shape.gap_m, turn);
    const double broken = shape.own_end ? 0 : at_turn(shape.broken_m, turn);
    // Out of sight behind the pipe, or behind the mouth's edge where that is whole.
    const double from = shape.own_end
                            ? outer_m() - 0.001
                            : shape.bore_radius_m + (broken > 0.0005 ? -0.0005 : 0.0015 + shape.rim_m / 2);
    const double hole = std::max(at_turn(shape.hole_m, turn), from + 0.002);
    const double away = from + (hole + 0.010 - from) * t;
    const bool open = gap > 0.0005 || broken > 0.0005;
    const double back = open ? run_wall_m() + 0.004 : mortared;
    scene::Vec3 p = frame.at(turn, away, frame.wall(turn, std::min(away, hole)) + back);
    const float lump = branch_noise(p, open ? 0.016 : 0.010, seed + 41U, 3);
    p = p + ((open ? 0.007 : 0.004) * static_cast<double>(lump)) * frame.out_way;
    const Rgb mortar = linear_from_srgb(150, 144, 130);
    const Rgb ground = soil_colour(p, seed + 44U);
    if (open) {
      // A void: nothing near enough for the lamp.
      const float light = connection.void_behind ? 0.004F : 0.62F - 0.4F * lump;
      return PatchPoint{p, light * ground};
    }
    return PatchPoint{p,
                      (0.75F - 0.5F * lump) *
                          blend(mortar, ground, within(0.5F + 1.6F * branch_noise(p, 0.03, seed + 45U, 2)))};
  });
}

void BranchBuilder::cavity(Mesh& mesh) const {
  // The sides go back from under the run's wall; then a face of ground closes in on the pipe.
  const int rows = 44, sides = 26;
  const double outer = outer_m();
  add_patch(mesh, rows + 1, 2 * branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps);
    const double hole = std::max(at_turn(shape.hole_m, turn), outer + 0.002);
    const double front = frame.wall(turn, hole) + 0.7 * run_wall_m();
    const double back = std::max(end_out + 0.006, front + 0.004);
    const double t = std::min(1.0, static_cast<double>(row) / sides),
                 u = std::clamp(static_cast<double>(row - sides) / (rows - sides), 0.0, 1.0);
    double out = front + (back - front) * t, away = hole + 0.004 * std::sin(tau / 4 * t);
    away += (outer - 0.001 - away) * u;
    const scene::Vec3 p = frame.at(turn, away, out);
    const float lump = branch_noise(p, 0.018, seed + 91U, 4);
    away += (u > 0 ? 0 : 0.006) * static_cast<double>(lump) * std::min(1.0, 4 * t);
    if (u > 0 && u < 1) out += 0.004 * static_cast<double>(lump);
    // Light dies away behind the wall.
    const double behind = out - frame.wall(turn, hole);
    const auto light =
        static_cast<float>((connection.void_behind ? 0.006 : 0.85) * std::exp(-behind / 0.055));
    const scene::Vec3 at = frame.at(turn, std::max(away, outer - 0.001), out);
    return PatchPoint{at, light * within(0.75F - 0.8F * lump) * soil_colour(at, seed + 92U)};
  });
}

void BranchBuilder::bricks_about(Mesh& mesh) const {
  static const Rgb bodies[] = {linear_from_srgb(158, 84, 60), linear_from_srgb(136, 66, 50),
                               linear_from_srgb(170, 118, 76), linear_from_srgb(120, 70, 60)};
  const double from = outer_m() + 0.0005;
  const double long_way = tau * (outer_m() + 0.025);
  const int bricks = std::max(4, static_cast<int>(long_way / 0.062));
  const int rows = 34, columns = bricks * 24;
  add_patch(mesh, rows + 1, columns, true, [&](int row, int column) {
    const double turn = tau * column / columns, t = static_cast<double>(row) / rows;
    const double hole = std::max(at_turn(shape.hole_m, turn) + 0.001, from + 0.004);
    const double open = at_turn(shape.gap_m, turn);
    const double away = from + open + (hole - from - open) * t;
    const double along = static_cast<double>(column) / 24;
    const auto which = static_cast<std::uint32_t>(column / 24);
    // Each sits a little askew in a bed of mortar about a centimetre wide.
    const double in_brick = along - std::floor(along);
    const double to_side = std::min(in_brick, 1 - in_brick) * long_way / bricks,
                 to_end = std::min(away - from - open, hole - away);
    const double to_edge = std::min(to_side - 0.004, to_end - 0.004);
    scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away));
    const float rough = branch_noise(p, 0.008, seed + 101U, 3);
    const bool brick = to_edge + 0.0015 * static_cast<double>(rough) > 0;
    const double proud = brick ? 0.0015 + 0.003 * static_cast<double>(((seed >> (which % 13)) & 3U)) / 3 +
                                     0.0008 * static_cast<double>(rough)
                               : -0.003 + 0.002 * static_cast<double>(rough);
    p = frame.at(turn, away, frame.wall(turn, away) - proud + (row == rows || row == 0 ? 0.006 : 0.0));
    const Rgb body = bodies[(which + (seed >> 5U)) % 4];
    const Rgb clean = brick ? (1 + 0.35F * branch_noise(p, 0.02, seed + 103U + which, 3)) * body
                            : (0.7F + 0.5F * rough) * mortar_grey();
    return PatchPoint{p, grimed(clean, p, 0.45F)};
  });
}

}  // namespace haunch::render
