// SPDX-License-Identifier: Apache-2.0
// Exchange text as a whole: a sample read, strict writing, and files that are broken.
#include "exchange/exchange_text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::lines;
using test::sample_text;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

std::vector<std::string> said(const std::string& text) {
  return lines(exchange_from_text(text, "f").problems());
}

TEST(ExchangeText, ReadsTheSample) {
  const auto result = exchange_from_text(sample_text, "f");
  ASSERT_TRUE(result.ok());
  EXPECT_TRUE(result.problems().empty());
  const auto& file = result.value();
  EXPECT_EQ(file.style, (TextStyle{"ISO-8859-1", "en", ';', '.', '"', "2010", LineEnd::lf, false}));
  ASSERT_EQ(file.inspections.size(), 2U);
  const auto& record = file.inspections[0].record;
  EXPECT_EQ(record.header.size(), 12U);
  EXPECT_EQ(record.header_number("ACB"), 150);
  ASSERT_EQ(record.observations.size(), 6U);
  EXPECT_EQ(record.observations[0].remark, "K3; under the ramp");
  EXPECT_EQ(record.observations[1].distance_m.show(), "2.40") << "as written";
  EXPECT_EQ(record.observations[1].stretch, "A1");
  EXPECT_EQ(record.observations[1].id, "o2");
  EXPECT_EQ(record.observations[2].clock_to, 12);
  EXPECT_EQ(record.observations[4].remark, "says \"foul\" on plan");
  EXPECT_EQ(file.inspections[0].places.observations[4], (base::Place{"f", 16, 1}));
  EXPECT_EQ(coding::extents(record).size(), 5U);
  EXPECT_EQ(file.inspections[1].record.observations[1].code, "BDC");
}

TEST(ExchangeText, WritesEveryFieldThatCouldBeMisreadInQuotes) {
  coding::Record record;
  record.header = {{"AAA", "#B01=x"}, {"AAN", "a;b"}};
  record.observations.resize(1);
  record.observations[0].code = "BDB";
  record.observations[0].distance_m = coding::Number::from_text("1.50");
  record.observations[0].remark = "say \"no\"; twice";
  EXPECT_EQ(exchange_to_text({record}),
            "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA;AAN\n\"#B01=x\";\"a;b\"\n#C=I;A;B;C;"
            "D;E;G;H;J;K;L;F;M;N\n"
            "1.50;BDB;;;;;;;;;;\"say \"\"no\"\"; twice\";;\n#Z\n");
}

TEST(ExchangeText, ARepeatedHeaderCodeGoesIntoAnotherLine) {
  coding::Record record;
  record.header = {{"ADE", "wet"}, {"ADE", "late"}, {"ACB", "150"}};
  const std::string text = exchange_to_text({record});
  EXPECT_THAT(text, HasSubstr("#B01=ADE\nwet\n#B02=ADE;ACB\nlate;150\n"));
  EXPECT_EQ(exchange_from_text(text, "g").value().inspections[0].record, record);
}

TEST(ExchangeText, ACharacterThatTheSetDoesNotHaveMakesTheFileUtf8) {
  coding::Record record;
  record.header = {{"AAN", "\xE7\xAE\xA1"}};
  TextStyle style;
  style.charset = "ISO-8859-1";
  EXPECT_THAT(exchange_to_text({record}, style), ::testing::StartsWith("#A1=UTF-8\n"));
  record.header[0].value = "caf\xC3\xA9";
  EXPECT_THAT(exchange_to_text({record}, style), HasSubstr("\ncaf\xE9\n"));
}

TEST(ExchangeText, EuroSignInWindowsAndLatin9) {
  for (const char* charset : {"windows-1252", "ISO-8859-15"}) {
    coding::Record record;
    record.header = {{"AAN", "5 \xE2\x82\xAC"}};
    TextStyle style;
    style.charset = charset;
    const std::string text = exchange_to_text({record}, style);
    EXPECT_THAT(text, ::testing::StartsWith(std::string("#A1=") + charset));
    EXPECT_EQ(exchange_from_text(text, "g").value().inspections[0].record, record);
  }
}

