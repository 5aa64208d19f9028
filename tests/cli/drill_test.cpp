// SPDX-License-Identifier: Apache-2.0
// haunch drill: one question, with its picture.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(Drill, AsksAndTellsOnlyWhenAsked) {
  const Program haunch;
  const Ran asked = haunch.run({"drill", "--kind", "name it", "--code", "BBA", "--seed", "3", "-o", "q.png"});
  ASSERT_EQ(asked.code, 0) << asked.err;
  EXPECT_THAT(asked.out, HasSubstr("What is it?"));
  EXPECT_THAT(asked.out, HasSubstr("BBA  Roots"));
  EXPECT_THAT(asked.out, Not(HasSubstr("Right")));
  EXPECT_TRUE(haunch.read("q.png").starts_with("\x89PNG"));
  const Ran told = haunch.run({"drill", "--kind", "name it", "--code", "BBA", "--seed", "3", "--answer"});
  EXPECT_THAT(told.out, HasSubstr("Right: BBA"));
  haunch.json({"drill", "--kind", "clock", "--seed", "4", "--json"});
  expect_schema(haunch.run({"drill", "--kind", "clock", "--seed", "4", "--json"}).out, "drill");
  expect_schema(haunch.run({"drill", "--kind", "clock", "--seed", "4", "--json", "--answer"}).out, "drill");
}

TEST(Drill, WhatCannotBeAskedIsSaid) {
  const Program haunch;
  EXPECT_EQ(haunch.run({"drill", "--kind", "juggle"}).code, 2);
  EXPECT_EQ(haunch.run({"drill", "--ease", "2"}).code, 2);
  const Ran none = haunch.run({"drill", "--kind", "water depth", "--code", "BAB"});
  EXPECT_EQ(none.code, 1);
  EXPECT_THAT(none.err, HasSubstr("cannot be asked about BAB"));
}

}  // namespace
}  // namespace haunch::cli_test
