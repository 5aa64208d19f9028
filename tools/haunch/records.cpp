// SPDX-License-Identifier: Apache-2.0
#include "records.hpp"

#include <algorithm>
#include <fstream>
#include <iostream>

#include "base/words.hpp"
#include "check_words.hpp"
#include "cli.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

bool is_no_number(const coding::Number& number) { return !number.value && !base::trim(number.text).empty(); }

bool off_the_clock(const std::optional<int>& hour) { return hour && (*hour < 1 || *hour > 12); }

bool makes_no_sense(const coding::Observation& one, TakenAs taken_as) {
  const coding::CodeEntry* entry = coding::CodeList::shipped().find(one.code);
  if (is_no_number(one.distance_m) || off_the_clock(one.clock_from) || off_the_clock(one.clock_to))
    return true;
  const auto& at_m = one.distance_m.value;
  const bool nowhere = at_m && (*at_m < 0 || *at_m > coding::longest_pipe_m);
  if (taken_as == TakenAs::fact && (entry == nullptr || nowhere)) return true;
  // Without a rule the column holds no size: node references stand there by local habit.
  return entry != nullptr && ((entry->q1 && is_no_number(one.q1)) || (entry->q2 && is_no_number(one.q2)));
}

}  // namespace

void say_what_to_do(base::Problems& problems, const fs::path& file) {
  for (base::Problem& problem : problems)
    if (problem.what.rfind("this is a scenario", 0) == 0)
      problem.expected =
          "a record; `haunch truth " + file.string() + " --json -o record.json` makes one of it";
}

bool written_by_grade(const fs::path& file) {
  std::error_code ignored;
  if (!fs::is_regular_file(file, ignored)) return false;  // a pipe would lose what is read here
  std::ifstream stream(file, std::ios::binary);
  std::string start(128, '\0');
  stream.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(stream.gcount()));
  if (start.starts_with("\xEF\xBB\xBF")) start.erase(0, 3);
  std::erase(start, '"');
  std::replace_if(
      start.begin(), start.end(), [](char c) { return c == ';' || c == '\t'; }, ',');
  return start.starts_with("file,inspection,pipe,number,observation,") ||
         start.starts_with("rank,file,inspection,pipe,next,action,");
}

std::vector<exchange::PlacedRecord> read_inspections(const fs::path& file) {
  auto records = exchange::read_records(file);
  base::Problems problems = records.problems();
  say_what_to_do(problems, file);
  Tally tally(Tally::few);
  tally.add(problems, 0);
  std::cerr << remarks_in_words(tally, file, 0);
  if (!records.ok()) throw InputProblems({});
  return std::move(records).value();
}

std::vector<coding::Remark> remarks_of(const exchange::PlacedRecord& placed, const fs::path& file) {
  std::vector<coding::Remark> remarks =
      coding::remarks_on(placed.record, coding::CodeList::shipped(), file.string(), placed.places);
  // What is missing stands nowhere; the file's beginning is as good a place as any to go to.
  for (coding::Remark& remark : remarks)
    if (remark.problem.place.line == 0) remark.problem.place.line = remark.problem.place.column = 1;
  return remarks;
}

void as_warnings(std::vector<coding::Remark>& remarks) {
  for (coding::Remark& remark : remarks)
    if (remark.problem.severity == base::Severity::error) remark.problem.severity = base::Severity::warning;
}

bool makes_no_sense(const coding::Record& record, TakenAs taken_as) {
  if (taken_as == TakenAs::copy) return false;
  const bool header =
      taken_as == TakenAs::fact &&
      std::any_of(record.header.begin(), record.header.end(), [](const coding::HeaderField& field) {
        double number = 0;
        const std::string value = base::trim(field.value);
        return coding::header_holds_number(field.code) && !value.empty() &&
               (!base::read_number(value, number) || number < 0);
      });
  return header || std::any_of(record.observations.begin(), record.observations.end(),
                               [&](const auto& one) { return makes_no_sense(one, taken_as); });
}

void tell_or_refuse(const exchange::PlacedRecord& placed, const fs::path& file, TakenAs taken_as) {
  std::vector<coding::Remark> remarks = remarks_of(placed, file);
  const bool refused = makes_no_sense(placed.record, taken_as);
  if (!refused) {
    if (taken_as == TakenAs::attempt)
      for (coding::Remark& remark : remarks)
        if (remark.problem.severity == base::Severity::error)
          remark.problem.expected += "; marked as it stands";
    as_warnings(remarks);
  }
  Tally tally(Tally::few);
  for (coding::Remark& remark : remarks) tally.add(std::move(remark), 1);
  std::cerr << remarks_in_words(tally, file, 1);
  if (refused) throw InputProblems({});
}

}  // namespace haunch::cli
