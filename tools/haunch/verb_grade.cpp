// SPDX-License-Identifier: Apache-2.0
// haunch grade: condition classes of records, each with the row that decided it, and what they mean to the
// owner of the pipe.
#include <algorithm>
#include <iostream>
#include <memory>
#include <set>

#include "base/words.hpp"
#include "grade_batch.hpp"
#include "grade_outputs.hpp"
#include "outputs.hpp"
#include "report/findings_csv.hpp"
#include "report/output_json.hpp"
#include "report/owner_words.hpp"
#include "report/plain_text.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_rows_shown = 60;

report::Zero zero_of(const po::variables_map& given, base::LengthUnit unit) {
  if (!has(given, "zero")) return {};
  const auto zero = report::zero_from(text_of(given, "zero"), unit);
  if (!zero)
    throw UsageError(
        "--zero " + text_of(given, "zero") +
        " is not known; it is recorded, start, end, upstream, downstream or a distance as recorded");
  return *zero;
}

/// A zero given as a distance has to lie in a pipe: a UsageError where it lies in none of them, and a remark
/// where it lies in some. Looked at before anything is graded or written.
void judge_zero(const report::Zero& zero, const std::string& given, base::LengthUnit unit,
                const std::vector<fs::path>& files) {
  if (zero.at != report::ZeroAt::place) return;
  std::size_t within = 0, outside = 0;
  std::optional<double> low, high;
  for (const fs::path& file : files) {
    exchange::Inspections walk(file);
    for (exchange::Inspection one; walk.next(one);) {
      const report::Ends ends = report::ends_of(one.placed.record);
      const auto [near, far] = std::minmax(ends.start_m, ends.finish_m);
      ++(zero.place_m >= near && zero.place_m <= far ? within : outside);
      low = std::min(low.value_or(near), near);
      high = std::max(high.value_or(far), far);
    }
  }
  if (outside == 0) return;
  if (within == 0)
    throw UsageError("--zero " + given + " lies outside " + (outside == 1 ? "the pipe" : "every pipe") +
                     ": distances are recorded from " + base::show_distance(*low, unit) + " to " +
                     base::show_distance(*high, unit));
  std::cerr << "haunch: --zero " << given << " lies outside " << outside << " of "
            << counted(within + outside, "pipe") << "; their distances all count the same way from there\n";
}

std::vector<Output> outputs_of(const po::variables_map& given) {
  std::vector<Output> outputs;
  int to_screen = has(given, "json") ? 1 : 0;
  for (const char* name : {"html", "csv", "runs"}) {
    if (!has(given, name)) continue;
    if (text_of(given, name) == "-" && std::string(name) != "html")
      ++to_screen;
    else
      outputs.push_back({std::string("--") + name, text_of(given, name)});
  }
  if (to_screen > 1) throw UsageError("only one of --json, --csv - and --runs - can go to standard output");
  return outputs;
}

}  // namespace