TEST(ExchangeText, NothingAtAll) {
  EXPECT_THAT(said(""), ElementsAre("f:1:1: the file is empty; expected exchange text"));
  EXPECT_THAT(said("\xEF\xBB\xBF"), ElementsAre(HasSubstr("f:1:1")));
  EXPECT_THAT(said(" \n\r\n"), ElementsAre(HasSubstr("the file is empty")));
  EXPECT_THAT(said(std::string("#\0A\0", 4)), ElementsAre(HasSubstr("not plain text")));
  EXPECT_THAT(said("#A1=UTF-8\n#\n" + std::string(1, '\0')),
              ElementsAre(HasSubstr("f:3:1: this is not plain text")));
  EXPECT_THAT(said("\xFF\xFE#"), Contains(HasSubstr("f:1:1: a byte that does not belong to UTF-8")))
      << "half a character of UTF-16";
  EXPECT_THAT(said("#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n"),
              ElementsAre("f:1:1: the file holds no inspection; expected #B01=, its values, #C= and rows"));
  EXPECT_THAT(said("Dear all,\nthe pipe is fine.\n"), Contains(HasSubstr("this is not exchange text")));
}

TEST(ExchangeText, BrokenAtEveryPart) {
  const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  EXPECT_THAT(said(how + "#B01=AAA\n#C=I;A\n#Z\n"),
              ElementsAre("f:7:1: no values follow the header codes; expected a line with 1 values"));
  EXPECT_THAT(said(how + "#B01=AAA\nx\n#Z\n"),
              ElementsAre(HasSubstr("f:9:1: the inspection ends without its observations")));
  EXPECT_THAT(said(how + "#B01=AAA\nx\n1;BAN\n"),
              Contains(HasSubstr("f:9:1: a row stands outside an inspection")));
  EXPECT_THAT(said(how + "#B01=AAA;\nx;y\n#C=I;A\n#Z\n"),
              ElementsAre("f:7:10: a header code is empty; expected a code such as AAA"));
  EXPECT_THAT(said(how + "#B01=AAA\nx\n#C=B;B;\n#Z\n"),
              ElementsAre("f:9:6: the column B is named twice; expected each column once",
                          "f:9:8: a column has no letter; expected a letter from A to N",
                          "f:9:1: no column for the main code; expected a column A",
                          "f:9:1: no column for the distance; expected a column I"));
  EXPECT_THAT(said("#A1=UTF-8\n#A2=en\n#A3=ab\n#A4=x\n#A5=\"\n#A6=2010\n"),
              ElementsAre("f:3:1: #A3, the separator, is \"ab\"; expected one plain sign such as ;",
                          "f:4:1: #A4, the decimal sign, is \"x\"; expected . or ,"));
  EXPECT_THAT(said("#A1=UTF-8\n#A2=en\n#A3=B\n#A4=.\n#A6=2010\n"),
              ElementsAre(HasSubstr("f:3:1: #A3, the separator, is B")));
  EXPECT_THAT(
      said(how + "#A3=,\n#A9=x\n#B01=AAA\nx\n#C=I;A\n#Z\n"),
      ElementsAre(
          "f:7:5: #A3 is given again with another value; expected one value for the whole file: \";\"",
          "f:8:1: warning: #A9 is not known; expected #A1 to #A6"));
}

TEST(ExchangeText, ProblemsHaveALimit) {
  std::string text = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA\nx\n#C=I;A\n";
  for (int i = 0; i < 5000; ++i) text += "x;BAN\n";
  const auto problems = exchange_from_text(text, "f").problems();
  EXPECT_EQ(problems.size(), 501U);
  EXPECT_EQ(problems.back().what, "there are more problems than these");
}

}  // namespace
}  // namespace haunch::exchange
