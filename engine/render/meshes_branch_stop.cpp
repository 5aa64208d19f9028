// SPDX-License-Identifier: Apache-2.0
// What closes a connection: a cap, a stopper, bricks and mortar; or what has filled it.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "render/marks.hpp"
#include "render/meshes_branch.hpp"
#include "scene/water.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

}  // namespace

void BranchBuilder::cap(Mesh& mesh) const {
  // It fills the mouth: a rim against the ware, and a face sunk a little behind it, dull with what has dried
  // on it. Where the mouth lies in the run's wall it is dished as that wall is.
  const Rgb plastic = linear_from_srgb(158, 146, 126), dirt = linear_from_srgb(58, 46, 34);
  const int rows = 48;
  add_patch(mesh, rows + 1, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps,
                 share = 1 - static_cast<double>(row) / rows * 0.998;
    const double away = shape.bore_radius_m * share;
    const double face = shape.own_end ? end_out + 0.004 : frame.wall(turn, away) + 0.0022;
    // Outwards is away from the run: the rim stands nearest, the face lies behind it.
    const double rim = share > 0.985  ? 0.0012
                       : share > 0.86 ? 0.0
                                      : 0.0050 * std::min(1.0, (0.86 - share) / 0.05);
    const scene::Vec3 flat = frame.at(turn, away, face + rim);
    const double bump = 0.0006 * static_cast<double>(branch_noise(flat, 0.010, seed + 71U, 2));
    const scene::Vec3 p = flat + bump * frame.out_way;
    // A dark seam outside the rim, and dirt that lies in the corner behind it and has run down.
    const float corner = share > 0.975  ? 0.16F
                         : share > 0.90 ? 1.15F
                         : share > 0.72 ? static_cast<float>(0.35 + 0.55 * (0.86 - share) / 0.14)
                                        : 0.9F;
    const float drip = within(1.3F * branch_noise({p.x, p.y / 5, p.z}, 0.011, seed + 72U, 3) + 0.25F);
    return PatchPoint{p,
                      std::clamp(corner, 0.14F, 1.15F) * blend(grimed(plastic, p, 0.8F), dirt, 0.6F * drip)};
  });
}

void BranchBuilder::plug(Mesh& rubber, Mesh& steel) const {
  // A rubber ring pressed wide between two plates by a screw with a wing nut; it sits inside the mouth.
  const double lowest = frame.wall(tau / 4, shape.bore_radius_m);
  const double face = std::max(end_out, lowest) + 0.006;
  const Rgb black = linear_from_srgb(34, 33, 32), plate = linear_from_srgb(112, 108, 102),
            rust = linear_from_srgb(112, 66, 38);
  const double r = shape.bore_radius_m;
  add_patch(rubber, 20, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps, t = row / 19.0;
    // The bulge of the squeezed ring.
    const double away = r * (1.0 - 0.26 * t),
                 out = face + 0.004 - 0.011 * std::sin(tau / 2 * (0.15 + 0.7 * t));
    const scene::Vec3 p = frame.at(turn, away, out);
    return PatchPoint{p, grimed(black, p, 0.35F)};
  });
  const auto rusty = [&](const scene::Vec3& p) {
    return grimed(blend(plate, rust, within(0.3F + 1.1F * branch_noise(p, 0.012, seed + 111U, 4))), p, 0.4F);
  };
  add_patch(steel, 24, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps, t = row / 23.0;
    const double away = 0.76 * r * (1 - 0.998 * t), edge = t < 0.05 ? 0.0022 : 0.0;
    // A pressed ridge stiffens the plate.
    const double ridge = 0.0018 * std::exp(-std::pow((away / r - 0.42) / 0.06, 2));
    const scene::Vec3 p = frame.at(turn, away, face - 0.004 - ridge + edge);
    return PatchPoint{p, (t < 0.05 ? 0.5F : 1.0F) * rusty(p)};
  });
  // The screw's end, and the nut's two wings.
  const double thick = std::clamp(0.10 * r, 0.003, 0.006), stands = face - 0.004;
  add_patch(steel, 8, 24, true, [&](int row, int column) {
    const double turn = tau * column / 24, t = row / 7.0;
    const double away = row == 7 ? 1e-4 : thick, out = stands - 0.018 * std::min(1.0, t * 7 / 6);
    const scene::Vec3 p = frame.at(turn, away, out);
    return PatchPoint{p, rusty(p)};
  });
  base::Random random(seed ^ 0x91U);
  const double askew = random.uniform(0, tau);
  for (const double side : {0.0, tau / 2})
    add_patch(steel, 10, 16, true, [&](int row, int column) {
      const double t = row / 9.0, round = tau * column / 16;
      const double wide = (0.0022 + 0.006 * std::sin(tau / 2 * t)) * std::cos(round),
                   deep = 0.0022 * std::sin(round);
      const double away = 0.6 * thick + t * std::min(0.030, 0.42 * r);
      const double turn = askew + side + deep / std::max(0.004, away);
      const scene::Vec3 p = frame.at(turn, away, stands - 0.006 - 0.006 * t + wide);
      return PatchPoint{p, rusty(p)};
    });
}

