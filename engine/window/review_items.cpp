// SPDX-License-Identifier: Apache-2.0
// From a marking to lines with a place to look at.
#include "window/review_items.hpp"

#include <algorithm>
#include <cmath>
#include <regex>

#include "base/words.hpp"
#include "coding/clock_arc.hpp"
#include "report/beside.hpp"

namespace haunch::window {
namespace {

const coding::CodeList& codes() { return coding::CodeList::shipped(); }

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

/// Fills title and place from an observation of either Record.
void name_it(ReviewItem& item, const coding::Observation& o, base::LengthUnit unit) {
  item.title = capital(coding::in_words(o, codes()));
  if (o.distance_m.value) {
    item.distance_m = o.distance_m.value;
    item.place = base::show_distance(*o.distance_m.value, unit);
  }
}

void place_by_truth(ReviewItem& item, const play::Exercise& exercise, const std::string& id,
                    base::LengthUnit unit) {
  const auto& truth = exercise.truth();
  const auto& all = truth.record.observations;
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& o) { return o.id == id; });
  if (found == all.end()) return;
  name_it(item, *found, unit);
  const auto index = static_cast<std::size_t>(found - all.begin());
  if (index >= truth.origins.size()) return;
  const auto& origin = truth.origins[index];
  item.fault = origin.fault;
  item.stand_z_m = stand_before(exercise.scene(), origin.from_z_m, origin.to_z_m);
}

void place_by_attempt(ReviewItem& item, const play::Exercise& exercise, const std::string& id,
                      base::LengthUnit unit) {
  const auto* o = exercise.record().find(id);
  if (o == nullptr) return;
  name_it(item, *o, unit);
  if (!o->distance_m.value) return;
  const double z = exercise.chainage_at(*o->distance_m.value);
  item.stand_z_m = stand_before(exercise.scene(), z, z);
}

/// What in the pipe makes it that code: the truth's own reason.
void add_reason(ReviewItem& item, const play::Exercise& exercise, const std::string& id,
                base::LengthUnit unit) {
  const auto* o = exercise.truth().record.find(id);
  if (o != nullptr && !o->reason.empty()) item.sentences.push_back("Why: " + lengths_in(o->reason, unit));
  if (o != nullptr) item.code_says = report::code_lines(*o, codes());
}

/// The hours of a find, where they were asked for.
void add_clocks(ReviewItem& item, const play::Exercise& exercise, const marking::Hit& hit) {
  const auto *there = exercise.truth().record.find(hit.truth), *own = exercise.record().find(hit.attempt);
  const bool asked = std::any_of(hit.verdicts.begin(), hit.verdicts.end(),
                                 [](const auto& v) { return v.aspect == marking::Aspect::clock; });
  if (!asked || there == nullptr || own == nullptr || !there->distance_m.value) return;
  item.clock_there = coding::clock_arc(*there);
  item.clock_given = coding::clock_arc(*own);
  item.clock_z_m = scene::chainage_of(exercise.scene().scenario, *there->distance_m.value);
}

std::string why_not_right(const marking::Verdict& verdict) {
  std::string text = verdict.sentence;
  if (!verdict.tolerance.empty() && verdict.standing != marking::Standing::right &&
      text.find(verdict.tolerance) == std::string::npos) {
    text += " (" + verdict.tolerance + (verdict.source.empty() ? "" : "; " + verdict.source) + ")";
  }
  return text;
}

}  // namespace

std::string lengths_in(const std::string& words, base::LengthUnit unit) {
  if (unit == base::LengthUnit::metres) return words;
  static const std::regex length("([0-9]+(?:\\.[0-9]+)?) m\\b");
  std::string out;
  auto from = words.begin();
  for (std::sregex_iterator it(words.begin(), words.end(), length), none; it != none; ++it) {
    out.append(from, (*it)[0].first);
    double metres = 0;
    base::read_number((*it)[1].str(), metres);
    out += base::show_distance(metres, unit);
    from = (*it)[0].second;
  }
  return out.append(from, words.end());
}

std::string heading(ItemKind kind) {
  switch (kind) {
    case ItemKind::missed:
      return "Missed";
    case ItemKind::partly:
      return "Found, with something wrong";
    case ItemKind::invented:
      return "Not there";
    case ItemKind::right:
      return "Right";
    case ItemKind::not_visible:
      return "Could not be seen";
  }
  return {};
}

std::string short_name(ItemKind kind) {
  switch (kind) {
    case ItemKind::missed:
      return "Missed";
    case ItemKind::partly:
      return "Partly";
    case ItemKind::invented:
      return "Not there";
    case ItemKind::right:
      return "Right";
    case ItemKind::not_visible:
      return "Unseen";
  }
  return {};
}

double stand_before(const scene::Scene& scene, double from_z_m, double to_z_m) {
  const int along = scene::travel(scene.scenario);
  const double near_z = along > 0 ? from_z_m : to_z_m;
  const double ahead = scene::reference_ring_ahead_m(scene::radius_at(scene, near_z));
  // A little further back than the ring, so that the whole of a wall defect is inside the picture.
  const double z = near_z - along * 1.5 * ahead;
  return std::clamp(z, 0.0, scene.length_m());
}

