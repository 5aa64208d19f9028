// SPDX-License-Identifier: Apache-2.0
// Reading scenarios: what good ones say, and that bad ones give every problem at its place.
#include "campaign.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "base/files.hpp"
#include "base/random.hpp"
#include "base/words.hpp"
#include "scenario/problems.hpp"
#include "scenario/read.hpp"
#include "scene/scene.hpp"

namespace haunch::scenario {
namespace {

using namespace scene;

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;

std::string with(const std::string& faults, const std::string& more = "") {
  return R"({
"kind": "scenario", "edition": 3, "title": "Ten metres of clay",
"pipe": { "bore_mm": 100, "length_m": 10,
  "sections": [ { "to_m": 10, "material": "clay", "unit_length_m": 1 } ] },
"faults": [
)" + faults +
         "\n]" + more + "\n}\n";
}

std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

#define EXPECT_ONE_PROBLEM(text, place, ...)                                            \
  do {                                                                                  \
    const auto found = lines(text);                                                     \
    EXPECT_EQ(found.size(), 1U) << testing::PrintToString(found);                       \
    EXPECT_THAT(found, Contains(AllOf(HasSubstr("run.json:" place ":"), __VA_ARGS__))); \
  } while (false)

TEST(Scenario, TheSmallestOneIsEightLines) {
  const auto read = scenario_from_json(R"({
  "kind": "scenario",
  "edition": 1,
  "title": "Clay",
  "pipe": { "bore_mm": 100, "length_m": 9,
            "sections": [ { "to_m": 9, "material": "clay" } ] }
})",
                                       "small.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  const Scenario& scenario = read.value();
  EXPECT_EQ(scenario.sections.size(), 1U);
  EXPECT_EQ(scenario.sections[0].bore_mm, 100);
  EXPECT_EQ(scenario.sections[0].material, Material::clay);
  EXPECT_EQ(scenario.sections[0].manning_n, 0.013);  // Winchester, Indiana code, table 4
  EXPECT_TRUE(scenario.faults.empty());
  EXPECT_EQ(scenario.inspection.distance_zero, End::start);
  EXPECT_GT(build_scene(scenario).joints.size(), 5U);
}

TEST(Scenario, TheTraineesJobIsApartFromTheTrainersPurpose) {
  const auto read = scenario_from_json(
      with("", R"(, "job": "Slow draining.", "purpose": "Trains: roots.", "format": 1)"), "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_EQ(read.value().job, "Slow draining.");
  EXPECT_EQ(read.value().purpose, "Trains: roots.");
  EXPECT_EQ(read.value().edition, 3) << "the author's revision, whatever the format";
  EXPECT_THAT(lines(with("", R"(, "format": 2)")), testing::ElementsAre(HasSubstr("format")));
}

TEST(Scenario, EveryFaultKindIsReadAsWritten) {
  const auto read = scenario_from_json(with(R"(
{ "kind": "joint gap", "at_m": 1, "gap_mm": 12 },
{ "kind": "joint shift", "at_m": 2, "offset_mm": 9, "toward_clock": 5 },
{ "kind": "joint bend", "at_m": 3, "angle_deg": 2, "toward_clock": 9 },
{ "kind": "crack", "from_m": 3.2, "to_m": 3.8, "clock": 12, "width_mm": 0.5 },
{ "kind": "crack", "at_m": 4.5, "clock": [10, 2], "width_mm": 2, "form": "branching" },
{ "kind": "hole", "at_m": 5.5, "clock": 2, "length_mm": 50, "width_mm": 40, "behind": "stone" },
{ "kind": "roots", "at_m": 6, "clock": [9, 12], "form": "fine", "blocks_percent": 4 },
{ "kind": "roots", "from_m": 7, "to_m": 7.4, "form": "mass", "blocks_percent": 30 },
{ "kind": "deposit", "from_m": 7.5, "to_m": 8.5, "form": "coarse", "depth_percent": 10 },
{ "kind": "grease", "from_m": 8, "to_m": 9, "clock": [8, 4], "covers_percent": 10 },
{ "kind": "scale", "from_m": 8, "to_m": 9, "covers_percent": 5 },
{ "kind": "fouling", "from_m": 8, "to_m": 9, "covers_percent": 5 },
{ "kind": "connection", "at_m": 9.5, "clock": 10, "bore_mm": 75, "fitting": "saddle", "intrudes_percent": 12, "closed": true },
{ "kind": "squashed", "from_m": 4.6, "to_m": 5.2, "direction": "horizontal", "percent": 7 },
{ "kind": "bend", "from_m": 9, "to_m": 9.8, "angle_deg": 2, "toward_clock": 9 }
)"),
                                       "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  const auto& faults = read.value().faults;
  ASSERT_EQ(faults.size(), 15U);
  std::vector<std::string> words;
  for (const Fault& fault : faults) words.push_back(kind_word(fault));
  EXPECT_THAT(words, testing::ElementsAre("joint gap", "joint shift", "joint bend", "crack", "crack", "hole",
                                          "roots", "roots", "deposit", "grease", "scale", "fouling",
                                          "connection", "squashed", "bend"));
  EXPECT_EQ(std::get<Bend>(faults[14].kind).toward_clock_h, 9);
  EXPECT_FALSE(std::get<Squashed>(faults[13].kind).vertical);
  EXPECT_EQ(std::get<Squashed>(faults[13].kind).percent, 7);
  EXPECT_EQ(std::get<Crack>(faults[3].kind).form, CrackForm::along);
  EXPECT_EQ(std::get<Crack>(faults[4].kind).arc, (base::ClockArc{10, 2, false}));
  EXPECT_EQ(std::get<Hole>(faults[5].kind).behind, Behind::stone);
  EXPECT_TRUE(std::get<Roots>(faults[7].kind).arc.whole);
  EXPECT_EQ(std::get<Settled>(faults[8].kind).kind, SettledKind::coarse);
  EXPECT_EQ(std::get<Attached>(faults[10].kind).kind, AttachedKind::scale);
  EXPECT_EQ(std::get<Connection>(faults[12].kind).fitting, Fitting::saddle);
  EXPECT_TRUE(std::get<Connection>(faults[12].kind).closed);
  EXPECT_EQ(faults[12].pointer, "/faults/12");
}

TEST(Scenario, TheCamerasWindowAndPictureAreReadAsWritten) {
  const auto run = [](const std::string& camera) {
    return scenario_from_json(R"({ "kind": "scenario", "edition": 1, "title": "Window",
"pipe": { "bore_mm": 150, "length_m": 10, "sections": [ { "to_m": 10, "material": "PVC" } ] },
"camera": )" + camera + " }",
                              "run.json");
  };
  const auto read = run(R"({ "kind": "push", "fog": 0.4, "dirt": 0.1, "picture": "analogue" })");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_EQ(read.value().camera.fog, 0.4);
  EXPECT_EQ(read.value().camera.dirt, 0.1);
  EXPECT_TRUE(read.value().camera.analogue);
  const CameraRig clean = run("{}").value().camera;
  EXPECT_EQ(clean.fog, 0);
  EXPECT_EQ(clean.dirt, 0);
  EXPECT_FALSE(clean.analogue);
  const auto wrong = run(R"({ "fog": 1.4, "dirt": -1, "picture": "sharp" })");
  ASSERT_FALSE(wrong.ok());
  EXPECT_EQ(wrong.problems().size(), 3U);
  for (const base::Problem& problem : wrong.problems()) EXPECT_EQ(problem.place.line, 3);
}

TEST(Scenario, TwelveToTwelveIsTheWholeWayRound) {
  const auto read = scenario_from_json(
      with(R"({ "kind": "crack", "at_m": 1.5, "clock": [12, 12], "width_mm": 1 })"), "run.json");
  ASSERT_TRUE(read.ok());
  EXPECT_TRUE(std::get<Crack>(read.value().faults[0].kind).arc.whole);
}

TEST(ScenarioProblems, AreLocatedAndSaid) {
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "hole", "at_m": 12.5, "clock": 2, "length_mm": 50, "width_mm": 40 })"),
                     "6:27", HasSubstr("past the end of the pipe"), HasSubstr("at most 10 m"));
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "roots", "at_m": 2, "clock": 9, "form": "fine", "blocks_percent": 140 })"), "6:77",
      HasSubstr("140"), HasSubstr("100"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "joint shift", "at_m": 2.4, "offset_mm": 5, "toward_clock": 3 })"),
                     "6:34", HasSubstr("no joint at 2.4 m"), HasSubstr("nearest is at 2 m"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "joint shift", "at_m": 2, "offset_mm": 100, "toward_clock": 3 })"),
                     "6:50", HasSubstr("leaves no opening"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "connection", "at_m": 2.5, "clock": 3, "bore_mm": 150 })"), "6:61",
                     HasSubstr("wider than the pipe"), HasSubstr("at most 100 mm"));
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "deposit", "from_m": 5, "to_m": 4, "form": "fine", "depth_percent": 5 })"), "6:43",
      HasSubstr("ends at 4 m"), HasSubstr("more than 5 m"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "hole", "at_m": 5.5, "clock": 2, "length_mm": 50, "width_mm": 400 })"),
                     "6:73", HasSubstr("less than half the wall"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "crack", "at_m": 5, "clock": 2, "width_mm": 1, "form": "along" })"),
                     "6:1", HasSubstr("needs a length"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "joint gap", "at_m": 2, "gap_mm": 12 },
{ "kind": "joint gap", "at_m": 2.01, "gap_mm": 20 })"),
                     "7:1", HasSubstr("already"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "grease", "from_m": 1, "to_m": 5, "covers_percent": 60 },
{ "kind": "roots", "from_m": 2, "to_m": 4, "form": "mass", "blocks_percent": 50 })"),
                     "7:1", HasSubstr("more lies in the pipe than fits"));
  EXPECT_ONE_PROBLEM(with("", R"(, "camera": { "head_mm": 120 })"), "7:27",
                     HasSubstr("does not go into the pipe"));
}

