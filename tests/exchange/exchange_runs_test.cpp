// SPDX-License-Identifier: Apache-2.0
// Continuous observations of exchange text: what the description of the format demands of a reader, each
// with the line where it stands. Reading keeps every mark; `coding::validate` says what is wrong with it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/exchange_text.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// What is said of the runs; the first row is line 10.
std::vector<std::string> said_of(const std::string& rows) {
  const auto file = exchange_from_text(
      "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA\nx\n#C=I;A;B;D;J\n" + rows + "#Z\n", "f");
  EXPECT_TRUE(file.ok());
  if (!file.ok()) return {};
  const PlacedRecord& placed = file.value().inspections[0];
  std::vector<std::string> said;
  for (const base::Problem& problem :
       coding::validate(placed.record, coding::CodeList::shipped(), "f", placed.places))
    if (problem.what.find("stretch") != std::string::npos ||
        problem.what.find("continuous") != std::string::npos)
      said.push_back(base::to_line(problem));
  return said;
}

TEST(Runs, BegunAndEnded) {
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n4;BBA;A;10;B1\n"), IsEmpty());
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n2;BBB;A;5;A2\n4;BBA;A;10;B1\n6;BBB;A;5;B2\n"), IsEmpty())
      << "they overlap";
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n2;BBA;A;20;C1\n4;BBA;A;30;B1\n"), IsEmpty()) << "a change, other sizes";
}

TEST(Runs, AnEndWithoutABegin) {
  EXPECT_THAT(said_of("1;BBA;A;10;B1\n"),
              ElementsAre(AllOf(HasSubstr("f:10:1: BBA A"), HasSubstr("stretch 1 ends without a begin"))));
}

TEST(Runs, ABeginThatIsNeverEnded) {
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n2;BBB;A;10;\n"),
              ElementsAre(AllOf(HasSubstr("f:10:1: BBA A"), HasSubstr("stretch 1 begins and never ends"))));
}

TEST(Runs, TwoBeginsOfOneNumber) {
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n2;BBA;A;10;A1\n3;BBA;A;10;B1\n"),
              ElementsAre(AllOf(HasSubstr("f:11:1: BBA A"), HasSubstr("begins again while it is open"))));
}

TEST(Runs, AnEndBeforeItsBegin) {
  EXPECT_THAT(
      said_of("0;BCD;A;;\n5;BBA;A;10;A1\n3;BBA;A;10;B1\n9;BCE;A;;\n"),
      ElementsAre(AllOf(HasSubstr("f:12:1: BBA A"), HasSubstr("ends at 3 m before it begins at 5 m"))));
}

TEST(Runs, OtherCodesAtBeginAndEnd) {
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n3;BBB;A;10;B1\n"),
              ElementsAre(AllOf(HasSubstr("f:11:1: BBB A"), HasSubstr("ends as BBB but began as BBA"))));
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n3;BBA;B;10;B1\n"),
              ElementsAre(AllOf(HasSubstr("f:11:1: warning: BBA B"), HasSubstr("other characterisations"))));
}

/// Two runs of the example file differ so, 10 to 30 and 2 to 6: no equal values are demanded.
TEST(Runs, OtherSizesAtBeginAndEnd) { EXPECT_THAT(said_of("1;BBA;A;10;A1\n3;BBA;A;30;B1\n"), IsEmpty()); }

TEST(Runs, ANumberUsedAgainIsReported) {
  EXPECT_THAT(said_of("1;BBA;A;10;A1\n2;BBA;A;10;B1\n5;BBC;A;10;A1\n7;BBC;A;10;B1\n"),
              ElementsAre(AllOf(HasSubstr("f:12:1: warning: BBC A"), HasSubstr("its number is used again"))));
}

TEST(Runs, MarksThatAreNone) {
  for (const char* mark : {"1", "A", "D1", "A1B", "x"})
    EXPECT_THAT(said_of(std::string("1;BBA;A;10;") + mark + "\n"),
                ElementsAre(AllOf(HasSubstr("f:10:1:"), HasSubstr(mark))))
        << mark;
}

TEST(Runs, NumbersBelongToOneInspection) {
  const auto file = exchange_from_text(
      "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A6=2010\n#B01=AAA\nx\n#C=I;A;B;J\n1;BBA;A;A1\n2;BBA;A;B1\n#Z\n"
      "#B01=AAA\ny\n#C=I;A;B;J\n1;BBA;A;A1\n4;BBA;A;B1\n#Z\n",
      "f");
  ASSERT_TRUE(file.ok());
  for (const PlacedRecord& placed : file.value().inspections) {
    EXPECT_EQ(coding::extents(placed.record).size(), 1U);
    for (const base::Problem& problem :
         coding::validate(placed.record, coding::CodeList::shipped(), "f", placed.places))
      EXPECT_EQ(problem.what.find("stretch"), std::string::npos) << problem.what;
  }
}

}  // namespace
}  // namespace haunch::exchange
