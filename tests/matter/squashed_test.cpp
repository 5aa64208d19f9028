// SPDX-License-Identifier: Apache-2.0
// What lies and grows in a bore out of round, measured against the numbers that asked for it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "matter/deposit.hpp"
#include "matter/roots.hpp"
#include "matter/squashed.hpp"

namespace haunch::matter {
namespace {

using namespace scene;

struct Pressed {
  Material material;
  bool vertical;
  double percent;
};
class InASquashedBore : public testing::TestWithParam<Pressed> {
 protected:
  /// Worst from 2.0 to 4.0 m at least.
  Scene run() const {
    Scenario scenario;
    scenario.length_m = 6;
    Section section;
    section.to_m = 6;
    section.material = GetParam().material;
    section.bore_mm = 150;
    section.wall_mm = 16;
    section.unit_length_m = 6;
    scenario.sections = {section};
    scenario.faults.push_back({Squashed{1, 5, GetParam().vertical, GetParam().percent}, ""});
    return build_scene(scenario);
  }
  /// How far outside the wall a point lies, m.
  static double outside(const Scene& scene, Vec3 p) {
    const Vec2 c = centre_at(scene, p.z), from{p.x - c.x, p.y - c.y};
    return length(from) - radius_toward(bore_at(scene, p.z), 1 / length(from) * from);
  }
};

TEST_P(InASquashedBore, MatterOnTheWallTakesItsShareAndLiesOnTheWall) {
  const Scene scene = run();
  for (const AttachedKind kind : {AttachedKind::grease, AttachedKind::scale, AttachedKind::fouling})
    for (const bool whole : {false, true}) {
      const Sheet sheet = attached_sheet(scene, {2.0, 4.0, {8, 4, whole}, kind, 12}, 9);
      // Round the whole bore exactly; where only an arc is covered by how much of the bore lies before it.
      EXPECT_NEAR(lost_share(scene, sheet, sheet.rows / 2), 0.12, whole ? 0.006 : 0.03);
      for (int row = 0; row < sheet.rows; row += 7)
        for (int k = 0; k < sheet.columns; ++k) {
          const double out = outside(scene, sheet.at(row, k));
          EXPECT_LT(out, 0.0004);
          // What stands off the wall is as thick there as it says, drawn in step with the wall.
          const double thick = static_cast<double>(sheet.thick_m[sheet.index(row, k)]);
          EXPECT_NEAR(-out, thick, 0.0004 + 0.6 * thick);
        }
    }
}

TEST_P(InASquashedBore, ABedLiesAsDeepAsStatedFromWallToWall) {
  const Scene scene = run();
  const SettledBed bed = settled_bed(scene, {2.0, 4.0, SettledKind::fine, 20}, 4);
  const int row = bed.top.rows / 2;
  const double z = bed.top.at(row, 0).z;
  double sum = 0;
  for (int k = 0; k < bed.top.columns; ++k) sum += bed.top.at(row, k).y;
  const double height = crown_at(scene, z) - invert_at(scene, z);
  EXPECT_NEAR((sum / bed.top.columns - invert_at(scene, z)) / height, 0.20, 0.01);
  EXPECT_GT(outside(scene, bed.top.at(row, 0)), 0) << "it reaches a little into the wall";
  EXPECT_GT(outside(scene, bed.top.at(row, bed.top.columns - 1)), 0);
  EXPECT_LT(outside(scene, bed.top.at(row, 0)), 0.012);
  EXPECT_LT(outside(scene, bed.top.at(row, 2)), 0);
}

TEST_P(InASquashedBore, RootsFillTheirShareAndStayInside) {
  const Scene scene = run();
  for (const RootForm form : {RootForm::fine, RootForm::mass, RootForm::tap}) {
    const Roots roots{3.0, 3.3, {10, 1, false}, form, 10};
    const RootShape shape = root_shape(scene, roots, 2);
    EXPECT_NEAR(silhouette_share(scene, shape, roots.from_m), 0.10, 0.006);
    for (const StrandNode& n : shape.nodes) EXPECT_LT(outside(scene, n.at), 0.02 * 0.12);
  }
}

TEST_P(InASquashedBore, RigidPipeCracksWhereItsQuartersMeet) {
  const std::vector<Crack> cracks = cracks_of(run(), {1, 5, GetParam().vertical, GetParam().percent});
  if (GetParam().material == Material::pvc) {
    EXPECT_TRUE(cracks.empty());
    return;
  }
  ASSERT_EQ(cracks.size(), 4U);
  for (const Crack& crack : cracks) {
    const bool flattened = (crack.arc.from_h == 12 || crack.arc.from_h == 6) == GetParam().vertical;
    EXPECT_EQ(crack.width_mm > 0, flattened);
    // At the wall's face the two quarters have each turned away: the gape is the wall times both.
    if (flattened) {
      const double lost = 1 - GetParam().percent / 100;
      EXPECT_NEAR(crack.width_mm,
                  2 * 16 * std::abs(std::acos(lost * std::sqrt(0.5)) - std::acos(std::sqrt(0.5))), 1e-9);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Pipes, InASquashedBore,
                         testing::Values(Pressed{Material::pvc, true, 10}, Pressed{Material::pvc, true, 30},
                                         Pressed{Material::pvc, false, 20},
                                         Pressed{Material::concrete, true, 15},
                                         Pressed{Material::clay, false, 8}));

}  // namespace
}  // namespace haunch::matter
