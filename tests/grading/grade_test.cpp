// SPDX-License-Identifier: Apache-2.0
// Grading: honest outcomes, reasons, conditions along the pipe, and properties over random records.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "grading/along.hpp"
#include "grading/grade_json.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using testing::goal_of;
using testing::grade_one;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::record_of;
using testing::seen;

Grade graded(std::vector<coding::Observation> observations) {
  return grade(record_of(std::move(observations)), Scheme::shipped(), {});
}

TEST(Outcomes, NoRow) {
  const GoalClass weld = goal_of(grade_one(seen(1, "BAM", "A")), "stability");
  EXPECT_EQ(weld.outcome, Outcome::no_row);
  EXPECT_FALSE(weld.grade || weld.number);
  EXPECT_THAT(weld.reason, HasSubstr("the scheme says nothing of BAM and stability"));
  EXPECT_FALSE(weld.provisional);
  EXPECT_EQ(goal_of(grade_one(seen(1, "BAI", "A", "Z")), "tightness").outcome, Outcome::no_row);
}

TEST(Outcomes, ValueMissing) {
  const GoalClass crack = goal_of(grade_one(seen(1, "BAB", "B", "A")), "tightness");
  EXPECT_EQ(crack.outcome, Outcome::value_missing);
  EXPECT_EQ(crack.row, "BAB/BC/tightness");
  EXPECT_THAT(crack.reason, HasSubstr("is not given"));
  const GoalClass letter = goal_of(grade_one(seen(1, "BAC")), "tightness");
  EXPECT_EQ(letter.outcome, Outcome::value_missing);
  EXPECT_THAT(letter.reason, HasSubstr("characterisation 1 is not given"));
}

TEST(Outcomes, ConditionUnknown) {
  const GoalClass squashed = goal_of(grade_one(seen(1, "BAA", "A", "", 7), {}, ""), "stability");
  EXPECT_EQ(squashed.outcome, Outcome::condition_unknown);
  EXPECT_THAT(squashed.reason, HasSubstr("rigid pipe; flexible pipe"));
  const GoalClass bend = goal_of(grade_one(seen(1, "BAJ", "C", "", 7), {}, "AE", ""), "tightness");
  EXPECT_EQ(bend.outcome, Outcome::condition_unknown);
  // The row for rigid pipe is not for plastic: that is no row, and known to be none.
  EXPECT_EQ(goal_of(grade_one(seen(1, "BAB", "B", "A", 3), {}, "AX"), "stability").outcome, Outcome::no_row);
}

TEST(Outcomes, WhatDescribesThePipeIsNotGraded) {
  const Grade all = graded(
      {seen(0, "BCD", "A"), seen(3, "BCA", "A", "A", 100), seen(4, "BDD", "A", "", 20), seen(9, "BCE", "A")});
  EXPECT_TRUE(all.observations.empty());
  EXPECT_EQ(all.object_class, 0);
  // That no defect means class 0 is from memory, as the bounds of the other object classes are.
  EXPECT_TRUE(all.provisional);
  EXPECT_THAT(to_json(all), Not(HasSubstr("BFR")));
  EXPECT_TRUE(all.not_inspected.empty());
  EXPECT_THAT(all.notes, ::testing::Contains(HasSubstr("BCA: not graded")));
}

TEST(Outcomes, DefectsWithoutAnyClassGiveNoObjectClass) {
  const Grade all = graded({seen(1, "BAM", "A")});
  EXPECT_FALSE(all.object_class.has_value());
  EXPECT_THAT(all.object_reason, HasSubstr("none could be given a class"));
}

coding::Record with_length(std::vector<coding::Observation> observations, const std::string& length_m) {
  coding::Record record = record_of(std::move(observations));
  record.set_header("ABQ", length_m);
  return record;
}

