// SPDX-License-Identifier: Apache-2.0
// The water's surface where the scene puts it, and what it hides.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::Pixel;
using render_test::straight_run;

scene::Scene sagging(double depth_mm, scene::WaterLook look = scene::WaterLook::cloudy) {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({1, 7, depth_mm});
  scenario.water = look;
  return scene::build_scene(scenario);
}

View bare_view(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.lens_effects = false;
  view.noise = false;
  return view;
}

/// Which pixels show water: those whose distance differs from the dry pipe's.
struct Wet {
  Frame wet, dry;
  bool operator()(int x, int y) const {
    const auto i =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(wet.width) + static_cast<std::size_t>(x);
    const float a = wet.depth_m[i], b = dry.depth_m[i];
    return std::isinf(a) != std::isinf(b) || (!std::isinf(b) && std::fabs(a - b) > 1e-4F * b);
  }
};
Wet draw_both(const scene::Scene& run, const View& view) {
  scene::Scene drained = run;
  drained.water.reaches.clear();
  return {Renderer(run, 2).draw(view), Renderer(drained, 2).draw(view)};
}

/// Where the surface meets the wall, on one side.
scene::Vec3 waterline(const scene::Scene& run, double z, double side) {
  const double level = scene::level_at(run.water, z);
  const scene::Vec2 centre = scene::centre_at(run, z);
  const double radius = scene::radius_at(run, z), high = level - centre.y;
  return {centre.x + side * std::sqrt(std::max(0.0, radius * radius - high * high)), level, z};
}

// Where the surface meets the wall is known from the level alone; along a row of the picture water
// begins within a pixel of where that line crosses the row's middle.
TEST(Waterline, MeetsTheWallAtTheDerivedDepth) {
  const scene::Scene run = sagging(60);
  ASSERT_FALSE(run.water.reaches.empty());
  const double pond = run.water.reaches.front().from_m;
  const View view = bare_view(run, pond + 0.1);
  const Wet is_wet = draw_both(run, view);
  const Pinhole pinhole(view.pose, view.width, view.height);
  int checked = 0;
  for (double z = pond + 0.3; z < pond + 1.1; z += 0.1) {
    for (const double side : {-1.0, 1.0}) {
      const Pixel near_here = pinhole.show(waterline(run, z, side));
      if (near_here.x < 8 || near_here.y < 8 || near_here.x > view.width - 8 || near_here.y > view.height - 8)
        continue;
      const int y = static_cast<int>(near_here.y);
      // Farther off the line stands higher in the picture.
      double nearer = z - 0.1, farther = z + 0.1;
      ASSERT_GT(pinhole.show(waterline(run, nearer, side)).y, y + 0.5);
      ASSERT_LT(pinhole.show(waterline(run, farther, side)).y, y + 0.5);
      for (int i = 0; i < 50; ++i) {
        const double middle = (nearer + farther) / 2;
        (pinhole.show(waterline(run, middle, side)).y > y + 0.5 ? nearer : farther) = middle;
      }
      const Pixel place = pinhole.show(waterline(run, nearer, side));
      // Along this row, from the dry wall inwards.
      const int outside = static_cast<int>(place.x + side * 6), inside = static_cast<int>(place.x - side * 6);
      EXPECT_FALSE(is_wet(outside, y)) << z;
      EXPECT_TRUE(is_wet(inside, y)) << z;
      double edge = -1;
      for (int k = -6; k <= 6 && edge < 0; ++k) {
        const int x = static_cast<int>(std::floor(place.x - side * k));
        if (is_wet(x, y)) edge = x + 0.5 + side * 0.5;
      }
      EXPECT_NEAR(edge, place.x, 1.0) << z;
      ++checked;
    }
  }
  EXPECT_GE(checked, 8);
}

// Head half under: the line across the window stands where rays pass it at the surface's level. The
// window lies 10 mm before the point the rays come from (common practice, no source).
TEST(Waterline, CrossesTheWindowOfAHeadHalfUnder) {
  const scene::Scene run = sagging(110);
  View view = bare_view(run, 4.0);
  const double level = scene::level_at(run.water, 4.0);
  for (const double above_mm : {-2.0, 0.0, 1.5, 3.0}) {
    view.pose.lens.y = level + above_mm / 1000;
    view.pose.forward = {0, 0, 1};
    const Wet is_wet = draw_both(run, view);
    const double row = view.height / 2.0 + above_mm / 10.0 * (view.width / 2.0);
    // From the foot of the picture up. With the lens under, rays above the line start and stay in
    // air; with it above, they meet the surface just beyond the window, nearer than murk is drawn.
    int edge = view.height - 1;
    const auto murk = [&](int y) {
      const auto i = static_cast<std::size_t>(y) * 1280 + 640;
      return above_mm <= 0 ? is_wet(640, y) : is_wet.wet.depth_m[i] > 0.06F;
    };
    while (edge > 0 && murk(edge)) --edge;
    EXPECT_NEAR(edge + 1, row, 1.0) << above_mm;
  }
}

TEST(Water, CloudyWaterHidesWhatLiesUnderIt) {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({1, 7, 110});
  scenario.faults.push_back({scene::JointShift{4, 12, 12}, ""});
  const auto seen = [&](scene::WaterLook look, double lens_up_m) {
    scenario.water = look;
    const scene::Scene run = scene::build_scene(scenario);
    View view = bare_view(run, 3.7);
    view.pose.lens.y = scene::level_at(run.water, 3.7) + lens_up_m;
    const Frame frame = Renderer(run, 2).draw(view);
    return std::count(frame.fault.begin(), frame.fault.end(), 1);
  };
  const auto above_clear = seen(scene::WaterLook::clear, 0.02),
             above_cloudy = seen(scene::WaterLook::cloudy, 0.02);
  EXPECT_GT(above_clear, 200);
  EXPECT_LT(above_cloudy, above_clear / 2);
  EXPECT_EQ(seen(scene::WaterLook::cloudy, -0.03), 0) << "0.3 m of murk";
  EXPECT_GT(seen(scene::WaterLook::clear, -0.03), 200);
}

