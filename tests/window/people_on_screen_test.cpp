// SPDX-License-Identifier: Apache-2.0
// The window as people meet it: for the first time, killed in the middle, in an exam, by keys alone, with
// large text. Real keys and clicks on a virtual display; screenshots are kept in the build folder.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

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

std::vector<fs::path> logs_in(const OnScreen& screen) {
  std::vector<fs::path> files;
  std::error_code none;
  for (const auto& entry : fs::directory_iterator(screen.data() / "logs", none))
    files.push_back(entry.path());
  return files;
}

/// What was logged so far, by the journal; waits until so many are there.
std::vector<coding::Observation> logged(const OnScreen& screen, std::size_t count) {
  std::vector<coding::Observation> rows;
  for (int tries = 0; tries < patience; ++tries) {
    rows.clear();
    for (const fs::path& file : logs_in(screen)) {
      const auto inputs = play::log_from_text(text_of(file), file.string());
      if (!inputs) continue;  // it is being written
      for (const auto& timed : inputs.value())
        if (const auto* one = std::get_if<play::Log>(&timed.input)) rows.push_back(one->observation);
    }
    if (rows.size() >= count) break;
    OnScreen::rest(0.2);
  }
  return rows;
}

std::string journal(const OnScreen& screen) {
  std::string text;
  for (const fs::path& file : logs_in(screen)) text += text_of(file);
  return text;
}

TEST(People, TheFirstTimeANameIsAskedForAndTheRunSaysWhatToDo) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  ASSERT_TRUE(screen.start({})) << text_of(screen.folder() / "program.txt");
  screen.shot("first-1-card");
  screen.key("Return");  // without a name
  screen.shot("first-2-asked");
  screen.type("coder-21");
  screen.key("Return");
  screen.shot("first-3-led");
  screen.key_down("Up");
  OnScreen::rest(4);
  screen.key_up("Up");
  screen.key("shift+Left");
  screen.shot("first-4-plumb");
  screen.type("BCD B @0");
  screen.key("Return");
  ASSERT_EQ(logged(screen, 1).size(), 1U);
  screen.shot("first-5-next");
  EXPECT_EQ(text_of(screen.data() / "last-person.txt"), "coder-21\n");
  EXPECT_THAT(journal(screen), HasSubstr(R"("by":"coder-21")"));
  EXPECT_THAT(journal(screen), HasSubstr(R"("mode":"guided")"));
  EXPECT_THAT(journal(screen), HasSubstr(R"("do":"plumb")"));
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

TEST(People, KilledInTheMiddleItGoesOnWhereItWasLeft) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(900, 600);
  const std::vector<std::string> words = {scenario_in(screen), "--trainee", "coder-22"};
  ASSERT_TRUE(screen.start(words)) << text_of(screen.folder() / "program.txt");
  screen.key("Return");
  screen.type("BCD B @0");
  screen.key("Return");
  ASSERT_EQ(logged(screen, 1).size(), 1U);
  ::kill(screen.program().id(), SIGKILL);
  EXPECT_EQ(screen.program().wait(), 128 + SIGKILL);

  ASSERT_TRUE(screen.start(words)) << text_of(screen.folder() / "program.txt");
  screen.shot("killed-1-card");
  screen.key("F9");
  screen.type("BAJ A 20mm");
  screen.key("Return");
  screen.shot("killed-2-gone-on");
  const auto rows = logged(screen, 2);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].code, "BCD");
  EXPECT_EQ(rows[1].code, "BAJ");
  EXPECT_EQ(logs_in(screen).size(), 1U) << "the same journal goes on";
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);

  // Somebody else is not asked about it, and whoever begins afresh keeps it under another name.
  ASSERT_TRUE(screen.start({words[0], "--trainee", "coder-23"}));
  screen.key("F9");
  screen.shot("killed-3-somebody-else");
  screen.key("ctrl+q");
  screen.program().wait();
  ASSERT_TRUE(screen.start(words));
  screen.key("Return");
  screen.type("BCD A @0");
  screen.key("Return");
  for (int tries = 0; tries < patience && logs_in(screen).size() < 2; ++tries) OnScreen::rest(0.2);
  int aside = 0;
  for (const fs::path& file : logs_in(screen)) aside += file.extension() == ".left" ? 1 : 0;
  EXPECT_EQ(aside, 1);
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

TEST(People, AnExamHasNoHelpAndNoWayBack) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-24", "--mode", "exam"}));
  screen.shot("exam-1-card");
  screen.key("Return");
  screen.type("BCD B @0");
  screen.key("Return");
  screen.key("ctrl+h");
  screen.key("F12");
  screen.shot("exam-2-no-help");
  screen.key("F10");
  screen.key("F9");
  screen.shot("exam-3-no-way-back");
  screen.key("F10");
  screen.key("Return");  // yes, without classes
  const std::vector<scores::Attempt> attempts = stored(screen);
  ASSERT_EQ(attempts.size(), 1U);
  EXPECT_THAT(attempts[0].input_log, HasSubstr(R"("mode":"exam")"));
  EXPECT_THAT(attempts[0].input_log, testing::Not(HasSubstr(R"("do":"hint")")));
  EXPECT_THAT(attempts[0].input_log, testing::Not(HasSubstr(R"("do":"resume")")));
  screen.shot("exam-4-marked");
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

