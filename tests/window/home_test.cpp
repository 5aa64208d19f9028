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

scores::Attempt driven(const fs::path& file, double score, const std::string& id) {
  scores::Attempt one;
  one.id = id;
  one.trainee = "coder-07";
  one.finished_at = "2026-03-02T09:40:00Z";
  one.scenario_hash = scenario::read_scenario(file).value().hash;
  one.score = score;
  return one;
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
    const auto* run = std::get_if<RunChosen>(&home.row_at(i).chosen);
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
  const Chosen wanted = home.row_at(2).chosen;
  home.press({Key::enter});
  ASSERT_TRUE(home.chosen);
  EXPECT_EQ(*home.chosen, wanted);
  home.press({Key::end});
  EXPECT_EQ(home.row(), home.rows() - 1);
  home.press({Key::down});
  EXPECT_EQ(home.row(), home.rows() - 1);
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
