// SPDX-License-Identifier: Apache-2.0
#include "check_file.hpp"

#include <algorithm>
#include <fstream>
#include <map>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "cli.hpp"
#include "courses/course.hpp"
#include "courses/exam.hpp"
#include "exchange/inspections.hpp"
#include "grading/grade.hpp"
#include "guide/plates.hpp"
#include "inputs.hpp"
#include "learning/model.hpp"
#include "marking/mark.hpp"
#include "play/exercise.hpp"
#include "records.hpp"
#include "report/cautions.hpp"
#include "report/meanings.hpp"
#include "scenario/read.hpp"
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

class Checking {
 public:
  Checking(const fs::path& file, const HowToCheck& how)
      : how_(how), checked_{file, {}, 0, 0, Tally(how.keep)} {}

  Checked all(std::string what, base::Problems problems) {
    checked_.what = std::move(what);
    tell(std::move(problems), 0);
    return std::move(checked_);
  }

  Checked records(const std::string& what) {
    exchange::Inspections inspections(checked_.file);
    exchange::Inspection one;
    while (inspections.next(one)) {
      ++checked_.inspections;
      checked_.rows += one.placed.record.observations.size();
      auto& places = one.placed.places;
      if (places.header.empty() && places.observations.empty() && one.place.line > 0)
        places.header = {one.place};
      const bool whole = !base::has_errors(one.remarks);
      // The reader of JSON tells of the rest itself.
      if (whole || inspections.kind() != exchange::FileKind::record_json) remarks(one, whole);
      tell(std::move(one.remarks), one.number);
    }
    return all(what + " with " + counted(static_cast<std::size_t>(checked_.inspections), "inspection"),
               inspections.problems());
  }

 private:
  void remarks(const exchange::Inspection& one, bool whole) {
    for (coding::Remark& remark :
         coding::remarks_on(one.placed.record, coding::CodeList::shipped(), checked_.file.string(),
                            one.placed.places, how_.checks)) {
      if (!whole && hangs_on_refused(remark, one.remarks)) continue;
      // What is missing stands nowhere; the file's beginning is as good a place as any to go to.
      base::Problem& problem = remark.problem;
      if (problem.place.line == 0) problem.place.line = problem.place.column = 1;
      if (how_.as_it_comes) how_.as_it_comes(problem);
      checked_.tally.add(std::move(remark), one.number);
    }
  }
  /// Might this be said only because something could not be read? Of the row, or of rows together.
  static bool hangs_on_refused(const coding::Remark& remark, const base::Problems& refused) {
    const std::string_view group = coding::words_of(remark.rule).group;
    return group == "runs" || group == "nodes" ||
           std::any_of(refused.begin(), refused.end(), [&](const base::Problem& problem) {
             return problem.place.line == remark.problem.place.line;
           });
  }
  void tell(base::Problems problems, int inspection) {
    for (base::Problem& problem : problems) {
      if (how_.as_it_comes) how_.as_it_comes(problem);
      checked_.tally.add(std::move(problem), inspection);
    }
  }

  const HowToCheck& how_;
  Checked checked_;
};

/// A brace after nothing but a byte order mark and white space.
bool looks_like_json(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::string start(4096, '\0');
  stream.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(stream.gcount()));
  if (start.rfind("\xEF\xBB\xBF", 0) == 0) start.erase(0, 3);
  start = base::trim(start);
  return !start.empty() && start[0] == '{';
}

}  // namespace

Checked check_file(const fs::path& file, const HowToCheck& how) {
  Checking checking(file, how);
  if (written_by_grade(file))
    return checking.all("table of haunch grade",
                        {{{file.string(), 1, 1},
                          base::Severity::note,
                          "a table that haunch grade wrote, no inspection; there is nothing to check in it",
                          "inspections only",
                          {}}});
  if (file.extension() != ".jsonl" && fs::is_regular_file(file) && !looks_like_json(file))
    return checking.records(file.extension() == ".csv" ? "CSV" : "exchange text");
  const auto text = base::read_file(file);
  if (!text) return checking.all({}, text.problems());
  if (file.extension() == ".jsonl")
    return checking.all("input log", play::log_from_text(text.value(), file.string()).problems());

  const std::map<std::string, Check> kinds = {
      {"scenario", by_reading(scenario::read_scenario)},
      {"code-list", by_reading(coding::CodeList::read)},
      {"grading-scheme", by_reading(grading::Scheme::read)},
      {"site", by_reading(grading::read_sites)},
      {"marking-rules", by_reading(marking::Rules::read)},
      {"truth-rules", by_reading(truth::read_rules)},
      {"learning-model", by_reading(learning::read_model)},
      {"plates", by_reading(guide::read_plates)},
      {"cautions", by_reading(report::read_cautions)},
      {"meanings", by_reading(report::Meanings::read)},
      {"course", by_reading(courses::read_course)},
      {"exam", by_reading(courses::read_exam)},
      {"progress", by_schema("progress")},
      {"drill", by_schema("drill")},
      {"words", by_schema("words")},
      {"language", by_schema("language")},
      {"marking", by_schema("marking")},
      {"markings", by_schema("markings")},
      {"grade", by_schema("grade")},
      {"grades", by_schema("grade")},
      {"scores", by_schema("scores")},
      {"sight", by_schema("sight")},
      {"sheet", by_schema("sheet")},
      {"check", by_schema("check")},
  };
  std::optional<std::string> kind;
  try {
    kind = kind_of(text.value(), file.string());
  } catch (const InputProblems& broken) {
    return checking.all("JSON", broken.problems);
  }
  if (!kind || *kind == "record" || *kind == "records") return checking.records("record file");
  if (const auto found = kinds.find(*kind); found != kinds.end())
    return checking.all(*kind, found->second(file));

  std::vector<std::string> names{"record"};
  for (const auto& [name, check] : kinds) names.push_back(name);
  const auto document = base::JsonDocument::parse(text.value(), file.string());
  return checking.all(
      "JSON", {document.value().problem("/kind",
                                        kind->empty() ? "the file does not say what it is"
                                                      : "\"" + *kind + "\" is not a kind of file known here",
                                        "\"kind\": one of \"" + base::join(names, "\", \"") + "\"",
                                        base::nearest_word(*kind, names))});
}

std::vector<fs::path> files_to_check(const fs::path& given) {
  if (!fs::is_directory(given)) return {given};
  std::vector<fs::path> files;
  for (const auto& entry :
       fs::recursive_directory_iterator(given, fs::directory_options::skip_permission_denied)) {
    const std::string end = base::lower(entry.path().extension().string());
    const std::string name = entry.path().filename().string();
    // Schemas describe files of ours and are none.
    const bool passed_over = name.rfind('.', 0) == 0 || name.find(".schema.json") != std::string::npos;
    if (!passed_over && entry.is_regular_file() &&
        (end == ".txt" || end == ".csv" || end == ".json" || end == ".jsonl"))
      files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace haunch::cli
