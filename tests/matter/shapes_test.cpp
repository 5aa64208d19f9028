// SPDX-License-Identifier: Apache-2.0
// The matter of faults measured against the numbers that asked for it. Every check is ours: a shape
// must have the size its scenario states.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/branch.hpp"
#include "matter/deposit.hpp"
#include "matter/noise.hpp"
#include "matter/roots.hpp"
#include "matter/wall.hpp"

namespace haunch::matter {
namespace {

using namespace scene;

constexpr double pi = std::numbers::pi;

Scene plain_run(double bore_mm) {
  Scenario scenario;
  scenario.length_m = 6;
  Section section;
  section.to_m = 6;
  section.bore_mm = bore_mm;
  section.unit_length_m = 1;
  section.first_joint_m = 1;
  scenario.sections = {section};
  return build_scene(scenario);
}

class RootCover : public testing::TestWithParam<std::tuple<RootForm, double, double>> {};

TEST_P(RootCover, CoversItsShareOfTheBore) {
  const auto [form, percent, bore_mm] = GetParam();
  const Scene scene = plain_run(bore_mm);
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    Roots roots{2.0, 2.3, {10, 1, false}, form, percent};
    const RootShape shape = root_shape(scene, roots, seed);
    EXPECT_NEAR(silhouette_share(scene, shape, roots.from_m), percent / 100, 0.005);
    EXPECT_NEAR(shape.covered_share, percent / 100, 0.005);
    const double radius = radius_at(scene, 2.0);
    for (const Strand& s : shape.strands)
      for (int i = s.first; i < s.first + s.count; ++i) {
        const StrandNode& n = shape.nodes[static_cast<std::size_t>(i)];
        const Vec2 c = centre_at(scene, n.at.z);
        EXPECT_LT(length(Vec2{n.at.x - c.x, n.at.y - c.y}), 1.02 * radius);
        EXPECT_GT(n.at.z, roots.from_m - 0.03);
        EXPECT_LT(n.at.z, roots.to_m + 0.03);
      }
  }
}

INSTANTIATE_TEST_SUITE_P(
    Forms, RootCover,
    testing::Values(std::tuple{RootForm::fine, 4.0, 150.0}, std::tuple{RootForm::fine, 12.0, 100.0},
                    std::tuple{RootForm::mass, 30.0, 150.0}, std::tuple{RootForm::mass, 75.0, 100.0},
                    std::tuple{RootForm::tap, 8.0, 100.0}, std::tuple{RootForm::tap, 20.0, 225.0}));

TEST(RootShape, SameSeedSameStrandsOtherSeedOtherStrands) {
  const Scene scene = plain_run(150);
  const Roots roots{2.0, 2.3, {9, 12, false}, RootForm::fine, 4};
  const RootShape a = root_shape(scene, roots, 5), b = root_shape(scene, roots, 5),
                  c = root_shape(scene, roots, 6);
  ASSERT_EQ(a.nodes.size(), b.nodes.size());
  for (std::size_t i = 0; i < a.nodes.size(); ++i) EXPECT_EQ(a.nodes[i].at, b.nodes[i].at);
  EXPECT_FALSE(a.nodes[5].at == c.nodes[5].at);
}

TEST(CrackShape, AlongRunsItsLengthAndIsAsWideAsStated) {
  const Crack crack{1.0, 1.8, {10, 10, false}, CrackForm::along, 3.0};
  const CrackShape shape = crack_shape(crack, 0.075, 11);
  ASSERT_EQ(shape.lines.size(), 1U);
  const auto& nodes = shape.lines[0].nodes;
  EXPECT_DOUBLE_EQ(nodes.front().z_m, 1.0);
  EXPECT_DOUBLE_EQ(nodes.back().z_m, 1.8);
  double widest = 0;
  std::vector<double> middle;
  for (const CrackNode& n : nodes) {
    widest = std::max(widest, n.width_m);
    if (n.z_m > 1.2 && n.z_m < 1.6) middle.push_back(n.width_m);
    EXPECT_NEAR(n.angle, 300 * pi / 180, 0.2);  // 10 o'clock
  }
  EXPECT_NEAR(widest, 0.003, 1e-9);
  std::nth_element(middle.begin(), middle.begin() + static_cast<std::ptrdiff_t>(middle.size() / 2),
                   middle.end());
  EXPECT_NEAR(middle[middle.size() / 2], 0.003, 0.0011);
  // It wanders, so the path is longer than the straight line, but it is no zigzag.
  const double path = length_m(shape.lines[0], 0.075);
  EXPECT_GT(path, 0.8 * 1.005);
  EXPECT_LT(path, 0.8 * 1.35);
}

TEST(CrackShape, AroundSpansItsArcAndClosesWhenWhole) {
  const Crack part{2.0, 2.0, {2, 5, false}, CrackForm::around, 0};
  const auto nodes = crack_shape(part, 0.05, 3).lines[0].nodes;
  EXPECT_NEAR(nodes.front().angle, 60 * pi / 180, 1e-9);
  EXPECT_NEAR(nodes.back().angle, 150 * pi / 180, 1e-9);
  for (const CrackNode& n : nodes) {
    EXPECT_NEAR(n.z_m, 2.0, 0.02);
    EXPECT_EQ(n.width_m, 0);
  }
  const Crack whole{2.0, 2.0, {12, 12, true}, CrackForm::around, 1};
  const auto ring = crack_shape(whole, 0.05, 3).lines[0].nodes;
  EXPECT_NEAR(ring.front().z_m, ring.back().z_m, 1e-5);
  EXPECT_NEAR(ring.back().angle - ring.front().angle, 2 * pi, 1e-9);
}

// A ring as even as a joint would pass for one.
TEST(CrackShape, AroundIsNoEvenRing) {
  for (const std::uint64_t seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
    const auto nodes =
        crack_shape({2.0, 2.0, {12, 12, true}, CrackForm::around, 2}, 0.1, seed).lines[0].nodes;
    double low = 1e9, high = -1e9, turned = 0;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      low = std::min(low, nodes[i].z_m), high = std::max(high, nodes[i].z_m);
      if (i > 0) turned += std::abs(nodes[i].z_m - nodes[i - 1].z_m);
    }
    EXPECT_GT(high - low, 0.018) << seed;
    EXPECT_LT(high - low, 0.070) << seed;
    // It goes to and fro, not just askew.
    EXPECT_GT(turned, 3 * (high - low)) << seed;
  }
}

