// SPDX-License-Identifier: Apache-2.0
// The window without a window: keys and words in, exercise and screens out.
#include "window/session.hpp"
#include "scenario/read.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "base/words.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

using test::press;
using test::type_words;
using test::wait;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

Session begun(Session::Keep keep = {}, Session::Journal journal = {}) {
  Session session(test::short_scene(), {}, std::move(keep), std::move(journal));
  press(session, Key::enter);
  return session;
}

TEST(Session, DrivesWhileAKeyIsHeld) {
  Session session = begun();
  ASSERT_EQ(session.screen, Screen::driving);
  const double from = session.exercise().counter_m();
  press(session, Key::up);
  wait(session, 2);
  const double held = session.exercise().counter_m();
  // The camera's own speed, 0.15 m/s where the scenario says nothing, for two seconds.
  EXPECT_NEAR(held - from, 2 * session.exercise().scene().scenario.camera.speed_m_s, 0.02);
  session.release(Key::up);
  wait(session, 1);
  EXPECT_DOUBLE_EQ(session.exercise().counter_m(), held) << "let go is stopped";
  press(session, Key::down, false, true);
  wait(session, 1);
  session.release(Key::down);
  const double crept = held - session.exercise().counter_m();
  EXPECT_GT(crept, 0);
  EXPECT_LT(crept, 0.05) << "with Shift it creeps";
}

TEST(Session, TurnsACrawlersHeadWhileKeysAreHeldOrThePictureIsDragged) {
  Session session = begun();
  press(session, Key::right, true);
  press(session, Key::page_up);
  wait(session, 1);
  EXPECT_TRUE(session.moving()) << "the picture follows";
  const scene::CameraPose held = session.look().pose;
  EXPECT_GT(held.yaw_deg, 20);
  EXPECT_GT(held.pitch_deg, 15);
  session.release(Key::right);
  session.release(Key::page_up);
  wait(session, 1);
  EXPECT_EQ(session.look().pose.yaw_deg, held.yaw_deg) << "let go is stopped";
  EXPECT_EQ(session.look().pose.pitch_deg, held.pitch_deg);
  session.turn_by(-10, 5);
  wait(session, 1);
  EXPECT_NEAR(session.look().pose.yaw_deg, held.yaw_deg - 10, 1e-9);
  EXPECT_NEAR(session.look().pose.pitch_deg, held.pitch_deg + 5, 1e-9);
  press(session, Key::f8);
  wait(session, 3);
  EXPECT_FALSE(session.exercise().turned());
  EXPECT_TRUE(session.line.text.empty());
}

TEST(Session, SaysThatAPushCamerasHeadDoesNotTurn) {
  Session session(test::short_scene(scene::CameraKind::push), {});
  press(session, Key::enter);
  press(session, Key::left, true);
  EXPECT_THAT(session.message(), HasSubstr("does not turn"));
  EXPECT_EQ(session.look().pose.yaw_deg, 0);
}

TEST(Session, WhatMovesIsDrawnOutWhileItMoves) {
  Session session = begun();
  EXPECT_EQ(session.look().speed_m_s, 0);
  press(session, Key::up);
  wait(session, 1);
  EXPECT_DOUBLE_EQ(session.look().speed_m_s, session.exercise().speed_m_s());
  EXPECT_GT(session.look().speed_m_s, 0.1);
  EXPECT_FALSE(session.look().wet_ago_s) << "a dry run";
  session.release(Key::up);
  wait(session, 0.1);
  EXPECT_EQ(session.look().speed_m_s, 0) << "a still picture is sharp";
}

TEST(Session, KeyRepeatsAreOneInput) {
  Session session = begun();
  for (int i = 0; i < 30; ++i) {
    press(session, Key::up);
    wait(session, 0.05);
  }
  EXPECT_EQ(session.exercise().log().size(), 1U);
}

