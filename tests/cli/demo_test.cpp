// SPDX-License-Identifier: Apache-2.0
// The whole main job without a display.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <regex>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// The attempt that is replayed.
std::string recorded() {
  return (fs::path(HAUNCH_SOURCE_DIR) / "content/demo/canteen-branch.attempt.jsonl").string();
}

TEST(Demo, DoesTheWholeJobAndKeepsWhatIsNotItsOwn) {
  const Program haunch;
  const Ran ran = haunch.run({"demo", "--out", "job"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  for (const char* name :
       {"report.html", "marking.json", "truth.json", "attempt.json", "grade.json", "scores.sqlite"}) {
    EXPECT_TRUE(fs::exists(haunch.path("job") / name)) << name;
  }
  EXPECT_THAT(ran.out, HasSubstr((haunch.path("job") / "report.html").string())) << "it says where";
  int frames = 0, lit = 0;
  for (const auto& entry : fs::directory_iterator(haunch.path("job") / "frames")) {
    EXPECT_EQ(entry.path().extension(), ".png");
    EXPECT_GT(fs::file_size(entry.path()), 20000U) << entry.path();
    ++frames;
    lit += entry.path().filename().string().find("-lit") != std::string::npos ? 1 : 0;
  }
  EXPECT_GE(frames, 6);

  expect_schema(haunch.read("job/truth.json"), "record");
  expect_schema(haunch.read("job/attempt.json"), "record");
  expect_schema(haunch.read("job/marking.json"), "marking");
  expect_schema(haunch.read("job/grade.json"), "grade");
  const Json marking = Json::parse(haunch.read("job/marking.json"));
  const double score = marking.at("score");
  EXPECT_GT(score, 20) << "a recorded attempt that is not perfect";
  EXPECT_LT(score, 100);
  EXPECT_FALSE(marking.at("missed").empty());
  EXPECT_FALSE(marking.at("hits").empty());
  EXPECT_GE(lit, 1) << "a missed fault is lit up";
  EXPECT_NE(marking.at("grading"), "not given") << "the trainee grades too";

  // The files say the same as marking them again does.
  EXPECT_EQ(haunch.json({"mark", shipped("canteen-branch").string(), recorded(), "--json"}), marking);
  Json again = haunch.json({"mark", shipped("canteen-branch").string(), "job/attempt.json", "--json"});
  EXPECT_EQ(again.at("score"), marking.at("score"));
  EXPECT_EQ(again.at("hits"), marking.at("hits"));
  int seen = 0;
  for (const Json& missed : marking.at("missed")) {
    if (!missed.contains("in_view")) continue;
    ++seen;
    EXPECT_THAT(missed.at("sentence").get<std::string>(), HasSubstr("view"));
  }
  EXPECT_GT(seen, 0) << "the demo tells how what was missed was in view";
  for (const Json& missed : again.at("missed"))
    EXPECT_FALSE(missed.contains("in_view")) << "a record has no drive";

  const Json scores = haunch.json({"scores", "--store", "job/scores.sqlite", "--attempts", "--json"});
  ASSERT_EQ(scores.at("attempts").size(), 1U);
  EXPECT_EQ(scores.at("attempts")[0].at("score"), marking.at("score"));

  // Again into the same folder; a file that is somebody else's stays.
  haunch.write("job/notes.txt", "mine");
  ASSERT_EQ(haunch.run({"demo", "--out", "job"}).code, 0);
  EXPECT_EQ(haunch.read("job/notes.txt"), "mine");
  EXPECT_EQ(
      haunch.json({"scores", "--store", "job/scores.sqlite", "--attempts", "--json"}).at("attempts").size(),
      1U)
      << "the same attempt is kept once";
}

TEST(Demo, RefusesAFolderWithSomebodyElsesFiles) {
  const Program haunch;
  fs::create_directories(haunch.path("job"));
  haunch.write("job/report.html", "precious");
  const Ran ran = haunch.run({"demo", "--out", "job"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.err, HasSubstr("report.html"));
  EXPECT_EQ(haunch.read("job/report.html"), "precious");
  EXPECT_FALSE(fs::exists(haunch.path("job/marking.json")));
}

TEST(Demo, SaysAtOnceWhichRunsThereAreAndWhichHaveAnAttempt) {
  const Program haunch;
  const Ran wrong = haunch.run({"demo", "--scenario", "canteen-brunch", "--out", "job"});
  EXPECT_EQ(wrong.code, 2);
  for (const auto& file : shipped_scenarios()) EXPECT_THAT(wrong.err, HasSubstr(file.stem().string()));
  EXPECT_THAT(wrong.err, HasSubstr("did you mean \"canteen-branch\"?"));
  haunch.write("mine.json", clean_scenario);
  const Ran none = haunch.run({"demo", "--scenario", "mine.json", "--out", "job"});
  EXPECT_EQ(none.code, 2);
  EXPECT_THAT(none.err, HasSubstr("no recorded attempt is shipped for mine"));
  EXPECT_THAT(none.err, HasSubstr("--attempt LOG"));
  EXPECT_EQ(none.out, "") << "before any work";
  EXPECT_FALSE(fs::exists(haunch.path("job")));
}

TEST(Demo, InFeetThePageHasNoMetresAndTheMarkingIsTheSame) {
  const Program haunch;
  ASSERT_EQ(haunch.run({"demo", "--out", "job", "--units", "ft"}).code, 0);
  const std::string html = without_pictures(haunch.read("job/report.html"));
  EXPECT_THAT(html, HasSubstr(" ft"));
  EXPECT_FALSE(std::regex_search(html, std::regex("[0-9] m(?![A-Za-z0-9])")));
  EXPECT_EQ(haunch.json({"mark", shipped("canteen-branch").string(), recorded(), "--json"}),
            Json::parse(haunch.read("job/marking.json")));
}

TEST(Demo, AListOfFilesThatReachesOutsideIsNotFollowed) {
  const Program haunch;
  haunch.write("precious.txt", "mine");
  fs::create_directories(haunch.path("job"));
  haunch.write("job/files-of-this-demo.txt",
               "haunch demo wrote these files; the next demo here replaces them\n../precious.txt\n" +
                   haunch.path("precious.txt").string() + "\n");
  haunch.run({"demo", "--out", "job"});
  EXPECT_EQ(haunch.read("precious.txt"), "mine");
}

}  // namespace
}  // namespace haunch::cli_test
