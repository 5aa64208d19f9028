// SPDX-License-Identifier: Apache-2.0
// A crawler turns its head: how far, how fast, what the drive keeps of it; a push camera does not.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play::test {
namespace {

using testing::HasSubstr;

scene::Scene with_camera(const std::string& kind) {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of clay",
    "pipe": {"bore_mm": 150, "length_m": 6,
             "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "faults": [{"kind": "connection", "at_m": 3, "clock": 3, "bore_mm": 100}],
    "camera": {"kind": ")" +
                    kind + "\"}}");
}

TEST(TurnHead, GoesAtItsOwnPaceAndNoFartherThanItCan) {
  Driver trainee(with_camera("crawler"));
  trainee.act(TurnHead{40, 0});
  EXPECT_EQ(trainee.exercise.pose().yaw_deg, 0);
  EXPECT_TRUE(trainee.exercise.turning());
  trainee.wait(0.5);
  EXPECT_NEAR(trainee.exercise.pose().yaw_deg, 0.5 * scene::turn_deg_s, 1e-6);
  trainee.wait(2);
  EXPECT_EQ(trainee.exercise.pose().yaw_deg, 40);
  EXPECT_FALSE(trainee.exercise.turning());
  trainee.act(TurnHead{300, -400});
  trainee.wait(10);
  EXPECT_NEAR(trainee.exercise.pose().yaw_deg, 0.6 * scene::most_turn_deg, 1e-9);
  EXPECT_NEAR(trainee.exercise.pose().pitch_deg, -0.8 * scene::most_turn_deg, 1e-9);
  trainee.act(TurnHead{0, 0});
  trainee.wait(10);
  EXPECT_FALSE(trainee.exercise.turned());
}

TEST(TurnHead, IsNothingForAPushCameraNorAfterTheDrive) {
  Driver push(with_camera("push"));
  const auto refused = push.exercise.act(TurnHead{20, 0});
  ASSERT_EQ(refused.size(), 1U);
  EXPECT_THAT(refused[0].what, HasSubstr("does not turn"));
  EXPECT_TRUE(push.exercise.log().empty());
  Driver crawler(with_camera("crawler"));
  EXPECT_FALSE(crawler.exercise.act(TurnHead{std::nan(""), 0}).empty());
  crawler.act(Finish{});
  EXPECT_FALSE(crawler.exercise.act(TurnHead{20, 0}).empty());
}

TEST(TurnHead, IsInTheLogAndInWhatTheDriveSaw) {
  Driver trainee(with_camera("crawler"));
  trainee.drive_to(2.8);
  trainee.act(TurnHead{60, 0});
  trainee.wait(5);
  trainee.act(TurnHead{0, 0});
  trainee.wait(5);
  double aside_s = 0;
  for (const Exercise::Stand& stand : trainee.exercise.driven())
    if (stand.yaw_deg == 60) aside_s += stand.seconds;
  // The ten degrees about 60 are left within a tenth of a second of turning.
  EXPECT_NEAR(aside_s, 5 - 60 / scene::turn_deg_s, 0.4);

  const auto read = log_file_from_text(log_to_text(trainee.exercise), "attempt.jsonl");
  ASSERT_TRUE(read.ok());
  Exercise again(with_camera("crawler"));
  for (const TimedInput& one : read.value().inputs) {
    again.step_to(one.tick);
    EXPECT_TRUE(again.act(one.input).empty());
    if (const auto* turn = std::get_if<TurnHead>(&one.input); turn && turn->yaw_deg != 0) {
      again.step_to(one.tick + 30);
      EXPECT_NEAR(again.pose().yaw_deg, 0.5 * scene::turn_deg_s, 1e-6);
    }
  }
}

}  // namespace
}  // namespace haunch::play::test
