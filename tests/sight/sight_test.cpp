// SPDX-License-Identifier: Apache-2.0
// What a drive shows, measured on pictures. Limits are ours.
#include "sight/sight.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/files.hpp"
#include "scenario/read.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::sight {
namespace {

using namespace scene;

Options small() {
  Options options;
  options.width = 320;
  options.height = 180;
  options.threads = 2;
  return options;
}

double seconds(const Drive& drive) {
  return std::accumulate(drive.begin(), drive.end(), 0.0,
                         [](double sum, const Look& look) { return sum + look.seconds; });
}

Scene with(std::initializer_list<FaultKind> kinds, double bore_mm = 150) {
  Scenario scenario = plain_run(4, bore_mm);
  for (const FaultKind& kind : kinds) add(scenario, kind);
  return build_scene(scenario);
}

TEST(CarefulDrive, LeavesNoStretchOut) {
  for (const End from : {End::start, End::end}) {
    Scenario scenario = plain_run(4, 100);
    scenario.inspection.from = from;
    const Scene scene = build_scene(scenario);
    const Drive drive = careful_drive(scene);
    ASSERT_GT(drive.size(), 80U);
    const int way = travel(scene.scenario);
    EXPECT_DOUBLE_EQ(drive.front().lens_z_m, way > 0 ? 0 : 4);
    EXPECT_NEAR(drive.back().lens_z_m, way > 0 ? 4 : 0, 0.04);
    for (std::size_t k = 1; k < drive.size(); ++k) {
      const double step = way * (drive[k].lens_z_m - drive[k - 1].lens_z_m);
      EXPECT_GT(step, 0) << "it goes on";
      EXPECT_LE(step, 0.4 * 0.1 + 1e-9);
    }
    EXPECT_NEAR(seconds(drive), 4 / scene.scenario.camera.speed_m_s, 0.5) << "no faster than the camera";
  }
}

TEST(CarefulDrive, OnlyACrawlerTurnsToLookIntoAConnection) {
  Scenario scenario = plain_run(4, 150);
  add(scenario, Connection{2.5, 3, 100, Fitting::branch, 0, false});
  for (const End from : {End::start, End::end}) {
    scenario.inspection.from = from;
    scenario.camera.kind = CameraKind::push;
    for (const Look& look : careful_drive(build_scene(scenario))) EXPECT_EQ(look.yaw_deg, 0);
    scenario.camera.kind = CameraKind::crawler;
    const Drive drive = careful_drive(build_scene(scenario));
    const auto turned =
        std::find_if(drive.begin(), drive.end(), [](const Look& l) { return l.yaw_deg != 0; });
    ASSERT_NE(turned, drive.end());
    // 3 o'clock looking downstream lies on the left of one who looks upstream.
    EXPECT_GT(turned->yaw_deg * (from == End::start ? 1 : -1), 45);
    EXPECT_NEAR(turned->pitch_deg, 0, 1e-9);
    EXPECT_GT(travel(scenario) * (2.5 - turned->lens_z_m), 0) << "from before the mouth";
  }
}

TEST(CarefulDrive, EndsWhereTheCameraCanGoNoFarther) {
  for (const End from : {End::start, End::end}) {
    Scenario scenario = plain_run(4, 150);
    add(scenario, Connection{1.5, 3, 100, Fitting::branch, 0, false});
    scenario.inspection.from = from;
    const Drive whole = careful_drive(build_scene(scenario)),
                part = careful_drive(build_scene(scenario), 2.5);
    ASSERT_FALSE(part.empty());
    EXPECT_LT(part.size(), whole.size());
    EXPECT_NEAR(part.back().lens_z_m, 2.5, 0.06);
    for (const Look& look : part) EXPECT_LE(travel(scenario) * (look.lens_z_m - 2.5), 1e-9);
  }
}

TEST(Near, KeepsTheTimeAndOnlyWhatIsNearEnough) {
  Scenario scenario = plain_run(20, 100);
  add(scenario, Hole{15, 3, 60, 50, Behind::soil});
  for (const End from : {End::start, End::end}) {
    scenario.inspection.from = from;
    const Scene scene = build_scene(scenario);
    const Drive all = careful_drive(scene), near_it = near(scene, all, {1}, 1000),
                few = near(scene, all, {1}, 10);
    EXPECT_LT(near_it.size(), all.size() / 4);
    EXPECT_LE(few.size(), 10U);
    EXPECT_NEAR(seconds(few), seconds(near_it), 1e-9);
    for (const Look& look : near_it) {
      const double ahead = travel(scenario) * (15 - look.lens_z_m);
      EXPECT_LT(ahead, 2.1);
      EXPECT_GT(ahead, -0.2);
    }
  }
}

TEST(Near, AHaltIsWhereTheLookIsTaken) {
  const Scene scene = with({Hole{2.5, 3, 60, 50, Behind::soil}});
  const Drive drive{{2.0, 0, 0, 1}, {2.05, 0, 0, 9}, {2.1, 0, 0, 1}};
  const Drive one = near(scene, drive, {1}, 1);
  ASSERT_EQ(one.size(), 1U);
  EXPECT_EQ(one[0].lens_z_m, 2.05);
  EXPECT_EQ(one[0].seconds, 11);
}

TEST(Near, AFewLooksTellAboutTheSameAsAllOfThem) {
  const Scene scene =
      with({Hole{2.5, 3, 60, 50, Behind::soil}, Crack{1.3, 1.6, {12, 12, false}, CrackForm::along, 3}});
  Options options = small();
  const Drive drive = careful_drive(scene);
  const Seen all = seen_on(scene, drive, options).at(0);
  options.only = {1};
  const auto few = seen_on(scene, near(scene, drive, {1}, 20), options);
  EXPECT_NEAR(few[0].plainly_s, all.plainly_s, 0.35 * all.plainly_s);
  EXPECT_GT(few[0].most_share, 0.5 * all.most_share);
  EXPECT_EQ(few[1].plainly_s, 0) << "nobody asked for it";
}

TEST(Seen, WhatFillsThePipeIsPlainAndAHairlineFarOffIsNot) {
  const Scene scene = with({Roots{2.5, 2.5, {10, 2, false}, RootForm::mass, 30},
                            Crack{3.4, 3.8, {12, 12, false}, CrackForm::along, 0}});
  const auto near = seen_on(scene, careful_drive(scene), small());
  ASSERT_EQ(near.size(), 2U);
  EXPECT_TRUE(near[0].plain());
  EXPECT_GT(near[0].most_share, 0.05);
  EXPECT_LT(near[0].best_z_m, 2.5) << "seen from before it";
  // One look from the far end of the run: the roots are a smudge, the crack is nothing.
  const auto far = seen_on(scene, {{0, 0, 0, 10}}, small());
  EXPECT_FALSE(far[1].plain());
  EXPECT_LT(far[0].most_share, near[0].most_share / 4);
}

TEST(Seen, TimeAddsUpAndIsNeverMoreThanTheDrive) {
  const Scene scene = with({Hole{2.5, 3, 60, 50, Behind::soil}});
  const Drive drive = careful_drive(scene);
  const Seen one = seen_on(scene, drive, small()).at(0);
  EXPECT_GT(one.plainly_s, 0);
  EXPECT_LE(one.plainly_s, one.in_view_s);
  EXPECT_LT(one.in_view_s, seconds(drive)) << "it is passed before the end";
  Drive twice = drive;
  twice.insert(twice.end(), drive.begin(), drive.end());
  const Seen again = seen_on(scene, twice, small()).at(0);
  EXPECT_NEAR(again.plainly_s, 2 * one.plainly_s, 1e-9);
  EXPECT_EQ(again.most_share, one.most_share);
}

TEST(Seen, ADriveThatStopsShortSeesNothingOfWhatComesAfter) {
  const Scene scene = with({Crack{3.0, 3.6, {12, 12, false}, CrackForm::along, 2}});
  Drive drive = careful_drive(scene);
  EXPECT_TRUE(seen_on(scene, drive, small()).at(0).plain());
  std::erase_if(drive, [](const Look& look) { return look.lens_z_m > 1.0; });
  EXPECT_FALSE(seen_on(scene, drive, small()).at(0).plain());
}

TEST(Seen, CloudyWaterHidesWhatItCovers) {
  Scenario scenario = plain_run(4, 150);
  scenario.gradient_percent = 0;
  add(scenario, Crack{2.2, 2.8, {6, 6, false}, CrackForm::along, 2});
  Scene dry = build_scene(scenario);
  EXPECT_TRUE(seen_on(dry, careful_drive(dry), small()).at(0).plain());
  // A low spot holds 60 mm over it. The lens stays above.
  scenario.low_spots = {{0.5, 3.9, 60}};
  scenario.camera.height_mm = 110;
  for (const WaterLook look : {WaterLook::cloudy, WaterLook::clear}) {
    scenario.water = look;
    const Scene wet = build_scene(scenario);
    EXPECT_EQ(seen_on(wet, careful_drive(wet), small()).at(0).plain(), look == WaterLook::clear);
  }
}

TEST(Seen, AJointOutOfLineIsMeasuredAgainstOneInLine) {
  const Scene scene = with({JointShift{2, 14, 5}});
  const Seen one = seen_on(scene, careful_drive(scene), small()).at(0);
  EXPECT_TRUE(one.plain());
  EXPECT_GT(one.contrast, 0.1);
}

TEST(Seen, IsTheSameOnAnyNumberOfThreads) {
  const Scene scene =
      with({Hole{2.5, 3, 60, 50, Behind::soil}, Roots{3, 3, {10, 2, false}, RootForm::fine, 8}});
  Drive drive = careful_drive(scene);
  std::erase_if(drive, [](const Look& look) { return look.lens_z_m < 1.8; });
  Options one = small(), two = small();
  one.threads = 1;
  EXPECT_EQ(seen_on(scene, drive, one), seen_on(scene, drive, two));
}

/// The truth judges by geometry what no careful drive can show; the pictures of one say the same.
TEST(Seen, AgreesWithTheTruthOfAShippedRun) {
  const Scene scene = build_scene(
      scenario::read_scenario(base::content_dir() / "scenarios" / "school-iron-outlet.json").value());
  const truth::Truth truth = truth::derive(scene);
  // Every third look is enough for what lies as far apart.
  Drive drive;
  const Drive whole = careful_drive(scene);
  for (std::size_t k = 0; k < whole.size(); k += 3) drive.push_back(whole[k]);
  const auto seen = seen_on(scene, drive, small());
  int plain = 0, hidden = 0;
  for (std::size_t i = 0; i < truth.record.observations.size(); ++i) {
    const int fault = truth.origins[i].fault;
    const coding::Observation& row = truth.record.observations[i];
    if (fault == 0 || row.stretch.starts_with('B')) continue;
    const std::string& id = row.id;
    const bool not_visible = std::any_of(truth.record.not_visible.begin(), truth.record.not_visible.end(),
                                         [&](const auto& entry) { return entry.observation == id; });
    const Seen& one = seen.at(static_cast<std::size_t>(fault - 1));
    EXPECT_EQ(one.plain(), !not_visible) << row.code << " fault " << fault << ": " << one.most_share
                                         << " of the picture, contrast " << one.contrast;
    ++(not_visible ? hidden : plain);
  }
  EXPECT_GE(plain, 8);
  EXPECT_GE(hidden, 1);
}

}  // namespace
}  // namespace haunch::sight
