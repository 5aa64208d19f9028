// SPDX-License-Identifier: Apache-2.0
// What tells faults apart at a glance: dark where one looks into something, a line that stands out
// against its wall, shade behind what stands in. Factors are ours, judged on pictures by eye.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;
using scene::Connection;
using scene::Crack;
using scene::CrackForm;
using scene::Fitting;
using scene::Material;

/// The same view with the fault and without it, at one exposure.
struct Pair {
  Frame with, without;
};
Pair draw_pair(const scene::Scene& run, double lens_z_m) {
  Renderer renderer(run, 2);
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.width = 960;
  view.height = 540;
  view.noise = view.lens_effects = false;
  view.faults = false;
  renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  Frame without = renderer.draw(view);
  view.faults = true;
  return {renderer.draw(view), std::move(without)};
}

/// Linear light of a pixel, 0 .. 1, about as the film shows it.
double light(const Frame& frame, std::size_t i) {
  double sum = 0;
  for (std::size_t k = 0; k < 3; ++k) sum += std::pow(frame.rgb[3 * i + k] / 255.0, 2.2);
  return sum / 3;
}

class Throat : public testing::TestWithParam<std::pair<Material, Fitting>> {};

// One looks into a second pipe that goes dark: more than 8 mm behind the wall's face it is at most a
// sixth as light as the wall that would stand there.
TEST_P(Throat, OfAnOpenConnectionIsDark) {
  const auto [material, fitting] = GetParam();
  const scene::Scene run = with(straight_run(material), Connection{4.5, 2, 90, fitting, 0, false});
  const Pair pair = draw_pair(run, 4.2);
  const scene::CameraPose pose = scene::pose_at(run, 4.2);
  const render_test::Pinhole pinhole(pose, pair.with.width, pair.with.height);
  double inside = 0, wall = 0, rim = 0;
  int deep = 0, edge = 0;
  for (std::size_t i = 0; i < pair.with.fault.size(); ++i) {
    if (pair.with.fault[i] != 1 || std::isinf(pair.with.depth_m[i])) continue;
    const auto w = static_cast<std::size_t>(pair.with.width);
    const scene::Vec3 p =
        pose.lens + static_cast<double>(pair.with.depth_m[i]) *
                        pinhole.direction(static_cast<double>(i % w) + 0.5, static_cast<double>(i / w) + 0.5);
    const scene::Vec2 c = scene::centre_at(run, p.z);
    const double behind = scene::length(scene::Vec2{p.x - c.x, p.y - c.y}) - scene::radius_at(run, p.z);
    if (behind > 0.008) {
      ++deep;
      inside += light(pair.with, i);
      wall += light(pair.without, i);
    }
    // The edge at the far side.
    if (behind > 0 && behind < 0.002) ++edge, rim += light(pair.with, i);
  }
  ASSERT_GT(deep, 300);
  ASSERT_GT(edge, 20);
  EXPECT_LT(inside, wall / 6) << show(material);
  EXPECT_GT(rim / edge, 2 * inside / deep) << "an edge that catches the lamp, " << show(material);
}
INSTANTIATE_TEST_SUITE_P(Connections, Throat,
                         testing::Values(std::pair{Material::clay, Fitting::branch},
                                         std::pair{Material::cast_iron, Fitting::branch},
                                         std::pair{Material::pvc, Fitting::saddle},
                                         std::pair{Material::concrete, Fitting::saddle},
                                         std::pair{Material::concrete, Fitting::cut_in}));

TEST(Throat, OfAClosedConnectionShowsItsLid) {
  const scene::Scenario clay = straight_run();
  const Pair open = draw_pair(with(clay, Connection{4.5, 2, 100, Fitting::branch, 0, false}), 4.2),
             closed = draw_pair(with(clay, Connection{4.5, 2, 100, Fitting::branch, 0, true}), 4.2);
  const auto mean = [](const Frame& frame) {
    double sum = 0;
    int count = 0;
    for (std::size_t i = 0; i < frame.fault.size(); ++i)
      if (frame.fault[i] == 1) ++count, sum += light(frame, i);
    return sum / count;
  };
  EXPECT_GT(mean(closed.with), 1.5 * mean(open.with));
}

