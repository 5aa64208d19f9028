// SPDX-License-Identifier: Apache-2.0
// The start page without a display: what it lists, and what is chosen.
#include "window/home.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "base/files.hpp"
#include "courses/exam.hpp"
#include "scenario/read.hpp"
#include "scores/store.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// The user's data in an empty folder of the test's own.
class HomeTest : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "haunch-home-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
    ::setenv("HAUNCH_DATA", folder_.c_str(), 1);
  }
  void TearDown() override {
    ::unsetenv("HAUNCH_DATA");
    fs::remove_all(folder_);
  }
  fs::path folder_;
};

const HomeRow& row_titled(const Home& home, const std::string& start) {
  for (int i = 0; i < home.rows(); ++i)
    if (home.row_at(i).title.starts_with(start)) return home.row_at(i);
  throw std::runtime_error("no row " + start);
}

const RunChosen* run_of(const HomeRow& row) {
  const auto* chosen = std::get_if<Chosen>(&row.does);
  return chosen ? std::get_if<RunChosen>(chosen) : nullptr;
}

scores::Attempt driven(const fs::path& file, double score, const std::string& id) {
  scores::Attempt one;
  one.id = id;
  one.trainee = "coder-07";
  one.finished_at = "2026-03-02T09:40:00Z";
  one.scenario_hash = scenario::read_scenario(file).value().hash;
  one.score = score;
  return one;
}

int place_of(const Home& home, const std::string& start) {
  for (int i = 0; i < home.rows(); ++i)
    if (home.row_at(i).title.starts_with(start)) return i;
  throw std::runtime_error("no row " + start);
}

TEST_F(HomeTest, BeginsWithTheNextLessonAndGoesThereAndBack) {
  Home home("coder-07", {});
  EXPECT_EQ(home.row_at(0).title, "Lesson: Going in");
  home.press({Key::enter});
  ASSERT_EQ(home.page().kind, Page::Kind::lesson);
  EXPECT_FALSE(home.shown().text.empty());
  ASSERT_TRUE(home.picture()) << "its first row is a picture";
  EXPECT_EQ(home.picture()->code, "BCE B");
  home.choose(place_of(home, "I have read this"));
  EXPECT_FALSE(home.picture());
  home.take();
  EXPECT_TRUE(home.row_at(place_of(home, "I have read this")).done);
  home.take();  // again keeps nothing twice
  EXPECT_EQ(scores::Store::open(scores::default_store()).steps("coder-07").size(), 1U);
  const auto* run = run_of(home.row_at(place_of(home, "First drive")));
  ASSERT_TRUE(run);
  EXPECT_EQ(run->mode, play::Mode::guided);
  home.press({Key::escape});
  EXPECT_EQ(home.page().kind, Page::Kind::course);
  home.press({Key::escape});
  EXPECT_EQ(home.page().kind, Page::Kind::start);
}

TEST_F(HomeTest, ALessonOpensWhenThoseBeforeItAreDone) {
  Home home("coder-07", {}, {Page::Kind::course, "beginner", {}});
  home.choose(1);
  EXPECT_NE(home.row_at(1).why_not, "");
  home.take();
  EXPECT_EQ(home.page().kind, Page::Kind::course) << "it is not open yet";
  EXPECT_NE(home.message(), "");
  {
    auto store = scores::Store::open(scores::default_store());
    store.add(scores::Step{"1", "coder-07", "2026-03-02T09:40:00Z", "beginner", "going-in"});
    store.add(driven(base::content_dir() / "scenarios" / "first-drive.json", 80, "a"));
  }
  home.look_again();
  EXPECT_TRUE(home.row_at(0).done);
  EXPECT_EQ(home.row_at(1).why_not, "");
  home.take();
  EXPECT_EQ(home.page().lesson, "bottom-and-clock");
  const auto* chosen = std::get_if<Chosen>(&home.row_at(place_of(home, "Drill: find bottom")).does);
  ASSERT_TRUE(chosen);
  EXPECT_EQ(std::get<DrillChosen>(*chosen).plan.kinds, std::vector<drills::Kind>{drills::Kind::find_bottom});
}

TEST_F(HomeTest, AnExamThatWasBegunSaysSo) {
  const auto file = courses::shipped_exams().front();
  const auto exam = courses::read_exam(file).value();
  EXPECT_EQ(row_titled(Home("coder-07", {}), exam.title).state, "not sat yet");
  {
    auto store = scores::Store::open(scores::default_store());
    store.add(scores::Sitting{"s", "coder-07", "2026-03-02T09:40:00Z", exam.title, exam.hash, exam.seed});
  }
  EXPECT_THAT(row_titled(Home("coder-07", {}), exam.title).state, HasSubstr("begun, 0 of 60"));
}

