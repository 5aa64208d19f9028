// SPDX-License-Identifier: Apache-2.0
// How what was missed was in view: what the drive stood before, what it hurried to, where it turned its head.
#include "play/in_view.hpp"

#include <gtest/gtest.h>

#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play::test {
namespace {

scene::Scene run() {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of clay",
    "pipe": {"bore_mm": 150, "length_m": 6,
             "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "faults": [{"kind": "hole", "at_m": 1.5, "clock": 2, "length_mm": 90, "width_mm": 60, "behind": "void"},
               {"kind": "hole", "at_m": 5.2, "clock": 10, "length_mm": 90, "width_mm": 60, "behind": "void"}],
    "camera": {"kind": "crawler"}})");
}
double seconds(const std::vector<marking::InView>& all, const Exercise& exercise, double distance_m) {
  for (const marking::InView& one : all)
    for (const coding::Observation& row : exercise.truth().record.observations)
      if (row.id == one.truth && row.code == "BAC" && std::abs(*row.distance_m.value - distance_m) < 0.02)
        return one.plainly_s;
  return -1;
}
std::vector<marking::InView> of(const Exercise& exercise, const std::atomic<bool>* stop = nullptr) {
  return in_view(exercise.scene(), exercise.truth(), exercise.driven(), exercise.marking()->missed, 2, stop);
}
void finish(Driver& trainee) {
  trainee.act(Finish{});
  trainee.act(Finish{});
}

TEST(InView, TellsWhatWasStoodBeforeFromWhatWasNeverReached) {
  Driver trainee(run());
  trainee.drive_to(1.3);
  trainee.wait(20);
  finish(trainee);
  const auto found = of(trainee.exercise);
  EXPECT_GT(seconds(found, trainee.exercise, 1.5), 18);
  EXPECT_EQ(seconds(found, trainee.exercise, 5.2), 0);
}

TEST(InView, KnowsThatTheHeadWasTurnedAway) {
  Driver trainee(run());
  trainee.drive_to(1.55);
  trainee.act(TurnHead{-60, -40});
  trainee.wait(20);
  finish(trainee);
  EXPECT_LT(seconds(of(trainee.exercise), trainee.exercise, 1.5), 14) << "most of it with the head turned from it";
}

TEST(InView, CanBeStopped) {
  Driver trainee(run());
  trainee.drive_to(1.3);
  finish(trainee);
  const std::atomic<bool> stop = true;
  EXPECT_TRUE(of(trainee.exercise, &stop).empty());
}

}  // namespace
}  // namespace haunch::play::test
