// SPDX-License-Identifier: Apache-2.0
// Where a picture's time goes, stage by stage, for timing. Compiled in only with HAUNCH_STAGE_CLOCK: else
// nothing of it is there.
#pragma once

#include <cstdint>
#include <vector>

namespace haunch::render {

enum class Stage { rays, wall, shade, marks, meshes, strands, water, between, film, edges, lens, count };

struct StageTicks {
  const char* name;
  std::uint64_t
      ticks;  ///< of the processor's time stamp counter, all threads together, inner stages not counted
};
/// What has been counted since the last time; nothing where it is not compiled in.
std::vector<StageTicks> take_stage_ticks();

#ifdef HAUNCH_STAGE_CLOCK
/// Counts for a stage while it lives; what is begun within it stops its clock.
class InStage {
 public:
  explicit InStage(Stage stage);
  ~InStage();
  InStage(const InStage&) = delete;
  InStage& operator=(const InStage&) = delete;

 private:
  Stage before_;
};
#else
struct InStage {
  explicit InStage(Stage /*stage*/) {}
};
#endif

}  // namespace haunch::render
