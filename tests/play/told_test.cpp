// SPDX-License-Identifier: Apache-2.0
// What no picture shows: the trainee is told of it where the camera comes to it, and held to no more.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play::test {
namespace {

using testing::HasSubstr;

scene::Scene with_air() {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of clay",
    "pipe": {"bore_mm": 150, "length_m": 6,
             "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "notes": [{"kind": "air", "at_m": 0, "gas": "oxygen", "reading": 18.2, "unit": "%"},
              {"kind": "air", "at_m": 4, "gas": "methane", "reading": 1.2, "unit": "%"},
              {"kind": "remark", "at_m": 5, "text": "under the wall"}],
    "camera": {"kind": "crawler"}})");
}

std::vector<std::string> missed(Driver& trainee) {
  trainee.act(Finish{});
  trainee.act(Finish{});
  std::vector<std::string> codes;
  for (const marking::Missed& one : trainee.exercise.marking()->missed) codes.push_back(one.code);
  return codes;
}

TEST(Told, BeforeTheDriveAndWhereTheCameraComesToIt) {
  Driver trainee(with_air());
  ASSERT_EQ(trainee.exercise.told().size(), 1U);
  EXPECT_EQ(trainee.exercise.told()[0].distance_m, 0);
  EXPECT_THAT(trainee.exercise.told()[0].words, HasSubstr("oxygen, 18.2 %"));
  trainee.drive_to(3.9);
  EXPECT_EQ(trainee.exercise.told().size(), 1U);
  trainee.drive_to(4.1);
  ASSERT_EQ(trainee.exercise.told().size(), 2U);
  EXPECT_THAT(trainee.exercise.told()[1].words, HasSubstr("methane, 1.2 %"));
  trainee.drive_to(1);
  EXPECT_EQ(trainee.exercise.told().size(), 2U) << "what was told stays told";
  trainee.drive_to(6);
  EXPECT_EQ(trainee.exercise.told().size(), 3U);
}

TEST(Told, WhatWasToldAndNotWrittenIsMissedAndDangerous) {
  Driver trainee(with_air());
  trainee.drive_to(6);
  const auto codes = missed(trainee);
  EXPECT_THAT(codes, testing::Contains("BDF A"));
  EXPECT_THAT(codes, testing::Contains("BDF C"));
  EXPECT_THAT(codes, testing::Not(testing::Contains("BDB"))) << "remarks are never marked";
  EXPECT_EQ(trainee.exercise.marking()->action.truth, coding::Action::stop_and_refer);
}

TEST(Told, WhatWasNeverToldIsNotMissed) {
  Driver trainee(with_air());
  trainee.drive_to(3);
  const auto codes = missed(trainee);
  EXPECT_THAT(codes, testing::Contains("BDF A"));
  EXPECT_THAT(codes, testing::Not(testing::Contains("BDF C")));
  const auto& aside = trainee.exercise.marking()->not_visible;
  ASSERT_EQ(aside.size(), 1U);
  EXPECT_EQ(aside[0].code, "BDF C");
  EXPECT_THAT(aside[0].why, HasSubstr("told only where the camera comes to it"));
}

}  // namespace
}  // namespace haunch::play::test
