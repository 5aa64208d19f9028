// SPDX-License-Identifier: Apache-2.0
// What pipes of each material are like when an author does not say more, and how bricks lie.
#include "scene/materials.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

#include "scene/brickwork.hpp"
#include "scene/runs.hpp"

namespace haunch::scene {
namespace {

TEST(Materials, AreReadByTheirOwnWords) {
  std::set<std::string> words;
  for (const Material material : all_materials()) {
    EXPECT_EQ(material_from(show(material)), material);
    words.insert(show(material));
  }
  EXPECT_EQ(words.size(), static_cast<std::size_t>(material_count));
  EXPECT_EQ(material_from("Brick"), Material::brick);
  EXPECT_EQ(material_from("pe"), Material::polyethylene);
  EXPECT_FALSE(material_from("glass"));
}

TEST(Materials, HaveLooksOfTheirOwn) {
  EXPECT_EQ(look_from("modern", Material::clay), Look::fresh);
  EXPECT_EQ(look_from("salt-glazed", Material::clay), Look::aged);
  EXPECT_EQ(look_from("scaled", Material::cast_iron), Look::aged);
  EXPECT_EQ(look_from("new", Material::concrete), Look::fresh);
  EXPECT_FALSE(look_from("scaled", Material::clay));
  EXPECT_FALSE(look_from("", Material::liner));
  for (const Material material : all_materials())
    for (const Look look : {Look::fresh, Look::aged})
      if (const std::string word = show(look, material); !word.empty()) {
        EXPECT_EQ(look_from(word, material), look);
      }
}

// From 75 to 600 mm the wall grows with the bore and never is half of it; a ring of bricks excepted.
TEST(Materials, HaveWallsForEveryBore) {
  for (const Material material : all_materials()) {
    double before = 0;
    for (double bore = 75; bore <= 600; bore += 5) {
      const double wall = usual_wall_mm(material, bore);
      EXPECT_GE(wall, before) << show(material) << ' ' << bore;
      before = wall;
      if (material != Material::brick) {
        EXPECT_GE(wall, bore / 70) << show(material) << ' ' << bore;
        EXPECT_LE(wall, bore / 5) << show(material) << ' ' << bore;
      }
    }
  }
}

// SDR 17 is the outside in walls: 110 x 6.6 and 160 x 9.5 (from memory, and what the number means).
TEST(Materials, PolyethyleneIsSeventeenWallsAcross) {
  for (const double outside : {110.0, 160.0, 250.0, 630.0}) {
    const double bore = outside * 15 / 17, wall = usual_wall_mm(Material::polyethylene, bore);
    EXPECT_NEAR((bore + 2 * wall) / wall, 17, 0.5) << outside;
  }
}

TEST(Materials, BrickworkAndLinersHaveNoJointsButWhereTheyEnd) {
  for (const Material material : {Material::brick, Material::liner}) {
    Scenario scenario = plain_run(6, 150, material);
    EXPECT_TRUE(build_scene(scenario).joints.empty()) << show(material);
    scenario.sections[0].to_m = 2;
    Section clay = scenario.sections[0];
    clay.from_m = 2, clay.to_m = 6, clay.material = Material::clay;
    scenario.sections.push_back(clay);
    const Scene scene = build_scene(scenario);
    ASSERT_EQ(scene.joints.size(), 4U);
    EXPECT_EQ(scene.joints.front().at_m, 2);
    EXPECT_TRUE(scene.joints.front().material_change);
  }
}

TEST(Materials, WeldsLeaveNoGap) {
  const Scene scene = build_scene(plain_run(13, 150, Material::polyethylene));
  ASSERT_FALSE(scene.joints.empty());
  for (const Joint& joint : scene.joints) EXPECT_EQ(joint.gap_m, 0);
}

TEST(Brickwork, CoversTheWallOnceAndBreaksItsJoints) {
  for (const double bore_mm : {75.0, 100.0, 225.0, 600.0}) {
    const int courses = brick_courses(bore_mm);
    EXPECT_EQ(courses % 2, 0) << "or two courses beside one another lie alike";
    const double wide = std::numbers::pi * bore_mm / courses;
    EXPECT_GT(wide, 55) << bore_mm;
    EXPECT_LT(wide, 95) << bore_mm;
    for (int course = 0; course < courses; ++course) {
      const BrickPlace place = place_of(bore_mm, {course, 7});
      const Brick found = brick_at(bore_mm, place.z_m, place.angle);
      EXPECT_EQ(found.course, course);
      EXPECT_EQ(found.row, 7);
      // Just past its head lies the next one; the course beside it goes on past that joint.
      EXPECT_EQ(brick_at(bore_mm, place.z_m + 0.51 * brick_pitch_m, place.angle).row, 8);
      const double beside = place.angle + place.width_m / (bore_mm / 2000);
      const double head = place.z_m + brick_pitch_m / 2;
      EXPECT_EQ(brick_at(bore_mm, head - 0.04, beside).row, brick_at(bore_mm, head + 0.04, beside).row);
    }
  }
}

}  // namespace
}  // namespace haunch::scene