void BranchBuilder::brick_stop(Mesh& mesh) const {
  static const Rgb bodies[] = {linear_from_srgb(150, 80, 58), linear_from_srgb(132, 66, 50),
                               linear_from_srgb(164, 112, 74), linear_from_srgb(112, 64, 56)};
  const Rgb grey = linear_from_srgb(132, 126, 114);
  base::Random random(seed ^ 0xb1U);
  // Bats of brick, as broad as fits, in rows, squeezed mortar between them.
  const double high = std::min(0.060, 0.75 * shape.bore_radius_m), wide = 1.75 * high;
  const double lean = random.uniform(-0.25, 0.25), shift = random.uniform(0, wide);
  const int rows = 70;
  add_patch(mesh, rows + 1, 2 * branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps);
    const double away = shape.bore_radius_m * (1 - 0.999 * row / rows);
    const double start = shape.own_end ? end_out + 0.003 : frame.wall(turn, away) + 0.002;
    const double a = away * std::cos(turn), b = away * std::sin(turn);
    const double x = a * std::cos(lean) + b * std::sin(lean), y = b * std::cos(lean) - a * std::sin(lean);
    const scene::Vec3 flat = frame.at(turn, away, start);
    const double wavy = 0.003 * static_cast<double>(branch_noise(flat, 0.03, seed + 120U, 2));
    const double course = std::floor((y + wavy) / high + 0.35);
    const double in_y = (y + wavy) / high + 0.35 - course;
    const double along = (x + wavy + shift + (std::fmod(std::abs(course), 2) > 0.5 ? 0.5 * wide : 0)) / wide;
    const double in_x = along - std::floor(along);
    const double to_edge = std::min({in_y * high, (1 - in_y) * high, in_x * wide, (1 - in_x) * wide,
                                     shape.bore_radius_m - away}) -
                           0.005;
    const float rough = branch_noise(flat, 0.007, seed + 121U, 3);
    const bool brick = to_edge + 0.0022 * static_cast<double>(rough) > 0;
    const auto which = static_cast<std::uint32_t>(static_cast<int>(course) * 7 +
                                                  static_cast<int>(std::floor(along)) * 3 + 64);
    const double sits = 0.004 * static_cast<double>((which * 2654435761U >> 28U)) / 15;
    const double out = start + (brick ? sits + 0.0012 * static_cast<double>(rough)
                                      : 0.004 - 0.005 * static_cast<double>(rough));
    const scene::Vec3 p = frame.at(turn, away, out);
    const Rgb clean = brick ? (1 + 0.3F * branch_noise(p, 0.018, seed + 123U + which, 3)) * bodies[which % 4]
                            : (0.75F + 0.45F * rough) * grey;
    return PatchPoint{p, grimed(clean, p, 0.5F)};
  });
}

