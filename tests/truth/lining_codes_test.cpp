// SPDX-License-Identifier: Apache-2.0
// Linings and what is wrong with them: their codes, and what they hide of the pipe behind them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "matter/coat.hpp"
#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::FaultKind;
using scene::FoldWay;
using scene::LiningDefect;
using scene::LiningForm;
using scene::ShortLining;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Truth truth_of(std::vector<FaultKind> kinds, bool upstream = false) {
  scene::Scenario scenario = scene::plain_run();
  if (upstream) scenario.inspection.from = scenario.inspection.distance_zero = scene::End::end;
  for (FaultKind& kind : kinds) scene::add(scenario, std::move(kind));
  return derive(scene::build_scene(scenario));
}
std::vector<Observation> rows(const Truth& truth) { return truth_test::rows_of(truth); }
std::vector<std::string> codes(const Truth& truth) { return truth_test::codes_of(rows(truth)); }

TEST(LiningCodes, AShortLiningIsAPointRepairFromEndToEnd) {
  const Truth truth = truth_of({ShortLining{2.4, 3.6, 4}});
  EXPECT_THAT(codes(truth), ElementsAre("BCB B", "BCB B"));
  EXPECT_DOUBLE_EQ(rows(truth)[0].distance_m.value.value(), 2.4);
  EXPECT_DOUBLE_EQ(rows(truth)[1].distance_m.value.value(), 3.6);
  EXPECT_THAT(rows(truth)[0].reason, HasSubstr("4 mm thick"));
  EXPECT_EQ(rows(truth)[0].stretch, "A1");
}

struct Written {
  LiningForm form;
  const char* code;
  double q1 = -1;
  FoldWay way = FoldWay::along;
};
TEST(LiningCodes, EachDefectHasItsLetterAndItsNumber) {
  const std::vector<Written> all = {{LiningForm::come_away, "BAK A", 12},
                                    {LiningForm::discoloured, "BAK B"},
                                    {LiningForm::poor_end, "BAK C"},
                                    {LiningForm::wrinkled, "BAK D A", 12, FoldWay::along},
                                    {LiningForm::wrinkled, "BAK D B", 12, FoldWay::around},
                                    {LiningForm::wrinkled, "BAK D C", 12, FoldWay::several},
                                    {LiningForm::wrinkled, "BAK D D", 12, FoldWay::spiral},
                                    {LiningForm::bulging_in, "BAK E", 12},
                                    {LiningForm::bulging_out, "BAK F"},
                                    {LiningForm::film_off, "BAK G"},
                                    {LiningForm::seam_off, "BAK H"},
                                    {LiningForm::cracked, "BAK I", 3},
                                    {LiningForm::holed, "BAK J"},
                                    {LiningForm::poor_joint, "BAK K"},
                                    {LiningForm::soft, "BAK L"},
                                    {LiningForm::resin_missing, "BAK M"},
                                    {LiningForm::end_open, "BAK N", 3}};
  for (const Written& w : all)
    for (const bool upstream : {false, true}) {
      LiningDefect defect{2.4, 2.6, {1, 4, false}, w.form, w.way, 0, 0};
      if (scene::takes_area(w.form)) defect.percent = 12.3;
      if (w.q1 == 3) defect.width_mm = 3.2;
      const auto found = rows(truth_of({ShortLining{2.4, 3.6, 4}, defect}, upstream));
      ASSERT_EQ(found.size(), 3U) << w.code;
      const auto row =
          std::find_if(found.begin(), found.end(), [](const Observation& r) { return r.code == "BAK"; });
      ASSERT_NE(row, found.end()) << w.code;
      EXPECT_EQ(coding::show_code(*row), w.code);
      EXPECT_EQ(row->q1.value.value_or(-1), w.q1) << w.code;
      EXPECT_EQ(row->clock_from, upstream ? 8 : 1) << w.code;
      EXPECT_EQ(row->clock_to, upstream ? 11 : 4) << w.code;
      EXPECT_DOUBLE_EQ(row->distance_m.value.value(), upstream ? 7.5 : 2.5) << w.code;
      EXPECT_THAT(row->reason, HasSubstr("BAK")) << w.code;
    }
}

TEST(LiningCodes, InASectionOfLinerNothingCountsAsMended) {
  scene::Scenario scenario = scene::plain_run();
  for (scene::Section& section : scenario.sections) section.material = scene::Material::liner;
  scene::add(scenario, LiningDefect{2.4, 2.6, {1, 4, false}, LiningForm::wrinkled, FoldWay::around, 12.3, 0});
  scene::add(scenario, LiningDefect{4, 4.1, {10, 11, false}, LiningForm::holed, FoldWay::along, 0, 0});
  EXPECT_THAT(codes(derive(scene::build_scene(scenario))), ElementsAre("BAK D B", "BAK J"));
}

TEST(LiningCodes, LongDefectsAreStretches) {
  EXPECT_THAT(
      codes(truth_of({ShortLining{2, 4, 4},
                      LiningDefect{2.5, 3.2, {9, 3, false}, LiningForm::soft, FoldWay::along, 0, 0}})),
      ElementsAre("BCB B", "BAK L", "BAK L", "BCB B"));
}

