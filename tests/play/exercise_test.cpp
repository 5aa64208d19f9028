// SPDX-License-Identifier: Apache-2.0
// The drive and its phases: what may be done when, and that a refused input changes nothing.
#include "play/exercise.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <regex>

#include "coding/validate.hpp"
#include "play/attempt.hpp"
#include "play/drive.hpp"
#include "play/small_scene.hpp"

namespace haunch::play {
namespace {

using test::Driver;
using test::small_scene;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

coding::Observation seen(const std::string& code, const std::string& ch1 = "", const std::string& ch2 = "") {
  coding::Observation o;
  o.code = code;
  o.ch1 = ch1;
  o.ch2 = ch2;
  return o;
}

/// Does an input that must be refused, and checks that nothing has changed.
std::string refusal(Exercise& exercise, const Input& input) {
  const std::string log = log_to_text(exercise);
  const coding::Record record = exercise.record();
  const Phase phase = exercise.phase();
  const double lens = exercise.lens_z_m(), speed = exercise.speed_m_s();
  const auto problems = exercise.act(input);
  EXPECT_EQ(problems.size(), 1U);
  EXPECT_EQ(log_to_text(exercise), log);
  EXPECT_EQ(exercise.record(), record);
  EXPECT_EQ(exercise.phase(), phase);
  EXPECT_EQ(exercise.lens_z_m(), lens);
  EXPECT_EQ(exercise.speed_m_s(), speed);
  if (problems.empty()) return {};
  EXPECT_FALSE(problems.front().expected.empty());
  return problems.front().what;
}

TEST(Drives, TicksAreSixtiethsOfASecond) {
  Exercise exercise(small_scene());
  const double begin = exercise.counter_m();
  EXPECT_THAT(exercise.act(Drive{0.12}), IsEmpty());
  for (int i = 0; i < 600; ++i) exercise.step();
  EXPECT_EQ(exercise.tick(), 600);
  EXPECT_DOUBLE_EQ(exercise.time_s(), 10);
  EXPECT_NEAR(exercise.counter_m() - begin, 1.2, 1e-9);
  EXPECT_NEAR(exercise.furthest_m(), 1.2, 1e-9);
}

TEST(Drives, SpeedIsLimitedToTheRigs) {
  Exercise exercise(small_scene());
  const double most = exercise.scene().scenario.camera.speed_m_s;
  exercise.act(Drive{50});
  EXPECT_EQ(exercise.speed_m_s(), most);
  exercise.act(Drive{-50});
  EXPECT_EQ(exercise.speed_m_s(), -most);
  EXPECT_THAT(refusal(exercise, Drive{std::numeric_limits<double>::quiet_NaN()}), HasSubstr("not a number"));
}

// The camera goes through a sag deep enough for its lens, and past a joint that gushes.
TEST(Drives, TheLensStaysWetAfterWaterAndTheClockOfItRuns) {
  Exercise exercise(test::scene_from(R"({"kind": "scenario", "edition": 1, "title": "A sag and a gush",
    "pipe": {"bore_mm": 150, "length_m": 9, "gradient_percent": 1,
             "low_spots": [{"from_m": 1, "to_m": 4, "depth_mm": 140}],
             "sections": [{"to_m": 9, "material": "vitrified clay", "unit_length_m": 1}]},
    "faults": [{"kind": "joint gap", "at_m": 6, "gap_mm": 20},
               {"kind": "infiltration", "at_m": 6, "clock": 12, "form": "gushes"}],
    "camera": {"kind": "crawler"}})"));
  EXPECT_FALSE(exercise.wet_ago_s()) << "dry so far";
  exercise.act(Drive{0.15});
  int wettings = 0;
  bool was_wet = false;
  double longest_dry_s = 0;
  while (exercise.speed_m_s() > 0) {
    exercise.step();
    const auto ago = exercise.wet_ago_s();
    const bool wet = ago && *ago == 0;
    const bool should =
        scene::level_at(exercise.scene().water, exercise.pose().lens.z) > exercise.pose().lens.y ||
        std::abs(exercise.pose().lens.z - 6) <= 0.08;
    EXPECT_EQ(wet, should) << exercise.pose().lens.z;
    wettings += wet && !was_wet;
    was_wet = wet;
    if (ago) longest_dry_s = std::max(longest_dry_s, *ago);
  }
  EXPECT_EQ(wettings, 2);
  EXPECT_GT(longest_dry_s, 5);
}

/// Both directions, and distances from either end.
class Ends : public ::testing::TestWithParam<std::pair<const char*, const char*>> {};

TEST_P(Ends, TheCounterReachesBothAndTheCameraStaysInside) {
  const auto [from, zero] = GetParam();
  Driver trainee(small_scene(from, zero));
  const Exercise& exercise = trainee.exercise;
  const bool up = std::string(from) == std::string(zero);
  EXPECT_NEAR(exercise.counter_m(), up ? 0 : 6, 1e-9);
  EXPECT_EQ(exercise.furthest_m(), 0);
  trainee.act(Drive{1});
  trainee.wait(120);
  EXPECT_NEAR(exercise.counter_m(), up ? 6 : 0, 1e-9);
  EXPECT_NEAR(exercise.furthest_m(), 6, 1e-9);
  EXPECT_EQ(exercise.speed_m_s(), 0) << "stopped by the end";
  const double z = exercise.pose().lens.z;
  EXPECT_TRUE(z >= 0 && z <= 6);
  // The ring, where the counter reads, lies ahead of the lens.
  const double ahead = scene::reference_ring_ahead_m(0.075);
  EXPECT_NEAR(exercise.pose().lens.z, std::string(from) == "start" ? 6 - ahead : ahead, 1e-6);
  trainee.act(Drive{-1});
  trainee.wait(120);
  EXPECT_NEAR(exercise.counter_m(), up ? 0 : 6, 1e-9);
  EXPECT_NEAR(exercise.furthest_m(), 6, 1e-9) << "going back takes nothing away";
}
INSTANTIATE_TEST_SUITE_P(Drives, Ends,
                         ::testing::Values(std::pair{"start", "start"}, std::pair{"start", "end"},
                                           std::pair{"end", "start"}, std::pair{"end", "end"}));

TEST(Drives, GoesBackOnlyWhereItHasBeen) {
  Driver trainee(small_scene());
  trainee.drive_to(3);
  EXPECT_THAT(refusal(trainee.exercise, GoTo{3.5}), HasSubstr("not been reached"));
  EXPECT_THAT(refusal(trainee.exercise, GoTo{-1}), HasSubstr("outside the run"));
  EXPECT_THAT(refusal(trainee.exercise, GoTo{60}), HasSubstr("outside the run"));
  EXPECT_THAT(refusal(trainee.exercise, GoTo{std::numeric_limits<double>::infinity()}),
              HasSubstr("not a number"));
  for (const double place : {1.0, 0.0, 2.2, 3.0}) {
    trainee.act(GoTo{place});
    EXPECT_NEAR(trainee.exercise.counter_m(), place, 1e-9);
    EXPECT_EQ(trainee.exercise.speed_m_s(), 0);
  }
  Driver upstream(small_scene("end", "start"));
  upstream.drive_to(4);
  upstream.act(GoTo{5});
  EXPECT_NEAR(upstream.exercise.counter_m(), 5, 1e-9);
  EXPECT_THAT(refusal(upstream.exercise, GoTo{3}), HasSubstr("not been reached"));
}

TEST(Records, TheJobSheetIsKnownAndTheFindingsAreNot) {
  const Exercise exercise(small_scene());
  EXPECT_EQ(exercise.record().header, exercise.truth().record.header);
  EXPECT_TRUE(exercise.record().header_number("ACB").has_value());
  EXPECT_THAT(exercise.record().observations, IsEmpty());
  EXPECT_FALSE(exercise.record().judgement.has_value());
}

TEST(Records, LogFillsTheDistanceAndTheIds) {
  Driver trainee(small_scene());
  trainee.act(Log{seen("BCD", "B")});
  trainee.drive_to(2);
  coding::Observation mine = seen("BAJ", "A");
  mine.id = "o77";
  mine.q1 = 20;
  trainee.act(Log{mine});
  coding::Observation back = seen("BAO");
  back.distance_m = 1.234;
  trainee.act(Log{back});
  const auto& rows = trainee.exercise.record().observations;
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].distance_m.value, 0);
  EXPECT_NEAR(*rows[1].distance_m.value, 2.0, 0.006);
  EXPECT_EQ(rows[2].distance_m.value, 1.234);
  EXPECT_EQ(rows[0].id + rows[1].id + rows[2].id, "o1o2o3");
}

