// SPDX-License-Identifier: Apache-2.0
// Marks an attempt: pairing, credit, what is missed, invented, dangerous. All sums are whole numbers
// (tenths of weight x thousandths of credit), so that full marks are exactly 100.
#include "marking/mark.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "base/words.hpp"
#include "marking/counter.hpp"
#include "marking/judgement.hpp"
#include "marking/pairing.hpp"
#include "marking/pieces.hpp"
#include "marking/skills.hpp"
#include "marking/telling.hpp"
#include "marking/weight.hpp"

namespace haunch::marking {
namespace {

struct Side {
  coding::Record record;
  std::vector<Finding> findings;  ///< without the neutral codes
  Doubles doubles;
};

/// An id of its own for everything, and no neutral codes: a remark or a photograph is never right or
/// wrong.
Side side_of(const coding::Record& record, const Rules::Inside& rules) {
  Side side{record, {}, {}};
  coding::number_observations(side.record);
  side.doubles = tell_doubles_apart(side.record);
  // What could not be seen goes by a name; all that bear it could not be seen.
  for (const coding::NotVisible& entry : record.not_visible)
    if (const auto others = side.doubles.find(entry.observation); others != side.doubles.end())
      for (const std::string& id : others->second) side.record.not_visible.push_back({id, entry.why});
  side.findings = findings_of(side.record);
  std::erase_if(side.findings,
                [&](const Finding& finding) { return is_one_of(rules.neutral, finding.seen->code); });
  return side;
}

/// Material, bore and use of the pipe stand on the job sheet; they are not the trainee's to find. What
/// the attempt's header does not say is taken from the truth's, so that both are graded alike.
coding::Record with_job_sheet(coding::Record attempt, const coding::Record& truth) {
  for (const coding::HeaderField& field : truth.header)
    if (!attempt.header_value(field.code)) attempt.header.push_back(field);
  return attempt;
}

/// Why each finding could not be seen, or empty. Of several entries for one finding the first counts.
std::vector<std::string> reasons_hidden(const Side& truth) {
  std::unordered_map<std::string, std::size_t> entry_of;
  const auto& entries = truth.record.not_visible;
  for (std::size_t i = 0; i < entries.size(); ++i) entry_of.emplace(entries[i].observation, i);
  std::vector<std::string> reasons;
  for (const Finding& finding : truth.findings) {
    std::size_t first = entries.size();
    for (const std::string& row : finding.rows)
      if (const auto found = entry_of.find(row); found != entry_of.end())
        first = std::min(first, found->second);
    reasons.push_back(first == entries.size()      ? std::string()
                      : entries[first].why.empty() ? "it could not be seen"
                                                   : entries[first].why);
  }
  return reasons;
}

const Meaning* danger_in(const Finding& finding, const Rules::Inside& rules) {
  for (const Meaning& meaning : rules.dangerous)
    if (falls_under(meaning, finding)) return &meaning;
  return nullptr;
}

class Marker {
 public:
  Marker(const coding::Record& truth, const coding::Record& attempt, const grading::Scheme& scheme,
         const grading::Site& site, const Rules& rules, const coding::CodeList& list, base::LengthUnit unit,
         const std::vector<InView>& in_view, const OnDrive& on_drive)
      : unit_(unit),
        in_view_(in_view),
        on_drive_(on_drive),
        rules_(rules),
        inside_(rules.inside()),
        list_(list),
        scheme_(scheme),
        site_(site),
        truth_(side_of(truth, inside_)),
        attempt_(side_of(with_job_sheet(attempt, truth), inside_)) {}

  Marking run() {
    weigh();
    Pairing pairing = pair_up(truth_.findings, attempt_.findings, weights_, inside_, list_);
    set_counter_right(pairing);
    for (const auto& [t, a] : pairing.pairs) {
      found_[t] = a;
      used_[a] = true;
    }
    join_pieces();
    for (std::size_t t = 0; t < truth_.findings.size(); ++t)
      if (!part_of_[t]) take_truth(t);
    for (std::size_t a = 0; a < attempt_.findings.size(); ++a)
      if (!used_[a]) take_unpaired(a, pairing.truths_near[a]);
    score();
    judge();
    marking_.summary = summary_of(marking_, run_length_m(truth_.findings), unit_);
    marking_.skills = skills_of(marking_, on_drive_.plumbs, inside_);
    marking_.hints = on_drive_.hints;
    marking_.help = help_words(on_drive_.hints, unit_);
    return std::move(marking_);
  }

