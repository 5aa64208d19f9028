// SPDX-License-Identifier: Apache-2.0
// Time of a 1280 x 720 picture for views of each kind, on one and two threads, and as frames a
// second against the aim of 60 on two cores. Says, does not judge: no assertion here.
//   build/release/bin/render_bench
#include <benchmark/benchmark.h>

#include <string>
#include <utility>

#include "render/renderer.hpp"
#include "scene/camera.hpp"

namespace haunch {
namespace {

scene::Scenario clay_run() {
  scene::Scenario s;
  s.seed = 7;
  s.length_m = 12;
  s.gradient_percent = 1;
  scene::Section section;
  section.to_m = 12;
  section.unit_length_m = 1;
  section.bore_mm = 150;
  section.wall_mm = 16;
  s.sections = {section};
  s.camera.kind = scene::CameraKind::crawler;
  return s;
}

/// A run and the lens in it.
struct Shot {
  scene::Scene run;
  scene::CameraPose pose;
};
Shot shot(scene::Scenario scenario, double lens_z_m) {
  Shot result{scene::build_scene(std::move(scenario)), {}};
  result.pose = scene::pose_at(result.run, lens_z_m);
  return result;
}
Shot at_surface(double above_m) {
  scene::Scenario scenario = clay_run();
  scenario.low_spots.push_back({1, 7, 110});
  Shot result = shot(std::move(scenario), 4);
  result.pose.lens.y = scene::level_at(result.run.water, 4) + above_m;
  return result;
}

Shot make(const std::string& what) {
  scene::Scenario s = clay_run();
  base::ClockArc all_round;
  all_round.whole = true;
  if (what == "roots ahead" || what == "inside roots") {
    s.faults.push_back({scene::Roots{3.0, 3.35, all_round, scene::RootForm::mass, 35}, ""});
    return shot(std::move(s), what == "roots ahead" ? 2.8 : 3.12);
  }
  if (what == "hole") {
    s.faults.push_back({scene::Hole{2.75, 2, 120, 90, scene::Behind::soil}, ""});
    return shot(std::move(s), 2.55);
  }
  if (what == "water") {
    s.low_spots.push_back({1, 7, 60});
    Shot result = shot(s, 2);
    return shot(std::move(s), result.run.water.reaches.front().from_m + 0.1);
  }
  if (what == "half under") return at_surface(0.001);
  if (what == "under") return at_surface(-0.03);
  return shot(std::move(s), 2.4);
}

void picture(benchmark::State& state, const std::string& what, int threads) {
  const Shot it = make(what);
  render::Renderer renderer(it.run, threads);
  render::View view;
  view.pose = it.pose;
  render::Frame frame;
  renderer.draw(view, frame);
  for (auto unused : state) {
    (void)unused;
    renderer.draw(view, frame);
    benchmark::DoNotOptimize(frame.rgb.data());
  }
  state.counters["frames/s"] =
      benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
  // 1 is the aim: 60 frames a second.
  state.counters["of aim"] =
      benchmark::Counter(static_cast<double>(state.iterations()) / 60, benchmark::Counter::kIsRate);
}

}  // namespace
}  // namespace haunch

int main(int argc, char** argv) {
  for (const std::string what :
       {"plain", "roots ahead", "inside roots", "hole", "water", "half under", "under"})
    for (const int threads : {1, 2})
      benchmark::RegisterBenchmark((what + ", threads " + std::to_string(threads)).c_str(),
                                   [=](benchmark::State& state) { haunch::picture(state, what, threads); })
          ->Unit(benchmark::kMillisecond)
          ->UseRealTime()
          ->MeasureProcessCPUTime();
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