TEST(Session, SpaceStopsAnEmptyLineAndSeparatesWordsInAFullOne) {
  Session session = begun();
  press(session, Key::up, true);
  wait(session, 0.5);
  EXPECT_EQ(session.driving(), 1);
  type_words(session, " ");
  EXPECT_EQ(session.driving(), 0);
  EXPECT_EQ(session.line.text, "");
  type_words(session, "a b");
  EXPECT_EQ(session.line.text, "a b");
}

TEST(Session, DrivingAndTypingGoTogether) {
  Session session = begun();
  press(session, Key::up);
  type_words(session, "ro");
  wait(session, 1);
  type_words(session, "ots");
  EXPECT_EQ(session.line.text, "roots");
  EXPECT_GT(session.exercise().counter_m(), 0.1);
}

TEST(Session, LosingTheKeyboardStops) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 0.2);
  session.release_all();
  EXPECT_EQ(session.exercise().speed_m_s(), 0);
}

TEST(Session, ButtonsDriveAsKeysDo) {
  Session session = begun();
  session.hold(1);
  wait(session, 1);
  session.hold(0);
  EXPECT_GT(session.exercise().counter_m(), 0.1);
  EXPECT_EQ(session.exercise().speed_m_s(), 0);
}

TEST(Session, LogsTheLineAtTheCounter) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 4);
  session.release(Key::up);
  type_words(session, "BAJ A 20 mm");
  EXPECT_THAT(session.echo().sentence, HasSubstr("20 mm"));
  EXPECT_EQ(session.echo().missing, "");
  press(session, Key::enter);
  ASSERT_EQ(session.exercise().record().observations.size(), 1U);
  const auto& o = session.exercise().record().observations[0];
  EXPECT_EQ(o.code, "BAJ");
  EXPECT_NEAR(*o.distance_m.value, session.exercise().counter_m(), 0.0051) << "the counter shows centimetres";
  EXPECT_EQ(session.line.text, "");
  EXPECT_THAT(session.message(), HasSubstr("Logged at"));
}

TEST(Session, AnUnfinishedLineIsNotLoggedAndSaysWhy) {
  Session session = begun();
  type_words(session, "BAJ A");
  press(session, Key::enter);
  EXPECT_TRUE(session.exercise().record().observations.empty());
  EXPECT_EQ(session.message(), "Not logged:") << "the reason stands below, once";
  EXPECT_THAT(session.echo().missing, HasSubstr("size"));
  EXPECT_EQ(session.line.text, "BAJ A") << "what was typed stays";
  type_words(session, " qwxyz");
  press(session, Key::enter);
  EXPECT_THAT(session.echo().not_understood, HasSubstr("qwxyz"));
}

TEST(Session, TakesACompletion) {
  Session session = begun();
  type_words(session, "displaced jo");
  ASSERT_NE(session.ghost(), "");
  const std::string whole = session.line.text + session.ghost();
  press(session, Key::tab);
  EXPECT_EQ(session.line.text.size(), whole.size());
  session.line.clear();
  type_words(session, "displaced jo");
  press(session, Key::right);
  EXPECT_EQ(session.line.text.size(), whole.size()) << "the right arrow does the same at the end of the line";
}

TEST(Session, UndoAndEscape) {
  Session session = begun();
  type_words(session, "BCD A");
  press(session, Key::enter);
  ASSERT_EQ(session.exercise().record().observations.size(), 1U);
  press(session, Key::letter_z, true);
  EXPECT_TRUE(session.exercise().record().observations.empty());
  type_words(session, "abc");
  press(session, Key::escape);
  EXPECT_EQ(session.line.text, "");
}

TEST(Session, UnitsChangeWhatIsShownAndNothingElse) {
  Session session = begun();
  const auto before = session.distance_text();
  press(session, Key::f2);
  EXPECT_THAT(session.distance_text(), HasSubstr("ft"));
  press(session, Key::f2);
  EXPECT_EQ(session.distance_text(), before);
  EXPECT_TRUE(session.exercise().log().empty());
}

