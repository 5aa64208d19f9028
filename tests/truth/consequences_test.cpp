// SPDX-License-Identifier: Apache-2.0
// Findings that belong together: what one thing in the scene gives of several codes at one place.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using testing::UnorderedElementsAre;

std::vector<Observation> rows(scene::Scenario scenario, scene::End from = scene::End::start) {
  scenario.inspection = {from, from, 0};
  std::vector<Observation> found;
  for (const Observation& row : derive(scene::build_scene(std::move(scenario))).record.observations)
    if (row.code != "BCD" && row.code != "BCE") found.push_back(row);
  return found;
}

struct Ground {
  scene::Behind behind;
  const char* code;
};
class AHole : public testing::TestWithParam<Ground> {};
TEST_P(AHole, GivesWhatShowsThroughItAtItsOwnPlaceAndClock) {
  for (const scene::End from : {scene::End::start, scene::End::end}) {
    scene::Scenario scenario = scene::plain_run();
    scene::add(scenario, scene::Hole{4.4, 2, 60, 50, GetParam().behind});
    const auto all = rows(scenario, from);
    ASSERT_THAT(truth_test::codes_of(all), UnorderedElementsAre("BAC B", GetParam().code));
    EXPECT_EQ(all[0].distance_m, all[1].distance_m);
    EXPECT_EQ(all[0].clock_from, all[1].clock_from);
    EXPECT_EQ(all[0].clock_to, all[1].clock_to);
  }
}
INSTANTIATE_TEST_SUITE_P(Grounds, AHole,
                         testing::Values(Ground{scene::Behind::soil, "BAO"},
                                         Ground{scene::Behind::stone, "BAO"},
                                         Ground{scene::Behind::nothing, "BAP"}));

TEST(Together, WallThatIsGoneShowsTheGroundAlongItsStretch) {
  scene::Scenario scenario = scene::plain_run(10, 150, scene::Material::concrete);
  scene::add(scenario,
             scene::SurfaceDamage{
                 4.2, 4.8, {5, 7, false}, scene::DamageForm::wall_gone, scene::DamageCause::chemical, 0});
  const auto all = rows(scenario);
  ASSERT_THAT(truth_test::codes_of(all), UnorderedElementsAre("BAF I B", "BAF I B", "BAO", "BAO"));
  std::set<std::string> stretches;
  for (const Observation& row : all) stretches.insert(row.stretch);
  EXPECT_EQ(stretches.size(), 4U) << "two stretches, each with a begin and an end";
}

TEST(Together, AnOpenJointThatDripsIsBothAtTheJoint) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::JointGap{4, 18});
  scene::add(scenario, scene::Infiltration{4, {2, 2, false}, scene::WaterRate::drips});
  const auto all = rows(scenario);
  ASSERT_THAT(truth_test::codes_of(all), UnorderedElementsAre("BAJ A", "BBF B"));
  for (const Observation& row : all) {
    EXPECT_EQ(row.distance_m, coding::Number(4));
    EXPECT_TRUE(row.at_joint) << row.code;
  }
}

TEST(Together, SoilThatCameInThroughAHoleLiesByIt) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scene::add(scenario, scene::Hole{4.4, 2, 60, 50, scene::Behind::soil});
  scene::add(scenario, scene::SoilIngress{4.4, {2, 2, false}, scene::SoilKind::sand, 10});
  EXPECT_THAT(truth_test::codes_of(rows(scenario)), UnorderedElementsAre("BAC B", "BAO", "BBD A"));
}

TEST(Together, ARigidPipeOutOfRoundIsCrackedAFlexibleOneIsNot) {
  const auto squashed = [](scene::Material material, double percent) {
    scene::Scenario scenario = scene::plain_run(10, 150, material);
    scene::add(scenario, scene::Squashed{4.2, 5.4, true, percent});
    std::set<std::string> main;
    for (const Observation& row : rows(scenario)) main.insert(row.code);
    return main;
  };
  EXPECT_THAT(squashed(scene::Material::clay, 6), UnorderedElementsAre("BAA", "BAB"));
  EXPECT_THAT(squashed(scene::Material::clay, 15), UnorderedElementsAre("BAA", "BAC"));
  EXPECT_THAT(squashed(scene::Material::pvc, 6), UnorderedElementsAre("BAA"));
}

TEST(Together, ASagIsOneStretchOfWaterWithItsDeepestPlace) {
  for (const scene::End from : {scene::End::start, scene::End::end}) {
    scene::Scenario scenario = scene::plain_run(16, 150);
    scenario.low_spots = {{5, 11, 60}};
    const auto all = rows(scenario, from);
    ASSERT_THAT(truth_test::codes_of(all), UnorderedElementsAre("BDD C", "BDD C"));
    EXPECT_EQ(all[0].stretch, "A1");
    EXPECT_EQ(all[1].stretch, "B1");
    EXPECT_EQ(all[0].q1, all[1].q1);
    // By hand: 60 mm bowl in 1 % of fall, deepest near its middle; the lip is lower by the fall to it.
    const scene::Scene scene = scene::build_scene(scenario);
    double deepest_m = 0;
    for (double z = 5; z < 11; z += 0.01)
      deepest_m = std::max(deepest_m, scene::level_at(scene.water, z) - scene::invert_at(scene, z));
    EXPECT_NEAR(*all[0].q1.value, 100 * deepest_m / 0.15, 1);
    EXPECT_GT(*all[0].q1.value, 5);
  }
}

}  // namespace
}  // namespace haunch::truth
