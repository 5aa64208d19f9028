// SPDX-License-Identifier: Apache-2.0
#include "progress/page.hpp"

#include <cmath>
#include <kainjow/mustache.hpp>
#include <map>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "progress/charts.hpp"

namespace haunch::progress {
namespace {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

std::string content_file(const char* name) {
  const auto text = base::read_file(base::content_dir() / "report" / name);
  if (!text)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(text.problems().front()));
  return text.value();
}

std::string percent(double share) { return base::show_number(std::round(share * 100)) + " %"; }
std::string of_words(const Counted& one) {
  return one.of == 0 ? std::string("-") : std::to_string(one.right) + " of " + std::to_string(one.of);
}
std::string range(const statistics::Interval& interval) {
  return percent(interval.low) + " to " + percent(interval.high);
}

std::string said_words(const CodeLine& line) {
  std::vector<std::string> parts;
  for (const auto& [code, times] : line.taken_for)
    parts.push_back(code + (times > 1 ? " (" + std::to_string(times) + " times)" : ""));
  return base::join(parts, ", ");
}

Data code_data(const CodeLine& line) {
  Data entry;
  entry.set("code", line.code);
  entry.set("name", line.name);
  entry.set("standing", learning::show(line.mastery.standing));
  entry.set("missing", line.mastery.missing);
  entry.set("found", of_words(line.found));
  entry.set("named", of_words(line.named));
  entry.set("sized", of_words(line.sized));
  entry.set("picture", interval_svg(line.named));
  entry.set("now", range(line.now.success));
  entry.set("seconds", line.seconds ? base::show_number(std::round(*line.seconds * 10) / 10) + " s" : "-");
  entry.set("said", said_words(line));
  return entry;
}

Data person_data(const Overview& person) {
  Data entry;
  entry.set("trainee", person.trainee);
  entry.set("answers", std::to_string(person.answers));
  entry.set("runs", std::to_string(person.runs));
  entry.set("last", person.last_date.empty() ? "nothing yet" : person.last_date);
  entry.set("mastered", std::to_string(person.mastered));
  entry.set("shaky", std::to_string(person.shaky));
  entry.set("not_yet", std::to_string(person.not_yet));
  entry.set("never", std::to_string(person.never));
  entry.set("trend", trend_svg(person.trend));
  entry.set("has_trend", !person.trend.empty());
  entry.set("calls", calls_svg(person.run_lines));
  entry.set("has_calls", !person.run_lines.empty());
  List practise, codes, skills, exams;
  for (const Practise& one : person.practise) practise.push_back(Data("sentence", one.sentence));
  for (const CodeLine& line : person.codes) codes.push_back(code_data(line));
  for (const SkillLine& line : person.skills) {
    Data skill;
    skill.set("skill", line.skill);
    skill.set("counted", of_words(line.counted));
    skill.set("picture", interval_svg(line.counted));
    skill.set("now", range(line.now.success));
    skills.push_back(skill);
  }
  for (const ExamLine& line : person.exams) {
    Data exam;
    exam.set("date", line.date);
    exam.set("exam", line.exam);
    exam.set("came", !line.result             ? "the exam's file has changed since"
                     : !line.result->complete ? "not handed in whole"
                     : line.result->passed    ? "passed"
                                              : "not passed");
    List sentences;
    if (line.result)
      for (const std::string& one : line.result->sentences) sentences.push_back(Data("sentence", one));
    exam.set("sentences", Data(sentences));
    exams.push_back(exam);
  }
  entry.set("has_practise", !practise.empty());
  entry.set("practise", Data(practise));
  entry.set("has_codes", !codes.empty());
  entry.set("codes", Data(codes));
  entry.set("has_skills", !skills.empty());
  entry.set("skills", Data(skills));
  entry.set("has_exams", !exams.empty());
  entry.set("exams", Data(exams));
  return entry;
}

/// For a trainer: which codes the team as a whole does not have yet.
List team_codes(const std::vector<Overview>& people) {
  struct Count {
    std::string name;
    int mastered = 0, tried = 0, right = 0, of = 0;
  };
  std::map<std::string, Count> codes;
  for (const Overview& person : people)
    for (const CodeLine& line : person.codes) {
      Count& count = codes[line.code];
      count.name = line.name;
      ++count.tried;
      count.mastered += line.mastery.standing == learning::Standing::mastered ? 1 : 0;
      count.right += line.named.right;
      count.of += line.named.of;
    }
  List list;
  for (const auto& [code, count] : codes) {
    Data entry;
    entry.set("code", code);
    entry.set("name", count.name);
    entry.set("tried", std::to_string(count.tried));
    entry.set("mastered", std::to_string(count.mastered));
    entry.set("named", of_words(counted(count.right, count.of)));
    entry.set("picture", interval_svg(counted(count.right, count.of)));
    list.push_back(entry);
  }
  return list;
}

}  // namespace

std::string html(const std::vector<Overview>& people, const std::string& made_at) {
  Data page;
  page.set("style", content_file("exercise.css") + content_file("scores.css"));
  page.set("made_at", made_at);
  page.set("title", people.size() == 1 ? "Scores of " + people.front().trainee : "Scores");
  page.set("team", people.size() > 1);
  page.set("nobody", people.empty());
  List list;
  for (const Overview& person : people) list.push_back(person_data(person));
  page.set("people", Data(list));
  page.set("team_codes", Data(team_codes(people)));
  kainjow::mustache::mustache form(content_file("scores.mustache"));
  if (!form.is_valid())
    throw std::runtime_error("the content folder is damaged: scores.mustache: " + form.error_message());
  return form.render(page);
}

}  // namespace haunch::progress
