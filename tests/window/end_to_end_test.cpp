// SPDX-License-Identifier: Apache-2.0
// haunch-train as a trainee meets it: a real window on a virtual display, real keys and clicks.
// Screenshots are kept in the build folder, tests/window/screenshots.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "play/exercise.hpp"
#include "scores/store.hpp"
#include "window/on_screen.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;
using test::OnScreen;
using test::patience;
using test::scenario_in;
using test::stored;
using test::text_of;
using testing::HasSubstr;

TEST(TrainWindow, ATraineeDrivesCodesGradesAndIsMarked) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(640, 400);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-07", "--units", "ft"}))
      << text_of(screen.folder() / "program.txt");
  screen.shot("1-start-card");
  screen.key("Return");
  const auto at_start = screen.shot("2-at-the-start");
  // Not blank, and a pipe: the far end is dark, the wall round it is lit.
  EXPECT_GT(at_start.deviation(), 10);
  const double centre = at_start.mean(0.47, 0.45, 0.53, 0.55);
  for (const auto& [x, y] : {std::pair{0.15, 0.45}, {0.75, 0.45}, {0.45, 0.05}}) {
    EXPECT_GT(at_start.mean(x, y, x + 0.1, y + 0.1), centre + 25)
        << "beside the dark far end, at " << x << ' ' << y;
  }

  screen.key("ctrl+plus");
  screen.key("ctrl+minus");  // neither types anything
  screen.type("BCD B");
  screen.shot("3-typed");
  screen.key("Return");
  screen.key_down("Up");
  OnScreen::rest(3);
  screen.key_up("Up");
  const auto further = screen.shot("4-driven");
  EXPECT_GT(test::difference(at_start, further), 2) << "the picture moved on";
  screen.type("displaced joint");
  screen.key("Escape");
  screen.type("open joint 20 mm");
  screen.shot("5-sentence");
  screen.key("Return");
  screen.key("F3");
  screen.shot("6-logged");
  screen.key("F10");
  screen.type("324");
  screen.type("3");
  screen.shot("7-judging");
  screen.type("2");
  screen.key("F10");

  const auto attempts = stored(screen);
  ASSERT_EQ(attempts.size(), 1U) << text_of(screen.folder() / "program.txt");
  screen.shot("8-review");
  const scores::Attempt& attempt = attempts[0];
  EXPECT_EQ(attempt.trainee, "coder-07");
  EXPECT_EQ(attempt.scenario, "Three metres of clay");
  EXPECT_GE(attempt.hits, 1) << "the start node at least";
  EXPECT_GT(attempt.score, 0);
  EXPECT_LT(attempt.score, 100) << "the roots were missed";
  EXPECT_GT(attempt.missed, 0);
  EXPECT_TRUE(attempt.classes_asked);
  EXPECT_TRUE(attempt.action_right);

  // What was typed is what was stored, at the counter's distance; and the log plays back to it.
  const auto log = play::log_from_text(attempt.input_log, "stored log");
  ASSERT_TRUE(log) << base::to_line(log.problems().front());
  const auto again = play::replay(test::short_scene(), log.value());
  ASSERT_TRUE(again) << base::to_line(again.problems().front());
  const auto& record = again.value().record();
  ASSERT_EQ(record.observations.size(), 2U);
  EXPECT_EQ(record.observations[0].code, "BCD");
  EXPECT_EQ(record.observations[1].code, "BAJ");
  EXPECT_EQ(record.observations[1].ch1, "A");
  EXPECT_EQ(record.observations[1].q1, coding::Number(20.0));
  EXPECT_GT(*record.observations[1].distance_m.value, *record.observations[0].distance_m.value);
  ASSERT_TRUE(record.judgement);
  EXPECT_EQ(record.judgement->object_class, 3);
  EXPECT_EQ(record.judgement->action, coding::Action::clean_again);
  EXPECT_DOUBLE_EQ(again.value().marking()->score, attempt.score);

  // The same log lies beside the store as a file.
  int logs = 0;
  for (const auto& entry : fs::directory_iterator(screen.data() / "logs")) {
    EXPECT_EQ(text_of(entry.path()), attempt.input_log);
    ++logs;
  }
  EXPECT_EQ(logs, 1);

  // Choosing another line of the review takes the camera elsewhere.
  screen.key("Return");
  const auto one = screen.shot("9-missed-alone");
  screen.key("Down");
  const auto other = screen.shot("10-next-missed");
  EXPECT_GT(test::difference(one, other), 2);
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0) << text_of(screen.folder() / "program.txt");
}