// One wrong value is one line, however much is measured by it.
TEST(ScenarioProblems, WhatIsWrongByItselfIsNotMeasuredBy) {
  std::string text = base::read_file(base::content_dir() / "scenarios" / "canteen-branch.json").value();
  const auto with_length = [&](const std::string& length) {
    std::string changed = text;
    const std::string old = R"("length_m": 24.0)";
    changed.replace(changed.find(old), old.size(), R"("length_m": )" + length);
    return lines(changed);
  };
  for (const char* length : {"-24", "0", "1e9", "\"long\""})
    EXPECT_THAT(with_length(length), testing::ElementsAre(HasSubstr("run.json:11:"))) << length;
  EXPECT_GT(with_length("12").size(), 3U) << "a length that can be: all that lies past it is said";

  const auto bore = lines(R"({ "kind": "scenario", "edition": 1, "title": "x",
"pipe": { "bore_mm": -100, "length_m": 10, "sections": [ { "to_m": 10, "material": "clay" } ] },
"faults": [
{ "kind": "joint shift", "at_m": 2, "offset_mm": 5, "toward_clock": 3 },
{ "kind": "connection", "at_m": 4.4, "clock": 3, "bore_mm": 80 } ],
"camera": { "head_mm": 38 } })");
  EXPECT_THAT(bore, testing::ElementsAre(HasSubstr("run.json:2:")));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "hole", "at_m": -1, "clock": 2, "length_mm": 50, "width_mm": 40 })"),
                     "6:27", HasSubstr("-1"));
}

