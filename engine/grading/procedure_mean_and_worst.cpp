// SPDX-License-Identifier: Apache-2.0
// Procedure "mean score and worst": each goal is judged apart from the scores of its findings.
//
//   1  a class for each finding from the class rows, and the class's score
//   2  findings close to each other are added or weighed more (close_by.hpp)
//   3  mean of all, and the worst; the larger of the two is the number of the goal, and classes are read from
//   it 4  density: scores times lengths, over the mean times the length of the run 5  an index of the number
//   and of what site and bore are worth; nothing of it where that is not known
//
// The mean of all falls when a slight finding is added far from the others, and with it the number, where the
// mean was the larger. A record with more in it must not get a better class, so the class of the pipe is held
// up by `worst_of_any_choice` (ours); the published numbers and their classes stay as they are.
//
// A finding without a class is in none of the numbers, so the pipe may be worse than they say (ours): what it
// counts for is marked as not complete, the class of the pipe is a lower bound, and where that would be class
// 1, which is no bound at all, there is none.
#include <algorithm>

#include "base/words.hpp"
#include "grading/procedure.hpp"
#include "grading/sums.hpp"

namespace haunch::grading {
namespace {

using base::show_number;

int class_of(const Scale& scale, double number) {
  int grade = 1;
  for (const auto& [here, bound] : scale.above)
    if (number > bound) grade = std::max(grade, here);
  return grade;
}

std::string meaning_in(const std::map<int, std::string>& words, int grade) {
  const auto found = words.find(grade);
  return found == words.end() ? std::string() : found->second;
}

std::string bound_words(const Scale& scale, int grade) {
  const auto here = scale.above.find(grade);
  if (here != scale.above.end()) return "over " + show_number(here->second);
  return scale.above.empty() ? "" : "not over " + show_number(scale.above.begin()->second);
}

double most_of(const Importance& one) {
  double most = 0;
  for (const ImportanceOption& option : one.options) most = std::max(most, option.value);
  return most;
}

/// What is worth nothing, whatever the site is like.
const ImportanceOption counts_nothing{};

/// The option that says what an importance is worth beside the first number; null where it is not known.
const ImportanceOption* worth(const Importance& one, double first_number, const Site& site,
                              const std::optional<double>& bore_mm) {
  if ((one.counts_from && first_number < *one.counts_from) ||
      (one.counts_above && first_number <= *one.counts_above))
    return &counts_nothing;
  if (one.field.empty()) {
    if (!bore_mm) return nullptr;
    for (const ImportanceOption& option : one.options)
      if ((!option.bore_above_mm || *bore_mm > *option.bore_above_mm) &&
          (!option.bore_from_mm || *bore_mm >= *option.bore_from_mm))
        return &option;
    return nullptr;
  }
  for (const ImportanceOption& option : one.options)
    if (option.when == site.value(one.field)) return &option;
  return nullptr;
}

class Judging {
 public:
  explicit Judging(Work& work) : work_(work), rule_(work.scheme.mean_and_worst) {
    bore_mm_ = work.record.header_number("ACB");
    for (const Judged& judged : rule_.judged) {
      const auto& goals = work.scheme.goals;
      const auto goal = std::find(goals.begin(), goals.end(), judged.goal) - goals.begin();
      sums_.push_back(sum_up(work, static_cast<std::size_t>(goal), rule_));
    }
  }

  void run() {
    for (std::size_t i = 0; i < sums_.size(); ++i) judge(rule_.judged[i], sums_[i]);
    object();
  }

 private:
  void judge(const Judged& judged, const Sum& sum) {
    const std::string unseen = unseen_words(work_.grade);
    // Nothing found is class 1 only where nothing was left unseen or without a class.
    if (sum.items.empty() && (!unseen.empty() || sum.unclassed > 0))
      return not_judged(judged.scale, sum, unseen);
    Overall overall{judged.scale.id,
                    judged.scale.name,
                    sum.number,
                    bounded(class_of(judged.scale, sum.number), sum.unclassed),
                    "",
                    "",
                    judged.scale.mark.source,
                    judged.scale.mark.provisional || sum.provisional,
                    sum.complete,
                    {},
                    judged.scale.above};
    if (work_.words) {
      if (overall.grade) overall.meaning = meaning_in(judged.scale.meaning, *overall.grade);
      overall.figures = {{"mean", sum.mean},
                         {"worst", sum.worst},
                         {"findings", static_cast<double>(sum.items.size())},
                         {"places", static_cast<double>(sum.parts.size())}};
      overall.reason = sum.items.empty() ? "no " + judged.goal + " defect recorded"
                                         : sum.mean_words + ", worst " + show_score(sum.worst) +
                                               "; the larger, " + show_score(sum.number) + ", counts";
      overall.reason += class_words(judged.scale, overall, sum);
      if (!unseen.empty()) overall.reason += ". The class is that of what was seen; " + unseen;
    }
    take(judged.scale, sum.number, sum.guard);
    work_.grade.overall.push_back(std::move(overall));
    density(judged, sum);
    index(judged, sum);
  }

