// SPDX-License-Identifier: Apache-2.0
#include "window/keeping.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

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

}  // namespace
}  // namespace haunch::window
