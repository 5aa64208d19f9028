// SPDX-License-Identifier: Apache-2.0
// The matter of faults as it shows in pictures. Checks are ours: what a scenario states must be what
// a picture shows, counted on fault numbers by this file's own geometry.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "scene/camera.hpp"
#include "scene/materials.hpp"

namespace haunch::render {
namespace {

using scene::Attached;
using scene::AttachedKind;
using scene::Behind;
using scene::Connection;
using scene::Crack;
using scene::CrackForm;
using scene::FaultKind;
using scene::Fitting;
using scene::Hole;
using scene::RootForm;
using scene::Roots;
using scene::Settled;
using scene::SettledKind;

constexpr double bore_m = 0.150;

scene::Scene run_with(std::vector<FaultKind> kinds, scene::Material material = scene::Material::clay) {
  scene::Scenario scenario;
  scenario.length_m = 4;
  scenario.seed = 11;
  scenario.gradient_percent = 1;
  scene::Section section;
  section.to_m = 4;
  section.material = material;
  section.bore_mm = bore_m * 1000;
  section.unit_length_m = 1;
  section.first_joint_m = 1;
  scenario.sections = {section};
  for (FaultKind& kind : kinds) scenario.faults.push_back({std::move(kind), ""});
  return scene::build_scene(std::move(scenario));
}

View plain_view(const scene::Scene& scene, double z) {
  View view;
  view.pose = scene::pose_at(scene, z);
  view.width = 640;
  view.height = 360;
  view.lens_effects = false;
  view.noise = false;
  return view;
}

/// Along the axis from `z`, the bore in the middle of a square picture.
View axis_view(const scene::Scene& scene, double z) {
  View view = plain_view(scene, z);
  const scene::Vec2 here = scene::centre_at(scene, z), there = scene::centre_at(scene, z + 0.5);
  view.pose.lens = {here.x, here.y, z};
  view.pose.forward = scene::normalised({there.x - here.x, there.y - here.y, 0.5});
  view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
  view.lens = Lens::parallel;
  view.parallel_height_m = 0.160;
  view.width = view.height = 480;
  return view;
}

struct Across {
  double x, y;  // metres from the bore's axis, right and up
};
Across place_of(const View& view, int column, int row) {
  const double pixel = view.parallel_height_m / view.height;
  return {(column + 0.5 - view.width / 2.0) * pixel, (view.height / 2.0 - row - 0.5) * pixel};
}

double share_of_bore(const View& view, const Frame& frame) {
  long shown = 0, bore = 0;
  for (int row = 0; row < view.height; ++row)
    for (int column = 0; column < view.width; ++column) {
      const Across p = place_of(view, column, row);
      if (p.x * p.x + p.y * p.y > bore_m * bore_m / 4) continue;
      ++bore;
      if (frame.fault[static_cast<std::size_t>(row * view.width + column)] != 0) ++shown;
    }
  return static_cast<double>(shown) / static_cast<double>(bore);
}

class RootPicture : public testing::TestWithParam<std::pair<RootForm, double>> {};

TEST_P(RootPicture, HidesItsShareOfTheBoreSeenAlongTheAxis) {
  const auto [form, percent] = GetParam();
  const scene::Scene scene = run_with({Roots{2.0, 2.3, {9, 2, false}, form, percent}});
  Renderer renderer(scene, 2);
  const View view = axis_view(scene, 1.8);
  EXPECT_NEAR(100 * share_of_bore(view, renderer.draw(view)), percent, 2.0);
}
INSTANTIATE_TEST_SUITE_P(Forms, RootPicture,
                         testing::Values(std::pair{RootForm::mass, 30.0}, std::pair{RootForm::mass, 60.0},
                                         std::pair{RootForm::fine, 6.0}, std::pair{RootForm::tap, 10.0}));

TEST(BedPicture, TopLiesAtTheStatedDepth) {
  const scene::Scene scene = run_with({Settled{1.5, 3.0, SettledKind::fine, 25}});
  Renderer renderer(scene, 2);
  const View view = axis_view(scene, 1.3);
  const Frame frame = renderer.draw(view);
  std::vector<double> tops;
  for (int column = view.width * 2 / 5; column < view.width * 3 / 5; ++column)
    for (int row = 0; row < view.height; ++row)
      if (frame.fault[static_cast<std::size_t>(row * view.width + column)] != 0) {
        tops.push_back(place_of(view, column, row).y);
        break;
      }
  ASSERT_FALSE(tops.empty());
  std::nth_element(tops.begin(), tops.begin() + static_cast<std::ptrdiff_t>(tops.size() / 2), tops.end());
  // Seen end on, the highest ripple on the way stands before the rest.
  EXPECT_NEAR((tops[tops.size() / 2] + bore_m / 2) / bore_m, 0.25, 0.03);
}

TEST(BranchPicture, ReachesInByTheStatedShareOfTheBore) {
  const scene::Scene scene = run_with({Connection{2.0, 3, 60, Fitting::saddle, 30, false}});
  Renderer renderer(scene, 2);
  const View view = axis_view(scene, 1.7);
  const Frame frame = renderer.draw(view);
  double nearest = 1;
  for (int row = 0; row < view.height; ++row)
    for (int column = 0; column < view.width; ++column)
      if (frame.fault[static_cast<std::size_t>(row * view.width + column)] != 0)
        nearest = std::min(nearest, place_of(view, column, row).x);
  EXPECT_NEAR((bore_m / 2 - nearest) / bore_m, 0.30, 0.01);
}

TEST(HolePicture, GroundLiesBeyondTheWall) {
  const scene::Scene scene = run_with({Hole{2.0, 10, 90, 60, Behind::soil}});
  Renderer renderer(scene, 2);
  const View view = plain_view(scene, 1.75);
  View bare = view;
  bare.faults = false;
  const Frame with = renderer.draw(view), without = renderer.draw(bare);
  int deeper = 0, shown = 0;
  for (std::size_t i = 0; i < with.fault.size(); ++i) {
    if (with.fault[i] == 0) continue;
    ++shown;
    if (with.depth_m[i] > without.depth_m[i] + 0.002F) ++deeper;
  }
  EXPECT_GT(shown, 300);
  EXPECT_GT(deeper, shown / 2);
}

struct Case {
  const char* name;
  FaultKind kind;
  double from_m;       // where the camera stands
  double least_level;  // mean difference of the colours, of 255
  int least_pixels;
};
void PrintTo(const Case& c, std::ostream* out) { *out << c.name; }

class Visible : public testing::TestWithParam<Case> {};

TEST_P(Visible, AgainstTheSamePipeWithoutIt) {
  const Case& c = GetParam();
  for (const scene::Material material : scene::all_materials()) {
    const scene::Scene scene = run_with({c.kind}, material);
    Renderer renderer(scene, 2);
    View view = plain_view(scene, c.from_m);
    const Frame first = renderer.draw(view);
    view.exposure = renderer.wanted_exposure();
    const Frame with = renderer.draw(view);
    view.faults = false;
    const Frame without = renderer.draw(view);
    double sum = 0;
    int pixels = 0;
    for (std::size_t i = 0; i < with.fault.size(); ++i) {
      EXPECT_LE(with.fault[i], 1);
      EXPECT_EQ(without.fault[i], 0);
      if (with.fault[i] == 0) continue;
      ++pixels;
      double most = 0;
      for (std::size_t k = 0; k < 3; ++k)
        most = std::max(most, std::abs(static_cast<double>(with.rgb[3 * i + k]) - without.rgb[3 * i + k]));
      sum += most;
    }
    ASSERT_GE(pixels, c.least_pixels) << show(material);
    EXPECT_GT(sum / pixels, c.least_level) << show(material);
  }
}

INSTANTIATE_TEST_SUITE_P(
    Faults, Visible,
    testing::Values(
        Case{"open crack along", Crack{1.9, 2.5, {10, 10, false}, CrackForm::along, 3}, 1.8, 25, 100},
        Case{"hairline along", Crack{1.9, 2.5, {2, 2, false}, CrackForm::along, 0}, 1.8, 8, 60},
        Case{"crack around", Crack{2.2, 2.2, {12, 12, true}, CrackForm::around, 3}, 2.05, 15, 100},
        Case{"branching crack", Crack{1.9, 2.4, {9, 2, false}, CrackForm::branching, 3}, 1.8, 15, 100},
        Case{"hole, soil", Hole{2.2, 10, 90, 60, Behind::soil}, 2.0, 20, 300},
        Case{"hole, stone", Hole{2.2, 2, 90, 60, Behind::stone}, 2.0, 20, 300},
        Case{"fine roots", Roots{2.0, 2.3, {10, 1, false}, RootForm::fine, 6}, 1.75, 25, 150},
        Case{"root mass", Roots{2.0, 2.3, {9, 2, false}, RootForm::mass, 30}, 1.75, 25, 800},
        Case{"tap root", Roots{2.0, 2.2, {11, 12, false}, RootForm::tap, 8}, 1.75, 20, 200},
        Case{"silt", Settled{1.5, 3, SettledKind::fine, 15}, 1.6, 15, 2000},
        Case{"gravel", Settled{1.5, 3, SettledKind::coarse, 15}, 1.6, 20, 2000},
        Case{"hard bed", Settled{1.5, 3, SettledKind::hard, 15}, 1.6, 25, 2000},
        Case{"grease", Attached{1.5, 3, {9, 3, false}, AttachedKind::grease, 12}, 1.4, 25, 2000},
        Case{"scale", Attached{1.5, 3, {12, 12, true}, AttachedKind::scale, 10}, 1.4, 20, 2000},
        Case{"fouling", Attached{1.5, 3, {4, 8, false}, AttachedKind::fouling, 2}, 1.4, 20, 2000},
        Case{"branch", Connection{2.2, 3, 100, Fitting::branch, 0, false}, 1.95, 15, 500},
        Case{"saddle", Connection{2.2, 10, 100, Fitting::saddle, 0, false}, 1.95, 15, 500},
        Case{"capped branch", Connection{2.2, 2, 100, Fitting::branch, 0, true}, 1.95, 15, 500},
        Case{"intruding pipe", Connection{2.2, 2, 80, Fitting::cut_in, 25, false}, 1.95, 20, 1500}));

TEST(MatterPicture, IsTheSameOnOneAndTwoThreads) {
  const scene::Scene scene =
      run_with({Roots{2.0, 2.3, {9, 2, false}, RootForm::mass, 30},
                Attached{1.6, 2.4, {4, 8, false}, AttachedKind::grease, 6},
                Crack{1.7, 2.2, {10, 10, false}, CrackForm::along, 2}, Hole{1.9, 2, 60, 50, Behind::stone}});
  Renderer one(scene, 1), two(scene, 2);
  const View view = plain_view(scene, 1.7);
  const Frame a = one.draw(view), b = two.draw(view);
  EXPECT_EQ(a.rgb, b.rgb);
  EXPECT_EQ(a.fault, b.fault);
  EXPECT_EQ(a.depth_m, b.depth_m);
}

TEST(MatterPicture, ALensInsideARootMassStillShowsThePipe) {
  const scene::Scene scene = run_with({Roots{2.0, 2.4, {8, 4, false}, RootForm::mass, 60}});
  Renderer renderer(scene, 2);
  const View view = plain_view(scene, 2.15);
  const Frame frame = renderer.draw(view);
  const auto roots = static_cast<std::size_t>(std::count(frame.fault.begin(), frame.fault.end(), 1));
  EXPECT_GT(roots, frame.fault.size() / 20);
  EXPECT_LT(roots, frame.fault.size());
  for (const float depth : frame.depth_m) EXPECT_GT(depth, 0.003F);
}

}  // namespace
}  // namespace haunch::render
