// SPDX-License-Identifier: Apache-2.0
// The nearest valid code.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/words.hpp"
#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::string suggested(Observation one) {
  for (const Remark& remark : remarks_on(with({std::move(one)}), CodeList::shipped(), "r"))
    if (remark.rule == Rule::code_unknown || remark.rule == Rule::letter_unknown ||
        remark.rule == Rule::letter_missing)
      return remark.problem.suggestion;
  return "nothing wrong";
}

TEST(Suggest, MainCodes) {
  EXPECT_EQ(suggested(make(1, "BNA")), "BAN") << "two letters changed round";
  EXPECT_EQ(suggested(make(1, "bab", "B", "A", 2)), "BAB");
  EXPECT_EQ(suggested(make(1, " BAB", "B", "A", 2)), "BAB");
  EXPECT_EQ(suggested(make(1, "BABBA")), "BAB B A") << "written together";
  EXPECT_EQ(suggested(make(1, "BBAB")), "BBA B");
  EXPECT_EQ(suggested(make(1, "BA0", "", "")), "BAO") << "nought for O";
  EXPECT_EQ(suggested(make(1, "BBAA", "C", "", 5)), "BBA") << "a letter too many";
  EXPECT_EQ(suggested(make(1, "AEDD", "AX")), "AED");
  EXPECT_EQ(suggested(joint(at_clock(make(1, "BAQ", "B", "", 12), 3))), "BAJ")
      << "at a joint, with a size and one clock";
  EXPECT_EQ(suggested(make(1, "XYZ")), "") << "nothing is near";
  EXPECT_EQ(suggested(make(1, "BBZ")), "BBG") << "the only one of these that has no letters";
  EXPECT_EQ(suggested(at_clock(make(1, "BBZ", "A"), 3)), "") << "none is nearer than another";
}

TEST(Suggest, Letters) {
  EXPECT_EQ(suggested(at_clock(make(1, "BAI", "C", "A", 5), 3, 5)), "BAI A C") << "changed round";
  EXPECT_EQ(suggested(at_clock(make(1, "BAB", "BA", "", 5), 3)), "BAB B A") << "written together";
  EXPECT_EQ(suggested(at_clock(make(1, "BAB", "", "BA", 5), 3)), "BAB B A");
  EXPECT_EQ(suggested(at_clock(make(1, "BAB", "b", "a", 5), 3)), "BAB B A");
  EXPECT_EQ(suggested(at_clock(make(1, "BBA", "B", "A", 5), 3)), "BBA B") << "one letter too many";
  EXPECT_EQ(suggested(at_clock(make(1, "BAH", "F", "B"), 3, 5)), "BAF F B")
      << "only a kin code has these letters";
  EXPECT_EQ(suggested(at_clock(make(1, "BBA", "Q", "", 4), 3)), "");
}

/// Whatever is suggested can be taken.
TEST(Suggest, IsAlwaysAValidCode) {
  const CodeList& list = CodeList::shipped();
  int suggestions = 0;
  for (const CodeEntry& entry : list.codes())
    for (char first = 'A'; first <= 'Z'; ++first)
      for (const char* second : {"", "A", "Q", "b"}) {
        const std::string code = suggested(make(1, entry.code, std::string(1, first), second));
        if (code.empty() || code == "nothing wrong") continue;
        ++suggestions;
        const auto parts = base::split(code, ' ');
        const CodeEntry* known = list.find(parts[0]);
        ASSERT_NE(known, nullptr) << code;
        EXPECT_EQ(fit(*known, parts.size() > 1 ? parts[1] : "", parts.size() > 2 ? parts[2] : ""), Fit::good)
            << code;
      }
  EXPECT_GT(suggestions, 500);
}

}  // namespace
}  // namespace haunch::coding
