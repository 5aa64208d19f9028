// SPDX-License-Identifier: Apache-2.0
// Words, numbers, units and the line a problem is shown as.
#include "base/words.hpp"
#include "campaign.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/result.hpp"
#include "base/units.hpp"

namespace haunch::base {
namespace {

TEST(Words, NearestWordFindsSlipsAndNothingElse) {
  const std::vector<std::string> known{"vitrified clay", "concrete", "PVC", "cast iron"};
  EXPECT_EQ(nearest_word("concret", known), "concrete");
  EXPECT_EQ(nearest_word("Clay", known), "vitrified clay");
  EXPECT_EQ(nearest_word("pvc", known), "PVC");
  EXPECT_EQ(nearest_word("wood", known), "");
  EXPECT_EQ(nearest_word("", known), "");
  EXPECT_EQ(nearest_word("ocncrete", known), "concrete") << "two letters swapped";
  EXPECT_EQ(nearest_word("q", {"A", "B"}), "");
  EXPECT_EQ(nearest_word("b", {"A", "B"}), "B");
  EXPECT_EQ(nearest_word("at", {"to_m", "at_m"}), "at_m");
  EXPECT_EQ(nearest_word(std::string(100000, 'x'), known), "");
}

TEST(Words, TwoAsNearAreNoSuggestion) {
  EXPECT_EQ(only_nearest_word("o9", {"o1", "o2"}), "");
  EXPECT_EQ(only_nearest_word("O2", {"o1", "o2"}), "o2");
  EXPECT_EQ(only_nearest_word("tightnes", {"tightness", "stability"}), "tightness");
  EXPECT_EQ(only_nearest_word("concret", {"concrete", "concreet"}), "");
  EXPECT_EQ(only_nearest_word("wood", {"concrete"}), "");
  EXPECT_EQ(only_nearest_word("PVC", {}), "");
}

TEST(Words, SplitTrimJoinLower) {
  EXPECT_EQ(split("a;;b", ';'), (std::vector<std::string>{"a", "", "b"}));
  EXPECT_EQ(split("", ';'), std::vector<std::string>{""});
  EXPECT_EQ(trim(" \t a b\r\n"), "a b");
  EXPECT_EQ(trim("  "), "");
  EXPECT_EQ(join({"a", "b", "c"}, ", "), "a, b, c");
  EXPECT_EQ(lower("BaB"), "bab");
}

TEST(Words, NumbersShowShortAndReadBack) {
  EXPECT_EQ(show_number(0.5), "0.5");
  EXPECT_EQ(show_number(12), "12");
  EXPECT_EQ(show_number(-0.0), "0");
  EXPECT_EQ(show_number(0.1 + 0.2), "0.30000000000000004");
  EXPECT_EQ(show_number(1e-6), "0.000001");
  Random random(5);
  for (int i = 0; i < campaign::rounds(2000); ++i) {
    const double x = random.uniform(-1000, 1000) * (i % 7 == 0 ? 1e-6 : 1);
    double back = 0;
    ASSERT_TRUE(read_number(show_number(x), back));
    EXPECT_EQ(back, x);
  }
}

TEST(Words, ReadNumberTakesTheWholeTextOrNothing) {
  double value = 7;
  for (const char* bad : {"", "1,5", "1.5 ", " 1", "1m", "inf", "nan", "0x10", "--1", "1e999"})
    EXPECT_FALSE(read_number(bad, value)) << bad;
  EXPECT_TRUE(read_number("+1.50", value));
  EXPECT_EQ(value, 1.5);
}

TEST(Units, FeetAreTheInternationalFoot) {
  EXPECT_DOUBLE_EQ(from_metres(0.3048, LengthUnit::feet), 1);
  EXPECT_DOUBLE_EQ(to_metres(100, LengthUnit::feet), 30.48);
  EXPECT_EQ(show_distance(12.4, LengthUnit::metres), "12.40 m");
  EXPECT_EQ(show_distance(12.4, LengthUnit::feet), "40.7 ft");
}

TEST(Problem, AsALine) {
  const Problem problem{{"a.json", 4, 7}, Severity::warning, "the bore is 0", "a bore above 0", "150"};
  EXPECT_EQ(to_line(problem),
            "a.json:4:7: warning: the bore is 0; expected a bore above 0; did you mean \"150\"?");
  EXPECT_FALSE(has_errors({problem}));
  EXPECT_EQ(to_line({{"a.json", 0, 0}, Severity::error, "gone", "", ""}), "a.json: gone");
}

TEST(Units, CentimetresAreRoundedOnce) {
  EXPECT_EQ(to_centimetre(9.499), 9.5);
  EXPECT_EQ(to_centimetre(-0.006), -0.01);
  EXPECT_EQ(to_centimetre(12.344999), 12.34);
}

}  // namespace
}  // namespace haunch::base
