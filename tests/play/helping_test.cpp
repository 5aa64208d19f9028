// SPDX-License-Identifier: Apache-2.0
// The plumb mark, the counter, hints and kept pictures: what they do, what the marking tells of them, and
// that they come back from a log.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "base/clock.hpp"
#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play::test {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::string refusal(Exercise& exercise, const Input& input) {
  const auto problems = exercise.act(input);
  return problems.empty() ? std::string() : base::to_line(problems.front());
}

scene::Scene rolling() {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Rolling", "seed": 5,
    "pipe": {"bore_mm": 150, "length_m": 6, "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "faults": [{"kind": "roots", "at_m": 3, "form": "fine", "clock": [10, 2], "blocks_percent": 6}],
    "camera": {"kind": "push", "roll_deg": 60}})");
}

const marking::Skill& bottom(const marking::Marking& marking) {
  for (const marking::Skill& skill : marking.skills)
    if (skill.name == "finding the bottom") return skill;
  throw std::logic_error("no such skill");
}

TEST(Plumb, IsHeldAgainstWhereTheBottomShows) {
  Driver trainee(rolling());
  double most_roll = 0;
  for (const double at_m : {0.8, 1.9, 3.1, 4.4}) {
    trainee.drive_to(at_m);
    const double roll = trainee.exercise.pose().roll_deg;
    most_roll = std::max(most_roll, std::abs(roll));
    trainee.act(SetPlumb{base::on_screen_hour(6, roll) + 0.3});
    EXPECT_NEAR(trainee.exercise.plumbs().back().off_h, 0.3, 1e-9);
  }
  EXPECT_GT(most_roll, 20) << "or the picture would have been upright all along";
  trainee.drive_to(5.2);
  trainee.act(SetPlumb{base::on_screen_hour(6, trainee.exercise.pose().roll_deg) - 4});
  EXPECT_NEAR(trainee.exercise.plumbs().back().off_h, -4, 1e-9);
  trainee.act(SetPlumb{base::on_screen_hour(6, trainee.exercise.pose().roll_deg) + 12.9});
  EXPECT_NEAR(trainee.exercise.plumbs().back().off_h, 0.9, 1e-9) << "a whole turn is none";
  trainee.act(Finish{});
  trainee.act(Finish{});
  const marking::Skill& skill = bottom(*trainee.exercise.marking());
  EXPECT_EQ(skill.right, 4);
  EXPECT_EQ(skill.partly, 1) << "of two at one place the later counts";
  EXPECT_EQ(skill.wrong, 0);
  EXPECT_NEAR(*skill.earned, 4.5 / 5, 1e-9);
  EXPECT_THAT(skill.sentence, HasSubstr("0.9 h off"));
}

TEST(Plumb, ThatNobodySetIsNotAsked) {
  Driver trainee(rolling());
  trainee.act(Finish{});
  trainee.act(Finish{});
  EXPECT_FALSE(bottom(*trainee.exercise.marking()).earned);
}

TEST(Counter, ReadsWhatItIsSetTo) {
  Driver trainee(small_scene());
  trainee.drive_to(1.5);
  const double there_z = trainee.exercise.chainage_at(trainee.exercise.counter_m());
  trainee.act(SetCounter{11});
  EXPECT_NEAR(trainee.exercise.counter_m(), 11, 1e-9);
  EXPECT_NEAR(trainee.exercise.chainage_at(11), there_z, 1e-9) << "the camera has not moved";
  trainee.drive_to(13.5);
  trainee.type("BBA B 6% 10-2");
  EXPECT_NEAR(*trainee.exercise.record().observations.back().distance_m.value, 13.5, 0.02);
  trainee.act(GoTo{11});
  EXPECT_NEAR(trainee.exercise.chainage_at(trainee.exercise.counter_m()), there_z, 0.01);
  EXPECT_THAT(refusal(trainee.exercise, GoTo{1.5}), HasSubstr("outside the run"));
  EXPECT_THAT(refusal(trainee.exercise, SetCounter{std::nan("")}), HasSubstr("counter"));
}

