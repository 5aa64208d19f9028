// SPDX-License-Identifier: Apache-2.0
// The same pixels on one thread and on two, and on every instruction set this machine has. Meshes are traced
// by a library that promises no such thing from set to set: there a hundredth of a per cent of the pixels may
// differ.
#include <dlfcn.h>
#include <embree3/rtcore.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "hwy/targets.h"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using namespace scene;

struct Case {
  const char* name;
  std::vector<FaultKind> kinds;
  bool meshes = false;
  Material material = Material::clay;
  double low_spot_mm = 0;
  double lens_z_m = 3.65;
};
void PrintTo(const Case& c, std::ostream* out) { *out << c.name; }

Scene run_of(const Case& c) {
  Scenario scenario = render_test::straight_run(c.material);
  if (c.low_spot_mm > 0) scenario.low_spots.push_back({1, 7, c.low_spot_mm});
  for (const FaultKind& kind : c.kinds) scenario.faults.push_back({kind, ""});
  return build_scene(std::move(scenario));
}
View view_of(const Case& c, const Scene& scene) {
  View view;
  view.pose = pose_at(scene, c.lens_z_m);
  view.width = 334;  // no whole number of vectors or tiles
  view.height = 190;
  view.time_s = 0.3;
  return view;
}

/// Share of the pixels that differ in colour, in what they show, or in how far off that is by more than so
/// much of the distance.
double differ(const Frame& a, const Frame& b, float share_of_depth = 0) {
  long other = 0;
  for (std::size_t i = 0; i < a.fault.size(); ++i) {
    bool same =
        a.fault[i] == b.fault[i] && !(std::abs(a.depth_m[i] - b.depth_m[i]) > share_of_depth * a.depth_m[i]);
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k) same &= a.rgb[k] == b.rgb[k];
    other += same ? 0 : 1;
  }
  return static_cast<double>(other) / static_cast<double>(a.fault.size());
}

/// What Embree is told besides, for a while.
std::string embree_words;
class MeshesTracedBy {
 public:
  explicit MeshesTracedBy(const std::string& set) { embree_words = ",isa=" + set; }
  ~MeshesTracedBy() { embree_words.clear(); }
  MeshesTracedBy(const MeshesTracedBy&) = delete;
  MeshesTracedBy& operator=(const MeshesTracedBy&) = delete;
};

class SamePixels : public testing::TestWithParam<Case> {};

