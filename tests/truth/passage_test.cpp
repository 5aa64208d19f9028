// SPDX-License-Identifier: Apache-2.0
// Where an inspection has to end before the run does, and what of the run is then seen from which end.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "coding/validate.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

Truth derived(scene::Scenario scenario, scene::End from = scene::End::start) {
  scenario.inspection = {from, from, 0};
  return derive(scene::build_scene(std::move(scenario)));
}

std::vector<std::string> codes(const Truth& truth, bool seen) {
  std::vector<std::string> found;
  for (const Observation& row : truth.record.observations) {
    const bool set_aside =
        std::any_of(truth.record.not_visible.begin(), truth.record.not_visible.end(),
                    [&](const coding::NotVisible& one) { return one.observation == row.id; });
    if (set_aside != seen) found.push_back(coding::show_code(row));
  }
  return found;
}
const Observation& row_of(const Truth& truth, const std::string& code) {
  for (const Observation& row : truth.record.observations)
    if (row.code == code) return row;
  throw std::runtime_error("there is no " + code);
}

/// A crack, a collapse that nothing gets past, and a gap.
scene::Scenario fallen_in(double takes_percent = 90) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scenario.camera.head_mm = 60;
  scene::add(scenario, scene::Crack{2.3, 2.3, {10, 2, false}, scene::CrackForm::around, 2});
  scene::add(scenario, scene::BrokenWall{5.5, 12, 300, 250, 0, true, takes_percent});
  scene::add(scenario, scene::JointGap{8, 20});
  return scenario;
}

TEST(Abandoned, WhereACollapseLeavesLessThanTheCamera) {
  const Truth truth = derived(fallen_in());
  ASSERT_TRUE(truth.stop);
  EXPECT_EQ(truth.stop->fault, 2);
  EXPECT_LT(truth.stop->lens_z_m, truth.stop->at_z_m);
  EXPECT_EQ(truth.stop->at_z_m, 5.5);
  const Observation& end = row_of(truth, "BDC");
  EXPECT_EQ(coding::show_code(end), "BDC A E");
  EXPECT_NEAR(*end.distance_m.value, truth.stop->at_z_m, 0.0051);
  EXPECT_THAT(end.reason, HasSubstr("the collapse leaves"));
  EXPECT_THAT(end.reason, HasSubstr("head of 60 mm"));
  EXPECT_THAT(codes(truth, true), Not(Contains("BCE"))) << "nobody came to the finish node";
  EXPECT_THAT(codes(truth, true), Contains("BAB C B"));
  EXPECT_THAT(codes(truth, true), Contains("BAC C")) << "what ends it is seen";
  EXPECT_THAT(codes(truth, false), testing::ElementsAre("BAJ A"));
  EXPECT_THAT(truth.record.not_visible[0].why, HasSubstr("beyond the place where the inspection had to end"));
  for (const base::Problem& problem : coding::validate(truth.record, coding::CodeList::shipped(), "run"))
    EXPECT_EQ(problem.severity, base::Severity::note) << base::to_line(problem);
}

TEST(Abandoned, FromTheOtherEndTheOtherPartIsSeen) {
  const Truth truth = derived(fallen_in(), scene::End::end);
  ASSERT_TRUE(truth.stop);
  EXPECT_GT(truth.stop->lens_z_m, truth.stop->at_z_m);
  EXPECT_EQ(truth.stop->at_z_m, 5.5);
  EXPECT_THAT(codes(truth, true), Contains("BAJ A"));
  EXPECT_THAT(codes(truth, true), Contains("BAC C"));
  EXPECT_THAT(codes(truth, false), testing::ElementsAre("BAB C B"));
  EXPECT_NEAR(*row_of(truth, "BDC").distance_m.value, 10 - truth.stop->at_z_m, 0.0051);
}

TEST(Abandoned, NotWhereTheCameraGetsPast) {
  const Truth truth = derived(fallen_in(20));
  EXPECT_FALSE(truth.stop);
  EXPECT_THAT(codes(truth, true), Contains("BCE B"));
  EXPECT_THAT(codes(truth, true), Contains("BAJ A"));
  EXPECT_THAT(truth.record.not_visible, IsEmpty());
}

TEST(Abandoned, ASmallerHeadGetsPastWhatStopsALargeOne) {
  for (const double head_mm : {30.0, 90.0}) {
    scene::Scenario scenario = scene::plain_run(10, 150);
    scenario.camera.head_mm = head_mm;
    scene::add(scenario, scene::JointShift{4, 80, 6});
    EXPECT_EQ(derived(scenario).stop.has_value(), head_mm > 70) << "70 mm are open past the step";
    scenario.faults.clear();
    scene::add(scenario, scene::Settled{4, 6, scene::SettledKind::hard, 60});
    EXPECT_EQ(derived(scenario).stop.has_value(), head_mm > 60) << "60 mm are open over the deposit";
    scenario.faults.clear();
    scene::add(scenario, scene::Connection{4.5, 3, 150, scene::Fitting::saddle, 60, false});
    EXPECT_EQ(derived(scenario).stop.has_value(), head_mm > 60) << "60 mm are open beside the connection";
  }
}

