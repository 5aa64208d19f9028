// SPDX-License-Identifier: Apache-2.0
// Worked attempts, each a file that says what is there, what was logged, what came of it and why. The sums
// in them were done by hand from content/marking/rules.json (all ours).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using ::testing::Contains;
using ::testing::ElementsAreArray;
using ::testing::HasSubstr;
using testing::seen;

const fs::path folder = HAUNCH_SOURCE_DIR "/tests/marking/cases";

std::vector<std::string> names() {
  std::vector<std::string> all;
  for (const auto& entry : fs::directory_iterator(folder)) all.push_back(entry.path().stem().string());
  std::sort(all.begin(), all.end());
  return all;
}

/// "BAJ B" and what goes with it; a row with "to" is a stretch.
coding::Record record_from(const json& rows) {
  std::vector<coding::Observation> list;
  std::vector<std::pair<std::size_t, std::string>> hidden;
  int stretch = 0;
  for (const json& row : rows) {
    std::istringstream words(row.at("code").get<std::string>());
    std::string code, ch1, ch2;
    words >> code >> ch1 >> ch2;
    coding::Observation one = seen(row.at("m").get<double>(), code, ch1, ch2);
    if (row.contains("q1")) one.q1 = row.at("q1").get<double>();
    if (row.contains("clock")) {
      one.clock_from = row.at("clock")[0].get<int>();
      if (row.at("clock").size() > 1) one.clock_to = row.at("clock")[1].get<int>();
    }
    one.at_joint = row.value("joint", false);
    if (row.contains("hidden")) hidden.emplace_back(list.size(), row.at("hidden").get<std::string>());
    if (!row.contains("to")) {
      list.push_back(one);
      continue;
    }
    const std::string number = std::to_string(++stretch);
    coding::Observation end = one;
    one.stretch = "A" + number, end.stretch = "B" + number;
    end.distance_m = row.at("to").get<double>();
    list.push_back(one), list.push_back(end);
  }
  coding::Record record = testing::record_of(list);
  for (const auto& [at, why] : hidden) record.not_visible.push_back({record.observations[at].id, why});
  return record;
}

template <class List, class Name>
std::vector<std::string> named(const List& list, Name name) {
  std::vector<std::string> all;
  for (const auto& one : list) all.push_back(name(one));
  std::sort(all.begin(), all.end());
  return all;
}

class Cases : public ::testing::TestWithParam<std::string> {};
TEST_P(Cases, ComeOutAsReckonedByHand) {
  const json file = json::parse(std::ifstream(folder / (GetParam() + ".json")));
  ASSERT_FALSE(file.at("explains").empty());
  const json& expected = file.at("expected");
  coding::Record attempt = record_from(file.at("attempt"));
  if (file.contains("action"))
    attempt.judgement = coding::Judgement{{}, {}, coding::action_from(file.at("action").get<std::string>())};
  const Marking marking = testing::mark_plain(record_from(file.at("truth")), attempt);
  const std::string told = to_json(marking);
  EXPECT_DOUBLE_EQ(marking.score, expected.at("score").get<double>()) << told;
  EXPECT_EQ(marking.hits.size(), expected.at("found").get<std::size_t>());
  const auto words = [&](const char* key) {
    return expected.contains(key) ? expected.at(key).get<std::vector<std::string>>()
                                  : std::vector<std::string>();
  };
  EXPECT_THAT(named(marking.missed, [](const Missed& one) { return one.code; }),
              ElementsAreArray(words("missed")));
  EXPECT_THAT(named(marking.invented,
                    [](const Invented& one) { return one.code + (one.duplicate ? " doubled" : ""); }),
              ElementsAreArray(words("invented")));
  EXPECT_THAT(named(marking.not_visible, [](const NotVisible& one) { return one.code; }),
              ElementsAreArray(words("hidden")));
  for (const auto& [at, verdicts] : expected.at("verdicts").items()) {
    const double at_m = std::stod(at);
    const auto hit = std::find_if(marking.hits.begin(), marking.hits.end(),
                                  [&](const Hit& one) { return std::abs(*one.truth_m - at_m) < 1e-9; });
    ASSERT_NE(hit, marking.hits.end()) << at;
    for (const auto& [aspect, standing] : verdicts.items()) {
      const auto verdict = std::find_if(hit->verdicts.begin(), hit->verdicts.end(),
                                        [&](const Verdict& one) { return show(one.aspect) == aspect; });
      ASSERT_NE(verdict, hit->verdicts.end()) << aspect;
      EXPECT_EQ(show(verdict->standing), standing.get<std::string>()) << verdict->sentence;
    }
  }
  EXPECT_EQ(marking.warnings.size(), words("warnings").size()) << told;
  for (const std::string& warning : words("warnings"))
    EXPECT_THAT(marking.warnings, Contains(HasSubstr(warning)));
  EXPECT_EQ(marking.counter.has_value(), expected.contains("counter"));
  if (marking.counter && expected.contains("counter")) {
    const json& counter = expected.at("counter");
    EXPECT_NEAR(marking.counter->zero_m, counter.at("zero_m").get<double>(), 0.005);
    EXPECT_NEAR(marking.counter->scale, counter.at("scale").get<double>(), 0.0005);
    EXPECT_EQ(marking.counter->sentences.size(), counter.at("told").get<std::size_t>());
  }
  if (expected.contains("action")) {
    EXPECT_EQ(show(marking.action.standing), expected.at("action").get<std::string>());
  }
}
INSTANTIATE_TEST_SUITE_P(Worked, Cases, ::testing::ValuesIn(names()), [](const auto& name) {
  std::string word = name.param;
  std::replace_if(
      word.begin(), word.end(), [](char c) { return std::isalnum(static_cast<unsigned char>(c)) == 0; }, '_');
  return word;
});
TEST(CasesFolder, HoldsTen) { EXPECT_GE(names().size(), 10U); }

}  // namespace
}  // namespace haunch::marking