TEST(Session, ADraftIsLoggedOnlyWhenWhole) {
  Session session = begun();
  press(session, Key::f4);
  EXPECT_TRUE(session.menu_open);
  choose_code(session.draft, "BCA");
  EXPECT_FALSE(session.log_draft());
  choose_first(session.draft, "A", session.codes());
  session.draft.observation.ch2 = "A";
  session.draft.observation.q1 = 100;
  set_clock(session.draft, {3, 3, false}, session.codes());
  EXPECT_TRUE(session.log_draft());
  ASSERT_EQ(session.exercise().record().observations.size(), 1U);
  EXPECT_EQ(session.exercise().record().observations[0].clock_from, 3);
  EXPECT_FALSE(session.menu_open);
}

TEST(Session, AStretchBegunInTheMenuIsEndedFromTheList) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 2);
  choose_code(session.draft, "BBC");
  choose_first(session.draft, "A", session.codes());
  session.draft.observation.q1 = 10;
  session.draft.goes_on = true;
  ASSERT_TRUE(session.log_draft());
  const auto begin = session.exercise().record().observations.at(0);
  EXPECT_EQ(begin.stretch, "A1");
  wait(session, 4);
  session.end_stretch(begin.id);
  const auto extents = coding::extents(session.exercise().record());
  ASSERT_EQ(extents.size(), 1U);
  EXPECT_TRUE(extents[0].continuous);
  EXPECT_GT(extents[0].to_m - extents[0].from_m, 0.4);
}

TEST(Session, AnUnloggedLineHoldsTheFinishBack) {
  Session session = begun();
  type_words(session, "roots");
  press(session, Key::f10);
  EXPECT_EQ(session.screen, Screen::driving);
  press(session, Key::escape);
  press(session, Key::f10);
  EXPECT_EQ(session.screen, Screen::judging);
}

TEST(Session, AHeldKeyFinishesNothing) {
  int kept = 0;
  Session session = begun([&](const play::Exercise&) {
    ++kept;
    return std::string();
  });
  press(session, Key::f10);
  for (int i = 0; i < 40; ++i) session.press({Key::f10}, true);
  EXPECT_EQ(session.screen, Screen::judging) << "one press, one step";
  EXPECT_FALSE(session.asking);
  press(session, Key::f10);
  EXPECT_TRUE(session.asking);
  for (int i = 0; i < 40; ++i) {
    session.press({Key::f10}, true);
    session.press({Key::enter}, true);
  }
  EXPECT_EQ(session.screen, Screen::judging) << "nor is the question answered by holding on";
  EXPECT_EQ(kept, 0);
}

TEST(Session, QuickTapsNeverStoreAnAttemptWithNothingGiven) {
  int kept = 0;
  Session session = begun([&](const play::Exercise&) {
    ++kept;
    return std::string();
  });
  for (int taps = 0; taps < 5; ++taps) press(session, Key::f10);
  EXPECT_EQ(session.screen, Screen::judging);
  EXPECT_TRUE(session.asking);
  EXPECT_EQ(session.not_given(), "no class and no action");
  EXPECT_EQ(kept, 0);
  press(session, Key::escape);
  EXPECT_FALSE(session.asking) << "Esc: no";
  EXPECT_EQ(session.screen, Screen::judging);
  press(session, Key::enter);
  EXPECT_EQ(session.screen, Screen::judging) << "Enter answers only what is asked";
  press(session, Key::f10);
  press(session, Key::enter);
  EXPECT_EQ(session.screen, Screen::review) << "Enter: yes";
  EXPECT_EQ(kept, 1);
}

TEST(Session, WhatIsStillToBeGivenIsNamed) {
  Session session = begun();
  press(session, Key::f10);
  session.give_object_class(2);
  EXPECT_EQ(session.not_given(), "no action");
  press(session, Key::f10);
  EXPECT_TRUE(session.asking);
  session.give_action(coding::Action::carry_on);
  EXPECT_FALSE(session.asking) << "giving it answers the question";
  EXPECT_EQ(session.not_given(), "");
  press(session, Key::f10);
  EXPECT_EQ(session.screen, Screen::review);
}

