// SPDX-License-Identifier: Apache-2.0
#include "window/keeping.hpp"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <memory>

#include "scores/store.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

class SettingsFile : public testing::Test {
 protected:
  SettingsFile()
      : file_(std::filesystem::temp_directory_path() / ("haunch-settings-" + std::to_string(::getpid()))) {}
  ~SettingsFile() override { std::filesystem::remove(file_); }
  std::filesystem::path file_;
};

TEST_F(SettingsFile, AreKept) {
  const Settings kept{base::LengthUnit::feet, 145, true};
  EXPECT_TRUE(write_settings(file_, kept).empty());
  EXPECT_EQ(read_settings(file_), kept);
}

TEST_F(SettingsFile, DamageGivesDefaultsOrSense) {
  EXPECT_EQ(read_settings(file_), Settings{}) << "no file";
  std::ofstream(file_) << "text_percent 1e300\nunits furlongs\n\xFF\xFE garbage\nstrong_contrast";
  Settings expected;
  expected.text_percent = 220;
  EXPECT_EQ(read_settings(file_), expected);
}

TEST(Settings, TextGrowsAndShrinksWithinBounds) {
  Settings settings;
  for (int i = 0; i < 50; ++i) larger_text(settings);
  EXPECT_EQ(settings.text_percent, 220);
  for (int i = 0; i < 50; ++i) smaller_text(settings);
  EXPECT_EQ(settings.text_percent, 70);
}

TEST(Keeping, AClockSetBackTakesNobodyBackInTime) {
  std::string pattern = (std::filesystem::temp_directory_path() / "haunch-keeping-XXXXXX").string();
  ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
  ::setenv("HAUNCH_DATA", pattern.c_str(), 1);
  {
    auto store = own_store();
    EXPECT_EQ(store.latest(), "");
    std::string words;
    EXPECT_EQ(time_to_keep(store, "2026-11-27T10:00:00Z", words), "2026-11-27T10:00:00Z");
    scores::Step step{"1", "coder-07", "2026-11-27T10:00:00Z", "c", "a"};
    store.add(step);
    EXPECT_EQ(store.latest(), step.done_at);
    EXPECT_EQ(time_to_keep(store, "2026-11-28T10:00:00Z", words), "2026-11-28T10:00:00Z");
    EXPECT_EQ(words, "");
    EXPECT_EQ(time_to_keep(store, "2025-11-27T10:00:00Z", words), step.done_at);
    EXPECT_NE(words.find("2025-11-27"), std::string::npos) << words;
  }
  ::unsetenv("HAUNCH_DATA");
  std::filesystem::remove_all(pattern);
}

TEST(Keeping, TwoWindowsNeverWriteOneJournal) {
  std::string pattern = (std::filesystem::temp_directory_path() / "haunch-keeping-XXXXXX").string();
  ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
  ::setenv("HAUNCH_DATA", pattern.c_str(), 1);
  {
    play::Exercise exercise(test::short_scene());
    ASSERT_TRUE(exercise.act(play::Begin{}).empty());
    ASSERT_TRUE(exercise.act(play::Drive{0.1}).empty());
    const std::string hash = exercise.scene().scenario.hash;
    auto first = std::make_unique<Keeper>("coder-07");
    first->journal(exercise);
    Keeper second("coder-07");
    EXPECT_FALSE(second.unfinished(hash)) << "the first window is driving it";
    first.reset();
    const auto left = second.unfinished(hash);
    ASSERT_TRUE(left);
    EXPECT_TRUE(second.take_up(*left));
    Keeper third("coder-07");
    EXPECT_FALSE(third.unfinished(hash));
    EXPECT_FALSE(third.take_up(*left)) << "it was taken meanwhile";
  }
  ::unsetenv("HAUNCH_DATA");
  std::filesystem::remove_all(pattern);
}

}  // namespace
}  // namespace haunch::window
