// SPDX-License-Identifier: Apache-2.0
// A bore out of round, measured in pictures: its axes by the parallel lens, its wall along rays.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::straight_run;
using render_test::with;
using scene::Material;
using scene::Squashed;

scene::Scenario level_run(Material material) {
  scene::Scenario scenario = straight_run(material);
  scenario.gradient_percent = 0;
  return scenario;
}

struct Case {
  Material material;
  bool vertical;
  double percent;
};
class SquashedBore : public testing::TestWithParam<Case> {};

/// Pixels of a row or column through the middle that something in front of the lens, or the open end,
/// shows in: outside the bore a ray starts in the ground and gets nowhere.
int in_the_clear(const Frame& frame, bool column) {
  int clear = 0;
  const int count = column ? frame.height : frame.width;
  for (int i = 0; i < count; ++i) {
    const int x = column ? frame.width / 2 : i, y = column ? i : frame.height / 2;
    const float depth = frame.depth_m[static_cast<std::size_t>(y) * static_cast<std::size_t>(frame.width) +
                                      static_cast<std::size_t>(x)];
    if (depth > 1e-3F) ++clear;
  }
  return clear;
}

// From within the worst part: what is reduced measures what was stated, and the other axis what the pipe
// can do: an ellipse of the same perimeter, or quarters with the same chord.
TEST_P(SquashedBore, HasTheStatedAxesInThePicture) {
  const Case c = GetParam();
  const scene::Scene run = with(level_run(c.material), Squashed{2, 6, c.vertical, c.percent});
  View view;
  view.pose = scene::pose_at(run, 3.6);
  view.pose.lens = {scene::centre_at(run, 3.6).x, scene::centre_at(run, 3.6).y, 3.6};
  view.pose.forward = {0, 0, 1};
  view.lens = Lens::parallel;
  view.parallel_height_m = 0.25;
  view.width = view.height = 1000;
  view.noise = view.lens_effects = false;
  view.every_pixel = true;
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);
  const double small = 0.15 * (1 - c.percent / 100);
  const double large = c.material == Material::pvc ? 2 * scene::other_half_axis_m(0.075, c.percent / 100)
                                                   : std::sqrt(2 * 0.15 * 0.15 - small * small);
  const double pixel = 0.25 / 1000;
  EXPECT_NEAR(in_the_clear(frame, c.vertical) * pixel, small, pixel);
  EXPECT_NEAR(in_the_clear(frame, !c.vertical) * pixel, large, pixel);
}

// Every ray meets the wall where walking along it does.
TEST_P(SquashedBore, IsMetWhereItsSectionsSay) {
  const Case c = GetParam();
  const scene::Scene run = with(straight_run(c.material), Squashed{2.2, 5.7, c.vertical, c.percent});
  for (const double lens_z : {1.6, 2.5, 4.0}) {
    View view;
    view.pose = scene::pose_at(run, lens_z);
    view.pose.roll_deg = 15;
    view.noise = view.lens_effects = false;
    view.every_pixel = true;
    Renderer renderer(run, 2);
    const Frame frame = renderer.draw(view);
    const Pinhole pinhole(view.pose, view.width, view.height);
    int measured = 0;
    for (int y = 7; y < view.height; y += 31)
      for (int x = 5; x < view.width; x += 37) {
        const double distance =
            render_test::wall_distance(run, view.pose.lens, pinhole.direction(x + 0.5, y + 0.5));
        const double z = view.pose.lens.z + distance * pinhole.direction(x + 0.5, y + 0.5).z;
        bool beside_joint = false;
        for (const scene::Joint& joint : run.joints) beside_joint |= std::fabs(joint.at_m - z) < 0.03;
        if (beside_joint || distance > 3) continue;
        ++measured;
        const float depth = frame.depth_m[static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) +
                                          static_cast<std::size_t>(x)];
        EXPECT_NEAR(depth, distance, 3e-4 + 2e-3 * distance) << lens_z << ": " << x << ',' << y;
      }
    EXPECT_GT(measured, 350) << lens_z;
  }
}

TEST_P(SquashedBore, LooksTheSameOnOneThreadAndTwo) {
  const Case c = GetParam();
  const scene::Scene run = with(straight_run(c.material), Squashed{2.2, 5.7, c.vertical, c.percent});
  View view;
  view.pose = scene::pose_at(run, 1.9);
  view.width = 480;
  view.height = 270;
  Renderer one(run, 1), two(run, 2);
  EXPECT_EQ(one.draw(view).rgb, two.draw(view).rgb);
}

// With it and without it: another picture, and its number on the wall it has pressed.
TEST_P(SquashedBore, CanBeSeen) {
  const Case c = GetParam();
  const scene::Scene round = scene::build_scene(straight_run(c.material));
  const scene::Scene run = with(straight_run(c.material), Squashed{2.2, 5.7, c.vertical, c.percent});
  View view;
  view.pose = scene::pose_at(round, 2.9);
  view.noise = view.lens_effects = false;
  Renderer before(round, 2), after(run, 2);
  const Frame without = before.draw(view);
  view.exposure = before.wanted_exposure();
  const Frame frame = after.draw(view);
  double change = 0;
  int pixels = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++pixels;
    for (std::size_t ch = 0; ch < 3; ++ch)
      change += std::abs(frame.rgb[3 * i + ch] - without.rgb[3 * i + ch]);
  }
  EXPECT_GT(pixels, static_cast<int>(frame.fault.size()) / 10);
  EXPECT_GT(change / 3 / pixels, 4);
}

INSTANTIATE_TEST_SUITE_P(Pipes, SquashedBore,
                         testing::Values(Case{Material::pvc, true, 8}, Case{Material::pvc, true, 25},
                                         Case{Material::pvc, false, 15}, Case{Material::clay, true, 8},
                                         Case{Material::concrete, true, 20},
                                         Case{Material::cast_iron, false, 12}));

