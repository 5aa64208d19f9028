// SPDX-License-Identifier: Apache-2.0
// Files are read whole or not at all, and never left half written.
#include "base/files.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

namespace haunch::base {
namespace {

namespace fs = std::filesystem;

class Files : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "haunch-files-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }
  fs::path folder_;
};

TEST_F(Files, WhatIsWrittenIsRead) {
  const std::string bytes("a\0b\r\n\xff", 6);
  EXPECT_TRUE(write_file(folder_ / "x", bytes, Overwrite::no).empty());
  const auto read = read_file(folder_ / "x");
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read.value(), bytes);
}

TEST_F(Files, AnExistingFileIsLeftAloneUnlessAsked) {
  ASSERT_TRUE(write_file(folder_ / "x", "one", Overwrite::no).empty());
  EXPECT_EQ(write_file(folder_ / "x", "two", Overwrite::no).size(), 1U);
  EXPECT_EQ(read_file(folder_ / "x").value(), "one");
  EXPECT_TRUE(write_file(folder_ / "x", "two", Overwrite::yes).empty());
  EXPECT_EQ(read_file(folder_ / "x").value(), "two");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 1) << "no scraps left";
}

TEST_F(Files, WhatCannotBeReadOrWrittenIsAProblem) {
  EXPECT_FALSE(read_file(folder_ / "none").ok());
  EXPECT_FALSE(read_file(folder_).ok()) << "a folder";
  ASSERT_TRUE(write_file(folder_ / "x", "12345", Overwrite::no).empty());
  EXPECT_FALSE(read_file(folder_ / "x", 4).ok());
  EXPECT_TRUE(read_file(folder_ / "x", 5).ok());
  EXPECT_EQ(write_file(folder_ / "no" / "such", "1", Overwrite::yes).size(), 1U);
}

TEST(Fingerprint, IsFnv1a) {
  // From memory: the published 64-bit FNV-1a test values.
  EXPECT_EQ(fingerprint(""), "cbf29ce484222325");
  EXPECT_EQ(fingerprint("a"), "af63dc4c8601ec8c");
  EXPECT_EQ(fingerprint("foobar"), "85944171f73967e8");
}

}  // namespace
}  // namespace haunch::base
