// SPDX-License-Identifier: Apache-2.0
// Taking back, doing again, editing; the plumb mark, hints, pictures; a guided run; taking up what was left.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "window/coach.hpp"
#include "window/guide.hpp"
#include "window/quality.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

using test::press;
using test::type_words;
using test::wait;
using ::testing::HasSubstr;

Session begun(play::Mode mode = play::Mode::practice) {
  Session session(test::short_scene(), {});
  session.mode = mode;
  press(session, Key::enter);
  return session;
}

void log(Session& session, const std::string& words) {
  type_words(session, words);
  press(session, Key::enter);
}

std::vector<std::string> codes(const Session& session) {
  std::vector<std::string> all;
  for (const auto& row : session.exercise().record().observations) all.push_back(coding::show_code(row));
  return all;
}

using Codes = std::vector<std::string>;

TEST(Undo, TakesBackAndDoesAgainWhateverWasWrittenDown) {
  Session session = begun();
  log(session, "BCD B @0");
  log(session, "BAJ A 20mm @1");
  log(session, "BBA B 6% at 12 @2");
  session.remove(session.exercise().record().observations[1].id);
  EXPECT_EQ(codes(session), (Codes{"BCD B", "BBA B"}));
  press(session, Key::letter_z, true);
  EXPECT_EQ(codes(session), (Codes{"BCD B", "BBA B", "BAJ A"}));
  EXPECT_NEAR(*session.exercise().record().observations.back().distance_m.value, 1, 1e-9) << "where it was";
  press(session, Key::letter_z, true);
  press(session, Key::letter_z, true);
  EXPECT_EQ(codes(session), (Codes{"BCD B"})) << "the joint came back under another number, and goes by it";
  press(session, Key::letter_z, true);
  EXPECT_EQ(codes(session), Codes{});
  press(session, Key::letter_z, true);
  EXPECT_THAT(session.message(), HasSubstr("nothing to take back"));
  for (int i = 0; i < 4; ++i) press(session, Key::letter_y, true);
  EXPECT_EQ(codes(session), (Codes{"BCD B", "BBA B"})) << "and all the way again, the removal too";
  press(session, Key::letter_y, true);
  EXPECT_THAT(session.message(), HasSubstr("nothing to do again"));
  press(session, Key::letter_z, true);
  log(session, "BAF A A 12");
  press(session, Key::letter_y, true);
  EXPECT_THAT(session.message(), HasSubstr("nothing to do again")) << "something new closes that way";
}

TEST(Edit, PutsWhatWasLoggedBackIntoTheLine) {
  Session session = begun();
  log(session, "BCD B @0");
  log(session, "BAJ A 20mm @1");
  press(session, Key::letter_e, true);
  EXPECT_EQ(session.line.text, "BAJ A 20 mm @1");
  session.line.set("");
  type_words(session, "BAJ A 35mm");
  press(session, Key::enter);
  ASSERT_EQ(codes(session), (Codes{"BCD B", "BAJ A"}));
  EXPECT_EQ(session.exercise().record().observations[1].q1, coding::Number(35.0));
  EXPECT_NEAR(*session.exercise().record().observations[1].distance_m.value, 1, 1e-9);
  EXPECT_TRUE(session.line.text.empty());
  press(session, Key::letter_z, true);
  EXPECT_EQ(session.exercise().record().observations[1].q1, coding::Number(20.0));
  press(session, Key::letter_y, true);
  EXPECT_EQ(session.exercise().record().observations[1].q1, coding::Number(35.0));
  press(session, Key::letter_e, true);
  press(session, Key::letter_e, true);
  EXPECT_EQ(session.line.text, "BCD B @0") << "again: the one before";
  press(session, Key::escape);
  log(session, "BBA B 6% at 12");
  EXPECT_EQ(codes(session).size(), 3U) << "left as it was, the next line is a new finding";
}

TEST(Plumb, TurnsByKeyAndCountsWhenItIsLetGo) {
  Session session = begun();
  for (int i = 0; i < 5; ++i) press(session, Key::left, false, true);
  EXPECT_NEAR(session.plumb_h, 6.5, 1e-9) << "left of the bottom is later on the clock";
  EXPECT_TRUE(session.plumb_shown());
  EXPECT_TRUE(session.exercise().plumbs().empty());
  session.release(Key::left);
  ASSERT_EQ(session.exercise().plumbs().size(), 1U);
  EXPECT_NEAR(session.exercise().plumbs()[0].off_h, 0.5, 1e-9) << "a crawler does not roll";
  wait(session, 4);
  EXPECT_FALSE(session.plumb_shown());
}

