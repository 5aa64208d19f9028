// SPDX-License-Identifier: Apache-2.0
// What one looks into at the end of a run. Checks are ours.
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using scene::NodeKind;

constexpr int wide = 320, high = 180;

scene::Scene run_to(NodeKind kind, scene::End from = scene::End::start, double flow_l_s = 0) {
  scene::Scenario run = render_test::straight_run();
  run.flow_l_s = flow_l_s;
  run.inspection = {from, from, 0};
  (from == scene::End::start ? run.finish : run.start).kind = kind;
  return scene::build_scene(run);
}
View looking(const scene::Scene& scene, double off_m) {
  View view;
  const double z = scene::travel(scene.scenario) > 0 ? scene.length_m() - off_m : off_m;
  view.pose = scene::pose_at(scene, z);
  view.width = wide;
  view.height = high;
  view.lens_effects = view.noise = false;
  return view;
}
Frame seen(const scene::Scene& scene, double off_m) { return Renderer(scene, 2).draw(looking(scene, off_m)); }

/// Linear light, 0 .. 1, in the disc of the pipe's end as seen from half a metre before it.
double light_in_the_end(const Frame& frame) {
  double sum = 0;
  int count = 0;
  for (int y = 0; y < high; ++y)
    for (int x = 0; x < wide; ++x) {
      if (std::hypot(x - wide / 2, y - high / 2) > 20) continue;
      ++count;
      for (std::size_t k = 0; k < 3; ++k)
        sum += std::pow(frame.rgb[3 * static_cast<std::size_t>(y * wide + x) + k] / 255.0, 2.2) / 3;
    }
  return sum / count;
}

const std::vector<NodeKind>& kinds() {
  static const std::vector<NodeKind> all{
      NodeKind::manhole, NodeKind::inspection_chamber, NodeKind::rodding_eye, NodeKind::lamphole,
      NodeKind::outfall, NodeKind::junction,           NodeKind::other};
  return all;
}

class EndOfRun : public testing::TestWithParam<NodeKind> {};

TEST_P(EndOfRun, IsSeenFromEitherSideAndIsNoFault) {
  for (const scene::End from : {scene::End::start, scene::End::end}) {
    const scene::Scene scene = run_to(GetParam(), from);
    Renderer one(scene, 1), two(scene, 2);
    const View view = looking(scene, 0.5);
    const Frame frame = one.draw(view);
    EXPECT_EQ(frame.rgb, two.draw(view).rgb);
    EXPECT_GT(light_in_the_end(frame), 0.004);
    for (const std::uint16_t fault : frame.fault) ASSERT_EQ(fault, 0);
    // It lies beyond the pipe's end.
    EXPECT_GT(frame.depth_m[static_cast<std::size_t>(high / 2 * wide + wide / 2)], 0.55F);
    View bare = view;
    bare.faults = false;
    EXPECT_EQ(one.draw(bare).rgb, frame.rgb);
  }
}
// Whatever the bore's shape, there is something to see wherever one looks out of it.
TEST_P(EndOfRun, FitsABoreOfAnyShape) {
  const auto squash = [](scene::Scenario& run) {
    run.faults.push_back({scene::Squashed{run.length_m - 1, run.length_m, true, 15}, ""});
  };
  const auto egg = [](scene::Scenario& run) { run.sections.front().shape = scene::PipeShape::egg; };
  const auto box = [](scene::Scenario& run) {
    run.sections.front().shape = scene::PipeShape::rectangular;
    run.sections.front().height_mm = 1.6 * run.sections.front().bore_mm;
  };
  const std::vector<std::pair<const char*, void (*)(scene::Scenario&)>> shapes{
      {"squashed", squash}, {"egg", egg}, {"box", box}};
  for (const auto& [name, shape] : shapes) {
    scene::Scenario run = render_test::straight_run();
    run.flow_l_s = 0;
    run.finish.kind = GetParam();
    shape(run);
    const scene::Scene scene = scene::build_scene(run);
    const Frame frame = Renderer(scene, 2).draw(looking(scene, 0.3));
    int out = 0, nothing = 0;
    for (const float depth : frame.depth_m) {
      out += depth > 0.33F;
      nothing += !(depth < 1000);
    }
    EXPECT_GT(out, 400) << name;
    EXPECT_LT(nothing, 3) << name;
    EXPECT_GT(light_in_the_end(frame), 0.002) << name;
  }
}

INSTANTIATE_TEST_SUITE_P(Kinds, EndOfRun, testing::ValuesIn(kinds()));

TEST(EndOfRun, LooksOtherwiseForEachKind) {
  std::vector<Frame> frames;
  for (const NodeKind kind : kinds()) frames.push_back(seen(run_to(kind), 0.5));
  for (std::size_t a = 0; a < frames.size(); ++a)
    for (std::size_t b = a + 1; b < frames.size(); ++b) {
      int differs = 0;
      for (std::size_t i = 0; i < frames[a].rgb.size(); i += 3)
        if (std::abs(frames[a].rgb[i] - frames[b].rgb[i]) +
                std::abs(frames[a].rgb[i + 1] - frames[b].rgb[i + 1]) +
                std::abs(frames[a].rgb[i + 2] - frames[b].rgb[i + 2]) >
            24)
          ++differs;
      EXPECT_GT(differs, 250) << a << " and " << b;
    }
}

TEST(EndOfRun, OfAnOutfallIsByFarTheBrightest) {
  const double daylight = light_in_the_end(seen(run_to(NodeKind::outfall), 0.5));
  for (const NodeKind kind : kinds()) {
    if (kind == NodeKind::outfall) continue;
    EXPECT_GT(daylight, 2 * light_in_the_end(seen(run_to(kind), 0.5))) << static_cast<int>(kind);
  }
}

TEST(EndOfRun, DoesNotShowInTheMiddleOfALongRun) {
  const auto far = [](NodeKind kind) {
    scene::Scenario run = render_test::straight_run();
    run.length_m = run.sections.front().to_m = 30;
    run.finish.kind = kind;
    const scene::Scene scene = scene::build_scene(run);
    View view = looking(scene, 15);
    return Renderer(scene, 2).draw(view);
  };
  const Frame manhole = far(NodeKind::manhole);
  EXPECT_EQ(manhole.rgb, far(NodeKind::rodding_eye).rgb);
  EXPECT_EQ(manhole.rgb, far(NodeKind::outfall).rgb);
}

}  // namespace
}  // namespace haunch::render
