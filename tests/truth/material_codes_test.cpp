// SPDX-License-Identifier: Apache-2.0
// What the header says of each material, and what is written where one meets another, from both ends.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <string>

#include "coding/code_list.hpp"
#include "scene/materials.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using scene::Material;

// The letters as the list of codes names the materials.
const std::map<Material, std::string> letters{
    {Material::clay, "AE"},        {Material::pvc, "AX"},          {Material::cast_iron, "AM"},
    {Material::concrete, "AG"},    {Material::brick, "AD"},        {Material::polyethylene, "AV"},
    {Material::pitch_fibre, "AC"}, {Material::fibre_cement, "AK"}, {Material::liner, "AU"}};

TEST(MaterialCodes, StandInTheHeader) {
  for (const Material material : scene::all_materials()) {
    const Truth truth = derive(scene::build_scene(scene::plain_run(10, 150, material)));
    const std::string code = truth.record.header_value("ACD").value_or("");
    EXPECT_EQ(code, letters.at(material)) << scene::show(material);
    const auto* named = coding::CodeList::shipped().material(code);
    ASSERT_NE(named, nullptr);
    EXPECT_EQ(named->stiffness == "flexible", scene::is_flexible(material)) << named->name;
    EXPECT_EQ(truth.record.header_value("ACE").value_or(""), material == Material::liner ? "C" : "");
    EXPECT_EQ(truth.record.header_value("ACF").value_or(""), material == Material::liner ? "AU" : "");
    EXPECT_EQ(truth.record.header_value("ACG").has_value(), scene::has_joints(material));
  }
}

TEST(MaterialCodes, AChangeNamesWhatTheCameraGoesInto) {
  for (const Material after : scene::all_materials()) {
    if (after == Material::clay) continue;
    scene::Scenario scenario = scene::plain_run(10, 150);
    scenario.sections[0].to_m = 4;
    scene::Section next = scenario.sections[0];
    next.from_m = 4, next.to_m = 10, next.material = after;
    scenario.sections.push_back(next);
    for (const bool up : {false, true}) {
      if (up) scenario.inspection.from = scenario.inspection.distance_zero = scene::End::end;
      const Truth truth = derive(scene::build_scene(scenario));
      int changes = 0;
      for (const coding::Observation& row : truth.record.observations) {
        if (row.code != "AED") continue;
        ++changes;
        EXPECT_EQ(row.ch1, up ? "AE" : letters.at(after)) << scene::show(after);
        EXPECT_NEAR(*row.distance_m.value, up ? 6 : 4, 1e-9);
      }
      EXPECT_EQ(changes, 1) << scene::show(after);
    }
  }
}

}  // namespace
}  // namespace haunch::truth