// Beyond a pipe that stands in the wall lies in its shade.
TEST(StandingIn, ShadesTheWallBehind) {
  const Pair pair = draw_pair(
      with(straight_run(Material::concrete), Connection{4.5, 3, 80, Fitting::cut_in, 25, false}), 4.2);
  double shaded = 0, plain = 0;
  int pixels = 0;
  const std::size_t w = 960;
  for (std::size_t i = 12; i + 12 < pair.with.fault.size(); ++i) {
    // Beside the pipe's silhouette, towards the middle of the picture, on the wall beyond it.
    const bool beside = pair.with.fault[i] == 0 && pair.with.fault[i + 8] == 1 && i % w + 8 < w;
    if (!beside || pair.with.depth_m[i] < 0.28F || pair.with.depth_m[i] > 0.42F) continue;
    ++pixels;
    shaded += light(pair.with, i), plain += light(pair.without, i);
  }
  // Also where the wall meets its foot.
  ASSERT_GT(pixels, 20);
  EXPECT_LT(shaded, 0.8 * plain);
}

/// Difference of the colours as a share of the wall's own: about each pixel the fault shows in the strongest
/// within three pixels, which is the middle of the line; the mean of these along it.
double contrast(const scene::Scene& run, double lens_z_m) {
  const Pair pair = draw_pair(run, lens_z_m);
  const int w = pair.with.width, h = pair.with.height;
  double sum = 0;
  int pixels = 0;
  for (int y = 3; y < h - 3; ++y)
    for (int x = 3; x < w - 3; ++x) {
      if (pair.with.fault[static_cast<std::size_t>(y * w + x)] != 1) continue;
      double most = 0;
      for (int j = y - 3; j <= y + 3; ++j)
        for (int i = x - 3; i <= x + 3; ++i) {
          const auto at = static_cast<std::size_t>(j * w + i);
          double here = 0, wall = 0;
          for (std::size_t k = 0; k < 3; ++k) {
            here += std::abs(pair.with.rgb[3 * at + k] - pair.without.rgb[3 * at + k]);
            wall += pair.without.rgb[3 * at + k];
          }
          most = std::max(most, std::min(here / std::max(wall, 30.0), 1.0));
        }
      sum += most;
      ++pixels;
    }
  EXPECT_GT(pixels, 60);
  return sum / std::max(pixels, 1);
}

class RoundCrack : public testing::TestWithParam<Material> {};

// A crack round the pipe stands out from its wall as strongly as one along it, to a tenth; a hairline
// round it by more than half of that.
TEST_P(RoundCrack, StandsOutAsOneAlongDoes) {
  const scene::Scenario pipe = straight_run(GetParam(), 200);
  const auto of = [&](CrackForm form, double from, double to, double width_mm) {
    const base::ClockArc arc =
        form == CrackForm::around ? base::ClockArc{8, 4, false} : base::ClockArc{10, 10, false};
    return contrast(with(pipe, Crack{from, to, arc, form, width_mm}), 4.2);
  };
  const double along = of(CrackForm::along, 4.4, 4.6, 3), around = of(CrackForm::around, 4.5, 4.5, 3);
  EXPECT_GT(around, 0.9 * along);
  EXPECT_GT(of(CrackForm::around, 4.5, 4.5, 0), 0.6 * along) << "a hairline";
}
INSTANTIATE_TEST_SUITE_P(Materials, RoundCrack, testing::Values(Material::concrete, Material::clay));

class OpenJoint : public testing::TestWithParam<Material> {};

// One looks into a dark groove: half of it is at most a sixth as light as the wall it replaces (a third
// for iron, which is dark itself), and the end of the next unit shows a lit edge.
TEST_P(OpenJoint, IsADarkGrooveWithALitEdge) {
  const Pair pair = draw_pair(with(straight_run(GetParam()), scene::JointGap{5.0, 30}), 4.7);
  std::vector<double> groove;
  double wall = 0;
  for (std::size_t i = 0; i < pair.with.fault.size(); ++i)
    if (pair.with.fault[i] == 1) groove.push_back(light(pair.with, i)), wall += light(pair.without, i);
  ASSERT_GT(groove.size(), 500U);
  wall /= static_cast<double>(groove.size());
  std::sort(groove.begin(), groove.end());
  EXPECT_LT(groove[groove.size() / 2], wall / (GetParam() == Material::cast_iron ? 3 : 6))
      << show(GetParam());
  EXPECT_GT(groove[groove.size() * 97 / 100], 5 * groove[groove.size() / 2]) << show(GetParam());
}
INSTANTIATE_TEST_SUITE_P(Materials, OpenJoint,
                         testing::Values(Material::clay, Material::pvc, Material::cast_iron,
                                         Material::concrete));

}  // namespace
}  // namespace haunch::render
