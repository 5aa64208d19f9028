// SPDX-License-Identifier: Apache-2.0
// What every procedure shares: findings out of a Record, a class for each goal of each, what is left out,
// provisional marks carried on.
#include "grading/grade.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

#include "base/words.hpp"
#include "grading/classify.hpp"
#include "grading/procedure.hpp"

namespace haunch::grading {
namespace {

using coding::Observation;
using coding::Record;

/// What is the same for every finding of a Record.
struct Whole {
  Whole(const Record& record, const coding::CodeList& list) : changes(record), pipe(record, list) {}
  Changes changes;
  PipeAlong pipe;
};

/// No size is below 0: one that is written so is a slip, and tells nothing of how large it is.
void take_size(const coding::Number& written, std::optional<double>& largest,
               std::optional<double>& below_0) {
  if (!written.value) return;
  std::optional<double>& taken = *written.value < 0 ? below_0 : largest;
  if (!taken || *written.value > *taken) taken = written.value;
}

Finding finding_of(const Record& record, const Whole& whole, const coding::Extent& extent) {
  Finding finding;
  finding.seen = &record.observations[extent.first];
  finding.continuous = extent.continuous;
  const auto take = [&finding](const Observation& row) {
    take_size(row.q1, finding.q1, finding.q1_below_0);
    take_size(row.q2, finding.q2, finding.q2_below_0);
  };
  if (!extent.continuous) take(*finding.seen);
  if (extent.continuous) {
    const std::vector<std::size_t> rows = rows_of(record, extent, whole.changes);
    for (const std::size_t row : rows) take(record.observations[row]);
    finding.q1_gaps = finding.q1 && finding.q1_below_0;
    finding.q2_gaps = finding.q2 && finding.q2_below_0;
    // An end often repeats nothing.
    for (const std::size_t row : rows) {
      if (row == extent.last && row != extent.first) continue;
      finding.q1_gaps = finding.q1_gaps || (finding.q1 && !record.observations[row].q1.value);
      finding.q2_gaps = finding.q2_gaps || (finding.q2 && !record.observations[row].q2.value);
    }
    finding.ended = extent.last != extent.first;
    finding.end_placed =
        extent.last != extent.first && record.observations[extent.last].distance_m.value.has_value();
  }
  if (finding.seen->distance_m.value) {
    finding.from_m = extent.from_m;
    finding.to_m = finding.end_placed ? extent.to_m : extent.from_m;
  }
  finding.pipe = whole.pipe.at(finding.seen->distance_m.value);
  return finding;
}

std::string id_of(const Record& record, std::size_t index) {
  const std::string& id = record.observations[index].id;
  return id.empty() ? "o" + std::to_string(index + 1) : id;
}

/// A class for each goal. Where a finding belongs to one goal, the others are not relevant to it.
void classify_goals(Work& work, const Finding& finding, const Scheme::Inside::RowsByGoal* rows,
                    ObservationGrade& graded) {
  static const std::vector<std::size_t> none;
  const std::vector<std::string>& goals = work.scheme.goals;
  graded.goals.reserve(goals.size());
  bool fits = false;
  for (std::size_t g = 0; g < goals.size(); ++g) {
    graded.goals.push_back(classify(work, finding, goals[g], rows == nullptr ? none : (*rows)[g]));
    fits = fits || graded.goals.back().outcome != Outcome::no_row;
  }
  if (!work.scheme.one_goal_each || !fits) return;
  for (GoalClass& goal : graded.goals)
    if (goal.outcome == Outcome::no_row) {
      goal.outcome = Outcome::not_relevant;
      if (work.words) goal.reason = "the scheme judges this finding under another goal";
    }
}

/// What has no class and should have one. A goal that the scheme says nothing of is none of these, unless it
/// says nothing of the finding at all.
void note_open(Work& work) {
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const ObservationGrade& graded = work.grade.observations[i];
    bool said = false;
    for (const GoalClass& goal : graded.goals) {
      said = said || (goal.outcome != Outcome::no_row && goal.outcome != Outcome::not_relevant);
      if (goal.outcome == Outcome::value_missing || goal.outcome == Outcome::condition_unknown)
        work.leave_open(graded.observation, goal.goal, false, goal.reason);
      else if (goal.least)
        work.leave_open(graded.observation, goal.goal, true,
                        "its size is not given in full, and it may be larger");
    }
    const bool no_row = std::any_of(graded.goals.begin(), graded.goals.end(),
                                    [](const GoalClass& goal) { return goal.outcome == Outcome::no_row; });
    if (!said && no_row) work.leave_open(graded.observation, "", false, "the scheme has no class for it");
  }
}

/// Runs that nobody knows the length of: what the class is read from is known, the lengths are not.
void note_lengths(Work& work) {
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const Finding& finding = work.findings[i];
    const ObservationGrade& graded = work.grade.observations[i];
    const bool classed = std::any_of(graded.goals.begin(), graded.goals.end(),
                                     [](const GoalClass& goal) { return goal.grade.has_value(); });
    if (finding.extent_known() || !classed) continue;
    work.grade.lengths_complete = false;
    work.leave_open(graded.observation, "", true,
                    std::string(finding.ended ? "where the run begins or ends is not given"
                                              : "the end of the run is not recorded") +
                        ", so its length is not known and counts as that of a point");
  }
}

