// SPDX-License-Identifier: Apache-2.0
// Repairs and water that leaves, as they show: as large as is stated, and the same on any number of threads.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "render/test_views.hpp"
#include "scene/camera.hpp"

namespace haunch::render {
namespace {

using render_test::along_the_axis;
using scene::FaultKind;
using scene::Repair;
using scene::RepairFlaw;
using scene::RepairForm;

const base::ClockArc all_round{12, 12, true};

scene::Scene run_with(std::vector<FaultKind> kinds, double bore_mm = 150, std::uint64_t seed = 7,
                      double flow = 0) {
  scene::Scenario scenario = render_test::straight_run(scene::Material::clay, bore_mm);
  scenario.length_m = scenario.sections[0].to_m = 4;
  scenario.seed = seed;
  scenario.flow_l_s = flow;
  for (FaultKind& kind : kinds) scenario.faults.push_back({std::move(kind), ""});
  return scene::build_scene(std::move(scenario));
}

TEST(RepairExcess, TakesTheStatedShareOfTheBore) {
  for (const std::uint64_t seed : {3U, 19U})
    for (const double bore_mm : {150.0, 225.0})
      for (const Repair& repair :
           {Repair{2.45, 2.45, RepairForm::patch, {2, 2, false}, 70, 50, RepairFlaw::excess, 9},
            Repair{2, 2, RepairForm::mortar_in_joint, {9, 3, false}, 0, 0, RepairFlaw::excess, 9}}) {
        const scene::Scene scene = run_with({repair}, bore_mm, seed);
        const View view = along_the_axis(scene, 1.2, 480);
        const Frame frame = Renderer(scene, 2).draw(view);
        long shown = 0, all = 0;
        for (int row = 0; row < 480; ++row)
          for (int column = 0; column < 480; ++column) {
            const double pixel = view.parallel_height_m / 480;
            const double x = (column + 0.5 - 240) * pixel, y = (240 - row - 0.5) * pixel;
            if (x * x + y * y > bore_mm * bore_mm / 4e6) continue;
            ++all;
            shown += frame.fault[static_cast<std::size_t>(row * 480 + column)] != 0 ? 1 : 0;
          }
        // Lumps one behind the other hide more together than in any one place.
        const double percent = 100.0 * static_cast<double>(shown) / static_cast<double>(all);
        EXPECT_GT(percent, 8) << bore_mm << " mm, seed " << seed;
        EXPECT_LT(percent, 15) << bore_mm << " mm, seed " << seed;
      }
}

TEST(RepairCrack, IsAsWideAsIsStated) {
  // Straight on: the darkest run of pixels across the crack.
  for (const double crack_mm : {3.0, 6.0}) {
    Repair repair{2.45, 2.45, RepairForm::patch, {3, 3, false}, 90, 60, RepairFlaw::cracked, 0, crack_mm};
    const scene::Scene scene = run_with({repair});
    View view;
    view.pose = scene::pose_at(scene, 2.45);
    const scene::Vec2 c = scene::centre_at(scene, 2.45);
    view.pose.lens = {c.x, c.y, 2.45};
    view.pose.forward = {1, 0, 0.001};
    view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
    view.lens = Lens::parallel;
    view.parallel_height_m = 0.10;
    view.width = view.height = 500;
    view.lens_effects = view.noise = false;
    const Frame frame = Renderer(scene, 2).draw(view);
    double widest = 0;
    for (int column = 150; column < 350; ++column) {
      int run = 0;
      for (int row = 0; row < 500; ++row) {
        const std::size_t i = static_cast<std::size_t>(row * 500 + column);
        run = frame.rgb[3 * i] + frame.rgb[3 * i + 1] + frame.rgb[3 * i + 2] < 75 ? run + 1 : 0;
        widest = std::max(widest, run * 100.0 / 500);
      }
    }
    EXPECT_NEAR(widest, crack_mm, 1.2);
  }
}

struct Stated {
  const char* name;
  std::vector<FaultKind> kinds;
  int least;
};
void PrintTo(const Stated& stated, std::ostream* out) { *out << stated.name; }
class RepairShows : public testing::TestWithParam<Stated> {};
TEST_P(RepairShows, PlainlyAndTheSameOnAnyNumberOfThreads) {
  const double flow = std::holds_alternative<scene::Exfiltration>(GetParam().kinds.back()) ? 0.1 : 0;
  const scene::Scene scene = run_with(GetParam().kinds, 150, 7, flow);
  auto others = GetParam().kinds;
  others.pop_back();
  const scene::Scene none = run_with(others, 150, 7, flow);
  const int number = static_cast<int>(GetParam().kinds.size());
  View view;
  view.pose = scene::pose_at(scene, 2.0 - 0.22);
  view.width = 480;
  view.height = 270;
  view.lens_effects = view.noise = false;
  Renderer one(scene, 1), two(scene, 2), without(none, 2);
  const Frame frame = one.draw(view);
  EXPECT_EQ(frame.rgb, two.draw(view).rgb);
  view.exposure = one.wanted_exposure();
  const Frame before = without.draw(view), after = one.draw(view);
  int shown = 0, differs = 0;
  for (std::size_t i = 0; i < after.fault.size(); ++i) {
    if (after.fault[i] != number) continue;
    ++shown;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      if (std::abs(after.rgb[k] - before.rgb[k]) > 14) {
        ++differs;
        break;
      }
  }
  EXPECT_GE(shown, GetParam().least);
  EXPECT_GE(differs, 0.4 * GetParam().least);
}
Repair patch(RepairFlaw flaw) {
  return {2.1,
          2.1,
          RepairForm::patch,
          {2, 2, false},
          80,
          60,
          flaw,
          flaw == RepairFlaw::excess ? 8.0 : 0.0,
          flaw == RepairFlaw::cracked ? 4.0 : 0.0};
}
const scene::Connection branch{2.1, 2, 90, scene::Fitting::branch, 0, false};
INSTANTIATE_TEST_SUITE_P(
    Forms, RepairShows,
    testing::Values(
        Stated{"patch", {patch(RepairFlaw::none)}, 600},
        Stated{"wall_missing", {patch(RepairFlaw::wall_missing)}, 600},
        Stated{"poor", {patch(RepairFlaw::poor_patch)}, 600},
        Stated{"come_away", {patch(RepairFlaw::come_away)}, 600},
        Stated{"not_reaching", {patch(RepairFlaw::not_reaching)}, 400},
        Stated{"excess", {patch(RepairFlaw::excess)}, 600}, Stated{"holed", {patch(RepairFlaw::holed)}, 600},
        Stated{"cracked", {patch(RepairFlaw::cracked)}, 600},
        Stated{"mortar", {Repair{2, 2, RepairForm::mortar_in_joint, all_round}}, 1500},
        Stated{"sealant", {Repair{2, 2, RepairForm::sealant_in_joint, all_round}}, 1000},
        Stated{"brim", {branch, Repair{2.1, 2.1, RepairForm::connection_lining, all_round}}, 500},
        Stated{"brim_off",
               {branch,
                Repair{2.1, 2.1, RepairForm::connection_lining, all_round, 0, 0, RepairFlaw::not_reaching}},
               500},
        Stated{"mouth", {branch, Repair{2.1, 2.1, RepairForm::connection_mortar, all_round}}, 300},
        Stated{"exfiltration", {scene::JointGap{2, 20}, scene::Exfiltration{2, {6, 6, false}, 80}}, 40}),
    [](const auto& stated) { return std::string(stated.param.name); });

}  // namespace
}  // namespace haunch::render
