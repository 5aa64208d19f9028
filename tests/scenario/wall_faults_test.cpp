// SPDX-License-Identifier: Apache-2.0
// Faults of the wall's surface as files say them, and what no pipe can suffer.
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
"pipe": { "bore_mm": 150, "length_m": 10, "sections": [ { "to_m": 10, "material": ")" +
         material + R"(", "unit_length_m": 1 } ] },
"faults": [
)" + faults +
         "\n] }\n";
}

std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

std::string damage(const std::string& form, const std::string& more = "",
                   const std::string& clock = "[10, 2]") {
  return R"({ "kind": "surface damage", "from_m": 2.2, "to_m": 2.8, "clock": )" + clock + R"(, "form": ")" +
         form + "\"" + more + " }";
}

TEST(SurfaceDamage, IsReadAsWritten) {
  const auto read = scenario_from_json(
      in("concrete", damage("stones standing out", R"(, "cause": "chemical above water", "depth_mm": 6)")),
      "run.json");
  ASSERT_TRUE(read.ok() && read.problems().empty());
  const auto& found = std::get<scene::SurfaceDamage>(read.value().faults.front().kind);
  EXPECT_EQ(found.form, scene::DamageForm::stones_out);
  EXPECT_EQ(found.cause, scene::DamageCause::chemical_above);
  EXPECT_EQ(found.depth_mm, 6);
  EXPECT_EQ(found.arc, (base::ClockArc{10, 2, false}));
  EXPECT_EQ(scene::kind_word(read.value().faults.front()), "surface damage");
}

TEST(SurfaceDamage, GoesWithItsMaterial) {
  for (const char* form : {"stones showing", "stones standing out", "stones gone", "steel showing",
                           "steel standing out", "steel corroded"}) {
    EXPECT_THAT(lines(in("concrete", damage(form))), IsEmpty()) << form;
    EXPECT_THAT(lines(in("clay", damage(form))),
                ElementsAre(AllOf(HasSubstr("run.json:5:"), HasSubstr("in a wall of vitrified clay"),
                                  HasSubstr("concrete"))));
  }
  EXPECT_THAT(lines(in("cast iron", damage("rust"))), IsEmpty());
  EXPECT_THAT(lines(in("PVC", damage("rust"))), ElementsAre(HasSubstr("nothing rusts on a wall of PVC")));
  EXPECT_THAT(lines(in("PVC", damage("blister"))), IsEmpty());
  EXPECT_THAT(lines(in("clay", damage("dent"))), ElementsAre(HasSubstr("neither blisters nor dents")));
  EXPECT_THAT(lines(in("clay", damage("spalled"))), IsEmpty());
  EXPECT_THAT(lines(in("PVC", damage("spalled"))), ElementsAre(HasSubstr("nothing spalls")));
  EXPECT_THAT(lines(in("PVC", damage("rougher"))), IsEmpty());
}

TEST(SurfaceDamage, DoesNotGoThroughTheWallUnlessItIsGone) {
  EXPECT_THAT(lines(in("concrete", damage("stones gone", R"(, "depth_mm": 40)"))),
              ElementsAre(AllOf(HasSubstr("40 mm goes through the wall"), HasSubstr("wall gone"))));
  EXPECT_THAT(lines(in("concrete", damage("wall gone", R"(, "depth_mm": 4)"))),
              ElementsAre(HasSubstr("through its whole thickness")));
  EXPECT_THAT(lines(in("PVC", damage("blister", R"(, "depth_mm": 40)"))),
              ElementsAre(HasSubstr("a fifth of the bore")));
  EXPECT_THAT(lines(in("concrete", damage("rougher", "", "3"))), ElementsAre(HasSubstr("covers an arc")));
}