TEST(Records, IdsAreNeverUsedAgain) {
  Driver trainee(small_scene());
  trainee.act(Log{seen("BAO")});
  trainee.act(Remove{"o1"});
  trainee.act(Log{seen("BAP")});
  EXPECT_EQ(trainee.exercise.record().observations.front().id, "o2");
  EXPECT_THAT(refusal(trainee.exercise, Remove{"o1"}), HasSubstr("no finding o1"));
}

TEST(Records, ChangeKeepsIdPlaceAndDistance) {
  Driver trainee(small_scene());
  trainee.drive_to(2);
  trainee.act(Log{seen("BAO")});
  trainee.act(Log{seen("BAN")});
  const auto where = trainee.exercise.record().observations.front().distance_m;
  trainee.drive_to(3);
  trainee.act(Change{"o1", seen("BAP")});
  const auto& row = trainee.exercise.record().observations.front();
  EXPECT_EQ(row.id, "o1");
  EXPECT_EQ(row.code, "BAP");
  EXPECT_EQ(row.distance_m, where);
  EXPECT_THAT(refusal(trainee.exercise, Change{"o9", seen("BAP")}), HasSubstr("no finding o9"));
}

TEST(Records, RefusesWhatCannotStandInARecord) {
  Driver trainee(small_scene());
  EXPECT_THAT(refusal(trainee.exercise, Log{seen("")}), HasSubstr("no code"));
  EXPECT_THAT(refusal(trainee.exercise, Log{seen("XYZ")}), HasSubstr("XYZ"));
  auto bad = seen("BAO");
  bad.clock_from = 13;
  EXPECT_THAT(refusal(trainee.exercise, Log{bad}), HasSubstr("13"));
  bad = seen("BAO");
  bad.distance_m = 99;
  EXPECT_THAT(refusal(trainee.exercise, Log{bad}), HasSubstr("outside the run"));
  bad.distance_m = coding::Number::from_text("far");
  EXPECT_THAT(refusal(trainee.exercise, Log{bad}), HasSubstr("not a number"));
  bad = seen("BAJ", "A");
  bad.q1 = -3;
  EXPECT_THAT(refusal(trainee.exercise, Log{bad}), HasSubstr("below 0"));
  for (const char* bytes : {"\xFF", "a\xC3", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"}) {
    bad = seen("BAO");
    bad.remark = bytes;
    EXPECT_THAT(refusal(trainee.exercise, Log{bad}), HasSubstr("no letters"));
  }
  bad.remark = "\xC3\xA9 \xE2\x82\xAC \xF0\x9F\x9A\xB0";
  EXPECT_THAT(trainee.exercise.act(Log{bad}), IsEmpty());
}

coding::Observation stretch(coding::Observation o, const std::string& mark) {
  o.stretch = mark;
  return o;
}

TEST(Runs, AreNumberedAndEnded) {
  Driver trainee(small_scene());
  auto grease = seen("BBB", "B");
  grease.q1 = 15;
  grease.clock_from = 8;
  grease.clock_to = 4;
  trainee.act(Log{stretch(grease, "A")});
  trainee.act(Log{stretch(seen("BBC", "A"), "A")});
  trainee.drive_to(2);
  trainee.act(Log{stretch(seen("BBB"), "B")});
  trainee.act(Log{stretch(seen(""), "B")});  // only one is open now
  trainee.act(Log{stretch(seen("BBB", "A"), "A7")});
  trainee.act(Log{stretch(seen("BAO"), "A")});
  const auto& rows = trainee.exercise.record().observations;
  std::vector<std::string> marks;
  for (const auto& row : rows) marks.push_back(row.code + row.stretch);
  EXPECT_THAT(marks, ElementsAre("BBBA1", "BBCA2", "BBBB1", "BBCB2", "BBBA7", "BAOA3"));
  EXPECT_EQ(rows[2].ch1, "B");
  EXPECT_EQ(rows[2].q1, grease.q1);
  EXPECT_EQ(rows[2].clock_to, 4);
  EXPECT_EQ(rows[3].ch1, "A");
}

TEST(Runs, WrongOnesAreRefused) {
  Driver trainee(small_scene());
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBB", "B"), "B")}),
              HasSubstr("nothing of this kind has begun"));
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBB", "B"), "B1")}), HasSubstr("not open"));
  trainee.act(Log{stretch(seen("BBB", "B"), "A")});
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBC", "A"), "A1")}), HasSubstr("begun already"));
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBC", "A"), "B1")}), HasSubstr("began as BBB"));
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBC", "A"), "Q9")}), HasSubstr("no stretch"));
  trainee.act(Log{stretch(seen("BBB", "A"), "A")});
  EXPECT_THAT(refusal(trainee.exercise, Log{stretch(seen("BBB"), "B")}), HasSubstr("more than one"));
  trainee.act(Log{stretch(seen(""), "B2")});
  EXPECT_EQ(trainee.exercise.record().observations.back().ch1, "A");
}

