// SPDX-License-Identifier: Apache-2.0
// The drawing thread, and where the ring lies in what it draws.
#include "window/picture.hpp"
#include "scenario/read.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <thread>
#include <utility>

#include "base/clock.hpp"
#include "base/files.hpp"
#include "render/finish.hpp"
#include "render/passes.hpp"
#include "window/runs.hpp"
#include "window/window.hpp"

namespace haunch::window {
namespace {

TEST(Picture, KeepsTheWindowsShapeAndItsLimits) {
  EXPECT_EQ(picture_size(640, 360), (Size{640, 360}));
  EXPECT_EQ(picture_size(2560, 1440), (Size{1280, 720}));
  EXPECT_EQ(picture_size(1000, 2000), (Size{360, 720}));
  EXPECT_EQ(picture_size(0, 0), (Size{16, 16})) << "a window folded away";
}

TEST(Picture, IsDrawnAgainWhenTheCameraStopsAndWhileDropsRunOffIt) {
  const auto scene = test::short_scene();
  ASSERT_TRUE(scene.water.reaches.empty()) << "nothing moves by itself";
  Picture picture(scene, 1);
  Look look;
  look.pose = scene::pose_at(scene, 0.5);
  Picture::Image image;
  const auto settle = [&] {
    while (picture.want(look, 64, 48))
      while (!picture.take(image)) std::this_thread::sleep_for(std::chrono::milliseconds(1));
  };
  look.speed_m_s = 0.15;
  settle();
  EXPECT_FALSE(picture.want(look, 64, 48));
  look.speed_m_s = 0;
  EXPECT_TRUE(picture.want(look, 64, 48)) << "it was drawn out, and stands now";
  settle();
  look.wet_ago_s = 1;
  look.time_s += 0.1;
  EXPECT_TRUE(picture.want(look, 64, 48)) << "drops have run on";
  settle();
  look.wet_ago_s = 30;
  look.time_s += 29;
  EXPECT_FALSE(picture.want(look, 64, 48)) << "long dry";
}

TEST(Picture, ComesFromAThreadOfItsOwnInTheSizeLastWished) {
  const auto scene = test::short_scene();
  Picture picture(scene, 1);
  Look look;
  look.pose = scene::pose_at(scene, 0.5);
  for (int i = 0; i < 20; ++i) picture.want(look, 64, 48);
  picture.want(look, 96, 64);
  Picture::Image image;
  // Waits as long as it takes; the runner's own limit ends a picture that never comes.
  while (image.width != 96) {
    picture.take(image);
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  EXPECT_EQ(image.height, 64);
  ASSERT_EQ(image.rgba.size(), 96U * 64 * 4);
  EXPECT_EQ(image.rgba[3], 255);
  EXPECT_FALSE(picture.take(image)) << "each picture is handed out once";
}

TEST(Picture, ACameraThatStandsIsNotDrawnAgainAndAgain) {
  const auto scene = test::short_scene();
  ASSERT_TRUE(scene.water.reaches.empty()) << "nothing moves by itself";
  Picture picture(scene, 1);
  Look look;
  look.pose = scene::pose_at(scene, 0.5);
  ASSERT_TRUE(picture.want(look, 64, 48));
  Picture::Image image;
  // As the window does: until the exposure has settled, as long as that takes.
  while (picture.want(look, 64, 48) || image.width == 0) {
    picture.take(image);
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  look.time_s += 60;
  EXPECT_FALSE(picture.want(look, 64, 48)) << "time alone shows nothing here";
  EXPECT_TRUE(picture.want(look, 96, 64)) << "another size";
  look.pose = scene::pose_at(scene, 0.51);
  EXPECT_TRUE(picture.want(look, 96, 64)) << "another place";
  look.highlight_fault = 1;
  EXPECT_TRUE(picture.want(look, 96, 64)) << "a fault lit";
  look.ring_z_m = 0.6;
  EXPECT_TRUE(picture.want(look, 96, 64)) << "the ring shown";
}

TEST(Picture, HoursLieOnTheWallAsTheCameraLooks) {
  for (const char* from : {"start", "end"}) {
    auto scenario = test::short_scene().scenario;
    scenario.inspection.from = std::string(from) == "end" ? scene::End::end : scene::End::start;
    const scene::Scene scene = scene::build_scene(std::move(scenario));
    const int way = scene::travel(scene.scenario);
    scene::CameraPose pose = scene::pose_at(scene, 1.0);
    pose.roll_deg = 0;
    const auto middle_of = [&](double hour) {
      Place sum;
      int many = 0;
      for (const auto& stroke :
           hours_in_picture(scene, pose, 200, 100, 1.0 + 0.2 * way, {hour, hour, false}, false))
        for (const Place& place : stroke) sum.x += place.x, sum.y += place.y, ++many;
      EXPECT_GT(many, 3) << hour;
      return Place{sum.x / many, sum.y / many};
    };
    EXPECT_LT(middle_of(12).y, 45) << from;
    EXPECT_NEAR(middle_of(12).x, 100, 2);
    EXPECT_GT(middle_of(6).y, 55);
    EXPECT_GT(middle_of(3).x, 110) << from << ": to the right, whichever way it looks";
    EXPECT_LT(middle_of(9).x, 90);
    // The whole way round is one line, in pieces where it is what was logged.
    EXPECT_EQ(hours_in_picture(scene, pose, 200, 100, 1.0 + 0.2 * way, {12, 12, true}, false).size(), 1U);
    EXPECT_GT(hours_in_picture(scene, pose, 200, 100, 1.0 + 0.2 * way, {12, 12, true}, true).size(), 20U);
    EXPECT_TRUE(hours_in_picture(scene, pose, 200, 100, 1.0 - 0.2 * way, {3, 3, false}, false).empty())
        << "behind it";
  }
}

TEST(Picture, RipplesAreDrawnAFewTimesASecond) {
  auto scenario = scenario::read_scenario(base::content_dir() / "scenarios" / "terrace-clay-drain.json");
  ASSERT_TRUE(scenario);
  const auto scene = scene::build_scene(std::move(scenario).value());
  ASSERT_FALSE(scene.water.reaches.empty());
  Picture picture(scene, 1);
  Look look;
  look.pose = scene::pose_at(scene, 1.0);
  Picture::Image image;
  while (picture.want(look, 64, 48) || image.width == 0) {
    picture.take(image);
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  look.time_s += ripple_s / 2;
  EXPECT_FALSE(picture.want(look, 64, 48));
  look.time_s += ripple_s;
  EXPECT_TRUE(picture.want(look, 64, 48));
}

TEST(Ring, OnTheAxisItIsACircleThirtyFiveDegreesOff) {
  const auto scene = test::short_scene();
  Look look;
  look.pose.lens = {scene::centre_at(scene, 0.3).x, scene::centre_at(scene, 0.3).y, 0.3};
  look.pose.forward = {0, 0, 1};
  look.pose.field_deg = 90;
  // Level and straight here: the fall of 1.5 % over a decimetre is left out by a sheer shift.
  const double ahead = scene::reference_ring_ahead_m(scene::radius_at(scene, 0.3));
  look.ring_z_m = 0.3 + ahead;
  const double drop = scene::centre_at(scene, 0.3).y - scene::centre_at(scene, 0.3 + ahead).y;
  look.pose.lens.y -= drop;
  const auto strokes = ring_in_picture(scene, look, 1280, 720);
  ASSERT_EQ(strokes.size(), 1U);
  for (const Place& place : strokes[0]) {
    const double r = std::hypot(2 * place.x / 1280 - 1, (2 * place.y - 720) / 1280);
    // tan 35 over tan 45, through the lens's barrel.
    EXPECT_NEAR(r * (1 + 0.075 * r * r) / 1.1, 0.70021, 1e-4);
  }
}

TEST(Ring, WaterCutsIt) {
  auto scenario = scenario::read_scenario(base::content_dir() / "scenarios" / "terrace-clay-drain.json");
  ASSERT_TRUE(scenario);
  const auto scene = scene::build_scene(std::move(scenario).value());
  Look look;
  look.pose = scene::pose_at(scene, 1.0);
  look.ring_z_m = 1.1;
  const double level = scene::level_at(scene.water, *look.ring_z_m);
  ASSERT_GT(level, scene::invert_at(scene, *look.ring_z_m)) << "a trickle";
  std::size_t points = 0;
  for (const auto& stroke : ring_in_picture(scene, look, 640, 360)) points += stroke.size();
  EXPECT_LT(points, 181U);
  EXPECT_GT(points, 100U);
  look.ring_z_m.reset();
  EXPECT_TRUE(ring_in_picture(scene, look, 640, 360).empty());
}

/// Every point of the ring lies where the renderer draws that point of the wall: by the renderer's own
/// straight projection and lens map, and by the depth of a picture it drew.
TEST(Ring, LiesWhereTheRendererDrawsTheWall) {
  const auto scene = test::short_scene();
  constexpr int width = 640, height = 360;
  const auto lens = render::lens_map(width, height, 1, {}, false);
  render::Renderer renderer(scene, 1);
  int checked = 0, mapped = 0, deep = 0;
  for (const int travel : {1, -1}) {
    render::View view;
    view.width = width;
    view.height = height;
    view.faults = false;
    view.pose = scene::pose_at(scene, 1.5);
    view.pose.travel = travel;
    view.pose.forward = travel * view.pose.forward;
    view.pose.lens = view.pose.lens + scene::Vec3{0.012, -0.02, 0};  // off the axis, so that a roll shows
    view.pose.roll_deg = 25;
    view.pose.yaw_deg = 6;
    view.pose.pitch_deg = -4;
    view.pose.field_deg = 100;
    const auto frame = renderer.draw(view);
    const auto camera = render::ray_camera(view.pose, width, height);
    Look look;
    look.pose = view.pose;
    look.ring_z_m = 1.5 + travel * scene::reference_ring_ahead_m(scene::radius_at(scene, 1.5));
    for (int tenth = 0; tenth < 120; ++tenth) {
      const auto point = scene::wall_point(scene, *look.ring_z_m, base::wrap_hours(tenth / 10.0));
      if (point.y < scene::level_at(scene.water, *look.ring_z_m)) continue;
      double px = 0, py = 0, distance_m = 0, pixel_m = 0;
      ASSERT_TRUE(render::project(camera, point, px, py, distance_m, pixel_m));
      const auto place = place_in_picture(view.pose, point, width, height);
      ASSERT_TRUE(place);
      const bool inside = place->x > 1 && place->y > 1 && place->x < width - 1 && place->y < height - 1;
      if (!inside || px < 1 || py < 1 || px > width - 1 || py > height - 1) continue;
      ++checked;
      const auto at = static_cast<std::size_t>(place->y) * width + static_cast<std::size_t>(place->x);
      // The map tells of the pixel's middle; the place may lie half a pixel off it.
      const double from_x = lens.x[at] / 16.0 + 0.5, from_y = lens.y[at] / 16.0 + 0.5;
      if (std::hypot(from_x - px, from_y - py) < 1.0) ++mapped;
      const auto pixel = static_cast<std::size_t>(py) * width + static_cast<std::size_t>(px);
      if (std::abs(frame.depth_m[pixel] - distance_m) < 0.03 * distance_m) ++deep;
    }
  }
  EXPECT_GT(checked, 60);
  EXPECT_EQ(mapped, checked);
  EXPECT_GT(deep, 0.95 * checked);
}

}  // namespace
}  // namespace haunch::window