TEST(SurfaceDamage, HasACauseThatCanDoIt) {
  EXPECT_THAT(lines(in("cast iron", damage("rust", R"(, "cause": "worn")"))),
              ElementsAre(HasSubstr("nothing rusts by being worn")));
  EXPECT_THAT(lines(in("clay", damage("spalled", R"(, "cause": "chemical")"))),
              ElementsAre(HasSubstr("neither flakes")));
  EXPECT_THAT(
      lines(in("concrete", damage("stones showing", R"(, "cause": "chemical above water")", "[5, 7]"))),
      ElementsAre(AllOf(HasSubstr("warning"), HasSubstr("gas above the water"))));
  EXPECT_THAT(
      lines(in("concrete", damage("stones showing", R"(, "cause": "chemical below water")", "[9, 3]"))),
      ElementsAre(AllOf(HasSubstr("warning"), HasSubstr("at the bottom"))));
}

TEST(WallFaults, MortarPoresAndSweatAreReadAndHaveTheirWalls) {
  const std::string mortar = R"({ "kind": "missing mortar", "at_m": 3, "clock": [9, 3], "depth_mm": 12 })",
                    porous = R"({ "kind": "porous wall", "from_m": 2, "to_m": 3, "clock": [9, 3] })",
                    sweating = R"({ "kind": "sweating wall", "from_m": 2, "to_m": 3 })";
  const auto read =
      scenario_from_json(in("concrete", mortar + ",\n" + porous + ",\n" + sweating), "run.json");
  ASSERT_TRUE(read.ok() && read.problems().empty());
  EXPECT_EQ(std::get<scene::MissingMortar>(read.value().faults[0].kind).depth_mm, 12);
  EXPECT_EQ(std::get<scene::PorousWall>(read.value().faults[1].kind).to_m, 3);
  EXPECT_TRUE(std::get<scene::SweatingWall>(read.value().faults[2].kind).arc.whole);
  EXPECT_THAT(lines(in("clay", mortar)), IsEmpty());
  EXPECT_THAT(lines(in("PVC", mortar)), ElementsAre(HasSubstr("no mortar in the joints of PVC")));
  EXPECT_THAT(lines(in("clay", R"({ "kind": "missing mortar", "at_m": 3.4, "depth_mm": 12 })")),
              ElementsAre(HasSubstr("no joint at 3.4 m")));
  EXPECT_THAT(lines(in("clay", R"({ "kind": "missing mortar", "at_m": 3, "depth_mm": 90 })")),
              ElementsAre(HasSubstr("deeper than a joint")));
  EXPECT_THAT(lines(in("cast iron", porous)),
              ElementsAre(HasSubstr("no water comes through a wall of cast iron")));
  EXPECT_THAT(lines(in("PVC", sweating)), ElementsAre(HasSubstr("no water comes through")));
}

TEST(WallFaults, SpiralsNeedALengthAndStarsAPoint) {
  const auto crack = [](const std::string& more) {
    return lines(in("clay", R"({ "kind": "crack", "width_mm": 2, )" + more + " }"));
  };
  EXPECT_THAT(crack(R"("from_m": 2.2, "to_m": 2.6, "clock": [9, 5], "form": "spiral")"), IsEmpty());
  EXPECT_THAT(crack(R"("at_m": 2.5, "clock": [9, 5], "form": "spiral")"),
              ElementsAre(HasSubstr("needs a length")));
  EXPECT_THAT(crack(R"("from_m": 2.2, "to_m": 2.6, "clock": 9, "form": "spiral")"),
              ElementsAre(HasSubstr("crosses more of it")));
  EXPECT_THAT(crack(R"("at_m": 2.5, "clock": [9, 12], "form": "star")"), IsEmpty());
  EXPECT_THAT(crack(R"("from_m": 2.2, "to_m": 2.6, "clock": [9, 12], "form": "star")"),
              ElementsAre(HasSubstr("from one point")));
  EXPECT_THAT(crack(R"("at_m": 2.5, "clock": 9, "form": "star")"),
              ElementsAre(HasSubstr("as far to each side")));
}

}  // namespace
}  // namespace haunch::scenario
