// SPDX-License-Identifier: Apache-2.0
// The renderer against the plain one: of a thousand pixels no more than one shows another fault or distance.
// Not compared: what lies beyond the surface of water that flows or is cloudy, and the tattered edges of
// painted things, whose share is bounded.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <utility>

#include "base/files.hpp"
#include "campaign.hpp"
#include "reference/reference.hpp"
#include "render/renderer.hpp"
#include "scenario/read.hpp"

namespace haunch::reference {
namespace {

using namespace scene;

struct Tally {
  long all = 0, skipped = 0, either = 0, other_fault = 0, compared = 0, other_depth = 0, with_depth = 0;
  long of_first = 0;  ///< pixels that are the first fault's by plain rays
  long through_water = 0, first_through_water = 0;
};

/// Where HAUNCH_REFERENCE_PICTURES names a folder, a map of what differs is put there.
void keep_map(const std::string& name, const render::Frame& frame, const std::vector<std::uint8_t>& map) {
  const char* const folder = std::getenv("HAUNCH_REFERENCE_PICTURES");
  if (!folder) return;
  std::ofstream out(std::string(folder) + "/" + name + ".ppm", std::ios::binary);
  out << "P6\n" << frame.width << ' ' << frame.height << "\n255\n";
  for (std::size_t i = 0; i < map.size(); ++i) {
    const char dim = static_cast<char>(frame.rgb[3 * i + 1] / 3 + (frame.fault[i] != 0 ? 40 : 0));
    const char pixel[3] = {map[i] == 1 ? '\xff' : dim, map[i] == 2 ? '\xff' : dim,
                           map[i] == 3 ? '\x90' : dim};
    out.write(pixel, 3);
  }
}

Tally compare(const CameraPose& pose, render::Renderer& renderer, const Reference& reference,
              const std::string& name, int width = 640, int height = 360) {
  render::View view;
  view.pose = pose;
  view.width = width;
  view.height = height;
  view.every_pixel = true;
  const render::Frame frame =
      renderer.draw(view);  // droplets and all: they are no part of numbers and distances
  const std::vector<Answer> plain = reference.picture(measure::Camera(pose, width, height), width, height);
  Tally tally;
  std::vector<std::uint8_t> map(plain.size());
  for (std::size_t i = 0; i < plain.size(); ++i) {
    const Answer& a = plain[i];
    ++tally.all;
    if (a.skipped) {
      ++tally.skipped;
      continue;
    }
    if (a.either) ++tally.either, map[i] = 3;
    ++tally.compared;
    const bool first = a.fault == 1 || (a.either && a.or_else == 1);
    tally.of_first += first ? 1 : 0;
    tally.through_water += a.through_water ? 1 : 0;
    tally.first_through_water += first && a.through_water ? 1 : 0;
    if (frame.fault[i] != a.fault && !(a.either && frame.fault[i] == a.or_else)) {
      ++tally.other_fault;
      map[i] = 1;
      continue;
    }
    if (!a.depth_known || a.either) continue;
    ++tally.with_depth;
    if (!(std::abs(static_cast<double>(frame.depth_m[i]) - a.depth_m) < 0.0004 + 0.002 * a.depth_m))
      ++tally.other_depth, map[i] = 2;
  }
  keep_map(name, frame, map);

  return tally;
}

void expect_alike(const Tally& t, const std::string& name, double most_either) {
  const auto of = [](long part, long all) {
    return static_cast<double>(part) / static_cast<double>(std::max(1L, all));
  };
  if (std::getenv("HAUNCH_REFERENCE_PICTURES"))
    std::printf("%-34s other fault %7.4f %%, other distance %7.4f %%, either %6.3f %%, skipped %6.2f %%\n",
                name.c_str(), 100 * of(t.other_fault, t.compared), 100 * of(t.other_depth, t.with_depth),
                100 * of(t.either, t.all), 100 * of(t.skipped, t.all));
  EXPECT_LE(of(t.other_fault, t.compared), 0.001) << name;
  EXPECT_LE(of(t.other_depth, t.with_depth), 0.001) << name;
  EXPECT_LE(of(t.either, t.all), most_either) << name;
  EXPECT_GT(of(t.compared, t.all), 0.3) << name;
}

class ShippedRun : public testing::TestWithParam<const char*> {};
TEST_P(ShippedRun, IsDrawnAsPlainRaysSeeIt) {
  const Scene scene = build_scene(
      scenario::read_scenario(base::content_dir() / "scenarios" / (GetParam() + std::string(".json")))
          .value());
  render::Renderer renderer(scene, 2);
  const Reference reference(scene);
  // Places by the golden section, so that they fall near nothing in particular.
  for (int k = 1; k <= campaign::rounds(3); ++k) {
    const double share = std::fmod(0.618034 * k, 1.0), z = 0.2 + share * (scene.length_m() - 0.4);
    CameraPose pose = pose_at(scene, z);
    if (k % 2 == 0) pose.roll_deg += 25;
    // Under water the murk hides what the plain rays see.
    if (submerged_share(scene, pose) > 0.5) continue;
    const std::string name = GetParam() + std::string("-") + std::to_string(k);
    expect_alike(compare(pose, renderer, reference, name), name, 0.1);
  }
}
INSTANTIATE_TEST_SUITE_P(Runs, ShippedRun,
                         testing::Values("canteen-branch", "school-iron-outlet", "terrace-clay-drain"));

struct Case {
  std::string name;
  FaultKind kind;
  double most_either = 0.05;
  Material material = Material::clay;
  double away_m = 0.3;
  PipeShape shape = PipeShape::circular;
  std::vector<FaultKind> with{};  ///< what it is a fault of
  double flow_l_s = 0;            ///< 0: no water at all
  double bore_mm = 150;
};
void PrintTo(const Case& c, std::ostream* out) { *out << c.name; }
class EachKind : public testing::TestWithParam<Case> {};
TEST_P(EachKind, IsDrawnAsPlainRaysSeeIt) {
  const Case& c = GetParam();
  Scenario scenario;
  scenario.seed = 19;
  scenario.length_m = 8;
  scenario.gradient_percent = 1;
  Section section;
  section.to_m = 8;
  section.material = c.material;
  section.unit_length_m = 1;
  section.bore_mm = c.bore_mm;
  section.wall_mm = c.material == Material::pvc ? 5 : 16;
  section.shape = c.shape;
  if (c.shape == PipeShape::rectangular) section.height_mm = 110;
  scenario.sections = {section};
  scenario.faults = {{c.kind, ""}};
  for (const FaultKind& kind : c.with) scenario.faults.push_back({kind, ""});
  scenario.flow_l_s = c.flow_l_s;
  scene::Scene scene = build_scene(std::move(scenario));
  if (c.flow_l_s <= 0) scene.water.reaches.clear();
  // Textures take long: the first run of a material lends its own.
  static std::map<Material, std::unique_ptr<render::Renderer>> first;
  auto& lender = first[c.material];
  if (!lender) lender = std::make_unique<render::Renderer>(scene, 2);
  render::Renderer renderer(scene, *lender, 2);
  const Reference reference(scene);
  const Stretch stretch = stretch_of(scene.scenario.faults.front());
  const std::vector<double> rolls =
      campaign::rounds(1) > 1 ? std::vector<double>{0, 40, -115} : std::vector<double>{40};
  for (const double roll : rolls) {
    const double z =
        (stretch.to_m - stretch.from_m > 1 ? (stretch.from_m + stretch.to_m) / 2 : stretch.from_m) - c.away_m;
    CameraPose pose = pose_at(scene, z);
    pose.roll_deg = roll;
    const std::string name = c.name + ", roll " + std::to_string(static_cast<int>(roll));
    // Hair is drawn by shares of a pixel; the finer the pixels, the less that matters.
    const bool hair = std::holds_alternative<Roots>(c.kind);
    const Tally tally = compare(pose, renderer, reference, name, hair ? 960 : 640, hair ? 540 : 360);
    expect_alike(tally, name, c.most_either);
    if (c.name != "sound") {
      EXPECT_GT(tally.of_first, 60) << name << ": it is not in the picture";
    }
  }
}

const base::ClockArc whole{12, 12, true}, top{10, 2, false}, nowhere{12, 12, true};

void add_linings(std::vector<Case>& all) {
  const ShortLining lining{3.6, 5.2, 4};
  all.push_back({"end of a lining", lining, 0.05, Material::clay, 0.3});
  const std::tuple<const char*, LiningForm, double, double> forms[] = {
      {"lining come away", LiningForm::come_away, 20, 0},
      {"lining discoloured", LiningForm::discoloured, 0, 0},
      {"lining wrinkled", LiningForm::wrinkled, 6, 0},
      {"lining bulging in", LiningForm::bulging_in, 10, 0},
      {"lining bulging out", LiningForm::bulging_out, 0, 0},
      {"film off", LiningForm::film_off, 0, 0},
      {"seam off", LiningForm::seam_off, 0, 0},
      {"lining cracked", LiningForm::cracked, 0, 3},
      {"lining holed", LiningForm::holed, 0, 0},
      {"lining soft", LiningForm::soft, 0, 0},
      {"resin missing", LiningForm::resin_missing, 0, 0}};
  for (const auto& [name, form, percent, width_mm] : forms) {
    const bool holed = form == LiningForm::holed;
    Case c{name, LiningDefect{4.3, holed ? 4.38 : 4.6, holed ? base::ClockArc{10, 11, false} : top, form,
                              FoldWay::along, percent, width_mm}};
    c.with = {lining};
    all.push_back(c);
    // The same where the wall itself is the liner.
    c.with.clear();
    c.name += ", of the whole pipe";
    c.material = Material::liner;
    all.push_back(c);
  }
  Case ragged{"ragged end of a lining", LiningDefect{3.6, 3.75, top, LiningForm::poor_end}};
  Case open{"open end of a lining", LiningDefect{3.6, 3.7, top, LiningForm::end_open, FoldWay::along, 0, 12}};
  Case joint{"poor joint of a lining", LiningDefect{4.5, 4.56, whole, LiningForm::poor_joint}};
  for (Case* c : {&ragged, &open, &joint}) c->with = {lining}, all.push_back(*c);
  all.push_back({"poor joint of a liner of the whole pipe",
                 LiningDefect{4.5, 4.56, whole, LiningForm::poor_joint}, 0.05, Material::liner});
}

void add_repairs(std::vector<Case>& all) {
  const std::pair<const char*, RepairFlaw> flaws[] = {{"patch", RepairFlaw::none},
                                                      {"patch, wall missing", RepairFlaw::wall_missing},
                                                      {"poor patch", RepairFlaw::poor_patch},
                                                      {"patch come away", RepairFlaw::come_away},
                                                      {"patch that does not reach", RepairFlaw::not_reaching},
                                                      {"patch in the way", RepairFlaw::excess},
                                                      {"patch with a hole", RepairFlaw::holed},
                                                      {"patch with a crack", RepairFlaw::cracked}};
  for (const auto& [name, flaw] : flaws)
    all.push_back({name, Repair{4.5,
                                4.5,
                                RepairForm::patch,
                                {2, 2, false},
                                100,
                                80,
                                flaw,
                                flaw == RepairFlaw::excess ? 10.0 : 0.0,
                                flaw == RepairFlaw::cracked ? 4.0 : 0.0}});
  all.push_back({"mortar in a joint", Repair{4, 4, RepairForm::mortar_in_joint, whole}});
  all.push_back({"sealant in a joint", Repair{4, 4, RepairForm::sealant_in_joint, whole}});
  for (const auto& [name, form] : {std::pair{"brim in a mouth", RepairForm::connection_lining},
                                   std::pair{"mortar round a mouth", RepairForm::connection_mortar}}) {
    Case c{name, Repair{4.5, 4.5, form, whole}};
    c.with = {Connection{4.5, 10, 75, Fitting::branch, 0, false}};
    all.push_back(c);
  }
}

/// What lies in bores that are not round, or is let into their walls.
void add_out_of_round(std::vector<Case>& all) {
  const std::pair<std::string, FaultKind> things[] = {
      {"bottle", Obstacle{4.5, ObstacleForm::bottle, nowhere, 8}},
      {"bricks", Obstacle{4.5, ObstacleForm::brick, nowhere, 14}},
      {"through the wall", Obstacle{4.5, ObstacleForm::through_wall, {2, 2, false}, 9}},
      {"built in", Obstacle{4.5, ObstacleForm::built_in, {3, 3, false}, 14}},
      {"jammed", Obstacle{4.5, ObstacleForm::jammed, nowhere, 5}},
      {"water that flows in", Infiltration{4, {1, 1, false}, WaterRate::flows}},
      {"rat", Vermin{4.4, VerminKind::rat, 1}},
      {"end of a lining", ShortLining{3.6, 5.2, 4}}};
  for (const auto& [name, kind] : things) {
    for (const auto& [word, shape] :
         {std::pair{" in an egg", PipeShape::egg}, std::pair{" in a box", PipeShape::rectangular}})
      all.push_back({name + word, kind, 0.05, Material::concrete, 0.3, shape});
    for (const bool rigid : {true, false}) {
      Case c{name + (rigid ? " in squashed clay" : " in squashed plastic"), kind, 0.05,
             rigid ? Material::clay : Material::pvc};
      c.with = {Squashed{2.5, 5.5, !rigid, 12}};
      all.push_back(c);
    }
  }
}

std::vector<Case> cases() {
  std::vector<Case> all{
      {"sound", Crack{7.9, 7.95, {6, 6, false}, CrackForm::along, 0}},
      {"joint gap", JointGap{4, 25}},
      {"joint shift", JointShift{4, 12, 5}},
      {"joint bend", JointBend{4, 4, 8}},
      {"crack along", Crack{4.2, 4.8, {10, 10, false}, CrackForm::along, 3}},
      {"crack around", Crack{4.5, 4.5, {8, 3, false}, CrackForm::around, 2}},
      {"crack, branching", Crack{4.2, 4.6, top, CrackForm::branching, 3}},
      {"crack, spiral", Crack{4.2, 4.6, top, CrackForm::spiral, 2}},
      {"crack, star", Crack{4.5, 4.5, top, CrackForm::star, 2}},
      {"hole", Hole{4.5, 10, 90, 60, Behind::soil}},
      {"void", Hole{4.5, 1, 70, 60, Behind::nothing}},
      {"rust", SurfaceDamage{4.3, 4.5, top, DamageForm::rust, DamageCause::unclear, 0}, 0.3,
       Material::cast_iron},
      {"spalled", SurfaceDamage{4.3, 4.5, top, DamageForm::spalled, DamageCause::unclear, 0}, 0.3},
      {"stones out", SurfaceDamage{4.3, 4.5, top, DamageForm::stones_out, DamageCause::unclear, 0}, 0.3,
       Material::concrete},
      {"missing mortar", MissingMortar{4, top, 12}, 0.1},
      {"porous", PorousWall{4.3, 4.5, top}, 0.3, Material::concrete},
      {"sweating", SweatingWall{4.3, 4.5, top}, 0.3, Material::concrete},
      {"tap root", Roots{4, 4.25, {11, 12, false}, RootForm::tap, 8}},
      {"root mass", Roots{4, 4.3, {9, 2, false}, RootForm::mass, 30}, 0.15},
      {"fine roots", Roots{4, 4.3, {10, 1, false}, RootForm::fine, 6}, 0.1},
      {"inside a root mass", Roots{4, 4.4, {8, 4, false}, RootForm::mass, 50}, 0.2, Material::clay, -0.12},
      {"silt", Settled{3.8, 4.9, SettledKind::fine, 20}, 0.15},
      {"gravel", Settled{3.8, 4.9, SettledKind::coarse, 15}, 0.1},
      {"hard bed", Settled{3.8, 4.9, SettledKind::hard, 15}, 0.15},
      {"grease", Attached{3.9, 4.9, {9, 3, false}, AttachedKind::grease, 12}},
      {"scale", Attached{3.9, 4.9, whole, AttachedKind::scale, 10}},
      {"fouling", Attached{3.9, 4.9, {4, 8, false}, AttachedKind::fouling, 3}},
      {"branch", Connection{4.5, 3, 100, Fitting::branch, 0, false}},
      {"saddle", Connection{4.5, 10, 100, Fitting::saddle, 0, false}, 0.2},
      {"pipe that reaches in", Connection{4.5, 2, 80, Fitting::cut_in, 25, false}, 0.2},
      {"soil", SoilIngress{4, {2, 2, false}, SoilKind::gravel, 12}},
      {"water that flows in", Infiltration{4, {1, 1, false}, WaterRate::flows}},
      {"rat", Vermin{4.4, VerminKind::rat, 1}},
      {"broken wall", BrokenWall{4.5, 10, 160, 110, 16, false, 0}},
      {"fallen in", BrokenWall{4.5, 12, 200, 140, 0, true, 35}},
      {"sealing ring", SealingRing{4, top, 45, false}},
      {"squashed plastic", Squashed{2.5, 5.5, true, 15}, 0.05, Material::pvc},
      {"squashed clay", Squashed{2.5, 5.5, false, 10}},
      {"bend", Bend{4.2, 4.9, 12, 3}, 0.05, Material::pvc},
      {"step of an egg", JointShift{4, 10, 7}, 0.05, Material::concrete, 0.3, PipeShape::egg},
      {"silt in an egg", Settled{3.8, 4.9, SettledKind::fine, 12}, 0.15, Material::concrete, 0.3,
       PipeShape::egg},
      {"step of a box", JointShift{4, 10, 7}, 0.05, Material::concrete, 0.3, PipeShape::rectangular},
      {"crossing a box", Obstacle{4.5, ObstacleForm::crossing, {9, 3, false}, 18}, 0.05, Material::concrete,
       0.3, PipeShape::rectangular},
  };
  const std::pair<const char*, ObstacleForm> things[] = {
      {"brick", ObstacleForm::brick},   {"pipe pieces", ObstacleForm::pipe_pieces},
      {"bottle", ObstacleForm::bottle}, {"rag", ObstacleForm::rag},
      {"ball", ObstacleForm::ball},     {"timber", ObstacleForm::timber},
      {"jammed", ObstacleForm::jammed}};
  for (const auto& [name, form] : things) all.push_back({name, Obstacle{4.5, form, nowhere, 12}});
  all.push_back({"through the wall", Obstacle{4.5, ObstacleForm::through_wall, {2, 2, false}, 9}});
  all.push_back({"crossing", Obstacle{4.5, ObstacleForm::crossing, {9, 3, false}, 18}});
  all.push_back({"built in", Obstacle{4.5, ObstacleForm::built_in, {12, 12, false}, 16}});
  add_out_of_round(all);
  for (const double bore_mm : {100.0, 300.0})
    for (const auto& [name, kind, most_either] :
         {std::tuple<std::string, FaultKind, double>{"joint shift", JointShift{4, 12, 5}, 0.05},
          {"crack along", Crack{4.2, 4.8, {10, 10, false}, CrackForm::along, 3}, 0.05},
          {"hole", Hole{4.5, 10, 70, 50, Behind::soil}, 0.05},
          {"root mass", Roots{4, 4.3, {9, 2, false}, RootForm::mass, 30}, 0.15},
          {"silt", Settled{3.8, 4.9, SettledKind::fine, 20}, 0.15},
          {"scale", Attached{3.9, 4.9, whole, AttachedKind::scale, 10}, 0.05},
          {"branch", Connection{4.5, 3, 80, Fitting::branch, 0, false}, 0.05},
          {"ball", Obstacle{4.5, ObstacleForm::ball, nowhere, 12}, 0.05}}) {
      Case c{name + (bore_mm > 200 ? " in a wide bore" : " in a narrow bore"), kind, most_either};
      c.bore_mm = bore_mm;
      c.away_m = 2 * bore_mm / 1000;
      all.push_back(c);
    }
  const std::pair<const char*, BrickDamage> bricks[] = {
      {"bricks displaced", {BrickForm::displaced, 4.3, 4.8, {9, 11, false}, 30}},
      {"bricks missing", {BrickForm::missing, 4.3, 4.6, {1, 3, false}, 0, BehindBricks::course}},
      {"bricks missing, nothing behind",
       {BrickForm::missing, 4.3, 4.6, {9, 11, false}, 0, BehindBricks::nothing}},
      {"invert dropped", {BrickForm::invert_dropped, 4.1, 5.3, {5, 7, false}, 45}},
      {"brickwork collapsed", {BrickForm::collapsed, 4.3, 4.7, {10, 2, false}, 0, BehindBricks::course, 35}}};
  for (const auto& [name, damage] : bricks) {
    Case c{name, damage, 0.06, Material::brick};
    c.bore_mm = 300;
    all.push_back(c);
  }
  add_linings(all);
  add_repairs(all);
  all.push_back(
      {"weld round", FailedWeld{4, 4, {9, 2, false}, WeldWay::around, 4}, 0.05, Material::polyethylene});
  all.push_back(
      {"weld along", FailedWeld{4.3, 4.7, {10, 10, false}, WeldWay::along, 4}, 0.05, Material::polyethylene});
  all.push_back({"weld in a spiral", FailedWeld{4.3, 4.7, {7, 4, false}, WeldWay::spiral, 4}, 0.05,
                 Material::polyethylene});
  Case leak{"water that runs out", Exfiltration{4, {6, 6, false}, 100}};
  leak.with = {JointGap{4, 20}};
  leak.flow_l_s = 0.25;
  all.push_back(leak);
  return all;
}
INSTANTIATE_TEST_SUITE_P(Kinds, EachKind, testing::ValuesIn(cases()), [](const auto& c) {
  std::string name = c.param.name;
  for (char& letter : name) letter = std::isalnum(static_cast<unsigned char>(letter)) != 0 ? letter : '_';
  return name;
});

/// Under still clear water, seen from above it: rays are bent at the surface.
class Submerged : public testing::TestWithParam<Case> {};
TEST_P(Submerged, IsDrawnAsBentRaysSeeIt) {
  const Case& c = GetParam();
  Scenario scenario;
  scenario.seed = 23;
  scenario.length_m = 10;
  scenario.gradient_percent = 1;
  Section section;
  section.to_m = 10;
  section.material = c.material;
  section.unit_length_m = 1;
  section.bore_mm = 200;
  section.wall_mm = 16;
  scenario.sections = {section};
  scenario.low_spots = {{2, 8, 85}};
  scenario.water = WaterLook::clear;
  scenario.faults = {{c.kind, ""}};
  const Scene scene = build_scene(std::move(scenario));
  render::Renderer renderer(scene, 2);
  const Reference reference(scene);
  for (const double roll : {0.0, 35.0}) {
    CameraPose pose = pose_at(scene, stretch_of(scene.scenario.faults.front()).from_m - c.away_m);
    pose.roll_deg = roll;
    pose.pitch_deg = -25;  // steeply enough to see into the water
    ASSERT_LT(submerged_share(scene, pose), 0.01);
    const std::string name = c.name + " under water, roll " + std::to_string(static_cast<int>(roll));
    const Tally tally = compare(pose, renderer, reference, name);
    expect_alike(tally, name, c.most_either);
    EXPECT_GT(tally.through_water, tally.all / 20) << name;
    EXPECT_GT(tally.first_through_water, 60) << name << ": it is not in the picture";
  }
}
INSTANTIATE_TEST_SUITE_P(
    Kinds, Submerged,
    testing::Values(
        Case{"crack", Crack{4.6, 5.0, {6, 6, false}, CrackForm::along, 4}, 0.05, Material::clay, 0.15},
        Case{"hole", Hole{4.8, 6, 60, 50, Behind::soil}, 0.05, Material::clay, 0.15},
        Case{"step", JointShift{5, 14, 12}, 0.05, Material::clay, 0.15},
        Case{"gravel", Settled{4.6, 5.4, SettledKind::coarse, 8}, 0.10, Material::concrete, 0.15},
        Case{"brick", Obstacle{4.8, ObstacleForm::brick, nowhere, 8}, 0.05, Material::concrete, 0.15},
        Case{"surface damage", SurfaceDamage{4.7, 5.1, {5, 7, false}, DamageForm::wall_gone}, 0.10,
             Material::concrete, 0.15}),
    [](const auto& c) {
      std::string name = c.param.name;
      for (char& letter : name) letter = std::isalnum(static_cast<unsigned char>(letter)) != 0 ? letter : '_';
      return name;
    });

template <std::size_t... kind>
std::vector<std::string> words(std::index_sequence<kind...>) {
  return {kind_word({std::variant_alternative_t<kind, FaultKind>{}, ""})...};
}
/// What plain rays do not know yet.
bool is_not_compared(std::size_t kind) {
  // Haze and what is on the lens are no surface.
  const FaultKind unknown[] = {Haze{}, OnLens{}};
  return std::any_of(std::begin(unknown), std::end(unknown),
                     [&](const FaultKind& one) { return one.index() == kind; });
}
TEST(KindsCompared, AreAll) {
  constexpr std::size_t kinds = std::variant_size_v<FaultKind>;
  std::vector<bool> has(kinds);
  for (const Case& c : cases()) has[c.kind.index()] = true;
  const std::vector<std::string> word = words(std::make_index_sequence<kinds>());
  for (std::size_t kind = 0; kind < kinds; ++kind)
    EXPECT_NE(has[kind], is_not_compared(kind))
        << word[kind] << ": a case in tests/reference, and how plain rays see it";
}

}  // namespace
}  // namespace haunch::reference
