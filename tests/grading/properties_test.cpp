// SPDX-License-Identifier: Apache-2.0
// What must hold under every shipped scheme, for records of all codes.
//
// Numbers that may fall when a defect is added, by their published formulas: the condition numbers of "mean
// and worst" (F and G are the larger of mean and worst, and a slight defect brings the mean down), their
// classes, densities and indices with them. The class of the pipe never gets better.
#include <gtest/gtest.h>

#include <set>
#include <utility>

#include "campaign.hpp"
#include "coding/code_list.hpp"
#include "grading/close_by.hpp"
#include "grading/grade_json.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

template <class T>
const T& pick(base::Random& random, const std::vector<T>& from) {
  return from[random.below(static_cast<std::uint32_t>(from.size()))];
}

coding::Observation& pick_one(base::Random& random, std::vector<coding::Observation>& from) {
  return from[random.below(static_cast<std::uint32_t>(from.size()))];
}

std::string letter(base::Random& random, const std::map<std::string, std::string>& letters) {
  std::vector<std::string> names{""};
  for (const auto& [name, meaning] : letters) names.push_back(name);
  return pick(random, names);
}

/// Any code of the list with any letters, sizes and clock, now and then without.
coding::Observation any_finding(base::Random& random, bool defects_only) {
  const auto& codes = coding::CodeList::shipped().codes();
  const coding::CodeEntry* entry = nullptr;
  do entry = &pick(random, codes);
  while (defects_only && entry->group != "fabric" && entry->group != "operation");
  coding::Observation one = testing::seen(random.below(300) / 10.0, entry->code, letter(random, entry->ch1),
                                          letter(random, entry->ch2));
  if (random.below(6) > 0) one.q1 = coding::Number(random.below(900) / 10.0);
  if (random.below(3) == 0) one.q2 = coding::Number(random.below(900) / 10.0);
  if (random.below(3) > 0) one.clock_from = static_cast<int>(random.below(12)) + 1;
  if (one.clock_from && random.below(2) == 0) one.clock_to = static_cast<int>(random.below(12)) + 1;
  one.at_joint = random.below(4) == 0;
  if (random.below(8) == 0) one.remark = random.below(2) == 0 ? "leftover wall" : "Sag.";
  return one;
}

coding::Record any_record(base::Random& random) {
  std::vector<coding::Observation> rows{testing::seen(0, "BCD", "A"), testing::seen(30, "BCE", "A")};
  const auto count = random.below(10);
  for (std::uint32_t i = 0; i < count; ++i) {
    coding::Observation one = any_finding(random, random.below(4) > 0);
    if (random.below(5) == 0) {
      coding::Observation end = one;
      one.stretch = "A" + std::to_string(i + 1);
      end.stretch = "B" + std::to_string(i + 1);
      end.distance_m = *one.distance_m.value + random.below(50) / 10.0;
      rows.push_back(end);
    }
    rows.push_back(one);
  }
  return testing::record_of(std::move(rows), pick(random, std::vector<std::string>{"", "AE", "AX"}),
                            pick(random, std::vector<std::string>{"", "150", "700", "1600"}));
}

Site any_site(base::Random& random, const Scheme& scheme) {
  Site site;
  for (const SiteField& field : scheme.site_fields()) {
    if (random.below(3) == 0) continue;
    site.values[field.name] =
        field.values.empty() ? std::to_string(20 + random.below(100)) : pick(random, field.values);
  }
  return site;
}

class EveryScheme : public ::testing::TestWithParam<std::string> {
 protected:
  Scheme scheme_ = Scheme::shipped_named(GetParam()).value();
};

TEST_P(EveryScheme, EveryClassCitesARowThatTheSchemeHas) {
  base::Random random(21);
  const auto ids = scheme_.row_ids();
  const std::set<std::string> rows(ids.begin(), ids.end());
  int classes = 0;
  for (int i = 0; i < campaign::rounds(400); ++i)
    for (const ObservationGrade& one :
         grade(any_record(random), scheme_, any_site(random, scheme_)).observations)
      for (const GoalClass& goal : one.goals) {
        EXPECT_EQ(goal.grade.has_value(), goal.outcome == Outcome::classed);
        EXPECT_FALSE(goal.reason.empty());
        if (!goal.grade) continue;
        ++classes;
        EXPECT_TRUE(rows.contains(goal.row)) << goal.row;
        EXPECT_FALSE(goal.source.empty());
        EXPECT_TRUE(*goal.grade >= 1 && *goal.grade <= scheme_.worst_class());
        EXPECT_TRUE(goal.provisional || goal.source.find("memory") == std::string::npos) << goal.source;
        EXPECT_EQ(firm_class(goal).has_value(), !goal.provisional);
      }
  EXPECT_GT(classes, 400);
}