 private:
  void weigh() {
    const std::size_t count = truth_.findings.size();
    found_.resize(count);
    part_of_.resize(count);
    used_.assign(attempt_.findings.size(), false);
    const grading::Grade grade = grading::grade(truth_.record, scheme_, site_);
    const GradeById by_id(grade);
    hidden_ = reasons_hidden(truth_);
    const double run_m = run_length_m(truth_.findings);
    const std::string carrier = run_carrier(truth_.findings, inside_);
    for (std::size_t t = 0; t < count; ++t) {
      const Finding& finding = truth_.findings[t];
      Weight weight = weight_of(finding, by_id, run_m, finding.id == carrier, inside_, list_);
      weights_.push_back(weight.tenths);
      weights_why_.push_back(std::move(weight.why));
      if (hidden_[t].empty()) total_ += weights_.back();
    }
  }

  /// What a pairing comes to: what it earns of what could be seen, less what is left over.
  std::int64_t comes_to(const Pairing& pairing, const std::vector<Finding>& attempts) const {
    std::int64_t earned = 0;
    for (const auto& [t, a] : pairing.pairs)
      if (hidden_[t].empty())
        earned += std::int64_t{weights_[t]} * compare(truth_.findings[t], attempts[a], inside_).thousandths;
    const auto left_over = static_cast<std::int64_t>(attempts.size() - pairing.pairs.size());
    return earned - left_over * inside_.false_call * 1000 * total() / std::max<std::int64_t>(against(), 1);
  }

  /// A counter that ran off is one error: it is taken off every mark, and costs once.
  void set_counter_right(Pairing& pairing) {
    const auto run = counter_run(truth_.findings, attempt_.findings, inside_);
    if (!run) return;
    std::vector<Finding> right = with_counter_set_right(truth_.findings, attempt_.findings, *run, inside_);
    Pairing with = pair_up(truth_.findings, right, weights_, inside_, list_);
    const std::int64_t gains = comes_to(with, right) - comes_to(pairing, attempt_.findings);
    if (gains < 0) return;
    attempt_.findings = std::move(right);
    pairing = std::move(with);
    marking_.counter = told(*run, inside_, unit_);
    const auto costs =
        static_cast<std::int64_t>(marking_.counter->sentences.size()) * inside_.counter_costs * 1000;
    penalty_ += std::min(costs, gains);
    cost_penalty({}, "the counter ran off", std::min(costs, gains));
    marking_.counter->penalty = static_cast<double>(std::min(costs, gains)) / 10000.0;
  }

  /// What was left over goes to the pair that it continues. Of the truth only what could be seen goes
  /// together.
  void join_pieces() {
    std::vector<std::optional<std::size_t>> truth_for(attempt_.findings.size());
    for (std::size_t t = 0; t < found_.size(); ++t)
      if (found_[t]) truth_for[*found_[t]] = t;
    for (const Piece& piece : take_in_pieces(
             attempt_.findings,
             [&](std::size_t a) { return truth_for[a] ? &truth_.findings[*truth_for[a]] : nullptr; },
             [](std::size_t, std::size_t) { return true; }, inside_)) {
      used_[piece.left_over] = true;
      also_attempts_[piece.into].push_back(attempt_.findings[piece.left_over].id);
    }
    for (const Piece& piece : take_in_pieces(
             truth_.findings,
             [&](std::size_t t) { return found_[t] ? &attempt_.findings[*found_[t]] : nullptr; },
             [&](std::size_t one, std::size_t into) { return hidden_[one].empty() && hidden_[into].empty(); },
             inside_)) {
      part_of_[piece.left_over] = piece.into;
      weights_[piece.into] += weights_[piece.left_over];
      weights_why_[piece.into] += ", " + weights_why_[piece.left_over];
      also_truths_[piece.into].push_back(truth_.findings[piece.left_over].id);
    }
  }

