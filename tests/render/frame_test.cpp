// SPDX-License-Identifier: Apache-2.0
// The picture as a whole: the same pixels whoever draws it, exposure, highlight, files.
#include <gtest/gtest.h>
#include <png.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "hwy/targets.h"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "scene/materials.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;

scene::Scene wet_run() {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({1, 7, 70});
  scenario.faults.push_back({scene::JointShift{3, 10, 4}, ""});
  scenario.faults.push_back({scene::JointGap{4, 20}, ""});
  return scene::build_scene(scenario);
}
View small_view(const scene::Scene& run, double z) {
  View view;
  view.pose = scene::pose_at(run, z);
  view.width = 333;  // no whole number of vectors or tiles
  view.height = 217;
  return view;
}
void expect_same(const Frame& a, const Frame& b) {
  EXPECT_EQ(a.rgb, b.rgb);
  EXPECT_EQ(a.fault, b.fault);
  EXPECT_EQ(a.depth_m, b.depth_m);
}

TEST(Frame, IsTheSameOnOneThreadAndTwoAndAgain) {
  const scene::Scene run = wet_run();
  Renderer one(run, 1), two(run, 2);
  for (const double z : {1.9, 2.7, 4.2}) {
    const View view = small_view(run, z);
    const Frame first = one.draw(view);
    expect_same(first, two.draw(view));
    expect_same(first, one.draw(view));
  }
}

TEST(Frame, IsTheSameOnEveryInstructionSet) {
  const scene::Scene run = wet_run();
  const View view = small_view(run, 1.9);
  Renderer renderer(run, 1);
  const Frame best = renderer.draw(view);
  const std::int64_t all = hwy::SupportedTargets();
  int tried = 0;
  for (std::int64_t left = all; left != 0; left &= left - 1) {
    hwy::SetSupportedTargetsForTest(left & -left);
    hwy::GetChosenTarget().DeInit();
    expect_same(best, renderer.draw(view));
    ++tried;
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().DeInit();
  EXPECT_GE(tried, 2);
}

TEST(Frame, DoesNotDependOnWhatWasDrawnBefore) {
  const scene::Scene run = wet_run();
  Renderer renderer(run, 2);
  const View view = small_view(run, 2.7);
  const Frame first = renderer.draw(view);
  View other = small_view(run, 4.4);
  other.width = 640;
  other.height = 360;
  Frame reused = renderer.draw(other);
  renderer.draw(view, reused);
  expect_same(first, reused);
}

TEST(Exposure, GivenGainIsUsedAndTheWantedOneIsReported) {
  const scene::Scene run = wet_run();
  Renderer renderer(run, 1);
  View view = small_view(run, 2.5);
  view.noise = false;
  const Frame automatic = renderer.draw(view);
  const double wanted = renderer.wanted_exposure();
  EXPECT_GT(wanted, 0);
  view.exposure = wanted;
  expect_same(automatic, renderer.draw(view));
  view.exposure = wanted / 4;
  const Frame dim = renderer.draw(view);
  const auto light = [](const Frame& f) {
    double sum = 0;
    for (const std::uint8_t byte : f.rgb) sum += byte;
    return sum / static_cast<double>(f.rgb.size());
  };
  EXPECT_LT(light(dim), 0.7 * light(automatic));
  EXPECT_DOUBLE_EQ(renderer.wanted_exposure(), wanted);
}

// Near walls must not burn out, the far pipe must be dark (ours; judged on the plain view).
TEST(Exposure, KeepsTheWallOutOfWhiteAndTheDepthsDark) {
  for (const scene::Material material : scene::all_materials()) {
    const scene::Scene run = scene::build_scene(straight_run(material));
    View view;
    view.pose = scene::pose_at(run, 2.4);
    view.noise = view.lens_effects = false;
    const Frame frame = Renderer(run, 2).draw(view);
    std::size_t white = 0, teach = 0, far = 0;
    double teach_light = 0, far_light = 0;
    for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
      const int light = std::max({frame.rgb[3 * i], frame.rgb[3 * i + 1], frame.rgb[3 * i + 2]});
      if (light > 250) ++white;
      if (frame.depth_m[i] > 0.3F && frame.depth_m[i] < 0.6F) ++teach, teach_light += light;
      if (frame.depth_m[i] > 2.5F) ++far, far_light += light;
    }
    EXPECT_LT(static_cast<double>(white) / static_cast<double>(frame.depth_m.size()), 0.03)
        << scene::show(material);
    // What is black looks it, and still can be looked at.
    const bool black = material == scene::Material::polyethylene || material == scene::Material::pitch_fibre;
    EXPECT_GT(teach_light / static_cast<double>(teach), black ? 15 : 45) << scene::show(material);
    EXPECT_LT(far_light / static_cast<double>(far), 16) << scene::show(material);
  }
}

TEST(Highlight, LightsTheFaultAndLeavesTheRest) {
  const scene::Scene run = wet_run();
  Renderer renderer(run, 1);
  View view = small_view(run, 2.7);
  view.noise = view.lens_effects = false;
  const Frame plain = renderer.draw(view);
  view.highlight_fault = 1;
  const Frame lit = renderer.draw(view);
  EXPECT_EQ(plain.fault, lit.fault);
  int inside = 0, changed_inside = 0, changed_outside = 0;
  const auto beside = [&](std::size_t i) {
    const int x = static_cast<int>(i) % view.width, y = static_cast<int>(i) / view.width;
    for (int j = std::max(0, y - 2); j <= std::min(view.height - 1, y + 2); ++j)
      for (int k = std::max(0, x - 2); k <= std::min(view.width - 1, x + 2); ++k)
        if (plain.fault[static_cast<std::size_t>(j * view.width + k)] == 1) return true;
    return false;
  };
  for (std::size_t i = 0; i < plain.fault.size(); ++i) {
    const bool changed = std::memcmp(&plain.rgb[3 * i], &lit.rgb[3 * i], 3) != 0;
    if (plain.fault[i] == 1) {
      ++inside;
      changed_inside += changed;
    } else if (changed && !beside(i)) {
      ++changed_outside;
    }
  }
  EXPECT_GT(inside, 50);
  EXPECT_EQ(changed_inside, inside);
  EXPECT_EQ(changed_outside, 0);
}

TEST(Png, ReadsBackAsWritten) {
  const scene::Scene run = wet_run();
  const Frame frame = Renderer(run, 1).draw(small_view(run, 2.7));
  const auto read = [](const std::string& bytes, png_uint_32 format) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    EXPECT_TRUE(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()));
    image.format = format;
    std::vector<std::uint8_t> out(PNG_IMAGE_SIZE(image));
    EXPECT_TRUE(png_image_finish_read(&image, nullptr, out.data(), 0, nullptr));
    return out;
  };
  EXPECT_EQ(read(colour_png(frame), PNG_FORMAT_RGB), frame.rgb);
  // The simplified reader would bend 16-bit grey by a gamma, so look at the header: 16 bits, grey.
  const std::string ids = fault_png(frame);
  ASSERT_GT(ids.size(), 26U);
  EXPECT_EQ(ids.substr(1, 3), "PNG");
  EXPECT_EQ(ids[24], 16);
  EXPECT_EQ(ids[25], 0);
}

}  // namespace
}  // namespace haunch::render