/// A row that looks at a size never takes one below 0 for a slight one: what it would say without any size
/// is all that it may say.
TEST_P(EveryScheme, ASizeBelow0GivesNoClass) {
  base::Random random(27);
  int fewer = 0;
  for (int i = 0; i < campaign::rounds(2000); ++i) {
    coding::Observation one = any_finding(random, true), without = one;
    const auto slip = [&](coding::Number& size) { size = coding::Number(-0.5 - random.below(500) / 10.0); };
    slip(one.q1);
    slip(one.q2);
    without.q1 = without.q2 = {};
    const Site site = any_site(random, scheme_);
    const auto graded = [&](const coding::Observation& finding) {
      return grade(testing::record_of({finding}), scheme_, site);
    };
    const Grade all = graded(one), none = graded(without);
    ASSERT_EQ(all.object_class, none.object_class) << all.object_reason;
    ASSERT_EQ(all.observations.size(), none.observations.size());
    for (std::size_t n = 0; n < all.observations.size(); ++n)
      for (std::size_t g = 0; g < all.observations[n].goals.size(); ++g) {
        const GoalClass& goal = all.observations[n].goals[g];
        ASSERT_EQ(goal.grade, none.observations[n].goals[g].grade) << goal.reason;
        ASSERT_EQ(goal.outcome, none.observations[n].goals[g].outcome) << goal.reason;
        fewer += goal.reason.find("cannot be, as no size is below 0") != std::string::npos ? 1 : 0;
      }
  }
  EXPECT_GT(fewer, 100);
}

double number_of(const Grade& grade, const std::string& id) {
  for (const Overall& one : grade.overall)
    if (one.id == id) return one.number.value_or(0);
  return 0;
}

/// What holds a class up: three goals, the object number; mean and worst, each goal's number is no less than
/// the worst score of its findings, and the class no better than that number's.
void expect_held_up(const Scheme& scheme, const Grade& before, const Grade& after) {
  if (scheme.procedure() == "three goals") {
    ASSERT_TRUE(before.object_number || before.observations.empty());
    EXPECT_GE(after.object_number.value_or(0), before.object_number.value_or(0));
    EXPECT_GE(after.length_number.value_or(0), before.length_number.value_or(0));
    return;
  }
  ASSERT_EQ(scheme.procedure(), "mean score and worst") << "say what holds up the class here";
  for (std::size_t g = 0; g < scheme.goals().size(); ++g) {
    double worst = 0;
    for (const ObservationGrade& one : after.observations)
      worst = std::max(worst, one.goals[g].number.value_or(0));
    EXPECT_GE(number_of(after, scheme.goals()[g]), worst) << after.object_reason;
  }
  for (const Overall& one : after.overall) {
    EXPECT_GE(after.object_class.value_or(9), one.grade.value_or(0)) << one.name;
  }
}

TEST_P(EveryScheme, ADefectMoreNeverImprovesTheClassOfThePipe) {
  base::Random random(22);
  int compared = 0;
  for (int i = 0; i < campaign::rounds(600); ++i) {
    coding::Record record = any_record(random);
    // Close together as often as not: there a mean is most.
    if (i % 2 == 0)
      for (coding::Observation& one : record.observations)
        if (one.code != "BCE") one.distance_m = *one.distance_m.value / 4;
    const Site site = any_site(random, scheme_);
    const Grade before = grade(record, scheme_, site);
    record.observations.push_back(any_finding(random, true));
    coding::number_observations(record);
    const Grade after = grade(record, scheme_, site);
    if (!before.object_class) continue;
    // No class any more: there is a defect that has none, where before there was no defect.
    if (!after.object_class) {
      EXPECT_LE(*before.object_class, 1);
      continue;
    }
    ++compared;
    EXPECT_GE(*after.object_class, *before.object_class) << before.object_reason << "\n"
                                                         << after.object_reason;
    expect_held_up(scheme_, before, after);
    EXPECT_GE(after.object_most, before.object_most);
  }
  EXPECT_GT(compared, 200);
}