TEST(Hints, SayMoreEachTimeAndAreCounted) {
  Driver trainee(small_scene());
  trainee.type("BCD B @0");
  trainee.drive_to(1.9);
  std::vector<std::string> said;
  for (int i = 0; i < 3; ++i) {
    trainee.act(TakeHint{});
    said.push_back(trainee.exercise.in_words(trainee.exercise.hints().back()));
  }
  EXPECT_THAT(said[0], HasSubstr("something at 2.00 m"));
  EXPECT_THAT(said[1], HasSubstr("wall and joints"));
  EXPECT_THAT(said[2], HasSubstr("BAJ"));
  EXPECT_THAT(said[0] + said[1], ::testing::Not(HasSubstr("BAJ")));
  trainee.type("BAJ A 20mm");
  trainee.act(TakeHint{});
  EXPECT_THAT(trainee.exercise.in_words(trainee.exercise.hints().back()), HasSubstr("nothing within reach"));
  trainee.act(Finish{});
  trainee.act(Finish{});
  const marking::Marking& marking = *trainee.exercise.marking();
  EXPECT_EQ(marking.hints.size(), 4U);
  EXPECT_THAT(marking.help, HasSubstr("4 hints were taken, at 1.90 m; 1 told the code."));

  Driver alone(small_scene());
  alone.type("BCD B @0");
  alone.drive_to(1.9);
  alone.type("BAJ A 20mm");
  alone.act(Finish{});
  alone.act(Finish{});
  EXPECT_THAT(alone.exercise.marking()->help, IsEmpty());
  EXPECT_EQ(alone.exercise.marking()->score, marking.score) << "they are told and cost nothing";
}

TEST(Exam, GivesNoHelpAndHasOneWayToFinish) {
  Driver trainee(small_scene());
  trainee.act(Begin{Mode::exam});
  EXPECT_EQ(trainee.exercise.mode(), Mode::exam);
  EXPECT_THAT(refusal(trainee.exercise, TakeHint{}), HasSubstr("no hints in an exam"));
  trainee.act(Finish{});
  EXPECT_THAT(refusal(trainee.exercise, Resume{}), HasSubstr("exam"));
  trainee.act(Finish{});
  EXPECT_EQ(trainee.exercise.phase(), Phase::review);
  Driver late(small_scene());
  late.type("BCD B @0");
  EXPECT_THAT(refusal(late.exercise, Begin{Mode::exam}), HasSubstr("has begun"));
}

TEST(Pictures, GoWithWhatWasWrittenDown) {
  Driver trainee(small_scene());
  const std::string id = trainee.type("BCD B @0");
  trainee.act(KeepPicture{id});
  trainee.drive_to(1);
  trainee.act(KeepPicture{});
  ASSERT_EQ(trainee.exercise.pictures().size(), 2U);
  EXPECT_EQ(trainee.exercise.record().find(id)->photo, "picture-01");
  EXPECT_EQ(trainee.exercise.pictures()[1].name, "picture-02");
  EXPECT_EQ(trainee.exercise.pictures()[1].observation, "");
  EXPECT_THAT(refusal(trainee.exercise, KeepPicture{"o99"}), HasSubstr("no finding o99"));
}

TEST(InputLog, HoldsAllOfIt) {
  Driver trainee(rolling());
  trainee.act(Begin{Mode::guided});
  trainee.drive_to(0.5);
  trainee.act(SetPlumb{5.25});
  trainee.act(SetCounter{2});
  trainee.act(TakeHint{});
  trainee.act(KeepPicture{trainee.type("BCD B @1.5")});
  const std::string text = log_to_text(trainee.exercise, "coder-07");
  const auto file = log_file_from_text(text, "log");
  ASSERT_TRUE(file) << base::to_line(file.problems().front());
  EXPECT_EQ(file.value().by, "coder-07");
  const auto again = replay(rolling(), file.value().inputs);
  ASSERT_TRUE(again) << base::to_line(again.problems().front());
  EXPECT_EQ(log_to_text(again.value(), "coder-07"), text);
  EXPECT_EQ(again.value().mode(), Mode::guided);
  EXPECT_EQ(again.value().plumbs().front().off_h, trainee.exercise.plumbs().front().off_h);
  EXPECT_EQ(again.value().counter_off_m(), trainee.exercise.counter_off_m());
  EXPECT_EQ(again.value().hints().front().truth, trainee.exercise.hints().front().truth);
  EXPECT_EQ(again.value().record(), trainee.exercise.record());
  const auto wrong =
      log_from_text(text.substr(0, text.find('\n') + 1) + R"({"tick":0,"do":"begin","mode":"exma"})", "log");
  ASSERT_FALSE(wrong);
  EXPECT_THAT(base::to_line(wrong.problems().front()), HasSubstr("did you mean \"exam\""));
}

}  // namespace
}  // namespace haunch::play::test
