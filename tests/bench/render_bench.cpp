// SPDX-License-Identifier: Apache-2.0
// Time of a picture for views of each kind, on one and two threads, and as frames a second against the aim of
// 60 of 1280 x 720 on two cores. Says, does not judge: no assertion here. Where the machine is busy, the CPU
// column counts.
//   build/release/bin/render_bench
// Configured with -DHAUNCH_STAGE_CLOCK=ON it says how many cycles a pixel takes in each stage.
#include <benchmark/benchmark.h>

#include <string>

#include "render/renderer.hpp"
#include "render/stages.hpp"
#include "shots.hpp"

namespace haunch {
namespace {

void picture(benchmark::State& state, const std::string& what, int height, int threads) {
  const bench::Shot it = bench::make_shot(what);
  render::Renderer renderer(it.run, threads);
  render::View view;
  view.pose = it.pose;
  view.width = height * 16 / 9;
  view.height = height;
  render::Frame frame;
  renderer.draw(view, frame);
  render::take_stage_ticks();
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
  const auto pixels = static_cast<double>(view.width) * view.height * static_cast<double>(state.iterations());
  for (const render::StageTicks& stage : render::take_stage_ticks())
    state.counters[stage.name] = static_cast<double>(stage.ticks) / pixels;
}

}  // namespace
}  // namespace haunch

int main(int argc, char** argv) {
  const auto add = [](const std::string& what, int height, int threads) {
    const std::string name = what + ", " + std::to_string(height) + ", threads " + std::to_string(threads);
    benchmark::RegisterBenchmark(
        name.c_str(), [=](benchmark::State& state) { haunch::picture(state, what, height, threads); })
        ->Unit(benchmark::kMillisecond)
        ->UseRealTime()
        ->MeasureProcessCPUTime();
  };
  for (const std::string& what : haunch::bench::all_shots()) {
    for (const int threads : {1, 2}) add(what, 720, threads);
    add(what, 1080, 2);
  }
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