TEST(ScenarioProblems, AreSaidInWholeSentences) {
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "roots", "at_m": 10.5, "clock": 9, "form": "fine", "blocks_percent": 4 })"), "6:28",
      HasSubstr("the roots at 10.5 m lie past the end"));
  EXPECT_ONE_PROBLEM(with(R"({ "kind": "crack", "at_m": 10.5, "clock": [9, 3], "width_mm": 1 })"), "6:28",
                     HasSubstr("the crack at 10.5 m lies past the end"));
  // The measure expected is in the sentence already; a number is no slip of the pen.
  for (const char* line : {R"({ "kind": "joint shift", "at_m": 2.4, "offset_mm": 5, "toward_clock": 3 })",
                           R"({ "kind": "connection", "at_m": 2.5, "clock": 3, "bore_mm": 150 })"}) {
    const auto found = lines(with(line));
    ASSERT_EQ(found.size(), 1U) << testing::PrintToString(found);
    EXPECT_THAT(found.front(), testing::Not(HasSubstr("did you mean")));
  }
}

TEST(ScenarioProblems, WordsGetTheNearestKnownOne) {
  EXPECT_THAT(lines(with(R"({ "kind": "rots", "at_m": 2, "form": "fine", "blocks_percent": 4 })")),
              Contains(HasSubstr("did you mean \"roots\"")));
  EXPECT_THAT(lines(with(R"({ "kind": "joint shift", "at_m": 2, "offset": 5, "toward_clock": 3 })")),
              Contains(AllOf(HasSubstr("unknown key \"offset\""), HasSubstr("offset_mm"))));
  EXPECT_THAT(
      lines(with(
          R"({ "kind": "roots", "at_m": 2, "from_m": 1, "to_m": 3, "form": "fine", "blocks_percent": 4 })")),
      Contains(HasSubstr("at_m, or from_m and to_m")));
}

