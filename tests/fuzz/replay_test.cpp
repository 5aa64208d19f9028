// SPDX-License-Identifier: Apache-2.0
// What fuzzers found (tests/fuzz/found/NAME) is read as they would read it, and so is what they begin with.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "base/files.hpp"
#include "fuzz/entries.hpp"

namespace haunch::fuzz {
namespace {
namespace fs = std::filesystem;

class Replay : public testing::TestWithParam<Entry> {};

TEST_P(Replay, WhatFuzzersBeginWithIsRead) {
  const auto all = seeds(GetParam().name);
  ASSERT_FALSE(all.empty());
  for (const std::string& bytes : all) EXPECT_NO_THROW(GetParam().run(bytes)) << bytes;
}

TEST(Found, StaysMended) {
  int replayed = 0;
  for (const auto& folder :
       fs::directory_iterator(fs::path(HAUNCH_SOURCE_DIR) / "tests" / "fuzz" / "found")) {
    const auto entry = std::find_if(entries().begin(), entries().end(),
                                    [&](const Entry& one) { return folder.path().filename() == one.name; });
    ASSERT_NE(entry, entries().end()) << folder.path() << " is no reader's";
    for (const auto& one : fs::directory_iterator(folder)) {
      const auto bytes = base::read_file(one.path());
      ASSERT_TRUE(bytes.ok()) << one.path();
      EXPECT_NO_THROW(entry->run(bytes.value())) << one.path();
      ++replayed;
    }
  }
  EXPECT_GT(replayed, 0);
}

std::string name_of(const testing::TestParamInfo<Entry>& info) { return info.param.name; }
INSTANTIATE_TEST_SUITE_P(Fuzz, Replay, testing::ValuesIn(entries()), name_of);

}  // namespace
}  // namespace haunch::fuzz