  void take_truth(std::size_t t) {
    const Finding& truth = truth_.findings[t];
    const bool hidden = !hidden_[t].empty();
    const std::string code = coding::show_code(*truth.seen);
    if (!found_[t]) {
      if (hidden)
        marking_.not_visible.push_back({truth.id, hidden_[t], code, truth.from_m});
      else
        take_missed(t);
      return;
    }
    const Finding& attempt = attempt_.findings[*found_[t]];
    const Comparison comparison = compare(truth, attempt, inside_, unit_);
    Hit hit;
    hit.truth = truth.id;
    hit.attempt = attempt.id;
    hit.verdicts = comparison.verdicts;
    hit.truth_code = code;
    hit.attempt_code = coding::show_code(*attempt.seen);
    hit.truth_m = truth.from_m;
    hit.attempt_m = attempt.written_from_m();
    hit.neutral = hidden;
    hit.also_truths = also_truths_[t];
    hit.also_attempts = also_attempts_[*found_[t]];
    if (!hidden) {
      const char* how = !comparison.right_name        ? "wrong name: "
                        : comparison.thousandths == 0 ? "found, nothing right: "
                                                      : "partly right: ";
      cost_share(truth.id, attempt.id, how + where_of(truth, unit_),
                 std::int64_t{weights_[t]} * (1000 - comparison.thousandths));
    }
    if (!hidden) {
      hit.weight = weights_[t] / 10.0;
      hit.weight_why = weights_why_[t];
      hit.earned = weights_[t] * comparison.thousandths / 10000.0;
      earned_ += std::int64_t{weights_[t]} * comparison.thousandths;
      warn_if_belittled(truth, attempt);
    }
    paired_.mark_of.emplace(truth.id, attempt.id);
    paired_.truth_of.emplace(attempt.id, truth.id);
    if (comparison.thousandths == 1000) paired_.right.insert(attempt.id);
    for (const std::string& id : hit.also_truths) paired_.mark_of.emplace(id, attempt.id);
    for (const std::string& id : hit.also_attempts) paired_.truth_of.emplace(id, truth.id);
    marking_.hits.push_back(std::move(hit));
  }

  void take_missed(std::size_t t) {
    const Finding& truth = truth_.findings[t];
    const Meaning* danger = danger_in(truth, inside_);
    Missed missed{truth.id,     weights_[t] / 10.0, danger != nullptr, {}, coding::show_code(*truth.seen),
                  truth.from_m, std::nullopt,       weights_why_[t]};
    missed.sentence = "Missed: " + where_of(truth, unit_) + " (" + meaning_of(truth, list_) + ").";
    cost_share(truth.id, {}, "missed: " + where_of(truth, unit_), std::int64_t{weights_[t]} * 1000);
    if (is_one_of(inside_.run_codes, truth.seen->code))
      missed.sentence = "The run was not closed: " + where_of(truth, unit_) +
                        " is missing, so nothing shows how much of the pipe was inspected.";
    if (danger != nullptr) {
      missed.sentence += " Dangerous: " + danger->why + ".";
      warnings_.push_back({rank_of(truth), "Dangerous miss: " + where_of(truth, unit_) + " was not logged; " +
                                               danger->why + "."});
    }
    const auto view = std::find_if(in_view_.begin(), in_view_.end(),
                                   [&](const InView& one) { return one.truth == truth.id; });
    if (view != in_view_.end()) {
      missed.in_view = *view;
      missed.sentence += " " + view_words(*view);
    }
    for (std::size_t other = 0; other < truth_.findings.size(); ++other)
      if (found_[other] && at_one_place(truth_.findings[other], truth)) {
        missed.sentence += " " + beside_words(truth_.findings[other], unit_);
        break;
      }
    marking_.missed.push_back(std::move(missed));
  }

