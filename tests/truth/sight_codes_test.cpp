// SPDX-License-Identifier: Apache-2.0
// What takes the sight: recorded where it does, by its cause, both ways, and
// what lies within is not found.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "scene/haze.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using testing::HasSubstr;

struct Written {
  std::vector<Observation> lost;  ///< rows of BDG
  coding::Record record;
  Truth truth;
};
Written written(scene::Scenario scenario, std::vector<scene::FaultKind> kinds) {
  for (scene::FaultKind& kind : kinds) scene::add(scenario, std::move(kind));
  Written out;
  out.truth = derive(scene::build_scene(scenario));
  out.record = out.truth.record;
  for (const Observation& row : out.record.observations)
    if (row.code == "BDG") out.lost.push_back(row);
  return out;
}
scene::Scenario run(bool upstream = false) {
  scene::Scenario scenario = scene::plain_run(12, 150);
  if (upstream) scenario.inspection.from = scenario.inspection.distance_zero = scene::End::end;
  return scenario;
}
/// A sag that a crawler's head goes wholly under in, with a run on either side.
scene::Scenario sag(scene::WaterLook look) {
  scene::Scenario scenario = run();
  scenario.gradient_percent = 0.5;
  scenario.low_spots = {{2, 10, 170}};
  scenario.water = look;
  return scenario;
}

TEST(LostSight, InSteamIsAStretchBothWays) {
  const scene::Haze steam{4, 7, scene::HazeKind::steam, 0.15};
  for (const bool upstream : {false, true}) {
    const Written all = written(run(upstream), {steam});
    ASSERT_EQ(all.lost.size(), 2U) << upstream;
    EXPECT_EQ(coding::show_code(all.lost[0]), "BDG C");
    EXPECT_EQ(all.lost[0].stretch, "A1");
    EXPECT_EQ(all.lost[1].stretch, "B1");
    EXPECT_THAT(all.lost[0].reason, HasSubstr("steam lets the camera see only"));
    EXPECT_THAT(all.lost[0].reason, HasSubstr("2 bores (0.3 m)"));
    // Over the first and the last 0.3 m it thickens: half of it, seen through to 0.3 m, is where sight is
    // lost.
    EXPECT_NEAR(*all.lost[0].distance_m.value, upstream ? 12 - 6.85 : 4.15, 0.011);
    EXPECT_NEAR(*all.lost[1].distance_m.value, upstream ? 12 - 4.15 : 6.85, 0.011);
    EXPECT_EQ(all.truth.origins[1].fault, 1);
  }
}

// Through two bores and more the wall is known well enough: no loss of vision.
TEST(LostSight, IsDecidedByHowFarOneSees) {
  const auto lost = [](double sight_m, double bore_mm) {
    return !written(scene::plain_run(12, bore_mm), {scene::Haze{4, 7, scene::HazeKind::steam, sight_m}})
                .lost.empty();
  };
  EXPECT_TRUE(lost(0.28, 150));
  EXPECT_FALSE(lost(0.32, 150));
  EXPECT_TRUE(lost(0.55, 300));
  EXPECT_FALSE(lost(0.65, 300));
}

TEST(LostSight, SightIsAsLongAsSaidInTheMiddleOfIt) {
  scene::Scenario scenario = run();
  scene::add(scenario, scene::Haze{2, 10, scene::HazeKind::steam, 0.4});
  const scene::Scene laid_out = scene::build_scene(scenario);
  EXPECT_NEAR(scene::sight_through_haze_m(laid_out, 5, 3), 0.4, 0.002);
  EXPECT_EQ(scene::sight_through_haze_m(laid_out, 11, 0.9), 0.9) << "past it";
  EXPECT_GT(scene::sight_through_haze_m(laid_out, 2.1, 3), 0.8) << "it begins thin";
}

TEST(LostSight, SiltHidesInWaterAndNotAbove) {
  const scene::Haze silt{5, 7, scene::HazeKind::silt, 0.1};
  // The whole head is under in the middle of the sag: there the silt is what
  // hides.
  const Written wet = written(sag(scene::WaterLook::clear), {silt});
  std::vector<std::string> codes;
  for (const Observation& row : wet.lost) codes.push_back(coding::show_code(row));
  EXPECT_THAT(codes, testing::ElementsAre("BDG A", "BDG A", "BDG B", "BDG B", "BDG A", "BDG A"));
  EXPECT_THAT(wet.lost[2].reason, HasSubstr("silt stirred up in the water"));
  EXPECT_TRUE(written(run(), {silt}).lost.empty()) << "no water";
}