TEST(Phases, InputsOutOfPhaseAreRefused) {
  Driver trainee(small_scene());
  trainee.act(Log{seen("BCD", "B")});
  const coding::GivenClasses classes{"o1", {{"tightness", 3}}};
  for (const Input& early : std::vector<Input>{GiveClasses{classes}, GiveObjectClass{3}, GiveAction{}}) {
    EXPECT_THAT(refusal(trainee.exercise, early), HasSubstr("drive is not finished"));
  }
  trainee.act(Drive{0.1});
  trainee.act(Finish{});
  EXPECT_EQ(trainee.exercise.phase(), Phase::judging);
  EXPECT_EQ(trainee.exercise.speed_m_s(), 0);
  const std::vector<Input> driving = {Drive{0.1}, GoTo{0}, Log{seen("BAO")}, Change{"o1", seen("BAO")},
                                      Remove{"o1"}};
  for (const Input& late : driving)
    EXPECT_THAT(refusal(trainee.exercise, late), HasSubstr("drive is finished"));
  EXPECT_FALSE(trainee.exercise.marking());
  trainee.act(Finish{});
  EXPECT_EQ(trainee.exercise.phase(), Phase::review);
  ASSERT_TRUE(trainee.exercise.marking());
  for (const Input& late : driving) EXPECT_THAT(refusal(trainee.exercise, late), HasSubstr("is marked"));
  for (const Input& late :
       std::vector<Input>{GiveClasses{classes}, GiveObjectClass{3}, GiveAction{}, Finish{}}) {
    EXPECT_THAT(refusal(trainee.exercise, late), HasSubstr("is marked"));
  }
}