TEST(ScenarioProblems, SectionsMustFollowOneAnotherToTheEnd) {
  EXPECT_THAT(lines(R"({ "kind": "scenario", "edition": 1, "title": "x",
"pipe": { "bore_mm": 100, "length_m": 10, "sections": [
{ "to_m": 6, "material": "clay" },
{ "to_m": 4, "material": "PVC" },
{ "to_m": 9, "material": "concrete" } ] } })"),
              testing::ElementsAre(
                  AllOf(HasSubstr("run.json:4:11"), HasSubstr("ends at 4 m, before it starts at 6 m")),
                  AllOf(HasSubstr("run.json:5:11"), HasSubstr("ends at 9 m but the pipe is 10 m"))));
}

TEST(ScenarioProblems, OfASquashedStretch) {
  const auto squashed = [](const std::string& more) {
    return with(R"({ "kind": "squashed", "from_m": 2, "to_m": 5, )" + more);
  };
  EXPECT_ONE_PROBLEM(squashed(R"("direction": "vertical", "percent": 30 })"), "6:83",
                     HasSubstr("vitrified clay squashed by 30 % has fallen in"), HasSubstr("at most 25 %"));
  EXPECT_ONE_PROBLEM(
      squashed(R"("direction": "vertical", "percent": 10 },
{ "kind": "connection", "at_m": 4.5, "clock": 2, "bore_mm": 50 })"),
      "7:1", HasSubstr("the connection within the squashed stretch from 2 m to 5 m cannot be drawn yet"),
      HasSubstr("elsewhere"));
  EXPECT_ONE_PROBLEM(squashed(R"("direction": "vertical", "percent": 10 },
{ "kind": "squashed", "from_m": 4.5, "to_m": 6, "direction": "vertical", "percent": 10 })"),
                     "7:1", HasSubstr("squashed here already"), HasSubstr("do not overlap"));
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "squashed", "from_m": 2, "to_m": 2.05, "direction": "vertical", "percent": 10 })"),
      "6:44", HasSubstr("not squashed over as little as 50 mm"), HasSubstr("100 mm"));
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "squashed", "from_m": 2, "to_m": 5, "direction": "sideways", "percent": 10 })"),
      "6:60", HasSubstr("sideways"), HasSubstr("horizontal"));
}

TEST(ScenarioProblems, OfABend) {
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "bend", "from_m": 2, "to_m": 2.03, "angle_deg": 15, "toward_clock": 3 })"), "6:40",
      HasSubstr("a bend of 15 degrees is too sharp over 0.03 m"), HasSubstr("at least 0.04 m"));
  EXPECT_ONE_PROBLEM(
      with(R"({ "kind": "bend", "from_m": 9, "to_m": 11, "angle_deg": 5, "toward_clock": 3 })"), "6:40",
      HasSubstr("past the end of the pipe"), HasSubstr("at most 10 m"));
}