/// Ours: what was not seen has no class, and is not free of defects either.
TEST(Coverage, WhatWasNotSeenIsNotFreeOfDefects) {
  struct Case {
    coding::Record record;
    std::string why;
  };
  const std::vector<Case> cases = {
      {{}, "nothing was observed"},
      {record_of({seen(0, "BCD", "A"), seen(0.5, "BDC", "A", "E")}), "abandoned (BDC)"},
      {record_of({seen(0, "BCD", "A")}), "no finish node (BCE)"},
      {record_of({seen(20, "BCE", "A")}), "no start node (BCD)"},
      {record_of({seen(0, "BCD", "A"), seen(4, "BDG", "A"), seen(20, "BCE", "A")}),
       "view was lost on the way (BDG)"},
      {with_length({seen(0, "BCD", "A"), seen(5, "BCE", "A")}, "20"),
       "ends well short of the length stated (ABQ)"}};
  for (const Case& one : cases) {
    const Grade all = grade(one.record, Scheme::shipped(), {});
    EXPECT_FALSE(all.object_class.has_value()) << one.why;
    EXPECT_THAT(all.object_reason, HasSubstr("not wholly inspected"));
    EXPECT_THAT(all.object_reason, HasSubstr("no class can be given for what was not seen"));
    EXPECT_THAT(all.object_reason, HasSubstr(one.why));
    EXPECT_THAT(to_json(all), Not(HasSubstr("nothing to do")));
    EXPECT_THAT(to_json(all), Not(HasSubstr("BFR")));
    const auto json = nlohmann::json::parse(to_json(all));
    EXPECT_EQ(json.at("wholly_inspected"), false);
    EXPECT_EQ(json.at("not_inspected").size(), all.not_inspected.size());
  }
}

TEST(Coverage, ADefectThatWasSeenKeepsItsClassAndTheRestIsSaid) {
  const Grade all = graded({seen(0, "BCD", "A"), seen(1, "BBF", "D"), seen(3, "BDC", "A", "E")});
  EXPECT_EQ(all.object_class, 5);
  EXPECT_THAT(all.object_reason, HasSubstr("The class is that of what was seen; not wholly inspected"));
}

TEST(Coverage, EitherWayAlongAndAZeroBeforeTheNodeAreWhole) {
  for (const auto& [start, finish] :
       {std::pair(0.0, 20.0), std::pair(20.0, 0.0), std::pair(0.3, 20.3), std::pair(0.0, 19.4)})
    EXPECT_TRUE(
        grade(with_length({seen(start, "BCD", "A"), seen(finish, "BCE", "A")}, "20"), Scheme::shipped(), {})
            .not_inspected.empty());
}

TEST(Reasons, NameRowThresholdSizeAndSource) {
  const GoalClass crack = goal_of(grade_one(seen(1, "BAB", "B", "A", 3.5)), "tightness");
  EXPECT_EQ(crack.grade, 4);
  EXPECT_EQ(crack.row, "BAB/BC/tightness");
  EXPECT_THAT(crack.reason, HasSubstr("BAB/BC/tightness"));
  EXPECT_THAT(crack.reason, HasSubstr("3.5 mm, from 3 mm: class 4"));
  // Each thing once: where the row is from, and that it is provisional, stand apart.
  EXPECT_EQ(crack.source, "from memory");
  EXPECT_TRUE(crack.provisional);
  EXPECT_THAT(crack.reason, Not(HasSubstr("from memory")));
  EXPECT_THAT(crack.reason, Not(HasSubstr("provisional")));
}

TEST(Bounds, ASizeOnTheBoundTakesTheWorseClass) {
  EXPECT_EQ(goal_of(grade_one(seen(1, "BBC", "A", "", 25)), "operation").grade, 3);
  EXPECT_EQ(goal_of(grade_one(seen(1, "BBC", "A", "", 24.999)), "operation").grade, 2);
  EXPECT_EQ(goal_of(grade_one(seen(1, "BBC", "A", "", 9)), "operation").grade, 1);
}

TEST(Conditions, StiffnessAndBoreDecideTheRow) {
  const coding::Observation squashed = seen(1, "BAA", "A", "", 7);
  EXPECT_EQ(goal_of(grade_one(squashed, {}, "AE"), "stability").grade, 5);
  EXPECT_EQ(goal_of(grade_one(squashed, {}, "AX"), "stability").grade, 3);
  const coding::Observation bend = seen(1, "BAJ", "C", "", 5);
  EXPECT_EQ(goal_of(grade_one(bend, {}, "AE", "200"), "tightness").grade, 2);
  EXPECT_EQ(goal_of(grade_one(bend, {}, "AE", "201"), "tightness").grade, 4);
  EXPECT_EQ(goal_of(grade_one(bend, {}, "AE", "600"), "tightness").grade, 4);
}

TEST(Conditions, TheLastChangeOfMaterialHolds) {
  const auto classes = [](double start, double finish) {
    const Grade all =
        grade(record_of({seen(start, "BCD", "A"), seen(5, "BAA", "A", "", 7), seen(10, "AED", "AX"),
                         seen(15, "BAA", "A", "", 7), seen(finish, "BCE", "A")}),
              Scheme::shipped(), {});
    return std::pair(goal_of(all.observations.at(0), "stability").grade,
                     goal_of(all.observations.at(1), "stability").grade);
  };
  EXPECT_EQ(classes(0, 20), (std::pair<std::optional<int>, std::optional<int>>(5, 3)));
  // Counting down, the clay begins at the far end and the plastic comes at lower distances.
  EXPECT_EQ(classes(20, 0), (std::pair<std::optional<int>, std::optional<int>>(3, 5)));
}

