// SPDX-License-Identifier: Apache-2.0
// What each material shows: another colour than the rest, its welds, courses and ripples where they are.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "scene/brickwork.hpp"
#include "scene/materials.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::straight_run;
using scene::Material;

View plain_view(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.width = 640;
  view.height = 360;
  view.noise = view.lens_effects = false;
  return view;
}

struct Met {
  double z = 0, turn = 0, away = 0;  ///< chainage, radians clockwise from the crown, m from the axis
};
Met met(const scene::Scene& run, const View& view, const Frame& frame, std::size_t i) {
  const Pinhole pinhole(view.pose, view.width, view.height);
  const auto w = static_cast<std::size_t>(view.width);
  const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                             pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                               static_cast<double>(i / w) + 0.5);
  const scene::Vec2 c = scene::centre_at(run, p.z);
  return {p.z, std::atan2(p.x - c.x, p.y - c.y), std::hypot(p.x - c.x, p.y - c.y)};
}
double light(const Frame& frame, std::size_t i) {
  return 0.3 * frame.rgb[3 * i] + 0.6 * frame.rgb[3 * i + 1] + 0.1 * frame.rgb[3 * i + 2];
}

// From 2 to 3 mm: what is usual for small pipe, from memory.
TEST(Weld, StandsInAsFarAsItShould) {
  scene::Scenario scenario = straight_run(Material::polyethylene);
  scenario.sections[0].unit_length_m = 2;
  const scene::Scene run = scene::build_scene(scenario);
  View view = plain_view(run, 1.75);
  const Frame frame = Renderer(run, 2).draw(view);
  double high = 0;
  int on_bead = 0;
  for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
    if (!std::isfinite(frame.depth_m[i])) continue;
    const Met p = met(run, view, frame, i);
    if (p.z > run.length_m()) continue;  // the chamber beyond
    const double in = 0.075 - p.away;
    EXPECT_GT(in, -3e-4);
    if (std::abs(p.z - 2) < 0.009) {
      high = std::max(high, in), on_bead += in > 0.001 ? 1 : 0;
      EXPECT_LT(in, 0.0032);
    } else if (p.z < 3) {
      EXPECT_LT(in, 3e-4) << "at " << p.z;
    }
  }
  EXPECT_GT(on_bead, 300);
  EXPECT_GT(high, 0.0019);
}

TEST(Weld, ThatHasPartedShowsItsGapAndNoBead) {
  scene::Scenario scenario = straight_run(Material::polyethylene);
  scenario.sections[0].unit_length_m = 2;
  const scene::Scene run = render_test::with(scenario, scene::JointGap{2, 25});
  View view = plain_view(run, 1.75);
  Renderer renderer(run, 2);
  const Frame open = renderer.draw(view);
  int gap = 0;
  for (std::size_t i = 0; i < open.depth_m.size(); ++i) {
    if (open.fault[i] == 1) ++gap;
    if (std::isfinite(open.depth_m[i]) && met(run, view, open, i).z < 3) {
      EXPECT_GT(met(run, view, open, i).away, 0.0747);
    }
  }
  EXPECT_GT(gap, 1000);
  view.faults = false;
  const Frame shut = renderer.draw(view);
  EXPECT_TRUE(std::any_of(shut.depth_m.begin(), shut.depth_m.end(), [&](const float& d) {
    return std::isfinite(d) &&
           met(run, view, shut, static_cast<std::size_t>(&d - shut.depth_m.data())).away < 0.074;
  })) << "without the fault there is a weld";
}

// Mortar is grey and brick is red: a joint every course, seen as a line along the pipe.
TEST(Bricks, ShowTheirCourses) {
  const scene::Scene run = scene::build_scene(straight_run(Material::brick, 300));
  View view = plain_view(run, 2.0);
  const Frame frame = Renderer(run, 2).draw(view);
  const int courses = scene::brick_courses(300);
  double on_bed = 0, on_brick = 0;
  int beds = 0, bricks = 0;
  for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
    if (!(frame.depth_m[i] > 0.3F && frame.depth_m[i] < 0.5F)) continue;
    const Met p = met(run, view, frame, i);
    if (std::abs(p.turn) > 2) continue;  // above the flow
    const double turn =
        (p.turn < 0 ? p.turn + 2 * std::numbers::pi : p.turn) * courses / (2 * std::numbers::pi);
    const double off = std::abs(turn - std::round(turn));
    const double red = frame.rgb[3 * i] - frame.rgb[3 * i + 2];
    if (off < 0.03) ++beds, on_bed += red;
    if (off > 0.25) ++bricks, on_brick += red;
  }
  ASSERT_GT(beds, 100);
  ASSERT_GT(bricks, 1000);
  EXPECT_LT(on_bed / beds, 0.6 * on_brick / bricks);
}

