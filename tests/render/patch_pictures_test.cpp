// SPDX-License-Identifier: Apache-2.0
// Damage of the surface in pictures: it differs from the sound wall, is as large as stated, looks the same
// from everywhere by the same rules, and costs no thread its own picture.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;
using scene::DamageCause;
using scene::DamageForm;
using scene::Material;
using scene::SurfaceDamage;

View plain_view(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.width = 640;
  view.height = 360;
  view.noise = view.lens_effects = false;
  return view;
}

class Patch : public testing::TestWithParam<std::pair<Material, scene::FaultKind>> {};

TEST_P(Patch, StandsOutAndIsAsLargeAsStated) {
  const auto& [material, kind] = GetParam();
  const scene::Stretch damage = scene::stretch_of({kind, ""});
  const scene::Scene run = with(straight_run(material), kind);
  Renderer renderer(run, 2);
  View view = plain_view(run, damage.from_m - 0.15);
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  const render_test::Pinhole pinhole(view.pose, view.width, view.height);
  double first = 1e9, last = -1e9, low = 1e9, high = -1e9;
  long pixels = 0, differ = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++pixels;
    int most = 0;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      most = std::max(most, std::abs(frame.rgb[k] - sound.rgb[k]));
    differ += most > 12 ? 1 : 0;
    const auto w = static_cast<std::size_t>(view.width);
    const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                               pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                                 static_cast<double>(i / w) + 0.5);
    const scene::Vec2 c = scene::centre_at(run, p.z);
    double angle = std::atan2(p.x - c.x, p.y - c.y);
    first = std::min(first, p.z), last = std::max(last, p.z);
    low = std::min(low, angle), high = std::max(high, angle);
  }
  ASSERT_GT(pixels, 2000);
  EXPECT_GT(static_cast<double>(differ) / static_cast<double>(pixels), 0.35);
  // Ragged by some 16 mm at most, and flakes leave islands.
  EXPECT_NEAR(first, damage.from_m, 0.02);
  EXPECT_NEAR(last, damage.to_m, 0.02);
  const double radius = scene::radius_at(run, damage.from_m), half = 2 * std::numbers::pi / 6;
  EXPECT_NEAR(low * radius, -half * radius, 0.02);
  EXPECT_NEAR(high * radius, half * radius, 0.02);
}
using Row = std::pair<Material, scene::FaultKind>;
SurfaceDamage upper(DamageForm form, DamageCause cause = DamageCause::unclear) {
  return {4.3, 4.5, {10, 2, false}, form, cause, 0};
}
INSTANTIATE_TEST_SUITE_P(
    Forms, Patch,
    testing::Values(Row{Material::concrete, upper(DamageForm::rougher, DamageCause::worn)},
                    Row{Material::clay, upper(DamageForm::rougher)},
                    Row{Material::clay, upper(DamageForm::spalled)},
                    Row{Material::concrete, upper(DamageForm::spalled)},
                    Row{Material::concrete, upper(DamageForm::stones_showing)},
                    Row{Material::concrete, upper(DamageForm::stones_out, DamageCause::chemical_above)},
                    Row{Material::concrete, upper(DamageForm::stones_gone)},
                    Row{Material::concrete, upper(DamageForm::steel_showing)},
                    Row{Material::concrete, upper(DamageForm::steel_out)},
                    Row{Material::concrete, upper(DamageForm::steel_corroded)},
                    Row{Material::concrete, upper(DamageForm::wall_gone)},
                    Row{Material::cast_iron, upper(DamageForm::rust)},
                    Row{Material::concrete, scene::PorousWall{4.3, 4.5, {10, 2, false}}},
                    Row{Material::clay, scene::PorousWall{4.3, 4.5, {10, 2, false}}},
                    Row{Material::concrete, scene::SweatingWall{4.3, 4.5, {10, 2, false}}},
                    Row{Material::clay, scene::SweatingWall{4.3, 4.5, {10, 2, false}}},
                    Row{Material::cast_iron, upper(DamageForm::wall_gone)}));