TEST(CrackShape, BranchingFillsItsArcAndStretch) {
  const Crack crack{1.0, 1.5, {9, 1, false}, CrackForm::branching, 4};
  for (const std::uint64_t seed : {1U, 2U, 3U, 4U}) {
    const CrackShape shape = crack_shape(crack, 0.075, seed);
    EXPECT_GE(shape.lines.size(), 4U);
    double a0 = 1e9, a1 = -1e9, z0 = 1e9, z1 = -1e9;
    for (const CrackLine& line : shape.lines)
      for (const CrackNode& n : line.nodes) {
        a0 = std::min(a0, n.angle), a1 = std::max(a1, n.angle);
        z0 = std::min(z0, n.z_m), z1 = std::max(z1, n.z_m);
      }
    EXPECT_NEAR(a0, 270 * pi / 180, 0.15);
    EXPECT_NEAR(a1, 390 * pi / 180, 0.15);
    EXPECT_NEAR(z0, 1.0, 0.012);
    EXPECT_NEAR(z1, 1.5, 0.012);
  }
}

TEST(HoleOutline, HasTheStatedLengthAndWidth) {
  for (const std::uint64_t seed : {1U, 2U, 3U, 4U, 5U}) {
    const WallOutline o = hole_outline({2.0, 4, 80, 50, Behind::soil}, 0.075, seed);
    double x0 = 1, x1 = -1, y0 = 1, y1 = -1;
    for (const Vec2& c : o.corners) {
      x0 = std::min(x0, c.x), x1 = std::max(x1, c.x);
      y0 = std::min(y0, c.y), y1 = std::max(y1, c.y);
    }
    EXPECT_NEAR(x1 - x0, 0.080, 1e-9);
    EXPECT_NEAR(y1 - y0, 0.050, 1e-9);
    // Broken, but still mostly hole: an ellipse would fill 0.785 of its box.
    EXPECT_GT(area_m2(o) / (0.080 * 0.050), 0.55);
    EXPECT_LT(area_m2(o) / (0.080 * 0.050), 0.90);
    EXPECT_LT(edge_distance_m(o, {0, 0}), 0);
    EXPECT_GT(edge_distance_m(o, {0.041, 0}), 0);
  }
}

TEST(SettledBed, TopLiesAtTheStatedDepthInTheMiddleAndTapers) {
  const Scene scene = plain_run(150);
  for (const SettledKind kind : {SettledKind::fine, SettledKind::coarse, SettledKind::hard}) {
    const Settled settled{1.0, 3.0, kind, 20};
    const SettledBed bed = settled_bed(scene, settled, 4);
    const auto mean_depth = [&](int row) {
      double sum = 0;
      for (int k = 0; k < bed.top.columns; ++k) sum += bed.top.at(row, k).y;
      const double z = bed.top.at(row, 0).z;
      return (sum / bed.top.columns - invert_at(scene, z)) / 0.150;
    };
    double middle = 0;
    int counted = 0;
    for (int row = 0; row < bed.top.rows; ++row) {
      const double z = bed.top.at(row, 0).z;
      if (z < 1.6 || z > 2.4) continue;
      middle += mean_depth(row);
      ++counted;
    }
    EXPECT_NEAR(middle / counted, 0.20, 0.005);
    EXPECT_NEAR(mean_depth(0), 0, 0.005);
    EXPECT_NEAR(mean_depth(bed.top.rows - 1), 0, 0.005);
    EXPECT_EQ(bed.stones.empty(), kind != SettledKind::coarse);
  }
}

