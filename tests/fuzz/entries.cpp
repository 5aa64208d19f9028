// SPDX-License-Identifier: Apache-2.0
#include "fuzz/entries.hpp"

#include <algorithm>

#include "coding/validate.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"
#include "fuzz/in_memory.hpp"
#include "grading/grade.hpp"

namespace haunch::fuzz {
namespace {

using exchange::PlacedRecord;
using Records = std::vector<coding::Record>;

/// Every problem can be acted on, and what gives no value says why.
template <class T>
bool told(const base::Result<T>& read) {
  for (const base::Problem& problem : read.problems()) {
    must(!problem.what.empty(), "a problem says what is wrong");
    must(!base::to_line(problem).empty(), "a problem can be printed");
  }
  must(read.ok() || base::has_errors(read.problems()), "what cannot be read has an error");
  return read.ok();
}

void judge(const coding::Record& record, const coding::RecordPlaces& places, const grading::Scheme& scheme,
           const grading::Site& site) {
  for (const auto& problem : coding::validate(record, coding::CodeList::shipped(), "f", places))
    must(!problem.what.empty(), "a problem says what is wrong");
  const grading::Grade grade = grading::grade(record, scheme, site);
  must(grading::worst_first(grade).size() == grade.observations.size(), "each grade has its place");
  for (const auto& one : grade.observations) {
    must(record.observations.empty() || !one.observation.empty(), "a grade names its observation");
    for (const auto& goal : one.goals) {
      must(!goal.reason.empty(), "every outcome has a reason");
      must(goal.outcome != grading::Outcome::classed || !goal.row.empty(), "every class cites its row");
    }
  }
  for (const auto& one : record.observations)
    must(!coding::in_words(one, coding::CodeList::shipped()).empty(), "an observation can be said in words");
}

Records judged(const std::vector<PlacedRecord>& read) {
  Records records;
  for (const PlacedRecord& placed : read) {
    const auto& scheme = grading::Scheme::shipped();
    judge(placed.record, placed.places, scheme, grading::site_from(placed.record));
    records.push_back(placed.record);
  }
  return records;
}

Records records_of(const std::vector<PlacedRecord>& read) {
  Records records;
  for (const PlacedRecord& placed : read) records.push_back(placed.record);
  return records;
}

/// A spreadsheet has one order of unknown columns for all its rows, so theirs is not kept; that of columns of
/// one name is.
Records in_one_order(Records records) {
  for (coding::Record& record : records)
    for (coding::Observation& one : record.observations)
      std::stable_sort(one.extra.begin(), one.extra.end(),
                       [](const auto& a, const auto& b) { return a.first < b.first; });
  return records;
}

Records sample_records() {
  Records records =
      records_of(exchange::exchange_from_text(exchange::test::sample_text, "f").value().inspections);
  for (std::uint64_t seed = 1; seed <= 3; ++seed) records.push_back(exchange::test::random_record(seed, {}));
  return records;
}

}  // namespace

void exchange_text(const std::string& bytes) {
  const auto read = exchange::exchange_from_text(bytes, "f");
  if (!told(read)) return;
  const Records records = judged(read.value().inspections);
  const std::string written = exchange::exchange_to_text(read.value());
  const auto again = exchange::exchange_from_text(written, "f");
  must(told(again), "what was written can be read");
  must(records_of(again.value().inspections) == records, "what was written is read back as it was");
  must(exchange::exchange_to_text(again.value()) == written, "and is written the same again");
}

void record_json(const std::string& bytes) {
  const auto read = exchange::records_from_json(bytes, "f");
  if (!told(read)) return;
  const Records records = judged(read.value());
  const std::string written = exchange::records_to_json(records);
  const auto again = exchange::records_from_json(written, "f");
  must(told(again), "what was written can be read");
  must(records_of(again.value()) == records, "what was written is read back as it was");
}

void csv(const std::string& bytes) {
  const auto read = exchange::records_from_csv(bytes, "f");
  if (!told(read)) return;
  const Records records = judged(read.value());
  const std::string written = exchange::records_to_csv(records);
  const auto again = exchange::records_from_csv(written, "f");
  must(told(again), "what was written can be read");
  const Records read_back = records_of(again.value());
  must(in_one_order(read_back) == in_one_order(records), "what was written is read back as it was");
  must(exchange::records_to_csv(read_back) == written, "and is written the same again");
}

void scheme(const std::string& bytes) {
  const InMemory file(bytes);
  const auto read = grading::Scheme::read(file.path());
  if (!told(read)) return;
  static const Records records = sample_records();
  for (const coding::Record& record : records) judge(record, {}, read.value(), grading::site_from(record));
}

void site(const std::string& bytes) {
  const InMemory file(bytes);
  const auto read = grading::read_sites(file.path(), grading::Scheme::shipped());
  if (!told(read)) return;
  static const Records records = sample_records();
  for (const coding::Record& record : records)
    judge(record, {}, grading::Scheme::shipped(), read.value().of(record));
}

const std::vector<Entry>& entries() {
  static const std::vector<Entry> all{
      {"exchange_text", exchange_text}, {"record_json", record_json}, {"csv", csv},
      {"inspections", inspections},     {"scheme", scheme},           {"site", site}};
  return all;
}

}  // namespace haunch::fuzz
