// SPDX-License-Identifier: Apache-2.0
// haunch grade: condition classes of records, each with the row that decided it.
#include <iostream>

#include "base/words.hpp"
#include "exchange/read_records.hpp"
#include "report/output_json.hpp"
#include "report/plain_text.hpp"
#include "verbs.hpp"

namespace haunch::cli {

int grade(const Arguments& arguments) {
  Command command{"grade RECORD... [options]",
                  "Gives each inspection its condition classes under a scheme, with the reason for each.\n"
                  "A file with several inspections gives one grade for each."};
  command.places_many("RECORD");
  command.options.add_options()("json", "machine-readable (schema: grade)")(
      "scheme", po::value<std::string>()->value_name("FILE"),
      "a grading scheme; default: the shipped three goals");
  add_site(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  site_of(*given, {});  // a wrong key is told before files are read
  const grading::Scheme scheme = has(*given, "scheme")
                                     ? need(grading::Scheme::read(text_of(*given, "scheme")))
                                     : grading::Scheme::shipped();

  // All files are read before anything is printed, so that all their problems come together.
  struct FileRecords {
    std::string file;
    std::vector<exchange::PlacedRecord> records;
  };
  std::vector<FileRecords> files;
  base::Problems problems;
  for (const std::string& file : (*given)["RECORD"].as<std::vector<std::string>>()) {
    auto records = exchange::read_records(file);
    if (records.ok()) {
      print_remarks(records.problems());
      files.push_back({file, std::move(records).value()});
    } else {
      problems.insert(problems.end(), records.problems().begin(), records.problems().end());
    }
  }
  if (!problems.empty()) throw InputProblems(problems);

  std::vector<report::GradedRecord> graded;
  for (const FileRecords& one : files) {
    for (std::size_t i = 0; i < one.records.size(); ++i) {
      const coding::Record& record = one.records[i].record;
      const grading::Site site = site_of(*given, grading::site_from(record));
      graded.push_back({one.file, static_cast<int>(i) + 1, &record, grading::grade(record, scheme, site)});
    }
  }
  if (has(*given, "json")) {
    put_out({}, report::grades_to_json(graded), {});
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