/// A pond looked at from above, no noise and no bits in it.
scene::Scene pond(scene::WaterLook look, scene::WaterColour colour,
                  const std::string& system = "surface water") {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({1, 7, 90});
  scenario.water = look;
  scenario.water_colour = colour;
  scenario.system = system;
  // A joint out of line under the water, to be seen through it or not.
  scenario.faults.push_back({scene::JointShift{4, 12, 12}, ""});
  return scene::build_scene(scenario);
}
struct Seen {
  double red = 0, green = 0, blue = 0;  ///< mean over the water's surface, exposed alike
  long joint = 0;                       ///< pixels of it that lie under the surface
};
Seen seen_from_above(const scene::Scene& run) {
  View view = bare_view(run, 3.75);
  view.pose.lens.y = scene::level_at(run.water, 3.75) + 0.03;
  view.pose.pitch_deg = -35;
  view.exposure = 0.012;
  view.width = 320;
  view.height = 180;
  const Wet is_wet = draw_both(run, view);
  Seen seen;
  long many = 0;
  for (int y = 0; y < 180; ++y)
    for (int x = 0; x < 320; ++x) {
      const auto i = static_cast<std::size_t>(y * 320 + x);
      if (!is_wet(x, y)) continue;
      seen.joint += is_wet.wet.fault[i] == 1;
      if (y < 90 || x < 100 || x >= 220) continue;
      ++many;
      seen.red += is_wet.wet.rgb[3 * i], seen.green += is_wet.wet.rgb[3 * i + 1];
      seen.blue += is_wet.wet.rgb[3 * i + 2];
    }
  EXPECT_GT(many, 3000);
  for (double* mean : {&seen.red, &seen.green, &seen.blue}) *mean /= static_cast<double>(many);
  return seen;
}

TEST(WaterColour, ShowsInThePictureAndOnlyCloudyWaterHides) {
  using scene::WaterColour, scene::WaterLook;
  for (const WaterLook look : {WaterLook::coloured, WaterLook::cloudy_coloured}) {
    const Seen red = seen_from_above(pond(look, WaterColour::red)),
               green = seen_from_above(pond(look, WaterColour::green)),
               blue = seen_from_above(pond(look, WaterColour::blue)),
               yellow = seen_from_above(pond(look, WaterColour::yellow));
    EXPECT_GT(red.red, 1.5 * std::max(red.green, red.blue));
    EXPECT_GT(green.green, 1.2 * std::max(green.red, green.blue));
    EXPECT_GT(blue.blue, 1.2 * std::max(blue.red, blue.green));
    EXPECT_GT(std::min(yellow.red, yellow.green), 1.5 * yellow.blue);
    for (const Seen& seen : {red, green, blue, yellow}) {
      if (look == WaterLook::coloured)
        EXPECT_GT(seen.joint, 40);
      else
        EXPECT_LT(seen.joint, 10);
    }
  }
  const Seen milky = seen_from_above(pond(WaterLook::cloudy_coloured, WaterColour::milky)),
             black = seen_from_above(pond(WaterLook::cloudy_coloured, WaterColour::black)),
             grey = seen_from_above(pond(WaterLook::cloudy_coloured, WaterColour::grey));
  EXPECT_GT(milky.green, 1.3 * grey.green);
  EXPECT_GT(grey.green, 1.5 * black.green);
  EXPECT_NEAR(grey.red / grey.blue, 1, 0.15);
}

// Bits float on foul water, not on surface water; running water carries them along.
TEST(Water, FoulFlowCarriesBits) {
  const auto flow = [](const std::string& system) {
    scene::Scenario scenario = straight_run();
    scenario.flow_l_s = 2;
    scenario.system = system;
    return scene::build_scene(scenario);
  };
  const scene::Scene foul = flow("foul"), rain = flow("surface water");
  View view = bare_view(foul, 3);
  view.width = 640;
  view.height = 360;
  Renderer of_foul(foul, 2), of_rain(rain, 2);
  const auto differing = [](const Frame& a, const Frame& b) {
    long many = 0;
    for (std::size_t i = 1; i < a.rgb.size(); i += 3) many += std::abs(a.rgb[i] - b.rgb[i]) > 12;
    return many;
  };
  const Frame with = of_foul.draw(view), none = of_rain.draw(view);
  view.exposure = of_foul.exposure();
  const Frame without = of_rain.draw(view);
  EXPECT_GT(differing(with, without), 60);
  EXPECT_LT(differing(with, without), 8000) << "bits, not a carpet";
  EXPECT_EQ(with.fault, without.fault);
}

TEST(Water, MirrorsBendsAndRipplesButStaysTheSameForTheSameMoment) {
  const scene::Scene run = sagging(60);
  View view = bare_view(run, 1.9);
  Renderer renderer(run, 2);
  const Frame now = renderer.draw(view);
  view.time_s = 0.4;
  const Frame later = renderer.draw(view);
  EXPECT_NE(now.rgb, later.rgb);
  EXPECT_EQ(later.rgb, renderer.draw(view).rgb);
}

}  // namespace
}  // namespace haunch::render