TEST(Phases, CodingIsTakenUpAgainUntilItIsMarked) {
  Driver trainee(small_scene());
  EXPECT_THAT(refusal(trainee.exercise, Resume{}), HasSubstr("drive is not finished"));
  trainee.act(Log{seen("BAO")});
  trainee.act(Log{seen("BAP")});
  trainee.act(Finish{});
  trainee.act(GiveClasses{{"o1", {{"tightness", 2}}}});
  trainee.act(GiveClasses{{"o2", {{"stability", 3}}}});
  trainee.act(GiveAction{coding::Action::do_not_jet});
  trainee.act(Resume{});
  EXPECT_EQ(trainee.exercise.phase(), Phase::driving);
  trainee.drive_to(2);
  trainee.act(Log{seen("BCD", "B")});
  trainee.act(Remove{"o2"});
  trainee.act(Finish{});
  const auto& judgement = *trainee.exercise.record().judgement;
  ASSERT_EQ(judgement.classes.size(), 1U) << "a finding's classes go with it";
  EXPECT_EQ(judgement.classes[0].observation, "o1");
  EXPECT_EQ(judgement.action, coding::Action::do_not_jet) << "what was given is kept";
  trainee.act(Finish{});
  EXPECT_THAT(refusal(trainee.exercise, Resume{}), HasSubstr("is marked"));
  const auto log = log_from_text(log_to_text(trainee.exercise), "log");
  ASSERT_TRUE(log) << base::to_line(log.problems().front());
  const auto again = replay(small_scene(), log.value());
  ASSERT_TRUE(again) << base::to_line(again.problems().front());
  EXPECT_EQ(again.value().record(), trainee.exercise.record());
  EXPECT_EQ(again.value().phase(), Phase::review);
}

