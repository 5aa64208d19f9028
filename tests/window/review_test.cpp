// SPDX-License-Identifier: Apache-2.0
// What the review lists and where it takes the camera.
#include "window/review_items.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "window/runs.hpp"

namespace haunch::window {
namespace {

play::Exercise marked() {
  play::Exercise exercise(test::short_scene());
  exercise.act(play::Drive{0.15});
  for (int i = 0; i < 60 * 10; ++i) exercise.step();
  coding::Observation invented;
  invented.code = "BAB";
  invented.ch1 = "C";
  invented.ch2 = "A";
  invented.q1 = 5;
  invented.clock_from = 12;
  exercise.act(play::Log{invented});
  exercise.act(play::Finish{});
  exercise.act(play::Finish{});
  return exercise;
}

TEST(Review, EveryVerdictIsListedOnceInOrder) {
  const auto exercise = marked();
  ASSERT_TRUE(exercise.marking());
  const auto& marking = *exercise.marking();
  const auto items = review_items(exercise, base::LengthUnit::metres);
  EXPECT_EQ(items.size(), marking.hits.size() + marking.missed.size() + marking.invented.size() +
                              marking.not_visible.size());
  EXPECT_TRUE(std::is_sorted(items.begin(), items.end(),
                             [](const auto& a, const auto& b) { return a.kind < b.kind; }));
  for (const auto& item : items) {
    EXPECT_FALSE(item.title.empty());
    EXPECT_FALSE(item.place.empty()) << item.title;
    EXPECT_FALSE(item.sentences.empty()) << item.title;
  }
}

TEST(Review, AMissedDefectIsLitAndAheadOfTheLens) {
  const auto exercise = marked();
  const auto items = review_items(exercise, base::LengthUnit::metres);
  int lit = 0;
  for (const auto& item : items) {
    if (item.kind != ItemKind::missed || item.fault == 0) continue;
    ++lit;
    ASSERT_TRUE(item.stand_z_m);
    EXPECT_FALSE(item.code_says.empty()) << "what its code means stands beside it";
    const auto& fault = exercise.scene().scenario.faults[static_cast<std::size_t>(item.fault - 1)];
    const double from = scene::stretch_of(fault).from_m;
    EXPECT_LT(*item.stand_z_m, from) << "the camera travels downstream here and stands before it";
    EXPECT_GT(*item.stand_z_m, from - 0.5);
  }
  EXPECT_EQ(lit, 2) << "the open joint and the roots";
}

TEST(Review, TellsHowWhatWasMissedWasInViewOnceThatIsKnown) {
  auto exercise = marked();
  std::vector<marking::InView> known;
  for (const marking::Missed& one : exercise.marking()->missed) known.push_back({one.truth, 4.2, 3.1, 2.5});
  const auto telling = [&] {
    int many = 0;
    for (const auto& item : review_items(exercise, base::LengthUnit::metres))
      for (const auto& sentence : item.sentences)
        many += sentence.find("in view for 4.2 s") != std::string::npos ? 1 : 0;
    return many;
  };
  EXPECT_EQ(telling(), 0);
  exercise.was_in_view(known);
  EXPECT_EQ(telling(), static_cast<int>(known.size()));
}

TEST(Review, StandsOnTheOtherSideWhenTheCameraTravelsUpstream) {
  auto scene = test::short_scene();
  scene.scenario.inspection.from = scene::End::end;
  const double z = stand_before(scene, 1.0, 1.5);
  EXPECT_GT(z, 1.5);
  EXPECT_LE(stand_before(scene, 3.0, 3.0), scene.length_m()) << "never outside the run";
}

TEST(Review, NotesSayWhenNoClassesWereGiven) {
  const auto exercise = marked();
  const auto notes = review_notes(exercise, base::LengthUnit::metres);
  ASSERT_EQ(notes.grading.size(), 1U);
  EXPECT_NE(notes.grading[0].find("no classes"), std::string::npos);
  EXPECT_FALSE(notes.consequence.empty());
}

TEST(Review, LengthsTakeTheUnitAndSizesStay) {
  const std::string words = "a fall of 12 mm over 1.5 m; 0.3048 m long (5 m)";
  EXPECT_EQ(lengths_in(words, base::LengthUnit::metres), words);
  // 1.5 / 0.3048 = 4.92, 5 / 0.3048 = 16.40
  EXPECT_EQ(lengths_in(words, base::LengthUnit::feet), "a fall of 12 mm over 4.9 ft; 1.0 ft long (16.4 ft)");
}
}  // namespace
}  // namespace haunch::window
