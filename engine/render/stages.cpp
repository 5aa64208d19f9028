// SPDX-License-Identifier: Apache-2.0
#include "render/stages.hpp"

#ifdef HAUNCH_STAGE_CLOCK
#include <atomic>
#include <chrono>
#endif

namespace haunch::render {

#ifdef HAUNCH_STAGE_CLOCK

namespace {

constexpr int stages = static_cast<int>(Stage::count);
std::atomic<std::uint64_t> counted[stages];
thread_local Stage running = Stage::count;
thread_local std::uint64_t since = 0;

std::uint64_t now() {
#if defined(__x86_64__)
  return __builtin_ia32_rdtsc();
#else
  return static_cast<std::uint64_t>(std::chrono::steady_clock::now().time_since_epoch().count());
#endif
}

void switch_to(Stage stage) {
  const std::uint64_t at = now();
  if (running != Stage::count)
    counted[static_cast<int>(running)].fetch_add(at - since, std::memory_order_relaxed);
  running = stage;
  since = at;
}

}  // namespace

InStage::InStage(Stage stage) : before_(running) { switch_to(stage); }
InStage::~InStage() { switch_to(before_); }

std::vector<StageTicks> take_stage_ticks() {
  static constexpr const char* names[stages] = {"rays",  "wall",    "shade", "marks", "meshes", "strands",
                                                "water", "between", "film",  "edges", "lens"};
  std::vector<StageTicks> ticks;
  for (int k = 0; k < stages; ++k) ticks.push_back({names[k], counted[k].exchange(0)});
  return ticks;
}

#else

std::vector<StageTicks> take_stage_ticks() { return {}; }

#endif

}  // namespace haunch::render
