// SPDX-License-Identifier: Apache-2.0
#include "report/exercise_page.hpp"

#include <algorithm>
#include <cmath>
#include <kainjow/mustache.hpp>
#include <map>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "report/beside.hpp"
#include "report/lines.hpp"
#include "report/long_section.hpp"
#include "report/standing.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

/// Everything the page's parts look up.
struct Desk {
  const ExercisePage& page;
  const coding::CodeList& list;
  std::vector<Line> truths, attempts;
};

std::string content_file(const char* name) {
  const auto text = base::read_file(base::content_dir() / "report" / name);
  if (!text)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(text.problems().front()));
  return text.value();
}

/// By where they stand in the truth, so that a page reads along the pipe.
template <class Marks>
std::vector<typename Marks::value_type> along_the_pipe(const Desk& desk, const Marks& marks) {
  std::vector<typename Marks::value_type> sorted(marks.begin(), marks.end());
  std::stable_sort(sorted.begin(), sorted.end(), [&](const auto& a, const auto& b) {
    return find_line(desk.truths, a.truth) < find_line(desk.truths, b.truth);
  });
  return sorted;
}

/// A plain list of sentences.
List sentences(const std::vector<std::string>& texts) {
  List list;
  for (const std::string& text : texts) list.push_back(Data("text", text));
  return list;
}

void set_line(Data& entry, const Line* line, const std::string& id) {
  entry.set("label", line ? line->label : std::string());
  entry.set("where", line ? line->where : id);
  entry.set("code", line ? line->code : std::string());
  entry.set("words", line ? line->words : std::string());
  entry.set("reason", line ? line->reason : std::string());
  entry.set("has_reason", line != nullptr && !line->reason.empty());
}

List pictures_of(const ExercisePage& page, const std::string& truth) {
  List list;
  for (const Picture& picture : page.pictures) {
    if (picture.truth != truth) continue;
    Data entry;
    entry.set("address", picture.address);
    entry.set("caption", picture.caption);
    list.push_back(entry);
  }
  return list;
}

/// The place on the page that tells of a line; truth's labels are numbers, the attempt's letters.
std::string anchor(const Line* line) { return line == nullptr ? std::string() : "m" + line->label; }

/// What the code list says of what is there.
void set_guide(Data& entry, const coding::Observation* seen, const coding::CodeList& list) {
  List lines;
  if (seen != nullptr) lines = sentences(code_lines(*seen, list));
  entry.set("any_guide", !lines.empty());
  entry.set("guide", lines);
}

Data verdict_data(const marking::Verdict& verdict) {
  Data entry;
  entry.set("aspect", marking::show(verdict.aspect));
  entry.set("standing", marking::show(verdict.standing));
  entry.set("fault", verdict.standing != marking::Standing::right);
  entry.set("given", verdict.given.empty() ? "–" : verdict.given);
  entry.set("expected", verdict.expected.empty() ? "–" : verdict.expected);
  entry.set("sentence", verdict.sentence);
  entry.set("tolerance", verdict.tolerance);
  return entry;
}

List hits_data(const Desk& desk) {
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
    entry.set("yours", yours ? yours->label : hit.attempt);
    entry.set("mark", mark_svg(came));
    entry.set("came", show(came));
    entry.set("earned", one_decimal(hit.earned));
    entry.set("weight", one_decimal(hit.weight));
    entry.set("neutral", hit.neutral);
    List verdicts;
    for (const marking::Verdict& verdict : hit.verdicts) {
      if (verdict.standing != marking::Standing::not_asked) verdicts.push_back(verdict_data(verdict));
    }
    entry.set("verdicts", verdicts);
    entry.set("pictures", pictures_of(desk.page, hit.truth));
    list.push_back(entry);
  }
  return list;
}

List missed_data(const Desk& desk) {
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
    entry.set("pictures", pictures_of(desk.page, missed.truth));
    list.push_back(entry);
  }
  return list;
}

List invented_data(const Desk& desk) {
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
    list.push_back(entry);
  }
  return list;
}