TEST(Judging, KeepsTheLastWordAndRefusesWhatTheSchemeDoesNotHave) {
  Driver trainee(small_scene());
  trainee.act(Log{seen("BAO")});
  trainee.act(Finish{});
  trainee.act(GiveClasses{{"o1", {{"tightness", 2}}}});
  trainee.act(GiveClasses{{"o1", {{"tightness", 4}, {"stability", 1}}}});
  EXPECT_THAT(refusal(trainee.exercise, GiveClasses{{"o5", {{"tightness", 2}}}}), HasSubstr("o5"));
  EXPECT_THAT(refusal(trainee.exercise, GiveClasses{{"o1", {{"beauty", 2}}}}), HasSubstr("beauty"));
  EXPECT_THAT(refusal(trainee.exercise, GiveClasses{{"o1", {{"tightness", 6}}}}), HasSubstr("class 6"));
  EXPECT_THAT(refusal(trainee.exercise, GiveClasses{{"o1", {{"tightness", 0}}}}), HasSubstr("class 0"));
  EXPECT_THAT(refusal(trainee.exercise, GiveObjectClass{9}), HasSubstr("9"));
  trainee.act(GiveObjectClass{2});
  trainee.act(GiveAction{coding::Action::do_not_jet});
  const auto& judgement = *trainee.exercise.record().judgement;
  ASSERT_EQ(judgement.classes.size(), 1U);
  EXPECT_EQ(judgement.classes[0].classes.at("tightness"), 4);
  EXPECT_EQ(judgement.object_class, 2);
  EXPECT_EQ(judgement.action, coding::Action::do_not_jet);
  trainee.act(GiveClasses{{"o1", {}}});
  EXPECT_THAT(trainee.exercise.record().judgement->classes, IsEmpty());
}

class Shipped : public ::testing::TestWithParam<const char*> {};

/// The truth typed in as an attempt, stretch by stretch, is full marks: the whole chain from input to
/// score adds nothing and loses nothing.
TEST_P(Shipped, TheTruthLoggedIsFullMarks) {
  Driver trainee(test::shipped_scene(GetParam()));
  for (coding::Observation row : trainee.exercise.truth().record.observations) {
    row.reason.clear();
    trainee.act(Log{row});
  }
  trainee.act(Finish{});
  trainee.act(Finish{});
  EXPECT_EQ(trainee.exercise.marking()->score, 100);
  EXPECT_THAT(trainee.exercise.marking()->missed, IsEmpty());
  EXPECT_FALSE(
      base::has_errors(coding::validate(trainee.exercise.record(), coding::CodeList::shipped(), "attempt")));
}

