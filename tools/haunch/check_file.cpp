// SPDX-License-Identifier: Apache-2.0
#include "check_file.hpp"

#include <functional>
#include <map>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "cli.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "grading/grade.hpp"
#include "inputs.hpp"
#include "marking/mark.hpp"
#include "play/exercise.hpp"
#include "records.hpp"
#include "report/cautions.hpp"
#include "report/meanings.hpp"
#include "scene/scenario.hpp"
#include "truth/truth.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

using Check = std::function<base::Problems(const fs::path&)>;

/// A reader's problems; a file that was read may still have remarks.
template <class T>
Check by_reading(base::Result<T> (*read)(const fs::path&)) {
  return [read](const fs::path& file) { return read(file).problems(); };
}

Check by_schema(const char* name) {
  return [name](const fs::path& file) {
    return base::JsonDocument::read(file, name).ok() ? base::Problems{}
                                                     : base::JsonDocument::read(file, name).problems();
  };
}

Checked check_records(const fs::path& file, const std::string& what) {
  Checked checked{what, {}};
  const auto records = exchange::read_records(file);
  checked.problems = records.problems();
  if (!records.ok()) return checked;
  for (const exchange::PlacedRecord& placed : records.value()) {
    for (base::Problem& problem : problems_of(placed, file)) checked.problems.push_back(std::move(problem));
  }
  checked.what += " with " + counted(records.value().size(), "inspection");
  return checked;
}

}  // namespace

Checked check_file(const fs::path& file) {
  const auto text = base::read_file(file);
  if (!text) return {{}, text.problems()};
  if (file.extension() == ".jsonl")
    return {"input log", play::log_from_text(text.value(), file.string()).problems()};

  const std::map<std::string, Check> kinds = {
      {"scenario", by_reading(scene::read_scenario)},
      {"code-list", by_reading(coding::CodeList::read)},
      {"grading-scheme", by_reading(grading::Scheme::read)},
      {"site", by_reading(grading::read_sites)},
      {"marking-rules", by_reading(marking::Rules::read)},
      {"truth-rules", by_reading(truth::read_rules)},
      {"cautions", by_reading(report::read_cautions)},
      {"meanings", by_reading(report::Meanings::read)},
      {"words", by_schema("words")},
      {"marking", by_schema("marking")},
      {"grade", by_schema("grade")},
      {"grades", by_schema("grade")},
      {"scores", by_schema("scores")},
  };
  std::optional<std::string> kind;
  try {
    kind = kind_of(text.value(), file.string());
  } catch (const InputProblems& broken) {
    return {"JSON", broken.problems};
  }
  if (!kind) return check_records(file, file.extension() == ".csv" ? "CSV" : "exchange text");
  if (*kind == "record" || *kind == "records") return check_records(file, "record file");
  if (const auto found = kinds.find(*kind); found != kinds.end()) return {*kind, found->second(file)};

  std::vector<std::string> names{"record"};
  for (const auto& [name, check] : kinds) names.push_back(name);
  const auto document = base::JsonDocument::parse(text.value(), file.string());
  return {"JSON",
          {document.value().problem("/kind",
                                    kind->empty() ? "the file does not say what it is"
                                                  : "\"" + *kind + "\" is not a kind of file known here",
                                    "\"kind\": one of \"" + base::join(names, "\", \"") + "\"",
                                    base::nearest_word(*kind, names))}};
}

}  // namespace haunch::cli
