// SPDX-License-Identifier: Apache-2.0
// What was logged drawn beside what is there: hours where they belong, sizes in proportion.
#include "report/beside.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <regex>

namespace haunch::report {
namespace {

using coding::Observation;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Observation at(const char* code, const char* ch1, std::optional<int> from, std::optional<int> to,
               double q1 = 0) {
  Observation one;
  one.code = code, one.ch1 = ch1;
  one.clock_from = from, one.clock_to = to;
  if (q1 > 0) one.q1 = q1;
  return one;
}
double width_of(const std::string& svg, const std::string& css_class) {
  std::smatch found;
  const std::regex bar("<rect class=\"" + css_class + "\"[^>]* width=\"([0-9.]+)\"");
  return std::regex_search(svg, found, bar) ? std::stod(found[1]) : -1;
}
/// Of the first line of a class, in hours clockwise from the top of the dial.
double hour_of(const std::string& svg, const std::string& css_class) {
  std::smatch found;
  const std::regex line("<line class=\"" + css_class + "\"[^>]* x2=\"([-0-9.]+)\" y2=\"([-0-9.]+)\"");
  if (!std::regex_search(svg, found, line)) return -1;
  const double turn = std::atan2(std::stod(found[1]) - 36, 36 - std::stod(found[2])) * 6 / std::acos(-1.0);
  return turn < 0.25 ? turn + 12 : turn;
}

TEST(Beside, HoursStandWhereTheyBelong) {
  for (int there = 1; there <= 12; ++there) {
    const int given = there % 12 + 1;
    const std::string svg = clock_svg(at("BAJ", "B", there, {}), at("BAJ", "B", given, {}));
    EXPECT_NEAR(hour_of(svg, "d-there"), there, 0.05);
    EXPECT_NEAR(hour_of(svg, "d-given"), given, 0.05);
  }
}
TEST(Beside, ARangeIsDrawnTheLongWayRoundWhereItIsOne) {
  EXPECT_THAT(clock_svg(at("BBA", "B", 10, 2), at("BBA", "B", 10, {})), HasSubstr(" 0 0 1 "));
  EXPECT_THAT(clock_svg(at("BBA", "B", 2, 10), at("BBA", "B", 10, {})), HasSubstr(" 0 1 1 "));
  EXPECT_THAT(clock_svg(at("BBA", "B", 12, 12), at("BBA", "B", 10, {})),
              HasSubstr("there is all round, you wrote 10"));
}
TEST(Beside, WhatIsNotGivenIsNotDrawn) {
  EXPECT_THAT(clock_svg(at("BAJ", "B", {}, {}), at("BAJ", "B", 3, {})), IsEmpty());
  const std::string svg = clock_svg(at("BAJ", "B", 3, {}), at("BAJ", "B", {}, {}));
  EXPECT_THAT(svg, HasSubstr("you wrote nothing"));
  EXPECT_THAT(svg, Not(HasSubstr("d-given")));
  EXPECT_THAT(size_svg(at("BAJ", "B", {}, {}, 5), at("BAJ", "B", {}, {}), coding::CodeList::shipped()),
              IsEmpty());
  // Under another name a size means something else.
  EXPECT_THAT(size_svg(at("BAJ", "B", {}, {}, 5), at("BBA", "B", {}, {}, 5), coding::CodeList::shipped()),
              IsEmpty());
}
TEST(Beside, BarsAreInProportion) {
  const std::string svg =
      size_svg(at("BAJ", "B", {}, {}, 10), at("BAJ", "B", {}, {}, 25), coding::CodeList::shipped());
  EXPECT_NEAR(width_of(svg, "d-given") / width_of(svg, "d-there"), 2.5, 1e-6);
  EXPECT_THAT(svg, HasSubstr("there is 10 mm"));
}
TEST(Beside, ACodeSaysWhatItsLettersMean) {
  const auto lines = code_lines(at("BAB", "C", 12, {}), coding::CodeList::shipped());
  ASSERT_GE(lines.size(), 3U);
  EXPECT_EQ(lines[0], "BAB: " + coding::CodeList::shipped().find("BAB")->name);
  EXPECT_EQ(lines[1], "C: " + coding::CodeList::shipped().find("BAB")->ch1.at("C"));
  EXPECT_THAT(code_lines(at("QQQ", "", {}, {}), coding::CodeList::shipped()), IsEmpty());
}

}  // namespace
}  // namespace haunch::report
