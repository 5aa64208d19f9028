// SPDX-License-Identifier: Apache-2.0
#include "grade_batch.hpp"

#include <algorithm>
#include <iostream>
#include <set>

#include "base/words.hpp"
#include "check_words.hpp"
#include "cli.hpp"
#include "grading/doubt.hpp"
#include "records.hpp"

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
  std::erase_if(files, [](const fs::path& file) {
    const bool table = written_by_grade(file);
    if (table)
      print_remarks({{{file.string(), 1, 1},
                      base::Severity::note,
                      "a table that haunch grade wrote, no inspection; passed over",
                      "inspections only",
                      {}}});
    return table;
  });
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

void count(report::RemarkCount& count, base::Severity severity) {
  ++(severity == base::Severity::error     ? count.errors
     : severity == base::Severity::warning ? count.warnings
                                           : count.notes);
}

/// What the code list says, but of a JSON record that was not read whole: its reader has said that already,
/// without what only hangs on a value that could not be read.
std::vector<coding::Remark> remarks_left(const exchange::Inspection& one, exchange::FileKind kind,
                                         const fs::path& file) {
  if (kind == exchange::FileKind::record_json && base::has_errors(one.remarks)) return {};
  return remarks_of(one.placed, file);
}

/// Grades one inspection of a file of that kind; its problems where that is not possible.
base::Problems grade_one(const Batch& batch, std::uint32_t file, exchange::FileKind kind,
                         exchange::Inspection& one, Tally* told,
                         const std::function<void(const OneGraded&)>& each) {
  std::vector<coding::Remark> remarks = remarks_left(one, kind, batch.files[file]);
  report::RemarkCount counts;
  for (const base::Problem& problem : one.remarks) count(counts, problem.severity);
  for (const coding::Remark& remark : remarks) count(counts, remark.problem.severity);
  const bool refused = base::has_errors(one.remarks) || makes_no_sense(one.placed.record, TakenAs::fact);
  base::Problems problems;
  if (refused) {
    problems = one.remarks;
    for (const coding::Remark& remark : remarks) problems.push_back(remark.problem);
  } else {
    as_warnings(remarks);
  }
  const std::vector<coding::DoubtfulSize> doubtful = coding::doubtful_sizes(remarks);
  if (told != nullptr) {
    told->add(one.remarks, one.number);
    for (coding::Remark& remark : remarks) told->add(std::move(remark), one.number);
  }
  if (refused) return problems;
  const coding::Record& record = one.placed.record;
  const grading::Site site = batch.site.of(record);
  grading::Grade grade = grading::grade(record, batch.scheme, site);
  grading::mark_doubtful(grade, record, batch.scheme, site, doubtful);
  const report::Advice advice = report::advice_for(record, grade);
  each({file, one.number, record, grade, advice, counts});
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
  table.overall = batch.scheme.overall_ids();
  for (const fs::path& file : batch.files) table.files.push_back(file.string());
  for (std::uint32_t file = 0; file < batch.files.size(); ++file) {
    Tally told(Tally::few);
    if (written_by_grade(batch.files[file])) {
      const base::Problems problems{{{batch.files[file].string(), 1, 1},
                                     base::Severity::error,
                                     "this is a table that haunch grade wrote, no inspection",
                                     "the inspections that it was made from",
                                     {}}};
      told.add(problems, 0);
      table.not_graded.push_back(not_graded(file, 0, problems));
      std::cerr << remarks_in_words(told, batch.files[file], 0);
      continue;
    }
    std::size_t inspections = 0;
    exchange::Inspections walk(batch.files[file]);
    for (exchange::Inspection one; walk.next(one);) {
      ++inspections;
      const base::Problems problems =
          grade_one(batch, file, *walk.kind(), one, &told, [&](const OneGraded& graded) {
            each(graded);
            table.runs.push_back(report::run_row(file, graded.inspection, graded.record, graded.grade,
                                                 graded.advice, graded.remarks, table.overall));
          });
      if (problems.empty()) continue;
      table.not_graded.push_back(not_graded(file, one.number, problems));
      if (table.not_graded.size() > most_told) table.not_graded.back().drop_reasons();
    }
    base::Problems problems = walk.problems();
    say_what_to_do(problems, batch.files[file]);
    told.add(problems, 0);
    if (base::has_errors(problems)) table.not_graded.push_back(not_graded(file, 0, problems));
    std::cerr << remarks_in_words(told, batch.files[file], inspections);
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
        grade_one(batch, file, *walk.kind(), one, nullptr, each);
  }
}

}  // namespace haunch::cli
