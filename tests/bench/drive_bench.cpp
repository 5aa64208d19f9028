// SPDX-License-Identifier: Apache-2.0
// A whole drive of 100 m as a trainee's window draws it: from the start to the first picture, how long
// pictures take, and the most memory that was ever resident. Aims: 2 s, 16.7 ms, 400 MB. Says, does not
// judge.
//   build/release/bin/drive_bench
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

#include "render/renderer.hpp"
#include "shots.hpp"

namespace {

double cpu_s() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}
double now_s() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

int main() {
  using namespace haunch;
  const double began = now_s(), cpu_began = cpu_s();
  const scene::Scene run = bench::long_run();
  render::Renderer renderer(run, 2);
  render::View view;
  render::Frame frame;
  view.pose = scene::pose_at(run, 0.3);
  renderer.draw(view, frame);
  std::printf("first picture after %.2f s (%.2f s of CPU on two threads)\n", now_s() - began,
              cpu_s() - cpu_began);
  std::vector<double> took, cpu;
  for (double z = 0.3; z < run.length_m() - 0.3; z += 0.17) {
    view.pose = scene::pose_at(run, z);
    view.time_s = z / 0.15;  // m/s
    const double from = now_s(), cpu_from = cpu_s();
    renderer.draw(view, frame);
    took.push_back(1000 * (now_s() - from)), cpu.push_back(1000 * (cpu_s() - cpu_from));
  }
  std::sort(took.begin(), took.end()), std::sort(cpu.begin(), cpu.end());
  const auto at = [](const std::vector<double>& v, double share) {
    return v[static_cast<std::size_t>(share * static_cast<double>(v.size() - 1))];
  };
  std::printf("%zu pictures of 1280 x 720: median %.1f ms, 95 of 100 under %.1f, slowest %.1f\n", took.size(),
              at(took, 0.5), at(took, 0.95), at(took, 1));
  std::printf("CPU of both threads: median %.1f ms, 95 of 100 under %.1f, slowest %.1f\n", at(cpu, 0.5),
              at(cpu, 0.95), at(cpu, 1));
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("most memory resident: %.0f MB\n", static_cast<double>(usage.ru_maxrss) / 1024);
}
