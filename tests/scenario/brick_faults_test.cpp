// SPDX-License-Identifier: Apache-2.0
// Faults of brickwork as files say them, and what no wall can suffer.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "base/words.hpp"
#include "scenario/problems.hpp"
#include "scenario/read.hpp"
#include "scene/scene.hpp"

namespace haunch::scenario {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string in(const std::string& material, const std::string& faults) {
  return R"({
"kind": "scenario", "edition": 1, "title": "Ten metres",
"pipe": { "bore_mm": 300, "length_m": 10, "sections": [ { "to_m": 10, "material": ")" +
         material + R"(", "unit_length_m": 1 } ] },
"faults": [
)" + faults +
         "\n] }\n";
}

std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

std::string bricks(const std::string& form, const std::string& more, const std::string& clock = "[9, 11]") {
  return R"({ "kind": "bricks", "form": ")" + form + R"(", "from_m": 4, "to_m": 4.6)" +
         (clock.empty() ? "" : ", \"clock\": " + clock) + more + " }";
}

TEST(BrickFaults, AreReadAsWritten) {
  const auto read =
      scenario_from_json(in("brick", bricks("displaced", R"(, "moved_mm": 20)") + ",\n" +
                                         bricks("missing", R"(, "behind": "nothing")", "[1, 3]") + ",\n" +
                                         bricks("invert dropped", R"(, "dropped_mm": 40)", "") + ",\n" +
                                         bricks("collapsed", R"(, "takes_percent": 30)", "[11, 1]")),
                         "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  const auto at = [&](std::size_t i) { return std::get<scene::BrickDamage>(read.value().faults[i].kind); };
  EXPECT_EQ(at(0).form, scene::BrickForm::displaced);
  EXPECT_EQ(at(0).moved_mm, 20);
  EXPECT_EQ(at(1).behind, scene::BehindBricks::nothing);
  EXPECT_EQ(at(2).moved_mm, 40);
  EXPECT_EQ(at(2).arc, (base::ClockArc{5, 7, false})) << "about the invert where no clock is said";
  EXPECT_EQ(at(3).takes_percent, 30);
  EXPECT_EQ(scene::kind_word(read.value().faults[0]), "bricks");
}

TEST(BrickFaults, AreRefusedOutsideBrickwork) {
  for (const char* material : {"clay", "PVC", "concrete", "liner"})
    EXPECT_THAT(lines(in(material, bricks("missing", ""))),
                ElementsAre(AllOf(HasSubstr("run.json:5:"), HasSubstr("there are no bricks in a wall of"),
                                  HasSubstr("a stretch of brickwork"))))
        << material;
}

TEST(BrickFaults, NeedWhatTheirFormHasAndNothingElse) {
  EXPECT_THAT(lines(in("brick", bricks("displaced", ""))), ElementsAre(HasSubstr("moved_mm")));
  EXPECT_THAT(lines(in("brick", bricks("missing", R"(, "moved_mm": 5)"))),
              ElementsAre(HasSubstr("moved_mm only")));
  EXPECT_THAT(lines(in("brick", bricks("collapsed", R"(, "takes_percent": 20, "behind": "nothing")"))),
              ElementsAre(HasSubstr("behind only")));
  EXPECT_THAT(lines(in("brick", bricks("invert dropped", "", ""))), ElementsAre(HasSubstr("dropped_mm")));
  EXPECT_THAT(lines(in("brick", bricks("missing", "", ""))), ElementsAre(HasSubstr("clock")));
  EXPECT_THAT(lines(in("brick", bricks("shaken", ""))), testing::Contains(HasSubstr("form")));
}

TEST(BrickFaults, LeaveARingThatStands) {
  EXPECT_THAT(lines(in("brick", bricks("missing", "", "[12, 12]"))),
              ElementsAre(HasSubstr("the rest of it stands")));
  EXPECT_THAT(lines(in("brick", bricks("missing", "", "[1, 10]"))),
              ElementsAre(HasSubstr("at most 7 hours")));
  EXPECT_THAT(lines(in("brick", bricks("displaced", R"(, "moved_mm": 90)"))),
              ElementsAre(AllOf(HasSubstr("do not stay up"), HasSubstr("75 mm"))));
  EXPECT_THAT(lines(in("brick", bricks("invert dropped", R"(, "dropped_mm": 30)", "[1, 3]"))),
              ElementsAre(HasSubstr("the invert is at the bottom")));
}

TEST(BrickFaults, MortarIsMissingOverAStretchOfBrickworkAndAtAJointElsewhere) {
  const std::string
      over = R"({ "kind": "missing mortar", "from_m": 4, "to_m": 5.5, "clock": [9, 3], "depth_mm": 20 })",
      at = R"({ "kind": "missing mortar", "at_m": 4, "clock": [9, 3], "depth_mm": 20 })";
  const auto read = scenario_from_json(in("brick", over), "run.json");
  ASSERT_TRUE(read.ok() && read.problems().empty());
  const auto& mortar = std::get<scene::MissingMortar>(read.value().faults[0].kind);
  EXPECT_NEAR(mortar.length_m, 1.5, 1e-9);
  EXPECT_NEAR(mortar.at_m, 4.75, 1e-9);
  EXPECT_THAT(lines(in("clay", at)), IsEmpty());
  EXPECT_THAT(lines(in("brick", at)), ElementsAre(HasSubstr("loses its mortar over a stretch")));
  EXPECT_THAT(lines(in("clay", over)), ElementsAre(HasSubstr("no mortar in a wall of vitrified clay")));
  EXPECT_THAT(lines(in("brick", R"({ "kind": "missing mortar", "from_m": 4, "depth_mm": 20 })")),
              testing::Contains(HasSubstr("to_m")));
}

}  // namespace
}  // namespace haunch::scenario
