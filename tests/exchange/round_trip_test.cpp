// SPDX-License-Identifier: Apache-2.0
// What is written is read back the same, in every format and style.
#include <gtest/gtest.h>

#include <algorithm>

#include "campaign.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::Holds;
using test::random_record;

std::string first_problem(const base::Problems& problems) {
  return problems.empty() ? "" : base::to_line(problems.front());
}

/// Unknown columns have no order of their own between rows.
coding::Record sorted(coding::Record record) {
  for (auto& one : record.observations) std::sort(one.extra.begin(), one.extra.end());
  return record;
}

TEST(RoundTrip, Json) {
  for (std::uint64_t seed = 0; seed < static_cast<std::uint64_t>(campaign::rounds(200)); ++seed) {
    const auto record = random_record(seed, Holds{true, false, true});
    const auto read = record_from_json(record_to_json(record), "r.json");
    ASSERT_TRUE(read.ok()) << first_problem(read.problems()) << record_to_json(record);
    EXPECT_EQ(read.value().record, record) << record_to_json(record);
    EXPECT_EQ(record_to_json(read.value().record), record_to_json(record));
  }
}

TEST(RoundTrip, SeveralRecordsAsJson) {
  std::vector<coding::Record> records;
  for (std::uint64_t seed = 0; seed < 3; ++seed)
    records.push_back(random_record(seed, Holds{true, false, true}));
  for (std::size_t n : {0U, 1U, 3U}) {
    const std::vector<coding::Record> some(records.begin(), records.begin() + static_cast<std::ptrdiff_t>(n));
    const auto read = records_from_json(records_to_json(some), "r.json");
    ASSERT_TRUE(read.ok()) << first_problem(read.problems());
    ASSERT_EQ(read.value().size(), n);
    for (std::size_t i = 0; i < n; ++i) EXPECT_EQ(read.value()[i].record, some[i]);
  }
}

TEST(RoundTrip, ExchangeTextInEveryStyle) {
  std::uint64_t seed = 1000;
  for (const char* charset : {"UTF-8", "ISO-8859-1", "iso-8859-1:1998", "windows-1252", "ASCII"})
    for (const char separator : {';', ',', '\t', '|', '='})
      for (const char decimal : {'.', ','})
        for (const char quote : {'"', '\'', '\0'})
          for (const LineEnd end : {LineEnd::lf, LineEnd::crlf}) {
            if (separator == decimal) continue;
            TextStyle style{charset, "en", separator, decimal, quote, "2010", end};
            std::vector<coding::Record> records;
            for (std::uint64_t n = 0; n < 1 + seed % 3; ++n)
              records.push_back(random_record(seed * 10 + n, Holds{false, true, false}));
            ++seed;
            const std::string text = exchange_to_text(records, style);
            const auto read = exchange_from_text(text, "r.txt");
            ASSERT_TRUE(read.ok()) << first_problem(read.problems()) << '\n' << text;
            ASSERT_EQ(read.value().inspections.size(), records.size()) << text;
            for (std::size_t i = 0; i < records.size(); ++i)
              EXPECT_EQ(sorted(read.value().inspections[i].record), sorted(records[i])) << text;
            EXPECT_EQ(read.value().style.line_end, end);
            EXPECT_EQ(read.value().style.separator, separator);
            EXPECT_EQ(exchange_to_text({read.value().inspections[0].record}, read.value().style),
                      exchange_to_text({records[0]}, read.value().style));
          }
}

TEST(RoundTrip, Csv) {
  for (std::uint64_t seed = 0; seed < static_cast<std::uint64_t>(campaign::rounds(200)); ++seed) {
    std::vector<coding::Record> records;
    for (std::uint64_t n = 0; n < 1 + seed % 3; ++n)
      records.push_back(random_record(seed * 7 + n, Holds{true, false, false}));
    const std::string text = records_to_csv(records);
    const auto read = records_from_csv(text, "r.csv");
    ASSERT_TRUE(read.ok()) << first_problem(read.problems()) << '\n' << text;
    ASSERT_EQ(read.value().size(), records.size());
    for (std::size_t i = 0; i < records.size(); ++i)
      EXPECT_EQ(sorted(read.value()[i].record), sorted(records[i])) << text;
  }
}

TEST(RoundTrip, ALineBreakInsideTextBecomesASpaceInExchangeText) {
  coding::Record record;
  record.header = {{"AAN", "Upper\nSallow"}};
  record.observations.resize(1);
  record.observations[0].code = "BDB";
  record.observations[0].distance_m = 1.0;
  record.observations[0].remark = "one\r\ntwo";
  const auto read = exchange_from_text(exchange_to_text({record}), "r.txt");
  ASSERT_TRUE(read.ok()) << first_problem(read.problems());
  EXPECT_EQ(read.value().inspections[0].record.header_value("AAN"), "Upper Sallow");
  EXPECT_EQ(read.value().inspections[0].record.observations[0].remark, "one  two");
}

}  // namespace
}  // namespace haunch::exchange