TEST(Session, JudgingLeadsBackToCodingUntilItIsMarked) {
  Session session = begun();
  press(session, Key::f9);
  EXPECT_EQ(session.screen, Screen::driving) << "nothing to go back from";
  press(session, Key::up);
  wait(session, 4);
  session.release(Key::up);
  const auto place = session.distance_text();
  type_words(session, "BAJ A 20 mm");
  press(session, Key::enter);
  press(session, Key::f10);
  type_words(session, "4");
  press(session, Key::f9);
  ASSERT_EQ(session.screen, Screen::driving);
  EXPECT_EQ(session.distance_text(), place);
  EXPECT_TRUE(session.look().ring_z_m) << "the camera is where it was";
  type_words(session, "BAO 5");
  press(session, Key::enter);
  press(session, Key::f10);
  ASSERT_EQ(session.rows().size(), 2U);
  EXPECT_EQ(session.rows()[0].classes[0], 4) << "what was given is still there";
  session.give_action(coding::Action::carry_on);
  press(session, Key::f10);
  ASSERT_EQ(session.screen, Screen::review);
  press(session, Key::f9);
  EXPECT_EQ(session.screen, Screen::review) << "marked is marked";
}

TEST(Session, ACarefulLookIsTakenOnceJustBeforeItIsMarked) {
  Session session = begun();
  int looks = 0;
  std::string unseen;
  session.careful_look = [&] {
    ++looks;
    for (const std::string& row : session.exercise().would_lose_on())
      if (session.exercise().truth().record.find(row)->code[1] != 'C') unseen = row;
    return std::vector<coding::NotVisible>{{unseen, "nobody could see it"}};
  };
  press(session, Key::f10);
  EXPECT_EQ(looks, 0) << "while classes are given nothing is marked";
  press(session, Key::f9);
  press(session, Key::f10);
  session.give_action(coding::Action::carry_on);
  press(session, Key::f10);
  press(session, Key::enter);
  ASSERT_EQ(session.screen, Screen::review);
  EXPECT_EQ(looks, 1);
  const auto& marking = *session.exercise().marking();
  EXPECT_TRUE(std::any_of(marking.not_visible.begin(), marking.not_visible.end(),
                          [&](const auto& one) { return one.truth == unseen; }));
}

TEST(Session, TheReviewShowsOneKindOfMarkAndStepsWithinIt) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 6);
  session.release(Key::up);
  type_words(session, "BAB C A 3 mm 12");
  press(session, Key::enter);
  press(session, Key::f10);
  session.give_action(coding::Action::carry_on);
  press(session, Key::f10);
  press(session, Key::enter);
  ASSERT_EQ(session.screen, Screen::review);
  const std::vector<ItemKind> kinds = session.kinds();
  ASSERT_GE(kinds.size(), 2U);
  EXPECT_FALSE(session.only);
  for (const ItemKind kind : kinds) {
    press(session, Key::right);
    ASSERT_EQ(session.only, kind);
    for (int i = 0; i < 12; ++i) {
      EXPECT_EQ(session.items()[static_cast<std::size_t>(session.item())].kind, kind);
      press(session, Key::down);
    }
    EXPECT_TRUE(session.notes_wanted) << "past its last line the notes come";
    press(session, Key::home);
  }
  press(session, Key::right);
  EXPECT_FALSE(session.only) << "round and round";
  press(session, Key::left);
  EXPECT_EQ(session.only, kinds.back());
}

TEST(Session, AHeldLetterRepeatsInTheLineAndAHeldDigitGivesOneClass) {
  Session session = begun();
  for (int i = 0; i < 3; ++i) session.type("a", i > 0);
  EXPECT_EQ(session.line.text, "aaa");
  for (int i = 0; i < 2; ++i) session.press({Key::backspace}, i > 0);
  EXPECT_EQ(session.line.text, "a");
  session.press({Key::escape});
  press(session, Key::up);
  wait(session, 4);
  session.release(Key::up);
  type_words(session, "BAJ A 20 mm");
  press(session, Key::enter);
  press(session, Key::f10);
  session.type("3");
  for (int i = 0; i < 9; ++i) session.type("3", true);
  EXPECT_EQ(session.goal(), 1);
  EXPECT_FALSE(session.object_class());
  EXPECT_FALSE(session.action());
}

