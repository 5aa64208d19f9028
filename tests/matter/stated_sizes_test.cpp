// SPDX-License-Identifier: Apache-2.0
// Bodies are as large as is stated, in narrow bores too.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "matter/solid.hpp"
#include "matter/wall.hpp"

namespace haunch::matter {
namespace {

using namespace scene;

Scene run_with(FaultKind kind, double bore_mm, std::uint64_t seed) {
  Scenario scenario;
  scenario.seed = seed;
  scenario.length_m = 4;
  Section section;
  section.to_m = 4;
  section.bore_mm = bore_mm;
  section.wall_mm = 0.11 * bore_mm;
  scenario.sections = {section};
  scenario.faults = {{std::move(kind), ""}};
  return build_scene(std::move(scenario));
}

template <class Each>
void each_point(const Scene& scene, Each each) {
  for (const SolidPart& part : solid_of(scene, 1).parts)
    for (const SolidPoint& p : part.points) {
      const Vec2 c = centre_at(scene, p.at.z);
      each(Vec2{p.at.x - c.x, p.at.y - c.y});
    }
}

class NarrowAndWide : public testing::TestWithParam<double> {};

TEST_P(NarrowAndWide, WhatTakesAShareOfTheBoreTakesIt) {
  const double bore = GetParam();
  for (const std::uint64_t seed : {3U, 7U}) {
    const auto share = [&](FaultKind kind) {
      const Scene scene = run_with(std::move(kind), bore, seed);
      return 100 * share_of_bore(scene, solid_of(scene, 1));
    };
    EXPECT_NEAR(share(BrokenWall{2.4, 12, 1.2 * bore, 0.9 * bore, 0, true, 15}), 15, 1.5) << seed;
    EXPECT_NEAR(share(BrokenWall{2.4, 12, 1.2 * bore, 0.9 * bore, 0, true, 40}), 40, 2) << seed;
    EXPECT_NEAR(share(Obstacle{2.4, ObstacleForm::built_in, {12, 12, false}, 7}), 7, 1) << seed;
    EXPECT_NEAR(share(SoilIngress{2, {2, 2, false}, SoilKind::gravel, 10}), 10, 1.5) << seed;
  }
}

TEST_P(NarrowAndWide, ThePieceThatMovedMostStandsInByWhatIsStated) {
  const double bore = GetParam();
  for (const std::uint64_t seed : {3U, 7U, 11U, 19U}) {
    const Scene scene =
        run_with(BrokenWall{2.4, 10, 0.8 * bore, 0.6 * bore, 0.08 * bore, false, 0}, bore, seed);
    double most = 0;
    each_point(scene, [&](Vec2 p) { most = std::max(most, bore / 2000 - length(p)); });
    EXPECT_NEAR(most, 0.08 * bore / 1000, 0.01 * bore / 1000) << seed;
  }
}

TEST(OutOfRound, WhatTakesAShareOfTheBoreTakesIt) {
  for (const PipeShape shape : {PipeShape::egg, PipeShape::rectangular})
    for (const auto& [form, percent] :
         {std::pair{ObstacleForm::brick, 15.0}, std::pair{ObstacleForm::bottle, 6.0},
          std::pair{ObstacleForm::timber, 10.0}, std::pair{ObstacleForm::built_in, 8.0},
          std::pair{ObstacleForm::through_wall, 8.0}}) {
      Scenario scenario;
      scenario.length_m = 4;
      Section section;
      section.to_m = 4;
      section.bore_mm = 300;
      section.shape = shape;
      section.height_mm = 220;
      scenario.sections = {section};
      scenario.faults = {{Obstacle{2.4, form, {2, 2, false}, percent}, ""}};
      const Scene scene = build_scene(std::move(scenario));
      EXPECT_NEAR(100 * share_of_bore(scene, solid_of(scene, 1)), percent, 0.1 * percent)
          << static_cast<int>(shape) << ", " << static_cast<int>(form);
    }
}

// Whether it has come out of a short arc or of a long one, above or below.
TEST_P(NarrowAndWide, ARingHangsAsFarFromItsWallAsIsStated) {
  const double bore = GetParam(), radius = bore / 2000;
  for (const base::ClockArc arc : {base::ClockArc{11.5, 12.5, false}, base::ClockArc{10, 2, false}}) {
    const Scene scene = run_with(SealingRing{2, arc, 0.2 * bore, false}, bore, 5);
    double most = 0;
    each_point(scene, [&](Vec2 p) {
      if (std::abs(p.x) < radius) most = std::max(most, std::sqrt(radius * radius - p.x * p.x) - p.y);
    });
    EXPECT_NEAR(most, 0.2 * bore / 1000, 0.01 * bore / 1000) << arc.from_h;
  }
  const Scene below = run_with(SealingRing{2, {5, 7, false}, 0.2 * bore, false}, bore, 5);
  double most = 0;
  each_point(below, [&](Vec2 p) {
    if (std::abs(p.x) < radius) most = std::max(most, std::sqrt(radius * radius - p.x * p.x) + p.y);
  });
  EXPECT_NEAR(most, 0.2 * bore / 1000, 0.01 * bore / 1000);
}
INSTANTIATE_TEST_SUITE_P(Bores, NarrowAndWide, testing::Values(75.0, 100.0, 150.0, 300.0));

TEST(BranchingCracks, StayInTheirStretch) {
  for (const double radius : {0.05, 0.225})
    for (std::uint64_t seed = 1; seed < 9; ++seed)
      for (const CrackLine& line :
           crack_shape({4.2, 4.45, {9.5, 1, false}, CrackForm::branching, 3}, radius, seed).lines)
        for (const CrackNode& node : line.nodes) {
          EXPECT_GE(node.z_m, 4.2);
          EXPECT_LE(node.z_m, 4.45);
        }
}

}  // namespace
}  // namespace haunch::matter
