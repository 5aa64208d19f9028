// SPDX-License-Identifier: Apache-2.0
// Sections that are not round, held against integration of our own and against the circle.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scene/camera.hpp"
#include "scene/layout.hpp"
#include "scene/runs.hpp"

namespace haunch::scene {
namespace {

constexpr double pi = std::numbers::pi;

Bore oval(double lost) { return {other_half_axis_m(0.075, lost), 0.075 * (1 - lost)}; }
Bore broken(double lost) { return {other_hinged_half_m(0.075, lost), 0.075 * (1 - lost), BoreForm::hinged}; }

/// Counts squares of a fine grid whose middles lie in the clear and below a depth.
double counted_area(const Bore& bore, double depth) {
  constexpr int squares = 800;
  const double side = 2 * std::max(bore.half_width_m, bore.half_height_m) / squares;
  double area = 0;
  for (int i = 0; i < squares; ++i)
    for (int k = 0; k < squares; ++k) {
      const Vec2 p{(i + 0.5 - squares / 2.0) * side, (k + 0.5 - squares / 2.0) * side};
      if (p.y < depth - bore.half_height_m && inside(bore, p)) area += side * side;
    }
  return area;
}

/// Walks the wall in small steps of direction, both sides, and adds up what lies in the water.
double walked_wall(const Bore& bore, double depth) {
  double sum = 0;
  Vec2 last{0, -bore.half_height_m};
  for (int i = 1; i <= 20000; ++i) {
    const double turn = pi * i / 20000;
    const Vec2 out{std::sin(turn), -std::cos(turn)};
    const Vec2 p = radius_toward(bore, out) * out;
    if ((p.y + last.y) / 2 < depth - bore.half_height_m) sum += 2 * length(p - last);
    last = p;
  }
  return sum;
}

TEST(Bore, AFlexiblePipeKeepsItsPerimeter) {
  for (const double lost : {0.03, 0.10, 0.25, 0.50}) {
    const Bore bore = oval(lost);
    EXPECT_NEAR(walked_wall(bore, 1), 2 * pi * 0.075, 2e-5) << lost;
    EXPECT_NEAR(perimeter_m(bore), 2 * pi * 0.075, 1e-9) << lost;
    EXPECT_GT(bore.half_width_m, 0.075);
  }
  EXPECT_EQ(other_half_axis_m(0.075, 0), 0.075);
  // "5 % deformation costs 0.4 % of area" (reference: trade/README.md, same perimeter).
  const Bore five = oval(0.05);
  EXPECT_NEAR(1 - five.half_width_m * five.half_height_m / (0.075 * 0.075), 0.004, 0.0005);
}

TEST(Bore, QuartersOfARigidPipeStayAsTheyWere) {
  for (const double lost : {0.05, 0.15, 0.25}) {
    const Bore bore = broken(lost);
    EXPECT_NEAR(quarter_radius_m(bore), 0.075, 1e-12);
    EXPECT_NEAR(std::hypot(bore.half_width_m, bore.half_height_m), 0.075 * std::sqrt(2), 1e-12) << "chord";
    EXPECT_NEAR(walked_wall(bore, 1), 2 * pi * 0.075, 3e-5) << lost;
    EXPECT_NEAR(radius_toward(bore, {1, 0}), bore.half_width_m, 1e-12);
    EXPECT_NEAR(radius_toward(bore, {0, -1}), bore.half_height_m, 1e-12);
    const double shift = quarter_shift_m(bore);
    for (const double hour : {0.4, 1.0, 2.0, 2.9}) {
      const Vec2 p = radius_toward(bore, toward_clock(hour)) * toward_clock(hour);
      EXPECT_NEAR(length(p - Vec2{shift, -shift}), 0.075, 1e-9) << "each quarter is an arc of the old circle";
    }
  }
}

TEST(Bore, WaterInItAgreesWithCountingAndWalking) {
  for (const Bore& bore : {oval(0.1), oval(0.4), Bore{0.06, 0.09, BoreForm::egg},
                           Bore{0.08, 0.05, BoreForm::box}, Bore{0.05, 0.09, BoreForm::box},
                           Bore{0.06, other_half_axis_m(0.075, 0.2)}, broken(0.1), broken(0.2)}) {
    for (const double share : {0.08, 0.3, 0.5, 0.77, 1.0}) {
      const double depth = share * 2 * bore.half_height_m;
      const double full = pi * 0.075 * 0.075;
      EXPECT_NEAR(area_m2(bore, depth), counted_area(bore, depth), 0.002 * full) << share;
      if (share < 1) {
        EXPECT_NEAR(wetted_m(bore, depth), walked_wall(bore, depth), 4e-4) << share;
      }
      // The surface's width is how fast the area grows.
      const double step = 1e-5;
      if (share < 1) {
        EXPECT_NEAR(width_m(bore, depth),
                    (area_m2(bore, depth + step) - area_m2(bore, depth - step)) / (2 * step), 5e-4)
            << share;
      }
    }
    EXPECT_NEAR(pi * mean_radius_m(bore) * mean_radius_m(bore), counted_area(bore, 1), 5e-5);
  }
}

TEST(Bore, ACircleIsACircle) {
  const Bore round{0.075, 0.075};
  for (const double share : {0.1, 0.5, 0.9}) {
    EXPECT_NEAR(area_m2(round, share * 0.15), area_share(share) * pi * 0.075 * 0.075, 1e-12);
    EXPECT_NEAR(width_m(round, share * 0.15), width_share(share) * 0.15, 1e-12);
    EXPECT_NEAR(area_m2(round, share * 0.15) / wetted_m(round, share * 0.15),
                hydraulic_radius_share(share) * 0.15 / 4, 1e-12);
  }
  EXPECT_EQ(radius_toward(round, toward_clock(1.7)), 0.075);
  for (const double flow : {0.0005, 0.003, 0.02})
    EXPECT_NEAR(depth_for_flow_m(round, flow, 0.01, 0.013),
                0.15 * depth_share_for_flow(0.15, flow, 0.01, 0.013), 1e-9);
}

Scenario squashed_run(Squashed squashed, Material material = Material::pvc) {
  Scenario scenario = plain_run(10, 150, material);
  scenario.sections[0].wall_mm = 16;
  add(scenario, squashed);
  return scenario;
}

TEST(SquashedRun, HasTheStatedSizeInItsMiddleAndIsRoundOutside) {
  for (const bool vertical : {true, false})
    for (const Material material : {Material::pvc, Material::clay}) {
      const Scene scene = build_scene(squashed_run({3.2, 6.7, vertical, 12}, material));
      const Bore middle = bore_at(scene, 4.95);
      EXPECT_NEAR(vertical ? middle.half_height_m : middle.half_width_m, 0.88 * 0.075, 1e-12);
      EXPECT_GT(vertical ? middle.half_width_m : middle.half_height_m, 1.08 * 0.075);
      EXPECT_EQ(middle.form, material == Material::clay ? BoreForm::hinged : BoreForm::oval);
      for (const double z : {0.5, 3.19, 6.71, 9.0}) EXPECT_EQ(bore_at(scene, z), (Bore{0.075, 0.075}));
      for (double z = 3; z < 7; z += 0.01) {
        EXPECT_NEAR(invert_at(scene, z), 0.01 * (10 - z), 1e-9) << "it stays on its bedding";
        // No step anywhere: pieces meet.
        EXPECT_LT(std::abs(bore_at(scene, z + 1e-6).half_width_m - bore_at(scene, z).half_width_m), 1e-6);
      }
      for (const double hour : {12.0, 3.0, 7.5}) {
        const Vec3 p = wall_point(scene, 4.95, hour);
        const Vec2 from = Vec2{p.x, p.y} - centre_at(scene, 4.95);
        EXPECT_NEAR(std::remainder(clock_of(from) - hour, 12), 0, 1e-9) << "clocks are directions";
      }
    }
}

TEST(SquashedRun, OfNothingIsTheRoundRunToTheLastBit) {
  Scenario scenario = plain_run(10, 150, Material::pvc);
  scenario.flow_l_s = 0.4;
  const Scene round = build_scene(scenario);
  add(scenario, Squashed{3.2, 6.7, true, 0});
  const Scene none = build_scene(scenario);
  ASSERT_EQ(none.pieces.size(), round.pieces.size());
  for (double z = 0; z <= 10; z += 0.13) {
    EXPECT_EQ(centre_at(none, z), centre_at(round, z));
    EXPECT_EQ(level_at(none.water, z), level_at(round.water, z));
  }
}

// What flows through carries on: by continuity area times velocity is the flow, by Manning's equation.
TEST(SquashedRun, CarriesTheFlowAtItsOwnDepth) {
  Scenario scenario = squashed_run({2, 8, true, 40});
  scenario.flow_l_s = 3;
  const Scene scene = build_scene(scenario);
  const double depth = level_at(scene.water, 5) - invert_at(scene, 5);
  const Bore bore = bore_at(scene, 5);
  const double area = counted_area(bore, depth), hydraulic = area / walked_wall(bore, depth);
  EXPECT_NEAR(area * std::pow(hydraulic, 2.0 / 3.0) * std::sqrt(0.01) / 0.013, 0.003, 0.00005);
  EXPECT_LT(depth, level_at(scene.water, 1) - invert_at(scene, 1)) << "a flat wide invert runs shallower";
}

TEST(SquashedRun, CarriesTheCameraOnItsInvert) {
  const Scene scene = build_scene(squashed_run({3, 7, true, 20}));
  for (const double z : {2.0, 3.4, 5.0}) {
    const CameraPose pose = pose_at(scene, z);
    EXPECT_NEAR(pose.lens.y - invert_at(scene, z), 0.075, 1e-3) << z;
  }
}

}  // namespace
}  // namespace haunch::scene
