// SPDX-License-Identifier: Apache-2.0
// What a marking says in words: the unit of its distances.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using ::testing::HasSubstr;

/// Every text anywhere in a JSON value.
void texts_of(const nlohmann::json& json, std::vector<std::string>& texts) {
  if (json.is_string()) texts.push_back(json.get<std::string>());
  if (json.is_structured())
    for (const nlohmann::json& inner : json) texts_of(inner, texts);
}

std::vector<std::string> texts_of(const Marking& marking) {
  std::vector<std::string> texts;
  texts_of(nlohmann::json::parse(to_json(marking)), texts);
  return texts;
}

Marking mark_in_feet(const coding::Record& truth, const coding::Record& attempt) {
  return mark(truth, attempt, grading::Scheme::shipped(), {}, Rules::shipped(), coding::CodeList::shipped(),
              base::LengthUnit::feet);
}

TEST(Units, InFeetNoTextSpeaksOfMetres) {
  const std::regex metres(R"(\d m\b)"), feet(R"(\d ft\b)");
  base::Random random(31);
  int in_metres = 0, in_feet = 0;
  for (int i = 0; i < 60; ++i) {
    const coding::Record truth = testing::random_record(random);
    coding::Record attempt = testing::careless(truth, random);
    attempt.judgement = testing::own_classes(attempt);
    if (!attempt.judgement->classes.empty()) attempt.judgement->classes[0].classes.begin()->second = 1;
    attempt.judgement->action = coding::Action::carry_on;
    for (const std::string& text : texts_of(testing::mark_plain(truth, attempt))) {
      EXPECT_FALSE(std::regex_search(text, feet)) << text;
      in_metres += std::regex_search(text, metres) ? 1 : 0;
    }
    for (const std::string& text : texts_of(mark_in_feet(truth, attempt))) {
      EXPECT_FALSE(std::regex_search(text, metres)) << text;
      in_feet += std::regex_search(text, feet) ? 1 : 0;
    }
  }
  EXPECT_GT(in_metres, 500);
  EXPECT_EQ(in_metres, in_feet);
}

TEST(Units, OnlyWordsAreInFeet) {
  const coding::Record truth = testing::record_of({testing::seen(3.048, "BAB", "B", "A", 2)});
  const coding::Record attempt = testing::record_of({testing::seen(3.3528, "BAB", "B", "A", 2)});
  const Marking marking = mark_in_feet(truth, attempt);
  const Verdict& place = testing::verdict_on(marking.hits.at(0), Aspect::place);
  EXPECT_EQ(place.sentence, "At 11.0 ft, expected 10.0 ft: off by 1.0 ft.");
  EXPECT_EQ(place.given, "11.0 ft");
  EXPECT_EQ(place.tolerance, "within 1.0 ft");
  EXPECT_EQ(marking.hits[0].truth_m, 3.048);
  EXPECT_EQ(marking.score, testing::mark_plain(truth, attempt).score);
  EXPECT_THAT(mark_in_feet(truth, {}).missed.at(0).sentence, HasSubstr("at 10.0 ft"));
}

TEST(Units, WhatIsNothingWhenWrittenDownIsNotOff) {
  const coding::Record truth = testing::record_of({testing::seen(3.048, "BAB", "B", "A", 2)});
  const coding::Record attempt = testing::record_of({testing::seen(3.05, "BAB", "B", "A", 2)});
  EXPECT_EQ(testing::verdict_on(mark_in_feet(truth, attempt).hits.at(0), Aspect::place).sentence,
            "At 10.0 ft, expected 10.0 ft: right.");
}

TEST(InView, IsToldWithWhatWasMissedAndDecidesNothing) {
  const coding::Record truth =
      testing::record_of({testing::seen(3, "BAB", "B", "A", 2), testing::seen(6, "BAJ", "A", "", 20),
                          testing::seen(8, "BBF", "B")});
  const coding::Record attempt = testing::record_of({});
  const auto marked = [&](const std::vector<InView>& in_view) {
    return mark(truth, attempt, grading::Scheme::shipped(), {}, Rules::shipped(), coding::CodeList::shipped(),
                base::LengthUnit::metres, in_view);
  };
  const Marking plain = marked({});
  std::vector<std::string> ids(3);
  for (const Missed& one : plain.missed) {
    if (one.code == "BAB B A") ids[0] = one.truth;
    if (one.code == "BAJ A") ids[1] = one.truth;
    if (one.code == "BBF B") ids[2] = one.truth;
  }
  const Marking told = marked({{ids[0], 4.26, 3, 2.104}, {ids[1], 1.5, 0, 0}, {"nobody", 1, 1, 1}});
  EXPECT_EQ(told.score, plain.score);
  for (const Missed& one : told.missed) {
    const auto before = std::find_if(plain.missed.begin(), plain.missed.end(),
                                     [&](const Missed& other) { return other.truth == one.truth; });
    ASSERT_NE(before, plain.missed.end());
    const std::string added = one.sentence.substr(before->sentence.size());
    if (one.truth == ids[0])
      EXPECT_EQ(
          added,
          " It was in view for 4.3 s, plainly for 3 s of them, and changed up to 2.1 % of the picture.");
    else if (one.truth == ids[1])
      EXPECT_EQ(added, " It was in view for 1.5 s, never plainly.");
    else
      EXPECT_EQ(added, "");
    EXPECT_EQ(one.in_view.has_value(), one.truth == ids[0] || one.truth == ids[1]);
  }
  const Marking never = marked({{ids[2], 0, 0, 0}});
  for (const Missed& one : never.missed)
    if (one.truth == ids[2]) {
      EXPECT_THAT(one.sentence, HasSubstr("never came into view on this drive"));
    }
}

