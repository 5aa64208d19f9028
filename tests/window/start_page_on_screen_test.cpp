// SPDX-License-Identifier: Apache-2.0
// From the start page into runs, questions and exams and back: real keys and clicks on a virtual display.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "courses/exam.hpp"
#include "scores/store.hpp"
#include "window/on_screen.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;
using test::OnScreen;
using test::patience;
using test::text_of;

/// Somebody who was here before.
void known(const OnScreen& screen) {
  fs::create_directories(screen.data());
  std::ofstream(screen.data() / "last-person.txt") << "coder-07\n";
}

std::vector<scores::Answer> answers(const OnScreen& screen, std::size_t count) {
  std::vector<scores::Answer> kept;
  for (int tries = 0; tries < patience && kept.size() < count; ++tries) {
    if (fs::exists(screen.data() / "scores.sqlite"))
      kept = scores::Store::open(screen.data() / "scores.sqlite").answers("coder-07");
    if (kept.size() < count) OnScreen::rest(0.2);
  }
  return kept;
}

std::size_t logs(const OnScreen& screen) {
  std::error_code none;
  std::size_t count = 0;
  for (const auto& entry : fs::directory_iterator(screen.data() / "logs", none))
    count += entry.path().extension() == ".jsonl" ? 1 : 0;
  return count;
}

TEST(StartPage, IntoARunAndBack) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  known(screen);
  ASSERT_TRUE(screen.start({})) << text_of(screen.folder() / "program.txt");
  screen.shot("start-page");
  // Beside the page a pipe: lit wall round a dark far end.
  OnScreen::rest(2);
  const auto with_pipe = screen.shot("start-page-pipe");
  EXPECT_GT(with_pipe.mean(0.55, 0.05, 0.98, 0.25), with_pipe.mean(0.72, 0.42, 0.8, 0.52) + 15);
  screen.key("Return");  // the first lesson
  OnScreen::rest(1.5);
  const auto lesson = screen.shot("start-page-lesson");
  EXPECT_GT(test::difference(with_pipe, lesson), 2);
  screen.key("End");
  screen.key("Return");  // its guided run
  OnScreen::rest(1.5);
  screen.key("Return");
  screen.key_down("Up");
  OnScreen::rest(2);
  screen.key_up("Up");
  for (int tries = 0; tries < patience && logs(screen) == 0; ++tries) OnScreen::rest(0.2);
  EXPECT_EQ(logs(screen), 1U);
  screen.key("ctrl+Home");
  OnScreen::rest(1.5);
  screen.shot("start-page-again");
  screen.key("Return");  // the same run offers to go on
  OnScreen::rest(1.5);
  screen.key("F9");
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0) << text_of(screen.folder() / "program.txt");
  EXPECT_EQ(logs(screen), 1U) << "the journal of the one run, taken up";
}

TEST(StartPage, QuestionsAreAnsweredByKeysAndByPointerAndKept) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  known(screen);
  ASSERT_TRUE(screen.start({})) << text_of(screen.folder() / "program.txt");
  for (int i = 0; i < 5; ++i) screen.key("Down");  // past lesson, need and two courses: name it, which of two
  screen.key("Return");
  // The card is there with the first picture: dark panel, lit pipe beside it.
  OnScreen::rest(4);
  const auto asked = screen.shot("drill-1-asked");
  EXPECT_GT(asked.mean(0.4, 0.1, 0.95, 0.9), asked.mean(0.05, 0.5, 0.3, 0.95) + 15);
  screen.key("1");
  ASSERT_EQ(answers(screen, 1).size(), 1U) << text_of(screen.folder() / "program.txt");
  const auto told = screen.shot("drill-2-told");
  EXPECT_GT(test::difference(asked, told), 0.5);
  screen.click_accent();  // Next
  OnScreen::rest(4);
  screen.shot("drill-3-next");
  screen.click(120, 150);  // the first option
  const auto kept = answers(screen, 2);
  ASSERT_EQ(kept.size(), 2U);
  EXPECT_EQ(kept[0].kind, "which of two");
  EXPECT_NE(kept[0].instance, kept[1].instance);
  EXPECT_GT(*kept[0].seconds, 0.5);
  screen.key("Escape");
  screen.shot("drill-4-over");
  screen.key("Return");
  OnScreen::rest(1);
  screen.shot("drill-5-start-page");
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0) << text_of(screen.folder() / "program.txt");
}

TEST(StartPage, AnExamGoesOnWhereItWasBrokenOffAndIsDecidedAtItsEnd) {
  SKIP_WITHOUT_DISPLAY_TOOLS();
  OnScreen screen(1280, 720);
  known(screen);
  // A short exam of the test's own in a copy of the content.
  const fs::path content = screen.folder() / "content";
  fs::copy(fs::path(HAUNCH_SOURCE_DIR) / "content", content, fs::copy_options::recursive);
  fs::remove(content / "exams" / "beginner.json");
  const fs::path file = content / "exams" / "short.json";
  std::ofstream(file) << R"({"kind": "exam", "edition": 1, "id": "short", "title": "Short", "seed": "1",
    "questions": [{"kind": "clean or not", "count": 3, "clean_share": 0.67}],
    "pass": {"questions": 0.1, "source": "ours"}})";
  std::ofstream(content / "courses" / "beginner.json")
      << R"({"kind": "course", "edition": 1, "id": "beginner", "title": "B",
             "lessons": [{"id": "a", "title": "A", "text": ["x"]}]})";
  screen.use_content(content);
  const auto exam = courses::read_exam(file);
  ASSERT_TRUE(exam) << base::to_line(exam.problems().front());
  const auto into_the_exam = [&] {
    ASSERT_TRUE(screen.start({})) << text_of(screen.folder() / "program.txt");
    screen.key("End");  // the scores; the exam is the row before them
    screen.key("Up");
    screen.key("Return");
    OnScreen::rest(4);
  };
  into_the_exam();
  screen.shot("exam-1-asked");
  screen.key("1");
  ASSERT_EQ(answers(screen, 1).size(), 1U) << text_of(screen.folder() / "program.txt");
  screen.key("ctrl+q");  // in the middle
  EXPECT_EQ(screen.program().wait(), 0);
  into_the_exam();
  for (std::size_t done = 2; done <= 3; ++done) {
    screen.key("1");
    ASSERT_EQ(answers(screen, done).size(), done);
    OnScreen::rest(4);
  }
  screen.shot("exam-2-handed-in");
  screen.key("Return");
  OnScreen::rest(1);
  screen.shot("exam-3-told");
  screen.key("ctrl+q");
  EXPECT_EQ(screen.program().wait(), 0) << text_of(screen.folder() / "program.txt");
  const auto store = scores::Store::open(screen.data() / "scores.sqlite");
  const auto sittings = store.sittings("coder-07");
  ASSERT_EQ(sittings.size(), 1U) << "taken up, not begun again";
  EXPECT_EQ(sittings[0].exam_hash, exam.value().hash);
  const auto result = courses::result_of(exam.value(), sittings[0].id, store.answers("coder-07"), {});
  EXPECT_TRUE(result.complete);
  EXPECT_EQ(result.answered, 3);
  EXPECT_EQ(result.questions.right, 2) << "clean was said to all, and two are";
}

}  // namespace
}  // namespace haunch::window