TEST_F(HomeTest, ScoresAreAPageAway) {
  scores::Store::open(scores::default_store())
      .add(scores::Answer{"q",
                          "coder-07",
                          "2026-03-02T09:40:00Z",
                          "name it",
                          "named",
                          "BAB",
                          "i",
                          "BAC",
                          "BAB",
                          0,
                          0.2,
                          3.0,
                          {},
                          {},
                          {},
                          {},
                          {}});
  Home home("coder-07", {}, {Page::Kind::scores, {}, {}});
  EXPECT_THAT(home.row_at(place_of(home, "BAB  Fissure")).state, HasSubstr("Named 0 of 1"));
}

TEST_F(HomeTest, ListsEveryRunTheGuidedOneFirst) {
  const Home home("coder-07", {});
  EXPECT_EQ(home.message(), "");
  std::size_t files = 0;
  for (const auto& entry : fs::directory_iterator(base::content_dir() / "scenarios"))
    files += entry.path().extension() == ".json" ? 1 : 0;
  std::size_t runs = 0;
  bool first = true;
  for (int i = 0; i < home.rows(); ++i) {
    const auto* run = run_of(home.row_at(i));
    if (run == nullptr) continue;
    ++runs;
    EXPECT_EQ(run->mode == play::Mode::guided, first) << "guided, and it alone, is the first";
    EXPECT_EQ(home.row_at(i).state, "not driven yet");
    first = false;
  }
  EXPECT_EQ(runs, files);
}

TEST_F(HomeTest, SaysWhatAPersonMadeOfARun) {
  const fs::path file = base::content_dir() / "scenarios" / "canteen-branch.json";
  {
    auto store = scores::Store::open(scores::default_store());
    store.add(driven(file, 61.96, "a"));
    store.add(driven(file, 40, "b"));
  }
  EXPECT_EQ(row_titled(Home("coder-07", {}), "Canteen").state, "driven 2 times, best 61 of 100");
  EXPECT_EQ(row_titled(Home("coder-08", {}), "Canteen").state, "not driven yet") << "somebody else's";
}

TEST_F(HomeTest, AStoreThatCannotBeReadIsToldAndHoldsNobodyUp) {
  std::ofstream(folder_ / "scores.sqlite") << "not a store of anything";
  const Home home("coder-07", {});
  EXPECT_THAT(home.message(), HasSubstr("damaged"));
  EXPECT_GT(home.rows(), 0);
}

TEST_F(HomeTest, KeysChooseAndTake) {
  Home home("coder-07", {});
  home.press({Key::up});
  EXPECT_EQ(home.row(), 0);
  home.press({Key::down});
  home.press({Key::down});
  EXPECT_EQ(home.row(), 2);
  EXPECT_FALSE(home.chosen);
  home.choose(place_of(home, "First drive"));
  home.press({Key::enter});
  ASSERT_TRUE(home.chosen);
  EXPECT_EQ(std::get<RunChosen>(*home.chosen).file.stem(), "first-drive");
  home.press({Key::end});
  EXPECT_EQ(home.row(), home.rows() - 1);
  home.press({Key::down});
  EXPECT_EQ(home.row(), home.rows() - 1);
  home.chosen.reset();
  home.press({Key::letter_q, true, false});
  EXPECT_EQ(*home.chosen, Chosen(Leave{}));
}

TEST_F(HomeTest, AsksForANameOnceAndKeepsAskingUntilThereIsOne) {
  Home home("", {});
  std::string told;
  home.on_name = [&](const std::string& name) { told = name; };
  ASSERT_TRUE(home.asking_name);
  home.press({Key::enter});
  EXPECT_TRUE(home.asking_name);
  EXPECT_NE(home.message(), "");
  for (const char letter : std::string(" coder-09x ")) home.type(std::string(1, letter));
  home.press({Key::backspace});
  home.press({Key::backspace});
  EXPECT_FALSE(home.chosen) << "typing chooses nothing";
  home.press({Key::enter});
  EXPECT_FALSE(home.asking_name);
  EXPECT_EQ(told, "coder-09");
  EXPECT_EQ(home.who, "coder-09");
}

TEST_F(HomeTest, SettingsCanBeChangedHere) {
  Home home("coder-07", {});
  home.press({Key::plus, true, false});
  EXPECT_GT(home.settings.text_percent, 100);
  home.press({Key::f2});
  EXPECT_EQ(home.settings.unit, base::LengthUnit::feet);
}

}  // namespace
}  // namespace haunch::window
