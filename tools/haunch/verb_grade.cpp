// SPDX-License-Identifier: Apache-2.0
// haunch grade: condition classes of records, each with the row that decided it.
#include <iostream>

#include "base/words.hpp"
#include "records.hpp"
#include "report/output_json.hpp"
#include "report/plain_text.hpp"
#include "verbs.hpp"

namespace haunch::cli {

int grade(const Arguments& arguments) {
  Command command{
      "grade RECORD... [options]",
      "Gives each inspection its condition classes under a scheme, with the reason for each.\n"
      "A file with several inspections gives one grade for each.\n"
      "What `haunch check` would say of them is said too. Nothing is graded when a code does not\n"
      "exist or a clock or a number cannot be."};
  command.places_many("RECORD");
  command.options.add_options()("json", "machine-readable (schema: grade)")(
      "scheme", po::value<std::string>()->value_name("NAME|FILE"),
      "a shipped grading scheme or a file; default: three-goals");
  add_site(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  const grading::Scheme scheme = has(*given, "scheme")
                                     ? need(grading::Scheme::named(text_of(*given, "scheme")))
                                     : grading::Scheme::shipped();
  const GivenSite site = given_site(*given, scheme);  // a wrong condition is told before records are read

  // All files are read before anything is printed, so that all their problems come together.
  struct FileRecords {
    std::string file;
    std::vector<exchange::PlacedRecord> records;
  };
  std::vector<FileRecords> files;
  base::Problems problems;
  for (const std::string& file : (*given)["RECORD"].as<std::vector<std::string>>()) {
    try {
      files.push_back({file, read_inspections(file)});
      const base::Problems more = problems_in_the_way(files.back().records, file, TakenAs::fact);
      problems.insert(problems.end(), more.begin(), more.end());
    } catch (const InputProblems& wrong) {
      problems.insert(problems.end(), wrong.problems.begin(), wrong.problems.end());
    }
  }
  if (!problems.empty()) throw InputProblems(problems);

  std::vector<report::GradedRecord> graded;
  for (const FileRecords& one : files) {
    for (std::size_t i = 0; i < one.records.size(); ++i) {
      const coding::Record& record = one.records[i].record;
      graded.push_back(
          {one.file, static_cast<int>(i) + 1, &record, grading::grade(record, scheme, site.of(record))});
    }
  }
  if (has(*given, "json")) {
    print_out(report::grades_to_json(graded));
    return done;
  }
  for (const report::GradedRecord& one : graded) {
    if (graded.size() > 1) std::cout << "=== " << one.file << ", inspection " << one.inspection << "\n";
    std::cout << report::grade_text(one.grade, *one.record, coding::CodeList::shipped(), unit);
    if (graded.size() > 1) std::cout << '\n';
  }
  return done;
}

}  // namespace haunch::cli
