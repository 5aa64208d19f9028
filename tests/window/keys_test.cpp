// SPDX-License-Identifier: Apache-2.0
#include "window/keys.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

namespace haunch::window {
namespace {

TEST(Keys, NoKeyDoesTwoThings) {
  std::set<std::string> seen;
  for (const Binding& b : bindings()) {
    EXPECT_TRUE(seen.insert(b.key).second) << b.key;
    EXPECT_FALSE(b.does.empty()) << b.key;
    if (b.press.key == Key::none) continue;
    EXPECT_EQ(command_for(b.press), b.command) << b.key;
  }
}

TEST(Keys, TheCardExplainsSix) {
  const auto& all = bindings();
  EXPECT_EQ(std::count_if(all.begin(), all.end(), [](const Binding& b) { return b.on_card; }), 6);
}

TEST(Keys, PlusNeedsNoParticularLayout) {
  EXPECT_EQ(command_for({Key::plus, true, false}), Command::larger);
  EXPECT_EQ(command_for({Key::plus, true, true}), Command::larger);
}

TEST(Keys, UnboundKeysDoNothing) {
  EXPECT_FALSE(command_for({Key::home, false, false}));
  EXPECT_FALSE(command_for({Key::none, false, false}));
  EXPECT_FALSE(command_for({Key::letter_v, false, false})) << "a letter alone types";
}

}  // namespace
}  // namespace haunch::window
