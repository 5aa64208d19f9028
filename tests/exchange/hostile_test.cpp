// SPDX-License-Identifier: Apache-2.0
// Files cut off anywhere and bytes turned at random: a value or located problems, never a crash, and
// whatever is read can be written, read again and judged.
#include <gtest/gtest.h>

#include <cctype>
#include <functional>

#include "campaign.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using Records = base::Result<std::vector<PlacedRecord>>;
using Read = std::function<Records(const std::string&)>;

Records text_records(const std::string& bytes) {
  auto file = exchange_from_text(bytes, "f");
  if (!file) return file.problems();
  return {std::move(file.value().inspections), file.problems()};
}
Records json_records(const std::string& bytes) { return records_from_json(bytes, "f"); }
Records csv_records(const std::string& bytes) { return records_from_csv(bytes, "f"); }

void hold(const Records& result, const std::string& bytes) {
  for (const base::Problem& problem : result.problems()) {
    EXPECT_EQ(problem.place.file, "f");
    if (problem.severity == base::Severity::error) {
      EXPECT_GE(problem.place.line, 1) << problem.what << '\n' << bytes;
      EXPECT_GE(problem.place.column, 1) << problem.what << '\n' << bytes;
    }
    EXPECT_FALSE(problem.what.empty());
    EXPECT_FALSE(problem.expected.empty()) << problem.what;
  }
  if (!result.ok()) {
    EXPECT_TRUE(base::has_errors(result.problems())) << bytes;
    return;
  }
  std::vector<coding::Record> records;
  for (const PlacedRecord& placed : result.value()) {
    ASSERT_EQ(placed.places.observations.size(), placed.record.observations.size());
    records.push_back(placed.record);
    (void)coding::validate(placed.record, coding::CodeList::shipped(), "f", placed.places);
    (void)coding::extents(placed.record);
    for (const auto& one : placed.record.observations)
      EXPECT_FALSE(in_words(one, coding::CodeList::shipped()).empty());
  }
  const auto again = records_from_json(records_to_json(records), "f");
  if (again.ok()) {
    EXPECT_EQ(again.value().size(), records.size());
  }
}

void cut_everywhere(const std::string& sample, const Read& read) {
  for (std::size_t length = 0; length < sample.size(); ++length)
    hold(read(sample.substr(0, length)), sample.substr(0, length));
}

void turn_bytes(const std::string& sample, const Read& read, std::uint64_t seed, int rounds) {
  base::Random random(seed);
  for (int i = 0; i < rounds; ++i) {
    std::string bytes = sample;
    for (std::uint32_t n = 1 + random.below(4); n > 0; --n) {
      const auto at = random.below(static_cast<std::uint32_t>(bytes.size()));
      switch (random.below(4)) {
        case 0:
          bytes[at] = static_cast<char>(random.below(256));
          break;
        case 1:
          bytes.erase(at, 1 + random.below(5));
          break;
        case 2:
          bytes.insert(at, bytes.substr(at, random.below(20)));
          break;
        default:
          bytes[at] = ";,\"#=\n\r{}[]:'"[random.below(13)];
          break;
      }
    }
    hold(read(bytes), bytes);
  }
}

std::vector<coding::Record> sample_records() {
  std::vector<coding::Record> records;
  for (auto& placed : exchange_from_text(test::sample_text, "f").value().inspections)
    records.push_back(placed.record);
  records[0].judgement = coding::Judgement{{{"o2", {{"tightness", 3}}}}, 3, coding::Action::clean_again};
  records[0].not_visible = {{"o5", "under water"}};
  return records;
}

TEST(Hostile, ExchangeTextCutAnywhere) { cut_everywhere(test::sample_text, text_records); }
TEST(Hostile, ExchangeTextWithBytesTurned) {
  turn_bytes(test::sample_text, text_records, 1, campaign::rounds(4000));
}
TEST(Hostile, JsonCutAnywhere) {
  const std::string sample = records_to_json(sample_records());
  cut_everywhere(sample, json_records);
  for (std::size_t length = 0; length + 2 < sample.size(); ++length)
    EXPECT_FALSE(json_records(sample.substr(0, length)).ok()) << length;
}
TEST(Hostile, JsonListWithBytesTurned) {
  const auto one = sample_records();
  turn_bytes(records_to_json({one[1], one[1], one[1]}), json_records, 12, campaign::rounds(1500));
}
TEST(Hostile, JsonWithBytesTurned) {
  turn_bytes(records_to_json(sample_records()), json_records, 2, campaign::rounds(1500));
}
TEST(Hostile, CsvCutAnywhere) { cut_everywhere(records_to_csv(sample_records()), csv_records); }
TEST(Hostile, CsvWithBytesTurned) {
  turn_bytes(records_to_csv(sample_records()), csv_records, 3, campaign::rounds(4000));
}

