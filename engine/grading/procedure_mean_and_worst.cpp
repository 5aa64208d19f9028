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
#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/words.hpp"
#include "grading/close_by.hpp"
#include "grading/procedure.hpp"

namespace haunch::grading {
namespace {

using base::show_number;

/// Without the noise of sums of decimal fractions, which must not lift a number over a bound.
double tidy(double value) { return std::round(value * 1e9) / 1e9; }
std::string show(double value) { return show_number(std::round(value * 1e4) / 1e4); }

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

/// What one goal comes to.
struct Sum {
  std::vector<Scored> items;
  std::size_t unclassed = 0;
  bool provisional = false;
  std::vector<Compound> parts{};
  double mean = 0, worst = 0, number = 0, guard = 0;
  std::string mean_words{};
};

Sum sum_up(const Work& work, std::size_t goal, const MeanAndWorst& rule) {
  Sum sum;
  const double way = work.counts_down ? -1 : 1;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const Finding& finding = work.findings[i];
    const GoalClass& classed = work.grade.observations[i].goals[goal];
    if (!classed.grade || !classed.number) {
      sum.unclassed += classed.outcome == Outcome::no_row || classed.outcome == Outcome::value_missing ||
                               classed.outcome == Outcome::condition_unknown
                           ? 1
                           : 0;
      continue;
    }
    Scored one{0, rule.least_length_m, *classed.number, finding.from_m.has_value()};
    if (one.placed) {
      one.from_m = way * *finding.from_m;
      if (finding.extent_m() > rule.least_length_m)
        std::tie(one.from_m, one.to_m) = std::minmax({one.from_m, way * *finding.to_m});
      else
        one.to_m = one.from_m + rule.least_length_m;
    }
    sum.items.push_back(one);
    sum.provisional = sum.provisional || classed.provisional;
  }
  const Closeness close{rule.together_within_m, rule.close_within_m, rule.close_factor, rule.most_together};
  sum.parts = compounds(sum.items, close);
  double single = 0, near = 0;
  for (const Compound& part : sum.parts) {
    (part.close ? near : single) += part.score;
    sum.worst = std::max(sum.worst, part.score);
    sum.provisional = sum.provisional || (part.defects > 1 && rule.together.provisional) ||
                      (part.close && rule.close.provisional);
  }
  if (!sum.parts.empty())
    sum.mean = tidy((single + rule.close_factor * near) / static_cast<double>(sum.parts.size()));
  sum.number = tidy(std::max(sum.mean, sum.worst));
  sum.guard = tidy(std::max(sum.number, worst_of_any_choice(sum.items, close)));
  if (work.words && !sum.parts.empty())
    sum.mean_words = "mean " + show(sum.mean) + " = " + (near > 0 ? "(" : "") + show(single) +
                     (near > 0 ? " + " + show_number(rule.close_factor) + " x " + show(near) + ")" : "") +
                     " / " + std::to_string(sum.parts.size());
  return sum;
}

/// What an importance is worth beside the first number; nothing where it is not known.
std::optional<double> worth(const Importance& one, double first_number, const Site& site,
                            const std::optional<double>& bore_mm) {
  if ((one.counts_from && first_number < *one.counts_from) ||
      (one.counts_above && first_number <= *one.counts_above))
    return 0;
  if (one.field.empty()) {
    if (!bore_mm) return {};
    for (const ImportanceOption& option : one.options)
      if ((!option.bore_above_mm || *bore_mm > *option.bore_above_mm) &&
          (!option.bore_from_mm || *bore_mm >= *option.bore_from_mm))
        return option.value;
    return {};
  }
  for (const ImportanceOption& option : one.options)
    if (option.when == site.value(one.field)) return option.value;
  return {};
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
    if (sum.items.empty() && (!unseen.empty() || sum.unclassed > 0)) return;
    Overall overall{judged.scale.id,
                    judged.scale.name,
                    sum.number,
                    class_of(judged.scale, sum.number),
                    "",
                    "",
                    judged.scale.mark.source,
                    judged.scale.mark.provisional || sum.provisional};
    if (work_.words) {
      overall.meaning = meaning_in(judged.scale.meaning, *overall.grade);
      overall.reason = sum.items.empty() ? "no " + judged.goal + " defect recorded"
                                         : sum.mean_words + ", worst " + show(sum.worst) + "; the larger, " +
                                               show(sum.number) + ", counts";
      overall.reason += ": class " + std::to_string(*overall.grade) + ", " +
                        bound_words(judged.scale, *overall.grade) + "; bounds " + judged.scale.mark.source;
      if (sum.unclassed > 0)
        overall.reason += ". " + std::to_string(sum.unclassed) +
                          (sum.unclassed == 1 ? " finding has" : " findings have") +
                          " no class, so the true class may be worse";
      if (!unseen.empty()) overall.reason += ". The class is that of what was seen; " + unseen;
    }
    take(judged.scale, sum.number, sum.guard);
    work_.grade.overall.push_back(std::move(overall));
    density(judged, sum);
    index(judged, sum);
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
      held_words_ = scale.name + " " + show(guard);
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
    const auto length_m = run_length();
    if (!length_m) return work_.missing("length of the pipe (ABQ)");
    double weighed = 0;
    for (const Compound& part : sum.parts)
      weighed += (part.close ? rule_.close_factor : 1) * part.score * part.length_m;
    const Density& scale = judged.density;
    const double number = tidy(weighed / (sum.mean * *length_m));
    Overall overall{scale.id,
                    scale.name,
                    number,
                    {},
                    "",
                    "",
                    scale.mark.source,
                    scale.mark.provisional || sum.provisional || rule_.length.provisional};
    if (work_.words) {
      overall.meaning = number < scale.low ? scale.below : number > scale.high ? scale.above : scale.between;
      overall.reason = show(weighed) + " / (" + show(sum.mean) + " x " + show(*length_m) +
                       " m) = " + show(number) + "; bounds " + show_number(scale.low) + " and " +
                       show_number(scale.high) + ", " + scale.mark.source;
    }
    work_.grade.overall.push_back(std::move(overall));
  }