TEST(ScenarioProblems, ASquashedStretchLetsTheCameraThrough) {
  const auto plastic = [](double percent, const std::string& direction) {
    return R"({ "kind": "scenario", "edition": 1, "title": "x",
"pipe": { "bore_mm": 100, "length_m": 10, "sections": [ { "to_m": 5, "material": "PVC" }, { "to_m": 10, "material": "clay" } ] },
"start": { "kind": "manhole", "name": "A" }, "finish": { "kind": "manhole", "name": "B" },
"faults": [ { "kind": "squashed", "from_m": 2, "to_m": 4, "direction": ")" +
           direction + R"(", "percent": )" + std::to_string(percent) + " } ] }";
  };
  // The lens on the axis, 50 mm up, and half of a head of 38 mm.
  EXPECT_THAT(lines(plastic(30, "vertical")), testing::IsEmpty());
  EXPECT_THAT(lines(plastic(35, "vertical")),
              testing::ElementsAre(AllOf(HasSubstr("head stands 69 mm high, the crown 65 mm over the invert"),
                                         HasSubstr("at most 31 %"))));
  EXPECT_THAT(lines(plastic(55, "horizontal")), testing::IsEmpty());
  std::string across = plastic(10, "vertical");
  across.replace(across.find("\"to_m\": 4,"), 10, "\"to_m\": 6,");
  EXPECT_THAT(lines(across),
              testing::ElementsAre(HasSubstr("the pipe changes at 5 m, within the squashed stretch")));
}