// A liner has no joints, but over each old one it ripples: light and shade close together along the wall.
TEST(Liner, RipplesOverTheJointsBehindIt) {
  scene::Scenario scenario = straight_run(Material::liner);
  const scene::Scene run = scene::build_scene(scenario);
  View view = plain_view(run, 2.6);
  const Frame frame = Renderer(run, 2).draw(view);
  // Mean light in rings of wall, 8 mm each.
  std::map<int, std::pair<double, int>> rings;
  for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
    if (!std::isfinite(frame.depth_m[i])) continue;
    const Met p = met(run, view, frame, i);
    if (std::abs(p.turn) > 2 || p.z > 3.3) continue;
    auto& ring = rings[static_cast<int>(std::floor(p.z / 0.008))];
    ring.first += light(frame, i), ++ring.second;
  }
  // How far each ring differs from what lies 24 mm on either side of it.
  const auto bend = [&](double z) {
    const int k = static_cast<int>(std::floor(z / 0.008));
    const auto mean = [&](int n) { return rings[n].first / std::max(1, rings[n].second); };
    return std::abs(mean(k) - 0.5 * (mean(k - 3) + mean(k + 3)));
  };
  double at_joint = 0, between = 0;
  for (double z = 2.96; z <= 3.04; z += 0.008) at_joint = std::max(at_joint, bend(z));
  for (double z = 2.80; z <= 2.88; z += 0.008) between = std::max(between, bend(z));
  EXPECT_GT(at_joint, 2 * between);
  EXPECT_GT(at_joint, 1.5);
}

// Old clay is bedded in more mortar than shows in ordinary joints, and some of it lies on the invert.
TEST(SaltGlaze, HasWideGreyJoints) {
  const auto grey_at_joint = [](scene::Look look) {
    scene::Scenario scenario = straight_run(Material::clay);
    scenario.sections[0].look = look;
    const scene::Scene run = scene::build_scene(scenario);
    View view = plain_view(run, 2.75);
    const Frame frame = Renderer(run, 2).draw(view);
    int grey = 0;
    for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
      if (!std::isfinite(frame.depth_m[i]) || std::abs(met(run, view, frame, i).z - 3) > 0.06) continue;
      grey += frame.rgb[3 * i] - frame.rgb[3 * i + 2] < 0.25 * frame.rgb[3 * i] ? 1 : 0;
    }
    return grey;
  };
  EXPECT_GT(grey_at_joint(scene::Look::usual), 2 * grey_at_joint(scene::Look::fresh));
  EXPECT_GT(grey_at_joint(scene::Look::aged), 1.4 * grey_at_joint(scene::Look::usual));
}

/// Mean colour of the wall from 0.25 to 0.6 m off, above the flow.
std::array<double, 3> colour_of(const scene::Section& section) {
  scene::Scenario scenario = straight_run(section.material);
  scenario.sections[0].look = section.look;
  scenario.sections[0].colour = section.colour;
  const scene::Scene run = scene::build_scene(scenario);
  View view = plain_view(run, 2.4);
  view.exposure = 3;  // one for all, so that dark is dark
  const Frame frame = Renderer(run, 2).draw(view);
  std::array<double, 3> sum{};
  int count = 0;
  for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
    if (!(frame.depth_m[i] > 0.25F && frame.depth_m[i] < 0.6F) || std::abs(met(run, view, frame, i).turn) > 2)
      continue;
    ++count;
    for (std::size_t k = 0; k < 3; ++k) sum[k] += frame.rgb[3 * i + k];
  }
  for (double& s : sum) s /= count;
  return sum;
}

TEST(Looks, DifferFromOneAnother) {
  std::vector<std::pair<std::string, std::array<double, 3>>> seen;
  for (const Material material : scene::all_materials())
    for (const scene::Look look : {scene::Look::usual, scene::Look::fresh, scene::Look::aged}) {
      if (look != scene::Look::usual && scene::show(look, material).empty()) continue;
      // That is told by its joints.
      if (material == Material::clay && look == scene::Look::aged) continue;
      for (const char* colour : {"red-brown", "grey", "green", "white"}) {
        if (material != Material::pvc && std::string(colour) != "grey") continue;
        scene::Section section;
        section.material = material, section.look = look;
        if (material == Material::pvc) section.colour = colour;
        seen.push_back({scene::show(material) + ' ' + scene::show(look, material) + ' ' + section.colour,
                        colour_of(section)});
      }
    }
  for (std::size_t a = 0; a < seen.size(); ++a)
    for (std::size_t b = a + 1; b < seen.size(); ++b) {
      double apart = 0;
      for (std::size_t k = 0; k < 3; ++k)
        apart = std::max(apart, std::abs(seen[a].second[k] - seen[b].second[k]));
      EXPECT_GT(apart, 3) << seen[a].first << " and " << seen[b].first;
    }
}

}  // namespace
}  // namespace haunch::render