TEST(People, TwelveFindingsByKeysAloneTakeEightKeysEach) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(900, 600);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-25"}));
  screen.key("Return");
  // What somebody who knows the codes types: no spaces where none are needed.
  const std::vector<std::pair<std::string, std::string>> lines = {
      {"bcdb", "BCD B"},     {"baja20", "BAJ A"},   {"bbab6%12", "BBA B"}, {"babaa12", "BAB A A"},
      {"bajb14 2", "BAJ B"}, {"bbca10%6", "BBC A"}, {"bdda5", "BDD A"},    {"bag18%2", "BAG"},
      {"bafaa6", "BAF A A"}, {"bbfb11", "BBF B"},   {"bbbb5%6", "BBB B"},  {"bcea", "BCE A"}};
  std::size_t keys = 0;
  for (const auto& [line, code] : lines) {
    screen.type(line);
    screen.key("Return");
    keys += line.size() + 1;
  }
  const auto rows = logged(screen, lines.size());
  screen.shot("keys-1-twelve");
  ASSERT_EQ(rows.size(), lines.size());
  for (std::size_t i = 0; i < rows.size(); ++i)
    EXPECT_EQ(coding::show_code(rows[i]), lines[i].second) << lines[i].first;
  const double each = static_cast<double>(keys) / static_cast<double>(lines.size());
  std::printf("%zu keys for %zu findings: %.1f each\n", keys, lines.size(), each);
  EXPECT_LE(each, 8);
  screen.key("ctrl+e");
  screen.shot("keys-2-editing");
  screen.key("Escape");
  screen.key("ctrl+z");
  screen.key("F12");
  screen.type("root");
  screen.shot("keys-3-look-up");
  screen.key("Escape");
  screen.key("Escape");
  screen.key("F5");
  screen.key("ctrl+p");
  screen.shot("keys-4-section");
  for (int tries = 0; tries < patience && !fs::exists(screen.data() / "pictures"); ++tries)
    OnScreen::rest(0.2);
  int pictures = 0;
  for (const auto& entry : fs::recursive_directory_iterator(screen.data() / "pictures"))
    pictures += entry.path().extension() == ".png" && fs::file_size(entry.path()) > 10000 ? 1 : 0;
  EXPECT_EQ(pictures, 1);
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

TEST(People, ARunByPointerAlone) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-27"}));
  // Places on the screen as the shipped font lays them out at this size; see the screenshots.
  screen.click_accent();        // Begin
  screen.mouse_down(879, 694);  // forward, held
  OnScreen::rest(3);
  screen.mouse_up();
  screen.shot("pointer-1-driven");
  screen.click(986, 694);  // Codes
  screen.click(980, 316);  // Intruding connection
  screen.shot("pointer-2-built");
  screen.drag(640, 520, 570, 508);  // the plumb mark, turned
  screen.click(1210, 130);          // +10 %
  screen.click(851, 238);           // on the ring
  screen.shot("pointer-3-turned");
  screen.click_accent(900, 240, 380, 120);  // Log
  ASSERT_EQ(logged(screen, 1).size(), 1U);
  screen.click(1093, 694);  // Logged
  screen.shot("pointer-4-logged");
  EXPECT_THAT(journal(screen), HasSubstr(R"("do":"plumb")"));
  screen.click(1193, 694);  // Finish
  screen.click(372, 203);   // class 3 for tightness
  screen.click(379, 299);   // class 2 for the whole run
  screen.click(237, 406);   // clean again
  screen.shot("pointer-5-judged");
  screen.click_accent(0, 640, 500, 80);  // Mark it
  const std::vector<scores::Attempt> attempts = stored(screen);
  screen.shot("pointer-6-review");
  ASSERT_EQ(attempts.size(), 1U);
  EXPECT_THAT(attempts[0].input_log, HasSubstr(R"("classes":{"tightness":3})"));
  EXPECT_THAT(attempts[0].input_log, HasSubstr(R"("class":2)"));
  EXPECT_THAT(attempts[0].input_log, HasSubstr(R"("action":"clean again")"));
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

TEST(People, TextAtTwiceTheSizeLeavesEverythingInReach) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  ASSERT_TRUE(screen.start({scenario_in(screen), "--trainee", "coder-26"}));
  for (int i = 0; i < 7; ++i) screen.key("ctrl+plus");
  screen.shot("large-1-card");
  screen.key("Return");
  screen.type("BAJ A 20mm");
  screen.shot("large-2-line");
  screen.key("Return");
  screen.key("F3");
  screen.shot("large-3-logged");
  screen.key("F3");
  screen.key("F10");
  screen.shot("large-4-judging");
  EXPECT_EQ(logged(screen, 1).size(), 1U);
  EXPECT_THAT(text_of(screen.data() / "people" / "coder-26" / "window-settings.txt"),
              HasSubstr("text_percent 205"));
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0);
}

}  // namespace
}  // namespace haunch::window
