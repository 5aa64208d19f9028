// SPDX-License-Identifier: Apache-2.0
// pov_bench NAME FILE writes a view as a scene file of POV-Ray; pov_bench NAME draws it here for some seconds
// and prints the seconds of CPU that one picture of 1280 x 720 takes. tests/bench/pov-ratio holds both
// against each other.
#include <sys/resource.h>

#include <cstdio>
#include <fstream>

#include "pov_scene.hpp"
#include "render/renderer.hpp"

namespace {

double cpu_s() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

}  // namespace

int main(int argc, char** argv) {
  using namespace haunch;
  if (argc < 2) {
    for (const std::string& name : bench::all_shots()) std::puts(name.c_str());
    return 0;
  }
  const bench::Shot shot = bench::make_shot(argv[1]);
  if (argc > 2) {
    std::ofstream(argv[2]) << bench::pov_scene(shot);
    return 0;
  }
  render::Renderer renderer(shot.run, 1);
  render::View view;
  view.pose = shot.pose;
  render::Frame frame;
  renderer.draw(view, frame);
  const double from = cpu_s();
  int pictures = 0;
  do {
    renderer.draw(view, frame);
    ++pictures;
  } while (cpu_s() - from < 3);
  std::printf("%.6f\n", (cpu_s() - from) / pictures);
}
