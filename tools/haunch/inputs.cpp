// SPDX-License-Identifier: Apache-2.0
#include "inputs.hpp"

#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "cli.hpp"
#include "exchange/read_records.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

coding::Record read_one_record(const fs::path& file, int inspection) {
  std::vector<exchange::PlacedRecord> records = need(exchange::read_records(file));
  if (inspection < 1 || static_cast<std::size_t>(inspection) > records.size()) {
    throw InputProblems({base::Problem{{file.string()},
                                       base::Severity::error,
                                       "the file holds " + std::to_string(records.size()) + " inspections",
                                       "an inspection number " + std::to_string(inspection),
                                       {}}});
  }
  return std::move(records[static_cast<std::size_t>(inspection - 1)].record);
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

scene::Scene read_scene(const fs::path& file) { return scene::build_scene(need(scene::read_scenario(file))); }

TruthInput read_truth(const fs::path& file, int inspection) {
  TruthInput input;
  input.file = file;
  if (kind_of(read_text_file(file), file.string()) == "scenario") {
    input.scene = read_scene(file);
    input.truth = truth::derive(*input.scene);
    input.title = input.scene->scenario.title;
  } else {
    input.truth.record = read_one_record(file, inspection);
    input.title = file.filename().string();
  }
  return input;
}

AttemptInput read_attempt(const fs::path& file, const TruthInput& truth, int inspection) {
  AttemptInput input;
  if (file.extension() != ".jsonl") {
    input.record = read_one_record(file, inspection);
    return input;
  }
  if (!truth.scene) {
    throw UsageError(file.string() + " is an input log, which can only be played on a scenario; " +
                     truth.file.string() + " is a record");
  }
  const play::LogFile log = need(play::log_file_from_text(read_text_file(file), file.string()));
  if (!log.scenario_hash.empty() && log.scenario_hash != truth.scene->scenario.hash) {
    print_remarks(
        {{{file.string(), 1, 1},
          base::Severity::warning,
          "the log was recorded on \"" + log.scenario + "\" as it was then (" + log.scenario_hash + ")",
          "this scenario, " + truth.scene->scenario.hash,
          {}}});
  }
  input.exercise = need(play::replay(*truth.scene, log.inputs));
  input.record = input.exercise->record();
  return input;
}

}  // namespace haunch::cli
