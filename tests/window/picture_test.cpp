// SPDX-License-Identifier: Apache-2.0
// The drawing thread.
#include "window/picture.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <thread>

#include "window/runs.hpp"
#include "window/window.hpp"

namespace haunch::window {
namespace {

TEST(Exposure, IsThereAtOnceAndThenFollows) {
  EXPECT_DOUBLE_EQ(eased_exposure(0, 2.5, 0.001), 2.5);
  const double up = eased_exposure(1, 4, 0.1);
  EXPECT_GT(up, 1);
  EXPECT_LT(up, 4);
  // In stops, brighter and darker take equally long.
  EXPECT_NEAR(std::log2(up / 1), std::log2(4 / eased_exposure(4, 1, 0.1)), 1e-12);
  EXPECT_NEAR(eased_exposure(1, 4, 100), 4, 1e-9);
  // Two short steps are one long one, so that the frame rate does not matter.
  EXPECT_NEAR(eased_exposure(eased_exposure(1, 4, 0.03), 4, 0.07), eased_exposure(1, 4, 0.1), 1e-12);
}

TEST(Picture, KeepsTheWindowsShapeAndItsLimits) {
  EXPECT_EQ(picture_size(640, 360), (Size{640, 360}));
  EXPECT_EQ(picture_size(2560, 1440), (Size{1280, 720}));
  EXPECT_EQ(picture_size(1000, 2000), (Size{360, 720}));
  EXPECT_EQ(picture_size(0, 0), (Size{16, 16})) << "a window folded away";
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

}  // namespace
}  // namespace haunch::window