TEST(Session, WhereListAndMenuDoNotFitOneClosesTheOther) {
  Session session = begun();
  press(session, Key::f3);
  press(session, Key::f4);
  EXPECT_TRUE(session.list_open && session.menu_open);
  session.narrow = true;
  press(session, Key::f3);
  press(session, Key::f3);
  EXPECT_TRUE(session.list_open && !session.menu_open);
  press(session, Key::f4);
  EXPECT_TRUE(!session.list_open && session.menu_open);
}

TEST(Session, HeldKeysSwitchAndUndoOnce) {
  Session session = begun();
  for (int i = 0; i < 10; ++i) session.press({Key::f5}, i > 0);
  EXPECT_TRUE(session.section_open);
  for (const char* line : {"BCD B", "BAO 5", "BAO 6"}) {
    type_words(session, line);
    press(session, Key::enter);
  }
  for (int i = 0; i < 10; ++i) session.press({Key::letter_z, true, false}, i > 0);
  EXPECT_EQ(session.exercise().record().observations.size(), 2U);
}

TEST(Session, TheCardSaysWhatTheCounterReadsAndWhereItsZeroLies) {
  const auto read = [](const std::string& inspection) {
    std::string text = test::short_run;
    const std::string plain = R"({ "from": "start", "distance_zero": "start" })";
    text.replace(text.find(plain), plain.size(), inspection);
    auto scenario = scenario::scenario_from_json(text, "short-run.json");
    EXPECT_TRUE(scenario);
    return Session(scene::build_scene(std::move(scenario).value()), {});
  };
  const Session outside = read(R"({ "from": "start", "distance_zero": "start", "zero_before_m": 0.3 })");
  EXPECT_EQ(
      outside.counter_words(),
      "The counter reads 0.30 m where the camera goes in and 3.30 m at the far end; its zero lies 0.30 m "
      "outside the pipe, in A1.");
  EXPECT_THAT(outside.counter_words(), HasSubstr(outside.distance_text())) << "what it shows at the start";
  const Session back = read(R"({ "from": "end", "distance_zero": "start" })");
  EXPECT_EQ(
      back.counter_words(),
      "The counter reads 3.00 m where the camera goes in and 0.00 m at the far end; its zero lies at A1.");
  EXPECT_THAT(back.counter_words(), HasSubstr(back.distance_text()));
}

TEST(Session, OnlyTimeThatShowsIsMovement) {
  Session session(test::short_scene(), {});
  EXPECT_FALSE(session.moving());
  press(session, Key::enter);
  EXPECT_FALSE(session.moving());
  press(session, Key::up);
  EXPECT_TRUE(session.moving());
  session.release(Key::up);
  EXPECT_FALSE(session.moving());
  type_words(session, "cra");
  EXPECT_FALSE(session.moving()) << "typing draws no pipe anew";
}

/// A whole exercise by keys; gives the session in review.
Session reviewed(Session::Keep keep = {}, Session::Journal journal = {}) {
  Session session = begun(std::move(keep), std::move(journal));
  type_words(session, "BCD B");
  press(session, Key::enter);
  press(session, Key::up);
  while (session.exercise().counter_m() < 1.0) session.tick(1.0 / 60);
  session.release(Key::up);
  type_words(session, "BAJ A 20 mm");
  press(session, Key::enter);
  press(session, Key::f10);
  EXPECT_EQ(session.rows().size(), 1U) << "a node has no class; the joint has";
  type_words(session, "324");
  EXPECT_EQ(session.row(), 1) << "digits run on to the class of the run";
  type_words(session, "3");
  type_words(session, "2");
  press(session, Key::f10);
  return session;
}