List unseen_data(const Desk& desk) {
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

std::string class_text(const std::optional<int>& grade, bool provisional) {
  return show_class(grade, provisional, "–");
}

Data class_data(const Desk& desk, const marking::ClassVerdict& verdict) {
  Data entry;
  const Line* line = find_line(desk.attempts, verdict.observation);
  entry.set("label", line ? line->label : std::string());
  entry.set("words", line ? line->where + ", " + line->code : std::string("the whole run"));
  entry.set("goal", verdict.goal.empty() ? "object class" : verdict.goal);
  entry.set("given", class_text(verdict.given, false));  // the person's own, whatever the scheme rests on
  entry.set("own", class_text(verdict.own_record, verdict.own_provisional));
  entry.set("truth", class_text(verdict.truth, verdict.truth_provisional));
  entry.set("differs", verdict.given != verdict.own_record);
  entry.set("sentence", verdict.sentence);
  return entry;
}

void set_grading(Data& page, const Desk& desk) {
  const marking::GradingMarks& marks = desk.page.marking.grading;
  page.set("graded", marks.given);
  page.set("classes_right", marking::show_right(marks));
  List classes;
  if (marks.given) {
    for (const marking::ClassVerdict& verdict : marks.classes) classes.push_back(class_data(desk, verdict));
    classes.push_back(class_data(desk, marks.object));
  }
  page.set("classes", classes);
  const marking::ActionMark& action = desk.page.marking.action;
  page.set("action_given", action.given ? coding::show(*action.given) : std::string("not given"));
  page.set("action_own", coding::show(action.own_record));
  page.set("action_truth", coding::show(action.truth));
  page.set("action_sentence", action.sentence);
}

/// The scheme's classes for a Record: one row a finding with a class for each goal.
List scheme_rows(const grading::Grade& grade, const std::vector<Line>& lines) {
  List rows;
  for (const grading::ObservationGrade& one : grade.observations) {
    Data entry;
    set_line(entry, find_line(lines, one.observation), one.observation);
    List goals;
    bool any = false;
    for (const grading::GoalClass& goal : one.goals) {
      if (goal.outcome == grading::Outcome::not_relevant) continue;
      any = true;
      Data cell;
      cell.set("goal", goal.goal);
      // Where there is no class the reason says so itself.
      const bool said = !goal.grade && !goal.reason.empty();
      std::string classed = goal.grade ? "class " + std::to_string(*goal.grade) : grading::show(goal.outcome);
      if (goal.provisional) classed += " (provisional)";
      cell.set("class", said ? std::string() : classed + ". ");
      cell.set("reason", reason_alone(goal));
      cell.set("source", goal.source);
      goals.push_back(cell);
    }
    entry.set("goals", goals);
    if (any) rows.push_back(entry);
  }
  return rows;
}

void set_scheme(Data& page, const Desk& desk) {
  const marking::Consequence& consequence = desk.page.marking.consequence;
  const grading::Grade& truth = consequence.truth;
  page.set("consequences", sentences(consequence.sentences));
  page.set("no_consequence", consequence.sentences.empty());
  page.set("scheme", truth.scheme);
  page.set("scheme_truth", scheme_rows(truth, desk.truths));
  page.set("object_truth", show_object_class(truth, "–"));
  page.set("object_attempt", show_object_class(consequence.attempt, "–"));
  const auto number = [](const std::optional<double>& value) {
    return value ? one_decimal(*value) : std::string("–");
  };
  page.set("number_truth", number(truth.object_number));
  page.set("number_attempt", number(consequence.attempt.object_number));
  page.set("object_reason", truth.object_reason);
  const std::string why = provisional_words(truth.provisional ? truth : consequence.attempt);
  page.set("provisional", !why.empty());
  page.set("provisional_words", why);
  page.set("any_missing", !truth.missing.empty());
  page.set("missing", not_known_words(truth));
  const auto notes = other_notes(truth);
  page.set("any_notes", !notes.empty());
  page.set("grade_notes", sentences(notes));
}

/// "BAJ (8, 10), BAB (12)": the codes and the labels of the findings that were judged so.
std::string codes_text(const std::map<std::string, std::vector<std::string>>& labels_of) {
  std::vector<std::string> parts;
  for (const auto& [code, labels] : labels_of) parts.push_back(code + " (" + base::join(labels, ", ") + ")");
  return base::join(parts, ", ");
}

/// Each tolerance that was used, once, with the findings it was used for and its source.
List tolerances_data(const Desk& desk) {
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
      const std::string source =
          verdict.source.empty() ? "ours" : distances_in(verdict.source, desk.page.unit);
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

SectionMark section_mark(const Line& line, Came came, const std::string& leads_to) {
  return {line.label,
          line.from_m,
          line.to_m,
          came,
          line.label + ": " + line.where + ", " + line.words + " (" + show(came) + ")",
          leads_to};
}

std::string section_svg(const Desk& desk) {
  LongSection section;
  section.scene = desk.page.scene;
  section.unit = desk.page.unit;
  const marking::Marking& marking = desk.page.marking;
  const auto add = [](std::vector<SectionMark>& marks, const Line* line, Came came, const std::string& to) {
    if (line != nullptr && line->placed) marks.push_back(section_mark(*line, came, to));
  };
  const auto there = [&](const std::string& id, Came came) {
    const Line* line = find_line(desk.truths, id);
    add(section.truth, line, came, anchor(line));
  };
  for (const marking::Hit& hit : marking.hits) {
    there(hit.truth, came_of(hit));
    add(section.attempt, find_line(desk.attempts, hit.attempt), Came::logged,
        anchor(find_line(desk.truths, hit.truth)));
  }
  for (const marking::Missed& missed : marking.missed) there(missed.truth, Came::missed);
  for (const marking::NotVisible& hidden : marking.not_visible) there(hidden.truth, Came::unseen);
  for (const marking::Invented& invented : marking.invented) {
    const Line* line = find_line(desk.attempts, invented.attempt);
    add(section.attempt, line, invented.duplicate ? Came::doubled : Came::invented, anchor(line));
  }
  return long_section_svg(section);
}

List legend_data() {
  List list;
  for (const Came came :
       {Came::found, Came::partly, Came::missed, Came::unseen, Came::logged, Came::invented}) {
    Data entry;
    entry.set("mark", mark_svg(came));
    entry.set("came", came == Came::logged     ? "logged, belongs to something that is there"
                      : came == Came::invented ? "logged, but not there or marked twice"
                                               : show(came));
    list.push_back(entry);
  }
  return list;
}

List cautions_data(const ExercisePage& page, const std::vector<Caution>& all) {
  List list;
  for (const Caution& caution : cautions_for(page.truth, page.marking.action.truth, all)) {
    Data entry;
    entry.set("heading", caution.heading);
    entry.set("text", caution.text);
    entry.set("source", caution.source);
    list.push_back(entry);
  }
  return list;
}

/// "2026-03-02T09:40:00Z" as "2026-03-02 09:40 UTC"; anything else as it is.
std::string shown_time(const std::string& time) {
  if (time.size() < 17 || time[10] != 'T') return time;
  return time.substr(0, 10) + " " + time.substr(11, 5) + " UTC";
}

/// Counts, skills, and what the counter itself did.
void set_skills(Data& data, const marking::Marking& marking) {
  data.set("summary", marking.summary.sentence);
  List skills;
  for (const marking::Skill& skill : marking.skills) {
    Data entry;
    entry.set("name", skill.name);
    entry.set("earned",
              skill.earned ? std::to_string(std::lround(100 * *skill.earned)) + " %" : std::string("–"));
    entry.set("share", skill.earned ? one_decimal(100 * *skill.earned) : std::string("0"));
    entry.set("sentence", skill.sentence);
    skills.push_back(entry);
  }
  data.set("skills", skills);
  data.set("any_counter", marking.counter.has_value());
  if (!marking.counter) return;
  data.set("counter", sentences(marking.counter->sentences));
  data.set("counter_costs", marking.counter->penalty > 0);
  data.set("counter_penalty", one_decimal(marking.counter->penalty));
}

void set_head(Data& data, const Desk& desk) {
  const ExercisePage& page = desk.page;
  const marking::Marking& marking = page.marking;
  data.set("title", page.title);
  data.set("trainee", page.trainee.empty() ? "not named" : page.trainee);
  data.set("finished_at", page.finished_at.empty() ? "not recorded" : shown_time(page.finished_at));
  data.set("score", show_score(marking.score));
  data.set("there", std::to_string(marking.hits.size() + marking.missed.size()));
  data.set("found", std::to_string(marking.hits.size()));
  data.set("missed_count", std::to_string(marking.missed.size()));
  data.set("invented_count", std::to_string(marking.invented.size()));
  data.set("unseen_count", std::to_string(marking.not_visible.size()));
  data.set("warned", !marking.warnings.empty());
  data.set("warnings", sentences(marking.warnings));
  List facts;
  for (const auto& [name, value] : page.made_with) {
    Data fact;
    fact.set("name", name);
    fact.set("value", value);
    facts.push_back(fact);
  }
  data.set("made_with", facts);
}

}  // namespace

std::string exercise_html(const ExercisePage& page, const coding::CodeList& list,
                          const std::vector<Caution>& cautions) {
  const Desk desk{page, list, lines_of(page.truth, list, page.unit),
                  lines_of(page.attempt, list, page.unit, Labels::letters)};
  kainjow::mustache::mustache form(content_file("exercise.mustache"));
  if (!form.is_valid()) throw std::runtime_error("content/report/exercise.mustache: " + form.error_message());
  form.set_custom_escape([](const std::string& text) { return escaped(text); });

  Data data;
  set_head(data, desk);
  set_skills(data, page.marking);
  data.set("style", content_file("exercise.css"));
  data.set("section", section_svg(desk));
  data.set("legend", legend_data());
  data.set("hits", hits_data(desk));
  data.set("missed", missed_data(desk));
  data.set("any_missed", !page.marking.missed.empty());
  data.set("invented", invented_data(desk));
  data.set("any_invented", !page.marking.invented.empty());
  data.set("unseen", unseen_data(desk));
  data.set("any_unseen", !page.marking.not_visible.empty());
  data.set("views", pictures_of(page, {}));
  data.set("any_views", !pictures_of(page, {}).empty());
  set_grading(data, desk);
  set_scheme(data, desk);
  data.set("tolerances", tolerances_data(desk));
  data.set("cautions", cautions_data(page, cautions));
  return form.render(data);
}

}  // namespace haunch::report