// The ground behind the wall is darker than the wall that would stand there.
TEST(PatchPicture, WhereTheWallIsGoneOneLooksIntoTheGround) {
  const scene::Scene run = with(straight_run(Material::concrete), upper(DamageForm::wall_gone));
  Renderer renderer(run, 2);
  View view = plain_view(run, 4.15);
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  double ground = 0, wall = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i)
    if (frame.fault[i] == 1) ground += frame.rgb[3 * i + 1], wall += sound.rgb[3 * i + 1];
  EXPECT_LT(ground, 0.72 * wall);
}

// What stands out of the wall has sides that face the lamp and sides that do not: the brightness of a
// stretch of bulging wall varies more than that of the sound one.
TEST(PatchPicture, ABlisterHasALitAndADarkSide) {
  const SurfaceDamage damage{4.3, 4.36, {11, 1, false}, DamageForm::blister, DamageCause::unclear, 10};
  const scene::Scene run = with(straight_run(Material::pvc), damage);
  Renderer renderer(run, 2);
  View view = plain_view(run, 4.1);
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  long brighter = 0, darker = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    brighter += frame.rgb[3 * i] > 1.15 * sound.rgb[3 * i] ? 1 : 0;
    darker += frame.rgb[3 * i] < 0.9 * sound.rgb[3 * i] ? 1 : 0;
  }
  EXPECT_GT(brighter, 60);
  EXPECT_GT(darker, 50);
}

// A bulge hides the wall beyond it, a dent lies farther off than the wall did; either is plain to see at its
// usual height.
class Bent : public testing::TestWithParam<DamageForm> {};
TEST_P(Bent, StandsBeforeOrBehindTheSoundWall) {
  const bool bulge = GetParam() == DamageForm::blister;
  const SurfaceDamage damage{4.3, 4.5, {9, 12, false}, GetParam(), DamageCause::unclear, 0};
  const scene::Scene run = with(straight_run(Material::pvc), damage);
  Renderer renderer(run, 2);
  View view = plain_view(run, 4.05);
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  long pixels = 0, plain = 0, nearer = 0, farther = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++pixels;
    plain += std::abs(frame.rgb[3 * i] - sound.rgb[3 * i]) > 25 ? 1 : 0;
    nearer += frame.depth_m[i] < sound.depth_m[i] - 0.02F ? 1 : 0;
    farther += frame.depth_m[i] > sound.depth_m[i] + 0.005F ? 1 : 0;
  }
  EXPECT_GT(pixels, 1000);
  EXPECT_GT(static_cast<double>(plain) / static_cast<double>(pixels), 0.15);
  EXPECT_GT(bulge ? nearer : farther, 200);
  EXPECT_EQ(bulge ? farther : nearer, 0);
}
INSTANTIATE_TEST_SUITE_P(Forms, Bent, testing::Values(DamageForm::blister, DamageForm::dent));

struct Drawn {
  Frame frame, sound;
};
Drawn drawn(Material material, const scene::FaultKind& kind, double lens_z_m = 4.15) {
  const scene::Scene run = with(straight_run(material), kind);
  Renderer renderer(run, 2);
  View view = plain_view(run, lens_z_m);
  Drawn both;
  both.frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  both.sound = renderer.draw(view);
  return both;
}

// Damage does not end at a line: about its edge islands of it lie in the sound wall.
class Fades : public testing::TestWithParam<DamageForm> {};
TEST_P(Fades, IntoTheSoundWallInIslands) {
  const Frame frame = drawn(Material::concrete, upper(GetParam())).frame;
  const auto w = static_cast<std::size_t>(frame.width);
  std::vector<char> seen(frame.fault.size(), 0);
  int islands = 0;
  for (std::size_t start = 0; start < seen.size(); ++start) {
    if (seen[start] || frame.fault[start] != 1) continue;
    std::vector<std::size_t> open{start};
    seen[start] = 1;
    std::size_t size = 0;
    while (!open.empty()) {
      const std::size_t at = open.back();
      open.pop_back();
      ++size;
      for (const std::size_t next : {at - 1, at + 1, at - w, at + w})
        if (next < seen.size() && !seen[next] && frame.fault[next] == 1) seen[next] = 1, open.push_back(next);
    }
    islands += size >= 3 ? 1 : 0;
  }
  EXPECT_GE(islands, 7);
}
INSTANTIATE_TEST_SUITE_P(Forms, Fades,
                         testing::Values(DamageForm::rougher, DamageForm::spalled, DamageForm::stones_showing,
                                         DamageForm::stones_out, DamageForm::stones_gone));