TEST(Stretches, AreGradedOnceWithTheirLengthAndTheirWorstSize) {
  coding::Observation begin = seen(2, "BBC", "A", "", 12), change = seen(4, "BBC", "A", "", 45),
                      end = seen(6, "BBC", "A", "", 10);
  begin.stretch = "A1";
  change.stretch = "C1";
  end.stretch = "B1";
  const Grade all = graded({begin, change, end});
  ASSERT_EQ(all.observations.size(), 1U);
  EXPECT_EQ(all.observations[0].observation, "o1");
  EXPECT_EQ(all.observations[0].length_m, 4);
  EXPECT_EQ(goal_of(all.observations[0], "operation").grade, 4);
}

coding::Observation on_run(coding::Observation one, const std::string& mark) {
  one.stretch = mark;
  return one;
}

TEST(Stretches, AChangeCountsOnlyForTheRunItStandsIn) {
  // Number 1 is used twice, and only the second run gets worse on the way.
  const Grade all =
      graded({on_run(seen(2, "BBC", "A", "", 12), "A1"), on_run(seen(6, "BBC", "A", "", 10), "B1"),
              on_run(seen(8, "BBC", "A", "", 12), "A1"), on_run(seen(9, "BBC", "A", "", 45), "C1"),
              on_run(seen(10, "BBC", "A", "", 10), "B01")});
  ASSERT_EQ(all.observations.size(), 2U);
  EXPECT_LT(goal_of(all.observations[0], "operation").grade, 4);
  EXPECT_EQ(goal_of(all.observations[1], "operation").grade, 4);
}

TEST(Stretches, AChangeOfNoRunIsAFindingOfItsOwn) {
  const auto ids = [](std::vector<coding::Observation> between) {
    std::vector<std::string> found;
    for (const ObservationGrade& one : graded(std::move(between)).observations)
      found.push_back(one.observation);
    return found;
  };
  using ::testing::ElementsAre;
  const coding::Observation begin = on_run(seen(2, "BBC", "A", "", 12), "A1"),
                            end = on_run(seen(6, "BBC", "A", "", 10), "B1");
  EXPECT_THAT(ids({on_run(seen(4, "BBF", "D"), "C1")}), ElementsAre("o1")) << "no run at all";
  EXPECT_THAT(ids({begin, on_run(seen(4, "BBF", "D"), "C1"), end}), ElementsAre("o1", "o2"))
      << "another code";
  EXPECT_THAT(ids({begin, end, on_run(seen(9, "BBC", "A", "", 45), "C1")}), ElementsAre("o1", "o3"))
      << "past the end";
  EXPECT_THAT(ids({begin, on_run(seen(4, "BBC", "A", "", 45), "C1")}), ElementsAre("o1"))
      << "the run was never ended";
}

TEST(Site, APipeThatNoInspectionHasIsSaidWithTheNearest) {
  Sites sites;
  sites.by_pipe["stepp"].values["system"] = "combined";
  sites.by_pipe["bend"].values["system"] = "combined";
  const auto said = sites.never_met({"bend", "step"});
  ASSERT_EQ(said.size(), 1U);
  EXPECT_NE(said[0].find("names \"stepp\", but no inspection"), std::string::npos) << said[0];
  EXPECT_NE(said[0].find("did you mean \"step\"?"), std::string::npos) << said[0];
  EXPECT_TRUE(sites.never_met({"stepp", "bend"}).empty());
}

TEST(Site, MissingConditionsAreListedAndCountNothing) {
  const Grade all = graded({seen(1, "BBF", "D")});
  EXPECT_THAT(all.missing, ::testing::ElementsAre("drainage system", "kind of wastewater",
                                                  "water protection zone", "groundwater", "soil"));
  coding::Record record = record_of({seen(1, "BBF", "D")});
  record.set_header("ACK", "C");
  EXPECT_EQ(site_from(record).value("system"), "combined");
  const Grade combined = grade(record, Scheme::shipped(), site_from(record));
  EXPECT_EQ(combined.object_number, 430);
  Site odd;
  odd.values["soil"] = "peat";
  EXPECT_THAT(grade(record, Scheme::shipped(), odd).missing,
              ::testing::Contains("soil: \"peat\" is not in the table"));
}