TEST(LostSight, OnTheLensItIsNamedFromHalfOfItOn) {
  const auto of = [](scene::LensFilm film, double percent) {
    const Written all = written(run(), {scene::OnLens{3, 5, film, percent}});
    return all.lost.empty() ? Observation{} : all.lost.front();
  };
  EXPECT_EQ(coding::show_code(of(scene::LensFilm::mud, 80)), "BDG B");
  const Observation web = of(scene::LensFilm::web, 60);
  EXPECT_EQ(coding::show_code(web), "BDG Z");
  EXPECT_EQ(web.remark, "a web over the lens");
  EXPECT_EQ(of(scene::LensFilm::grease, 50).remark, "grease on the lens");
  EXPECT_EQ(of(scene::LensFilm::foam, 70).remark, "foam on the lens");
  EXPECT_EQ(of(scene::LensFilm::grease, 49).code, "");
  EXPECT_EQ(*of(scene::LensFilm::grease, 50).distance_m.value, 3);
}

TEST(LostSight, WhatLiesWithinIsNotFoundAndWhatLiesBeforeIs) {
  const scene::Crack before{3, 3.4, {12, 12, false}, scene::CrackForm::along, 2},
      within{5.4, 5.8, {12, 12, false}, scene::CrackForm::along, 2};
  for (const bool upstream : {false, true}) {
    const Written all =
        written(run(upstream), {scene::Haze{4, 7, scene::HazeKind::steam, 0.1}, before, within});
    ASSERT_EQ(all.record.not_visible.size(), 1U);
    EXPECT_THAT(all.record.not_visible[0].why, HasSubstr("passed in thick steam"));
    const auto row =
        std::find_if(all.record.observations.begin(), all.record.observations.end(),
                     [&](const Observation& o) { return o.id == all.record.not_visible[0].observation; });
    EXPECT_EQ(*row->distance_m.value, upstream ? 12 - 5.8 : 5.4);
  }
  // In thin steam it is found.
  EXPECT_TRUE(
      written(run(), {scene::Haze{4, 7, scene::HazeKind::steam, 0.5}, within}).record.not_visible.empty());
  const Written smeared = written(run(), {scene::OnLens{4, 7, scene::LensFilm::mud, 90}, within});
  ASSERT_EQ(smeared.record.not_visible.size(), 1U);
  EXPECT_THAT(smeared.record.not_visible[0].why, HasSubstr("with the lens covered"));
}

struct Look {
  scene::WaterLook look;
  scene::WaterColour colour;
  const char* letter;
  const char* word;
};
class WaterLooks : public testing::TestWithParam<Look> {};
TEST_P(WaterLooks, HaveTheirLetter) {
  scene::Scenario scenario = run();
  scenario.low_spots = {{3, 7, 60}};
  scenario.water = GetParam().look;
  scenario.water_colour = GetParam().colour;
  // Under 30 mm of it: hidden by what is cloudy alone.
  scene::add(scenario, scene::Crack{4.8, 5.2, {6, 6, false}, scene::CrackForm::along, 2});
  const coding::Record record = derive(scene::build_scene(scenario)).record;
  const auto row = std::find_if(record.observations.begin(), record.observations.end(),
                                [](const Observation& o) { return o.code == "BDD"; });
  ASSERT_NE(row, record.observations.end());
  EXPECT_EQ(row->ch1, GetParam().letter);
  EXPECT_THAT(row->reason, HasSubstr(std::string("standing ") + GetParam().word + " water"));
  EXPECT_EQ(record.not_visible.size(), scene::hides(GetParam().look) ? 1U : 0U);
}
INSTANTIATE_TEST_SUITE_P(
    Looks, WaterLooks,
    testing::Values(Look{scene::WaterLook::clear, scene::WaterColour::none, "A", "clear"},
                    Look{scene::WaterLook::cloudy, scene::WaterColour::none, "C", "cloudy"},
                    Look{scene::WaterLook::coloured, scene::WaterColour::red, "D", "red"},
                    Look{scene::WaterLook::cloudy_coloured, scene::WaterColour::black, "E", "cloudy black"}));

}  // namespace
}  // namespace haunch::truth
