// SPDX-License-Identifier: Apache-2.0
// What must hold for any records, over random ones with fixed seeds.
#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

#include "base/files.hpp"
#include "campaign.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using testing::careless;
using testing::mark_plain;
using testing::own_classes;
using testing::random_record;

const int rounds = campaign::rounds(200);

TEST(Properties, TruthAgainstItselfIsFullMarks) {
  base::Random random(1);
  for (int i = 0; i < rounds; ++i) {
    coding::Record truth = random_record(random);
    for (const coding::Observation& one : truth.observations)
      if (random.below(8) == 0) truth.not_visible.push_back({one.id, "under water"});
    coding::Record attempt = truth;
    attempt.not_visible.clear();
    attempt.judgement = own_classes(attempt);
    const Marking marking = mark_plain(truth, attempt);
    EXPECT_EQ(marking.score, 100);
    EXPECT_TRUE(marking.missed.empty());
    EXPECT_TRUE(marking.invented.empty());
    EXPECT_TRUE(marking.not_visible.empty());
    EXPECT_TRUE(marking.warnings.empty());
    EXPECT_TRUE(marking.consequence.sentences.empty());
    EXPECT_EQ(marking.grading.right, marking.grading.asked);
    EXPECT_TRUE(marking.action.right);
  }
}

TEST(Properties, AnEmptyAttemptEarnsNothing) {
  base::Random random(2);
  for (int i = 0; i < rounds; ++i) {
    const coding::Record truth = random_record(random);
    const Marking marking = mark_plain(truth, {});
    EXPECT_EQ(marking.score, 0);
    EXPECT_TRUE(marking.hits.empty() && marking.invented.empty());
  }
}

TEST(Properties, OrderNeverMatters) {
  base::Random random(3);
  for (int i = 0; i < rounds; ++i) {
    coding::Record truth = random_record(random);
    coding::Record attempt = careless(truth, random);
    if (i % 2 == 0) {
      attempt.judgement = own_classes(attempt);
      for (auto& given : attempt.judgement->classes)
        if (random.below(3) == 0) given.classes.begin()->second = 1;
    }
    const std::string before = to_json(mark_plain(truth, attempt));
    testing::shuffle(truth.observations, random);
    testing::shuffle(attempt.observations, random);
    if (attempt.judgement) testing::shuffle(attempt.judgement->classes, random);
    EXPECT_EQ(to_json(mark_plain(truth, attempt)), before);
  }
}

TEST(Properties, AFalseCallNeverRaisesTheScore) {
  base::Random random(4);
  int lowered = 0;
  for (int i = 0; i < rounds * 5; ++i) {
    const coding::Record truth = random_record(random);
    coding::Record attempt = careless(truth, random);
    const Marking before = mark_plain(truth, attempt);
    coding::Observation more = testing::random_defect(random);
    // Something far away, a copy of what was logged, or anything anywhere.
    if (i % 3 == 0) more.distance_m = 60 + random.uniform() * 10;
    if (i % 3 == 1 && !attempt.observations.empty()) {
      more = attempt.observations[random.below(static_cast<std::uint32_t>(attempt.observations.size()))];
      more.stretch.clear();
      more.id.clear();
    }
    attempt.observations.push_back(more);
    coding::number_observations(attempt);
    const Marking after = mark_plain(truth, attempt);
    const std::string& added = attempt.observations.back().id;
    if (std::any_of(after.hits.begin(), after.hits.end(),
                    [&](const Hit& hit) { return hit.attempt == added; }))
      continue;  // it found something after all
    EXPECT_LE(after.score, before.score) << to_json(before) << to_json(after);
    if (after.score < before.score) ++lowered;
  }
  EXPECT_GT(lowered, rounds);
}

TEST(Properties, AWorseSizeNeverScoresBetter) {
  base::Random random(5);
  int lowered = 0;
  for (int i = 0; i < rounds * 5; ++i) {
    const coding::Record truth = random_record(random);
    coding::Record attempt = i % 2 == 0 ? truth : careless(truth, random);
    if (attempt.observations.empty()) continue;
    const Marking before = mark_plain(truth, attempt);
    if (before.hits.empty()) continue;
    const Hit& hit = before.hits[random.below(static_cast<std::uint32_t>(before.hits.size()))];
    const coding::Observation* there = truth.find(hit.truth);
    auto given = std::find_if(attempt.observations.begin(), attempt.observations.end(),
                              [&](const coding::Observation& one) { return one.id == hit.attempt; });
    if (!there->q1.value || !given->q1.value || !there->stretch.empty() || there->code != given->code)
      continue;
    const double off = *given->q1.value - *there->q1.value;
    given->q1 = *given->q1.value + (off < 0 ? -1 : 1) * random.uniform(0, 20);
    const Marking after = mark_plain(truth, attempt);
    // So far off that it is taken for another finding, which may weigh more.
    const auto pair_of = [](const Hit& one) { return std::pair(one.truth, one.attempt); };
    if (!std::ranges::equal(before.hits, after.hits, {}, pair_of, pair_of)) continue;
    EXPECT_LE(after.score, before.score) << to_json(before) << to_json(after);
    if (after.score < before.score) ++lowered;
  }
  EXPECT_GT(lowered, rounds / 4);
}

