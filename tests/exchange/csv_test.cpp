// SPDX-License-Identifier: Apache-2.0
// The spreadsheet form: safe cells, kind reading, located problems.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::lines;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

coding::Record one_remark(std::string remark) {
  coding::Record record;
  record.observations.resize(1);
  record.observations[0].code = "BDB";
  record.observations[0].distance_m = -0.5;
  record.observations[0].remark = std::move(remark);
  coding::number_observations(record);
  return record;
}

TEST(Csv, FormulasDoNotRun) {
  for (const char* formula : {"=1+1", "+49", "-2", "@sum", "\tx", "'quoted", "=HYPERLINK(\"x\",\"y\")"}) {
    const auto record = one_remark(formula);
    const std::string text = records_to_csv({record});
    const auto read = records_from_csv(text, "f.csv");
    ASSERT_TRUE(read.ok());
    EXPECT_EQ(read.value()[0].record, record) << formula;
    for (const char* start : {",=", ",+", ",@", ",\t", "\"=", "\"+"})
      EXPECT_THAT(text, ::testing::Not(HasSubstr(start))) << text;
  }
  EXPECT_THAT(records_to_csv({one_remark("x")}), HasSubstr(",-0.5,BDB,"))
      << "a negative number is no formula";
}

TEST(Csv, HeaderFieldsAreRowsOfTheirCode) {
  coding::Record record;
  record.header = {{"ACB", "150"}};
  EXPECT_EQ(records_to_csv({record}),
            "inspection,row,id,distance_m,code,ch1,ch2,q1,q2,clock_from,clock_to,at_joint,stretch,remark,"
            "manhole_place,photo,video,reason,value\r\n"
            "1,inspection,,,,,,,,,,,,,,,,,\r\n1,header,,,ACB,,,,,,,,,,,,,,150\r\n");
}

TEST(Csv, ReadsWhatASpreadsheetMakesOfIt) {
  const auto read = records_from_csv(
      "\xEF\xBB\xBF"
      "code;distance_m;value;at_joint;q1;remark\r\nACB;;150;;;\r\nBBA;1,5;;TRUE;\"3,5\";\"two\nlines\"\r\n;;;"
      ";;\r\n",
      "f.csv");
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read.value().size(), 1U);
  const auto& record = read.value()[0].record;
  EXPECT_EQ(record.header_number("ACB"), 150);
  EXPECT_EQ(record.observations[0].distance_m, coding::Number(1.5));
  EXPECT_EQ(record.observations[0].q1, coding::Number(3.5));
  EXPECT_EQ(record.observations[0].remark, "two\nlines");
  EXPECT_TRUE(record.observations[0].at_joint);
  EXPECT_EQ(read.value()[0].places.observations[0].line, 3);
}

TEST(Csv, HeaderNumbersOfASpreadsheetHaveItsDecimalComma) {
  const auto read = [](const std::string& text) {
    const auto records = records_from_csv(text, "f.csv");
    return records.ok() ? records.value().at(0).record : coding::Record{};
  };
  const auto record =
      read("code;distance_m;value\nABQ;;23,5\nACB;;300\nACI;;1.25\nAAN;;Sallow 1,5\nBCE;23,5;\n");
  EXPECT_EQ(record.header_number("ABQ"), 23.5);
  EXPECT_EQ(record.header_value("ABQ"), "23.5");
  EXPECT_EQ(record.header_value("ACB"), "300");
  EXPECT_EQ(record.header_value("AAN"), "Sallow 1,5") << "text keeps its comma";
  EXPECT_EQ(record.observations.at(0).distance_m, coding::Number(23.5));
  EXPECT_EQ(read("code\tvalue\nABQ\t23,5\n").header_number("ABQ"), 23.5);
  EXPECT_EQ(read("code;value\nABQ;23,5 m\n").header_value("ABQ"), "23,5 m") << "what is no number stays";
  EXPECT_EQ(read("code,value\nABQ,\"23,5\"\n").header_number("ABQ"), 23.5) << "quoted between commas";
}

TEST(Csv, AFirstLineMayNameTheSeparator) {
  for (const std::string end : {"\n", "\r\n"})
    for (const std::string line : {"sep=;", "SEP=|", "sep=\t", "\xEF\xBB\xBFsep=,"}) {
      const std::string sign = line.substr(line.size() - 1);
      const auto read =
          records_from_csv(line + end + "code" + sign + "remark" + end + "BDB" + sign + "x" + end, "f.csv");
      ASSERT_TRUE(read.ok()) << line << base::to_line(read.problems().front());
      EXPECT_EQ(read.value()[0].record.observations.at(0).code, "BDB") << line;
      EXPECT_EQ(read.value()[0].places.observations.at(0).line, 3) << "the line counts";
    }
  EXPECT_FALSE(records_from_csv("sep=x\ncodexremark\n", "f.csv").ok());
  EXPECT_FALSE(records_from_csv("sep=;", "f.csv").ok()) << "nothing follows";
}

TEST(Csv, CaptionsInAnyLetterCase) {
  const auto read = records_from_csv("Code;DISTANCE_M;Ch1;Extra:Q;at_Joint\nBCD;0,5;A;mine;yes\n", "f.csv");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  const auto& one = read.value()[0].record.observations.at(0);
  EXPECT_EQ(one.code, "BCD");
  EXPECT_EQ(one.distance_m, coding::Number(0.5));
  EXPECT_EQ(one.ch1, "A");
  EXPECT_TRUE(one.at_joint);
  EXPECT_EQ(one.extra, (std::vector<std::pair<std::string, std::string>>{{"Q", "mine"}}));
  EXPECT_THAT(lines(records_from_csv("Code,CODE\n", "f.csv").problems()),
              ElementsAre("f.csv:1:1: the column \"code\" is named twice; expected each column once"));
}

TEST(Csv, EveryProblemWithItsLine) {
  EXPECT_THAT(lines(records_from_csv("code,distance,code\n", "f.csv").problems()),
              ElementsAre(::testing::AllOf(HasSubstr("f.csv:1:1: the column \"distance\" is not known"),
                                           HasSubstr("did you mean \"distance_m\"?")),
                          "f.csv:1:1: the column \"code\" is named twice; expected each column once"));
  EXPECT_THAT(
      lines(records_from_csv("code,distance_m,at_joint,row,clock_from\nBAN,1\nBAN,x,,,\nBAN,1,perhaps,,\nBAN,"
                             "1,,rov,\nBAN,1,\"a\"b,,\nBAN,1,,,noon\n",
                             "f.csv")
                .problems()),
      ElementsAre("f.csv:2:1: the row has 2 cells for 5 columns; expected 5 cells",
                  "f.csv:3:1: the distance (I) is \"x\"; expected metres, a number",
                  "f.csv:4:1: at_joint is \"perhaps\"; expected yes or nothing",
                  HasSubstr("f.csv:5:1: the kind of row is \"rov\""),
                  HasSubstr("f.csv:6:1: a quote is not closed"), HasSubstr("f.csv:7:1: clock position 1")));
  EXPECT_THAT(lines(records_from_csv("", "f.csv").problems()),
              ElementsAre("f.csv:1:1: the file is empty; expected a line of column names"));
  EXPECT_THAT(lines(records_from_csv("a,b\n", "f.csv").problems()).back(), HasSubstr("no column \"code\""));
}

TEST(Csv, OldSpreadsheetsWriteWindowsCharacters) {
  EXPECT_EQ(records_from_csv("code,remark\nBDB,caf\xE9\n", "f.csv").value()[0].record.observations[0].remark,
            "café");
}

}  // namespace
}  // namespace haunch::exchange
