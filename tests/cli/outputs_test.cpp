// SPDX-License-Identifier: Apache-2.0
// What verbs write over: nothing unless told.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

struct Writes {
  std::vector<std::string> call;  ///< the file to write comes last
  const char* file;
};

TEST(Outputs, AFileThatIsThereIsLeftAsItIsByEveryVerb) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  ASSERT_EQ(haunch.run({"truth", "clean.json", "--json", "-o", "record.json"}).code, 0);
  const std::vector<Writes> writers = {
      {{"truth", "clean.json", "-o"}, "table.txt"},
      {{"truth", "clean.json", "--json", "-o"}, "made.json"},
      {{"truth", "clean.json", "--text", "-o"}, "made.txt"},
      {{"mark", "record.json", "record.json", "--html"}, "page.html"},
      {{"render", "clean.json", "--at", "1", "--size", "32x18", "-o"}, "view.png"},
      {{"convert", "record.json"}, "made.csv"},
  };
  for (const Writes& one : writers) {
    std::vector<std::string> call = one.call;
    call.emplace_back(one.file);
    ASSERT_EQ(haunch.run(call).code, 0) << one.file;
    // Whose a file is cannot be told from what stands in it: a record or a picture may be anybody's.
    for (const std::string& there : {haunch.read(one.file), std::string("my notes\n"), std::string()}) {
      haunch.write(one.file, there);
      const Ran refused = haunch.run(call);
      EXPECT_EQ(refused.code, 1) << one.file << " over " << there.substr(0, 20);
      EXPECT_THAT(refused.err, HasSubstr("left as it is"));
      EXPECT_THAT(refused.err, HasSubstr("--force"));
      EXPECT_EQ(refused.out, "");
      EXPECT_EQ(haunch.read(one.file), there);
    }
    haunch.write(one.file, "my notes\n");
    call.emplace_back("--force");
    EXPECT_EQ(haunch.run(call).code, 0) << one.file;
    EXPECT_NE(haunch.read(one.file), "my notes\n");
  }
}

TEST(Outputs, EveryFileOfACallIsAskedAboutBeforeAnyIsWritten) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  haunch.write("depth.png", "my notes\n");
  const Ran ran = haunch.run(
      {"render", "clean.json", "--at", "1", "--size", "32x18", "-o", "view.png", "--depth", "depth.png"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.err, HasSubstr("depth.png"));
  EXPECT_FALSE(fs::exists(haunch.path("view.png")));
  EXPECT_EQ(haunch.read("depth.png"), "my notes\n");
}

TEST(Outputs, TheRuleIsToldInHelp) {
  const Program haunch;
  for (const char* verb : {"truth", "render", "mark", "convert"})
    EXPECT_THAT(haunch.run({verb, "--help"}).out, HasSubstr("--force")) << verb;
  EXPECT_THAT(haunch.run({"--help"}).out, HasSubstr("--force"));
}

TEST(Outputs, EachHasAFileOfItsOwn) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  fs::create_directories(haunch.path("sub"));
  for (const std::vector<std::string>& pair : std::vector<std::vector<std::string>>{
           {"--ids", "x.png"}, {"--depth", "./x.png"}, {"--ids", "sub/../x.png"}}) {
    const Ran ran = haunch.run({"render", "clean.json", "--at", "1", "-o", "x.png", pair[0], pair[1]});
    EXPECT_EQ(ran.code, 2) << pair[1];
    EXPECT_THAT(ran.err, HasSubstr("the same file"));
    EXPECT_FALSE(fs::exists(haunch.path("x.png")));
  }
  EXPECT_EQ(haunch.run({"render", "clean.json", "--at", "1", "-o", "x.png", "--ids", "./clean.json"}).code,
            2);
  // Under another name the input is still the input, and --force does not change that.
  fs::create_symlink("clean.json", haunch.path("other.json"));
  EXPECT_EQ(haunch.run({"truth", "other.json", "--json", "-o", "clean.json", "--force"}).code, 2);
  EXPECT_EQ(haunch.read("clean.json"), clean_scenario);
}

TEST(Outputs, AFolderOrAPipeIsNoFile) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  fs::create_directories(haunch.path("folder"));
  const Ran ran = haunch.run({"truth", "clean.json", "--json", "-o", "folder", "--force"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.err, HasSubstr("no ordinary file"));
}

}  // namespace
}  // namespace haunch::cli_test
