// SPDX-License-Identifier: Apache-2.0
// The truth against the picture: what a careful drive is said to show shows, pixel by pixel, and what
// is said to be hidden does not. Limits are ours.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/files.hpp"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "scenario/read.hpp"
#include "scene/camera.hpp"
#include "truth/truth.hpp"

namespace haunch::render {
namespace {

using scene::Attached;
using scene::AttachedKind;
using scene::Connection;
using scene::Crack;
using scene::CrackForm;
using scene::FaultKind;
using scene::Fitting;
using scene::Hole;
using scene::JointGap;
using scene::JointShift;
using scene::RootForm;
using scene::Roots;
using scene::Settled;
using scene::SettledKind;

// Of a picture of 480 by 270. A crack that is found has 15 mm bare: a line of a dozen pixels or more at
// an arm's length in a small bore.
constexpr int seen_pixels = 12;
constexpr int stray_pixels = 4;

/// The most pixels of a fault in any one picture, a picture every few centimetres from well before it to
/// past it. Of what lies under water those count that differ by a tenth of white from the same pipe
/// without its faults: in murk, something a few centimetres from the lens is no more than a shade.
class Drive {
 public:
  explicit Drive(const scene::Scene& scene) : scene_(scene), renderer_(scene, 2) {}

  int most(int fault, double from_z, double to_z, bool by_colour = false) {
    const int way = scene::travel(scene_.scenario);
    const double bore = 2 * scene::radius_at(scene_, from_z);
    const double before = 6 * bore, step = 0.4 * bore;
    const double first = way > 0 ? from_z - before : to_z + before, last = way > 0 ? to_z : from_z;
    int most = 0;
    for (double z = first; way * (last - z) > -1e-9 && most < enough; z += way * step) {
      View view;
      view.pose = scene::pose_at(scene_, std::clamp(z, 0.0, scene_.length_m()));
      view.width = 480;
      view.height = 270;
      view.lens_effects = view.noise = false;
      renderer_.draw(view, frame_);
      if (by_colour) {
        view.exposure = renderer_.wanted_exposure();
        renderer_.draw(view, frame_);
        view.faults = false;
        renderer_.draw(view, without_);
      }
      int shown = 0;
      for (std::size_t i = 0; i < frame_.fault.size(); ++i)
        shown += frame_.fault[i] == fault && (!by_colour || stands_out(i)) ? 1 : 0;
      most = std::max(most, shown);
    }
    return most;
  }

 private:
  static constexpr int enough = 60;

  bool stands_out(std::size_t pixel) const {
    int differs = 0;
    for (std::size_t k = 3 * pixel; k < 3 * pixel + 3; ++k)
      differs = std::max(differs, std::abs(frame_.rgb[k] - without_.rgb[k]));
    return differs > 24;
  }

