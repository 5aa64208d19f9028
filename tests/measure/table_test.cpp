// SPDX-License-Identifier: Apache-2.0
// Sizes measured back from pictures: kinds of fault by sizes, bores, distances and rolls. Each agrees with
// the scene within a pixel or two per cent, and with what the table gives a reason for besides. Every day a
// part of the table; all of it in a campaign.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>

#include "campaign.hpp"
#include "measure/rows.hpp"

namespace haunch::measure {
namespace {

bool whole_table() { return campaign::rounds(1) > 1; }

std::vector<Row> all_rows() {
  std::vector<Row> rows = joint_rows();
  for (const auto& more : {wall_rows(), matter_rows(), mended_rows()}) rows.insert(rows.end(), more.begin(), more.end());
  return rows;
}

scene::Scenario run(double bore_mm, scene::Material material) {
  scene::Scenario s;
  s.seed = 7;
  s.length_m = 8;
  s.gradient_percent = 1;
  scene::Section section;
  section.to_m = 8;
  section.material = material;
  section.unit_length_m = 1;
  section.bore_mm = bore_mm;
  section.wall_mm = std::clamp(0.11 * bore_mm, 8.0, 50.0);
  if (material == scene::Material::pvc) section.wall_mm = 0.04 * bore_mm;
  s.sections = {section};
  return s;
}

/// Textures take long: one sound run of each bore and material lends its own.
struct Sound {
  scene::Scene scene;
  render::Renderer renderer;
};
Sound& sound_of(double bore_mm, scene::Material material) {
  static std::map<std::pair<double, scene::Material>, std::unique_ptr<Sound>> kept;
  auto& sound = kept[{bore_mm, material}];
  if (!sound) {
    scene::Scene scene = scene::build_scene(run(bore_mm, material));
    render::Renderer renderer(scene, 2);
    sound = std::make_unique<Sound>(Sound{std::move(scene), std::move(renderer)});
  }
  return *sound;
}

struct Setting {
  double bore_mm;
  int size;
  double away_bores;  ///< from the lens to where the fault begins
  double roll_deg;
};
std::vector<Setting> settings(int row) {
  if (!whole_table()) {
    // Each row another bore and another roll.
    const double bores[] = {150, 300, 100, 225};
    return {{bores[row % 4], 1 + row % 2, 1.6, row % 3 == 0 ? 0.0 : 37.0 * (row % 5)}};
  }
  std::vector<Setting> all;
  for (const double bore : {75, 100, 150, 225, 300, 450, 600})
    for (const int size : {0, 1, 2})
      for (const double away : {1.4, 2.6})
        for (const double roll : {0.0, 33.0, -120.0}) all.push_back({bore, size, away, roll});
  return all;
}

Shot shot_of(const Row& row, const Setting& at, const scene::Scene& scene, render::Renderer& faulty,
             render::Renderer& sound) {
  const double bore = at.bore_mm / 1000;
  const scene::Stretch stretch = scene::stretch_of(scene.scenario.faults.front());
  const double middle = (stretch.from_m + stretch.to_m) / 2;
  if (row.look == Look::along) {
    const double z = std::min(joint_z_m, stretch.from_m) - std::max(0.6, bore);
    scene::CameraPose pose = scene::pose_at(scene, z);
    const scene::Vec2 here = scene::centre_at(scene, z), there = scene::centre_at(scene, z + 0.2);
    pose.lens = {here.x, here.y, z};
    pose.forward = scene::normalised({there.x - here.x, there.y - here.y, 0.2});
    // A strand of hair is a pixel wide at least.
    const int wide = bore > 0.25 ? 1200 : 600;
    return take(scene, faulty, sound, pose, wide, wide, 1.04 * bore);
  }
  double z = stretch.from_m - at.away_bores * bore;
  if (stretch.to_m - stretch.from_m > 1) z = middle - at.away_bores * bore;  // from within what is long
  if (row.look == Look::wide) z = middle - 0.45 * bore;
  scene::CameraPose pose = scene::pose_at(scene, z);
  pose.roll_deg = at.roll_deg;
  if (row.look == Look::wide) {
    pose.field_deg = 120;
    return take(scene, faulty, sound, pose, 800, 800);
  }
  return take(scene, faulty, sound, pose, 1280, 720);
}

/// How much of the fault changes the picture, and how much of what changes lies far from it.
struct Colours {
  double within = 0, beyond = 0;
};
Colours colours_of(const Shot& shot, double fringe_mm) {
  const Mask mask = shot.numbered(), some = shot.changed(12), much = shot.changed(40);
  // Sums over all above and left of a pixel, so that any square about it is asked at once.
  const auto wide = static_cast<std::size_t>(shot.width() + 1);
  std::vector<int> sum(wide * static_cast<std::size_t>(shot.height() + 1));
  const auto at = [&](int x, int y) -> int& {
    return sum[static_cast<std::size_t>(y) * wide + static_cast<std::size_t>(x)];
  };
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x)
      at(x + 1, y + 1) = mask[shot.index(x, y)] + at(x, y + 1) + at(x + 1, y) - at(x, y);
  long of_it = 0, changed = 0, strays = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      const std::size_t i = shot.index(x, y);
      of_it += mask[i];
      changed += mask[i] && some[i] ? 1 : 0;
      if (mask[i] || !much[i]) continue;
      const double pixel = shot.camera.pixel_m(std::min(20.0, static_cast<double>(shot.with.depth_m[i])));
      const int reach = 2 + static_cast<int>(std::min(4000.0, fringe_mm / 1000 / std::max(1e-6, pixel)));
      const int x0 = std::max(0, x - reach), x1 = std::min(shot.width(), x + reach + 1),
                y0 = std::max(0, y - reach), y1 = std::min(shot.height(), y + reach + 1);
      strays += at(x1, y1) - at(x0, y1) - at(x1, y0) + at(x0, y0) == 0 ? 1 : 0;
    }
  const auto all = static_cast<double>(std::max(1L, of_it));
  return {static_cast<double>(changed) / all, static_cast<double>(strays) / all};
}