TEST(Hostile, JsonWithNumbersPastADouble) {
  const std::string sample = records_to_json(sample_records());
  int refused = 0;
  for (std::size_t at = 0; at < sample.size(); ++at)
    if (std::isdigit(static_cast<unsigned char>(sample[at])) != 0) {
      std::string bytes = sample;
      bytes.insert(at + 1, "e999");
      const Records result = json_records(bytes);
      hold(result, bytes);
      refused += result.ok() ? 0 : 1;
    }
  EXPECT_GT(refused, 20);
}

TEST(Hostile, LongLinesAndManyColumns) {
  const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  const std::string million(1000000, ';');
  for (const std::string& text :
       std::vector<std::string>{how + "#B01=AAA\nx\n#C=I;A\n1;" + std::string(3 << 20, 'x') + "\n2;BAN\n#Z\n",
                                how + "#B01=AAA\nx\n#C=I;A\n1;BAN" + million + "x\n#Z\n",
                                how + "#B01=AAA\nx\n#C=I;A" + million + "\n1;BAN\n#Z\n",
                                how + "#B01=AAA" + million + "\nx\n#C=I;A\n#Z\n",
                                how + "#B01=AAA\nx" + million + "y\n#C=I;A\n#Z\n",
                                how + "#B01=AAA\nx\n#C=I;A;F\n1;BDB;\"" + std::string(900000, 'q') + "\n#Z\n",
                                how + "#B01=AAA\nx\n#C=I;A;F\n1;BDB;\"" + std::string(900002, '"') + "\n#Z\n",
                                how + std::string(1 << 20, '#')}) {
    const Records result = text_records(text);
    hold(result, "a long text");
    EXPECT_FALSE(result.ok()) << text.substr(how.size(), 40);
    EXPECT_LE(result.problems().size(), 501U);
    for (const auto& problem : result.problems())
      EXPECT_LT(problem.what.size() + problem.expected.size(), 300U);
  }
  for (const std::string& text : std::vector<std::string>{
           "code,distance_m\nBAN," + std::string(3 << 20, '1') + "\nBAN,2\n",
           "code,distance_m\nBAN,\"" + std::string(3 << 20, '\n'), "code" + std::string(1000000, ',') + "\n",
           "code,distance_m\nBAN" + std::string(1000000, ',') + "\n", "code,distance_m\nBAN,\"1\nBAN,2\n"}) {
    const Records result = csv_records(text);
    hold(result, "a long text");
    EXPECT_FALSE(result.ok()) << text.substr(0, 40);
    EXPECT_LE(result.problems().size(), 501U);
  }
}

TEST(Hostile, AnInspectionLargerThanMemoryShouldHold) {
  const std::string row = "1;BDB;" + std::string(900000, 'x') + "\n";
  std::string text = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA\nx\n#C=I;A;F\n";
  for (int i = 0; i < 80; ++i) text += row;
  const auto problems = exchange_from_text(text + "#Z\n", "f").problems();
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_EQ(problems[0].what, "the inspection is larger than 64 MiB");
}

TEST(Hostile, ZeroBytesStopTheReading) {
  std::string text = test::sample_text;
  text[text.find("2.40")] = '\0';
  EXPECT_EQ(text_records(text).problems().front().place.line, 13);
  std::string late = test::sample_text;
  while (late.size() < (std::size_t{2} << 20U))
    late += test::sample_text.substr(test::sample_text.find("#B01"));
  late.insert(late.rfind("3.2;"), 1, '\0');
  const auto problems = text_records(late).problems();
  ASSERT_TRUE(base::has_errors(problems));
  EXPECT_NE(problems.back().what.find("zero byte"), std::string::npos);
  std::string csv = "code,distance_m\nBAN,1\nBA" + std::string(1, '\0') + ",2\n";
  EXPECT_EQ(csv_records(csv).problems().front().place.line, 3);
}

TEST(Hostile, JsonListsThatNest) {
  for (const std::string& deep :
       {std::string(100000, '['), std::string(100000, '{'),
        std::string("{\"records\": ") + std::string(100000, '['),
        std::string("{\"records\": [") + std::string(50000, '[') + std::string(50000, ']') + "]}",
        std::string("{\"records\": [\"") + std::string(100000, '\\'),
        std::string("{\"a\": {\"records\": [")}) {
    const Records result = json_records(deep);
    hold(result, "a deep text");
    EXPECT_FALSE(result.ok());
  }
}

/// A cut inside a row or a header is never taken for a whole file.
TEST(Hostile, ATruncatedRowIsAProblemWithItsPlace) {
  const std::string cut = test::sample_text.substr(0, test::sample_text.find("\"says") + 3);
  const auto problems = exchange_from_text(cut, "f").problems();
  ASSERT_TRUE(base::has_errors(problems));
  EXPECT_EQ(problems.front().place.line, 16);
}

}  // namespace
}  // namespace haunch::exchange
