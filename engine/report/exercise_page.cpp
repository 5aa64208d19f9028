// SPDX-License-Identifier: Apache-2.0
#include "report/exercise_page.hpp"

#include <algorithm>
#include <cmath>
#include <kainjow/mustache.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "report/exercise_desk.hpp"
#include "report/long_section.hpp"
#include "report/standing.hpp"
#include "report/svg.hpp"

namespace haunch::report {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

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

std::string anchor(const Line* line) { return line == nullptr ? std::string() : "m" + line->label; }

List pictures_of(const ExercisePage& page, const std::function<bool(const Picture&)>& wanted) {
  List list;
  for (const Picture& picture : page.pictures) {
    if (!wanted(picture)) continue;
    Data entry;
    entry.set("address", picture.address);
    entry.set("caption", picture.caption);
    list.push_back(entry);
  }
  return list;
}

namespace {

std::string content_file(const char* name) {
  const auto text = base::read_file(base::content_dir() / "report" / name);
  if (!text)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(text.problems().front()));
  return text.value();
}

SectionMark section_mark(const Line& line, Came came, const std::string& leads_to) {
  return {line.label,
          line.from_m,
          line.to_m,
          came,
          line.label + ": " + line.where + ", " + line.words + " (" + show(came) + ")",
          leads_to};
}

std::string section_svg(const ExerciseDesk& desk) {
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
    const std::string to = anchor(find_line(desk.truths, hit.truth));
    there(hit.truth, came_of(hit));
    for (const std::string& id : hit.also_truths)
      add(section.truth, find_line(desk.truths, id), came_of(hit), to);
    add(section.attempt, find_line(desk.attempts, hit.attempt), Came::logged, to);
    for (const std::string& id : hit.also_attempts)
      add(section.attempt, find_line(desk.attempts, id), Came::logged, to);
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
  data.set("any_help", !marking.help.empty());
  data.set("help", marking.help);
  List costs;
  for (const marking::Cost& cost : marking.costs) {
    Data entry;
    entry.set("points", two_decimals(cost.points));
    entry.set("what", cost.what);
    costs.push_back(entry);
  }
  data.set("any_costs", !costs.empty());
  data.set("costs", costs);
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

void set_head(Data& data, const ExerciseDesk& desk) {
  const ExercisePage& page = desk.page;
  const marking::Marking& marking = page.marking;
  data.set("title", page.title);
  data.set("trainee", page.trainee.empty() ? "not named" : page.trainee);
  data.set("finished_at", page.finished_at.empty() ? "not recorded" : shown_time(page.finished_at));
  data.set("score", show_score(marking.score));
  data.set("there", std::to_string(marking.summary.there));
  data.set("found", std::to_string(marking.summary.found));
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
  const ExerciseDesk desk{page, list, lines_of(page.truth, list, page.unit),
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
  data.set("any_in_view", std::any_of(page.marking.missed.begin(), page.marking.missed.end(),
                                      [](const marking::Missed& one) { return one.in_view.has_value(); }));
  const List views = pictures_of(
      page, [](const Picture& picture) { return picture.truth.empty() && picture.attempt.empty(); });
  data.set("views", views);
  data.set("any_views", !views.empty());
  set_grading(data, desk);
  set_scheme(data, desk);
  data.set("tolerances", tolerances_data(desk));
  data.set("cautions", cautions_data(page, cautions));
  return form.render(data);
}

}  // namespace haunch::report
