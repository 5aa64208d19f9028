// SPDX-License-Identifier: Apache-2.0
// A drive that cannot come to the end, where a drive has been, and how what was missed was in view.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>

#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play::test {
namespace {

using testing::HasSubstr;

scene::Scene stepped(const std::string& from) {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of clay",
    "pipe": {"bore_mm": 150, "length_m": 6,
             "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "faults": [{"kind": "joint shift", "at_m": 4, "offset_mm": 110, "toward_clock": 6},
               {"kind": "joint gap", "at_m": 5, "gap_mm": 20}, {"kind": "joint gap", "at_m": 1, "gap_mm": 20}],
    "camera": {"kind": "crawler", "head_mm": 60}, "inspection": {"from": ")" +
                    from + "\"}}");
}

TEST(Stop, TheCameraGoesNoFartherThanWhatStopsIt) {
  for (const std::string from : {"start", "end"}) {
    Driver trainee(stepped(from));
    EXPECT_FALSE(trainee.exercise.at_stop());
    trainee.act(Drive{0.15});
    trainee.wait(120);
    EXPECT_TRUE(trainee.exercise.at_stop());
    EXPECT_EQ(trainee.exercise.speed_m_s(), 0);
    EXPECT_NEAR(trainee.exercise.lens_z_m(), from == "start" ? 3.98 : 4.02, 1e-6);
    trainee.act(Drive{-0.15});
    trainee.wait(2);
    EXPECT_FALSE(trainee.exercise.at_stop()) << "back it goes";
  }
}

TEST(Stop, NobodyIsHeldToWhatLiesBeyond) {
  Driver trainee(stepped("start"));
  trainee.act(Drive{0.15});
  trainee.wait(120);
  trainee.act(Finish{});
  trainee.act(Finish{});
  std::vector<std::string> missed;
  for (const marking::Missed& one : trainee.exercise.marking()->missed) missed.push_back(one.code);
  EXPECT_THAT(missed, testing::Contains("BDC A E"));
  EXPECT_EQ(std::count(missed.begin(), missed.end(), "BAJ A"), 1) << "the one on this side";
  EXPECT_THAT(missed, testing::Not(testing::Contains("BCE B")));
}

/// Drives two metres, logs all that is there without fault, and finishes; `giving_up`: says the inspection
/// was abandoned.
Driver two_metres(const std::string& name, bool giving_up) {
  Driver trainee(shipped_scene(name));
  const auto rows = trainee.exercise.truth().record.observations;
  for (const coding::Observation& row : rows) {
    const bool whole = row.stretch.empty() || std::any_of(rows.begin(), rows.end(), [&](const auto& end) {
                         return end.stretch == "B" + row.stretch.substr(1) && *end.distance_m.value <= 2;
                       });
    if (*row.distance_m.value > 2 || !whole || row.stretch.substr(0, 1) == "B") continue;
    trainee.drive_to(*row.distance_m.value);
    coding::Observation logged = row;
    logged.id.clear(), logged.stretch.clear(), logged.reason.clear();
    trainee.act(Log{logged});
  }
  trainee.drive_to(2);
  if (giving_up) trainee.type("abandoned high water stopped by client");
  trainee.act(Finish{});
  trainee.act(Finish{});
  return trainee;
}

TEST(Finish, EarlyExcusesNothing) {
  for (const char* name : {"depot-concrete-main", "school-iron-outlet", "terrace-clay-drain"})
    for (const bool giving_up : {false, true}) {
      const Driver trainee = two_metres(name, giving_up);
      const marking::Marking& marking = *trainee.exercise.marking();
      std::size_t beyond = 0;
      const auto& record = trainee.exercise.truth().record;
      for (const coding::Observation& row : record.observations) {
        const bool hidden = std::any_of(record.not_visible.begin(), record.not_visible.end(),
                                        [&](const auto& one) { return one.observation == row.id; });
        const bool neutral = row.code == "BDA" || row.code == "BDB" || row.code == "AEA" ||
                             row.code == "AEB" || row.code == "AEG" || row.code == "BDF";
        const bool end = row.stretch.substr(0, 1) == "B";
        if (*row.distance_m.value > 2 && !hidden && !end && !neutral) ++beyond;
      }
      EXPECT_GT(beyond, 3U) << name;
      EXPECT_GE(marking.missed.size(), beyond) << name;
      EXPECT_LT(marking.score, 60) << name;
      for (const marking::Missed& missed : marking.missed) EXPECT_FALSE(missed.sentence.empty());
      EXPECT_EQ(std::any_of(marking.invented.begin(), marking.invented.end(),
                            [](const auto& one) { return one.code.starts_with("BDC"); }),
                giving_up)
          << "nothing called for giving up";
    }
}

TEST(Driven, SaysWhereTheLensWasAndHowLong) {
  for (const std::string from : {"start", "end"}) {
    Driver trainee(small_scene(from));
    trainee.wait(2);
    trainee.drive_to(from == "start" ? 2 : 4);
    trainee.wait(5);
    const auto stands = trainee.exercise.driven();
    double seconds = 0, longest = 0, longest_z = 0;
    for (const Exercise::Stand& one : stands) {
      EXPECT_GE(one.lens_z_m, 0);
      EXPECT_LE(one.lens_z_m, 6);
      seconds += one.seconds;
      if (one.seconds > longest) longest = one.seconds, longest_z = one.lens_z_m;
    }
    EXPECT_NEAR(seconds, trainee.exercise.time_s(), 1e-6) << "all of the drive";
    EXPECT_NEAR(longest_z, trainee.exercise.lens_z_m(), 0.026) << "where it stood";
    EXPECT_GE(longest, 5);
    trainee.act(Finish{});
    trainee.wait(30);
    double after = 0;
    for (const Exercise::Stand& one : trainee.exercise.driven()) after += one.seconds;
    EXPECT_EQ(after, seconds) << "giving classes is no drive";
  }
}

TEST(Driven, HowWhatWasMissedWasInViewIsToldAndChangesNoScore) {
  Driver trainee(small_scene());
  trainee.drive_to(3);
  trainee.act(Finish{});
  trainee.act(Finish{});
  const marking::Marking before = *trainee.exercise.marking();
  const auto gap = std::find_if(before.missed.begin(), before.missed.end(),
                                [](const marking::Missed& one) { return one.code == "BAJ A"; });
  ASSERT_NE(gap, before.missed.end());
  EXPECT_FALSE(gap->in_view);
  trainee.exercise.was_in_view({{gap->truth, 4.2, 3, 2.1}});
  const marking::Marking after = *trainee.exercise.marking();
  EXPECT_EQ(after.score, before.score);
  ASSERT_EQ(after.missed.size(), before.missed.size());
  const auto& same = after.missed[static_cast<std::size_t>(gap - before.missed.begin())];
  ASSERT_TRUE(same.in_view);
  EXPECT_EQ(same.in_view->plainly_s, 3);
  EXPECT_THAT(same.sentence, HasSubstr("in view for 4.2 s, plainly for 3 s of them"));
  EXPECT_THAT(trainee.exercise.marking_in(base::LengthUnit::feet)->missed.at(0).sentence, HasSubstr("ft"));
}

}  // namespace
}  // namespace haunch::play::test