  const scene::Scene& scene_;
  Renderer renderer_;
  Frame frame_, without_;
};

const std::string* why_hidden(const coding::Record& record, const std::string& id) {
  for (const auto& row : record.not_visible)
    if (row.observation == id) return &row.why;
  return nullptr;
}

class Shipped : public testing::TestWithParam<const char*> {};

TEST_P(Shipped, ShowsWhatTheTruthSaysCanBeSeenAndNothingElse) {
  const scene::Scene scene = scene::build_scene(
      scenario::read_scenario(base::content_dir() / "scenarios" / (GetParam() + std::string(".json")))
          .value());
  const truth::Truth truth = truth::derive(scene);
  Drive drive(scene);
  int checked = 0;
  for (std::size_t i = 0; i < truth.record.observations.size(); ++i) {
    const coding::Observation& row = truth.record.observations[i];
    const truth::Origin& origin = truth.origins[i];
    if (origin.fault == 0 || (!row.stretch.empty() && row.stretch.front() == 'B')) continue;
    const std::string* hidden = why_hidden(truth.record, row.id);
    const bool wet = hidden && hidden->find("water") != std::string::npos;
    const int pixels = drive.most(origin.fault, origin.from_z_m, origin.to_z_m, wet);
    if (hidden)
      EXPECT_LE(pixels, stray_pixels) << row.code << " at " << origin.from_z_m << " m, " << *hidden;
    else
      EXPECT_GE(pixels, seen_pixels) << row.code << " at " << origin.from_z_m << " m, fault " << origin.fault;
    ++checked;
  }
  EXPECT_GE(checked, std::min(8, static_cast<int>(scene.scenario.faults.size())));
}
INSTANTIATE_TEST_SUITE_P(Scenarios, Shipped,
                         testing::Values("canteen-branch", "first-drive", "school-iron-outlet",
                                         "terrace-clay-drain", "depot-concrete-main",
                                         "mews-plastic-lateral"));

struct Case {
  const char* name;
  FaultKind fault;               // number 1
  std::vector<FaultKind> above;  // what lies over it
  std::string hidden;            // the reason wanted; empty: it is seen
};
void PrintTo(const Case& c, std::ostream* out) { *out << c.name; }

class Covered : public testing::TestWithParam<Case> {};

TEST_P(Covered, TruthAndPictureAgree) {
  const Case& c = GetParam();
  for (const scene::Material material : {scene::Material::concrete, scene::Material::cast_iron}) {
    scene::Scenario scenario;
    scenario.length_m = 6;
    scenario.seed = 23;
    scenario.gradient_percent = 1;
    scene::Section section;
    section.to_m = 6;
    section.material = material;
    section.bore_mm = 150;
    section.unit_length_m = section.first_joint_m = 1;
    scenario.sections = {section};
    scenario.faults.push_back({c.fault, ""});
    for (const FaultKind& kind : c.above) scenario.faults.push_back({kind, ""});
    const scene::Scene scene = scene::build_scene(std::move(scenario));
    const truth::Truth truth = truth::derive(scene);
    Drive drive(scene);
    int rows = 0;
    for (std::size_t i = 0; i < truth.record.observations.size(); ++i) {
      if (truth.origins[i].fault != 1 || truth.record.observations[i].stretch.starts_with('B')) continue;
      ++rows;
      const int pixels = drive.most(1, truth.origins[i].from_z_m, truth.origins[i].to_z_m);
      const std::string* hidden = why_hidden(truth.record, truth.record.observations[i].id);
      EXPECT_EQ(hidden ? *hidden : "", c.hidden) << show(material);
      if (c.hidden.empty())
        EXPECT_GE(pixels, seen_pixels) << show(material);
      else
        EXPECT_LE(pixels, stray_pixels) << show(material);
    }
    EXPECT_GE(rows, 1);
  }
}

// Cloudy water hides what lies deep in it and lets what it barely covers shine through.
TEST(InCloudyWater, TruthAndPictureAgree) {
  struct Sunk {
    FaultKind kind;
    bool hidden;
  };
  const scene::Scenario school =
      scenario::read_scenario(base::content_dir() / "scenarios" / "school-iron-outlet.json").value();
  const auto branching = [](double z, double hour) {
    return Crack{z, z, {hour, hour, false}, CrackForm::branching, 2};
  };
  for (const Sunk& sunk :
       {Sunk{Settled{13.7, 15.0, SettledKind::fine, 8}, false},
        Sunk{Settled{13.2, 15.0, SettledKind::fine, 8}, false},
        Sunk{Settled{14.2, 15.0, SettledKind::coarse, 6}, true}, Sunk{branching(14.3, 6), true},
        Sunk{branching(15.0, 12), true}, Sunk{Hole{14.3, 12, 40, 40, scene::Behind::soil}, false}}) {
    scene::Scenario scenario = school;
    scenario.faults.push_back({sunk.kind, ""});
    const int number = static_cast<int>(scenario.faults.size());
    const scene::Scene scene = scene::build_scene(std::move(scenario));
    const truth::Truth truth = truth::derive(scene);
    Drive drive(scene);
    for (std::size_t i = 0; i < truth.origins.size(); ++i) {
      if (truth.origins[i].fault != number || truth.record.observations[i].stretch.starts_with('B')) continue;
      const int pixels = drive.most(number, truth.origins[i].from_z_m, truth.origins[i].to_z_m, true);
      EXPECT_EQ(why_hidden(truth.record, truth.record.observations[i].id) != nullptr, sunk.hidden) << i;
      if (sunk.hidden)
        EXPECT_LE(pixels, stray_pixels) << truth.origins[i].from_z_m;
      else
        EXPECT_GE(pixels, seen_pixels) << truth.origins[i].from_z_m;
    }
  }
}

// One joint, two faults: the gap shows as the one, the faces that stand in as the other.
TEST(CoveredJoint, BothFaultsOfOneJointShow) {
  for (const bool gap_first : {true, false}) {
    scene::Scenario scenario = render_test::straight_run();
    scenario.faults = {{JointGap{3, 18}, ""}, {JointShift{3, 12, 3}, ""}};
    if (!gap_first) std::swap(scenario.faults[0], scenario.faults[1]);
    const scene::Scene scene = scene::build_scene(std::move(scenario));
    Drive drive(scene);
    EXPECT_GE(drive.most(1, 3, 3), seen_pixels) << gap_first;
    EXPECT_GE(drive.most(2, 3, 3), seen_pixels) << gap_first;
  }
}

const base::ClockArc whole{12, 12, true}, top{8, 4, false}, foot{3, 9, false};
const Crack round_crack{3.4, 3.4, {9, 3, false}, CrackForm::around, 1.2};
const char* const by_grease = "under the grease along its whole length";
const char* const by_scale = "under the scale along its whole length";
const char* const by_silt = "under the deposit along its whole length";
Attached grease(double from, double to, base::ClockArc arc, double percent = 15) {
  return {from, to, arc, AttachedKind::grease, percent};
}
Attached scale(double percent, base::ClockArc arc = whole) {
  return {2.4, 4.1, arc, AttachedKind::scale, percent};
}

INSTANTIATE_TEST_SUITE_P(
    Scenes, Covered,
    testing::Values(
        Case{"crack under grease", round_crack, {grease(2.4, 4.1, top)}, by_grease},
        Case{"crack half under grease", round_crack, {grease(2.4, 4.1, {8, 12, false})}, ""},
        Case{"crack longer than the grease",
             Crack{2.6, 3.6, {12, 12, false}, CrackForm::along, 1.2},
             {grease(2.2, 3.3, top)},
             ""},
        Case{"crack along, under grease",
             Crack{2.6, 3.2, {12, 12, false}, CrackForm::along, 1.2},
             {grease(2.4, 4.1, top)},
             by_grease},
        Case{"crack in the foot under silt",
             Crack{2.8, 3.4, {6, 6, false}, CrackForm::along, 1.2},
             {Settled{2.4, 4.1, SettledKind::fine, 15}},
             by_silt},
        Case{"crack round, its foot under silt",
             Crack{3.4, 3.4, whole, CrackForm::around, 1.2},
             {Settled{2.4, 4.1, SettledKind::fine, 15}},
             ""},
        Case{"crack round, under grease and silt",
             Crack{3.4, 3.4, whole, CrackForm::around, 1.2},
             {grease(2.4, 4.1, {6, 5.9, false}, 20), Settled{2.4, 4.1, SettledKind::fine, 15}},
             "under the deposit and the grease along its whole length"},
        Case{"branch in scale", Connection{3.4, 2, 75, Fitting::branch, 0, false}, {scale(9)}, ""},
        Case{"saddle in grease",
             Connection{3.4, 10, 100, Fitting::saddle, 0, false},
             {grease(2.4, 4.1, top)},
             ""},
        Case{"intruding pipe in grease",
             Connection{3.4, 2, 80, Fitting::cut_in, 15, false},
             {grease(2.4, 4.1, top)},
             ""},
        Case{"capped branch in scale", Connection{3.4, 2, 75, Fitting::branch, 0, true}, {scale(9)}, ""},
        Case{"hole in scale", Hole{3.4, 10, 60, 45, scene::Behind::soil}, {scale(9)}, ""},
        Case{"hole in grease", Hole{3.4, 12, 60, 45, scene::Behind::stone}, {grease(2.4, 4.1, top)}, ""},
        Case{"hole under silt",
             Hole{3.4, 6, 50, 40, scene::Behind::soil},
             {Settled{2.4, 4.1, SettledKind::fine, 20}},
             by_silt},
        Case{"joint gap over silt", JointGap{3, 18}, {Settled{2.4, 4.1, SettledKind::fine, 15}}, ""},
        Case{"joint gap in thin scale", JointGap{3, 18}, {scale(4)}, ""},
        Case{"joint gap under thick scale", JointGap{3, 12}, {scale(50)}, by_scale},
        Case{"joint step in scale", JointShift{3, 12, 3}, {scale(6)}, ""},
        Case{"fine roots in grease",
             Roots{3, 3, {10, 2, false}, RootForm::fine, 4},
             {grease(2.4, 4.1, top)},
             ""},
        Case{"root mass in grease",
             Roots{3, 3.3, {9, 3, false}, RootForm::mass, 30},
             {grease(2.4, 4.1, top)},
             ""},
        Case{"crack in a mass one sees through",
             Crack{3.3, 3.3, {12, 12, false}, CrackForm::branching, 2},
             {Roots{3, 3.6, {9, 3, false}, RootForm::mass, 35}},
             ""},
        Case{"branch in a dense mass",
             Connection{3.3, 2, 75, Fitting::branch, 0, false},
             {Roots{3, 3.6, {9, 3, false}, RootForm::mass, 60}},
             ""},
        Case{"crack where a dense mass comes in",
             Crack{3.03, 3.03, {11.5, 12.5, false}, CrackForm::around, 1.2},
             {Roots{3, 3.6, {9, 3, false}, RootForm::mass, 90}},
             "within a dense mass of roots"},
        Case{"slime under silt",
             Attached{2.6, 3.2, {5, 7, false}, AttachedKind::fouling, 0.5},
             {Settled{2.4, 4.1, SettledKind::fine, 20}},
             by_silt},
        Case{"silt under grease",
             Settled{2.6, 3.2, SettledKind::fine, 2},
             {grease(2.4, 4.1, foot, 20)},
             by_grease},
        Case{"silt deeper than the slime",
             Settled{2.6, 3.4, SettledKind::fine, 12},
             {Attached{2.4, 4.1, {4, 8, false}, AttachedKind::fouling, 1}},
             ""},
        Case{"rough wall under grease",
             scene::SurfaceDamage{
                 2.7, 2.9, {11, 1, false}, scene::DamageForm::rougher, scene::DamageCause::worn, 0},
             {grease(2.4, 4.1, top)},
             by_grease},
        Case{"rough wall half under grease",
             scene::SurfaceDamage{
                 2.7, 2.9, {10, 2, false}, scene::DamageForm::rougher, scene::DamageCause::worn, 0},
             {grease(2.4, 4.1, {8, 12, false})},
             ""},
        Case{"pores under silt",
             scene::PorousWall{2.7, 2.9, {5.5, 6.5, false}},
             {Settled{2.4, 4.1, SettledKind::fine, 15}},
             by_silt}));

}  // namespace
}  // namespace haunch::render