void BranchBuilder::filling(Mesh& mesh) const {
  using scene::Filling;
  base::Random random(seed ^ 0xf1U);
  const Filling what = connection.filling;
  const double r = shape.bore_radius_m;
  // It lies along the branch's lowest line; roots and mortar may come from anywhere.
  const bool lies = what == Filling::silt || what == Filling::rubble;
  const double foot = lies || random.uniform() < 0.5 ? lowest_turn(shape) : random.uniform(0, tau);
  const double high = 2 * r * scene::depth_from_area_share(std::min(1.0, connection.blocked_percent / 100));
  // How far its face goes back as it rises; what fills the mouth stands in it.
  const double free = 1 - std::min(1.0, connection.blocked_percent / 100);
  const double slope = (what == Filling::silt     ? 0.55
                        : what == Filling::rubble ? 0.35
                                                  : 0.12) *
                       std::min(1.0, 0.10 + 1.6 * free);
  const double bump = what == Filling::silt     ? 0.0018
                      : what == Filling::rubble ? 0.0050
                      : what == Filling::roots  ? 0.0060
                                                : 0.0038;
  const double top_back = 0.18;
  const int rows = 90, face = 60, columns = 90;
  const auto place = [&](double up, double x, double out) {
    // Across the mouth: `up` from its foot, x aside.
    const double b = r - up;
    return frame.middle + out * frame.out_way +
           (b * std::cos(foot) - x * std::sin(foot)) * scene::Vec3{0, 0, 1} +
           (b * std::sin(foot) + x * std::cos(foot)) * frame.side;
  };
  static const Rgb silt[] = {linear_from_srgb(66, 54, 40), linear_from_srgb(84, 76, 62),
                             linear_from_srgb(48, 44, 38)};
  static const Rgb stones[] = {linear_from_srgb(118, 112, 102), linear_from_srgb(140, 92, 66),
                               linear_from_srgb(92, 86, 78), linear_from_srgb(150, 140, 122)};
  const auto colour = [&](const scene::Vec3& p, float lump) {
    switch (what) {
      case Filling::silt:
        return (0.9F + 0.35F * lump) * silt[(seed >> 2U) % 3];
      case Filling::rubble:
        return (0.75F + 0.4F * lump) * soil_colour(p, seed + 131U);
      case Filling::mortar:
        return (0.85F + 0.35F * lump) * linear_from_srgb(140, 134, 122);
      case Filling::roots:
        break;
    }
    return (0.6F + 0.6F * lump) * blend(linear_from_srgb(56, 40, 25), linear_from_srgb(30, 23, 17),
                                        within(0.5F + branch_noise(p, 0.004, seed + 133U, 2)));
  };
  const auto start_at = [&](double up, double x) {
    const double away = std::min(std::hypot(r - up, x), 0.999 * r);
    const double turn = foot + std::atan2(x, r - up);
    return (shape.own_end ? end_out : frame.wall(turn, away)) + 0.002;
  };
  add_patch(mesh, rows + 1, columns + 1, false, [&](int row, int column) {
    const double t = std::min(1.0, static_cast<double>(row) / face),
                 back = std::max(0.0, static_cast<double>(row - face) / (rows - face));
    // Its upper edge is uneven, as much up as down.
    const double uneven =
        0.11 * t * std::min(1.0, 3 * free) *
        static_cast<double>(branch_noise({2.0 * column / columns, 0.3, 0}, 0.35, seed + 137U, 3));
    const double up = std::clamp(high * t * (1 + uneven), 1e-4, 2 * r - 1e-5),
                 chord = std::sqrt(std::max(0.0, r * r - (r - up) * (r - up)));
    const double x = (2.0 * column / columns - 1) * chord;
    double out = start_at(up, x) + slope * up + top_back * back * back;
    scene::Vec3 p = place(up, x, out);
    const float lump = branch_noise(p, what == Filling::rubble ? 0.020 : 0.013, seed + 135U, 4);
    // Bumps stay within the mouth's share.
    out += std::abs(bump) * static_cast<double>(lump) *
           std::min(1.0, 8 * (1 - std::abs(x) / std::max(1e-6, chord)));
    p = place(up, x, out);
    const auto light = static_cast<float>(std::exp(-std::max(0.0, out - start_at(up, x)) / 0.05));
    return PatchPoint{p, light * colour(p, lump)};
  });
  if (what == Filling::rubble || what == Filling::silt) {
    const int count = what == Filling::rubble ? 46 : 5;
    for (int i = 0; i < count; ++i) {
      const double size =
          (what == Filling::rubble ? random.uniform(0.10, 0.24) : random.uniform(0.03, 0.07)) * r;
      const double up = std::min(high - 0.4 * size, std::max(size, high * std::sqrt(random.uniform())));
      const double chord = std::sqrt(std::max(0.0, r * r - (r - up) * (r - up)));
      const double x = random.uniform(-1, 1) * std::max(0.0, chord - size);
      const Rgb tint = (what == Filling::rubble ? 0.8F : 0.45F) * stones[random.below(4)];
      add_stone(mesh, place(up, x, start_at(up, x) + slope * up + 0.2 * size), {size, 0.8 * size, 0.9 * size},
                random.uniform(0, tau), static_cast<std::uint32_t>(random.next()), what == Filling::rubble,
                tint, 10);
    }
  }
  if (what != Filling::roots) return;
  // Hair stands out of the mat into the run.
  for (int i = 0; i < 170; ++i) {
    const double up = high * std::sqrt(random.uniform());
    const double chord = std::sqrt(std::max(0.0, r * r - (r - up) * (r - up)));
    const double x = random.uniform(-0.95, 0.95) * chord;
    const scene::Vec3 root = place(up, x, start_at(up, x) + slope * up + 0.004);
    const double reach = random.uniform(0.010, 0.035), thick = random.uniform(0.0005, 0.0014);
    const scene::Vec3 aside{random.uniform(-0.5, 0.5) * reach, -random.uniform(0, 1.1) * reach,
                            random.uniform(-0.7, 0.7) * reach};
    const Rgb tint = blend(linear_from_srgb(70, 50, 32), linear_from_srgb(36, 27, 19),
                           static_cast<float>(random.uniform()));
    add_patch(mesh, 10, 6, true, [&](int row, int column) {
      const double t = row / 9.0, round = tau * column / 6;
      const double w = thick * (1 - 0.8 * t);
      const scene::Vec3 line = root - (reach * t) * frame.out_way + (t * t) * aside;
      return PatchPoint{line + scene::Vec3{0, w * std::cos(round), w * std::sin(round)}, tint};
    });
  }
}

}  // namespace haunch::render
