// SPDX-License-Identifier: Apache-2.0
// A log played again is the same exercise, to the last character; a log that is not understood is
// refused with the places of all its problems.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/words.hpp"
#include "campaign.hpp"
#include "play/drive.hpp"
#include "play/exercise.hpp"
#include "play/small_scene.hpp"

namespace haunch::play {
namespace {

using test::small_scene;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

void expect_same(const Exercise& a, const Exercise& b) {
  EXPECT_EQ(a.record(), b.record());
  EXPECT_EQ(a.phase(), b.phase());
  EXPECT_EQ(log_to_text(a), log_to_text(b));
  ASSERT_EQ(a.marking().has_value(), b.marking().has_value());
  if (a.marking()) {
    EXPECT_EQ(marking::to_json(*a.marking()), marking::to_json(*b.marking()));
  }
}

std::vector<TimedInput> reread(const Exercise& exercise) {
  auto log = log_from_text(log_to_text(exercise), "log");
  for (const auto& problem : log.problems()) ADD_FAILURE() << base::to_line(problem);
  return log.ok() ? std::move(log).value() : std::vector<TimedInput>{};
}

coding::Observation random_observation(base::Random& random) {
  const std::vector<std::string> codes = {"BCD", "BCE", "BAJ", "BAB", "BBA", "BBB", "BBC",
                                          "BAO", "BDD", "BAC", "BCA", "ZZZ", ""};
  const auto& list = coding::CodeList::shipped();
  coding::Observation o;
  o.code = codes[random.below(static_cast<std::uint32_t>(codes.size()))];
  if (const auto* code = list.find(o.code)) {
    if (!code->ch1.empty())
      o.ch1 = std::next(code->ch1.begin(), random.below(static_cast<std::uint32_t>(code->ch1.size())))->first;
    if (!code->ch2.empty())
      o.ch2 = std::next(code->ch2.begin(), random.below(static_cast<std::uint32_t>(code->ch2.size())))->first;
  }
  if (random.below(3) > 0) o.q1 = random.uniform(-1, 60);
  if (random.below(2) > 0) o.clock_from = static_cast<int>(random.below(14));
  if (random.below(2) > 0) o.clock_to = static_cast<int>(random.below(14));
  if (random.below(4) == 0) o.distance_m = random.uniform(-1, 8);
  o.at_joint = random.below(4) == 0;
  const std::vector<std::string> stretches = {"", "", "", "A", "B", "A1", "B1", "A2", "B2", "C", "hello"};
  o.stretch = stretches[random.below(static_cast<std::uint32_t>(stretches.size()))];
  if (random.below(5) == 0) o.remark = "it's \"odd\", \xC3\xA9\n\t\\ # {}";
  if (random.below(20) == 0) o.extra = {{"Q", "kept"}};
  return o;
}

Input random_input(base::Random& random) {
  const std::string id = "o" + std::to_string(random.below(12));
  switch (random.below(20)) {
    case 0:
    case 1:
    case 2:
    case 3:
    case 4:
      return Drive{random.uniform(-0.3, 0.5)};
    case 5:
      return GoTo{random.uniform(-1, 8)};
    case 6:
    case 7:
    case 8:
    case 9:
    case 10:
    case 11:
      return Log{random_observation(random)};
    case 12:
      return Change{id, random_observation(random)};
    case 13:
      return Remove{id};
    case 14:
    case 15:
      return GiveClasses{
          {id, {{random.below(2) > 0 ? "tightness" : "operation", static_cast<int>(random.below(7))}}}};
    case 16:
      return GiveObjectClass{static_cast<int>(random.below(8))};
    case 17:
      return GiveAction{coding::all_actions()[random.below(5)]};
    case 18:
      return random.below(2) > 0 ? Input{Drive{0}} : Input{Resume{}};
    default:
      return Finish{};
  }
}

class Random : public ::testing::TestWithParam<std::uint64_t> {};

TEST_P(Random, InputsNeverCrashAndReplayTheSame) {
  base::Random random(GetParam());
  for (int round = 0; round < campaign::rounds(12); ++round) {
    const std::string from = random.below(2) > 0 ? "start" : "end",
                      zero = random.below(2) > 0 ? "start" : "end";
    Exercise exercise(small_scene(from, zero));
    int finishes = 0;
    for (int i = 0; i < 80; ++i) {
      for (std::uint32_t wait = random.below(200); wait > 0; --wait) exercise.step();
      const Input input = random_input(random);
      // Most of an exercise is driving: finishing comes late.
      if (std::holds_alternative<Finish>(input) && i < 50 && finishes == 0) continue;
      if (std::holds_alternative<Finish>(input)) ++finishes;
      const auto before = exercise.log().size();
      const auto problems = exercise.act(input);
      ASSERT_EQ(exercise.log().size(), before + (problems.empty() ? 1U : 0U));
    }
    const auto again = replay(small_scene(from, zero), reread(exercise));
    for (const auto& problem : again.problems()) ADD_FAILURE() << base::to_line(problem);
    ASSERT_TRUE(again.ok());
    expect_same(exercise, again.value());
  }
}
INSTANTIATE_TEST_SUITE_P(Seeds, Random, ::testing::Values(1U, 2U, 3U, 4U, 5U, 6U));

TEST(Replay, KeepsNumbersToTheLastBit) {
  Exercise exercise(small_scene());
  coding::Observation o;
  o.code = "BAJ";
  o.ch1 = "A";
  o.q1 = 0.1 + 0.2;
  o.q2 = coding::Number::from_text("07.50");
  exercise.act(Log{o});
  exercise.act(Drive{1.0 / 7.0});
  const auto inputs = reread(exercise);
  ASSERT_EQ(inputs.size(), 2U);
  const auto& logged = std::get<Log>(inputs[0].input).observation;
  EXPECT_EQ(logged.q1.value, 0.1 + 0.2);
  EXPECT_EQ(logged.q2.text, "07.50");
  EXPECT_EQ(std::get<Drive>(inputs[1].input).speed_m_s, 1.0 / 7.0);
}

TEST(Replay, RefusesAnInputThatMakesNoSenseWhereItStands) {
  const auto result = replay(small_scene(), {{0, Finish{}}, {5, Drive{0.1}}, {6, Finish{}}, {4, Finish{}}});
  ASSERT_FALSE(result.ok());
  ASSERT_EQ(result.problems().size(), 2U);
  EXPECT_EQ(result.problems()[0].place.line, 3);
  EXPECT_THAT(result.problems()[0].what, HasSubstr("tick 5"));
  EXPECT_EQ(result.problems()[1].place.line, 5);
  EXPECT_THAT(result.problems()[1].what, HasSubstr("backwards"));
}

TEST(InputLog, NamesTheScenarioItBelongsTo) {
  const Exercise exercise(small_scene());
  const auto file = log_file_from_text(log_to_text(exercise), "log");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(file.value().scenario, "Six metres of clay");
  EXPECT_EQ(file.value().scenario_hash, exercise.scene().scenario.hash);
  EXPECT_THAT(file.value().inputs, IsEmpty());
}

const std::string head = R"({"kind":"input log","edition":1,"scenario":"x","scenario_hash":"0"})"
                         "\n";

struct Bad {
  const char* line;
  const char* what;
  int column;
};
class BadLine : public ::testing::TestWithParam<Bad> {};
TEST_P(BadLine, IsAProblemWithAPlace) {
  const auto log = log_from_text(head +
                                     R"({"tick":1,"do":"finish"})"
                                     "\n" +
                                     GetParam().line + "\n",
                                 "a.jsonl");
  ASSERT_FALSE(log.ok());
  EXPECT_THAT(base::to_line(log.problems().front()), HasSubstr(GetParam().what));
  EXPECT_EQ(log.problems().front().place.file, "a.jsonl");
  EXPECT_EQ(log.problems().front().place.line, 3);
  EXPECT_EQ(log.problems().front().place.column, GetParam().column);
  EXPECT_FALSE(log.problems().front().expected.empty());
}
INSTANTIATE_TEST_SUITE_P(
    InputLog, BadLine,
    ::testing::Values(
        Bad{R"({"tick":0,"do":"finish"})", "comes after tick 1", 9},
        Bad{R"({"tick":2.5,"do":"finish"})", "tick", 9}, Bad{R"({"tick":-2,"do":"finish"})", "tick", 9},
        Bad{R"({"tick":99999999999,"do":"finish"})", "tick", 9},
        Bad{R"({"tick":18446744073709551615,"do":"finish"})", "tick", 9},
        Bad{R"({"do":"finish"})", "\"tick\" is missing", 1}, Bad{R"({"tick":2})", "\"do\" is missing", 1},
        Bad{R"({"tick":2,"do":"drvie","speed_m_s":0})", "did you mean \"drive\"", 16},
        Bad{R"({"tick":2,"do":"drive","speed_m_s":"fast"})", "no number", 36},
        Bad{R"({"tick":2,"do":"drive","speed":1})", "did you mean \"speed_m_s\"", 32},
        Bad{R"({"tick":2,"do":"finish","loudly":true})", "unknown key \"loudly\"", 34},
        Bad{R"({"tick":2,"do":"log"})", "\"observation\" is missing", 1},
        Bad{R"({"tick":2,"do":"log","observation":{"code":"BAO","clock_form":3}})",
            "did you mean \"clock_from\"", 63},
        Bad{R"({"tick":2,"do":"log","observation":{"code":"BAO","clock_from":13}})", "1 to 12", 63},
        Bad{R"({"tick":2,"do":"log","observation":[]})", "no object", 36},
        Bad{R"({"tick":2,"do":"action","action":"clean"})", "did you mean \"clean again\"", 34},
        Bad{R"({"tick":2,"do":"classes","id":"o1","classes":{"tightness":"bad"}})", "tightness", 59},
        Bad{R"({"tick":2,"do":"finish")", "", 24}, Bad{"[1]", "no object", 1}, Bad{"", "", 1}));

TEST(InputLog, ReportsAllProblemsAtOnce) {
  const auto log = log_from_text(
      "{\"kind\":\"scenario\",\"edition\":1}\n{\"tick\":\"now\",\"do\":\"fly\"}\nnonsense\n{\"tick\":3,"
      "\"do\":\"drive\"}\n",
      "a.jsonl");
  ASSERT_FALSE(log.ok());
  std::vector<int> lines;
  for (const auto& problem : log.problems()) lines.push_back(problem.place.line);
  EXPECT_THAT(lines, ::testing::ElementsAre(1, 1, 1, 2, 2, 3, 4));
}

TEST(InputLog, AnEmptyFileIsRefused) {
  EXPECT_FALSE(log_from_text("", "a.jsonl").ok());
  EXPECT_FALSE(log_from_text("\n", "a.jsonl").ok());
}

TEST(InputLog, DamagedBytesAreNeverACrash) {
  Exercise exercise(small_scene());
  base::Random random(9);
  for (int i = 0; i < 60; ++i) exercise.act(random_input(random));
  const std::string good = log_to_text(exercise);
  int refused = 0;
  for (int round = 0; round < campaign::rounds(1500); ++round) {
    std::string bad = good;
    for (std::uint32_t hits = 1 + random.below(4); hits > 0; --hits) {
      const std::size_t at = random.below(static_cast<std::uint32_t>(bad.size()));
      switch (random.below(3)) {
        case 0:
          bad[at] = static_cast<char>(random.below(256));
          break;
        case 1:
          bad.erase(at, 1 + random.below(30));
          break;
        default:
          bad.insert(at, bad.substr(random.below(static_cast<std::uint32_t>(bad.size())), random.below(20)));
      }
    }
    const auto log = log_from_text(bad, "a.jsonl");
    if (!log) ++refused;
    for (const auto& problem : log.problems()) EXPECT_GT(problem.place.line, 0);
  }
  EXPECT_GT(refused, 500);
}

TEST(Demo, TheRecordedAttemptIsImperfectAndReplays) {
  const auto path = base::content_dir() / "demo" / "canteen-branch.attempt.jsonl";
  const auto text = base::read_file(path);
  ASSERT_TRUE(text.ok());
  const auto file = log_file_from_text(text.value(), path.string());
  ASSERT_TRUE(file.ok()) << base::to_line(file.problems().front());
  const auto scene = test::shipped_scene("canteen-branch");
  EXPECT_EQ(file.value().scenario, scene.scenario.title);
  EXPECT_EQ(file.value().scenario_hash, scene.scenario.hash) << "write it again with write_demo_attempt";
  const auto exercise = replay(scene, file.value().inputs);
  ASSERT_TRUE(exercise.ok()) << base::to_line(exercise.problems().front());
  EXPECT_EQ(log_to_text(exercise.value()), text.value());
  ASSERT_EQ(exercise.value().phase(), Phase::review);
  const auto& marking = *exercise.value().marking();
  EXPECT_LT(marking.score, 100);
  EXPECT_GT(marking.score, 40);
  EXPECT_FALSE(marking.missed.empty());
  EXPECT_FALSE(marking.invented.empty());
  EXPECT_TRUE(marking.grading.given);
  EXPECT_LT(marking.grading.right, marking.grading.asked);
  EXPECT_TRUE(marking.action.given.has_value());
  const auto wrong = [&](marking::Aspect aspect) {
    for (const auto& hit : marking.hits) {
      for (const auto& verdict : hit.verdicts) {
        if (verdict.aspect == aspect && verdict.standing == marking::Standing::wrong) return true;
      }
    }
    return false;
  };
  EXPECT_TRUE(wrong(marking::Aspect::clock));
  EXPECT_TRUE(wrong(marking::Aspect::size));
  // A whole run was driven in a believable time: a quarter of an hour at most.
  EXPECT_NEAR(exercise.value().furthest_m(), 24, 0.02);
  EXPECT_GT(exercise.value().time_s(), 24 / 0.15);
  EXPECT_LT(exercise.value().time_s(), 900);
}

}  // namespace
}  // namespace haunch::play
