// SPDX-License-Identifier: Apache-2.0
// What moves while the shutter is open is as long as the way it goes; an old camera's picture is softer.
#include "render/motion.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "render/analogue.hpp"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

constexpr int wide = 400, high = 64;
constexpr std::uint32_t white = 0x3fffffff;

/// A white line, one pixel wide, at column x of the middle row: which columns it takes up once drawn out.
std::pair<int, int> drawn_out(int x, const Motion& motion, float depth_along_axis) {
  std::vector<std::uint32_t> toned(wide * high + 32, 0);
  std::vector<float> depth(wide * high, 1e9F);
  constexpr int row = high / 2;
  for (int c = 0; c < wide; ++c) {
    const float tan_x = (2 * (static_cast<float>(c) + 0.5F) / wide - 1) * motion.half_width;
    depth[row * wide + c] = depth_along_axis * std::sqrt(1 + tan_x * tan_x);
  }
  for (int y = 0; y < high; ++y) toned[static_cast<std::size_t>(y * wide + x) + 16] = white;
  std::vector<std::uint32_t> out(wide);
  draw_out(motion, toned.data() + 16, depth.data(), wide, high, row, out.data());
  int first = wide, last = -1;
  for (int c = 0; c < wide; ++c)
    if (out[static_cast<std::size_t>(c)] != 0) first = std::min(first, c), last = c;
  return {first, last};
}

// A point at x (tangents) and depth d moves by x * way / d towards the rim (similar triangles).
TEST(Motion, DrawsOutByTheWayThePointGoesOverThePicture) {
  Motion motion;
  motion.ahead = 0.003F;  // 0.15 m/s for a fiftieth of a second
  motion.half_width = 1;
  motion.half_height = 0.16F;
  for (const int x : {10, 60, 330, 390})
    for (const float depth : {0.075F, 0.15F}) {
      const double tangent = (x + 0.5) / 200 - 1, expected = 200 * std::abs(tangent) * 0.003 / depth;
      const auto [first, last] = drawn_out(x, motion, depth);
      // Taps lie an eighth of the way apart.
      EXPECT_NEAR(last - first, expected, 1 + expected / 8) << x << " " << depth;
      EXPECT_NEAR((first + last) / 2.0, x, 1.1) << x;
    }
  const auto [first, last] = drawn_out(200, motion, 0.075F);
  EXPECT_EQ(first, 200);
  EXPECT_EQ(last, 200) << "ahead nothing moves";
}

TEST(Motion, SidewaysWhenTheHeadIsTurned) {
  const scene::Scene run = scene::build_scene(render_test::straight_run());
  scene::CameraPose pose = scene::pose_at(run, 4);
  pose.yaw_deg = 90;
  const Motion motion = motion_of(ray_camera(pose, 640, 360), pose, 0.1, 0, 0.02);
  // It looks to the right: the way ahead is to its left.
  EXPECT_NEAR(motion.right, -0.002, 1e-5);
  EXPECT_NEAR(motion.ahead, 0, 1e-6);
}

/// How much neighbours differ, on the mean, where the wall is near and where it is far.
double busy(const Frame& frame, bool near) {
  double sum = 0, many = 0;
  for (int y = 0; y < frame.height; ++y)
    for (int x = 1; x < frame.width; ++x) {
      const auto i = static_cast<std::size_t>(y * frame.width + x);
      if ((frame.depth_m[i] < 0.12F) != near) continue;
      sum += std::abs(frame.rgb[3 * i + 1] - frame.rgb[3 * i - 2]), ++many;
    }
  return sum / many;
}

TEST(Motion, BlursTheNearWallAndIsOffWhenTheCameraStands) {
  const scene::Scene run = scene::build_scene(render_test::straight_run(scene::Material::concrete));
  View view;
  view.pose = scene::pose_at(run, 3.9);
  view.width = 641;
  view.height = 361;
  view.noise = view.lens_effects = false;
  Renderer renderer(run, 2);
  const Frame still = renderer.draw(view);
  view.speed_m_s = 0.15;
  const Frame moving = renderer.draw(view);
  EXPECT_LT(busy(moving, true), 0.75 * busy(still, true));
  EXPECT_GT(busy(moving, false), 0.75 * busy(still, false));
  EXPECT_EQ(moving.fault, still.fault);
  view.speed_m_s = 0;
  EXPECT_EQ(renderer.draw(view).rgb, still.rgb);
  view.roll_deg_s = 200;
  EXPECT_LT(busy(renderer.draw(view), true), 0.9 * busy(still, true));
}

// The even and the odd lines of a moving picture are taken a fiftieth of a second apart.
TEST(Analogue, WhatMovesHasACombAndWhatStandsHasNone) {
  scene::Scenario scenario = render_test::straight_run();
  scenario.faults.push_back({scene::Connection{4.4, 3, 100, scene::Fitting::branch, 0, false}, ""});
  const scene::Scene run = scene::build_scene(scenario);
  View view;
  view.pose = scene::pose_at(run, 4.2);
  view.width = 640;
  view.height = 360;
  view.noise = false;
  view.analogue = true;
  Renderer renderer(run, 2);
  // Lines against the one after next, and against the next.
  const auto comb = [&](const Frame& frame) {
    double next = 0, after = 0;
    for (int y = 0; y + 2 < frame.height; ++y)
      for (int x = 400; x < 640; ++x) {
        const auto at = [&](int row) {
          return static_cast<int>(frame.rgb[3 * static_cast<std::size_t>(row * frame.width + x) + 1]);
        };
        next += std::abs(at(y) - at(y + 1)), after += std::abs(at(y) - at(y + 2));
      }
    return next / after;
  };
  const double still = comb(renderer.draw(view));
  view.speed_m_s = 0.15;
  EXPECT_GT(comb(renderer.draw(view)), 1.15 * still);
}

TEST(Analogue, ColourIsSofterThanLight) {
  // Left half grey, right half of the same light but red.
  std::vector<std::uint8_t> row(3 * 640);
  for (std::size_t x = 0; x < 640; ++x) {
    const bool right = x >= 320;
    row[3 * x] = right ? 180 : 100;
    row[3 * x + 1] = right ? 60 : 100;
    row[3 * x + 2] = right ? 100 : 100;
  }
  std::vector<std::uint8_t> soft = row;
  make_analogue(soft.data(), 640, 7, 5);
  // Columns in which red is neither as on the left nor as on the right.
  const auto between = [&](const std::vector<std::uint8_t>& of) {
    int many = 0;
    for (std::size_t x = 280; x < 360; ++x) many += of[3 * x] > 110 && of[3 * x] < 170;
    return many;
  };
  EXPECT_EQ(between(row), 0);
  EXPECT_GE(between(soft), 4);
  std::vector<std::uint8_t> again = row;
  make_analogue(again.data(), 640, 7, 5);
  EXPECT_EQ(again, soft);
  again = row;
  make_analogue(again.data(), 640, 8, 5);
  EXPECT_NE(again, soft) << "no two lines alike";
}

}  // namespace
}  // namespace haunch::render