std::vector<ReviewItem> review_items(const play::Exercise& exercise, base::LengthUnit unit) {
  std::vector<ReviewItem> items;
  const auto worded = exercise.marking_in(unit);
  if (!worded) return items;
  const marking::Marking& marking = *worded;
  for (const auto& missed : marking.missed) {
    ReviewItem item;
    item.kind = ItemKind::missed;
    item.dangerous = missed.dangerous;
    item.weight = missed.weight;
    item.sentences = {missed.sentence};
    place_by_truth(item, exercise, missed.truth, unit);
    add_reason(item, exercise, missed.truth, unit);
    items.push_back(std::move(item));
  }
  for (const auto& hit : marking.hits) {
    ReviewItem item;
    const bool all_right = std::all_of(hit.verdicts.begin(), hit.verdicts.end(), [](const auto& v) {
      return v.standing == marking::Standing::right || v.standing == marking::Standing::not_asked;
    });
    item.kind = all_right ? ItemKind::right : ItemKind::partly;
    item.weight = hit.weight;
    item.earned = hit.earned;
    // What was wrong comes first.
    for (const bool wrong : {true, false}) {
      for (const auto& v : hit.verdicts) {
        const bool is_wrong =
            v.standing == marking::Standing::wrong || v.standing == marking::Standing::partly;
        if (is_wrong == wrong && !v.sentence.empty()) item.sentences.push_back(why_not_right(v));
      }
    }
    place_by_truth(item, exercise, hit.truth, unit);
    add_clocks(item, exercise, hit);
    if (const auto* own = exercise.record().find(hit.attempt); own != nullptr && !all_right) {
      item.sentences.insert(item.sentences.begin(), "You logged: " + coding::in_words(*own, codes()));
      add_reason(item, exercise, hit.truth, unit);
    }
    items.push_back(std::move(item));
  }
  for (const auto& invented : marking.invented) {
    ReviewItem item;
    item.kind = ItemKind::invented;
    item.weight = invented.penalty;
    item.sentences = {invented.sentence};
    place_by_attempt(item, exercise, invented.attempt, unit);
    items.push_back(std::move(item));
  }
  for (const auto& unseen : marking.not_visible) {
    ReviewItem item;
    item.kind = ItemKind::not_visible;
    item.sentences = {"Not counted: " + lengths_in(unseen.why, unit)};
    place_by_truth(item, exercise, unseen.truth, unit);
    items.push_back(std::move(item));
  }
  const auto start = [&](const ReviewItem& item) {
    return scene::travel(exercise.scene().scenario) * item.stand_z_m.value_or(0);
  };
  std::stable_sort(items.begin(), items.end(), [&](const ReviewItem& a, const ReviewItem& b) {
    if (a.kind != b.kind) return a.kind < b.kind;
    if (a.dangerous != b.dangerous) return a.dangerous;
    return start(a) < start(b);
  });
  return items;
}

namespace {

std::string tenths(double points) {
  const std::string text = base::show_number(std::round(points * 10) / 10);
  return text.find('.') == std::string::npos ? text + ".0" : text;
}

}  // namespace

ReviewNotes review_notes(const play::Exercise& exercise, base::LengthUnit unit) {
  ReviewNotes notes;
  const auto worded = exercise.marking_in(unit);
  if (!worded) return notes;
  const marking::Marking& marking = *worded;
  const bool provisional = marking.consequence.truth.provisional || marking.consequence.attempt.provisional;
  const std::string end = provisional ? " (provisional)." : ".";
  notes.warnings = marking.warnings;
  if (marking.counter) notes.counter = marking.counter->sentences;
  notes.skills.push_back(marking.summary.sentence);
  for (const auto& skill : marking.skills)
    if (skill.earned) notes.skills.push_back(capital(skill.name) + ": " + skill.sentence);
  if (!marking.help.empty()) notes.skills.push_back(marking.help);
  constexpr std::size_t most_costs = 12;
  double rest = 0;
  for (std::size_t i = 0; i < marking.costs.size(); ++i)
    if (i < most_costs)
      notes.costs.push_back(tenths(marking.costs[i].points) + "  " + marking.costs[i].what);
    else
      rest += marking.costs[i].points;
  if (rest > 0)
    notes.costs.push_back(tenths(rest) + "  " + std::to_string(marking.costs.size() - most_costs) +
                          " smaller ones");
  notes.graded = "Classes: " +
                 (marking.grading.given ? marking::show_right(marking.grading) : std::string("not given")) +
                 ". Next action: " + marking::show(marking.action.standing) + ".";
  notes.consequence = marking.consequence.sentences;
  if (notes.consequence.empty())
    notes.consequence = {"Your record leads to the same grade as the truth" + end};
  if (!marking.grading.given) {
    notes.grading = {"You gave no classes."};
  } else {
    notes.grading.push_back(
        "Classes, by the scheme for your own record: " + marking::show_right(marking.grading) + ".");
    for (const auto& verdict : marking.grading.classes) {
      const bool differs = verdict.given != verdict.own_record || verdict.given != verdict.truth;
      if (differs && !verdict.sentence.empty()) notes.grading.push_back(verdict.sentence);
    }
    if (!marking.grading.object.sentence.empty()) notes.grading.push_back(marking.grading.object.sentence);
  }
  if (!marking.action.sentence.empty()) notes.action = {marking.action.sentence};
  return notes;
}

std::vector<JudgingRow> judging_rows(const play::Exercise& exercise, const grading::Scheme& scheme,
                                     base::LengthUnit unit) {
  const auto& record = exercise.record();
  const auto grade = grading::grade(record, scheme, grading::site_from(record));
  std::vector<JudgingRow> rows;
  for (const auto& graded : grade.observations) {
    const bool asked = std::any_of(graded.goals.begin(), graded.goals.end(), [](const auto& goal) {
      return goal.outcome != grading::Outcome::not_relevant;
    });
    const auto* o = record.find(graded.observation);
    if (!asked || o == nullptr) continue;
    JudgingRow row;
    row.observation = o->id;
    row.title = capital(coding::in_words(*o, codes()));
    if (o->distance_m.value) row.place = base::show_distance(*o->distance_m.value, unit);
    row.provisional = graded.provisional;
    row.classes.resize(scheme.goals().size());
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace haunch::window
