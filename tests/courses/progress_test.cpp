// SPDX-License-Identifier: Apache-2.0
#include "courses/progress.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace haunch::courses {
namespace {

using ::testing::HasSubstr;

Course two_lessons() {
  Course course;
  course.id = "c";
  course.lessons = {{"a", "A", {}, {"Read me."}, {}, {{"name it", {"BAB"}, 2, 3}}, {}},
                    {"b", "B", {"a"}, {}, {}, {}, {{"first-drive", 60, false}}}};
  return course;
}
scores::Answer answer(double credit, const std::string& code = "BAB", const std::string& kind = "name it") {
  scores::Answer one;
  one.kind = kind;
  one.code = code;
  one.credit = credit;
  return one;
}
scores::Attempt driven(const std::string& hash, double score) {
  scores::Attempt one;
  one.scenario_hash = hash;
  one.score = score;
  return one;
}
const scores::Step read_a{"1", "coder-07", "2026-03-02T09:40:00Z", "c", "a"};

TEST(Progress, BeginsWithWhatComesFirst) {
  const auto states = progress_in(two_lessons(), {}, {}, {}, {});
  ASSERT_EQ(states.size(), 2U);
  EXPECT_TRUE(states[0].open);
  EXPECT_FALSE(states[0].done);
  EXPECT_THAT(states[0].words, HasSubstr("to be read"));
  EXPECT_THAT(states[0].words, HasSubstr("2 of the last 3 right in \"name it\" (0 of 0 so far)"));
  EXPECT_FALSE(states[1].open);
}

TEST(Progress, OnlyTheLastAnswersOfItsOwnCount) {
  const LessonDrill drill{"name it", {"BAB"}, 2, 3};
  // Right long ago, then three wrong: no longer done.
  EXPECT_EQ(tally_of(drill, {answer(1), answer(1), answer(0), answer(0), answer(0)}).right, 0);
  EXPECT_EQ(tally_of(drill, {answer(0), answer(0), answer(1), answer(0), answer(1)}).right, 2);
  EXPECT_EQ(tally_of(drill, {answer(1, "BAC"), answer(1, "BAB", "clock")}).of, 0)
      << "of another code or kind";
  EXPECT_EQ(tally_of(drill, {answer(1, "")}).of, 1) << "nothing wrong belongs to every set";
  EXPECT_EQ(tally_of(drill, {answer(0.5)}).right, 0) << "half right is not right";
  EXPECT_EQ(tally_of({"name it", {}, 2, 3}, {answer(1, "BAC")}).right, 1) << "about any code";
}

TEST(Progress, ALessonOpensWhatComesAfterItAndARunHasToReachItsScore) {
  const std::vector<scores::Answer> answers = {answer(1), answer(1)};
  auto states = progress_in(two_lessons(), {read_a}, answers, {}, {{"first-drive", "h"}});
  EXPECT_TRUE(states[0].done);
  EXPECT_EQ(states[0].words, "");
  EXPECT_TRUE(states[1].open);
  EXPECT_FALSE(states[1].done);
  states = progress_in(two_lessons(), {read_a}, answers, {driven("h", 59.9)}, {{"first-drive", "h"}});
  EXPECT_FALSE(states[1].done);
  states = progress_in(two_lessons(), {read_a}, answers, {driven("h", 60)}, {{"first-drive", "h"}});
  EXPECT_TRUE(states[1].done);
  states = progress_in(two_lessons(), {read_a}, answers, {driven("h", 100)}, {{"first-drive", "changed"}});
  EXPECT_FALSE(states[1].done) << "it is another run now";
  EXPECT_FALSE(progress_in(two_lessons(), {{"1", "coder-07", "", "another", "a"}}, answers, {}, {})[0].read);
}

}  // namespace
}  // namespace haunch::courses
