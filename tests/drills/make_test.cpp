// SPDX-License-Identifier: Apache-2.0
// Questions hold what they promise: the truth of their own run says what is right, and it can be seen.
#include "drills/make.hpp"
#include "drills/made.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/clock.hpp"
#include "campaign.hpp"
#include "coding/code_list.hpp"
#include "drills/judge.hpp"
#include "learning/model.hpp"
#include "truth/truth.hpp"

namespace haunch::drills {
namespace {

using test::made;
using ::testing::HasSubstr;

TEST(Codes, EveryCodeIsAskedOrHasAReason) {
  const auto asked = codes_for(Kind::name_it);
  EXPECT_GE(asked.size(), 33U);
  std::set<std::string> all(asked.begin(), asked.end());
  for (const auto& [code, why] : not_asked()) {
    EXPECT_FALSE(why.empty());
    EXPECT_TRUE(all.insert(code).second) << code << " is asked and not asked";
  }
  EXPECT_EQ(all.size(), coding::CodeList::shipped().codes().size());
}

class OfCode : public testing::TestWithParam<std::string> {};

TEST_P(OfCode, NameItShowsWhatItsTruthSays) {
  for (int round = 0; round < campaign::rounds(1); ++round) {
    const auto seed = static_cast<std::uint64_t>(round + 1);
    const Item item = made({Kind::name_it, GetParam(), 0.25 + 0.5 * (round % 2), {}, seed});
    EXPECT_EQ(item.code, GetParam());
    EXPECT_EQ(item.there.code, GetParam());
    // Derived anew from the very run that is drawn.
    const auto rows = truth::derive(item.scene).record.observations;
    EXPECT_TRUE(std::any_of(rows.begin(), rows.end(), [&](const auto& row) {
      return row.code == item.there.code && row.ch1 == item.there.ch1 && row.ch2 == item.there.ch2;
    }));
    EXPECT_EQ(item.fault != 0, item.shows.has_value()) << "what has an outline is measured";
    EXPECT_EQ(std::count_if(item.options.begin(), item.options.end(),
                            [&](const Option& one) { return one.value == item.code; }),
              1);
    EXPECT_GE(item.options.size(), 4U);
    EXPECT_FALSE(item.why.empty());
    for (const Option& option : item.options)
      EXPECT_EQ(judge(item, {option.value, {}, {}, {}, {}, {}}).credit, option.value == item.code ? 1 : 0);
  }
}
INSTANTIATE_TEST_SUITE_P(Drawn, OfCode, testing::ValuesIn(codes_for(Kind::name_it)),
                         [](const auto& one) { return one.param; });

class OfKind : public testing::TestWithParam<Kind> {};

TEST_P(OfKind, TheSameSeedIsTheSameQuestionAndAnotherIsAnother) {
  std::set<std::string> instances;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const Item one = made({GetParam(), "", 0.5, {}, seed});
    EXPECT_TRUE(instances.insert(one.instance).second) << seed;
    if (seed > 2) continue;
    const Item again = made({GetParam(), "", 0.5, {}, seed});
    EXPECT_EQ(one.instance, again.instance);
    EXPECT_EQ(one.clip, again.clip);
    EXPECT_EQ(one.options, again.options);
    EXPECT_EQ(one.shows, again.shows);
  }
}

TEST_P(OfKind, TheRightAnswerIsWhollyRightAndNoAnswerIsNone) {
  for (std::uint64_t seed = 11; seed <= 15; ++seed) {
    const Item item = made({GetParam(), "", 0.5, {}, seed});
    EXPECT_FALSE(item.question.empty());
    EXPECT_FALSE(item.right.empty());
    const Verdict verdict = judge(item, right_answer(item));
    EXPECT_DOUBLE_EQ(verdict.credit, 1) << item.question << ' ' << item.right << ": " << verdict.sentence;
    EXPECT_FALSE(verdict.sentence.empty());
    EXPECT_EQ(judge(item, {}).credit, 0);
    EXPECT_FALSE(answers(item, {}));
    EXPECT_TRUE(answers(item, right_answer(item)));
    EXPECT_NEAR(item.guess, item.options.empty() ? 0 : 1.0 / static_cast<double>(item.options.size()), 1e-12);
  }
}
INSTANTIATE_TEST_SUITE_P(Each, OfKind, testing::ValuesIn(all_kinds()), [](const auto& one) {
  std::string name = show(one.param);
  std::replace(name.begin(), name.end(), ' ', '_');
  return name;
});

TEST(Items, NothingWrongMeansNothingToWriteDown) {
  int clean = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    const Item item = made({Kind::clean_or_not, "", 0.5, {}, seed});
    clean += item.code.empty() ? 1 : 0;
    if (!item.code.empty()) continue;
    for (const auto& row : truth::derive(item.scene).record.observations)
      EXPECT_TRUE(row.code == "BCD" || row.code == "BCE") << row.code;
  }
  EXPECT_GT(clean, 2);
  EXPECT_LT(clean, 10);
  EXPECT_TRUE(made({Kind::clean_or_not, "", 0.5, true, 3}).code.empty());
  EXPECT_FALSE(made({Kind::clean_or_not, "", 0.5, false, 3}).code.empty());
}

TEST(Items, EasyIsLargerInThePictureThanHard) {
  double easy = 0, hard = 0;
  for (const char* code : {"BAB", "BBA", "BAJ", "BAF", "BBB", "BAG"})
    for (std::uint64_t seed = 1; seed <= 2; ++seed) {
      easy += made({Kind::name_it, code, 1, {}, seed}).shows->share;
      hard += made({Kind::name_it, code, 0, {}, seed}).shows->share;
    }
  EXPECT_GT(easy, hard * 1.3);
}

TEST(Items, TheRightNameStandsAtEveryPlace) {
  std::set<std::size_t> places;
  for (const std::string& code : codes_for(Kind::name_it)) {
    const Item item = made({Kind::name_it, code, 1, {}, 5}, false);
    for (std::size_t i = 0; i < item.options.size(); ++i)
      if (item.options[i].value == code) places.insert(i);
  }
  EXPECT_GE(places.size(), 4U);
}

TEST(Items, WhatToDoNextIsNotAlwaysTheSame) {
  std::map<std::string, int> actions;
  for (std::uint64_t seed = 1; seed <= 15; ++seed)
    ++actions[made({Kind::next_step, "", 0.7, {}, seed}, false).right];
  EXPECT_GE(actions.size(), 3U);
  for (const auto& [action, times] : actions) EXPECT_LE(times, 9) << action;
}

TEST(Items, WhatCannotBeAskedIsSaid) {
  const auto none = make({Kind::water_depth, "BAB", 0.5, {}, 1});
  ASSERT_FALSE(none);
  EXPECT_THAT(base::to_line(none.problems().front()), HasSubstr("\"water depth\" cannot be asked about BAB"));
}

TEST(Clip, EndsWhereTheLookIs) {
  const Item item = made({Kind::clean_or_not, "", 0.5, true, 1});
  ASSERT_GT(item.clip.seconds, 0);
  EXPECT_DOUBLE_EQ(pose_at(item.scene, item.clip, 0).lens.z, item.clip.from_z_m);
  EXPECT_DOUBLE_EQ(pose_at(item.scene, item.clip, 1000).lens.z, item.clip.to_z_m);
  EXPECT_GE(item.clip.seconds, 2);
  EXPECT_LE(item.clip.seconds, 6);
}

}  // namespace
}  // namespace haunch::drills
