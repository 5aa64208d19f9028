// SPDX-License-Identifier: Apache-2.0
// Classes that were read from a size that can hardly be, and only those, are marked.
#include "grading/doubt.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using ::testing::ElementsAre;
using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::record_of;
using testing::seen;

Grade marked(const coding::Record& record, const Scheme& scheme = Scheme::shipped()) {
  Grade all = grade(record, scheme, {});
  mark_doubtful(all, record, scheme, {}, coding::doubtful_sizes(record, coding::CodeList::shipped()));
  return all;
}

/// Goals of the n-th finding whose class is marked.
std::vector<std::string> doubted(const Grade& grade, std::size_t n) {
  std::vector<std::string> goals;
  for (const GoalClass& goal : grade.observations.at(n).goals)
    if (goal.doubtful) goals.push_back(goal.goal);
  return goals;
}

const coding::Observation crack = seen(5, "BAB", "B", "A", 2, {12, {}, false});

TEST(Doubt, TheClassAndTheObjectClassSayWhatTheyHangOn) {
  const Grade grade = marked(record_of({seen(3, "BBC", "A", "", 900, {6, {}, false}), crack}));
  EXPECT_THAT(doubted(grade, 0), ElementsAre("operation")) << "no other goal looks at it";
  EXPECT_THAT(doubted(grade, 1), IsEmpty());
  EXPECT_THAT(grade.observations[0].goals[2].reason, EndsWith("; doubtful: quantification 1 is 900 %"));
  EXPECT_EQ(grade.observations[0].goals[2].grade, 5) << "the class stands";
  EXPECT_THAT(grade.doubtful, ElementsAre("BBC A at 3 m: quantification 1 is 900 %"));
  EXPECT_TRUE(grade.object_class_doubtful);
  EXPECT_EQ(grade.object_class, 5);
  EXPECT_THAT(grade.object_reason,
              HasSubstr("; doubtful: it would be class 3 without BBC A at 3 m: quantification 1 is 900 %"));
}

TEST(Doubt, WhatDoesNotHangOnItIsNotMarked) {
  // A firm finding is as bad: the class of the pipe would be the same.
  const auto mud = [](double at, double percent) {
    return seen(at, "BBC", "A", "", percent, {6, {}, false});
  };
  const Grade two = marked(record_of({mud(3, 900), mud(8, 60)}));
  EXPECT_THAT(doubted(two, 0), ElementsAre("operation"));
  EXPECT_THAT(doubted(two, 1), IsEmpty());
  EXPECT_FALSE(two.object_class_doubtful);
  EXPECT_THAT(two.object_reason, ::testing::Not(HasSubstr("doubtful")));
  // Sizes that can be, and a size that decides nothing: a hole is the worst class whatever its length.
  EXPECT_THAT(marked(record_of({mud(8, 60), crack})).doubtful, IsEmpty());
  const Grade hole = marked(record_of({seen(6, "BAC", "B", "", -5, {3, 5, false})}));
  EXPECT_THAT(hole.doubtful, IsEmpty());
}

TEST(Doubt, ARowOfARunCountsForTheRun) {
  coding::Observation begin = seen(3, "BBC", "A", "", 20, {6, {}, false}),
                      end = seen(9, "BBC", "A", "", 400, {6, {}, false});
  begin.stretch = "A1";
  end.stretch = "B1";
  const Grade grade = marked(record_of({begin, end}));
  ASSERT_EQ(grade.observations.size(), 1U);
  EXPECT_THAT(doubted(grade, 0), ElementsAre("operation"));
  EXPECT_THAT(grade.doubtful, ElementsAre("BBC A at 9 m: quantification 1 is 400 %"));
}

/// The line of a run is that of its begin, so a larger size further on is said to be from there.
TEST(Doubt, ASizeFromFurtherAlongTheRunIsSaidToBe) {
  coding::Observation begin = crack, end = crack;
  begin.q1 = 1.5;
  begin.stretch = "A1";
  end.distance_m = 9;
  end.stretch = "B1";
  const auto reason = [&] { return marked(record_of({begin, end})).observations.at(0).goals.at(0).reason; };
  EXPECT_THAT(reason(), HasSubstr("2 mm (the largest along the run), from "));
  begin.q1 = 2;
  EXPECT_THAT(reason(), ::testing::Not(HasSubstr("along the run")));
}

/// The class of the pipe stands twice in a three-goals grade, and both are the same. Without the size there
/// would be none, so no bound of it is known either.
TEST(Doubt, WhatIsJudgedOfTheWholePipeIsMarkedTooAndHasNoBounds) {
  const coding::Observation bend = seen(7, "BAJ", "C", "", 35, {6, {}, true});
  const Grade grade = marked(record_of({bend}));
  ASSERT_TRUE(grade.object_class_doubtful);
  ASSERT_EQ(grade.overall.size(), 1U);
  EXPECT_TRUE(grade.overall[0].doubtful);
  EXPECT_EQ(grade.overall[0].reason, grade.object_reason);
  EXPECT_THAT(grade.object_reason, HasSubstr("; doubtful: it would be no class at all without BAJ C at 7 m"));
  EXPECT_TRUE(grade.object_class);
  EXPECT_FALSE(grade.object_least || grade.object_most);
}

/// The structure of the pipe hangs on no size of what hinders the flow; the index of its upkeep does.
TEST(Doubt, OnlyWhatHangsOnTheSizeIsMarked) {
  const Scheme scheme = Scheme::shipped_named("mean-and-worst").value();
  coding::Record record =
      record_of({seen(3, "BBC", "A", "", 900, {6, {}, false}), seen(9, "BAF", "C", "A")}, "AE", "800");
  record.set_header("ABQ", "20");
  const Grade grade = marked(record, scheme);
  ASSERT_EQ(grade.doubtful.size(), 1U);
  std::vector<std::string> doubtful;
  for (const Overall& one : grade.overall) {
    if (one.doubtful) doubtful.push_back(one.id);
    EXPECT_EQ(one.doubtful, one.reason.find("; doubtful: ") != std::string::npos) << one.reason;
  }
  EXPECT_THAT(doubtful, ElementsAre("functional", "functional_density", "maintenance"));
}

/// Every scheme that ships: a record without doubtful sizes is graded as ever.
TEST(Doubt, NothingChangesWhereNothingIsDoubted) {
  for (const std::string& id : Scheme::shipped_ids()) {
    const auto scheme = Scheme::shipped_named(id);
    ASSERT_TRUE(scheme.ok());
    for (const bool doubted : {false, true}) {
      const coding::Record record =
          record_of({seen(3, "BAJ", "C", "", doubted ? 35 : 12, {3, {}, true}), crack});
      const Grade plain = grade(record, scheme.value(), {}), looked_at = marked(record, scheme.value());
      EXPECT_EQ(looked_at.object_class, plain.object_class) << id;
      EXPECT_EQ(looked_at.object_reason == plain.object_reason, !looked_at.object_class_doubtful) << id;
      EXPECT_TRUE(doubted || looked_at.doubtful.empty()) << id;
    }
  }
}

}  // namespace
}  // namespace haunch::grading