  /// Nothing where findings have no class and the rest comes to the slightest.
  static std::optional<int> bounded(int grade, std::size_t unclassed) {
    return grade == 1 && unclassed > 0 ? std::nullopt : std::optional<int>(grade);
  }

  /// ": class 3, over 3; bounds from memory", and whether it may be worse.
  static std::string class_words(const Scale& scale, const Overall& overall, const Sum& sum) {
    std::string words = overall.grade
                            ? ": class " + std::to_string(*overall.grade) + ", " +
                                  bound_words(scale, *overall.grade) + "; bounds " + scale.mark.source
                            : std::string(": no class, as the slightest would be no bound");
    if (sum.unclassed > 0)
      return words + ". " + std::to_string(sum.unclassed) +
             (sum.unclassed == 1 ? " finding has" : " findings have") +
             " no class, so the true class may be worse";
    return words + (overall.complete ? "" : ". Not all that counts is known, so the true class may be worse");
  }

  void not_judged(const Scale& scale, const Sum& sum, const std::string& unseen) {
    Overall overall{scale.id, scale.name, {}, {}, "", "", scale.mark.source, scale.mark.provisional, false};
    if (work_.words) {
      std::vector<std::string> why;
      if (sum.unclassed > 0)
        why.push_back(std::to_string(sum.unclassed) +
                      (sum.unclassed == 1 ? " finding has no class" : " findings have no class"));
      if (!unseen.empty()) why.push_back(unseen);
      overall.reason = "not judged: " + base::join(why, "; ");
    }
    work_.grade.overall.push_back(std::move(overall));
  }

  /// The class of the pipe so far, and what holds it up.
  void take(const Scale& scale, const std::optional<double>& number, double guard) {
    const int held = class_of(scale, guard);
    if (number && (!worst_ || class_of(scale, *number) > *worst_)) {
      worst_ = class_of(scale, *number);
      worst_name_ = scale.name;
    }
    if (!held_ || held > *held_) {
      held_ = held;
      held_words_ = scale.name + " " + show_score(guard);
    }
  }

  std::optional<double> run_length() const {
    const auto stated = work_.record.header_number("ABQ");
    if (stated && *stated > 0) return stated;
    std::optional<double> low, high;
    for (const coding::Observation& seen : work_.record.observations) {
      if (!seen.distance_m.value) continue;
      low = std::min(low.value_or(*seen.distance_m.value), *seen.distance_m.value);
      high = std::max(high.value_or(*seen.distance_m.value), *seen.distance_m.value);
    }
    return low && *high > *low ? std::optional<double>(*high - *low) : std::nullopt;
  }

  void density(const Judged& judged, const Sum& sum) {
    if (sum.mean <= 0) return;
    const Density& scale = judged.density;
    const auto length_m = run_length();
    if (!length_m) return work_.missing("length of the pipe (ABQ)", "there is no " + scale.name);
    double weighed = 0;
    for (const Compound& part : sum.parts)
      weighed += (part.close ? rule_.close_factor : 1) * part.score * part.length_m;
    const double number = tidy(weighed / (sum.mean * *length_m));
    Overall overall{scale.id,
                    scale.name,
                    number,
                    {},
                    "",
                    "",
                    scale.mark.source,
                    scale.mark.provisional || sum.provisional || rule_.length.provisional,
                    sum.complete && sum.lengths_complete};
    if (work_.words) {
      overall.figures = {{"scores times lengths", tidy(weighed)},
                         {"mean", sum.mean},
                         {"length_m", *length_m},
                         {"low", scale.low},
                         {"high", scale.high}};
      overall.meaning = number < scale.low ? scale.below : number > scale.high ? scale.above : scale.between;
      overall.reason = show_score(weighed) + " / (" + show_score(sum.mean) + " x " + show_score(*length_m) +
                       " m) = " + show_score(number) + "; bounds " + show_number(scale.low) + " and " +
                       show_number(scale.high) + ", " + scale.mark.source;
      if (!sum.lengths_complete) overall.reason += ". The length of a run is not known, so it may be more";
    }
    work_.grade.overall.push_back(std::move(overall));
  }

