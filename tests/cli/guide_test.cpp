// SPDX-License-Identifier: Apache-2.0
// haunch guide: the sheet of plates.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::HasSubstr;

TEST(GuideVerb, WritesPicturesAndTheirIndex) {
  const Program haunch;
  const Ran ran = haunch.run({"guide", "--sheet", "--out", "sheet", "--only", "BAJ-A-clay"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("1 picture and index.json"));
  EXPECT_THAT(haunch.read("sheet/BAJ-A-clay.png"), testing::StartsWith("\x89PNG"));
  EXPECT_EQ(haunch.run({"check", "sheet/index.json"}).code, 0);
  expect_schema(haunch.read("sheet/index.json"), "sheet");
}

TEST(GuideVerb, LeavesWhatIsThereUnlessForced) {
  const Program haunch;
  const std::vector<std::string> once{"guide", "--sheet", "--out", "sheet", "--only", "BAJ-A-clay"};
  ASSERT_EQ(haunch.run(once).code, 0);
  haunch.write("sheet/index.json", "mine");
  const Ran again = haunch.run(once);
  EXPECT_EQ(again.code, 1);
  EXPECT_THAT(again.err, HasSubstr("index.json"));
  EXPECT_EQ(haunch.read("sheet/index.json"), "mine");
  std::vector<std::string> forced = once;
  forced.push_back("--force");
  EXPECT_EQ(haunch.run(forced).code, 0);
  EXPECT_NE(haunch.read("sheet/index.json"), "mine");
}

TEST(GuideVerb, SaysWhatItNeeds) {
  const Program haunch;
  EXPECT_THAT(haunch.run({"guide"}).err, HasSubstr("missing: --sheet"));
  EXPECT_THAT(haunch.run({"guide", "--sheet"}).err, HasSubstr("missing: --out"));
  EXPECT_THAT(haunch.run({"guide", "--sheet", "--out", "x", "--only", "QQQ"}).err, HasSubstr("no plate"));
}

}  // namespace
}  // namespace haunch::cli_test
