// SPDX-License-Identifier: Apache-2.0
// Converting, grading and drawing files.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_PNG
#include <stb/stb_image.h>

#include <set>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::HasSubstr;

/// What every form can carry: not ids, reasons or what could not be seen.
Json bare(Json record) {
  for (Json& one : record["observations"]) {
    one.erase("id");
    one.erase("reason");
  }
  return record["observations"];
}

TEST(Convert, ThereAndBackChangesNothing) {
  const Program haunch;
  for (const auto& file : shipped_scenarios()) {
    ASSERT_EQ(haunch.run({"truth", file.string(), "--json", "-o", "a.json", "--force"}).code, 0);
    for (const char* middle : {"b.txt", "b.csv", "b.json"}) {
      const Ran to = haunch.run({"convert", "a.json", middle, "--force"});
      ASSERT_EQ(to.code, 0) << to.err;
      ASSERT_EQ(haunch.run({"convert", middle, "c.json", "--force"}).code, 0) << middle;
      EXPECT_EQ(bare(Json::parse(haunch.read("c.json"))), bare(Json::parse(haunch.read("a.json"))))
          << file << ' ' << middle;
    }
  }
}

TEST(Convert, NeverWritesOverUnlessTold) {
  const Program haunch;
  haunch.write("a.json",
               R"({"kind": "record", "edition": 1, "observations": [{"distance_m": 1, "code": "BDA"}]})");
  haunch.write("b.csv", "precious");
  const Ran refused = haunch.run({"convert", "a.json", "b.csv"});
  EXPECT_EQ(refused.code, 1);
  EXPECT_THAT(refused.err, HasSubstr("left as it is"));
  EXPECT_EQ(haunch.read("b.csv"), "precious");
  EXPECT_EQ(haunch.run({"convert", "a.json", "b.csv", "--force"}).code, 0);
  EXPECT_NE(haunch.read("b.csv"), "precious");
}

TEST(Grade, SaysProvisionalAndGivesARowForEachClass) {
  const Program haunch;
  ASSERT_EQ(haunch.run({"truth", shipped("canteen-branch").string(), "--json", "-o", "a.json"}).code, 0);
  const Ran ran = haunch.run({"grade", "a.json", "--json"});
  expect_schema(ran.out, "grade");
  const Json grade = Json::parse(ran.out);
  EXPECT_TRUE(grade.at("provisional").get<bool>());
  int classed = 0;
  for (const Json& one : grade.at("observations")) {
    for (const auto& [goal, given] : one.at("classes").items()) {
      if (!given.at("class").is_number()) continue;
      EXPECT_NE(given.at("row"), "") << one.at("code") << ' ' << goal;
      EXPECT_NE(given.at("reason"), "");
      ++classed;
    }
  }
  EXPECT_GT(classed, 3);
  EXPECT_THAT(haunch.run({"grade", "a.json"}).out, HasSubstr("PROVISIONAL"));
}

TEST(Grade, TheSiteCountsAndSeveralInspectionsGiveSeveralGrades) {
  const Program haunch;
  ASSERT_EQ(haunch.run({"truth", shipped("terrace-clay-drain").string(), "--json", "-o", "a.json"}).code, 0);
  const Json plain = haunch.json({"grade", "a.json", "--json"});
  const Json wet = haunch.json(
      {"grade", "a.json", "--json", "--site", "groundwater=in the aquifer", "--site", "protection-zone=II"});
  EXPECT_LT(wet.at("missing").size(), plain.at("missing").size());
  EXPECT_GT(wet.at("object_number").get<double>(), plain.at("object_number").get<double>())
      << "Tab. A-3-3: zone II counts 250 for tightness";
  const Ran both = haunch.run({"grade", "a.json", "a.json", "--json"});
  expect_schema(both.out, "grade");
  EXPECT_EQ(Json::parse(both.out).at("grades").size(), 2U);
}

struct Picture {
  int width = 0, height = 0, depth = 0, colour = 0;
  std::vector<std::uint16_t> grey;
};

/// The PNG's own header (bytes 16 to 25: width, height, bit depth, colour type) and its grey values.
Picture picture_of(const std::string& png) {
  Picture picture;
  if (png.size() < 33 || png.compare(1, 3, "PNG") != 0) return picture;
  const auto word = [&](std::size_t at) {
    int value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png[at + i]);
    return value;
  };
  picture.width = word(16);
  picture.height = word(20);
  picture.depth = png[24];
  picture.colour = png[25];
  int w = 0, h = 0, channels = 0;
  auto* values = stbi_load_16_from_memory(reinterpret_cast<const unsigned char*>(png.data()),
                                          static_cast<int>(png.size()), &w, &h, &channels, 1);
  if (values != nullptr)
    picture.grey.assign(values, values + static_cast<std::size_t>(w) * static_cast<std::size_t>(h));
  stbi_image_free(values);
  return picture;
}

TEST(Render, IdsAreA16BitPictureOfFaultNumbers) {
  const Program haunch;
  const std::string file = shipped("canteen-branch").string();
  // The camera goes in at the end, 24 m down; the connection (fault 7) at 11.2 m is at 12.8 m to it.
  const Ran ran = haunch.run({"render", file, "--at", "12.4", "--size", "320x180", "--ids", "ids.png",
                              "--depth", "depth.png", "-o", "view.png"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  const Picture view = picture_of(haunch.read("view.png"));
  EXPECT_EQ(view.depth, 8);
  EXPECT_EQ(view.colour, 2) << "RGB";
  const Picture ids = picture_of(haunch.read("ids.png"));
  EXPECT_EQ(ids.width, 320);
  EXPECT_EQ(ids.height, 180);
  EXPECT_EQ(ids.depth, 16);
  EXPECT_EQ(ids.colour, 0) << "grey";
  std::set<int> numbers(ids.grey.begin(), ids.grey.end());
  EXPECT_TRUE(numbers.contains(7)) << testing::PrintToString(numbers);
  EXPECT_TRUE(numbers.contains(0));
  EXPECT_LE(*numbers.rbegin(), 10) << "the scenario has ten faults";
  EXPECT_EQ(picture_of(haunch.read("depth.png")).depth, 16);

  ASSERT_EQ(haunch
                .run({"render", file, "--at", "12.4", "--size", "320x180", "--no-faults", "--ids", "none.png",
                      "-o", "clean.png"})
                .code,
            0);
  for (const std::uint16_t number : picture_of(haunch.read("none.png")).grey) ASSERT_EQ(number, 0);
  EXPECT_THAT(haunch.run({"render", "--help"}).out, HasSubstr("sags and water stay")) << "what stays is said";
  EXPECT_NE(haunch.read("clean.png"), haunch.read("view.png"));
}

TEST(Render, TheSameCallGivesTheSamePixels) {
  const Program haunch;
  for (const char* name : {"a.png", "b.png"}) {
    ASSERT_EQ(haunch
                  .run({"render", shipped("school-iron-outlet").string(), "--at", "4", "--size", "160x90",
                        "-o", name})
                  .code,
              0);
  }
  EXPECT_EQ(haunch.read("a.png"), haunch.read("b.png"));
}

}  // namespace
}  // namespace haunch::cli_test