  void index(const Judged& judged, const Sum& sum) {
    const Index& index = judged.index;
    double number = index.of_number * sum.number, guard = index.of_number * sum.guard, most = 0;
    std::vector<std::string> not_known;
    std::string words = show_number(index.of_number) + " x " + show_score(sum.number);
    std::vector<std::pair<std::string, double>> figures{{judged.goal, sum.number}};
    bool known = true, provisional = index.scale.mark.provisional || sum.provisional;
    for (const Importance& one : rule_.importance) {
      const auto share = index.of_importance.find(one.id);
      if (share == index.of_importance.end()) continue;
      const ImportanceOption* value = worth(one, sums_.front().number, work_.site, bore_mm_);
      // What is not known is worth nothing where the class is only held up.
      const ImportanceOption* held = worth(one, sums_.front().guard, work_.site, bore_mm_);
      if (held != nullptr) {
        guard += share->second * held->value;
      } else {
        most += share->second * most_of(one);
        not_known.push_back(one.what);
      }
      if (value == nullptr) {
        known = false;
        const std::string& given = work_.site.value(one.field);
        work_.missing(one.what + (given.empty() ? "" : ": \"" + given + "\" is not in the table"),
                      "there is no " + index.scale.name);
        continue;
      }
      number += share->second * value->value;
      provisional = provisional || value->mark.provisional;
      words += " + " + show_number(share->second) + " x " + one.id + " " + show_number(value->value);
      figures.emplace_back(one.id, value->value);
    }
    if (!not_known.empty())
      might_be_.push_back({class_of(index.scale, tidy(guard + most)), index.scale.name, not_known});
    if (!known) return take(index.scale, {}, tidy(guard));
    number = tidy(number);
    const std::optional<int> grade =
        bounded(class_of(index.scale, number), sum.unclassed + sums_.front().unclassed);
    take(index.scale, number, tidy(guard));
    Overall overall{index.scale.id,
                    index.scale.name,
                    number,
                    grade,
                    "",
                    "",
                    index.scale.mark.source,
                    provisional || sums_.front().provisional,
                    sum.complete && sums_.front().complete,
                    {},
                    index.scale.above};
    if (work_.words) {
      overall.figures = std::move(figures);
      if (grade) overall.meaning = meaning_in(index.scale.meaning, *grade);
      overall.reason = words + " = " + show_score(number) + class_words(index.scale, overall, sum);
    }
    work_.grade.overall.push_back(std::move(overall));
  }

  void object() {
    Grade& grade = work_.grade;
    grade.provisional = std::any_of(rule_.judged.begin(), rule_.judged.end(),
                                    [](const Judged& one) { return one.scale.mark.provisional; });
    const std::string unseen = unseen_words(grade);
    const std::size_t unclassed = work_.unclassed();
    if (!worst_) {
      grade.object_reason = "no object class: no goal could be given a class";
      if (grade.observations.empty() && !unseen.empty())
        grade.object_reason = "no object class, as no defect is recorded and the pipe was " + unseen;
      else if (unclassed > 0)
        grade.object_reason += ": " + open_words(work_);
      if (!grade.observations.empty() && !unseen.empty()) grade.object_reason += "; " + unseen;
      return;
    }
    const int object_class = std::max(*worst_, *held_);
    if (object_class == 1 && unclassed > 0) {
      grade.object_reason = "no object class: what could be classed comes to class 1, the slightest, but " +
                            std::to_string(unclassed) + (unclassed == 1 ? " finding has" : " findings have") +
                            " no class and may be worse: " + open_words(work_);
      if (!unseen.empty()) grade.object_reason += "; " + unseen;
      return;
    }
    grade.object_class = grade.object_least = object_class;
    look_round(object_class);
    if (!work_.words) return;
    const std::string meaning = meaning_in(work_.scheme.object_meaning, *grade.object_class);
    grade.object_reason =
        "class " + std::to_string(*grade.object_class) + (meaning.empty() ? "" : " (" + meaning + ")");
    grade.object_reason +=
        *held_ > *worst_
            ? ": the mean of all is brought down by slighter findings; the worst ones that lie close "
              "together "
              "give " +
                  held_words_ + " by themselves, and a finding more never makes a class better (ours)"
            : ", the worst of all, from the " + worst_name_ + " (that the worst counts is ours)";
    if (*grade.object_most > object_class)
      grade.object_reason += ". It is a lower bound, " + span_words(grade) +
                             ", as it hangs on what is not known: " + open_words(work_);
  }

  /// What the class might be if all were known: with a finding more, whatever its class, the worst there is.
  void look_round(int object_class) {
    Grade& grade = work_.grade;
    int most = grade.open.empty() ? object_class : std::max(object_class, work_.scheme.worst_class);
    for (const MightBe& one : might_be_) {
      most = std::max(most, one.grade);
      if (one.grade > object_class)
        work_.leave_open("", "", true, one.name + " not given, as not known: " + base::join(one.what, ", "));
    }
    grade.object_most = most;
  }

  Work& work_;
  const MeanAndWorst& rule_;
  std::optional<double> bore_mm_;
  std::vector<Sum> sums_;
  std::optional<int> worst_, held_;
  std::string worst_name_, held_words_;
  /// An index that could not be reckoned: its class if what is not known were the worst.
  struct MightBe {
    int grade = 1;
    std::string name;
    std::vector<std::string> what;
  };
  std::vector<MightBe> might_be_;
};

}  // namespace

void run_mean_and_worst(Work& work) {
  const MeanAndWorst& rule = work.scheme.mean_and_worst;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    ObservationGrade& graded = work.grade.observations[i];
    graded.length_m = std::max(rule.least_length_m, work.findings[i].extent_m());
    for (const GoalClass& goal : graded.goals)
      if (goal.number) graded.max_number = std::max(graded.max_number.value_or(*goal.number), *goal.number);
  }
  Judging(work).run();
  if (!work.findings.empty() && !work.grade.missing.empty()) work.grade.notes.push_back(work.missing_words());
}

}  // namespace haunch::grading