/// How often an input stands in the one log file.
int inputs_in_log(const OnScreen& screen, const std::string& what) {
  std::string text;
  if (!fs::exists(screen.data() / "logs")) return 0;
  for (const auto& entry : fs::directory_iterator(screen.data() / "logs")) {
    if (entry.path().extension() == ".jsonl") text += text_of(entry.path());
  }
  int count = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
  return count;
}

TEST(TrainWindow, AHeldKeyOrQuickTapsStoreNothing) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(900, 600);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-07"}))
      << text_of(screen.folder() / "program.txt");
  screen.key("Return");
  const std::string finish = R"("do":"finish")", resume = R"("do":"resume")";
  const auto wait_for = [&](const std::string& what, int count) {
    for (int tries = 0; tries < patience && inputs_in_log(screen, what) < count; ++tries) OnScreen::rest(0.1);
    EXPECT_EQ(inputs_in_log(screen, what), count) << what;
  };
  screen.key_down("F10");
  wait_for(finish, 1);
  OnScreen::rest(1.2);  // long enough for the keyboard to say it dozens of times
  screen.key_up("F10");
  screen.shot("held-1-judging");
  screen.key("Return");  // would answer, had holding on brought the question up
  EXPECT_EQ(inputs_in_log(screen, finish), 1) << "held, it went on into the marking";

  screen.key("F9");
  wait_for(resume, 1);
  screen.shot("held-2-back-at-coding");
  screen.taps("F10", 2);
  wait_for(finish, 2);
  screen.taps("F10", 3);
  screen.shot("held-3-asked");
  EXPECT_EQ(inputs_in_log(screen, finish), 2) << "quick taps answered the question";
  EXPECT_FALSE(fs::exists(screen.data() / "scores.sqlite"));

  screen.key("Return");  // yes, without them
  const auto attempts = stored(screen);
  ASSERT_EQ(attempts.size(), 1U);
  EXPECT_FALSE(attempts[0].classes_right && *attempts[0].classes_right > 0);
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
  EXPECT_EQ(text_of(screen.folder() / "program.txt"), "") << "nothing is told on the side";
}

TEST(TrainWindow, AnObservationIsBuiltWithTheMouseAlone) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-07"}))
      << text_of(screen.folder() / "program.txt");
  // Places on the screen as the shipped font lays them out at this size; see the screenshots.
  screen.click_accent();   // Begin
  screen.click(990, 694);  // Codes
  screen.shot("mouse-1-codes");
  screen.click(980, 316);  // Intruding connection
  screen.shot("mouse-2-built");
  screen.click(1210, 130);  // +10 %
  screen.click(851, 238);   // 2 o'clock on the ring
  screen.shot("mouse-3-complete");
  screen.click_accent(900, 240, 380, 120);  // Log
  screen.shot("mouse-4-logged");
  fs::path log;
  for (int tries = 0; tries < patience && log.empty() && screen.program().running(); ++tries) {
    if (fs::exists(screen.data() / "logs")) {
      for (const auto& entry : fs::directory_iterator(screen.data() / "logs")) {
        if (entry.path().extension() == ".jsonl") log = entry.path();
      }
    }
    OnScreen::rest(0.2);
  }
  ASSERT_FALSE(log.empty()) << "nothing was logged";
  const auto inputs = play::log_from_text(text_of(log), log.string());
  ASSERT_TRUE(inputs) << base::to_line(inputs.problems().front());
  std::vector<coding::Observation> logged;
  for (const auto& timed : inputs.value()) {
    if (const auto* input = std::get_if<play::Log>(&timed.input)) logged.push_back(input->observation);
  }
  ASSERT_EQ(logged.size(), 1U);
  EXPECT_EQ(logged[0].code, "BAG");
  EXPECT_EQ(logged[0].q1, coding::Number(10.0));
  EXPECT_EQ(logged[0].clock_from, 2);
}