// A stretch squashed by nothing is drawn as if it were not there, to the last bit.
TEST(SquashedByNothing, ChangesNoPixel) {
  const scene::Scene round = scene::build_scene(straight_run(Material::pvc));
  const scene::Scene none = with(straight_run(Material::pvc), Squashed{2.2, 5.7, true, 0});
  View view;
  view.pose = scene::pose_at(round, 2.9);
  Renderer a(round, 2), b(none, 2);
  const Frame one = a.draw(view), other = b.draw(view);
  EXPECT_EQ(one.rgb, other.rgb);
  EXPECT_EQ(one.fault, other.fault);
  EXPECT_EQ(one.depth_m, other.depth_m);
}

// The light runs over the row of straight pieces without an edge: along the side of a squashed pipe no
// step between neighbouring pixels is far larger than those about it.
TEST(SquashedTaper, ShowsNoFacets) {
  scene::Scenario scenario = straight_run(Material::pvc);
  scenario.sections[0].unit_length_m = 8;  // a joint is an edge
  const scene::Scene run = with(std::move(scenario), Squashed{2.0, 5.0, true, 25});
  View view;
  view.pose = scene::pose_at(run, 1.9);
  view.noise = view.lens_effects = false;
  view.every_pixel = true;
  Renderer renderer(run, 2);
  renderer.draw(view);
  // Normals are not in the frame: what they do to the lean of the wall is measured through the light in
  // the mean over many columns, where texture evens out.
  const Frame frame = renderer.draw(view);
  std::vector<double> mean;
  const int y0 = frame.height / 2 - 8, y1 = frame.height / 2 + 8;
  for (int x = frame.width / 2 + 60; x < frame.width - 20; ++x) {
    double sum = 0;
    for (int y = y0; y < y1; ++y)
      sum += frame.rgb[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(frame.width) +
                            static_cast<std::size_t>(x)) +
                       1];
    mean.push_back(sum / (y1 - y0));
  }
  for (std::size_t i = 12; i + 12 < mean.size(); ++i) {
    const auto level = [&](std::size_t from, std::size_t to) {
      double sum = 0;
      for (std::size_t k = from; k < to; ++k) sum += mean[k];
      return sum / static_cast<double>(to - from);
    };
    EXPECT_LT(std::abs(level(i - 6, i) - level(i, i + 6)), 14) << i;
  }
}

// What has become of the wall follows it out of round: within the stated arc and stretch, and on the wall.
TEST(SurfaceDamageOutOfRound, LiesWhereItIsStated) {
  using scene::DamageForm;
  struct Bore {
    Material material;
    scene::PipeShape shape;
    double squashed_percent;
    DamageForm form;
  };
  for (const Bore& bore : {Bore{Material::pitch_fibre, scene::PipeShape::circular, 15, DamageForm::blister},
                           Bore{Material::clay, scene::PipeShape::circular, 9, DamageForm::spalled},
                           Bore{Material::concrete, scene::PipeShape::egg, 0, DamageForm::stones_showing},
                           Bore{Material::concrete, scene::PipeShape::rectangular, 0, DamageForm::spalled}}) {
    scene::Scenario scenario = level_run(bore.material);
    scenario.sections[0].shape = bore.shape;
    scenario.sections[0].height_mm = scenario.sections[0].bore_mm;
    if (bore.squashed_percent > 0) scenario.faults.push_back({Squashed{2, 6, true, bore.squashed_percent}, ""});
    scenario.faults.push_back(
        {scene::SurfaceDamage{4.2, 4.5, {9, 11, false}, bore.form, scene::DamageCause::unclear, 6}, ""});
    const auto number = static_cast<std::uint16_t>(scenario.faults.size());
    const scene::Scene run = scene::build_scene(scenario);
    View view;
    view.pose = scene::pose_at(run, 3.95);
    view.width = 960, view.height = 540;
    view.noise = view.lens_effects = false;
    const Frame frame = Renderer(run, 2).draw(view);
    const Pinhole pinhole(view.pose, view.width, view.height);
    double first = 1e9, last = -1e9, low = 1e9, high = -1e9, off = 0;
    long pixels = 0;
    for (int y = 0; y < view.height; ++y)
      for (int x = 0; x < view.width; ++x) {
        const auto i = static_cast<std::size_t>(y * view.width + x);
        if (frame.fault[i] != number) continue;
        ++pixels;
        const scene::Vec3 p = view.pose.lens + double{frame.depth_m[i]} * pinhole.direction(x + 0.5, y + 0.5);
        const scene::Vec2 axis = scene::centre_at(run, p.z), out{p.x - axis.x, p.y - axis.y};
        double hour = std::atan2(out.x, out.y) / std::numbers::pi * 6;
        if (hour < 0) hour += 12;
        first = std::min(first, p.z), last = std::max(last, p.z);
        low = std::min(low, hour), high = std::max(high, hour);
        const double away = std::hypot(out.x, out.y);
        off = std::max(off, std::abs(away - scene::radius_toward(scene::bore_at(run, p.z),
                                                                 {out.x / away, out.y / away})));
      }
    ASSERT_GT(pixels, 800) << static_cast<int>(bore.form);
    // Its edge frays by a few millimetres, and what stands up hides some of what lies beyond.
    EXPECT_NEAR(first, 4.2, 0.03);
    EXPECT_NEAR(last, 4.5, 0.06);
    EXPECT_NEAR(low, 9, 0.35);
    EXPECT_NEAR(high, 11, 0.35);
    EXPECT_LT(off, 0.012) << "on the wall, or as far off it as it stands up";
  }
}

}  // namespace
}  // namespace haunch::render