TEST(Session, JudgesByDigitsAndIsMarked) {
  std::string kept;
  int journalled = 0;
  const Session session =
      reviewed([&](const play::Exercise& e) { return kept = "kept " + std::to_string(e.marking()->score); },
               [&](const play::Exercise&) { ++journalled; });
  ASSERT_EQ(session.screen, Screen::review);
  const auto& judgement = session.exercise().record().judgement;
  ASSERT_TRUE(judgement);
  ASSERT_EQ(judgement->classes.size(), 1U);
  const std::map<std::string, int> expected = {
      {session.scheme().goals()[0], 3}, {session.scheme().goals()[1], 2}, {session.scheme().goals()[2], 4}};
  EXPECT_EQ(judgement->classes[0].classes, expected);
  EXPECT_EQ(judgement->object_class, 3);
  EXPECT_EQ(judgement->action, coding::Action::clean_again);
  EXPECT_FALSE(kept.empty());
  EXPECT_EQ(session.kept(), kept);
  EXPECT_GE(journalled, static_cast<int>(session.exercise().log().size()));
  EXPECT_GT(session.exercise().marking()->score, 0);
}

TEST(Session, AnExerciseReplaysToTheSameScreensAndIsNotKeptTwice) {
  const Session done = reviewed();
  int kept = 0;
  Session session(test::short_scene(), {}, [&](const play::Exercise&) {
    ++kept;
    return std::string();
  });
  session.replay(done.exercise().log());
  session.replay_speed = 7;
  session.begin();
  type_words(session, "x");
  EXPECT_EQ(session.line.text, "") << "a replay takes no typing";
  for (int i = 0; i < 100000 && session.screen != Screen::review; ++i) session.tick(1.0 / 60);
  ASSERT_EQ(session.screen, Screen::review);
  EXPECT_EQ(session.exercise().record(), done.exercise().record());
  EXPECT_EQ(session.exercise().marking()->score, done.exercise().marking()->score);
  EXPECT_EQ(kept, 0);
}

TEST(Session, AnUnfinishedLogGoesOnWhereItEnds) {
  const Session done = reviewed();
  auto part = done.exercise().log();
  part.resize(3);  // logged the node, drove, and is still driving
  int kept = 0;
  Session session(test::short_scene(), {}, [&](const play::Exercise&) {
    ++kept;
    return std::string();
  });
  session.replay(part);
  session.begin();
  wait(session, 12);
  EXPECT_FALSE(session.replaying());
  press(session, Key::f10);
  press(session, Key::f10);
  press(session, Key::enter);
  EXPECT_EQ(session.screen, Screen::review);
  EXPECT_EQ(kept, 1);
}

TEST(Session, TheFirstLetterOrUpBeginsTheDriveAndIsNotLost) {
  Session typed(test::short_scene(), {});
  type_words(typed, " ");
  EXPECT_EQ(typed.screen, Screen::start) << "a space alone says nothing";
  type_words(typed, "BCD");
  EXPECT_EQ(typed.screen, Screen::driving);
  EXPECT_EQ(typed.line.text, "BCD");
  Session driven(test::short_scene(), {});
  press(driven, Key::up);
  EXPECT_EQ(driven.screen, Screen::driving);
  wait(driven, 1);
  EXPECT_GT(driven.exercise().counter_m(), 0.1);
}

TEST(Session, FinishingOverALineSaysWhatCanBeDoneWithIt) {
  Session session = begun();
  type_words(session, "BAJ A");
  press(session, Key::f10);
  EXPECT_THAT(session.message(),
              AllOf(HasSubstr("cannot be logged yet"), HasSubstr("Esc clears it"), Not(HasSubstr("Enter"))));
  type_words(session, " 20 mm");
  press(session, Key::f10);
  EXPECT_THAT(session.message(), HasSubstr("Enter logs it"));
}

TEST(Session, TheRingStandsWhereTheNextFindingIsLogged) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 4);
  session.release(Key::up);
  ASSERT_TRUE(session.look().ring_z_m);
  const auto& scenario = session.exercise().scene().scenario;
  EXPECT_DOUBLE_EQ(scene::distance_of(scenario, *session.look().ring_z_m), session.exercise().counter_m());
  press(session, Key::f7);
  EXPECT_FALSE(session.look().ring_z_m);
  session.command(Command::ring);
  EXPECT_TRUE(session.look().ring_z_m);
  press(session, Key::f10);
  EXPECT_FALSE(session.look().ring_z_m) << "only while driving";
}

