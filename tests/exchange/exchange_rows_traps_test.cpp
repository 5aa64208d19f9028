// SPDX-License-Identifier: Apache-2.0
// Traps that real files set for readers of exchange text: headers, columns and rows; every file here is of
// our own writing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"
#include "exchange/traps.hpp"

namespace haunch::exchange {
namespace {

using test::head;
using test::how;
using test::lines;
using test::read;
using test::said;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// Trap 8 of the description of the format.
TEST(Trap, HeadersThatDifferFromInspectionToInspection) {
  const auto file =
      read(how + "#B01=AAA\nx\n#B02=ACB\n150\n#C=I;A\n1;BAN\n#Z\n#B01=AAK;AAA\nA;y\n#C=A;I\nBAN;2\n#Z\n");
  ASSERT_EQ(file.inspections.size(), 2U);
  EXPECT_EQ(file.inspections[0].record.header_value("ACB"), "150");
  EXPECT_EQ(file.inspections[1].record.header,
            (std::vector<coding::HeaderField>{{"AAK", "A"}, {"AAA", "y"}}));
  EXPECT_EQ(file.inspections[1].record.observations[0].distance_m, coding::Number(2))
      << "columns by letter, not by place";
}

/// Trap 9 of the description of the format.
TEST(Trap, AHeaderCodeTwice) {
  const auto result =
      exchange_from_text(how + "#B01=AAA;AAA;AAK;ADE\nx;x;A;wet\n#B02=AAK;ADE\nB;late\n#C=I;A\n#Z\n", "f");
  ASSERT_TRUE(result.ok());
  EXPECT_THAT(
      lines(result.problems()),
      ElementsAre(
          "f:7:1: note: header AAA is given twice with the same value; expected each code once",
          "f:9:6: warning: header AAK is \"A\" and also \"B\"; the first counts; expected one value"));
  const auto& record = result.value().inspections[0].record;
  EXPECT_EQ(record.header_value("AAK"), "A");
  EXPECT_EQ(record.header,
            (std::vector<coding::HeaderField>{
                {"AAA", "x"}, {"AAA", "x"}, {"AAK", "A"}, {"ADE", "wet"}, {"AAK", "B"}, {"ADE", "late"}}))
      << "nothing is lost";
  const std::vector<coding::Record> one{record};
  EXPECT_EQ(exchange_from_text(exchange_to_text(one), "g").value().inspections[0].record, record);
  EXPECT_EQ(records_from_json(records_to_json(one), "g").value()[0].record, record) << records_to_json(one);
  EXPECT_EQ(records_from_csv(records_to_csv(one), "g").value()[0].record, record);
}

/// Trap 10 of the description of the format.
TEST(Trap, TooManyOrTooFewValues) {
  EXPECT_THAT(said(how + "#B01=AAA;AAK\nx\n#C=I;A\n#Z\n"),
              ElementsAre("f:8:2: the line has 1 value for 2 header codes; expected 2 values"));
  EXPECT_THAT(said(how + head + "#C=I;A;F\n1;BAN\n2;BAN;x;y\n3;BAN;x\n#Z\n"),
              ElementsAre("f:10:6: the line has 2 values for 3 columns; expected 3 values",
                          "f:11:9: the line has 4 values for 3 columns; expected 3 values"));
  EXPECT_THAT(said(how + head + "#C=I;A\n1;BAN;;\n#Z\n"),
              ElementsAre(HasSubstr("f:10:7: warning: empty values stand after the last of 2 columns")));
}

/// Trap 10 of the description of the format.
TEST(Trap, ValuesThatAreNotNumbers) {
  const auto file = read(how + head + "#C=I;A;B;D\n1;BCD;A;K3\n#Z\n");
  EXPECT_EQ(file.inspections[0].record.observations[0].q1.show(), "K3") << "node references stand in D";
  EXPECT_THAT(said(how + head + "#C=I;A;G;H\none;BAN;;\n2;BAN;x;\n3;BAN;1.5;\n4;BAN;;-1\n#Z\n"),
              ElementsAre("f:10:1: the distance (I) is \"one\"; expected metres, a number",
                          "f:11:7: clock position 1 (G) is \"x\"; expected a whole hour from 1 to 12",
                          "f:12:7: clock position 1 (G) is \"1.5\"; expected a whole hour from 1 to 12",
                          "f:13:8: clock position 2 (H) is \"-1\"; expected a whole hour from 1 to 12"));
}

/// Trap 11 of the description of the format.
TEST(Trap, UnknownLettersAreKeptAndWrittenBack) {
  const auto result = exchange_from_text(how + head + "#C=I;A;Q;F\n1;BDB;mine;x\n2;BDB;;y\n#Z\n", "f");
  ASSERT_TRUE(result.ok());
  EXPECT_THAT(
      lines(result.problems()),
      ElementsAre(
          "f:9:8: warning: the column \"Q\" is not known; its text is kept; expected letters from A to N"));
  const auto& record = result.value().inspections[0].record;
  EXPECT_EQ(record.observations[0].extra, (std::vector<std::pair<std::string, std::string>>{{"Q", "mine"}}));
  EXPECT_TRUE(record.observations[1].extra.empty());
  EXPECT_EQ(exchange_to_text(result.value()), how + head + "#C=I;A;Q;F\n1;BDB;mine;x\n2;BDB;;y\n#Z\n")
      << "in its place";
  EXPECT_EQ(records_from_json(records_to_json({record}), "g").value()[0].record, record);
  EXPECT_EQ(records_from_csv(records_to_csv({record}), "g").value()[0].record, record);
  EXPECT_EQ(exchange_from_text(exchange_to_text({record}), "g").value().inspections[0].record, record);
}

/// Trap 12 of the description of the format.
TEST(Trap, RowsWithNothingInThem) {
  const auto file = read(how + head + "#C=I;A;F\n;;\n1;BAN;\n ; ;\n\"\";;\"\"\n#Z\n", 3);
  EXPECT_EQ(file.inspections[0].record.observations.size(), 1U);
  EXPECT_THAT(said(how + head + "#C=I;A;F\n;;\n#Z\n"),
              ElementsAre("f:10:1: note: a row with nothing in it was left out; expected an observation"));
}

/// Trap 13 of the description of the format.
TEST(Trap, TheLastInspectionMayLackItsEnd) {
  for (const std::string rows : {"1;BAN", "1;BAN\n", "", "\n"}) {
    const auto file =
        read(how + head + "#C=I;A\n1;BAN\n#Z\n" + head + "#C=I;A" + (rows == "" ? "" : "\n") + rows, 1);
    ASSERT_EQ(file.inspections.size(), 2U);
    EXPECT_EQ(file.inspections[1].record.observations.size(), rows.size() > 1 ? 1U : 0U);
  }
}

TEST(Trap, AnInspectionMayFollowWithoutAnEnd) {
  EXPECT_EQ(read(how + head + "#C=I;A\n1;BAN\n" + head + "#C=I;A\n1;BAN\n#Z\n", 1).inspections.size(), 2U);
}

/// Trap 14 of the description of the format.
TEST(Trap, RowsKeepTheOrderOfTheFile) {
  const auto file = read(how + head + "#C=I;A\n5;BAN\n1;BAO\n5;BAP\n5;BAE\n5;BAD\n#Z\n");
  std::string order;
  for (const auto& one : file.inspections[0].record.observations) order += one.code + ' ';
  EXPECT_EQ(order, "BAN BAO BAP BAE BAD ");
}

/// Trap 15 of the description of the format.
TEST(Trap, AnInspectionWithoutObservations) {
  const auto file = read(how + head + "#C=I;A\n#Z\n" + head + "#C=I;A\n1;BAN\n#Z\n");
  ASSERT_EQ(file.inspections.size(), 2U);
  EXPECT_TRUE(file.inspections[0].record.observations.empty());
  const std::string text = exchange_to_text({file.inspections[0].record, file.inspections[1].record});
  EXPECT_EQ(exchange_from_text(text, "g").value().inspections.size(), 2U) << text;
}

TEST(Trap, ALineBreakInsideQuotesIsReported) {
  EXPECT_THAT(said(how + head + "#C=I;A;F\n1;BDB;\"one\n2;BDB;two\n#Z\n"),
              ElementsAre("f:10:7: a quote is not closed in its line; expected the closing quote; no line "
                          "break stands inside text"));
  EXPECT_THAT(said(how + head + "#C=I;A;F\n1;BDB;\"one\"x\n#Z\n"),
              ElementsAre(HasSubstr("f:10:12: text stands after a closing quote")));
}

TEST(Trap, WholeCircumferenceInBothForms) {
  const auto file = read(how + head + "#C=I;A;G;H\n1;BAN;12;12\n2;BAN;00;12\n3;BAN;03;\n#Z\n");
  const auto& rows = file.inspections[0].record.observations;
  EXPECT_EQ(rows[0].clock_from, 12);
  EXPECT_EQ(rows[1].clock_from, 12);
  EXPECT_EQ(rows[1].clock_to, 12);
  EXPECT_EQ(rows[2].clock_from, 3);
  EXPECT_FALSE(rows[2].clock_to);
}

TEST(Trap, VideoReferencesStayText) {
  EXPECT_EQ(read(how + head + "#C=I;A;N\n1;BAN;005316\n#Z\n").inspections[0].record.observations[0].video,
            "005316");
}

TEST(Trap, RemarksKeepTheirSpaces) {
  EXPECT_EQ(
      read(how + head + "#C=I;A;F\n1;BDB;  far side \n#Z\n").inspections[0].record.observations[0].remark,
      "  far side ");
}

TEST(Trap, JointMarksOfOtherKinds) {
  const auto file = read(how + head + "#C=I;A;K\n1;BAN;a\n2;BAN;1\n3;BAN;A\n#Z\n", 2);
  const auto& rows = file.inspections[0].record.observations;
  EXPECT_TRUE(rows[0].at_joint);
  EXPECT_FALSE(rows[1].at_joint);
  EXPECT_TRUE(rows[2].at_joint);
}

}  // namespace
}  // namespace haunch::exchange