TEST(InView, WhatHasNoOutlineSaysWhyItWasNotMeasured) {
  const coding::Record truth = testing::record_of({testing::seen(3, "AEF", "", "", 1000)});
  const Marking plain = testing::mark_plain(truth, testing::record_of({}));
  ASSERT_EQ(plain.missed.size(), 1U);
  const Marking told =
      mark(truth, testing::record_of({}), grading::Scheme::shipped(), {}, Rules::shipped(),
           coding::CodeList::shipped(), base::LengthUnit::metres, {{plain.missed[0].truth, 0, 0, 0, false}});
  EXPECT_THAT(told.missed.at(0).sentence, HasSubstr("no outline of its own"));
  EXPECT_FALSE(nlohmann::json::parse(to_json(told)).at("missed").at(0).contains("in_view"));
}

TEST(Missed, SaysWhatWasFoundAtTheSamePlace) {
  const auto truth = [](double second_m, int second_h) {
    coding::Observation intruding = testing::seen(3, "BAG", "", "", 20),
                        branch = testing::seen(second_m, "BCA", "B", "A", 100);
    intruding.clock_from = 9;
    branch.clock_from = second_h;
    return testing::record_of({intruding, branch});
  };
  coding::Observation logged = testing::seen(3, "BAG", "", "", 20);
  logged.clock_from = 9;
  const auto said = [&](double second_m, int second_h) {
    const Marking marking = testing::mark_plain(truth(second_m, second_h), testing::record_of({logged}));
    return marking.missed.size() == 1 ? marking.missed[0].sentence : std::string("not one miss");
  };
  const std::string beside = "BAG at 3.00 m stands at the same place and was found";
  EXPECT_THAT(said(3, 9), HasSubstr(beside));
  EXPECT_THAT(said(3, 2), ::testing::Not(HasSubstr(beside))) << "on the other side of the pipe";
  EXPECT_THAT(said(3.2, 9), ::testing::Not(HasSubstr(beside))) << "farther along";
}

/// What "2 for a finding of its kind, 4 for class 4" comes to.
double sum_of(const std::string& why) {
  double sum = 0;
  const std::regex part(R"((?:^|, )(\d+(?:\.\d+)?) for )");
  for (std::sregex_iterator it(why.begin(), why.end(), part), end; it != end; ++it)
    sum += std::stod((*it)[1].str());
  return sum;
}

TEST(Weights, SayWhatTheyAreMadeOf) {
  base::Random random(77);
  int told = 0;
  for (int i = 0; i < 40; ++i) {
    const coding::Record truth = testing::random_record(random);
    const Marking marking = testing::mark_plain(truth, testing::careless(truth, random));
    for (const Missed& one : marking.missed) {
      EXPECT_NEAR(sum_of(one.weight_why), one.weight, 1e-9) << one.code << ": " << one.weight_why;
      ++told;
    }
    for (const Hit& one : marking.hits) {
      if (one.neutral) continue;
      EXPECT_NEAR(sum_of(one.weight_why), one.weight, 1e-9) << one.truth_code << ": " << one.weight_why;
      ++told;
    }
  }
  EXPECT_GT(told, 200);
}

TEST(Consequence, SaysWhereAMarkWasLoggedWhenItIsElsewhere) {
  const coding::Record truth = testing::record_of({testing::seen(3, "BAJ", "B", "", 60)});
  const coding::Record elsewhere = testing::record_of({testing::seen(3.2, "BAJ", "B", "", 10)});
  const coding::Record there = testing::record_of({testing::seen(3, "BAJ", "B", "", 10)});
  const auto all = [&](const coding::Record& attempt) {
    std::string text;
    for (const std::string& one : testing::mark_plain(truth, attempt).consequence.sentences)
      text += one + "\n";
    return text;
  };
  EXPECT_THAT(all(elsewhere), HasSubstr("BAJ B at 3.00 m (logged as BAJ B at 3.20 m), "));
  EXPECT_THAT(all(there), HasSubstr("BAJ B at 3.00 m, "));
  EXPECT_THAT(all(there), ::testing::Not(HasSubstr("logged as")));
}

}  // namespace
}  // namespace haunch::marking