/// One value less of a record or of the site; empty where there was none to take.
std::string take_a_value(base::Random& random, coding::Record& record, Site& site) {
  coding::Observation& one = pick_one(random, record.observations);
  const bool node = one.code == "BCD" || one.code == "BCE", end = one.stretch.starts_with("B");
  const auto none = [](auto& value) { return std::exchange(value, {}) != std::decay_t<decltype(value)>{}; };
  switch (random.below(9)) {
    case 0:
      return !end && none(one.q1) ? one.code + " q1" : "";
    case 1:
      return !end && none(one.q2) ? one.code + " q2" : "";
    case 2:
      return none(one.ch1) ? one.code + " ch1" : "";
    case 3:
      return none(one.ch2) ? one.code + " ch2" : "";
    case 4:
      // A single hour is a place by itself, so both go.
      one.clock_to.reset();
      return none(one.clock_from) ? one.code + " clock" : "";
    case 5:
      // Nodes without a distance leave open which way it counts.
      return !node && none(one.distance_m) ? one.code + " distance" : "";
    case 6: {
      const std::string field = pick(random, std::vector<std::string>{"ACD", "ACB"});
      if (!record.header_value(field) || record.header_value(field)->empty()) return "";
      record.set_header(field, "");
      return field;
    }
    default:
      if (site.values.empty()) return "";
      const auto gone =
          std::next(site.values.begin(), random.below(static_cast<std::uint32_t>(site.values.size())));
      const std::string field = gone->first;
      site.values.erase(gone);
      return field;
  }
}

/// What is not known must not read as what is not there.
TEST_P(EveryScheme, AValueLessNeverMakesTheClassBetterUnlessItIsSaidToBeALowerBound) {
  base::Random random(26);
  int taken = 0, better = 0, none = 0;
  for (int i = 0; i < campaign::rounds(6000); ++i) {
    coding::Record record = any_record(random);
    Site site = any_site(random, scheme_);
    const Grade before = grade(record, scheme_, site);
    const std::string gone = take_a_value(random, record, site);
    if (gone.empty()) continue;
    ++taken;
    const Grade after = grade(record, scheme_, site);
    EXPECT_EQ(after.object_class.has_value(), after.object_most.has_value());
    if (!before.object_class) continue;
    if (!after.object_class) {
      ++none;
      EXPECT_FALSE(after.open.empty()) << gone;
      continue;
    }
    better += *after.object_class < *before.object_class ? 1 : 0;
    EXPECT_GE(*after.object_most, *before.object_class) << gone << ": " << after.object_reason << "\n"
                                                        << before.object_reason;
    EXPECT_TRUE(*after.object_most == *after.object_class || !after.open.empty());
    // The other way round too, but for rows that take the worse class where the arc is not given.
    const bool worse_without = gone.ends_with(" clock");
    EXPECT_TRUE(worse_without || *after.object_least <= *before.object_class)
        << gone << ": " << after.object_reason;
  }
  EXPECT_GT(taken, 1000);
  EXPECT_GT(better, 15);
  EXPECT_GT(none, 5);
}

TEST_P(EveryScheme, ALargerSizeNeverGetsABetterClass) {
  base::Random random(23);
  int worse = 0;
  for (int i = 0; i < campaign::rounds(2000); ++i) {
    coding::Record record = any_record(random);
    const Site site = any_site(random, scheme_);
    if (record.observations.size() < 3) continue;
    const Grade before = grade(record, scheme_, site);
    // Only what may be a defect: a larger connection is another pipe, not a worse one.
    for (coding::Observation& one : record.observations)
      if (one.code.starts_with("BA") || one.code.starts_with("BB")) {
        if (one.q1.value) one.q1 = coding::Number(*one.q1.value * 1.7);
        if (one.q2.value) one.q2 = coding::Number(*one.q2.value * 1.7);
      }
    const Grade after = grade(record, scheme_, site);
    ASSERT_EQ(before.observations.size(), after.observations.size());
    for (std::size_t o = 0; o < before.observations.size(); ++o)
      for (std::size_t g = 0; g < scheme_.goals().size(); ++g) {
        const auto was = before.observations[o].goals[g].grade, is = after.observations[o].goals[g].grade;
        EXPECT_GE(is.value_or(0), was.value_or(0)) << after.observations[o].goals[g].reason;
        worse += is > was ? 1 : 0;
      }
    EXPECT_GE(after.object_class.value_or(0), before.object_class.value_or(0));
  }
  EXPECT_GT(worse, 100);
}

