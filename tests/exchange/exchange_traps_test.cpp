// SPDX-License-Identifier: Apache-2.0
// Traps that real files set for readers of exchange text; every file here is of our own writing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::lines;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
const std::string head = "#B01=AAA;AAK\nK3-K4;A\n";

ExchangeFile read(const std::string& text, std::size_t remarks = 0) {
  auto result = exchange_from_text(text, "f");
  EXPECT_TRUE(result.ok()) << (result.ok() ? "" : base::to_line(result.problems().front()));
  EXPECT_EQ(result.problems().size(), remarks)
      << (result.problems().empty() ? "" : base::to_line(result.problems().front()));
  return result.ok() ? std::move(result).value() : ExchangeFile{};
}
std::vector<std::string> said(const std::string& text) {
  return lines(exchange_from_text(text, "f").problems());
}

/// Trap 1 of the description of the format.
TEST(Trap, ByteOrderMarkBeforeA1) {
  const auto file = read("\xEF\xBB\xBF" + how + head + "#C=I;A;F\n1;BDB;é\n#Z\n");
  EXPECT_EQ(file.inspections[0].record.observations[0].remark, "é");
  EXPECT_EQ(file.inspections[0].places.observations[0], (base::Place{"f", 10, 1}));
}

/// Trap 1 of the description of the format.
TEST(Trap, LinesBeforeA1) {
  const auto result = exchange_from_text("\n\n\n\n\n\n\n\n" + how + head + "#C=I;A\n1;BAN\n#Z\n", "f");
  EXPECT_TRUE(result.ok());
  EXPECT_THAT(lines(result.problems()), IsEmpty());
  // Anything else there is left out, and said.
  for (const std::string mark : {"", "\xEF\xBB\xBF"}) {
    const auto other = exchange_from_text(
        mark + "Exported on Monday\n1;2;3\n\n# a\n\"\n-\nx\n" + how + head + "#C=I;A;F\n1;BDB;\xC3\xA9\n#Z\n",
        "f");
    ASSERT_TRUE(other.ok());
    EXPECT_EQ(other.value().style.charset, "UTF-8");
    EXPECT_EQ(other.value().inspections[0].record.observations[0].remark, "é");
    EXPECT_THAT(
        lines(other.problems()),
        ElementsAre("f:1:1: warning: 6 lines before the first mark of the format told nothing and were "
                    "left out; expected #A1= at the top"));
  }
}

/// Trap 2 of the description of the format.
TEST(Trap, Latin1Aliases) {
  for (const char* name : {"ISO-8859-1", "iso-8859-1:1998", "ISO_8859-1", "Latin1", "latin-1", "ISO8859-1"}) {
    std::string text = how + head + "#C=I;A;F\n1;BDB;Schad\xE9n\n#Z\n";
    text.replace(text.find("UTF-8"), 5, name);
    EXPECT_EQ(read(text).inspections[0].record.observations[0].remark, "Schadén") << name;
  }
}

/// Trap 2 of the description of the format.
TEST(Trap, UnknownCharacterSet) {
  std::string text = how + head + "#C=I;A;F\n1;BDB;\xE9\n#Z\n";
  text.replace(text.find("UTF-8"), 5, "EBCDIC");
  EXPECT_THAT(said(text), ElementsAre("f:1:1: the character set \"EBCDIC\" (#A1) is not known; expected "
                                      "UTF-8, ISO-8859-1, ISO-8859-15, Windows-1252 or ASCII"));
  text.replace(text.find('\xE9'), 1, "e");
  read(text, 1);
}

/// Trap 2: two names of one set are no contradiction.
TEST(Trap, Latin1UnderTwoNames) {
  std::string text = "#A1=iso-8859-1:1998\n" + how + head + "#C=I;A;F\n1;BDB;Schad\xE9n\n#Z\n";
  text.replace(text.find("UTF-8"), 5, "latin1");
  EXPECT_EQ(read(text).inspections[0].record.observations[0].remark, "Schadén");
  text.replace(text.find("latin1"), 6, "UTF-8");
  EXPECT_THAT(said(text), Contains(HasSubstr("f:2:5: #A1 is given again with another value")));
}