class Table : public testing::TestWithParam<int> {};

TEST_P(Table, EachSizeIsInThePicture) {
  const Row row = all_rows()[static_cast<std::size_t>(GetParam())];
  for (const Setting& at : settings(GetParam())) {
    Sound& sound = sound_of(at.bore_mm, row.material);
    scene::Scenario scenario = sound.scene.scenario;
    scenario.faults = {{row.fault(at.bore_mm, at.size), ""}};
    scene::Scene scene = scene::build_scene(std::move(scenario));
    scene.water.reaches.clear();  // a rise would hold some back before it
    render::Renderer faulty(scene, sound.renderer, 2);
    const double bore_m = at.bore_mm / 1000;
    const Shot shot = shot_of(row, at, scene, faulty, sound.renderer);
    const std::string where = std::to_string(at.bore_mm) + " mm, size " + std::to_string(at.size) + ", " +
                              std::to_string(at.away_bores) + " bores off, roll " +
                              std::to_string(at.roll_deg);
    for (const Measured& m : row.measure(shot))
      EXPECT_NEAR(m.measured, m.stated, m.tolerance())
          << m.what << ", " << where << ", a pixel is " << m.pixel;
    // Far off the lamp hardly reaches it.
    if (row.changed_share < 0 || at.away_bores > 2 || (row.look == Look::along && bore_m > 0.4)) continue;
    const Colours colours = colours_of(shot, row.fringe_mm);
    EXPECT_GE(colours.within, row.changed_share) << where;
    EXPECT_LE(colours.beyond, 0.02) << where;
  }
}
INSTANTIATE_TEST_SUITE_P(Rows, Table, testing::Range(0, static_cast<int>(all_rows().size())),
                         [](const auto& row) {
                           std::string name = all_rows()[static_cast<std::size_t>(row.param)].name;
                           for (char& c : name)
                             c = std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
                           return name;
                         });

template <std::size_t... kind>
std::vector<std::string> words(std::index_sequence<kind...>) {
  return {scene::kind_word({std::variant_alternative_t<kind, scene::FaultKind>{}, ""})...};
}

// Whoever adds a kind of fault says how its picture is measured, or why it cannot be.
TEST(TableOfKinds, HasEveryKindOnce) {
  std::set<std::size_t> measured, not_measured;
  for (const Row& row : all_rows()) measured.insert(row.fault(150, 1).index());
  for (const Unmeasured& kind : unmeasured()) {
    EXPECT_FALSE(std::string(kind.why).empty());
    not_measured.insert(kind.kind.index());
  }
  constexpr std::size_t kinds = std::variant_size_v<scene::FaultKind>;
  const std::vector<std::string> word = words(std::make_index_sequence<kinds>());
  for (std::size_t kind = 0; kind < kinds; ++kind)
    EXPECT_EQ(measured.count(kind) + not_measured.count(kind), 1U)
        << word[kind] << ": a row in tests/measure/rows_*.cpp, or a reason in unmeasured()";
}

}  // namespace
}  // namespace haunch::measure
