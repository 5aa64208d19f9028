// SPDX-License-Identifier: Apache-2.0
// The text of a number goes through JSON, which has another text for some.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"

namespace haunch::exchange {
namespace {

using Json = nlohmann::json;

const std::string file =
    "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA;ABQ\nK3-K4;20.50\n"
    "#C=I;A;D;E\n0.00;BCD;007;\n1.20;BAB;1.0;+5\n2.5;BAB;3;1e1\n.5;BAB;K3;-0\n12345678901234567890;BAB;0.10;"
    "00\n"
    "#Z\n";

/// JSON and back.
coding::Record through_json(const coding::Record& record) {
  const std::string text = records_to_json({record});
  EXPECT_TRUE(base::JsonDocument::read_text(text, "f", "record").ok()) << text;
  auto read = records_from_json(text, "f");
  EXPECT_TRUE(read.ok());
  return read.ok() ? std::move(read).value()[0].record : coding::Record{};
}

TEST(NumberTexts, ExchangeTextComesBackFromJsonAsItWas) {
  const auto read = exchange_from_text(file, "f");
  ASSERT_TRUE(read.ok());
  ExchangeFile back = read.value();
  back.inspections[0].record = through_json(read.value().inspections[0].record);
  EXPECT_EQ(exchange_to_text(back), file);
  // With the other decimal sign too.
  std::string comma = file;
  comma.replace(comma.find("#A4=."), 5, "#A4=,");
  comma.replace(comma.find("20.50"), 5, "20,50");
  comma.replace(comma.find("1.20"), 4, "1,20");
  const auto german = exchange_from_text(comma, "f");
  ASSERT_TRUE(german.ok());
  EXPECT_EQ(through_json(german.value().inspections[0].record).observations[1].distance_m.text, "1.20");
}

TEST(NumberTexts, StandBesideTheNumberOnlyWhereTheyDiffer) {
  const auto read = exchange_from_text(file, "f");
  ASSERT_TRUE(read.ok());
  const Json rows = Json::parse(records_to_json({read.value().inspections[0].record})).at("observations");
  EXPECT_EQ(rows[0].at("q1"), 7) << "programs get numbers";
  EXPECT_EQ(rows[0].at("as_written"), Json({{"distance_m", "0.00"}, {"q1", "007"}}));
  EXPECT_EQ(rows[2].at("as_written"), Json({{"q2", "1e1"}}));
  coding::Record ours;
  ours.observations.resize(1);
  ours.observations[0].code = "BAB";
  ours.observations[0].distance_m = 1.2;
  EXPECT_EQ(records_to_json({ours}).find("as_written"), std::string::npos);
}

TEST(NumberTexts, ANumberThatWasChangedCounts) {
  const auto read = records_from_json(
      R"({"observations": [{"code": "BAB", "q1": 8, "q2": null, "as_written": {"q1": "007", "q2": "1.0"}}]})",
      "f");
  ASSERT_TRUE(read.ok());
  const auto& one = read.value()[0].record.observations[0];
  EXPECT_EQ(one.q1.show(), "8");
  EXPECT_TRUE(one.q2.empty());
}

}  // namespace
}  // namespace haunch::exchange