TEST(Trap, BytesThatAreNotOfTheNamedSet) {
  EXPECT_THAT(
      said(how + head + "#C=I;A;F\n1;BDB;x\xE9\n#Z\n"),
      ElementsAre("f:10:8: a byte that does not belong to UTF-8; expected the character set that #A1 names"));
}

/// Trap 3 of the description of the format.
TEST(Trap, EmptyLinesAnywhere) {
  EXPECT_EQ(read("\n" + how + "\n#B01=AAA;AAK\n\n  \nK3-K4;A\n\n#C=I;A\n\n1;BAN\n\n\n#Z\n\n")
                .inspections[0]
                .record.observations.size(),
            1U);
}

/// Trap 4 of the description of the format.
TEST(Trap, MissingAKeysWarnAndAreAssumed) {
  const auto result = exchange_from_text(head + "#C=I;A;F\n1.5;BDB;x\n#Z\n", "f");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(result.value().inspections[0].record.observations[0].distance_m, coding::Number(1.5));
  EXPECT_EQ(result.value().style.quote, 0) << "no A5: nothing is quoted";
  EXPECT_THAT(lines(result.problems()),
              ElementsAre(HasSubstr("#A1"), HasSubstr("#A2"), HasSubstr("#A6"),
                          HasSubstr("#A3, the separator, is missing; ; is assumed"), HasSubstr("#A4")));
  EXPECT_EQ(exchange_from_text("#B01=AAA,AAK\nx,A\n#C=I,A\n1,BAN\n#Z\n", "f").value().style.separator, ',')
      << "seen from the columns";
}

/// Trap 4: each key by itself.
TEST(Trap, EachMissingAKey) {
  for (const char key : {'1', '2', '3', '4', '5', '6'}) {
    std::string text = how + head + "#C=I;A;F\n1.5;BDB;x\n#Z\n";
    const std::size_t at = text.find(std::string("#A") + key);
    text.erase(at, text.find('\n', at) - at + 1);
    const auto result = exchange_from_text(text, "f");
    ASSERT_TRUE(result.ok());
    EXPECT_EQ(result.value().inspections[0].record.observations[0].distance_m, coding::Number(1.5)) << key;
    if (key == '5')
      EXPECT_THAT(lines(result.problems()), IsEmpty()) << "nothing is quoted, and that is no fault";
    else
      EXPECT_THAT(lines(result.problems()),
                  ElementsAre(::testing::AllOf(HasSubstr(std::string("f:1:1: warning: #A") + key + ", the "),
                                               HasSubstr(" is assumed"))));
  }
}

/// Trap 4 of the description of the format.
TEST(Trap, MissingQuoteKeyMeansNoQuoting) {
  std::string text = how + head + "#C=I;A;F\n1;BDB;\"5 inch\" pipe\n#Z\n";
  text.erase(text.find("#A5"), 5);
  EXPECT_EQ(read(text).inspections[0].record.observations[0].remark, "\"5 inch\" pipe");
}

/// Trap 5 of the description of the format.
TEST(Trap, SplitAtTheFirstEqualsOnly) {
  std::string text = how + "#B01=AAA=AAK\nK3=A\n#C=I=A=F\n1=BDB=x\n#Z\n";
  text.replace(text.find("#A3=;"), 5, "#A3==");
  const auto file = read(text);
  EXPECT_EQ(file.style.separator, '=');
  EXPECT_EQ(file.inspections[0].record.observations[0].remark, "x");
  // A caption with = in it.
  const auto kept = read(how + head + "#C=I;A;a=b\n1;BDB;x=y\n#Z\n", 1);
  EXPECT_EQ(kept.inspections[0].record.observations[0].extra,
            (std::vector<std::pair<std::string, std::string>>{{"a=b", "x=y"}}));
}

