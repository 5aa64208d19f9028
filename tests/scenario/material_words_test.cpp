// SPDX-License-Identifier: Apache-2.0
// Materials and looks as files say them, and which faults go with which.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "base/words.hpp"
#include "scenario/problems.hpp"
#include "scenario/read.hpp"
#include "scene/materials.hpp"
#include "scene/scene.hpp"

namespace haunch::scenario {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string in(const std::string& section, const std::string& faults = "", const std::string& bore = "150") {
  return R"({
"kind": "scenario", "edition": 1, "title": "Ten metres",
"pipe": { "bore_mm": )" +
         bore + R"(, "length_m": 10, "sections": [
{ "to_m": 10, )" +
         section + R"( } ] },
"camera": { "head_mm": 30 },
"faults": [
)" + faults +
         "\n] }\n";
}

std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

scene::Section first(const std::string& section) {
  const auto read = scenario_from_json(in(section), "run.json");
  EXPECT_TRUE(read.ok()) << section;
  return read.ok() ? read.value().sections.front() : scene::Section{};
}

TEST(MaterialWords, EveryMaterialIsReadInBoresFrom75To600) {
  for (const scene::Material material : scene::all_materials())
    for (const char* bore : {"75", "600"}) {
      const std::string section = "\"material\": \"" + scene::show(material) + "\"";
      EXPECT_THAT(lines(in(section, "", bore)), IsEmpty()) << section << ' ' << bore;
      EXPECT_EQ(first(section).material, material);
    }
  EXPECT_EQ(first(R"("material": "PE")").material, scene::Material::polyethylene);
}

TEST(MaterialWords, ALookDecidesWhatTheFileDoesNotSay) {
  const scene::Section modern = first(R"("material": "clay", "look": "modern")");
  EXPECT_EQ(modern.look, scene::Look::fresh);
  EXPECT_GT(modern.unit_length_m, first(R"("material": "clay")").unit_length_m);
  EXPECT_GT(first(R"("material": "cast iron", "look": "scaled")").manning_n,
            first(R"("material": "cast iron", "look": "new")").manning_n);
  EXPECT_EQ(first(R"("material": "clay", "look": "modern", "unit_length_m": 2)").unit_length_m, 2);
}

TEST(MaterialWords, ALookThatIsNoneOfTheMaterialIsRefusedWhereItStands) {
  EXPECT_THAT(lines(in(R"("material": "clay", "look": "scaled")")),
              ElementsAre(AllOf(HasSubstr("run.json:4:"), HasSubstr("no look of vitrified clay"),
                                HasSubstr("\"modern\" or \"salt-glazed\""))));
  EXPECT_THAT(lines(in(R"("material": "brick", "look": "worn")")),
              ElementsAre(AllOf(HasSubstr("no look of brickwork"), HasSubstr("no look for this material"))));
  EXPECT_THAT(lines(in(R"("material": "clay", "look": "shiny")")), ElementsAre(HasSubstr("run.json:4:")));
}

TEST(MaterialFaults, NeedWhatTheMaterialHas) {
  const std::string gap = R"({ "kind": "joint gap", "at_m": 4, "gap_mm": 20 })";
  EXPECT_THAT(lines(in(R"("material": "brick")", gap)), ElementsAre(HasSubstr("brickwork has no joints")));
  EXPECT_THAT(lines(in(R"("material": "liner")", gap)), ElementsAre(HasSubstr("liner has no joints")));
  EXPECT_THAT(lines(in(R"("material": "pitch fibre", "unit_length_m": 2)", gap)), IsEmpty());
  const auto damage = [](const std::string& form) {
    return R"({ "kind": "surface damage", "from_m": 4.2, "to_m": 4.8, "clock": [10, 2], "form": ")" + form +
           "\" }";
  };
  for (const char* soft : {"pitch fibre", "polyethylene", "liner", "PVC"}) {
    const std::string section = std::string("\"material\": \"") + soft + "\"";
    EXPECT_THAT(lines(in(section, damage("blister"))), IsEmpty()) << soft;
    EXPECT_THAT(lines(in(section, damage("spalled"))), ElementsAre(HasSubstr("nothing spalls"))) << soft;
    EXPECT_THAT(
        lines(
            in(section,
               R"({ "kind": "squashed", "from_m": 4, "to_m": 6, "direction": "vertical", "percent": 35 })")),
        IsEmpty())
        << soft;
  }
  for (const char* hard : {"brick", "fibre cement"}) {
    const std::string section = std::string("\"material\": \"") + hard + "\"";
    EXPECT_THAT(lines(in(section, damage("blister"))), ElementsAre(HasSubstr("neither blisters nor dents")))
        << hard;
    EXPECT_THAT(lines(in(section, damage("spalled"))), IsEmpty()) << hard;
    EXPECT_THAT(
        lines(
            in(section,
               R"({ "kind": "squashed", "from_m": 4, "to_m": 6, "direction": "vertical", "percent": 35 })")),
        ElementsAre(HasSubstr("fallen in")))
        << hard;
  }
}

}  // namespace
}  // namespace haunch::scenario
