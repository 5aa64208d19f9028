// SPDX-License-Identifier: Apache-2.0
// What to do next: which finding calls for what, and what is said of a choice. That a broken, holed or
// void-backed pipe is not jetted but stopped at and reported is common practice, no source, and stands so
// in the README and in the cautions; the rest is ours.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using coding::Action;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::mark_plain;
using testing::record_of;
using testing::seen;

coding::Record with(const std::vector<coding::Observation>& found) {
  std::vector<coding::Observation> all{seen(0, "BCD", "A")};
  all.insert(all.end(), found.begin(), found.end());
  all.push_back(seen(20, "BCE", "A"));
  return record_of(all);
}

Marking given(const coding::Record& truth, Action action) {
  coding::Record attempt = truth;
  attempt.not_visible.clear();
  attempt.judgement = coding::Judgement{{}, {}, action};
  return mark_plain(truth, attempt);
}

std::string whole_file(const char* path) {
  std::ifstream file(std::string(HAUNCH_SOURCE_DIR) + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

TEST(Action, ABrokenPipeIsStoppedAtAndNeverJetted) {
  for (const auto& broken :
       {seen(5, "BAC", "A"), seen(5, "BAC", "B"), seen(5, "BAC", "C"), seen(5, "BAO"), seen(5, "BAP"),
        seen(5, "BAD", "B", "A"), seen(5, "BAD", "D", "A"), seen(5, "BAF", "I", "A")}) {
    const coding::Record truth = with({broken, seen(8, "BBA", "C", "", 40)});
    const Marking right = given(truth, Action::stop_and_refer);
    EXPECT_TRUE(right.action.right) << right.action.sentence;
    EXPECT_THAT(right.warnings, IsEmpty());
    for (const Action mild : {Action::carry_on, Action::clean_again}) {
      const Marking wrong = given(truth, mild);
      EXPECT_FALSE(wrong.action.right);
      EXPECT_EQ(wrong.action.standing, ActionStanding::dangerous);
      ASSERT_FALSE(wrong.warnings.empty());
      EXPECT_THAT(wrong.warnings.front(), HasSubstr("Dangerous action: "));
    }
    EXPECT_THAT(given(truth, Action::clean_again).action.sentence, HasSubstr("To clean is to jet"));
    const Marking half = given(truth, Action::do_not_jet);
    EXPECT_FALSE(half.action.right);
    EXPECT_EQ(half.action.standing, ActionStanding::not_enough);
    EXPECT_THAT(half.action.sentence, HasSubstr("It keeps the jet out"));
  }
}

TEST(Action, MoreCareIsNeverWrongWhereSomethingIsDangerous) {
  const std::vector<std::pair<coding::Observation, Action>> dangers = {
      {seen(5, "BAB", "C", "A", 6), Action::do_not_jet},
      {seen(5, "BAC", "B"), Action::stop_and_refer},
      {seen(5, "BBE", "G", "", 20), Action::call_gas_utility}};
  for (const auto& [danger, enough] : dangers)
    for (const Action chosen : coding::all_actions()) {
      const Marking marking = given(with({danger}), chosen);
      EXPECT_EQ(marking.action.truth, enough);
      EXPECT_EQ(marking.action.right, chosen >= enough) << marking.action.sentence;
      if (chosen <= enough) continue;
      EXPECT_EQ(marking.action.standing, ActionStanding::safer);
      EXPECT_THAT(marking.action.sentence, HasSubstr("\"" + coding::show(chosen) + "\" was given"));
      EXPECT_THAT(marking.action.sentence, HasSubstr("\"" + coding::show(enough) + "\""));
      EXPECT_THAT(marking.action.sentence, HasSubstr("was enough"));
      EXPECT_THAT(marking.warnings, IsEmpty());
    }
}

TEST(Action, AJetIsKeptFromOpenJointsAndFromRigidPipesThatHaveBent) {
  const coding::Observation dirt = seen(8, "BBC", "B", "", 30);
  const auto action = [&](const coding::Observation& found, const char* material) {
    coding::Record record = with({found, dirt});
    record.set_header("ACD", material);
    return action_for(record, Rules::shipped()).action;
  };
  for (const char* letter : {"A", "B"}) {
    EXPECT_EQ(action(seen(5, "BAJ", letter, "", 50), "AG"), Action::do_not_jet) << letter;
    EXPECT_EQ(action(seen(5, "BAJ", letter, "", 49), "AG"), Action::clean_again) << letter;
  }
  EXPECT_EQ(action(seen(5, "BAA", "A", "", 5), "AG"), Action::do_not_jet) << "concrete";
  EXPECT_EQ(action(seen(5, "BAA", "A", "", 4), "AG"), Action::clean_again);
  EXPECT_EQ(action(seen(5, "BAA", "A", "", 5), ""), Action::do_not_jet) << "nobody knows that it bends";
  EXPECT_EQ(action(seen(5, "BAA", "A", "", 5), "AX"), Action::clean_again) << "plastic";
}

TEST(Action, AnObstacleThatNobodyNamedMayBeAGasPipe) {
  for (const char* letter : {"H", "Z", ""}) {
    const ActionReason reason = action_for(with({seen(5, "BBE", letter)}), Rules::shipped());
    EXPECT_EQ(reason.action, Action::stop_and_refer) << letter;
    EXPECT_THAT(reason.cause, HasSubstr("gas pipe"));
  }
  EXPECT_EQ(action_for(with({seen(5, "BBE", "A")}), Rules::shipped()).action, Action::carry_on);
}

TEST(Action, TheRecordsActionIsTheMostCarefulOfItsFindings) {
  const coding::Record record = with({seen(5, "BBA", "B", "", 10), seen(6, "BAC", "B"), seen(7, "BAJ", "A")});
  const ActionReason all = action_for(record, Rules::shipped());
  std::vector<Action> each;
  for (const ActionReason& one : actions_by_finding(record, Rules::shipped())) {
    each.push_back(one.action);
    EXPECT_EQ(one.cause.empty(), one.action == Action::carry_on);
    EXPECT_TRUE(one.why.ends_with(one.cause));
  }
  EXPECT_EQ(each.size(), record.observations.size());
  EXPECT_EQ(*std::max_element(each.begin(), each.end()), all.action);
}

TEST(Action, MoreThanNeededIsSaidWhereNothingIsDangerous) {
  for (const coding::Record& truth : {with({}), with({seen(5, "BBA", "B", "", 10)})}) {
    const Marking marking = given(truth, Action::stop_and_refer);
    EXPECT_FALSE(marking.action.right);
    EXPECT_EQ(marking.action.standing, ActionStanding::more_than_needed);
    EXPECT_THAT(marking.action.sentence, HasSubstr("More than needed"));
    EXPECT_THAT(marking.warnings, IsEmpty());
  }
}

TEST(Action, CareForWhatCouldNotBeSeenIsNotTooMuch) {
  coding::Record truth = with({seen(5, "BAP")});
  truth.not_visible = {{"o2", "behind roots"}};
  coding::Record attempt = with({});
  attempt.judgement = coding::Judgement{{}, {}, Action::stop_and_refer};
  const Marking marking = mark_plain(truth, attempt);
  EXPECT_EQ(marking.action.truth, Action::carry_on);
  EXPECT_TRUE(marking.action.right) << marking.action.sentence;
  EXPECT_THAT(marking.action.sentence, HasSubstr("what could not be seen calls for \"stop and refer\""));
}

TEST(Action, RulesCautionsAndReadmeSayTheSame) {
  EXPECT_THAT(whole_file("/README.md"),
              HasSubstr("Do not jet or cut a pipe that is broken, holed, soft or has "
                        "a void behind it: stop and refer."));
  const auto cautions = nlohmann::json::parse(whole_file("/content/report/cautions.json"));
  int held = 0;
  for (const auto& caution : cautions.at("cautions")) {
    const auto id = caution.at("id").get<std::string>();
    if (id == "jet-blind") {
      EXPECT_THAT(caution.at("text").get<std::string>(), HasSubstr("Do not jet or cut it: stop and refer"));
    }
    if (id != "jet-blind" && id != "gas") continue;
    for (const auto& code : caution.at("codes")) {
      const auto text = code.get<std::string>();
      EXPECT_GE(action_for(with({seen(5, text.substr(0, 3), text.size() > 4 ? text.substr(4) : "")}),
                           Rules::shipped())
                    .action,
                Action::do_not_jet)
          << text;
      ++held;
    }
  }
  EXPECT_GE(held, 6);
}

TEST(Consequence, ARecordThatDoesNotShowThePipeIsSaid) {
  const coding::Record truth = with({});
  const auto& empty = mark_plain(truth, {}).consequence;
  EXPECT_EQ(empty.truth.object_class, 0);
  EXPECT_FALSE(empty.attempt.object_class.has_value());
  EXPECT_THAT(empty.sentences, ::testing::Contains(HasSubstr("no class can be given for what was not seen")));
  EXPECT_THAT(mark_plain(truth, truth).consequence.sentences, IsEmpty());
}

}  // namespace
}  // namespace haunch::marking