/// Trap 6 of the description of the format.
TEST(Trap, TheSeparatorIsAPlainCharacter) {
  for (const char separator :
       {'|', '*', '^', '$', '\t', '/', '.', '+', '?', '(', '[', '\\', '{', ' ', '-', '~'}) {
    std::string text = how + head + "#C=I;A;F\n1;BDB;x\n#Z\n";
    std::replace(text.begin(), text.end(), '-', '_');
    if (separator == '.') text.replace(text.find("#A4=."), 5, "#A4=,");
    std::replace(text.begin(), text.end(), ';', separator);
    EXPECT_EQ(read(text).inspections[0].record.observations[0].remark, "x") << separator;
  }
  EXPECT_THAT(said("#A1=UTF-8\n#A2=en\n#A3=;;\n#A4=.\n#A6=2010\n" + head),
              ElementsAre(HasSubstr("f:3:1: #A3, the separator, is \";;\"; expected one plain sign")));
}

/// Trap 7 of the description of the format.
TEST(Trap, AHashInsideARowIsText) {
  const auto file = read(how + head + "#C=F;I;A\n#1 is loose;1;BDB\nsee #Z;2;BDB\n\"#B01=x\";3;BDB\n#Z\n");
  const auto& rows = file.inspections[0].record.observations;
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].remark, "#1 is loose");
  EXPECT_EQ(rows[2].remark, "#B01=x");
  EXPECT_EQ(
      exchange_from_text(exchange_to_text({file.inspections[0].record}), "g").value().inspections[0].record,
      file.inspections[0].record);
  EXPECT_THAT(
      said(how + head + "#C=F;I;A\n#Zed;4;BDB\n#Z\n"),
      ElementsAre(HasSubstr("f:10:1: the line begins like a mark of the format but is none: #Zed;4;BDB")));
}

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

TEST(Trap, SeparatorAndDecimalSignAlike) {
  std::string text = how + head;
  text.replace(text.find("#A3=;"), 5, "#A3=,");
  text.replace(text.find("#A4=."), 5, "#A4=,");
  EXPECT_THAT(
      said(text),
      ElementsAre("f:3:1: separator (#A3) and decimal sign (#A4) are both ,; expected two different signs"));
}

TEST(Trap, DecimalComma) {
  std::string text = how + "#B01=ABQ;AAN\n23,5;1,5 km off\n#C=I;A;D\n1,25;BBA;3,5\n1.5;BBA;4\n#Z\n";
  text.replace(text.find("#A4=."), 5, "#A4=,");
  const auto file = read(text, 1);
  const auto& record = file.inspections[0].record;
  EXPECT_EQ(record.header_number("ABQ"), 23.5);
  EXPECT_EQ(record.header_value("AAN"), "1,5 km off");
  EXPECT_EQ(record.observations[0].distance_m, coding::Number(1.25));
  EXPECT_EQ(record.observations[1].distance_m, coding::Number(1.5))
      << "the other sign is understood, with a warning";
  const std::string written = exchange_to_text({record}, file.style);
  EXPECT_THAT(written, HasSubstr("\n1,25;BBA;"));
  EXPECT_THAT(written, HasSubstr("\n23,5;1,5 km off\n"));
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

TEST(Trap, LineEndsOfEveryKind) {
  for (const char* end : {"\n", "\r\n", "\r"}) {
    std::string text;
    for (const char c : how + head + "#C=I;A\n1;BAN\n#Z\n")
      text += c == '\n' ? std::string(end) : std::string(1, c);
    const auto file = read(text);
    EXPECT_EQ(file.inspections[0].places.observations[0].line, 10);
    EXPECT_EQ(file.style.line_end, std::string_view(end) == "\r\n" ? LineEnd::crlf
                                   : std::string_view(end) == "\r" ? LineEnd::cr
                                                                   : LineEnd::lf);
  }
}

}  // namespace
}  // namespace haunch::exchange
