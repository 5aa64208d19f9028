// SPDX-License-Identifier: Apache-2.0
#include "window/writing.hpp"

#include <gtest/gtest.h>

namespace haunch::window {
namespace {

TEST(Line, TypesAtTheCaretAndTakesBackWholeCharacters) {
  Line line;
  line.insert("crak");
  line.left();
  line.insert("c");
  EXPECT_EQ(line.text, "crack");
  line.end();
  line.insert("\xC3\xA9");  // e acute, two bytes
  line.backspace();
  EXPECT_EQ(line.text, "crack");
  line.home();
  line.erase();
  EXPECT_EQ(line.text, "rack");
  line.backspace();  // nothing before the caret
  EXPECT_EQ(line.text, "rack");
}

TEST(Line, WalksOverWholeCharacters) {
  Line line;
  line.insert("a\xE2\x82\xACz");  // the euro sign has three bytes
  line.left();
  line.left();
  EXPECT_EQ(line.caret, 1U);
  line.right();
  EXPECT_EQ(line.caret, 4U);
  line.end();
  line.right();
  EXPECT_TRUE(line.at_end());
}

TEST(Line, PastedLineEndsBecomeSpaces) {
  Line line;
  line.insert("BAB\tA\nB");
  EXPECT_EQ(line.text, "BAB A B");
}

TEST(Line, RestOfACompletion) {
  EXPECT_EQ(rest_of("offset jo", "offset joint"), "int");
  EXPECT_EQ(rest_of("Offset JO", "offset joint"), "int");
  EXPECT_EQ(rest_of("roots", "offset joint"), "");
  EXPECT_EQ(rest_of("offset joint", "offset joint"), "");
  EXPECT_EQ(rest_of("", "offset joint"), "") << "an empty line suggests nothing";
}

}  // namespace
}  // namespace haunch::window