int grade(const Arguments& arguments) {
  Command command{
      "grade FILE|FOLDER... [options]",
      "Gives each inspection its condition classes under a scheme, with the reason for each, and says\n"
      "what usually comes next. Several inspections give a table, worst first; a folder stands for the\n"
      "files in it. What `haunch check` would say of them is said too. A file that cannot be read or a\n"
      "record that makes no sense is listed with why, the rest is graded, and the exit code is 1. A class\n"
      "that was read from a size that can hardly be (900 %, wider than the pipe) is marked doubtful."};
  command.places_many("FILE");
  command.options.add_options()("json", "machine-readable (schema: grade)")(
      "html", po::value<std::string>()->value_name("FILE"),
      "the owner's summary: a page in plain words, to print")(
      "csv", po::value<std::string>()->value_name("FILE"), "a row for each finding; - for standard output")(
      "runs", po::value<std::string>()->value_name("FILE"),
      "a CSV row for each inspection, worst first; - for standard output")(
      "details", "with several inspections, each one's classes and reasons too")(
      "scheme", po::value<std::string>()->value_name("NAME|FILE"),
      "a shipped grading scheme or a file; default: three-goals")(
      "zero", po::value<std::string>()->value_name("WHERE"),
      "where distances count from in --html and --csv: recorded (default), start, end, upstream, downstream, "
      "or a "
      "distance as recorded, in the units");
  add_site(command);
  add_units(command);
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  const report::Zero zero = zero_of(*given, unit);
  const grading::Scheme scheme = has(*given, "scheme")
                                     ? need(grading::Scheme::named(text_of(*given, "scheme")))
                                     : grading::Scheme::shipped();
  const GivenSite site = given_site(*given, scheme);  // a wrong condition is told before records are read
  const std::vector<Output> outputs = outputs_of(*given);
  const std::vector<std::string> named = (*given)["FILE"].as<std::vector<std::string>>();
  const Batch batch{files_to_grade(named), scheme, site};
  std::vector<fs::path> inputs = batch.files;
  for (const fs::path& file : site_files(*given)) inputs.push_back(file);
  keep_apart(outputs, inputs);
  keep_others(outputs, *given);
  judge_zero(zero, text_of(*given, "zero"), unit, batch.files);

  const coding::CodeList& list = coding::CodeList::shipped();
  const report::Meanings& meanings = report::Meanings::shipped();
  const bool json = has(*given, "json");
  const auto to_screen = [&](const char* name) { return has(*given, name) && text_of(*given, name) == "-"; };
  const bool quiet = json || to_screen("csv") || to_screen("runs");
  GradesJson grades(std::cout);
  std::unique_ptr<WrittenAsItGoes> csv;
  if (has(*given, "csv")) {
    csv = std::make_unique<WrittenAsItGoes>(text_of(*given, "csv"));
    csv->out() << report::findings_csv_head(scheme.goals());
  }
  std::set<std::string> references;
  std::string only;  // the text of one inspection, for when it is the only one
  report::RunsTable table = grade_all(batch, [&, count = 0](const OneGraded& one) mutable {
    ++count;
    if (!site.files.by_pipe.empty())
      references.insert(base::trim(one.record.header_value("AAA").value_or("")));
    const std::string file = batch.files[one.file].string();
    if (json) grades.add(report::grade_to_json({file, one.inspection, &one.record, one.grade, &one.advice}));
    if (csv)
      csv->out() << report::findings_csv(file, one.inspection, one.record, one.grade, one.advice,
                                         report::measure_of(one.record, zero, unit), meanings);
    if (quiet || (count > 1 && !has(*given, "details"))) return;
    const auto steps = report::next_steps(one.record, one.advice, one.grade,
                                          report::measure_of(one.record, zero, unit), meanings);
    const std::string text =
        report::grade_text(one.grade, one.record, list, unit) + '\n' + report::steps_text(steps);
    if (count == 1) {
      only = "=== " + file + ", inspection " + std::to_string(one.inspection) + "\n" + text;
      return;
    }
    if (!only.empty()) std::cout << std::exchange(only, {}) << '\n';
    std::cout << "=== " << file << ", inspection " << one.inspection << "\n" << text << '\n';
  });
  table.unit = unit;
  for (const std::string& said : site.files.never_met(references))
    std::cerr << "haunch: warning: " << said << '\n';

  // One file that gives one grade, or nothing at all but its problems, which are told already.
  const bool alone = batch.files.size() == 1 && table.runs.size() + table.not_graded.size() <= 1 &&
                     !fs::is_directory(named.front());
  if (json) grades.finish(table, alone);
  if (csv) csv->finish();
  if (has(*given, "runs")) {
    WrittenAsItGoes runs(text_of(*given, "runs"));
    report::write_runs_csv(table, meanings, runs.out());
    runs.finish();
  }
  if (!quiet && alone && !table.runs.empty()) {
    only.erase(0, only.find('\n') + 1);
    print_out(only);
  } else if (!quiet && !alone) {
    if (has(*given, "details") && !only.empty()) std::cout << only << '\n';
    print_out(report::runs_text(table, meanings, most_rows_shown));
  }
  if (has(*given, "html") && !(alone && table.runs.empty()))
    write_pages({text_of(*given, "html"), zero, unit}, batch, table);
  return table.not_graded.empty() ? done : input_has_problems;
}

}  // namespace haunch::cli