TEST(ScenarioProblems, AllComeAtOnceInTheOrderOfTheFile) {
  const auto found = lines(with(R"(
{ "kind": "hole", "at_m": 12.5, "clock": 2, "length_mm": 50, "width_mm": 40 },
{ "kind": "roots", "at_m": 2, "form": "fine", "blocks_percent": 140 },
{ "kind": "crack", "at_m": 2, "clock": [9, 3], "width_mm": 1, "colour": "red" },
{ "kind": "deposit", "from_m": 5, "to_m": 4, "form": "fine", "depth_percent": 5 },
{ "kind": "joint bend", "at_m": 7.5, "angle_deg": 2, "toward_clock": 3 }
)"));
  ASSERT_EQ(found.size(), 5U) << testing::PrintToString(found);
  for (std::size_t i = 0; i < 5; ++i)
    EXPECT_THAT(found[i], HasSubstr("run.json:" + std::to_string(7 + i) + ":"));
}

TEST(ScenarioProblems, BrokenJsonSaysWhere) {
  const auto found = lines("{ \"kind\": \"scenario\",\n \"title\" \"x\" }");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_THAT(found.front(), HasSubstr("run.json:2:"));
}

TEST(ScenarioProblems, AMissingFileIsAProblem) {
  const auto read = read_scenario("no/such/place.json");
  ASSERT_FALSE(read.ok());
  EXPECT_THAT(base::to_line(read.problems().front()), HasSubstr("no/such/place.json"));
}

TEST(ScenarioRemarks, WarnAndStillRead) {
  const auto remarks = [](const std::string& fault) {
    const auto read = scenario_from_json(with(fault), "run.json");
    EXPECT_TRUE(read.ok());
    return read.problems().empty() ? std::string() : base::to_line(read.problems().front());
  };
  EXPECT_THAT(remarks(R"({ "kind": "roots", "at_m": 2.5, "form": "fine", "blocks_percent": 4 })"),
              AllOf(HasSubstr("run.json:6:1: warning"), HasSubstr("nothing here for the roots to come in by"),
                    HasSubstr("2 m")));
  EXPECT_EQ(remarks(R"({ "kind": "roots", "at_m": 3, "form": "fine", "blocks_percent": 4 })"), "");
  EXPECT_THAT(remarks(R"({ "kind": "connection", "at_m": 3.02, "clock": 3, "bore_mm": 80 })"),
              HasSubstr("crosses the joint at 3 m"));
  EXPECT_THAT(remarks(R"({ "kind": "joint bend", "at_m": 9, "angle_deg": 10, "toward_clock": 12 })"),
              AllOf(HasSubstr("water fills the bore to the crown"), HasSubstr("warning")));
}

std::vector<std::string> shipped() {
  return {"canteen-branch.json",     "first-drive.json",         "terrace-clay-drain.json",
          "school-iron-outlet.json", "depot-concrete-main.json", "mews-plastic-lateral.json"};
}

TEST(ShippedScenarios, AreSoundAndEachTeachesSeveralThings) {
  for (const std::string& name : shipped()) {
    const auto read = read_scenario(base::content_dir() / "scenarios" / name);
    ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
    EXPECT_TRUE(read.problems().empty()) << name;
    if (name == "first-drive.json") continue;  // a first lesson: few things, one at a time
    EXPECT_GE(read.value().faults.size(), 9U) << name;
    const Scene scene = build_scene(read.value());
    EXPECT_TRUE(std::any_of(scene.water.reaches.begin(), scene.water.reaches.end(),
                            [](const WaterReach& reach) { return reach.standing; }))
        << name;
  }
}

TEST(ShippedScenarios, GiveNothingAwayBeforeTheDrive) {
  for (const std::string& name : shipped()) {
    const Scenario scenario = read_scenario(base::content_dir() / "scenarios" / name).value();
    EXPECT_FALSE(scenario.job.empty()) << name;
    EXPECT_FALSE(scenario.purpose.empty()) << name;
    const std::string seen = " " + base::lower(scenario.title + " " + scenario.job);
    for (const char* found : {" hole", "root", "crack", "silt", "deposit", "grease", "scale", "hairline",
                              "joint", "saddle", " dip", " sag", "under water", "met badly"})
      EXPECT_THAT(seen, testing::Not(HasSubstr(found))) << name;
  }
}

// Whatever is done to a good file: problems or a scene, never a crash. 4 000 seeded mutations.
TEST(ShippedScenarios, MutatedOnesNeverCrash) {
  base::Random random(7);
  int read_well = 0, refused = 0;
  const std::vector<std::string> pieces{"-1", "1e308", "null", "[]",         "{}",   "\"\"",
                                        "0",  "true",  "12",   "2",          "5",    "6.5",
                                        "9",  "20",    ",",    "\"from_m\"", "-0.5", "999"};
  for (const std::string& name : shipped()) {
    const std::string good = base::read_file(base::content_dir() / "scenarios" / name).value();
    for (int i = 0; i < campaign::rounds(1333); ++i) {
      std::string text = good;
      const int changes = 1 + static_cast<int>(random.below(3));
      for (int k = 0; k < changes; ++k) {
        // Replace one token (a number, a word) by something else, so that most files still parse.
        std::size_t at = random.below(static_cast<std::uint32_t>(text.size()));
        at = text.find_first_of("0123456789\"", at);
        if (at == std::string::npos) continue;
        std::size_t end =
            text[at] == '"' ? text.find('"', at + 1) : text.find_first_not_of("0123456789.", at);
        if (end == std::string::npos) continue;
        if (text[at] == '"') ++end;
        // Half the numbers only change somewhat, so that some files stay sound.
        const bool digit = text[at] != '"';
        const std::string other =
            digit && random.below(2) == 0
                ? std::to_string(std::atof(text.c_str() + at) * random.uniform(0.8, 1.2))
                : pieces[random.below(static_cast<std::uint32_t>(pieces.size()))];
        text.replace(at, end - at, other);
      }
      const auto read = scenario_from_json(text, name);
      if (!read) {
        EXPECT_FALSE(read.problems().empty());
        ++refused;
        continue;
      }
      ++read_well;
      const Scene scene = build_scene(read.value());
      EXPECT_EQ(scene.pieces.back().to_m, scene.length_m());
    }
  }
  EXPECT_GT(read_well, 100);
  EXPECT_GT(refused, 1000);
}

}  // namespace
}  // namespace haunch::scenario
