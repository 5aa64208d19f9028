// SPDX-License-Identifier: Apache-2.0
#include "grade_batch.hpp"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <set>

#include "base/words.hpp"
#include "inputs.hpp"
#include "records.hpp"
#include "remarks_told.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_reasons = 5, most_told = 200;

/// What lies beside records in a job's folder and is none.
bool passed_over(const fs::path& file) {
  static const std::set<std::string> endings{
      ".jpg", ".jpeg", ".png", ".gif", ".webp", ".bmp", ".tif", ".tiff", ".svg",  ".mp4",   ".mpg",  ".mpeg",
      ".avi", ".mov",  ".wmv", ".mkv", ".vob",  ".ts",  ".pdf", ".doc",  ".docx", ".xls",   ".xlsx", ".odt",
      ".ods", ".html", ".htm", ".css", ".zip",  ".exe", ".ini", ".db",   ".md",   ".sqlite"};
  return file.filename().string().starts_with(".") ||
         endings.contains(base::lower(file.extension().string()));
}

std::vector<fs::path> files_in(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code wrong;
  for (auto entry =
           fs::recursive_directory_iterator(folder, fs::directory_options::skip_permission_denied, wrong);
       !wrong && entry != fs::recursive_directory_iterator(); entry.increment(wrong)) {
    std::error_code ignored;
    if (entry->path().filename().string().starts_with(".")) {
      if (entry->is_directory(ignored)) entry.disable_recursion_pending();
    } else if (entry->is_regular_file(ignored) && !passed_over(entry->path())) {
      files.push_back(entry->path());
    }
  }
  if (wrong)
    throw InputProblems({{{folder.string()},
                          base::Severity::error,
                          "the folder cannot be read: " + wrong.message(),
                          "a folder that can be read",
                          {}}});
  std::sort(files.begin(), files.end());
  return files;
}

/// The problem lines of what is not graded, the first few.
report::NotGraded not_graded(std::uint32_t file, int inspection, const base::Problems& problems) {
  report::NotGraded one{file, inspection, {}, 0};
  for (const base::Severity severity : {base::Severity::error, base::Severity::warning, base::Severity::note})
    for (const base::Problem& problem : problems) {
      if (problem.severity != severity) continue;
      if (one.why.size() < most_reasons)
        one.why.push_back(base::to_line(problem));
      else
        ++one.more;
    }
  return one;
}

/// A scenario is told apart with what to do about it, as by the other verbs.
base::Problems problems_of_file(const fs::path& file, const base::Problems& told, bool any_inspection) {
  if (any_inspection || !base::has_errors(told)) return told;
  char first = 0;
  std::ifstream in(file);
  if (!(in >> first) || first != '{') return told;
  try {
    read_inspections(file);
  } catch (const InputProblems& wrong) {
    return wrong.problems;
  }
  return told;
}

report::RemarkCount counted_remarks(const base::Problems& problems) {
  report::RemarkCount count;
  for (const base::Problem& problem : problems)
    ++(problem.severity == base::Severity::error     ? count.errors
       : problem.severity == base::Severity::warning ? count.warnings
                                                     : count.notes);
  return count;
}

/// Grades one inspection; its problems where that is not possible.
base::Problems grade_one(const Batch& batch, std::uint32_t file, exchange::Inspection& one, RemarksTold* told,
                         const std::function<void(const OneGraded&)>& each) {
  base::Problems problems = std::move(one.remarks);
  const bool broken = base::has_errors(problems);
  base::Problems checked = problems_of(one.placed, batch.files[file]);
  problems.insert(problems.end(), std::make_move_iterator(checked.begin()),
                  std::make_move_iterator(checked.end()));
  if (broken || makes_no_sense(one.placed.record, TakenAs::fact)) {
    if (told != nullptr) told->add(problems);
    return problems;
  }
  const report::RemarkCount remarks = counted_remarks(problems);
  if (told != nullptr) {
    // They do not stop the grading: an error of `check` is a warning here.
    for (base::Problem& problem : problems)
      if (problem.severity == base::Severity::error) problem.severity = base::Severity::warning;
    told->add(problems);
  }
  const coding::Record& record = one.placed.record;
  const grading::Grade grade = grading::grade(record, batch.scheme, batch.site.of(record));
  const report::Advice advice = report::advice_for(record, grade);
  each({file, one.number, record, grade, advice, remarks});
  return {};
}

}  // namespace

std::vector<fs::path> files_to_grade(const std::vector<std::string>& named) {
  std::vector<fs::path> files;
  base::Problems problems;
  for (const std::string& name : named) {
    std::error_code ignored;
    if (!fs::is_directory(name, ignored)) {
      files.emplace_back(name);
      continue;
    }
    const std::vector<fs::path> within = files_in(name);
    if (within.empty())
      problems.push_back({{name},
                          base::Severity::error,
                          "the folder holds no file that may be a record",
                          "a folder with exchange text, CSV or JSON files",
                          {}});
    files.insert(files.end(), within.begin(), within.end());
  }
  if (!problems.empty()) throw InputProblems(problems);
  return files;
}

report::RunsTable grade_all(const Batch& batch, const std::function<void(const OneGraded&)>& each) {
  report::RunsTable table;
  for (const fs::path& file : batch.files) table.files.push_back(file.string());
  for (std::uint32_t file = 0; file < batch.files.size(); ++file) {
    RemarksTold told(table.files[file]);
    exchange::Inspections walk(batch.files[file]);
    bool any = false;
    for (exchange::Inspection one; walk.next(one); any = true) {
      const base::Problems problems = grade_one(batch, file, one, &told, [&](const OneGraded& graded) {
        each(graded);
        table.runs.push_back(report::run_row(file, graded.inspection, graded.record, graded.grade,
                                             graded.advice, graded.remarks));
      });
      if (problems.empty()) continue;
      table.not_graded.push_back(not_graded(file, one.number, problems));
      if (table.not_graded.size() > most_told) table.not_graded.back().drop_reasons();
    }
    const base::Problems problems = problems_of_file(batch.files[file], walk.problems(), any);
    told.add(problems);
    if (base::has_errors(problems)) table.not_graded.push_back(not_graded(file, 0, problems));
    told.print(std::cerr);
  }
  std::sort(table.runs.begin(), table.runs.end(), report::worse);
  return table;
}

void grade_again(const Batch& batch, const std::map<std::uint32_t, std::vector<int>>& chosen,
                 const std::function<void(const OneGraded&)>& each) {
  for (const auto& [file, numbers] : chosen) {
    exchange::Inspections walk(batch.files[file]);
    const int last = *std::max_element(numbers.begin(), numbers.end());
    for (exchange::Inspection one; one.number <= last && walk.next(one);)
      if (std::count(numbers.begin(), numbers.end(), one.number) > 0)
        grade_one(batch, file, one, nullptr, each);
  }
}

}  // namespace haunch::cli
