// SPDX-License-Identifier: Apache-2.0
#include "courses/exam.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/random.hpp"
#include "base/words.hpp"
#include "courses/shipped.hpp"
#include "statistics/proportion.hpp"

namespace haunch::courses {
namespace {

using Json = nlohmann::json;

constexpr double right_from = 0.999;  // a question is right where nothing was taken off

std::optional<double> maybe(const Json& json, const char* key) {
  return json.contains(key) ? std::optional(json.at(key).get<double>()) : std::nullopt;
}

template <class T>
void shuffle(std::vector<T>& values, base::Random& random) {
  for (std::size_t i = values.size(); i > 1; --i)
    std::swap(values[i - 1], values[random.below(static_cast<std::uint32_t>(i))]);
}

Tally tally(int right, int of) { return {right, of, statistics::wilson(right, of)}; }

std::string percent(double share) { return base::show_number(std::round(share * 1000) / 10) + " %"; }

std::string told(const Tally& one, const std::string& what) {
  return std::to_string(one.right) + " of " + std::to_string(one.of) + " " + what + ": " +
         percent(one.interval.low) + " to " + percent(one.interval.high) + " (95 % interval)";
}

/// What the marks of a run say that counts here.
void count(const scores::Attempt& attempt, ExamResult& result, int& right, int& there) {
  const Json marking = Json::parse(attempt.marking_json, nullptr, false);
  if (!marking.is_object()) return;
  const Json summary = marking.value("summary", Json::object());
  right += summary.value("right_name", 0);
  there += summary.value("there", 0);
  result.false_calls += summary.value("false_calls", 0);
  for (const Json& missed : marking.value("missed", Json::array()))
    result.dangerous_missed += missed.value("dangerous", false) ? 1 : 0;
}

/// Says whether one bound was reached.
bool reached(const Tally& one, const std::optional<double>& bound, const std::string& what,
             std::vector<std::string>& sentences) {
  if (one.of == 0) return !bound;
  std::string words = told(one, what);
  if (bound)
    words += one.interval.low >= *bound
                 ? "; the lower end reaches the " + percent(*bound) + " that is asked for"
                 : "; the lower end has to reach " + percent(*bound);
  sentences.push_back(words + ".");
  return !bound || one.interval.low >= *bound;
}

}  // namespace

int Exam::question_count() const {
  int count = 0;
  for (const ExamQuestions& part : questions) count += part.count;
  return count;
}

base::Result<Exam> exam_from_text(const std::string& text, const std::string& file_name) {
  const auto document = base::JsonDocument::read_text(text, file_name, "exam");
  if (!document) return document.problems();
  const Json& root = document.value().root();
  Exam exam;
  exam.id = root.at("id").get<std::string>();
  exam.title = root.at("title").get<std::string>();
  exam.words = root.value("words", std::string());
  exam.seed = root.at("seed").get<std::string>();
  for (const Json& one : root.value("questions", Json::array()))
    exam.questions.push_back({one.at("kind").get<std::string>(),
                              one.value("codes", std::vector<std::string>()), one.at("count").get<int>(),
                              one.value("clean_share", 0.0)});
  exam.runs = root.value("runs", std::vector<std::string>());
  const Json& pass = root.at("pass");
  exam.pass = {maybe(pass, "questions"), maybe(pass, "findings"), pass.value("no_dangerous_miss", true)};
  exam.source = pass.at("source").get<std::string>();
  exam.hash = base::fingerprint(text);

  base::Problems problems;
  for (std::size_t i = 0; i < exam.runs.size(); ++i)
    if (!run_file(exam.runs[i]))
      problems.push_back(
          document.value().problem("/runs/" + std::to_string(i), "there is no run \"" + exam.runs[i] + "\"",
                                   "the name of a file in content/exams/runs or content/scenarios, "
                                   "without \".json\""));
  if (exam.questions.empty() && exam.runs.empty())
    problems.push_back(document.value().problem("", "nothing is asked", "questions, runs, or both"));
  if (exam.pass.questions && exam.questions.empty())
    problems.push_back(
        document.value().problem("/pass/questions", "there are no questions to pass", "questions"));
  if (exam.pass.findings && exam.runs.empty())
    problems.push_back(document.value().problem("/pass/findings", "there are no runs to pass", "runs"));
  if (!problems.empty()) return problems;
  return exam;
}

base::Result<Exam> read_exam(const std::filesystem::path& file) {
  const auto text = base::read_file(file);
  if (!text) return text.problems();
  return exam_from_text(text.value(), file.string());
}

std::vector<std::filesystem::path> shipped_exams() { return shipped_files("exams"); }

std::optional<std::filesystem::path> run_file(const std::string& name) {
  for (const char* folder : {"exams/runs", "scenarios"})
    if (shipped_file(folder, name)) return base::content_dir() / folder / (name + ".json");
  return std::nullopt;
}

std::vector<ExamItem> form_of(const Exam& exam) {
  base::Random random(std::stoull(base::fingerprint(exam.id + "/" + exam.seed).substr(0, 15), nullptr, 16));
  std::vector<ExamItem> form;
  for (const ExamQuestions& part : exam.questions) {
    const int clean = static_cast<int>(std::lround(part.clean_share * part.count));
    std::vector<std::string> codes = part.codes;
    shuffle(codes, random);
    for (int i = 0; i < part.count; ++i) {
      ExamItem item{part.kind, {}, i < clean, random.next()};
      if (!item.clean && !codes.empty()) item.code = codes[static_cast<std::size_t>(i) % codes.size()];
      form.push_back(item);
    }
  }
  shuffle(form, random);
  return form;
}

ExamResult result_of(const Exam& exam, const std::string& sitting, const std::vector<scores::Answer>& answers,
                     const std::vector<scores::Attempt>& attempts) {
  ExamResult result;
  int right = 0, found = 0, there = 0;
  for (const scores::Answer& answer : answers) {
    if (answer.sitting != sitting) continue;
    ++result.answered;
    right += answer.credit >= right_from ? 1 : 0;
  }
  std::set<std::string> runs;
  for (const scores::Attempt& attempt : attempts) {
    // A run counts once: the first that was handed in.
    if (attempt.sitting != sitting || !runs.insert(attempt.scenario_hash).second) continue;
    count(attempt, result, found, there);
  }
  result.runs_in = static_cast<int>(runs.size());
  result.complete = result.answered >= exam.question_count() && runs.size() >= exam.runs.size();
  // What was left out is wrong; or breaking off at the right moment would pass.
  result.questions = tally(right, exam.question_count());
  result.findings = tally(found, there);
  bool passed = reached(result.questions, exam.pass.questions, "questions right", result.sentences);
  if (!exam.runs.empty()) {
    passed =
        reached(result.findings, exam.pass.findings, "findings found and rightly named", result.sentences) &&
        passed;
    if (result.false_calls > 0)
      result.sentences.push_back(std::to_string(result.false_calls) +
                                 (result.false_calls == 1 ? " thing was" : " things were") +
                                 " written down that nothing in the pipe accounts for.");
    if (result.dangerous_missed > 0)
      result.sentences.push_back(
          std::to_string(result.dangerous_missed) + (result.dangerous_missed == 1 ? " miss" : " misses") +
          " could have hurt someone" + (exam.pass.no_dangerous_miss ? ": that alone fails the exam." : "."));
  }
  if (exam.pass.no_dangerous_miss && result.dangerous_missed > 0) passed = false;
  if (!result.complete)
    result.sentences.push_back("Not handed in whole: " + std::to_string(result.answered) + " of " +
                               std::to_string(exam.question_count()) + " questions and " +
                               std::to_string(result.runs_in) + " of " + std::to_string(exam.runs.size()) +
                               " runs.");
  result.passed = result.complete && passed;
  return result;
}

}  // namespace haunch::courses