// Steel that shows is grey-brown, steel that is eaten away is red with rust.
TEST(PatchPicture, CorrodedSteelIsFarRedderThanSteelThatShows) {
  const auto red = [](DamageForm form) {
    const Frame frame = drawn(Material::concrete, upper(form)).frame;
    long rusty = 0, all = 0;
    for (std::size_t i = 0; i < frame.fault.size(); ++i) {
      if (frame.fault[i] != 1) continue;
      ++all;
      rusty += frame.rgb[3 * i] > 30 && frame.rgb[3 * i] > 1.7 * frame.rgb[3 * i + 2] ? 1 : 0;
    }
    return static_cast<double>(rusty) / static_cast<double>(all);
  };
  EXPECT_LT(red(DamageForm::steel_showing), 0.05);
  EXPECT_LT(red(DamageForm::steel_out), 0.10);
  EXPECT_GT(red(DamageForm::steel_corroded), 0.15);
}

// Water that comes through a wall leaves it the wall it was: its own grain shows through what is wet.
class Wet : public testing::TestWithParam<scene::FaultKind> {};
TEST_P(Wet, WallIsStillTheWall) {
  const auto [frame, sound] = drawn(Material::concrete, GetParam());
  double both = 0, own = 0;
  for (std::size_t i = 0; i + 1 < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1 || frame.fault[i + 1] != 1) continue;
    const double was = sound.rgb[3 * i + 4] - sound.rgb[3 * i + 1],
                 is = frame.rgb[3 * i + 4] - frame.rgb[3 * i + 1];
    both += was * is, own += was * was;
  }
  EXPECT_GT(both / own, 0.25);
}
INSTANTIATE_TEST_SUITE_P(Kinds, Wet,
                         testing::Values(scene::PorousWall{4.3, 4.5, {10, 2, false}},
                                         scene::SweatingWall{4.3, 4.5, {10, 2, false}}));

// Where mortar is gone the line of the joint is a dark groove, on its arc and nowhere else.
class Mortar : public testing::TestWithParam<Material> {};
TEST_P(Mortar, IsGoneFromItsArcOnly) {
  const scene::Scene run = with(straight_run(GetParam()), scene::MissingMortar{5, {10, 2, false}, 14});
  Renderer renderer(run, 2);
  View view = plain_view(run, 4.82);
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  double gone = 0, was = 0;
  long pixels = 0, low = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++pixels;
    low += i / static_cast<std::size_t>(view.width) > 200 ? 1 : 0;
    gone += frame.rgb[3 * i + 1], was += sound.rgb[3 * i + 1];
  }
  EXPECT_GT(pixels, 400);
  EXPECT_EQ(low, 0);
  EXPECT_LT(gone, 0.75 * was);
}
INSTANTIATE_TEST_SUITE_P(Materials, Mortar, testing::Values(Material::clay, Material::concrete));

// A star's legs reach the sides of its arc; a spiral the ends of its stretch and its whole arc.
TEST(CrackPicture, SpiralsAndStarsAreAsLargeAsStated) {
  const auto extent = [](const scene::Crack& crack) {
    const scene::Scene run = with(straight_run(Material::clay), crack);
    Renderer renderer(run, 2);
    const View view = plain_view(run, 4.1);
    const Frame frame = renderer.draw(view);
    const render_test::Pinhole pinhole(view.pose, view.width, view.height);
    double first = 1e9, last = -1e9, low = 1e9, high = -1e9;
    for (std::size_t i = 0; i < frame.fault.size(); ++i) {
      if (frame.fault[i] != 1) continue;
      const auto w = static_cast<std::size_t>(view.width);
      const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                                 pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                                   static_cast<double>(i / w) + 0.5);
      const scene::Vec2 c = scene::centre_at(run, p.z);
      const double hours = std::atan2(p.x - c.x, p.y - c.y) * 6 / std::numbers::pi;
      first = std::min(first, p.z), last = std::max(last, p.z);
      low = std::min(low, hours), high = std::max(high, hours);
    }
    return std::array{first, last, low, high};
  };
  const auto star = extent({4.35, 4.35, {10.5, 1.5, false}, scene::CrackForm::star, 2});
  EXPECT_NEAR(star[2], -1.5, 0.25);
  EXPECT_NEAR(star[3], 1.5, 0.25);
  EXPECT_LT(star[1] - star[0], 0.16);
  EXPECT_GT(star[1] - star[0], 0.04);
  const auto spiral = extent({4.25, 4.5, {8, 4, false}, scene::CrackForm::spiral, 2});
  EXPECT_NEAR(spiral[0], 4.25, 0.02);
  EXPECT_NEAR(spiral[1], 4.5, 0.03);
  EXPECT_NEAR(spiral[2], -4, 0.4);
  EXPECT_NEAR(spiral[3], 4, 0.4);
}