/// Why the first row of a code is not visible, or empty.
std::string why(const Truth& truth, const std::string& code) {
  for (const Observation& row : truth.record.observations)
    if (row.code == code)
      for (const auto& hidden : truth.record.not_visible)
        if (hidden.observation == row.id) return hidden.why;
  return {};
}

TEST(LiningHides, WhatIsOfThePipesOwnWall) {
  const ShortLining lining{2.4, 3.6, 4};
  const scene::Crack crack{2.6, 3.2, {2, 2, false}, scene::CrackForm::along, 2};
  EXPECT_THAT(why(truth_of({crack}), "BAB"), IsEmpty());
  EXPECT_THAT(why(truth_of({crack, lining}), "BAB"), HasSubstr("behind the short lining"));
  EXPECT_THAT(why(truth_of({scene::JointGap{3, 20}, lining}), "BAJ"), HasSubstr("behind the short lining"));
  EXPECT_THAT(why(truth_of({scene::Hole{3.2, 10, 60, 50, scene::Behind::soil}, lining}), "BAC"),
              HasSubstr("behind the short lining"));
  // Part of it lies outside; a step shows through; the lining itself is in sight.
  EXPECT_THAT(
      why(truth_of({scene::Crack{2.1, 3.2, {2, 2, false}, scene::CrackForm::along, 2}, lining}), "BAB"),
      IsEmpty());
  EXPECT_THAT(why(truth_of({scene::JointShift{3, 12, 5}, lining}), "BAJ"), IsEmpty());
  EXPECT_THAT(why(truth_of({crack, lining}), "BCB"), IsEmpty());
}

TEST(LiningHides, NothingBehindAHoleInIt) {
  const ShortLining lining{2.4, 3.6, 4};
  const scene::Crack crack{2.6, 3.2, {2, 2, false}, scene::CrackForm::along, 2};
  const auto holed = [](double from_h, double to_h) {
    return LiningDefect{2.8, 2.95, {from_h, to_h, false}, LiningForm::holed, FoldWay::along, 0, 0};
  };
  EXPECT_THAT(why(truth_of({crack, lining, holed(1, 3)}), "BAB"), IsEmpty());
  EXPECT_THAT(why(truth_of({crack, lining, holed(5, 7)}), "BAB"), HasSubstr("behind the short lining"));
}

TEST(LiningShapes, TakeTheStatedShareOfTheBore) {
  for (const FoldWay way : {FoldWay::along, FoldWay::around, FoldWay::several, FoldWay::spiral})
    for (const std::uint64_t seed : {1U, 9U}) {
      scene::Scenario scenario = scene::plain_run();
      scenario.seed = seed;
      scene::add(scenario, ShortLining{2.4, 3.6, 4});
      scene::add(scenario, LiningDefect{2.6, 3.1, {4, 10, false}, LiningForm::wrinkled, way, 6, 0});
      scene::add(scenario, LiningDefect{2.6, 3.1, {12, 3, false}, LiningForm::bulging_in, way, 9, 0});
      scene::add(scenario, LiningDefect{3.3, 3.6, {10, 2, false}, LiningForm::come_away, way, 20, 0});
      const scene::Scene run = scene::build_scene(scenario);
      EXPECT_NEAR(matter::share_lost(run, 2), 0.06, 0.002);
      EXPECT_NEAR(matter::share_lost(run, 3), 0.09, 0.002);
      EXPECT_NEAR(matter::share_lost(run, 4), 0.20, 0.002);
    }
}

TEST(LiningShapes, TakeTheStatedShareOfALinedSection) {
  scene::Scenario scenario = scene::plain_run();
  for (scene::Section& section : scenario.sections) section.material = scene::Material::liner;
  scene::add(scenario, LiningDefect{2.6, 3.1, {4, 10, false}, LiningForm::wrinkled, FoldWay::along, 6, 0});
  scene::add(scenario, LiningDefect{3.3, 3.6, {10, 2, false}, LiningForm::come_away, FoldWay::along, 20, 0});
  const scene::Scene run = scene::build_scene(scenario);
  EXPECT_NEAR(matter::share_lost(run, 1), 0.06, 0.002);
  EXPECT_NEAR(matter::share_lost(run, 2), 0.20, 0.002);
}

TEST(LiningShapes, LiftTheWaterByTheirThickness) {
  scene::Scenario scenario = scene::plain_run();
  scenario.flow_l_s = 0.3;
  const scene::Scene plain = scene::build_scene(scenario);
  scene::add(scenario, ShortLining{4, 6, 5});
  const scene::Scene lined = scene::build_scene(scenario);
  const double rise = scene::level_at(lined.water, 5) - scene::level_at(plain.water, 5);
  EXPECT_GT(rise, 0.0048);
  EXPECT_LT(rise, 0.0065);
  EXPECT_NEAR(scene::level_at(lined.water, 7), scene::level_at(plain.water, 7), 1e-9);
}

}  // namespace
}  // namespace haunch::truth