  /// A danger logged under a harmless name is no warning to anybody who reads the record.
  void warn_if_belittled(const Finding& truth, const Finding& attempt) {
    const Meaning* danger = danger_in(truth, inside_);
    if (danger == nullptr || danger_in(attempt, inside_) == danger) return;
    const bool still_dangerous = danger_in(attempt, inside_) != nullptr && rank_of(attempt) >= rank_of(truth);
    if (still_dangerous) return;
    warnings_.push_back({rank_of(truth), "Danger not named: " + where_of(truth, unit_) + " was logged as " +
                                             coding::show_code(*attempt.seen) + "; " + danger->why + "."});
  }

  /// How serious an action the finding calls for; dangers without one come after.
  int rank_of(const Finding& finding) const {
    int rank = 0;
    for (const Meaning& meaning : inside_.actions)
      if (falls_under(meaning, finding)) rank = std::max(rank, static_cast<int>(meaning.action));
    return rank;
  }

  void take_unpaired(std::size_t a, const std::vector<std::size_t>& truths_near) {
    const Finding& attempt = attempt_.findings[a];
    std::optional<std::size_t> again;
    std::int64_t best = -1;
    int credit = 0;
    for (const std::size_t t : truths_near) {
      const Finding& truth = truth_.findings[t];
      if (!found_[t] || truth.seen->code != attempt.seen->code) continue;
      const std::optional<int> near = nearness(truth, attempt, inside_, list_);
      if (!near) continue;
      const int here = compare(truth, attempt, inside_).thousandths;
      const std::int64_t fit = std::int64_t{here} * 256 + *near;
      if (fit <= best) continue;
      best = fit;
      credit = here;
      again = t;
    }
    // The same kind of thing on the other side of the pipe is another thing.
    const bool same = again && hours_between(truth_.findings[*again], attempt) <= inside_.wrong_name_clock_h;
    if (same) paired_.again.insert(attempt.id);
    Invented invented;
    invented.attempt = attempt.id;
    invented.code = coding::show_code(*attempt.seen);
    invented.distance_m = attempt.written_from_m();
    std::int64_t penalty = std::int64_t{same ? inside_.duplicate : inside_.false_call} * 1000;
    if (same) {
      invented.duplicate = true;
      invented.sentence = "Marked twice: " + where_of(attempt, unit_) + " is the same as " +
                          where_of(truth_.findings[*again], unit_) + ", which another mark has found.";
    } else {
      invented.sentence =
          "Nothing like it is there: " + where_of(attempt, unit_) + " (" + meaning_of(attempt, list_) + ").";
      if (!attempt.from_m) invented.sentence += " It has no distance, so it cannot be compared.";
      if (again)
        invented.sentence += " What is near, " + where_of(truth_.findings[*again], unit_) +
                             ", lies elsewhere round the pipe, and another mark has found it.";
    }
    if (again && hidden_[*again].empty() && (!same || inside_.duplicate > 0)) {
      // Of two marks for one thing the weaker counts, or trying several sizes would pay.
      const int won =
          compare(truth_.findings[*again], attempt_.findings[*found_[*again]], inside_).thousandths;
      if (won > credit) penalty += std::int64_t{weights_[*again]} * (won - credit);
    }
    penalty_ += penalty;
    cost_penalty(attempt.id, (same ? "marked twice: " : "not there: ") + where_of(attempt, unit_), penalty);
    invented.penalty = static_cast<double>(penalty) / 10000.0;
    marking_.invented.push_back(std::move(invented));
  }

  /// All that can be earned, and what penalties are held against: a run with little to find is no excuse.
  std::int64_t total() const { return total_ * 1000; }
  std::int64_t against() const {
    return std::max<std::int64_t>(total(), std::int64_t{inside_.least_total} * 1000);
  }

  void cost_share(const std::string& truth, const std::string& attempt, std::string what, std::int64_t lost) {
    if (lost > 0 && total() > 0)
      marking_.costs.push_back(
          {truth, attempt, std::move(what), 100 * static_cast<double>(lost) / static_cast<double>(total())});
  }
  void cost_penalty(const std::string& attempt, std::string what, std::int64_t penalty) {
    if (penalty > 0)
      marking_.costs.push_back({{},
                                attempt,
                                std::move(what),
                                100 * static_cast<double>(penalty) / static_cast<double>(against())});
  }

