// SPDX-License-Identifier: Apache-2.0
// Rules by name, and which of them are on.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(Rules, StandInTheOrderOfTheirNames) {
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < all_rules().size(); ++i) {
    const RuleWords& one = all_rules()[i];
    EXPECT_EQ(static_cast<std::size_t>(one.rule), i) << one.name;
    EXPECT_TRUE(names.insert(one.name).second) << one.name;
    EXPECT_EQ(rule_named(one.name), one.rule);
    EXPECT_FALSE(one.says.empty());
  }
  EXPECT_EQ(rule_named("no-such"), std::nullopt);
}

TEST(Rules, OnlyWhatHasANameAndMayBeOffIsSwitchedOff) {
  Checks checks;
  EXPECT_FALSE(checks.switch_off("no-such"));
  EXPECT_FALSE(checks.switch_off("codes")) << "what cannot be read is always told";
  EXPECT_FALSE(checks.switch_off("code-unknown"));
  EXPECT_FALSE(checks.switch_off(""));
  for (const RuleWords& one : all_rules()) EXPECT_TRUE(checks.on(one.rule)) << one.name;
  for (const std::string& name : Checks::names()) EXPECT_TRUE(checks.switch_off(name)) << name;
  for (const RuleWords& one : all_rules()) EXPECT_EQ(checks.on(one.rule), one.group == "codes") << one.name;
}

/// A record that breaks a great many rules.
Record bad_record() {
  Record record =
      with({at_clock(make(5, "BAB", "B", "A"), {}, 4), make(4, "BBA", "A", "", 140),
            at_clock(make(6, "BDD", "A", "", 10), 6), make(7, "BDA"), make(7, "BDB"),
            at_clock(make(8, "BAG", "A", "", 10), 3), at_clock(make(9, "BAB", "Y", "A", 1), 3),
            run(at_clock(make(10, "BBF", "A"), 3), "A1"), make(11, "AED", "AE"), make(12, "BAA", "A", "", 5),
            joint(at_clock(make(13, "BAJ", "C", "", 40), 3)), at_clock(make(14, "BCA", "A", "A", 900), 3)});
  record.set_header("ABF", "then");
  record.set_header("ABQ", "30");
  record.set_header("ACK", "Q");
  return record;
}

TEST(Rules, ASwitchTakesAwayItsRuleAndNothingElse) {
  const std::vector<std::string> all = broken(bad_record());
  EXPECT_GE(std::set<std::string>(all.begin(), all.end()).size(), 15U);
  for (const RuleWords& one : all_rules()) {
    Checks checks;
    if (!checks.switch_off(one.name)) continue;
    std::vector<std::string> rest = all;
    std::erase(rest, std::string(one.name));
    EXPECT_EQ(broken(bad_record(), checks), rest) << one.name;
  }
}

/// The code list says of each of its rules what it rests on. Without memory, rules for BCA stay, because
/// a public annex has them, and those for BAG go.
TEST(Rules, MemoryIsASwitch) {
  Checks checks;
  ASSERT_TRUE(checks.switch_off("memory"));
  EXPECT_THAT(broken(with({make(3, "BAG", "", "", 10)})), ElementsAre("clock-missing"));
  EXPECT_THAT(broken(with({make(3, "BAG", "", "", 10)}), checks), IsEmpty());
  EXPECT_THAT(broken(with({make(3, "BCA", "A", "A", 100)}), checks), ElementsAre("clock-missing"));
  EXPECT_THAT(broken(with({at_clock(make(3, "BCA", "A", "A"), 3)})), ElementsAre("size-missing"));
  EXPECT_THAT(broken(with({at_clock(make(3, "BCA", "A", "A"), 3)}), checks), IsEmpty());
  for (const std::string& rule : broken(bad_record(), checks))
    EXPECT_THAT(rule, ::testing::AnyOf("letter-habit", "letter-translated", "distance-back", "run-open",
                                       "length-short", "same-material", "connection-over-bore", "header-date",
                                       "clock-half"));
}

/// What rests on memory never refuses, whatever the letters, sizes, clocks and joints.
TEST(Rules, NoErrorRestsOnMemory) {
  Checks checks;
  ASSERT_TRUE(checks.switch_off("memory"));
  const auto errors = [](const Record& record, const Checks& which) {
    std::vector<std::string> out;
    for (const Remark& one : remarks_on(record, CodeList::shipped(), "r", {}, which))
      if (one.problem.severity == base::Severity::error) out.push_back(base::to_line(one.problem));
    return out;
  };
  for (const CodeEntry& entry : CodeList::shipped().codes())
    for (const Number& size : {Number(), Number(-5), Number(10), Number(1e6)})
      for (const bool at_joint : {false, true})
        for (const char* mark : {"", "A1"}) {
          Observation one = run(make(3, entry.code, "A", "A", size), mark);
          one.at_joint = at_joint;
          if (at_joint) one = at_clock(one, 3, 6);
          EXPECT_EQ(errors(with({one}), checks), errors(with({one}), {})) << entry.code;
        }
}

TEST(Rules, ProblemsOfOneKindShareItsWords) {
  const auto kinds = [](const Observation& one) {
    std::vector<std::string> out;
    for (const Remark& remark : remarks_on(with({one}), CodeList::shipped(), "r")) out.push_back(remark.kind);
    return out;
  };
  EXPECT_THAT(kinds(at_clock(make(3, "BCA", "A", "A"), 3)), ElementsAre("BCA: a size is missing"));
  EXPECT_THAT(kinds(joint(at_clock(make(3, "BAJ", "A", "", 3), 3))),
              ElementsAre("BAJ A: a clock position is given"));
  EXPECT_THAT(kinds(at_clock(make(3, "BBA", "Q", "", 3), 3)),
              ElementsAre("BBA Q: a characterisation that this code does not know"));
}

}  // namespace
}  // namespace haunch::coding
