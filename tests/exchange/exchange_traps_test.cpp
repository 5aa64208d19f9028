// SPDX-License-Identifier: Apache-2.0
// Traps that real files set for readers of exchange text: how the file is written; every file here is of our
// own writing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

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
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

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

/// A set of single bytes takes any byte, so nothing else would say that #A1 is wrong.
TEST(Trap, Utf8UnderTheNameOfASingleByteSet) {
  for (const std::string set : {"ISO-8859-1", "ISO-8859-15", "Windows-1252"}) {
    std::string text = how + head + "#C=I;A;F\n1;BDB;plain\n2;BDB;M\xC3\xBCller\n3;BDB;\xE2\x82\xAC 5\n#Z\n";
    text.replace(text.find("UTF-8"), 5, set);
    EXPECT_THAT(said(text), ElementsAre(::testing::StartsWith("f:11:1: warning: #A1 says " + set))) << set;
    // One letter that is no UTF-8, and the set that #A1 names is the right one.
    text.replace(text.find("plain"), 5, "Schad\xE9n");
    EXPECT_THAT(said(text), IsEmpty()) << set;
  }
  std::string plain = how + head + "#C=I;A;F\n1;BDB;plain\n#Z\n";
  plain.replace(plain.find("UTF-8"), 5, "ISO-8859-1");
  EXPECT_THAT(said(plain), IsEmpty());
  EXPECT_THAT(said(how + head + "#C=I;A;F\n1;BDB;M\xC3\xBCller\n#Z\n"), IsEmpty());
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
