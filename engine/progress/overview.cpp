// SPDX-License-Identifier: Apache-2.0
#include "progress/overview.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/words.hpp"
#include "learning/order.hpp"
#include "statistics/proportion.hpp"
#include "statistics/quantile.hpp"

namespace haunch::progress {
namespace {

using learning::Evidence;
using learning::Skill;

constexpr std::size_t most_to_practise = 6;
constexpr std::size_t most_days = 21;  // more are shown by the week
constexpr double week_days = 7;

struct Tally {
  int right = 0, of = 0;
  void add(bool good) { ++of, right += good ? 1 : 0; }
  Counted done() const { return counted(right, of); }
};

struct CodeTallies {
  Tally found, named, sized;
  std::vector<double> seconds;
  std::map<std::string, int> said;
};

std::map<std::string, CodeTallies> by_code(const std::vector<Evidence>& evidence) {
  std::map<std::string, CodeTallies> codes;
  for (const Evidence& one : evidence) {
    if (one.code.empty()) continue;
    CodeTallies& code = codes[one.code];
    const bool right = learning::is_right(one);
    if (one.skill == Skill::found) code.found.add(right);
    if (one.skill == Skill::sized) code.sized.add(right);
    if (one.skill != Skill::named) continue;
    code.named.add(right);
    if (right && one.latency_s) code.seconds.push_back(*one.latency_s);
    if (!right && !one.answered_code.empty()) ++code.said[one.answered_code];
  }
  return codes;
}

CodeLine code_line(const std::string& code, const CodeTallies& tallies, const learning::Person& person,
                   const learning::Model& model, const coding::CodeList& list, double now_days) {
  CodeLine line;
  line.code = code;
  const auto* entry = list.find(code);
  line.name = entry ? entry->name : std::string();
  if (const auto place = model.place_of(code); place != learning::Model::none)
    line.family = model.families[model.family_of[place]].title;
  if (const auto* history = learning::of_code(person.history, code))
    line.mastery =
        learning::mastery_of(*history, code, model.mastery, learning::own_latency_s(person.history));
  line.found = tallies.found.done();
  line.named = tallies.named.done();
  line.sized = tallies.sized.done();
  line.now = learning::estimate(person.belief(Skill::named), model, code, now_days);
  if (!tallies.seconds.empty()) line.seconds = statistics::quantile(tallies.seconds, 0.5);
  line.taken_for.assign(tallies.said.begin(), tallies.said.end());
  std::stable_sort(line.taken_for.begin(), line.taken_for.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  return line;
}

std::vector<SkillLine> skill_lines(const std::vector<Evidence>& evidence, const learning::Person& person,
                                   const learning::Model& model, double now_days) {
  std::vector<SkillLine> lines;
  for (const Skill skill : learning::all_skills) {
    if (learning::for_each_code(skill)) continue;
    Tally tally;
    for (const Evidence& one : evidence)
      if (one.skill == skill) tally.add(learning::is_right(one));
    if (tally.of == 0) continue;
    lines.push_back(
        {learning::show(skill), tally.done(), learning::estimate(person.belief(skill), model, "", now_days)});
  }
  return lines;
}

/// By the day; by the week where that would be too many points.
std::vector<Period> trend_of(const std::vector<Evidence>& evidence) {
  // What was found has to be named as well; what was not found was not named either.
  std::map<double, Tally> days;
  for (const Evidence& one : evidence) {
    const bool counts = one.skill == Skill::named || (one.skill == Skill::found && !learning::is_right(one));
    if (counts) days[std::floor(one.at_days)].add(one.skill == Skill::named && learning::is_right(one));
  }
  std::map<double, Tally> periods;
  for (const auto& [day, tally] : days) {
    const double at = days.size() > most_days ? std::floor(day / week_days) * week_days : day;
    periods[at].right += tally.right;
    periods[at].of += tally.of;
  }
  std::vector<Period> trend;
  for (const auto& [at, tally] : periods) trend.push_back({at, learning::date_of(at), tally.done()});
  return trend;
}

std::vector<Practise> to_practise(const std::vector<CodeLine>& lines, const learning::Person& person,
                                  const learning::Model& model, double now_days) {
  std::vector<Practise> all;
  for (const CodeLine& line : lines) {
    const auto* history = learning::of_code(person.history, line.code);
    const bool due = history != nullptr && learning::recheck_due(*history, model.mastery, now_days);
    if (line.mastery.standing == learning::Standing::mastered && !due) continue;
    if (line.mastery.standing == learning::Standing::never_tried) continue;
    std::string sentence = due ? line.code + ": mastered, and due to be asked again." : line.mastery.sentence;
    all.push_back({line.code, std::move(sentence), line.now.expected});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Practise& a, const Practise& b) { return a.expected < b.expected; });
  if (all.size() > most_to_practise) all.resize(most_to_practise);
  return all;
}

std::string date_in(const std::string& utc) {
  const auto days = learning::days_of(utc);
  return days ? learning::date_of(*days) : utc;
}

std::vector<ExamLine> exam_lines(const Rows& rows, const std::vector<courses::Exam>& exams) {
  std::vector<ExamLine> lines;
  for (const scores::Sitting& sitting : rows.sittings) {
    ExamLine line{date_in(sitting.started_at), sitting.exam, {}};
    const auto exam = std::find_if(exams.begin(), exams.end(),
                                   [&](const courses::Exam& one) { return one.hash == sitting.exam_hash; });
    if (exam != exams.end()) line.result = courses::result_of(*exam, sitting.id, rows.answers, rows.attempts);
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace

Counted counted(int right, int of) { return {right, of, statistics::wilson(right, of)}; }

Overview overview_of(const std::string& trainee, const Rows& rows, const std::vector<courses::Exam>& exams,
                     const learning::Model& model, const coding::CodeList& list, double now_days) {
  const auto evidence = learning::evidence_of(rows.answers, rows.attempts, model);
  const learning::Person person = learning::person_of(evidence, model);
  Overview overview;
  overview.trainee = trainee;
  overview.answers = static_cast<int>(rows.answers.size());
  overview.runs = static_cast<int>(rows.attempts.size());
  if (!evidence.empty()) overview.last_date = learning::date_of(evidence.back().at_days);
  const auto codes = by_code(evidence);
  for (const std::string& code : model.codes) {
    const auto met = codes.find(code);
    const auto standing = met == codes.end() ? learning::Standing::never_tried : [&] {
      overview.codes.push_back(code_line(code, met->second, person, model, list, now_days));
      return overview.codes.back().mastery.standing;
    }();
    overview.mastered += standing == learning::Standing::mastered ? 1 : 0;
    overview.shaky += standing == learning::Standing::shaky ? 1 : 0;
    overview.not_yet += standing == learning::Standing::not_yet ? 1 : 0;
    overview.never += standing == learning::Standing::never_tried ? 1 : 0;
  }
  overview.skills = skill_lines(evidence, person, model, now_days);
  overview.trend = trend_of(evidence);
  for (const scores::Attempt& one : rows.attempts)
    overview.run_lines.push_back(
        {date_in(one.finished_at), one.scenario, one.mode, one.score, one.hits, one.missed, one.invented});
  overview.exams = exam_lines(rows, exams);
  overview.practise = to_practise(overview.codes, person, model, now_days);
  return overview;
}

}  // namespace haunch::progress