TEST(TrainWindow, AReplayDoesTheSameAgainAndKeepsNothing) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  play::Exercise exercise(test::short_scene());
  ASSERT_TRUE(exercise.act(play::Drive{0.15}).empty());
  for (int i = 0; i < 120; ++i) exercise.step();
  ASSERT_TRUE(exercise.act(play::Finish{}).empty());
  ASSERT_TRUE(exercise.act(play::Finish{}).empty());
  OnScreen screen(640, 400);
  const fs::path log = screen.folder() / "earlier.jsonl";
  std::ofstream(log) << play::log_to_text(exercise);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--replay", log.string(), "--speed", "4"}))
      << text_of(screen.folder() / "program.txt");
  const auto card = screen.shot("replay-1-card");
  screen.key("Return");
  OnScreen::rest(3);
  const auto review = screen.shot("replay-2-review");
  EXPECT_GT(test::difference(card, review), 5);
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
  EXPECT_FALSE(fs::exists(screen.data() / "scores.sqlite"));
}

// -- without a display ------------------------------------------------------------------------------

struct Ended {
  int code = -1;
  std::string words;
};
Ended run_without_display(const std::vector<std::string>& arguments, const std::string& display = "") {
  std::string pattern = (fs::temp_directory_path() / "haunch-window-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  const fs::path folder = pattern;
  std::vector<std::string> words = {test::program_path().string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  test::Child child(
      words, {{"DISPLAY", display}, {"WAYLAND_DISPLAY", ""}, {"HAUNCH_DATA", (folder / "data").string()}},
      folder / "out.txt");
  Ended ended;
  ended.code = child.wait();
  ended.words = text_of(folder / "out.txt");
  fs::remove_all(folder);
  return ended;
}

TEST(TrainProgram, SaysSoWithoutADisplay) {
  const auto none = run_without_display({});
  EXPECT_EQ(none.code, 3);
  EXPECT_THAT(none.words, HasSubstr("no display"));
  EXPECT_THAT(none.words, HasSubstr("haunch demo")) << "and what to do instead";
  const auto dead = run_without_display({}, ":64999");
  EXPECT_EQ(dead.code, 3);
  EXPECT_THAT(dead.words, HasSubstr("cannot be reached"));
}

TEST(TrainProgram, PlacesTheProblemsOfAScenario) {
  const fs::path file = fs::temp_directory_path() / "haunch-broken-scenario.json";
  std::ofstream(file) << "{\n  \"kind\": \"scenario\",\n  \"edition\": ,\n}";
  const auto ended = run_without_display({file.string()});
  EXPECT_EQ(ended.code, 1);
  EXPECT_THAT(ended.words, HasSubstr(file.string() + ":3:"));
  EXPECT_EQ(run_without_display({"no-such-file.json"}).code, 1);
  const auto bad_log = run_without_display({"--replay", file.string()});
  EXPECT_EQ(bad_log.code, 1);
  EXPECT_THAT(bad_log.words, HasSubstr(file.string()));
  fs::remove(file);
}

TEST(TrainProgram, WrongUsage) {
  EXPECT_EQ(run_without_display({"--units", "furlongs"}).code, 2);
  EXPECT_EQ(run_without_display({"--width", "3"}).code, 2);
  EXPECT_EQ(run_without_display({"--speed", "nan"}).code, 2);
  EXPECT_EQ(run_without_display({"--no-such-option"}).code, 2);
  EXPECT_EQ(run_without_display({"--help"}).code, 0);
}

}  // namespace
}  // namespace haunch::window