TEST(Session, ScoresAreShownToATenth) {
  const Session session = reviewed();
  const double score = session.exercise().marking()->score;
  double shown = 0;
  ASSERT_TRUE(base::read_number(session.score_text(), shown)) << session.score_text();
  EXPECT_NE(session.score_text().find('.'), std::string::npos);
  EXPECT_LE(shown, score + 1e-6);
  EXPECT_GT(shown, score - 0.1);
}

/// Distances in metres, and not sizes in mm.
const std::regex metres_said("[0-9] ?(m|metres?)([^a-zA-Z]|$)");

TEST(Session, NothingSaysMetresWhenFeetAreShown) {
  Session session = begun();
  press(session, Key::f2);
  std::string said;
  const auto hear = [&](const std::string& words) { said += words + '\n'; };
  type_words(session, "BCD B @30m");
  press(session, Key::enter);
  hear(session.message());
  EXPECT_THAT(session.message(), HasSubstr(" ft")) << "refused, outside the run";
  press(session, Key::escape);
  press(session, Key::up);
  wait(session, 8);
  session.release(Key::up);
  type_words(session, "BAB C A 5 mm 12");
  press(session, Key::enter);
  hear(session.message());
  session.go_to(2.9);
  hear(session.message());
  press(session, Key::f10);
  for (const auto& row : session.rows()) hear(row.place + ' ' + row.title);
  type_words(session, "11111");
  press(session, Key::f10);
  ASSERT_EQ(session.screen, Screen::review);
  const auto everything = [&] {
    std::string all;
    for (const auto& item : session.items()) {
      all += item.place + '\n' + item.title + '\n';
      for (const auto& sentence : item.sentences) all += sentence + '\n';
    }
    for (const auto* part : {&session.notes().warnings, &session.notes().consequence,
                             &session.notes().grading, &session.notes().action}) {
      for (const auto& sentence : *part) all += sentence + '\n';
    }
    return all;
  };
  said += everything();
  EXPECT_FALSE(std::regex_search(said, metres_said)) << said;
  EXPECT_THAT(everything(), HasSubstr(" ft"));
  press(session, Key::f2);
  EXPECT_TRUE(std::regex_search(everything(), metres_said)) << "and back";
  EXPECT_THAT(everything(), Not(HasSubstr(" ft")));
}

TEST(Session, JudgingRowsFollowTheUnitAndKeepTheirClasses) {
  Session session = begun();
  press(session, Key::up);
  wait(session, 4);
  session.release(Key::up);
  type_words(session, "BAJ A 20 mm");
  press(session, Key::enter);
  press(session, Key::f10);
  ASSERT_EQ(session.rows().size(), 1U);
  type_words(session, "4");
  press(session, Key::f2);
  EXPECT_THAT(session.rows()[0].place, HasSubstr(" ft"));
  EXPECT_EQ(session.rows()[0].classes[0], 4);
}

TEST(Session, AClassOfTheSchemesSaysThatItIsProvisional) {
  const Session session = reviewed();
  const auto& marking = *session.exercise().marking();
  ASSERT_TRUE(marking.consequence.truth.provisional) << "the shipped scheme is";
  ASSERT_EQ(session.rows().size(), 1U);
  EXPECT_TRUE(session.rows()[0].provisional);
  int classes = 0;
  for (const auto* part : {&session.notes().consequence, &session.notes().grading}) {
    for (const auto& sentence : *part) {
      if (sentence.find("class") == std::string::npos && sentence.find("grade") == std::string::npos)
        continue;
      // No class of the scheme's at all.
      if (sentence.find("gives none") != std::string::npos) continue;
      if (sentence.find("no class can be given") != std::string::npos) continue;
      ++classes;
      EXPECT_THAT(sentence, HasSubstr("provisional"));
    }
  }
  EXPECT_GT(classes, 1);
}
}  // namespace
}  // namespace haunch::window