TEST(Names, NoGuidelineStandsOnAGradeThatMemoryDecided) {
  base::Random random(11);
  int provisional = 0;
  for (int i = 0; i < 300; ++i) {
    const coding::Record record = testing::random_record(random);
    const Grade all = grade(record, Scheme::shipped(), testing::random_site(random));
    EXPECT_EQ(all.scheme, "Three-goal procedure");
    if (!all.provisional) continue;
    ++provisional;
    EXPECT_THAT(to_json(all), Not(HasSubstr("BFR")));
    EXPECT_THAT(to_json(all), Not(HasSubstr("DWA")));
  }
  EXPECT_GT(provisional, 200);
}

TEST(Properties, EveryClassCitesItsRowAndMemoryIsProvisional) {
  base::Random random(1);
  int classes = 0;
  for (int i = 0; i < 300; ++i) {
    const Grade all = grade(testing::random_record(random), Scheme::shipped(), testing::random_site(random));
    for (const ObservationGrade& one : all.observations)
      for (const GoalClass& goal : one.goals) {
        EXPECT_FALSE(goal.reason.empty());
        EXPECT_EQ(goal.grade.has_value(), goal.outcome == Outcome::classed);
        EXPECT_EQ(goal.grade.has_value(), goal.number.has_value());
        if (!goal.grade) continue;
        ++classes;
        EXPECT_FALSE(goal.row.empty());
        EXPECT_THAT(goal.reason, HasSubstr(goal.row));
        EXPECT_FALSE(goal.source.empty());
        EXPECT_THAT(goal.reason, Not(HasSubstr("source: ")));
        if (goal.source == "from memory") {
          EXPECT_TRUE(goal.provisional && one.provisional && all.provisional);
        }
      }
  }
  EXPECT_GT(classes, 1000);
}

TEST(Properties, ADefectMoreNeverImprovesTheObjectNumber) {
  base::Random random(2);
  for (int i = 0; i < 300; ++i) {
    coding::Record record = testing::random_record(random);
    const Site site = testing::random_site(random);
    const Grade before = grade(record, Scheme::shipped(), site);
    record.observations.push_back(testing::random_defect(random));
    coding::number_observations(record);
    const Grade after = grade(record, Scheme::shipped(), site);
    EXPECT_GE(after.object_number.value_or(0), before.object_number.value_or(0));
    EXPECT_GE(after.length_number.value_or(0), before.length_number.value_or(0));
  }
}

TEST(Properties, ALargerSizeNeverGetsABetterClass) {
  base::Random random(3);
  for (int i = 0; i < 1000; ++i) {
    coding::Observation one = testing::random_defect(random);
    if (!one.q1.value) continue;
    const std::string material = random.below(2) == 0 ? "AE" : "AX",
                      bore = std::to_string(100 + 100 * random.below(6));
    const ObservationGrade before = grade_one(one, {}, material, bore);
    one.q1 = coding::Number(*one.q1.value * random.uniform(1, 4));
    const ObservationGrade after = grade_one(one, {}, material, bore);
    for (std::size_t g = 0; g < before.goals.size(); ++g)
      EXPECT_GE(after.goals[g].grade.value_or(0), before.goals[g].grade.value_or(0)) << after.goals[g].reason;
  }
}

TEST(Properties, TheOrderOfRowsNeverMatters) {
  base::Random random(4);
  for (int i = 0; i < 300; ++i) {
    coding::Record record = testing::random_record(random);
    const Site site = testing::random_site(random);
    const std::string before = to_json(grade(record, Scheme::shipped(), site));
    testing::shuffle(record.observations, random);
    EXPECT_EQ(to_json(grade(record, Scheme::shipped(), site)), before);
  }
}

TEST(Json, ClassesByGoalWithTheRowThatDecided) {
  const coding::Record record = record_of({seen(1.5, "BAB", "B", "A", 3)});
  const auto json = nlohmann::json::parse(to_json(grade(record, Scheme::shipped(), {}), record));
  EXPECT_EQ(json.at("object_class"), 4);
  EXPECT_EQ(json.at("provisional"), true);
  const nlohmann::json& one = json.at("observations").at(0);
  EXPECT_EQ(one.at("observation"), "o1");
  EXPECT_EQ(one.at("code"), "BAB");
  EXPECT_EQ(one.at("classes").at("tightness").at("class"), 4);
  EXPECT_EQ(one.at("classes").at("tightness").at("row"), "BAB/BC/tightness");
  EXPECT_EQ(one.at("classes").at("operation").at("outcome"), "no row");
}

}  // namespace
}  // namespace haunch::grading