TEST(Abandoned, WhereBrickworkHasCollapsed) {
  for (const double takes_percent : {10.0, 80.0}) {
    scene::Scenario scenario = scene::plain_run(10, 450, scene::Material::brick);
    scenario.camera.head_mm = 150;
    scene::add(scenario, scene::BrickDamage{scene::BrickForm::collapsed,
                                            4,
                                            5,
                                            {10, 2, false},
                                            0,
                                            scene::BehindBricks::course,
                                            takes_percent});
    EXPECT_EQ(derived(scenario).stop.has_value(), takes_percent > 50);
  }
}

TEST(Abandoned, RootsGiveWay) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scenario.camera.head_mm = 90;
  scene::add(scenario, scene::Roots{4, 4.4, {12, 12, true}, scene::RootForm::mass, 90});
  EXPECT_FALSE(derived(scenario).stop);
}

TEST(Abandoned, TheFirstOfTwoOnTheCamerasWay) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scenario.camera.head_mm = 90;
  scene::add(scenario, scene::JointShift{7, 80, 6});
  scene::add(scenario, scene::JointShift{3, 80, 6});
  EXPECT_EQ(derived(scenario).stop->fault, 2);
  EXPECT_EQ(derived(scenario, scene::End::end).stop->fault, 1);
}

TEST(Abandoned, AStretchThatGoesOnEndsThere) {
  scene::Scenario scenario = fallen_in();
  scene::add(scenario, scene::SurfaceDamage{
                           3, 7, {4, 8, false}, scene::DamageForm::rougher, scene::DamageCause::unclear, 0});
  for (const scene::End from : {scene::End::start, scene::End::end}) {
    const Truth truth = derived(scenario, from);
    double begin = -1, end = -1;
    for (const Observation& row : truth.record.observations) {
      if (row.code != "BAF") continue;
      (row.stretch[0] == 'A' ? begin : end) = *row.distance_m.value;
    }
    EXPECT_NEAR(begin, 3, 1e-6);
    EXPECT_NEAR(end, *row_of(truth, "BDC").distance_m.value, 0.0051);
  }
}

/// Water that stands to the crown up to the far end of the run, behind a bend that rises.
scene::Scenario drowned() {
  scene::Scenario scenario = scene::plain_run(12, 100);
  scenario.camera.kind = scene::CameraKind::push;
  scenario.gradient_percent = 1;
  scenario.low_spots = {{7, 12, 400}};
  scene::add(scenario, scene::JointGap{3, 20});
  scene::add(scenario, scene::Crack{10.3, 10.3, {12, 12, false}, scene::CrackForm::around, 2});
  return scenario;
}

TEST(Abandoned, WhereTheHeadGoesUnderAndDoesNotComeUpAgain) {
  scene::Scenario scenario = drowned();
  // Level at its end, so that the camera is still under where the run ends.
  scene::Scene scene = scene::build_scene(scenario);
  const double level = scene::invert_at(scene, 12) + 0.1;
  scene.water.reaches = {{8, 12, level, level, true}};
  const Truth truth = derive(scene);
  ASSERT_TRUE(truth.stop);
  EXPECT_EQ(truth.stop->fault, 0);
  const Observation& end = row_of(truth, "BDC");
  EXPECT_EQ(coding::show_code(end), "BDC B E");
  EXPECT_GT(*end.distance_m.value, 7.5);
  EXPECT_LT(*end.distance_m.value, 11);
  EXPECT_THAT(codes(truth, true), Contains("BDG A"));
  EXPECT_THAT(codes(truth, true), Contains("BAJ A"));
  EXPECT_THAT(codes(truth, false), Contains("BAB C B"));
}

TEST(Abandoned, NotWhereTheHeadComesUpAgain) {
  scene::Scenario scenario = scene::plain_run(14, 100);
  scenario.low_spots = {{3, 10, 140}};
  scenario.camera.kind = scene::CameraKind::push;
  const Truth truth = derived(scenario);
  EXPECT_THAT(codes(truth, true), Contains("BDG A"));
  EXPECT_FALSE(truth.stop);
}

TEST(Abandoned, WhatIsToldBeyondItIsNotTold) {
  scene::Scenario scenario = fallen_in();
  scenario.notes = {{7, scene::NoteKind::air, scene::Gas::methane, 1, "%", "", "/notes/0"}};
  EXPECT_THAT(codes(derived(scenario), false), Contains("BDF C"));
  EXPECT_THAT(codes(derived(scenario, scene::End::end), true), Contains("BDF C"));
}

}  // namespace
}  // namespace haunch::truth
