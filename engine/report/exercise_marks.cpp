// SPDX-License-Identifier: Apache-2.0
// The marks on an exercise's page, one by one: found, missed, logged though not there, not to be seen; and
// the tolerances they were judged by.
#include <kainjow/mustache.hpp>
#include <map>

#include "base/words.hpp"
#include "report/beside.hpp"
#include "report/exercise_desk.hpp"
#include "report/long_section.hpp"
#include "report/standing.hpp"

namespace haunch::report {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

namespace {

/// What the code list says of what is there.
void set_guide(Data& entry, const coding::Observation* seen, const coding::CodeList& list) {
  List lines;
  if (seen != nullptr) lines = sentences(code_lines(*seen, list));
  entry.set("any_guide", !lines.empty());
  entry.set("guide", lines);
}

/// Where a tolerance comes from, for somebody who never saw the rules' file: "ours" is its word for it.
std::string source_words(const std::string& source) {
  static const std::string ours = "ours";
  if (source.empty() || source == ours) return "a value of our own";
  return source.starts_with(ours) ? "a value of our own" + source.substr(ours.size()) : source;
}

Data verdict_data(const marking::Verdict& verdict, base::LengthUnit unit) {
  Data entry;
  entry.set("aspect", marking::show(verdict.aspect));
  entry.set("standing", marking::show(verdict.standing));
  entry.set("fault", verdict.standing != marking::Standing::right);
  entry.set("given", verdict.given.empty() ? "–" : verdict.given);
  entry.set("expected", verdict.expected.empty() ? "–" : verdict.expected);
  std::string why = verdict.sentence;
  const bool says = why.find(verdict.tolerance) != std::string::npos;
  if (verdict.standing != marking::Standing::right && !verdict.tolerance.empty() && !says)
    why += " Right is " + verdict.tolerance + " (" + distances_in(source_words(verdict.source), unit) + ").";
  entry.set("sentence", why);
  entry.set("tolerance", verdict.tolerance);
  return entry;
}

/// "BAJ (8, 10), BAB (12)": the codes and the labels of the findings that were judged so.
std::string codes_text(const std::map<std::string, std::vector<std::string>>& labels_of) {
  std::vector<std::string> parts;
  for (const auto& [code, labels] : labels_of) parts.push_back(code + " (" + base::join(labels, ", ") + ")");
  return base::join(parts, ", ");
}

}  // namespace

List hits_data(const ExerciseDesk& desk) {
  List list;
  for (const marking::Hit& hit : along_the_pipe(desk, desk.page.marking.hits)) {
    const Came came = came_of(hit);
    Data entry;
    set_line(entry, find_line(desk.truths, hit.truth), hit.truth);
    entry.set("anchor", anchor(find_line(desk.truths, hit.truth)));
    entry.set("kind", came == Came::found ? "right" : "partly");
    const coding::Observation *there = desk.page.truth.find(hit.truth),
                              *given = desk.page.attempt.find(hit.attempt);
    std::string drawn;
    if (there != nullptr && given != nullptr && came != Came::found)
      drawn = clock_svg(*there, *given) + size_svg(*there, *given, desk.list);
    entry.set("any_drawn", !drawn.empty());
    entry.set("drawn", drawn);
    set_guide(entry, there, desk.list);
    const Line* yours = find_line(desk.attempts, hit.attempt);
    std::string labels = yours ? yours->label : hit.attempt;
    for (const std::string& id : hit.also_attempts)
      if (const Line* more = find_line(desk.attempts, id)) labels += " and " + more->label;
    entry.set("yours", labels);
    std::string with;
    for (const std::string& id : hit.also_truths)
      if (const Line* more = find_line(desk.truths, id)) with += (with.empty() ? "" : ", ") + more->where;
    entry.set("with", with);
    entry.set("any_with", !with.empty());
    entry.set("mark", mark_svg(came));
    entry.set("came", show(came));
    entry.set("earned", one_decimal(hit.earned));
    entry.set("weight", one_decimal(hit.weight));
    entry.set("neutral", hit.neutral);
    List verdicts;
    for (const marking::Verdict& verdict : hit.verdicts) {
      if (verdict.standing != marking::Standing::not_asked)
        verdicts.push_back(verdict_data(verdict, desk.page.unit));
    }
    entry.set("verdicts", verdicts);
    const auto here = [&](bool lit) {
      return pictures_of(desk.page,
                         [&](const Picture& one) { return one.truth == hit.truth && one.lit == lit; });
    };
    entry.set("pictures", here(false));
    entry.set("lit_pictures", here(true));
    entry.set("weight_why", hit.weight_why);
    list.push_back(entry);
  }
  return list;
}

List missed_data(const ExerciseDesk& desk) {
  List list;
  for (const marking::Missed& missed : along_the_pipe(desk, desk.page.marking.missed)) {
    Data entry;
    set_line(entry, find_line(desk.truths, missed.truth), missed.truth);
    entry.set("anchor", anchor(find_line(desk.truths, missed.truth)));
    set_guide(entry, desk.page.truth.find(missed.truth), desk.list);
    entry.set("mark", mark_svg(Came::missed));
    entry.set("dangerous", missed.dangerous);
    entry.set("sentence", missed.sentence);
    entry.set("weight", one_decimal(missed.weight));
    entry.set("weight_why", missed.weight_why);
    entry.set("pictures",
              pictures_of(desk.page, [&](const Picture& one) { return one.truth == missed.truth; }));
    list.push_back(entry);
  }
  return list;
}

List invented_data(const ExerciseDesk& desk) {
  List list;
  for (const marking::Invented& invented : desk.page.marking.invented) {
    Data entry;
    set_line(entry, find_line(desk.attempts, invented.attempt), invented.attempt);
    const Came came = invented.duplicate ? Came::doubled : Came::invented;
    entry.set("anchor", anchor(find_line(desk.attempts, invented.attempt)));
    entry.set("mark", mark_svg(came));
    entry.set("came", show(came));
    entry.set("sentence", invented.sentence);
    entry.set("penalty", one_decimal(invented.penalty));
    entry.set("costs", invented.penalty > 0);
    entry.set("pictures",
              pictures_of(desk.page, [&](const Picture& one) { return one.attempt == invented.attempt; }));
    list.push_back(entry);
  }
  return list;
}

List unseen_data(const ExerciseDesk& desk) {
  List list;
  for (const marking::NotVisible& hidden : desk.page.marking.not_visible) {
    Data entry;
    set_line(entry, find_line(desk.truths, hidden.truth), hidden.truth);
    entry.set("anchor", anchor(find_line(desk.truths, hidden.truth)));
    entry.set("mark", mark_svg(Came::unseen));
    entry.set("sentence", hidden.why);
    list.push_back(entry);
  }
  return list;
}

/// Each tolerance that was used, once, with the findings it was used for and its source.
List tolerances_data(const ExerciseDesk& desk) {
  struct Row {
    std::string aspect, tolerance, source;
    std::map<std::string, std::vector<std::string>> labels_of;  // of a code
  };
  std::map<std::vector<std::string>, Row> rows;
  for (const marking::Hit& hit : along_the_pipe(desk, desk.page.marking.hits)) {
    const Line* line = find_line(desk.truths, hit.truth);
    for (const marking::Verdict& verdict : hit.verdicts) {
      if (verdict.standing == marking::Standing::not_asked || verdict.tolerance.empty()) continue;
      const std::string aspect = marking::show(verdict.aspect);
      const std::string source = distances_in(source_words(verdict.source), desk.page.unit);
      Row& row = rows[{aspect, verdict.tolerance, source}];
      row.aspect = aspect;
      row.tolerance = verdict.tolerance;
      row.source = source;
      if (line == nullptr) continue;
      auto& labels = row.labels_of[line->code.substr(0, 3)];
      if (labels.empty() || labels.back() != line->label) labels.push_back(line->label);
    }
  }
  List list;
  for (const auto& [key, row] : rows) {
    Data entry;
    entry.set("aspect", row.aspect);
    entry.set("tolerance", row.tolerance);
    entry.set("codes", codes_text(row.labels_of));
    entry.set("source", row.source);
    list.push_back(entry);
  }
  return list;
}

}  // namespace haunch::report
