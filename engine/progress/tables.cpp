// SPDX-License-Identifier: Apache-2.0
// CSV, JSON and the terminal.
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "progress/page.hpp"

namespace haunch::progress {
namespace {

using Json = nlohmann::ordered_json;

/// In quotes where it has to be, and never the beginning of a formula for a spreadsheet.
std::string cell(std::string text) {
  if (!text.empty() && std::string("=+-@\t\r").find(text.front()) != std::string::npos) text.insert(0, "'");
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

Json of(const Counted& one) {
  return {{"right", one.right}, {"of", one.of}, {"low", one.interval.low}, {"high", one.interval.high}};
}
Json of(const learning::Estimate& one) {
  return {{"expected", one.expected}, {"low", one.success.low}, {"high", one.success.high}};
}

Json of(const CodeLine& line) {
  Json said = Json::array();
  for (const auto& [code, times] : line.taken_for) said.push_back({{"code", code}, {"times", times}});
  return {{"code", line.code},
          {"standing", learning::show(line.mastery.standing)},
          {"missing", line.mastery.missing},
          {"found", of(line.found)},
          {"named", of(line.named)},
          {"sized", of(line.sized)},
          {"now", of(line.now)},
          {"seconds", base::or_null<Json>(line.seconds)},
          {"taken_for", std::move(said)}};
}

Json of(const ExamLine& line) {
  Json exam = {{"date", line.date}, {"exam", line.exam}, {"complete", nullptr}, {"passed", nullptr}};
  if (!line.result) return exam;
  exam["complete"] = line.result->complete;
  exam["passed"] = line.result->passed;
  exam["questions"] = {{"right", line.result->questions.right},
                       {"of", line.result->questions.of},
                       {"low", line.result->questions.interval.low},
                       {"high", line.result->questions.interval.high}};
  exam["findings"] = {{"right", line.result->findings.right},
                      {"of", line.result->findings.of},
                      {"low", line.result->findings.interval.low},
                      {"high", line.result->findings.interval.high}};
  return exam;
}

Json of(const Overview& person) {
  Json codes = Json::array(), skills = Json::array(), trend = Json::array(), runs = Json::array(),
       exams = Json::array(), practise = Json::array();
  for (const auto& one : person.codes) codes.push_back(of(one));
  for (const auto& one : person.skills)
    skills.push_back({{"skill", one.skill}, {"counted", of(one.counted)}, {"now", of(one.now)}});
  for (const auto& one : person.trend)
    trend.push_back({{"date", one.date}, {"found_and_named", of(one.found_and_named)}});
  for (const auto& one : person.run_lines)
    runs.push_back({{"date", one.date},
                    {"scenario", one.scenario},
                    {"mode", one.mode},
                    {"score", one.score},
                    {"found", one.found},
                    {"missed", one.missed},
                    {"invented", one.invented}});
  for (const auto& one : person.exams) exams.push_back(of(one));
  for (const auto& one : person.practise)
    practise.push_back({{"code", one.code}, {"sentence", one.sentence}, {"expected", one.expected}});
  return {{"trainee", person.trainee},    {"answers", person.answers},   {"runs", person.runs},
          {"last", person.last_date},     {"mastered", person.mastered}, {"shaky", person.shaky},
          {"not_yet", person.not_yet},    {"never_tried", person.never}, {"practise", std::move(practise)},
          {"codes", std::move(codes)},    {"skills", std::move(skills)}, {"trend", std::move(trend)},
          {"run_lines", std::move(runs)}, {"exams", std::move(exams)}};
}

std::string percent(double share) { return base::show_number(std::round(share * 100)) + " %"; }

}  // namespace

std::string csv(const std::vector<Overview>& people) {
  std::string text =
      "trainee,code,standing,found,there,named_right,named,sized_right,sized,seconds,expected,low,high,taken_"
      "for\n";
  for (const Overview& person : people)
    for (const CodeLine& line : person.codes) {
      const std::string said = line.taken_for.empty() ? std::string() : line.taken_for.front().first;
      for (const std::string& one :
           {cell(person.trainee), cell(line.code), cell(learning::show(line.mastery.standing)),
            std::to_string(line.found.right), std::to_string(line.found.of), std::to_string(line.named.right),
            std::to_string(line.named.of), std::to_string(line.sized.right), std::to_string(line.sized.of),
            line.seconds ? base::show_number(*line.seconds) : std::string(),
            base::show_number(line.now.expected), base::show_number(line.now.success.low),
            base::show_number(line.now.success.high)})
        text += one + ",";
      text += cell(said) + "\n";
    }
  return text;
}

std::string json(const std::vector<Overview>& people) {
  Json list = Json::array();
  for (const Overview& person : people) list.push_back(of(person));
  return Json{{"kind", "progress"}, {"edition", 1}, {"people", std::move(list)}}.dump(1) + "\n";
}

std::string text(const std::vector<Overview>& people) {
  std::string all;
  for (const Overview& person : people) {
    all += person.trainee + ": " + std::to_string(person.answers) +
           (person.answers == 1 ? " answer, " : " answers, ") + std::to_string(person.runs) +
           (person.runs == 1 ? " run" : " runs");
    if (!person.last_date.empty()) all += ", last on " + person.last_date;
    all += ". " + std::to_string(person.mastered) + " codes mastered, " + std::to_string(person.shaky) +
           " shaky, " + std::to_string(person.not_yet) + " not yet, " + std::to_string(person.never) +
           " never tried.\n";
    for (const CodeLine& line : person.codes)
      all += "  " + line.mastery.sentence + " Found " + std::to_string(line.found.right) + " of " +
             std::to_string(line.found.of) + ", named " + std::to_string(line.named.right) + " of " +
             std::to_string(line.named.of) + "; next time named " + percent(line.now.expected) + " (" +
             percent(line.now.success.low) + " to " + percent(line.now.success.high) + ")\n";
    for (const SkillLine& line : person.skills)
      all += "  " + line.skill + ": " + std::to_string(line.counted.right) + " of " +
             std::to_string(line.counted.of) + "\n";
    if (!person.practise.empty()) {
      all += "  To practise: ";
      std::vector<std::string> codes;
      for (const Practise& one : person.practise) codes.push_back(one.code);
      all += base::join(codes, ", ") + "\n";
    }
    for (const ExamLine& line : person.exams)
      all += "  " + line.date + " " + line.exam + ": " +
             (!line.result             ? "its file has changed since"
              : !line.result->complete ? "not handed in whole"
              : line.result->passed    ? "passed"
                                       : "not passed") +
             "\n";
  }
  return all;
}

}  // namespace haunch::progress
