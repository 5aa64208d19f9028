// SPDX-License-Identifier: Apache-2.0
// Observations as sentences.
#include <gtest/gtest.h>

#include "coding/code_list.hpp"
#include "coding/observation.hpp"

namespace haunch::coding {
namespace {

std::string said(const Observation& one) { return in_words(one, CodeList::shipped()); }

Observation make(std::string code, std::string ch1 = {}, std::string ch2 = {}, Number q1 = {}) {
  Observation one;
  one.code = std::move(code);
  one.ch1 = std::move(ch1);
  one.ch2 = std::move(ch2);
  one.q1 = std::move(q1);
  return one;
}

TEST(InWords, ACrack) {
  Observation one = make("BAB", "B", "A", 0.8);
  one.clock_from = 12;
  one.at_joint = true;
  EXPECT_EQ(said(one),
            "Fissure: crack, open line but pieces in place; along the pipe; 0.8 mm wide; at 12 o'clock; at a "
            "joint");
}

TEST(InWords, ClocksAndRuns) {
  Observation one = make("BBA", "B", "", 4);
  one.clock_from = 9;
  one.clock_to = 12;
  one.stretch = "A2";
  EXPECT_EQ(said(one),
            "Roots: fine roots; 4 % of the cross-section; from 9 to 12 o'clock; stretch 2 begins here");
  one.clock_from = 12;
  one.stretch = "B2";
  EXPECT_EQ(said(one), "Roots: fine roots; 4 % of the cross-section; all the way round; stretch 2 ends here");
  one.clock_from = one.clock_to = 3;
  one.stretch = "Q";
  EXPECT_EQ(said(one), "Roots: fine roots; 4 % of the cross-section; at 3 o'clock; stretch \"Q\"");
}

TEST(InWords, UnitsByCharacterisation) {
  EXPECT_EQ(said(make("BAJ", "B", "", 14)), "Displaced joint: shifted sideways, a step; 14 mm step");
  EXPECT_EQ(said(make("BAJ", "C", "", 3)), "Displaced joint: bent at an angle; 3 degrees");
  EXPECT_EQ(said(make("BAJ", "C", "", 1)), "Displaced joint: bent at an angle; 1 degree");
  EXPECT_EQ(said(make("BBH", "A", "A", 2)), "Vermin: rat; in the pipe; 2 seen");
}

TEST(InWords, MaterialsNodesAndWater) {
  EXPECT_EQ(said(make("AED", "AX")), "Change of material: PVC-U");
  EXPECT_EQ(said(make("BCD", "A")), "Start node: manhole");
  EXPECT_EQ(said(make("BDD", "C", "", 30)), "Water level: cloudy; 30 % of the pipe's height");
}

TEST(InWords, WhatTheListDoesNotKnow) {
  EXPECT_EQ(said(make("XYZ", "A")), "XYZ A (not a known code)");
  EXPECT_EQ(said(make("BBA", "Q")), "Roots: \"Q\" (not in the list)");
  Observation one = make("BCD", "X", "P", Number::from_text("2925/a"));
  one.remark = " cover in the verge";
  EXPECT_EQ(
      said(one),
      "Start node: kind defined by the client; \"P\" (not in the list); 2925/a; \"cover in the verge\"");
}

TEST(ShowCode, CodeAndCharacterisations) {
  EXPECT_EQ(show_code(make("BAB", "B", "A")), "BAB B A");
  EXPECT_EQ(show_code(make("BAN")), "BAN");
  EXPECT_EQ(show_code(make("BBA", "C")), "BBA C");
  EXPECT_EQ(show_code(make("BAB", "", "A")), "BAB - A");
}

}  // namespace
}  // namespace haunch::coding