TEST_P(Shipped, NothingLoggedIsNothingEarned) {
  Driver trainee(test::shipped_scene(GetParam()));
  trainee.act(Finish{});
  trainee.act(Finish{});
  EXPECT_EQ(trainee.exercise.marking()->score, 0);
}
INSTANTIATE_TEST_SUITE_P(Scenarios, Shipped,
                         ::testing::Values("canteen-branch", "school-iron-outlet", "terrace-clay-drain"));

TEST(Drives, TheHeadGoesUnderInTheSchoolsDip) {
  Driver trainee(test::shipped_scene("school-iron-outlet"));
  bool dry = !trainee.exercise.under_water(), under = false;
  trainee.act(Drive{1});
  for (int i = 0; i < 60 * 200; ++i) {
    trainee.exercise.step();
    under = under || trainee.exercise.under_water();
  }
  EXPECT_TRUE(dry);
  EXPECT_TRUE(under);
}

TEST(Attempts, AMarkedExerciseBecomesARow) {
  Driver trainee(small_scene());
  EXPECT_THROW(attempt_from(trainee.exercise, "coder-07", "{}", "0"), std::logic_error);
  trainee.act(Log{seen("BCD", "B")});
  trainee.act(Finish{});
  trainee.act(GiveAction{coding::Action::carry_on});
  trainee.act(Finish{});
  const auto attempt = attempt_from(trainee.exercise, "coder-07", "{\"kind\": \"record\"}", "0.1.0");
  EXPECT_EQ(attempt.trainee, "coder-07");
  EXPECT_EQ(attempt.scenario, "Six metres of clay");
  EXPECT_EQ(attempt.scenario_hash, trainee.exercise.scene().scenario.hash);
  EXPECT_EQ(attempt.score, trainee.exercise.marking()->score);
  EXPECT_EQ(attempt.input_log, log_to_text(trainee.exercise, "coder-07"));
  EXPECT_EQ(attempt.action_right.has_value(), true);
  EXPECT_EQ(attempt.classes_asked.has_value(), trainee.exercise.marking()->grading.given);
  for (const std::string& hash : {attempt.rules_hash, attempt.scheme_hash, attempt.code_list_hash})
    EXPECT_EQ(hash.size(), 16U);
  EXPECT_NE(attempt.id, attempt_from(trainee.exercise, "coder-07", "{}", "0.1.0").id);
  ASSERT_EQ(attempt.finished_at.size(), 20U);
  EXPECT_EQ(attempt.finished_at.back(), 'Z');
}

TEST(Attempts, KeepTheSchemeThatTheyWereMarkedBy) {
  for (const std::string& id : grading::Scheme::shipped_ids()) {
    const grading::Scheme scheme = grading::Scheme::shipped_named(id).value();
    Driver trainee(small_scene());
    trainee.exercise = Exercise(small_scene(), scheme);
    trainee.act(Log{seen("BAB", "A", "A")});
    trainee.act(Finish{});
    const std::string finding = trainee.exercise.record().observations.back().id;
    const std::string goal = scheme.goals().front();
    trainee.act(GiveClasses{{finding, {{goal, scheme.worst_class()}}}});
    EXPECT_THAT(refusal(trainee.exercise, GiveClasses{{finding, {{goal, scheme.worst_class() + 1}}}}),
                HasSubstr("there is no class"));
    trainee.act(Finish{});
    const auto attempt = attempt_from(trainee.exercise, "coder-07", "{}", "0.1.0");
    const auto file = base::read_file(base::content_dir() / "grading" / (id + ".json"));
    EXPECT_EQ(attempt.scheme_hash, base::fingerprint(file.value())) << id;
    EXPECT_EQ(trainee.exercise.marking()->consequence.truth.scheme, scheme.title());
    // Every row of both is provisional: asked, and none of it firm.
    EXPECT_GT(attempt.classes_asked.value(), 0) << id;
    EXPECT_EQ(attempt.classes_asked_firm, 0) << id;
  }
}

