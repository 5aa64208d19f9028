// SPDX-License-Identifier: Apache-2.0
// Brickwork that is damaged: openings as deep and wide as bricks are, bricks that stand in as far as stated,
// an invert that lies as low as it should, and mortar gone between bricks and not from them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/brick_damage.hpp"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;
using scene::BehindBricks;
using scene::BrickDamage;
using scene::BrickForm;
using scene::Material;

constexpr double radius_m = 0.150;

struct Seen {
  scene::Scene run;
  View view;
  Frame frame, sound;
  struct Met {
    double z, turn, away;  ///< chainage, radians clockwise from the crown, m from the axis
  };
  Met met(std::size_t i) const {
    const render_test::Pinhole pinhole(view.pose, view.width, view.height);
    const auto w = static_cast<std::size_t>(view.width);
    const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                               pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                                 static_cast<double>(i / w) + 0.5);
    const scene::Vec2 c = scene::centre_at(run, p.z);
    return {p.z, std::atan2(p.x - c.x, p.y - c.y), std::hypot(p.x - c.x, p.y - c.y)};
  }
};

Seen see(scene::FaultKind kind, double lens_z) {
  Seen seen{with(straight_run(Material::brick, 2000 * radius_m), std::move(kind)), {}, {}, {}};
  seen.view.pose = scene::pose_at(seen.run, lens_z);
  seen.view.width = 640, seen.view.height = 360;
  seen.view.noise = seen.view.lens_effects = false;
  Renderer renderer(seen.run, 2);
  seen.frame = renderer.draw(seen.view);
  seen.view.exposure = renderer.wanted_exposure();
  View bare = seen.view;
  bare.faults = false;
  seen.sound = renderer.draw(bare);
  return seen;
}

double light(const Frame& frame, std::size_t i) {
  return frame.rgb[3 * i] + frame.rgb[3 * i + 1] + frame.rgb[3 * i + 2];
}

TEST(MissingBricks, OpenTheWallAsFarAsTheBricksReach) {
  const BrickDamage damage{BrickForm::missing, 4.0, 4.5, {1, 3, false}, 0, BehindBricks::course, 0};
  const Seen seen = see(damage, 3.75);
  const matter::BrickArea area = matter::bricks_of(seen.run, damage);
  double first = 1e9, last = -1e9, low = 1e9, high = -1e9, deepest = 0;
  int open = 0;
  for (std::size_t i = 0; i < seen.frame.fault.size(); ++i) {
    if (seen.frame.fault[i] != 1 || !std::isfinite(seen.frame.depth_m[i])) continue;
    const Seen::Met p = seen.met(i);
    deepest = std::max(deepest, p.away - radius_m);
    if (p.away > radius_m + 0.004) continue;
    // The rim.
    first = std::min(first, p.z), last = std::max(last, p.z), low = std::min(low, p.turn),
    high = std::max(high, p.turn);
    ++open;
  }
  EXPECT_GT(open, 100);
  EXPECT_NEAR(first, area.from_m, 0.012);
  EXPECT_NEAR(last, area.to_m, 0.012);
  EXPECT_NEAR(low, area.from_angle, 0.008 / radius_m);
  EXPECT_NEAR(high, area.from_angle + area.span, 0.008 / radius_m);
  // A brick and a joint in, there is the next course.
  EXPECT_NEAR(deepest, scene::brick_ring_m + scene::brick_joint_m, 0.008);
}

TEST(MissingBricks, ShowNothingButDarknessWhereNothingIsBehind) {
  const auto dark_share = [](BehindBricks behind) {
    const Seen seen = see(BrickDamage{BrickForm::missing, 4.0, 4.5, {1, 3, false}, 0, behind, 0}, 3.75);
    double dark = 0, all = 0;
    for (std::size_t i = 0; i < seen.frame.fault.size(); ++i) {
      if (seen.frame.fault[i] != 1) continue;
      ++all;
      dark += std::isinf(seen.frame.depth_m[i]) || light(seen.frame, i) < 12 ? 1 : 0;
    }
    EXPECT_GT(all, 1500);
    return dark / all;
  };
  EXPECT_GT(dark_share(BehindBricks::nothing), 0.25);
  EXPECT_LT(dark_share(BehindBricks::course), 0.10);
}

TEST(DisplacedBricks, StandInAsFarAsStated) {
  for (const double moved_mm : {12.0, 40.0}) {
    const Seen seen = see(BrickDamage{BrickForm::displaced, 4.0, 4.6, {1, 4, false}, moved_mm}, 3.75);
    double most = 0;
    int pixels = 0;
    for (std::size_t i = 0; i < seen.frame.fault.size(); ++i) {
      if (seen.frame.fault[i] != 1 || !std::isfinite(seen.frame.depth_m[i])) continue;
      ++pixels;
      most = std::max(most, radius_m - seen.met(i).away);
    }
    EXPECT_GT(pixels, 3000);
    EXPECT_NEAR(1000 * most, moved_mm, 4 + 0.1 * moved_mm);
  }
}

TEST(DroppedInvert, LiesAsLowAsStated) {
  const Seen seen = see(BrickDamage{BrickForm::invert_dropped, 4.0, 5.2, {5, 7, false}, 45}, 3.9);
  double deepest = 0;
  for (std::size_t i = 0; i < seen.frame.fault.size(); ++i) {
    if (seen.frame.fault[i] != 1 || !std::isfinite(seen.frame.depth_m[i])) continue;
    const Seen::Met p = seen.met(i);
    EXPECT_LT(std::cos(p.turn), -0.5) << "at the bottom only";
    if (std::abs(p.z - 4.6) < 0.15 && std::cos(p.turn) < -0.995)
      deepest = std::max(deepest, p.away - radius_m);
  }
  EXPECT_NEAR(deepest, 0.045, 0.009);
}

TEST(CollapsedBrickwork, TakesItsShareOfTheBore) {
  for (const double percent : {12.0, 40.0}) {
    const scene::Scene run =
        with(straight_run(Material::brick, 300),
             BrickDamage{BrickForm::collapsed, 4.0, 4.5, {11, 1, false}, 0, BehindBricks::course, percent});
    const matter::Solid heap = matter::solid_of(run, 1);
    EXPECT_NEAR(100 * matter::share_of_bore(run, heap), percent, 2.5);
  }
}

TEST(MissingMortar, LeavesTheBricksOfBrickworkAndTakesWhatLiesBetween) {
  const Seen seen = see(scene::MissingMortar{4.5, {10, 2, false}, 18, 0.8}, 3.8);
  int between = 0, on_brick = 0;
  double gone = 0, was = 0;
  for (std::size_t i = 0; i < seen.frame.fault.size(); ++i) {
    if (seen.frame.fault[i] != 1 || !(seen.frame.depth_m[i] < 0.8F)) continue;
    const Seen::Met p = seen.met(i);
    const double off =
        matter::joint_distance_m(2000 * radius_m, p.z, p.turn < 0 ? p.turn + 2 * std::numbers::pi : p.turn);
    (off < 0.008 ? between : on_brick) += 1;
    gone += light(seen.frame, i), was += light(seen.sound, i);
    EXPECT_GT(std::cos(p.turn), 0.4) << "within its arc";
  }
  EXPECT_GT(between, 500);
  EXPECT_LT(on_brick, between / 6) << "seen aslant a hollow shows beyond its rim";
  EXPECT_LT(gone, 0.7 * was);
}

}  // namespace
}  // namespace haunch::render