  void score() {
    const std::int64_t total = this->total(), against = this->against();
    std::sort(marking_.costs.begin(), marking_.costs.end(), [](const Cost& a, const Cost& b) {
      return std::tuple(-a.points, a.what, a.truth, a.attempt) <
             std::tuple(-b.points, b.what, b.truth, b.attempt);
    });
    if (earned_ == total && penalty_ == 0) {
      marking_.score = 100;
      return;
    }
    const double share = (total == 0 ? 1.0 : static_cast<double>(earned_) / static_cast<double>(total)) -
                         static_cast<double>(penalty_) / static_cast<double>(against);
    // Tenths; what is not full marks never shows as full marks.
    marking_.score = std::clamp(std::round(share * 1000) / 10, 0.0, 99.9);
  }

  /// The truth without what could not be seen and was not found either: nobody is held to that.
  coding::Record what_counts() const {
    coding::Record record = truth_.record;
    std::unordered_set<std::string> found;
    for (std::size_t t = 0; t < truth_.findings.size(); ++t)
      if (found_[t] || part_of_[t])
        found.insert(truth_.findings[t].rows.begin(), truth_.findings[t].rows.end());
    std::erase_if(record.not_visible,
                  [&](const coding::NotVisible& entry) { return found.contains(entry.observation); });
    return visible_part(record);
  }

  void judge() {
    const coding::Record seen = what_counts();
    grading::Grade truth_grade = grading::grade(seen, scheme_, site_);
    grading::Grade own = grading::grade(attempt_.record, scheme_, site_);
    marking_.remarks =
        remarks_on(attempt_.record, findings_of(attempt_.record), attempt_.doubles, scheme_, unit_);
    for (std::string& remark : remarks_on_places(truth_.findings, attempt_.findings, inside_, unit_))
      marking_.remarks.push_back(std::move(remark));
    marking_.grading = mark_grading(attempt_.record, own, truth_grade, paired_, unit_);
    marking_.action = mark_action(seen, truth_.record, attempt_.record, rules_, unit_);
    marking_.consequence = consequence_of(seen, attempt_.record, std::move(truth_grade), std::move(own),
                                          paired_, scheme_, unit_);
    if (marking_.action.given && *marking_.action.given < marking_.action.truth &&
        marking_.action.truth >= coding::Action::do_not_jet)
      warnings_.push_back({static_cast<int>(marking_.action.truth), marking_.action.sentence});
    std::stable_sort(warnings_.begin(), warnings_.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    for (auto& warning : warnings_) marking_.warnings.push_back(std::move(warning.second));
  }

  base::LengthUnit unit_;
  const std::vector<InView>& in_view_;
  const OnDrive& on_drive_;
  const Rules& rules_;
  const Rules::Inside& inside_;
  const coding::CodeList& list_;
  const grading::Scheme& scheme_;
  const grading::Site& site_;
  Side truth_, attempt_;
  std::vector<int> weights_;
  std::vector<std::string> weights_why_;
  std::vector<std::string> hidden_;  ///< why, or empty
  std::vector<std::optional<std::size_t>> found_;
  std::vector<bool> used_;
  std::vector<std::optional<std::size_t>> part_of_;  ///< of the truth: was taken into another
  std::map<std::size_t, std::vector<std::string>> also_truths_,
      also_attempts_;  ///< by what they were taken into
  std::int64_t total_ = 0, earned_ = 0, penalty_ = 0;
  std::vector<std::pair<int, std::string>> warnings_;
  PairedIds paired_;
  Marking marking_;
};

}  // namespace

Marking mark(const coding::Record& truth, const coding::Record& attempt, const grading::Scheme& scheme,
             const grading::Site& site, const Rules& rules, const coding::CodeList& list,
             base::LengthUnit unit, const std::vector<InView>& in_view, const OnDrive& on_drive) {
  return Marker(truth, attempt, scheme, site, rules, list, unit, in_view, on_drive).run();
}

}  // namespace haunch::marking