  void index(const Judged& judged, const Sum& sum) {
    const Index& index = judged.index;
    double number = index.of_number * sum.number, guard = index.of_number * sum.guard;
    std::string words = show_number(index.of_number) + " x " + show(sum.number);
    bool known = true, provisional = index.scale.mark.provisional || sum.provisional;
    for (const Importance& one : rule_.importance) {
      const auto share = index.of_importance.find(one.id);
      if (share == index.of_importance.end()) continue;
      const auto value = worth(one, sums_.front().number, work_.site, bore_mm_);
      // What is not known is worth nothing where the class is only held up.
      guard += share->second * worth(one, sums_.front().guard, work_.site, bore_mm_).value_or(0);
      if (!value) {
        known = false;
        const std::string& given = work_.site.value(one.field);
        work_.missing(one.what + (given.empty() ? "" : ": \"" + given + "\" is not in the table"));
        continue;
      }
      number += share->second * *value;
      words += " + " + show_number(share->second) + " x " + one.id + " " + show_number(*value);
    }
    if (!known) return take(index.scale, {}, tidy(guard));
    number = tidy(number);
    const int grade = class_of(index.scale, number);
    take(index.scale, number, tidy(guard));
    Overall overall{index.scale.id,          index.scale.name, number, grade, "", "",
                    index.scale.mark.source, provisional};
    if (work_.words) {
      overall.meaning = meaning_in(index.scale.meaning, grade);
      overall.reason = words + " = " + show(number) + ": class " + std::to_string(grade) + ", " +
                       bound_words(index.scale, grade) + "; bounds " + index.scale.mark.source;
    }
    work_.grade.overall.push_back(std::move(overall));
  }

  void object() {
    Grade& grade = work_.grade;
    grade.provisional = std::any_of(rule_.judged.begin(), rule_.judged.end(),
                                    [](const Judged& one) { return one.scale.mark.provisional; });
    if (!worst_) {
      const std::string unseen = unseen_words(grade);
      grade.object_reason = "no object class: no goal could be given a class";
      if (grade.observations.empty() && !unseen.empty())
        grade.object_reason = "no object class, as no defect is recorded and the pipe was " + unseen;
      else if (!unseen.empty())
        grade.object_reason += "; " + unseen;
      return;
    }
    grade.object_class = std::max(*worst_, *held_);
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
  }

  Work& work_;
  const MeanAndWorst& rule_;
  std::optional<double> bore_mm_;
  std::vector<Sum> sums_;
  std::optional<int> worst_, held_;
  std::string worst_name_, held_words_;
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
  if (!work.findings.empty() && !work.grade.missing.empty())
    work.grade.notes.push_back("Not known, so what hangs on it is not given: " +
                               base::join(work.grade.missing, "; "));
}

}  // namespace haunch::grading
