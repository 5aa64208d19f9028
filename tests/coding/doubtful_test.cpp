// SPDX-License-Identifier: Apache-2.0
// Sizes that can hardly be are known as such, with the observation and the quantification.
#include "coding/doubtful.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<DoubtfulSize> doubted(const Record& record) {
  return doubtful_sizes(record, CodeList::shipped());
}

TEST(Doubtful, SizesPastTheirUnitTheBoreOrThePipe) {
  const auto bent = [](double degrees) { return joint(at_clock(make(6, "BAJ", "C", "", degrees), 3)); };
  const auto mud = [](double percent) { return at_clock(make(4, "BBC", "A", "", percent), 6); };
  EXPECT_THAT(doubted(with({mud(100), bent(20)})), IsEmpty());
  EXPECT_THAT(doubted(with({mud(900), bent(35)})),
              ElementsAre(DoubtfulSize{1, 1, "quantification 1 is 900 %"},
                          DoubtfulSize{2, 1, "quantification 1 is 35 degrees, more than a joint can bend"}));
  EXPECT_THAT(doubted(with({bent(91), mud(-1)})),
              ElementsAre(DoubtfulSize{1, 1, "quantification 1 is 91 degrees"},
                          DoubtfulSize{2, 1, "quantification 1 is -1 %"}));
  EXPECT_THAT(doubted(with({joint(at_clock(make(6, "BAJ", "B", "", 200), 3))})),
              ElementsAre(DoubtfulSize{1, 1, "200 mm step in a pipe of 150 mm"}));
  Observation lateral = at_clock(make(6, "BCA", "A", "A", 100), 3);
  lateral.q2 = 30000;
  EXPECT_THAT(doubted(with({lateral})), ElementsAre(DoubtfulSize{1, 2, "quantification 2 is 30000 mm"}));
}

TEST(Doubtful, WhatIsMissingOrUnreadableIsNoSize) {
  EXPECT_THAT(doubted(with({at_clock(make(4, "BBC", "A"), 6),
                            at_clock(make(5, "BBC", "A", "", Number::from_text("much")), 6),
                            make(6, "QQQ", "A", "", 5000)})),
              IsEmpty());
}

/// One that is new has to be thought of here.
TEST(Doubtful, EveryRuleOfASizeDoubtsIt) {
  for (const RuleWords& rule : all_rules()) {
    const bool of_size = rule.name == "joint-angle" || rule.name.find("-over-") != std::string_view::npos ||
                         rule.name == "size-range" || rule.name == "size-impossible";
    EXPECT_EQ(doubts_the_size(rule.rule), of_size) << rule.name;
  }
}

}  // namespace
}  // namespace haunch::coding
