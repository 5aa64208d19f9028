// SPDX-License-Identifier: Apache-2.0
#include "inputs.hpp"

#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "cli.hpp"
#include "records.hpp"
#include "scenario/read.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

coding::Record read_one_record(const fs::path& file, TakenAs taken_as, const WhichInspection& which) {
  std::vector<exchange::PlacedRecord> records = read_inspections(file);
  std::size_t index = 0;
  if (which) {
    index = static_cast<std::size_t>(which(records.size()) - 1);
  } else if (records.size() > 1) {
    print_remarks({{{file.string(), 1, 1},
                    base::Severity::note,
                    "the file holds " + counted(records.size(), "inspection"),
                    "one; the first is taken",
                    {}}});
  }
  if (index >= records.size()) {
    throw InputProblems(
        {{{file.string(), 1, 1}, base::Severity::error, "the file holds no inspection", "one at least", {}}});
  }
  tell_or_refuse(records[index], file, taken_as);
  return std::move(records[index].record);
}

/// An attempt that was driven elsewhere says nothing about this run.
void same_run(const play::LogFile& log, const scene::Scenario& scenario, const fs::path& file) {
  if (!log.scenario.empty() && log.scenario != scenario.title) {
    throw InputProblems({{{file.string(), 1, 1},
                          base::Severity::error,
                          "the log is of another run, \"" + log.scenario + "\"",
                          "a log of \"" + scenario.title + "\"",
                          {}}});
  }
  if (!log.scenario_hash.empty() && log.scenario_hash != scenario.hash) {
    print_remarks({{{file.string(), 1, 1},
                    base::Severity::warning,
                    "the log was recorded on this run as it was then (" + log.scenario_hash + ")",
                    "the run as it is now, " + scenario.hash,
                    {}}});
  }
}

}  // namespace

std::string read_text_file(const fs::path& file) { return need(base::read_file(file)); }

std::optional<std::string> kind_of(const std::string& text, const std::string& file_name) {
  const std::string start = base::trim(std::string_view(text).substr(0, 4096));
  const bool marked = start.rfind("\xEF\xBB\xBF", 0) == 0;
  if (start.size() <= (marked ? 3U : 0U) || start[marked ? 3 : 0] != '{') return {};
  const base::JsonDocument document = need(base::JsonDocument::parse(text, file_name));
  const nlohmann::json& root = document.root();
  // The schema of records lets `kind` be left out: what has observations is one.
  if (root.is_object() && !root.contains("kind") &&
      (root.contains("observations") || root.contains("records"))) {
    return "record";
  }
  if (!root.is_object() || !root.contains("kind") || !root.at("kind").is_string()) return std::string();
  return root.at("kind").get<std::string>();
}

scene::Scene read_scene(const fs::path& file) {
  return scene::build_scene(need(scenario::read_scenario(file)));
}

TruthInput read_truth(const fs::path& file) {
  TruthInput input;
  input.file = file;
  if (kind_of(read_text_file(file), file.string()) == "scenario") {
    input.scene = read_scene(file);
    input.truth = truth::derive(*input.scene);
    input.title = input.scene->scenario.title;
  } else {
    input.truth.record = read_one_record(file, TakenAs::fact, {});
    input.title = file.filename().string();
  }
  return input;
}

AttemptInput read_attempt(const fs::path& file, const TruthInput& truth, const WhichInspection& which) {
  AttemptInput input;
  if (file.extension() != ".jsonl") {
    input.record = read_one_record(file, TakenAs::attempt, which);
    return input;
  }
  const std::string text = read_text_file(file);
  if (!truth.scene) {
    throw UsageError(file.string() + " is an input log, which can only be played on a scenario; " +
                     truth.file.string() + " is a record");
  }
  const play::LogFile log = need(play::log_file_from_text(text, file.string()));
  if (which) which(1);
  same_run(log, truth.scene->scenario, file);
  auto played = play::replay(*truth.scene, log.inputs);
  if (!played) {
    base::Problems problems = played.problems();
    for (base::Problem& problem : problems) problem.place = {file.string(), problem.place.line, 1};
    throw InputProblems(problems);
  }
  input.exercise = std::move(played).value();
  input.record = input.exercise->record();
  if (!input.exercise->marking()) {
    print_remarks({{{file.string(), 1 + static_cast<int>(log.inputs.size()), 1},
                    base::Severity::note,
                    "the exercise was not finished: the log ends before marking",
                    "\"finish\" twice; what was logged up to there counts",
                    {}}});
  }
  return input;
}

void hold_to(TruthInput& truth, const AttemptInput& attempt) {
  if (!truth.scene) return;
  truth.truth.record = truth::as_told(truth.truth, truth.scene->scenario,
                                      attempt.exercise ? attempt.exercise->furthest_m() : 0);
}

}  // namespace haunch::cli