TEST(Counter, IsSetFromTheLine) {
  Session session = begun();
  log(session, "counter 7.5");
  EXPECT_EQ(session.distance_text(), "7.50 m");
  log(session, "counter x");
  EXPECT_THAT(session.message(), HasSubstr("counter 0"));
  EXPECT_TRUE(session.exercise().record().observations.empty());
}

TEST(Hint, IsSaidAndRefusedInAnExam) {
  Session session = begun();
  press(session, Key::letter_h, true);
  EXPECT_THAT(session.message(), HasSubstr("Hint: "));
  Session exam = begun(play::Mode::exam);
  press(exam, Key::letter_h, true);
  EXPECT_THAT(exam.message(), HasSubstr("no hints"));
  press(exam, Key::f12);
  EXPECT_FALSE(exam.guide_open);
}

TEST(Picture, IsKeptWithWhatWasLoggedHere) {
  Session session = begun();
  log(session, "BCD B");
  press(session, Key::letter_p, true);
  EXPECT_EQ(session.picture_wanted, "picture-01");
  EXPECT_EQ(session.exercise().record().observations[0].photo, "picture-01");
}

TEST(Person, IsAskedForWhereNobodySaid) {
  Session session(test::short_scene(), {});
  session.asking_name = true;
  std::string who;
  session.on_name = [&](const std::string& name) { who = name; };
  press(session, Key::enter);
  EXPECT_EQ(session.screen, Screen::start);
  EXPECT_THAT(session.message(), HasSubstr("name or a code"));
  type_words(session, "coder-0x");
  press(session, Key::backspace);
  type_words(session, "9");
  EXPECT_EQ(session.screen, Screen::start) << "letters are the name's";
  press(session, Key::enter);
  EXPECT_EQ(session.screen, Screen::driving);
  EXPECT_EQ(who, "coder-09");
}

TEST(Unfinished, IsTakenUpWhereItWasLeft) {
  std::vector<play::TimedInput> left;
  coding::Record record;
  double counter_m = 0;
  {
    Session session = begun();
    press(session, Key::up);
    wait(session, 3);
    session.release(Key::up);
    log(session, "BCD B @0");
    left = session.exercise().log();
    record = session.exercise().record();
    counter_m = session.exercise().counter_m();
  }
  Session session(test::short_scene(), {});
  session.unfinished = Unfinished{"a file", left, "1 finding"};
  std::optional<bool> taken_up;
  session.on_unfinished = [&](bool up) { taken_up = up; };
  press(session, Key::f9);
  EXPECT_EQ(session.screen, Screen::driving);
  EXPECT_EQ(taken_up, true);
  EXPECT_EQ(session.exercise().record(), record);
  EXPECT_NEAR(session.exercise().counter_m(), counter_m, 1e-9);
  wait(session, 1);
  EXPECT_NEAR(session.exercise().counter_m(), counter_m, 1e-9) << "nobody holds a key: it stands";
  log(session, "BAJ A 20mm");
  EXPECT_EQ(codes(session).size(), 2U);

  Session afresh(test::short_scene(), {});
  afresh.unfinished = Unfinished{"a file", left, "1 finding"};
  afresh.on_unfinished = [&](bool up) { taken_up = up; };
  press(afresh, Key::enter);
  EXPECT_EQ(taken_up, false);
  EXPECT_TRUE(afresh.exercise().record().observations.empty());
}

TEST(Journal, IsWrittenNowAndThenWhileTheCameraMoves) {
  int written = 0;
  Session session(test::short_scene(), {}, {}, [&](const play::Exercise&) { ++written; });
  press(session, Key::enter);
  press(session, Key::up);
  const int at_first = written;
  wait(session, 7);
  EXPECT_GE(written - at_first, 3);
  EXPECT_LE(written - at_first, 5);
  session.release(Key::up);
  const int stopped = written;
  wait(session, 7);
  EXPECT_EQ(written, stopped) << "it stands";
}

TEST(Coach, LeadsThroughAWholeRun) {
  Session session = begun(play::Mode::guided);
  EXPECT_THAT(coach_words(session), HasSubstr("A record says first where the run begins"));
  // Whoever does what it says, and nothing else, comes to full marks.
  for (int steps = 0; steps < 120 && session.screen == Screen::driving; ++steps) {
    const std::string words = coach_words(session);
    const auto typed = words.find("type  ");
    if (typed != std::string::npos) {
      std::string line = words.substr(typed + 6, words.find("  and ", typed) - typed - 6);
      log(session, line);
      ASSERT_TRUE(session.line.text.empty()) << words << "\n" << session.message();
    } else if (words.find("plumb mark") != std::string::npos) {
      press(session, Key::left, false, true);
      press(session, Key::right, false, true);
      session.release(Key::right);
    } else if (words.find("finishes it") != std::string::npos) {
      press(session, Key::f10);
    } else {
      const Key way = words.find("drive back") != std::string::npos ? Key::down : Key::up;
      press(session, way);
      wait(session, way == Key::down ? 0.2 : 0.5);
      session.release(way);
    }
  }
  ASSERT_EQ(session.screen, Screen::judging) << coach_words(session);
  EXPECT_THAT(coach_words(session), HasSubstr("How bad is each"));
  session.give_object_class(1);
  session.give_action(coding::Action::carry_on);
  press(session, Key::f10);
  ASSERT_EQ(session.screen, Screen::review);
  EXPECT_EQ(session.score_text(), "100.0");
  EXPECT_EQ(coach_words(session), "");
}