TEST_P(EveryScheme, TheOrderOfRowsNeverMattersAndWordsChangeNoClass) {
  base::Random random(24);
  for (int i = 0; i < campaign::rounds(300); ++i) {
    coding::Record record = any_record(random);
    const Site site = any_site(random, scheme_);
    const Grade all = grade(record, scheme_, site), bare = grade(record, scheme_, site, Words::none);
    EXPECT_EQ(bare.object_class, all.object_class);
    EXPECT_EQ(bare.provisional, all.provisional);
    ASSERT_EQ(bare.overall.size(), all.overall.size());
    for (std::size_t o = 0; o < all.overall.size(); ++o) {
      EXPECT_EQ(bare.overall[o].number, all.overall[o].number);
      EXPECT_EQ(bare.overall[o].grade, all.overall[o].grade);
    }
    ASSERT_EQ(bare.observations.size(), all.observations.size());
    for (std::size_t o = 0; o < all.observations.size(); ++o)
      for (std::size_t g = 0; g < scheme_.goals().size(); ++g) {
        EXPECT_EQ(bare.observations[o].goals[g].grade, all.observations[o].goals[g].grade);
        EXPECT_EQ(bare.observations[o].goals[g].outcome, all.observations[o].goals[g].outcome);
        EXPECT_EQ(bare.observations[o].goals[g].provisional, all.observations[o].goals[g].provisional);
      }
    testing::shuffle(record.observations, random);
    EXPECT_EQ(to_json(grade(record, scheme_, site)), to_json(all));
  }
}

INSTANTIATE_TEST_SUITE_P(Shipped, EveryScheme, ::testing::ValuesIn(Scheme::shipped_ids()),
                         [](const auto& tested) {
                           std::string name;
                           for (const char c : tested.param)
                             if (c != '-') name += c;
                           return name;
                         });

/// Scores of 0.5 to 5 in a crowd: here the mean is often the larger, and a slight one far off brings it down.
TEST(CloseBy, AClassThatRestsOnAMeanIsHeldUpThroughARecord) {
  const Scheme scheme = Scheme::shipped_named("mean-and-worst").value();
  base::Random random(27);
  const auto slight = [&](double within_m) {
    static const std::vector<std::vector<std::string>> kinds = {
        {"BAB", "A", "A"}, {"BAI", "A", "B"}, {"BAB", "C", "A"}, {"BAF", "G", "A"}};
    const auto& kind = pick(random, kinds);
    return testing::seen(1 + within_m * random.below(100) / 100.0, kind[0], kind[1], kind[2]);
  };
  const Site site{{{"area", "anywhere else"}, {"ground", "ordinary"}}};
  int fell = 0;
  for (int i = 0; i < campaign::rounds(6000); ++i) {
    std::vector<coding::Observation> rows{testing::seen(0, "BCD", "A"), testing::seen(30, "BCE", "A")};
    for (std::uint32_t n = 0; n < 2 + random.below(4); ++n) rows.push_back(slight(8));
    const Grade before = grade(testing::record_of(rows, "AE", "800"), scheme, site);
    rows.push_back(slight(28));
    const Grade after = grade(testing::record_of(rows, "AE", "800"), scheme, site);
    ASSERT_GE(after.object_class, before.object_class) << after.object_reason;
    fell += after.overall.front().grade < before.overall.front().grade ? 1 : 0;
  }
  EXPECT_GT(fell, 10) << "the published class falls, and so this says something";
}

double mean_of(const std::vector<Compound>& parts, const Closeness& rule) {
  double sum = 0;
  for (const Compound& one : parts) sum += (one.close ? rule.factor : 1) * one.score;
  return parts.empty() ? 0 : sum / static_cast<double>(parts.size());
}

TEST(CloseBy, NoChoiceOfDefectsHasALargerMeanThanTheBoundThatHoldsTheClass) {
  base::Random random(25);
  const Closeness rule{1, 1.5, 1.1, 10};
  for (int i = 0; i < campaign::rounds(300); ++i) {
    std::vector<Scored> items;
    for (std::uint32_t n = 0; n < 1 + random.below(7); ++n) {
      const double from = random.below(120) / 10.0;
      items.push_back({from, from + 1 + random.below(20) / 10.0,
                       pick(random, std::vector<double>{0.5, 1, 2, 5, 10}), random.below(10) > 0});
    }
    const double bound = worst_of_any_choice(items, rule);
    for (unsigned choice = 1; choice < 1U << items.size(); ++choice) {
      std::vector<Scored> chosen;
      for (std::size_t n = 0; n < items.size(); ++n)
        if ((choice >> n & 1U) != 0) chosen.push_back(items[n]);
      const auto parts = compounds(chosen, rule);
      ASSERT_LE(mean_of(parts, rule), bound + 1e-9);
      for (const Compound& one : parts) ASSERT_LE(one.score, bound + 1e-9);
      ASSERT_LE(worst_of_any_choice(chosen, rule), bound + 1e-9);
    }
  }
}

}  // namespace
}  // namespace haunch::grading
