// SPDX-License-Identifier: Apache-2.0
// A clean file that is read and written again is the same byte by byte, whatever way it was written.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "campaign.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

std::string again(const std::string& bytes) {
  const auto file = exchange_from_text(bytes, "f");
  EXPECT_TRUE(file.ok()) << (file.ok() ? "" : base::to_line(file.problems().front())) << '\n' << bytes;
  return file.ok() ? exchange_to_text(file.value()) : std::string();
}

std::string reference(const char* name) {
  std::ifstream file(std::string(HAUNCH_SOURCE_DIR "/../shared/reference/") + name, std::ios::binary);
  std::stringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

TEST(ByteIdentity, TheSample) { EXPECT_EQ(again(test::sample_text), test::sample_text); }

/// The example of the description of the format, between the marks of its own page.
TEST(ByteIdentity, TheExampleOfTheDescription) {
  const std::string page = reference("en13508-2-exchange.md");
  if (page.empty()) GTEST_SKIP() << "the description en13508-2-exchange.md is not here";
  const std::size_t from = page.find("```\n#A1=") + 4;
  const std::string example = page.substr(from, page.find("```", from) - from);
  ASSERT_GT(example.size(), 400U);
  EXPECT_EQ(again(example), example);
}

/// MIT licence, by other people; CR LF, comma, its own order of columns, no #Z at its end.
TEST(ByteIdentity, TheThirdPartyFile) {
  const std::string bytes = reference("example_13508_2.txt");
  if (bytes.empty()) GTEST_SKIP() << "the third-party file example_13508_2.txt is not here";
  EXPECT_EQ(again(bytes), bytes);
}

TEST(ByteIdentity, HabitsOfOtherPrograms) {
  const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  const std::string head = "#B01=AAA;AAK\nK3-K4;A\n";
  const std::vector<std::string> files{
      // Everything in quotes; only text; the empty ones too; captions.
      how +
          "#B01=AAA;AAK\n\"K3-K4\";\"A\"\n#C=I;A;B;F\n\"1.50\";\"BAN\";\"\";\"x\"\n\"2\";\"BDB\";\"\";"
          "\"\"\n#Z\n",
      how + head + "#C=I;A;F;G\n1;BDB;\"wet\";3\n2;BDB;;12\n3;BDB;\"say \"\"no\"\"; twice\";\n#Z\n",
      how + "#B01=\"AAA\";AAK\n\"K3-K4\";A\n#C=\"I\";\"A\"\n1;BAN\n#Z\n",
      // Hours of two digits.
      how + head + "#C=I;A;G;H\n1;BAN;03;09\n2;BAN;12;\n#Z\n",
      // Numbers as written, a column of text among numbers.
      how + head + "#C=I;A;D;E\n0.00;BCD;K3;\n+1.500;BAN;007;1e1\n-0.5;BAN;;\n#Z\n",
      // Header codes in many lines, numbered in another way.
      how + "#B1=AAA\nx\n#B02=AAK;ACB\nA;150\n#B9=ADE\n\"\"\n#B10=ADE\nlate\n#C=I;A\n1;BAN\n#Z\n",
      // Unknown columns, also where no row fills them, and twice.
      how + head + "#C=Q;I;A;own words;Q\nx;1;BAN;;y\nx;2;BAN;;z\n#Z\n" + head + "#C=Q;I;A\n#Z\n",
      // Inspections that differ, none without an end but the last.
      how + head + "#C=I;A\n#Z\n#C=A;I;F\nBAN;1; far side \n#Z\n" + head + "#C=I;A\n1;BAN\n",
      how + head + "#C=I;A\n1;BAN", how + head + "#C=I;A\n1;BAN\n#Z", how + head + "#C=I;A",
      // The #A lines in another order, no quote at all, an empty one, a name for the tab.
      "#A6=2010\n#A5='\n#A4=,\n#A3=|\n#A2=cs\n#A1=Windows-1252\n#B01=AAN\nCh\xE2teau "
      "\n#C=I|A|F\n1,5|BDB|'it''s "
      "\x80'\n#Z\n",
      std::string("#A1=ASCII\n#A2=en\n#A3=;\n#A4=.\n#A6=2010\n") + head +
          "#C=I;A;F\n1;BDB;\"5 inch\" pipe\n#Z\n",
      std::string("#A1=ASCII\n#A2=en\n#A3=;\n#A4=.\n#A5=\n#A6=2010\n") + head + "#C=I;A\n1;BAN\n#Z\n",
      std::string(
          "#A1=ASCII\n#A2=en\n#A3=TAB\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA\tAAK\n\t\n#C=I\tA\n1\tBAN\n#Z\n"),
      "\xEF\xBB\xBF" + how + head + "#C=I;A;F\n1;BDB;\xC3\xA9\n#Z\n"};
  for (const std::string& bytes : files) {
    // Repeated codes and unknown columns are told, and written back all the same.
    EXPECT_EQ(again(bytes), bytes);
  }
}

struct Way {
  std::string charset;
  char separator, decimal, quote;
  LineEnd end;
};

/// Text that the character set has, with what trips readers.
std::string some_text(base::Random& random, const Way& way) {
  static const std::vector<std::string> plain{"wet",   "a", " ", ";",  ",",  "|", "\"", "'",
                                              "#B01=", "*", ".", "\t", "==", "7", "#"};
  static const std::vector<std::string> latin{"\xC3\xA9", "\xC3\x9F", "\xC2\xB0"};
  std::string text;
  for (std::uint32_t n = random.below(5); n > 0; --n) {
    if (random.below(4) == 0 && way.charset != "ASCII")
      text += way.charset == "UTF-8" ? "\xE7\xAE\xA1" : latin[random.below(3)];
    else
      text += plain[random.below(static_cast<std::uint32_t>(plain.size()))];
  }
  return text;
}

coding::Record some_record(std::uint64_t seed, const Way& way) {
  coding::Record record = test::random_record(seed, {false, true, false});
  base::Random random(seed + 77);
  for (coding::HeaderField& field : record.header)
    if (!coding::header_holds_number(field.code)) field.value = some_text(random, way);
  for (coding::Observation& one : record.observations) {
    for (std::string* text : {&one.remark, &one.manhole_place, &one.photo, &one.video})
      *text = some_text(random, way);
    for (auto& [name, text] : one.extra) text = "x" + some_text(random, way);
    std::sort(one.extra.rbegin(), one.extra.rend());
  }
  return record;
}

/// An order of columns and habits by chance, which the records need not all fit.
TextLayout some_layout(base::Random& random, const coding::Record& record, bool quotes) {
  TextLayout layout;
  std::string letters = "ABCDEFGHIJKLMN";
  for (std::size_t i = letters.size(); i > 1; --i)
    std::swap(letters[i - 1], letters[random.below(static_cast<std::uint32_t>(i))]);
  for (const char letter : letters) {
    const bool quoted = quotes && random.below(2) == 0;
    layout.columns.push_back({std::string(1, letter), quotes && random.below(4) == 0, quoted,
                              quotes && random.below(2) == 0, random.below(2) == 0});
  }
  for (std::size_t left = record.header.size(); left > 0;) {
    TextLayout::HeaderLine line{"#B0" + std::to_string(1 + layout.header.size()),
                                1 + random.below(static_cast<std::uint32_t>(left)),
                                {}};
    for (std::size_t i = 0; i < line.codes; ++i)
      line.quoted += quotes ? static_cast<char>('0' + random.below(4)) : '0';
    left -= line.codes;
    layout.header.push_back(line);
  }
  return layout;
}

/// Every separator, decimal sign, quote, character set and line end with every other: what is written is
/// read back equal, and written again it is the same bytes.
TEST(ByteIdentity, EveryWayOfWritingWithEveryOther) {
  std::uint64_t seed = 1;
  for (const char* charset :
       {"UTF-8", "utf-8", "ISO-8859-1", "iso-8859-1:1998", "ISO-8859-15", "Windows-1252", "ASCII"})
    for (const char separator : {';', ',', '\t', '|', '.', '*', ' ', '=', '^', '\\', '~', '-'})
      for (const char decimal : {'.', ','})
        for (const char quote : {'"', '\'', '\0'})
          for (const LineEnd end : {LineEnd::lf, LineEnd::crlf, LineEnd::cr}) {
            if (separator == decimal) continue;
            const Way way{charset, separator, decimal, quote, end};
            base::Random random(++seed);
            ExchangeFile file;
            file.style = {way.charset, "en",   separator, decimal,
                          quote,       "2010", end,       std::string(charset) == "utf-8"};
            if (quote == 0) file.style.keys = "12346";
            for (std::uint32_t n = random.below(3) + 1; n > 0; --n) {
              file.inspections.push_back({some_record(seed * 10 + n, way), {}});
              file.layouts.push_back(random.below(3) == 0
                                         ? TextLayout{}
                                         : some_layout(random, file.inspections.back().record, quote != 0));
              file.layouts.back().ended = n > 1 || random.below(2) == 0;
              file.layouts.back().last_line_end = n > 1 || random.below(2) == 0;
            }
            const std::string bytes = exchange_to_text(file);
            const auto read = exchange_from_text(bytes, "f");
            ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front()) << '\n' << bytes;
            ASSERT_EQ(read.value().inspections.size(), file.inspections.size()) << bytes;
            for (std::size_t i = 0; i < file.inspections.size(); ++i) {
              coding::Record got = read.value().inspections[i].record;
              for (auto& one : got.observations) std::sort(one.extra.rbegin(), one.extra.rend());
              ASSERT_EQ(got, file.inspections[i].record) << bytes;
            }
            ASSERT_EQ(exchange_to_text(read.value()), bytes);
          }
}

}  // namespace
}  // namespace haunch::exchange
