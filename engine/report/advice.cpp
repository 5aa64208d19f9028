// SPDX-License-Identifier: Apache-2.0
#include "report/advice.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_map>

#include "base/words.hpp"
#include "grading/along.hpp"
#include "report/standing.hpp"

namespace haunch::report {
namespace {

/// Whatever can be told of a finding but its id, which follows the order of the rows.
auto in_words_of_its_own(const RankedFinding& one) {
  const coding::Observation& seen = *one.seen;
  return std::tuple(!one.from_m, one.from_m, one.to_m, seen.code, seen.ch1, seen.ch2, one.q1, one.q2,
                    seen.clock_from, seen.clock_to, seen.at_joint, seen.remark, seen.photo);
}

bool along(const RankedFinding& a, const RankedFinding& b) {
  return in_words_of_its_own(a) < in_words_of_its_own(b);
}

bool more_urgent(const RankedFinding& a, const RankedFinding& b) {
  const auto weight = [](const RankedFinding& one) {
    return std::tuple(one.next, one.worst_class.value_or(0), one.max_number.value_or(0));
  };
  if (weight(a) != weight(b)) return weight(a) > weight(b);
  return along(a, b);
}

std::vector<RankedFinding> findings_in(const coding::Record& record) {
  std::vector<RankedFinding> findings;
  const grading::Changes changes(record);
  for (const coding::Extent& extent : grading::extents_in_any_order(record)) {
    RankedFinding one;
    one.seen = &record.observations[extent.first];
    one.rows = grading::rows_of(record, extent, changes);
    const grading::Sizes sizes = grading::sizes_of(record, one.rows);
    one.q1 = sizes.q1;
    one.q2 = sizes.q2;
    one.from_m = one.to_m = one.seen->distance_m.value;
    one.continuous = extent.continuous && extent.last != extent.first;
    const auto& end_m = record.observations[extent.last].distance_m.value;
    if (one.continuous && one.from_m && end_m) one.to_m = end_m;
    findings.push_back(std::move(one));
  }
  return findings;
}

/// Why a finding has no class; empty where it has one, and where it is too slight for one.
std::string no_class_because(const grading::ObservationGrade& grade) {
  const auto any = [&](grading::Outcome outcome) {
    return std::any_of(grade.goals.begin(), grade.goals.end(),
                       [&](const grading::GoalClass& goal) { return goal.outcome == outcome; });
  };
  using grading::Outcome;
  if (grade.worst) return {};
  if (any(Outcome::value_missing)) return "its size is not recorded, so nobody can tell how bad it is";
  if (any(Outcome::condition_unknown))
    return "how bad it is hangs on something about the pipe or its surroundings that is not known";
  if (any(Outcome::no_row) && !any(Outcome::no_defect))
    return "the way of grading used here has no class for it, so it does not tell how bad it is";
  return {};
}

void put_class(RankedFinding& one, const grading::ObservationGrade& grade) {
  one.worst_class = grade.worst;
  one.max_number = grade.max_number;
  one.provisional = grade.provisional;
  one.no_class = no_class_because(grade);
}

Kind kind_of(const RankedFinding& one) {
  const auto& from = one.meaning->finding_from_q1;
  return from && one.q1 && *one.q1 >= *from ? Kind::finding : one.meaning->kind;
}

bool large(const RankedFinding& one) {
  const auto& from = one.meaning->ask_from_q1;
  return from && one.q1 && *one.q1 >= *from;
}

std::size_t next_of(const RankedFinding& one, Kind kind, int worst_class, const Meanings& meanings) {
  if (kind == Kind::part) return 0;
  // The two worst classes of a scheme, but never its best one.
  const bool severe = one.worst_class && *one.worst_class >= std::max(2, worst_class - 1);
  const std::size_t next = severe ? one.meaning->when_severe : one.meaning->usually;
  // What is in the worse half of the classes is never only watched.
  const bool worse_half = one.worst_class && *one.worst_class > 1 && *one.worst_class * 2 > worst_class;
  return worse_half || one.by_size ? std::max(next, meanings.ask()) : next;
}

void put_materials(Advice& advice, const coding::Record& record, const Meanings& meanings) {
  std::vector<std::string> materials{record.header_value("ACD").value_or("")};
  for (const coding::Observation& seen : record.observations)
    if (seen.code == "AED") materials.push_back(seen.ch1);
  for (const MaterialCare& care : meanings.materials()) {
    const bool here = std::any_of(materials.begin(), materials.end(), [&](const std::string& one) {
      return std::count(care.materials.begin(), care.materials.end(), one) > 0;
    });
    if (!here) continue;
    advice.next = std::max(advice.next, care.next);
    advice.about_material.push_back(care.why);
  }
}

void put_remarks(Advice& advice, const coding::Record& record, const Meanings& meanings) {
  const auto look = [&](const std::string& remark, const std::optional<double>& at_m) {
    const std::string words = base::trim(remark);
    if (words.empty()) return;
    ++advice.remark_count;
    const RemarkSign* found = nullptr;
    for (const RemarkSign& sign : meanings.remark_signs())
      if ((found == nullptr || sign.next > found->next) && sign.stands_in(words)) found = &sign;
    if (found == nullptr) return;
    advice.next = std::max(advice.next, found->next);
    advice.remarks.push_back({found, at_m, words});
  };
  for (const coding::HeaderField& field : record.header)
    if (field.code == "ADE") look(field.value, {});
  for (const coding::Observation& seen : record.observations) look(seen.remark, seen.distance_m.value);
  std::sort(advice.remarks.begin(), advice.remarks.end(), [](const RemarkFound& a, const RemarkFound& b) {
    return std::tuple(-static_cast<int>(a.sign->next), a.at_m, a.words) <
           std::tuple(-static_cast<int>(b.sign->next), b.at_m, b.words);
  });
}

/// What the pipe as a whole calls for: many findings, none of them grave, can bring it into a class that is.
void put_class_of_pipe(Advice& advice, const grading::Grade& grade, const Meanings& meanings) {
  int whole = grade.object_class.value_or(0);
  for (const grading::Overall& overall : grade.overall) whole = std::max(whole, overall.grade.value_or(0));
  if (whole < 2 || whole * 2 <= grade.worst_class) return;
  advice.by_class = whole >= grade.worst_class ? meanings.ask_within_days() : meanings.ask();
  const std::string here = grade.object_class == whole ? object_class_words(grade) : std::to_string(whole);
  const bool surely_worst =
      whole >= grade.worst_class && grade.object_least.value_or(whole) >= grade.worst_class;
  advice.about_class = "The pipe as a whole is in class " + here +
                       (surely_worst ? ", the worst that there is."
                                     : ", where " + std::to_string(grade.worst_class) + " is worst.");
  advice.lifted_by_class = advice.by_class > advice.next;
  advice.next = std::max(advice.next, advice.by_class);
}

std::vector<FindingGroup> grouped(std::vector<RankedFinding> findings) {
  std::sort(findings.begin(), findings.end(), more_urgent);
  std::vector<FindingGroup> groups;
  std::map<std::pair<const Meaning*, std::size_t>, std::size_t> at;
  for (RankedFinding& one : findings) {
    const auto [place, fresh] = at.try_emplace({one.meaning, one.next}, groups.size());
    if (fresh) groups.push_back({one.meaning, one.next, {}});
    groups[place->second].findings.push_back(std::move(one));
  }
  int number = 0;
  for (FindingGroup& group : groups)
    for (RankedFinding& one : group.findings) one.number = ++number;
  return groups;
}

}  // namespace

const RankedFinding* Advice::most_urgent() const {
  return groups.empty() ? nullptr : &groups.front().findings.front();
}

const std::string* Advice::most_urgent_title() const {
  const RankedFinding* finding = most_urgent();
  if (!remarks.empty() && (finding == nullptr || remarks.front().sign->next > finding->next))
    return &remarks.front().sign->meaning.title;
  return finding == nullptr ? nullptr : &finding->meaning->title;
}

Advice advice_for(const coding::Record& record, const grading::Grade& grade, const Meanings& meanings,
                  const marking::Rules& rules) {
  std::unordered_map<std::string, const grading::ObservationGrade*> grades;
  for (const grading::ObservationGrade& one : grade.observations) grades[one.observation] = &one;
  std::unordered_map<std::string, const std::string*> hidden;
  for (const coding::NotVisible& one : record.not_visible) hidden[one.observation] = &one.why;
  std::unordered_map<std::string, marking::ActionReason> reasons;
  for (marking::ActionReason& reason : marking::actions_by_finding(record, rules))
    reasons[reason.observation] = std::move(reason);

  Advice advice;
  std::vector<RankedFinding> findings;
  std::vector<std::size_t> called;  // the steps that something calls for
  for (RankedFinding& one : findings_in(record)) {
    one.meaning = &meanings.of(one.seen->code, one.seen->ch1);
    if (const auto found = grades.find(one.seen->id); found != grades.end()) put_class(one, *found->second);
    if (const auto found = hidden.find(one.seen->id); found != hidden.end()) one.hidden = *found->second;
    Kind kind = kind_of(one);
    one.by_size = large(one);
    one.next = next_of(one, kind, grade.worst_class, meanings);
    if (const auto found = reasons.find(one.seen->id); found != reasons.end()) {
      one.next = std::max(one.next, meanings.next_for(found->second.action));
      one.cause = found->second.cause;
      if (!one.cause.empty()) kind = Kind::finding;  // what calls for an action is told whatever it is
    }
    // What may be grave and has no class to tell whether it is, is not only watched.
    if (kind == Kind::finding && !one.no_class.empty() && one.next < meanings.ask() &&
        one.meaning->when_severe > one.meaning->usually) {
      one.next = meanings.ask();
      one.cause = one.no_class;
    }
    advice.next = std::max(advice.next, one.next);
    called.push_back(one.next);
    auto& list = kind == Kind::finding ? findings : kind == Kind::part ? advice.parts : advice.notes;
    list.push_back(std::move(one));
  }
  put_materials(advice, record, meanings);
  put_remarks(advice, record, meanings);
  if (!grade.not_inspected.empty()) advice.next = std::max(advice.next, meanings.inspect_rest());
  put_class_of_pipe(advice, grade, meanings);
  called.push_back(advice.next);
  for (const std::size_t next : called)
    advice.action = std::max(advice.action, meanings.next()[next].action.value_or(coding::Action::carry_on));
  advice.no_jet = advice.next >= meanings.no_jet_from();
  advice.finding_count = findings.size();
  advice.groups = grouped(std::move(findings));
  std::sort(advice.parts.begin(), advice.parts.end(), along);
  std::sort(advice.notes.begin(), advice.notes.end(), along);
  return advice;
}

}  // namespace haunch::report
