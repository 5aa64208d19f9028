// SPDX-License-Identifier: Apache-2.0
// The shipped code list, held against the outside lists where they are at hand.
#include "coding/code_list.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "base/files.hpp"

namespace haunch::coding {
namespace {

TEST(CodeList, TheShippedListIsWhole) {
  const CodeList& list = CodeList::shipped();
  EXPECT_EQ(list.codes().size(), 43U);
  EXPECT_EQ(list.materials().size(), 27U);
  EXPECT_EQ(list.shapes().size(), 8U);
  EXPECT_EQ(list.nodes().size(), 8U);
  EXPECT_EQ(list.header_fields().size(), 61U);
  ASSERT_NE(list.material("AE"), nullptr);
  EXPECT_EQ(list.material("AE")->stiffness, "rigid");
  EXPECT_EQ(list.material("AX")->stiffness, "flexible");
  EXPECT_EQ(list.material("QQ"), nullptr);
  EXPECT_EQ(list.find("BAQ"), nullptr);
  EXPECT_EQ(list.find("AED")->ch1.size(), 27U) << "the value of a change of material is a material";
}

TEST(CodeList, EveryRuleSaysHowSolidItIs) {
  for (const CodeEntry& entry : CodeList::shipped().codes()) {
    EXPECT_EQ(entry.clock_solid == Solid::sourced, entry.code == "BCA") << entry.code;
    if (entry.q1) {
      EXPECT_EQ(entry.q1->solid == Solid::sourced, entry.code == "BCA") << entry.code;
    }
  }
}

TEST(CodeList, UnitsFollowTheCharacterisation) {
  const QuantityRule& step = *CodeList::shipped().find("BAJ")->q1;
  EXPECT_EQ(step.unit_for("A"), "mm");
  EXPECT_EQ(step.unit_for("C"), "degree");
  EXPECT_EQ(CodeList::shipped().find("BBA")->q1->unit_for("A"), "%");
}

TEST(CodeList, RequiredInWords) {
  const QuantityRule& crack = *CodeList::shipped().find("BAB")->q1;
  EXPECT_FALSE(crack.is_required("A", false));
  EXPECT_TRUE(crack.is_required("B", false));
  const QuantityRule& hole = *CodeList::shipped().find("BAC")->q1;
  EXPECT_TRUE(hole.is_required("B", false));
  EXPECT_FALSE(hole.is_required("B", true));
  EXPECT_FALSE(hole.is_required("C", false));
  const QuantityRule& ring = *CodeList::shipped().find("BAI")->q1;
  EXPECT_FALSE(ring.is_required("A", false, "A")) << "out of place but not reaching in";
  EXPECT_TRUE(ring.is_required("A", false, "B"));
  EXPECT_TRUE(ring.is_required("Z", false));
  const QuantityRule& bricks = *CodeList::shipped().find("BAD")->q1;
  EXPECT_TRUE(bricks.is_required("C", false));
  EXPECT_FALSE(bricks.is_required("A", false));
  EXPECT_FALSE(CodeList::shipped().find("BDF")->q1->is_required("A", false));
}

TEST(CodeList, ClockRulesByCharacterisation) {
  const CodeEntry& joint = *CodeList::shipped().find("BAJ");
  EXPECT_EQ(joint.clock_for("A"), ClockRule::none);
  EXPECT_EQ(joint.clock_for("B"), ClockRule::one);
  EXPECT_EQ(joint.clock_for("?"), ClockRule::optional);
  EXPECT_EQ(CodeList::shipped().find("BCA")->clock_for("A"), ClockRule::one);
}

TEST(CodeList, Kinship) {
  const CodeList& list = CodeList::shipped();
  EXPECT_EQ(list.kinship("BAB", "BAB"), 0);
  EXPECT_EQ(list.kinship("BAB", "BAC"), 1);
  EXPECT_EQ(list.kinship("BAB", "BBA"), 2);
  EXPECT_EQ(list.kinship("XYZ", "XYA"), 2);
  for (const CodeEntry& a : list.codes())
    for (const CodeEntry& b : list.codes())
      EXPECT_EQ(list.kinship(a.code, b.code), list.kinship(b.code, a.code));
}

TEST(CodeList, ABadListIsToldWithPlaces) {
  const auto path =
      std::filesystem::temp_directory_path() / ("haunch-codes-" + std::to_string(::getpid()) + ".json");
  std::ofstream(path) << R"({"kind": "code-list", "edition": 1, "title": "t", "standard": "s",
"codes": [{"code": "BAB", "name": "n", "group": "fabric", "clock": "none", "clock_solid": "memory", "joint": "no", "continuous": true},
{"code": "BAB", "name": "n", "group": "fabric", "clock": "none", "clock_solid": "memory", "joint": "no", "continuous": true}],
"materials": [], "shapes": [], "nodes": [], "header_fields": []})";
  const auto twice = CodeList::read(path);
  ASSERT_EQ(twice.problems().size(), 1U);
  EXPECT_EQ(twice.problems()[0].place.line, 3);
  EXPECT_EQ(twice.problems()[0].what, "the code BAB is in the list twice");
  std::ofstream(path) << R"({"kind": "code-list", "edition": 1, "title": "t", "standard": "s",
"codes": [{"code": "bab", "nam": "n", "group": "fabrik", "clock": "nine", "clock_solid": "memory", "joint": "no", "continuous": 1}],
"materials": [], "shapes": [], "nodes": [], "header_fields": []})";
  EXPECT_GE(CodeList::read(path).problems().size(), 5U) << "all at once";
  std::filesystem::remove(path);
  EXPECT_FALSE(CodeList::read(path).ok());
}

}  // namespace
}  // namespace haunch::coding