TEST(Coach, NeverEndsARunWhileSomethingOfItIsUnwritten) {
  Session session = begun(play::Mode::guided);
  log(session, "BCD B");
  press(session, Key::left, false, true);
  press(session, Key::right, false, true);
  session.release(Key::right);
  press(session, Key::up, true);  // and all the way, past everything
  wait(session, 25);
  press(session, Key::down);
  wait(session, 0.5);
  session.release(Key::down);
  EXPECT_THAT(coach_words(session), HasSubstr("You have passed something at 1.00 m: drive back"));
  log(session, "BAJ A 20mm @1");
  EXPECT_THAT(coach_words(session), HasSubstr("You have passed something at 2.00 m"));
  log(session, "BBA B 6% 10-2 @2");
  EXPECT_THAT(coach_words(session), testing::Not(HasSubstr("That was the run")));
  log(session, "BCE A @3");
  EXPECT_THAT(coach_words(session), HasSubstr("That was the run"));
}

TEST(Coach, IsSilentInPractice) { EXPECT_EQ(coach_words(begun()), ""); }

TEST(LookUp, FindsCodesByCodeNameAndTradeWord) {
  const auto first = [](const std::string& typed) {
    const auto found = look_up(typed, coding::CodeList::shipped());
    return found.empty() ? std::string("none") : found.front()->code;
  };
  EXPECT_EQ(first("baj"), "BAJ");
  EXPECT_EQ(first("BAJ B 14 mm"), "BAJ");
  EXPECT_EQ(first("roots"), "BBA");
  EXPECT_EQ(first("offset"), "BAJ") << "a trade word";
  EXPECT_EQ(first("qqqq"), "none");
  EXPECT_EQ(look_up("", coding::CodeList::shipped()).size(), coding::CodeList::shipped().codes().size());
  for (const coding::CodeEntry& entry : coding::CodeList::shipped().codes())
    EXPECT_EQ(look_up(entry.code, coding::CodeList::shipped()).front()->code, entry.code);
}

TEST(Line, GoTakesTheCameraToWhereItWas) {
  Session session(test::short_scene(), {});
  session.begin();
  session.press({Key::up});
  test::wait(session, 8);
  session.release(Key::up);
  const double far = session.exercise().counter_m();
  ASSERT_GT(far, 0.6);
  test::type_words(session, "go 0.4");
  session.press({Key::enter});
  EXPECT_NEAR(session.exercise().counter_m(), 0.4, 0.02);
  EXPECT_EQ(session.line.text, "");
  EXPECT_TRUE(session.exercise().record().observations.empty()) << "nothing was logged by it";
}

TEST(Quality, KeepsUpByDrawingSmallerOnlyWhileItMoves) {
  Quality quality;
  const long whole = 1280L * 720;
  EXPECT_EQ(quality.share(whole, true, PictureSize::automatic), 1) << "nothing is known yet";
  for (int i = 0; i < 40; ++i) {
    const double share = quality.share(whole, true, PictureSize::automatic);
    quality.drawn(static_cast<long>(share * share * whole), 0.040 * share * share);
  }
  const double slow = quality.share(whole, true, PictureSize::automatic);
  EXPECT_LT(slow, 0.7);
  EXPECT_LE(0.040 * slow * slow, 1.0 / 60) << "sixty a second";
  EXPECT_EQ(quality.share(whole, false, PictureSize::automatic), 1) << "it stands";
  EXPECT_EQ(quality.share(whole, true, PictureSize::whole), 1);
  EXPECT_EQ(quality.share(whole, false, PictureSize::half), 0.5);
  // Near a step's limit it stays where it is.
  double before = slow;
  int changes = 0;
  for (int i = 0; i < 100; ++i) {
    const double noise = i % 2 == 0 ? 1.05 : 0.95;
    quality.drawn(whole, 0.040 * noise);
    const double now = quality.share(whole, true, PictureSize::automatic);
    changes += now != before ? 1 : 0;
    before = now;
  }
  EXPECT_LE(changes, 1);
}

}  // namespace
}  // namespace haunch::window