void carry_on(Grade& grade) {
  for (ObservationGrade& one : grade.observations) {
    for (const GoalClass& goal : one.goals) {
      one.provisional = one.provisional || goal.provisional;
      if (goal.grade && (!one.worst || *goal.grade > *one.worst)) {
        one.worst = goal.grade;
        one.worst_goal = goal.goal;
      }
    }
    grade.provisional = grade.provisional || one.provisional;
  }
  for (const Overall& one : grade.overall) grade.provisional = grade.provisional || one.provisional;
}

void take_findings(Work& work, std::set<std::string>& left_out) {
  const Record& record = work.record;
  const Scheme::Inside& scheme = work.scheme;
  const Whole whole(record, work.list);
  work.counts_down = counts_down(record);
  for (const coding::Extent& extent : extents_in_any_order(record)) {
    const Observation& seen = record.observations[extent.first];
    const auto rows = scheme.rows_of_code.find(seen.code);
    const auto why = scheme.why_not_graded.find(seen.code);
    const bool graded_at_all = rows != scheme.rows_of_code.end();
    const auto leave_out = [&] {
      if (work.words) left_out.insert(seen.code + ": not graded, " + scheme.not_graded[why->second].why);
    };
    if (why != scheme.why_not_graded.end() && !graded_at_all) {
      leave_out();
      continue;
    }
    Finding finding = finding_of(record, whole, extent);
    ObservationGrade graded;
    classify_goals(work, finding, graded_at_all ? &rows->second : nullptr, graded);
    // A code that is graded only under a condition is left out where no row of it holds.
    const bool any = std::any_of(graded.goals.begin(), graded.goals.end(), [](const GoalClass& goal) {
      return goal.outcome != Outcome::no_row && goal.outcome != Outcome::not_relevant;
    });
    if (why != scheme.why_not_graded.end() && !any) {
      leave_out();
      continue;
    }
    graded.observation = id_of(record, extent.first);
    graded.from_m = finding.from_m;
    graded.to_m = finding.to_m;
    graded.length_m = finding.extent_m();
    work.grade.observations.push_back(std::move(graded));
    work.findings.push_back(std::move(finding));
  }
}

}  // namespace

bool Finding::extent_known() const { return !continuous || (ended && end_placed && from_m && to_m); }
double Finding::extent_m() const { return continuous && from_m && to_m ? std::abs(*to_m - *from_m) : 0; }

Grade grade(const Record& record, const Scheme& scheme, const Site& site, Words words) {
  const Scheme::Inside& inside = scheme.inside();
  Work work{record, inside, site, coding::CodeList::shipped(), words == Words::all};
  work.grade.scheme = inside.title;
  work.grade.goals = inside.goals;
  work.grade.worst_class = inside.worst_class;
  work.grade.not_inspected = not_inspected(record);
  std::set<std::string> left_out;
  take_findings(work, left_out);
  note_open(work);
  inside.procedure->run(work);
  note_lengths(work);
  Grade& result = work.grade;
  carry_on(result);
  if (!work.words) {
    result.notes.clear();
    return std::move(result);
  }
  if (result.provisional)
    result.notes.insert(
        result.notes.begin(),
        "Provisional: the steps follow a published procedure (named in the scheme file), but class rows, "
        "bounds or numbers were not read where they are published, so no guideline's name may stand on this "
        "grade, and nobody passes or fails by it.");
  else if (!inside.procedure_source.empty())
    result.notes.insert(result.notes.begin(), "Procedure: " + inside.procedure_source);
  result.notes.insert(result.notes.end(), left_out.begin(), left_out.end());
  return std::move(result);
}

std::vector<std::size_t> worst_first(const Grade& grade) {
  std::vector<std::size_t> order(grade.observations.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto key = [&](std::size_t index) {
    const ObservationGrade& one = grade.observations[index];
    return std::tuple(-one.worst.value_or(0), -one.max_number.value_or(0), one.from_m.value_or(0), index);
  };
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

bool decides_on_provisional(const Grade& grade) {
  return grade.provisional ||
         std::any_of(grade.overall.begin(), grade.overall.end(),
                     [](const Overall& one) { return one.provisional; }) ||
         std::any_of(grade.observations.begin(), grade.observations.end(),
                     [](const ObservationGrade& one) { return one.provisional; });
}

std::optional<int> firm_class(const GoalClass& goal) { return goal.provisional ? std::nullopt : goal.grade; }

}  // namespace haunch::grading
