// SPDX-License-Identifier: Apache-2.0
#include "report/lines.hpp"

#include <gtest/gtest.h>

#include "report/plain_text.hpp"
#include "report/sample.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

TEST(Lines, AStretchIsOneLineWithBothItsEnds) {
  const ExercisePage page = sample_page();
  const auto lines = lines_of(page.truth, coding::CodeList::shipped(), base::LengthUnit::metres);
  ASSERT_EQ(lines.size(), 4U);
  EXPECT_EQ(lines[1].id, "t2");
  EXPECT_EQ(lines[1].end_id, "t3");
  EXPECT_EQ(lines[1].where, "2.00 m to 6.00 m");
  EXPECT_EQ(lines[1].words.find("stretch 1"), std::string::npos) << lines[1].words;
  EXPECT_EQ(find_line(lines, "t3"), &lines[1]) << "the end leads to the same line";
  EXPECT_EQ(find_line(lines, "nobody"), nullptr);
}

TEST(Lines, FeetOnRequest) {
  const auto lines = lines_of(sample_page().truth, coding::CodeList::shipped(), base::LengthUnit::feet);
  EXPECT_EQ(lines[2].where, "31.2 ft");  // 9.5 / 0.3048 = 31.17 (the international foot)
}

TEST(Lines, AnObservationWithoutADistanceSaysSo) {
  coding::Record record;
  record.observations.resize(1);
  record.observations[0].id = "o1";
  record.observations[0].code = "BDB";
  const auto lines = lines_of(record, coding::CodeList::shipped(), base::LengthUnit::metres);
  ASSERT_EQ(lines.size(), 1U);
  EXPECT_FALSE(lines[0].placed);
  EXPECT_EQ(lines[0].where, "no distance");
}

TEST(Lines, LettersGoOnAfterZ) {
  EXPECT_EQ(letters_for(0), "a");
  EXPECT_EQ(letters_for(25), "z");
  EXPECT_EQ(letters_for(26), "aa");
  EXPECT_EQ(letters_for(27), "ab");
  EXPECT_EQ(letters_for(26 + 26 * 26), "aaa");
}

TEST(PlainText, ColumnsStandInStepAndCountLettersNotBytes) {
  EXPECT_EQ(columns({{"Öl", "x"}, {"abc", "y"}}), "Öl   x\nabc  y\n");
}

TEST(PlainText, WrapsAtSpacesOnly) {
  const std::string text = wrapped("one two three averyveryverylongword four", 2, 12);
  EXPECT_EQ(text, "  one two\n    three\n    averyveryverylongword\n    four\n");
}

TEST(PlainText, MarkingTellsEveryVerdictAndTheWarningFirst) {
  const ExercisePage page = sample_page();
  const std::string text = marking_text(page.marking, page.truth, page.attempt, coding::CodeList::shipped(),
                                        base::LengthUnit::metres);
  EXPECT_EQ(text.rfind("WARNING: A <gas> pipe", 0), 0U) << text;
  for (const char* part :
       {"63.4 of 100", "Grease is B; A is encrustation.", "Roots at the joint were not logged.", "DANGEROUS",
        "There is no crack here.", "under cloudy water", "fine roots take 4 %",
        "The roots would have been left to grow.", "no classes were given", "provisional"}) {
    EXPECT_NE(text.find(part), std::string::npos) << part << " is not in\n" << text;
  }
}

TEST(Svg, EverythingThatCouldBeMarkupIsEscaped) {
  EXPECT_EQ(escaped("<b a=\"1\" c='2'>&\x01"), "&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;");
}

TEST(DistancesIn, OnlyMetresBecomeFeet) {
  // 9.5 m is 31.17 ft and 1 m is 3.28 ft (the international foot, 0.3048 m).
  const auto feet = [](const char* text) { return distances_in(text, base::LengthUnit::feet); };
  EXPECT_EQ(feet("from 9.50 m to 1 m, 3 mm wide"), "from 31.2 ft to 3.3 ft, 3 mm wide");
  EXPECT_EQ(feet("1 m."), "3.3 ft.");
  for (const char* kept : {"3 mm", "4 % of the bore", "A1 m", "1.2.3 m", "12 metal", "m", "", "5 m2"})
    EXPECT_EQ(feet(kept), kept);
  EXPECT_EQ(distances_in("9.50 m", base::LengthUnit::metres), "9.50 m");
}

}  // namespace
}  // namespace haunch::report
