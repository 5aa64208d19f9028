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
  EXPECT_LT(seconds(of(trainee.exercise), trainee.exercise, 1.5), 14)
      << "most of it with the head turned from it";
}

TEST(InView, CanBeStopped) {
  Driver trainee(run());
  trainee.drive_to(1.3);
  finish(trainee);
  const std::atomic<bool> stop = true;
  EXPECT_TRUE(of(trainee.exercise, &stop).empty());
}

TEST(NotPlain, IsWhatNoCarefulDriveShowsAndIsHeldAgainstNobody) {
  // A hairline as long as a finger is wide in a wide pipe, and a hole nobody overlooks.
  Driver trainee(scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of concrete",
    "pipe": {"bore_mm": 600, "length_m": 6, "sections": [{"to_m": 6, "material": "concrete", "unit_length_m": 1}]},
    "faults": [{"kind": "crack", "at_m": 3.5, "clock": [2, 2.1], "form": "around", "width_mm": 0.1},
               {"kind": "hole", "at_m": 4.5, "clock": 10, "length_mm": 120, "width_mm": 90, "behind": "void"}],
    "camera": {"kind": "crawler"}})"));
  trainee.act(Finish{});
  const auto missed = trainee.exercise.would_lose_on();
  const auto unseen = not_plain(trainee.exercise.scene(), trainee.exercise.truth(), missed, 2);
  ASSERT_EQ(unseen.size(), 1U);
  EXPECT_EQ(trainee.exercise.truth().record.find(unseen[0].observation)->code, "BAB");
  EXPECT_NE(unseen[0].why.find("a careful drive shows it nowhere plainly"), std::string::npos);
  const std::atomic<bool> stop = true;
  EXPECT_TRUE(not_plain(trainee.exercise.scene(), trainee.exercise.truth(), missed, 2, &stop).empty());

  trainee.exercise.set_aside(unseen);
  trainee.act(Finish{});
  const marking::Marking& marking = *trainee.exercise.marking();
  const auto has = [](const auto& list, const char* code) {
    return std::any_of(list.begin(), list.end(), [&](const auto& one) { return one.code.starts_with(code); });
  };
  EXPECT_TRUE(has(marking.not_visible, "BAB"));
  EXPECT_FALSE(has(marking.missed, "BAB"));
  EXPECT_TRUE(has(marking.missed, "BAC")) << "what plainly shows is missed";
  EXPECT_EQ(trainee.exercise.would_lose_on().size(), marking.missed.size());
}

}  // namespace
}  // namespace haunch::play::test