/// Everything a marking says.
std::string said_by(const marking::Marking& marking) {
  std::string all;
  const auto add = [&](const std::string& sentence) { all += sentence + '\n'; };
  for (const auto& hit : marking.hits) {
    for (const auto& verdict : hit.verdicts) add(verdict.sentence + ' ' + verdict.tolerance);
  }
  for (const auto& missed : marking.missed) add(missed.sentence);
  for (const auto& invented : marking.invented) add(invented.sentence);
  for (const auto& warning : marking.warnings) add(warning);
  for (const auto& sentence : marking.consequence.sentences) add(sentence);
  for (const auto& verdict : marking.grading.classes) add(verdict.sentence);
  add(marking.action.sentence);
  return all;
}

const std::regex metres_said("[0-9] ?(m|metres?)([^a-zA-Z]|$)");

TEST(Units, FeetAreWordsOnlyAndLeaveRecordMarksAndLogAlone) {
  const auto whole = [](base::LengthUnit unit) {
    Exercise exercise(small_scene());
    exercise.speak_in(unit);
    exercise.act(Drive{0.15});
    for (int i = 0; i < 60 * 20; ++i) exercise.step();
    auto o = seen("BAJ", "A");
    o.q1 = 35;
    o.distance_m = 2.6;
    exercise.act(Log{o});
    auto crack = seen("BAB", "C", "A");
    crack.q1 = 5;
    crack.clock_from = 12;
    crack.distance_m = 1.2;
    exercise.act(Log{crack});
    exercise.act(Finish{});
    exercise.act(Finish{});
    return exercise;
  };
  const Exercise metres = whole(base::LengthUnit::metres), feet = whole(base::LengthUnit::feet);
  EXPECT_EQ(log_to_text(metres), log_to_text(feet));
  EXPECT_EQ(metres.record(), feet.record());
  ASSERT_TRUE(metres.marking() && feet.marking());
  EXPECT_EQ(marking::to_json(*metres.marking()), marking::to_json(*feet.marking())) << "kept in metres";
  EXPECT_EQ(feet.marking_in(base::LengthUnit::feet)->score, feet.marking()->score);

  const std::string in_metres = said_by(*feet.marking_in(base::LengthUnit::metres));
  const std::string in_feet = said_by(*feet.marking_in(base::LengthUnit::feet));
  EXPECT_TRUE(std::regex_search(in_metres, metres_said)) << in_metres;
  EXPECT_FALSE(std::regex_search(in_feet, metres_said)) << in_feet;
  EXPECT_THAT(in_feet, HasSubstr(" ft"));
}

TEST(Units, RefusalsSpeakFeetToo) {
  Exercise exercise(small_scene());
  exercise.speak_in(base::LengthUnit::feet);
  for (const double distance_m : {3.0, 20.0}) {
    const auto problems = exercise.act(GoTo{distance_m});
    ASSERT_EQ(problems.size(), 1U);
    EXPECT_THAT(problems[0].what, HasSubstr(base::show_distance(distance_m, base::LengthUnit::feet)));
    EXPECT_FALSE(std::regex_search(problems[0].what + problems[0].expected, metres_said));
  }
  auto o = seen("BCD", "B");
  o.distance_m = 20;
  const auto problems = exercise.act(Log{o});
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(problems[0].what, HasSubstr("65.6 ft"));  // 20 / 0.3048
  EXPECT_THAT(problems[0].expected, HasSubstr("19.7 ft"));
  EXPECT_FALSE(std::regex_search(problems[0].what + problems[0].expected, metres_said));
}

}  // namespace
}  // namespace haunch::play