// A crack the whole way round meets its own start: there is no gap beside the crown.
TEST(CrackPicture, TheWholeWayRoundHasNoGap) {
  const scene::Scene run = with(straight_run(Material::clay),
                                scene::Crack{4.35, 4.35, {12, 12, true}, scene::CrackForm::around, 2});
  Renderer renderer(run, 2);
  const View view = plain_view(run, 4.15);
  const Frame frame = renderer.draw(view);
  const render_test::Pinhole pinhole(view.pose, view.width, view.height);
  std::array<int, 72> round{};
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    const auto w = static_cast<std::size_t>(view.width);
    const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                               pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                                 static_cast<double>(i / w) + 0.5);
    const scene::Vec2 c = scene::centre_at(run, p.z);
    const double turn = std::atan2(p.x - c.x, p.y - c.y) / (2 * std::numbers::pi) + 0.5;
    ++round[static_cast<std::size_t>(std::clamp(turn * 72, 0.0, 71.0))];
  }
  // All but where the flow covers it.
  for (int i = 8; i < 64; ++i)
    EXPECT_GT(round[static_cast<std::size_t>(i)], 0) << "at " << 5 * i - 180 << " degrees";
}

// One looks into a wide crack: its far face and the ground in it are not black where the lamp reaches them.
TEST(CrackPicture, AWideOneShowsItsInside) {
  const auto [frame, sound] =
      drawn(Material::clay, scene::Crack{4.3, 4.3, {9, 3, false}, scene::CrackForm::around, 8}, 4.15);
  long inside = 0, lit = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1 || frame.rgb[3 * i] > 0.55 * sound.rgb[3 * i]) continue;
    ++inside;
    lit += frame.rgb[3 * i] > 0.12 * sound.rgb[3 * i] && frame.rgb[3 * i] > 8 ? 1 : 0;
  }
  EXPECT_GT(inside, 300);
  EXPECT_GT(static_cast<double>(lit) / static_cast<double>(inside), 0.32);
}

TEST(PatchPicture, IsTheSameOnOneThreadAndOnTwo) {
  const scene::Scene run = with(straight_run(Material::concrete), upper(DamageForm::steel_corroded));
  Renderer one(run, 1), two(run, 2);
  const View view = plain_view(run, 4.0);
  EXPECT_EQ(one.draw(view).rgb, two.draw(view).rgb);
}

// Round the whole pipe there is no seam: where it starts it looks as it does elsewhere.
TEST(PatchPicture, TheWholeWayRoundHasNoSeam) {
  const SurfaceDamage damage{4.2, 4.8, {12, 12, true}, DamageForm::stones_out, DamageCause::worn, 0};
  const scene::Scene run = with(straight_run(Material::concrete), damage);
  Renderer renderer(run, 2);
  const View view = plain_view(run, 4.1);
  const Frame frame = renderer.draw(view);
  // Straight up from the middle, across the crown.
  long bare = 0;
  for (int y = 20; y < 90; ++y)
    for (int x = view.width / 2 - 6; x < view.width / 2 + 6; ++x)
      bare += frame.fault[static_cast<std::size_t>(y * view.width + x)] == 1 ? 0 : 1;
  EXPECT_EQ(bare, 0);
}

}  // namespace
}  // namespace haunch::render