TEST_P(SamePixels, OnAnyNumberOfThreadsAndInstructionSet) {
  const Case& c = GetParam();
  const Scene scene = run_of(c);
  const View view = view_of(c, scene);
  Renderer one(scene, 1);
  const Frame best = one.draw(view);
  {
    Renderer two(scene, one, 2);
    EXPECT_EQ(differ(best, two.draw(view)), 0) << "two threads";
  }
  int tried = 0;
  for (std::int64_t left = hwy::SupportedTargets(); left != 0; left &= left - 1) {
    hwy::SetSupportedTargetsForTest(left & -left);
    hwy::GetChosenTarget().DeInit();
    EXPECT_EQ(differ(best, Renderer(scene, one, 2).draw(view)), 0) << hwy::TargetName(left & -left);
    ++tried;
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().DeInit();
  EXPECT_GE(tried, 2);
  if (!c.meshes) return;
  int traced = 0;
  for (const char* const set : {"sse2", "sse4.2", "avx", "avx2", "avx512"}) {
    const MeshesTracedBy by(set);
    RTCDevice device = rtcNewDevice("start_threads=0");
    if (device == nullptr) continue;  // this machine has it not
    rtcReleaseDevice(device);
    ++traced;
    const Frame other = Renderer(scene, one, 2).draw(view);
    // Where two stones meet each is as near as the other to a part in a million.
    EXPECT_LE(differ(best, other, 1e-6F), 1e-4) << "meshes by " << set;
  }
  EXPECT_GE(traced, 2);
}

const base::ClockArc top{10, 2, false}, whole{12, 12, true};
SurfaceDamage damage(DamageForm form) { return {3.8, 4.6, top, form, DamageCause::unclear, 0}; }

INSTANTIATE_TEST_SUITE_P(
    Views, SamePixels,
    testing::Values(
        Case{"joints", {JointShift{4, 10, 4}, JointGap{4, 20}}},
        Case{"cracks",
             {Crack{3.8, 4.4, top, CrackForm::branching, 3},
              Crack{3.8, 4.6, {7, 11, false}, CrackForm::spiral, 1}}},
        Case{"water", {}, false, Material::concrete, 60}, Case{"half under", {}, false, Material::pvc, 150},
        Case{"spalled", {damage(DamageForm::spalled)}},
        Case{"steel", {damage(DamageForm::steel_out)}, false, Material::concrete},
        Case{"stones", {damage(DamageForm::stones_out)}, false, Material::concrete},
        // So large that the wall beneath is given no colour; a narrow vector may need one where a wide one
        // does not.
        Case{"stones all round",
             {SurfaceDamage{3.4, 4.8, whole, DamageForm::stones_out, DamageCause::unclear, 0}},
             false,
             Material::concrete},
        Case{"steel all round under water",
             {SurfaceDamage{3.4, 4.8, whole, DamageForm::steel_showing, DamageCause::unclear, 0}},
             false,
             Material::concrete,
             40},
        Case{"rust", {damage(DamageForm::rust)}, false, Material::cast_iron},
        Case{"blisters", {damage(DamageForm::blister)}, false, Material::pvc},
        Case{"mortar and damp",
             {MissingMortar{4, top, 12}, PorousWall{4.1, 4.5, top}, SweatingWall{3.75, 3.9, top}}},
        Case{"roots", {Roots{4, 4.3, {9, 2, false}, RootForm::mass, 30}}},
        Case{
            "inside roots over water", {Roots{3.4, 4, whole, RootForm::mass, 40}}, false, Material::clay, 50},
        Case{"squashed", {Squashed{2.5, 5.5, true, 12}}, false, Material::pvc},
        Case{"hinged", {Squashed{2.5, 5.5, true, 9}}},
        Case{"bend", {Bend{3.8, 4.6, 12, 3}}, false, Material::pvc},
        Case{"deposits",
             {Settled{3.5, 4.8, SettledKind::coarse, 12}, Attached{3.6, 4.8, top, AttachedKind::grease, 10}},
             true},
        Case{"openings",
             {Hole{4.2, 10, 90, 60, Behind::stone}, Connection{4.5, 3, 90, Fitting::saddle, 0, false}},
             true},
        Case{"broken", {BrokenWall{4.2, 11, 160, 110, 14, false, 0}}, true},
        Case{"things in water",
             {Obstacle{4.1, ObstacleForm::brick, whole, 12}, Vermin{4.0, VerminKind::rat, 1}},
             true,
             Material::clay,
             40},
        Case{"water comes in", {Infiltration{4, {11, 11, false}, WaterRate::gushes}}, true},
        Case{"a ring in a bend",
             {SealingRing{4, top, 40, false}, Bend{4.2, 4.8, 9, 12}},
             true,
             Material::pvc}),
    [](const auto& c) {
      std::string name = c.param.name;
      for (char& letter : name) letter = letter == ' ' ? '_' : letter;
      return name;
    });

/// Stands before the library's own in this program, and hands on to it.
RTCDevice new_device(const char* words) {
  using NewDevice = RTCDevice (*)(const char*);
  static const auto real = reinterpret_cast<NewDevice>(dlsym(RTLD_NEXT, "rtcNewDevice"));
  return real((words + embree_words).c_str());
}

}  // namespace
}  // namespace haunch::render

extern "C" RTCDevice rtcNewDevice(const char* words) { return haunch::render::new_device(words); }