TEST(Properties, AnExamIsNeverKinderThanTeaching) {
  base::Random random(9);
  const auto teaching = Rules::named("teaching"), exam = Rules::named("exam");
  ASSERT_TRUE(teaching.ok() && exam.ok());
  int stricter = 0;
  for (int i = 0; i < rounds; ++i) {
    const coding::Record truth = random_record(random), attempt = careless(truth, random);
    const double kind = mark(truth, attempt, grading::Scheme::shipped(), {}, teaching.value()).score;
    const double strict = mark(truth, attempt, grading::Scheme::shipped(), {}, exam.value()).score;
    EXPECT_EQ(mark(truth, truth, grading::Scheme::shipped(), {}, exam.value()).score, 100);
    stricter += strict < kind ? 1 : 0;
    EXPECT_LE(strict, kind + 12) << "weights differ, so a single attempt may fall a little the other way";
  }
  EXPECT_GT(stricter, rounds * 3 / 5);
}

TEST(Properties, EveryFindingIsAccountedForOnce) {
  base::Random random(6);
  for (int i = 0; i < rounds; ++i) {
    const coding::Record truth = random_record(random), attempt = careless(truth, random);
    const Marking marking = mark_plain(truth, attempt);
    const auto findings = [](const coding::Record& record) { return coding::extents(record).size(); };
    std::size_t there = marking.missed.size(), given = marking.invented.size();
    for (const Hit& hit : marking.hits)
      there += 1 + hit.also_truths.size(), given += 1 + hit.also_attempts.size();
    EXPECT_EQ(there, findings(truth));
    EXPECT_EQ(given, findings(attempt));
    EXPECT_GE(marking.score, 0);
    EXPECT_LE(marking.score, 100);
    double cost = 0;
    for (const Cost& one : marking.costs) cost += one.points;
    EXPECT_NEAR(marking.score, std::max(0.0, 100 - cost), 0.1)
        << "the costs say what is missing to full marks";
    EXPECT_TRUE(std::is_sorted(marking.costs.begin(), marking.costs.end(),
                               [](const Cost& a, const Cost& b) { return a.points > b.points; }));
    for (const Hit& hit : marking.hits) {
      EXPECT_LE(hit.earned, hit.weight);
      for (const Verdict& verdict : hit.verdicts) {
        EXPECT_FALSE(verdict.sentence.empty());
        EXPECT_FALSE(verdict.source.empty());
      }
    }
  }
}

TEST(Properties, OwnClassesNeverChangeTheScore) {
  base::Random random(7);
  for (int i = 0; i < rounds; ++i) {
    const coding::Record truth = random_record(random);
    coding::Record attempt = careless(truth, random);
    const double plain = mark_plain(truth, attempt).score;
    attempt.judgement = own_classes(attempt);
    for (auto& given : attempt.judgement->classes)
      given.classes.begin()->second = 1 + static_cast<int>(random.below(5));
    attempt.judgement->object_class = 1;
    EXPECT_EQ(mark_plain(truth, attempt).score, plain);
  }
}

/// The same pipe inspected from its other end: distances and clocks turn round, stretches begin where they
/// ended.
coding::Record turned_round(const coding::Record& record, double length_m) {
  const auto hour = [](int h) { return h == 12 ? 12 : 12 - h; };
  coding::Record turned = record;
  for (coding::Observation& one : turned.observations) {
    if (one.distance_m.value) one.distance_m = length_m - *one.distance_m.value;
    const auto from = one.clock_from, to = one.clock_to;
    if (from) one.clock_from = hour(to.value_or(*from));
    if (to) one.clock_to = hour(*from);
    if (!one.stretch.empty()) one.stretch.front() = one.stretch.front() == 'A' ? 'B' : 'A';
  }
  return turned;
}

TEST(Properties, AMirroredInspectionIsMarkedAlike) {
  // Where no tolerance grows with the distance.
  std::string text = base::read_file(base::content_dir() / "marking" / "rules.json").value();
  const std::string grows = "\"within_share\": 0.01";
  ASSERT_NE(text.find(grows), std::string::npos);
  text.replace(text.find(grows), grows.size(), "\"within_share\": 0");
  const Rules rules = testing::rules_from(text);
  base::Random random(8);
  const auto score = [&](const coding::Record& truth, const coding::Record& attempt) {
    return mark(truth, attempt, grading::Scheme::shipped(), {}, rules);
  };
  int faulty = 0;
  for (int i = 0; i < rounds; ++i) {
    coding::Record truth = random_record(random);
    // What changes "from here on" holds on the other side once turned round: a pipe of one kind throughout.
    std::erase_if(truth.observations, [](const auto& one) { return one.code.starts_with("AE"); });
    const coding::Record attempt = careless(truth, random);
    const Marking one = score(truth, attempt),
                  other = score(turned_round(truth, 40), turned_round(attempt, 40));
    EXPECT_EQ(one.hits.size(), other.hits.size());
    EXPECT_NEAR(one.score, other.score, 0.1000001) << to_json(one) << to_json(other);
    faulty += one.score < 100 ? 1 : 0;
  }
  EXPECT_GT(faulty, rounds / 2);
}

}  // namespace
}  // namespace haunch::marking
