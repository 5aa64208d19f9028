// SPDX-License-Identifier: Apache-2.0
#include "shots.hpp"

#include <utility>

namespace haunch::bench {
namespace {

using namespace scene;

const base::ClockArc all_round{12, 12, true}, top{9, 3, false};

Scenario run_of(Material material, double bore_mm = 150) {
  Scenario s;
  s.seed = 7;
  s.length_m = 12;
  s.gradient_percent = 1;
  Section section;
  section.to_m = 12;
  section.material = material;
  section.unit_length_m = 1;
  section.bore_mm = bore_mm;
  section.wall_mm = 0.107 * bore_mm;
  s.sections = {section};
  return s;
}
Shot shot(Scenario scenario, double lens_z_m) {
  Shot result{build_scene(std::move(scenario)), {}};
  result.pose = pose_at(result.run, lens_z_m);
  return result;
}
Shot with(Material material, std::vector<FaultKind> kinds, double lens_z_m) {
  Scenario s = run_of(material);
  for (FaultKind& kind : kinds) s.faults.push_back({std::move(kind), ""});
  return shot(std::move(s), lens_z_m);
}
Shot at_surface(double above_m) {
  Scenario scenario = run_of(Material::clay);
  scenario.low_spots.push_back({1, 7, 110});
  Shot result = shot(std::move(scenario), 4);
  result.pose.lens.y = level_at(result.run.water, 4) + above_m;
  return result;
}

}  // namespace

const std::vector<std::string>& all_shots() {
  static const std::vector<std::string> names{
      "plain",       "bore 300", "roots ahead", "inside roots", "roots over water", "hole",
      "broken wall", "grease",   "scale",       "gravel",       "stones out",       "steel showing",
      "rust",        "squashed", "bend",        "water",        "half under",       "under"};
  return names;
}

Shot make_shot(const std::string& what) {
  if (what == "bore 300") return shot(run_of(Material::concrete, 300), 2.4);
  if (what == "roots ahead" || what == "inside roots")
    return with(Material::clay, {Roots{3.0, 3.35, all_round, RootForm::mass, 35}},
                what == "roots ahead" ? 2.8 : 3.12);
  if (what == "roots over water") {
    Scenario s = run_of(Material::clay);
    s.low_spots.push_back({1, 7, 60});
    s.faults.push_back({Roots{4.0, 4.35, top, RootForm::mass, 35}, ""});
    return shot(std::move(s), 3.75);
  }
  if (what == "hole") return with(Material::clay, {Hole{2.75, 2, 120, 90, Behind::soil}}, 2.55);
  if (what == "broken wall") return with(Material::clay, {BrokenWall{2.8, 10, 200, 150, 18, false, 0}}, 2.55);
  if (what == "grease") return with(Material::clay, {Attached{2.4, 4, top, AttachedKind::grease, 15}}, 2.5);
  if (what == "scale")
    return with(Material::cast_iron, {Attached{2, 4, all_round, AttachedKind::scale, 12}}, 2.5);
  if (what == "gravel") return with(Material::concrete, {Settled{2.2, 4, SettledKind::coarse, 20}}, 2.5);
  const auto damage = [](DamageForm form) {
    return SurfaceDamage{2, 4, all_round, form, DamageCause::unclear, 0};
  };
  if (what == "stones out") return with(Material::concrete, {damage(DamageForm::stones_out)}, 2.5);
  if (what == "steel showing") return with(Material::concrete, {damage(DamageForm::steel_showing)}, 2.5);
  if (what == "rust") return with(Material::cast_iron, {damage(DamageForm::rust)}, 2.5);
  if (what == "squashed") return with(Material::pvc, {Squashed{1.5, 4.5, true, 12}}, 2.4);
  if (what == "bend") return with(Material::pvc, {Bend{2.6, 3.4, 12, 3}}, 2.4);
  if (what == "water") {
    Scenario s = run_of(Material::clay);
    s.low_spots.push_back({1, 7, 60});
    const double begins = build_scene(s).water.reaches.front().from_m;
    return shot(std::move(s), begins + 0.1);
  }
  if (what == "half under") return at_surface(0.001);
  if (what == "under") return at_surface(-0.03);
  return shot(run_of(Material::clay), 2.4);
}

Scene long_run() {
  Scenario s = run_of(Material::clay);
  s.length_m = s.sections[0].to_m = 100;
  s.low_spots = {{22, 28, 50}, {61, 66, 40}};
  s.flow_l_s = 0.1;
  for (double z = 4; z < 97; z += 12) {
    const FaultKind kinds[] = {
        JointShift{z, 10, 4},
        Crack{z + 1.2, z + 1.9, {10, 10, false}, CrackForm::along, 2},
        Roots{z + 3, z + 3.3, top, RootForm::mass, 25},
        Settled{z + 4, z + 6, SettledKind::fine, 10},
        Connection{z + 6.5, 3, 100, Fitting::saddle, 0, false},
        SurfaceDamage{z + 7.2, z + 7.8, top, DamageForm::spalled, DamageCause::unclear, 0},
        Hole{z + 8.5, 2, 90, 70, Behind::soil},
        Attached{z + 9, z + 11, top, AttachedKind::grease, 10},
        JointGap{z + 11, 25}};
    for (const FaultKind& kind : kinds) s.faults.push_back({kind, ""});
  }
  return build_scene(std::move(s));
}

}  // namespace haunch::bench