TEST(AttachedSheet, TakesTheStatedShareOfTheBoreInTheMiddle) {
  const Scene scene = plain_run(100);
  for (const AttachedKind kind : {AttachedKind::grease, AttachedKind::scale, AttachedKind::fouling})
    for (const double percent : {2.0, 15.0, 40.0})
      for (const bool whole : {false, true}) {
        const Attached attached{1.0, 2.5, {8, 4, whole}, kind, percent};
        const Sheet sheet = attached_sheet(scene, attached, 9);
        EXPECT_NEAR(lost_share(scene, sheet, sheet.rows / 2), percent / 100, 0.006) << percent << whole;
        EXPECT_NEAR(lost_share(scene, sheet, 0), 0, 0.004);
      }
}

// No ring, no straight cut: where it begins differs by centimetres from place to place, nothing stands
// higher there than farther in, and towards the sides of its arc it thins out.
TEST(AttachedSheet, BeginsRaggedlyAndThinsOutAtItsSides) {
  const Scene scene = plain_run(150);
  for (const AttachedKind kind : {AttachedKind::grease, AttachedKind::scale, AttachedKind::fouling}) {
    const Attached attached{1.0, 2.5, {9, 3, false}, kind, 15};
    const Sheet sheet = attached_sheet(scene, attached, 9);
    const auto thick = [&](int row, int column) {
      return static_cast<double>(
          sheet.thick_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(sheet.columns) +
                        static_cast<std::size_t>(column)]);
    };
    double most = 0, most_ahead = 0, side = 0, middle = 0;
    for (int row = 0; row < sheet.rows; ++row) {
      const double in = sheet.at(row, 0).z - attached.from_m;
      for (int k = 0; k < sheet.columns; ++k)
        (in < 0.12 ? most_ahead : most) = std::max(in < 0.12 ? most_ahead : most, thick(row, k));
      if (in < 0.4 || in > 1.1) continue;
      for (int k = 0; k < 3; ++k) side += thick(row, k) + thick(row, sheet.columns - 1 - k);
      for (int k = 0; k < 6; ++k) middle += thick(row, sheet.columns / 2 - 3 + k);
    }
    EXPECT_LT(most_ahead, 1.05 * most);
    EXPECT_LT(side, 0.15 * middle);
    std::vector<double> begins;
    for (int k = sheet.columns / 4; k < sheet.columns * 3 / 4; ++k)
      for (int row = 0; row < sheet.rows; ++row)
        if (thick(row, k) > 0.001) {
          begins.push_back(sheet.at(row, k).z);
          break;
        }
    ASSERT_GT(begins.size(), 10U);
    const auto [first, last] = std::minmax_element(begins.begin(), begins.end());
    EXPECT_GT(*last - *first, 0.03);
    EXPECT_LT(*first, 1.06);  // and it does begin where it is said to
  }
}

TEST(BranchShape, OpensTheWallAsWideAsItsBore) {
  const BranchShape branch = branch_shape({2.0, 3, 100, Fitting::branch, 0, false}, 0.075, 1);
  EXPECT_TRUE(wall_missing(branch, 0.075, 2.0, pi / 2));
  EXPECT_TRUE(wall_missing(branch, 0.075, 2.049, pi / 2));
  EXPECT_FALSE(wall_missing(branch, 0.075, 2.051, pi / 2));
  EXPECT_TRUE(wall_missing(branch, 0.075, 2.0, pi / 2 + std::asin(0.049 / 0.075)));
  EXPECT_FALSE(wall_missing(branch, 0.075, 2.0, pi / 2 + std::asin(0.051 / 0.075)));
  EXPECT_FALSE(wall_missing(branch, 0.075, 2.0, 3 * pi / 2));  // the far side is whole
}

TEST(BranchShape, ReachesInByTheStatedShareOfTheBore) {
  EXPECT_NEAR(branch_shape({2.0, 3, 70, Fitting::saddle, 18, false}, 0.075, 1).reach_in_m, 0.027, 1e-12);
}

TEST(BranchShape, CutInByHandLeavesABrokenHoleAroundThePipe) {
  const BranchShape branch = branch_shape({2.0, 2, 60, Fitting::cut_in, 0, false}, 0.075, 7);
  ASSERT_FALSE(branch.broken_edge.corners.empty());
  EXPECT_GT(area_m2(branch.broken_edge), pi * 0.033 * 0.033);
}

}  // namespace
}  // namespace haunch::matter
