// SPDX-License-Identifier: Apache-2.0
// Rules for runs: ours, made from what one reader accepts and what one real file does.
#include <algorithm>
#include <map>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"
#include "coding/stretch.hpp"

namespace haunch::coding {
namespace {

struct Row {
  std::size_t index = 0;
  char kind = 'A';
};

/// +1 when distances grow through the record, -1 when they count down.
int direction(const Record& record) {
  const Number* first = nullptr;
  const Number* last = nullptr;
  for (const Observation& one : record.observations) {
    if (!one.distance_m.value) continue;
    if (first == nullptr) first = &one.distance_m;
    last = &one.distance_m;
  }
  return first != nullptr && *last->value < *first->value ? -1 : 1;
}

void check_pair(RemarksOn& remarks, const std::string& number, std::size_t begin, std::size_t end,
                int sense) {
  const Observation& a = remarks.record.observations[begin];
  const Observation& b = remarks.record.observations[end];
  if (a.code != b.code)
    remarks.row(Rule::run_other_code, end,
                "stretch " + number + " ends as " + b.code + " but began as " + a.code,
                "the code it began with", a.code);
  else if (a.ch1 != b.ch1 || a.ch2 != b.ch2)
    remarks.row(
        Rule::run_other_letters, end,
        "stretch " + number + " ends with other characterisations than it began with, " + show_code(a),
        "the same ones");
  if (!a.distance_m.value || !b.distance_m.value) return;
  const double length = (*b.distance_m.value - *a.distance_m.value) * sense;
  if (length < 0)
    remarks.row(Rule::run_backwards, end,
                "stretch " + number + " ends at " + b.distance_m.show() + " m before it begins at " +
                    a.distance_m.show() + " m",
                "an end after the begin");
  else if (length == 0)
    remarks.row(Rule::run_no_length, end, "stretch " + number + " ends where it begins",
                "a length, or a single observation");
  else if (end < begin)
    remarks.row(Rule::run_end_first, end, "the end of stretch " + number + " stands above its begin",
                "the begin first");
}

/// A change of another kind, or outside its run, is read as an observation of its own.
void check_changes(RemarksOn& remarks, const std::string& number, const std::vector<Row>& rows,
                   std::size_t begin, std::size_t end) {
  const Observation &a = remarks.record.observations[begin], &b = remarks.record.observations[end];
  for (const Row& row : rows) {
    if (row.kind != 'C') continue;
    const Observation& change = remarks.record.observations[row.index];
    if (change.code != a.code)
      remarks.row(Rule::run_other_code, row.index,
                  "stretch " + number + " changes as " + change.code + " but began as " + a.code,
                  "the code it began with", a.code);
    if (!change.distance_m.value || !a.distance_m.value || !b.distance_m.value) continue;
    const auto [low, high] = std::minmax(*a.distance_m.value, *b.distance_m.value);
    if (*change.distance_m.value < low || *change.distance_m.value > high)
      remarks.row(Rule::run_backwards, row.index, "stretch " + number + " changes where it does not run",
                  "a distance from " + base::show_number(low) + " to " + base::show_number(high) + " m");
  }
}

void check_number(RemarksOn& remarks, const std::string& number, const std::vector<Row>& rows, int sense) {
  std::size_t begins = 0, ends = 0;
  for (const Row& row : rows) {
    begins += row.kind == 'A' ? 1 : 0;
    ends += row.kind == 'B' ? 1 : 0;
  }
  if (begins == 1 && ends == 1) {
    std::size_t begin = 0, end = 0;
    for (const Row& row : rows) {
      if (row.kind == 'A') begin = row.index;
      if (row.kind == 'B') end = row.index;
    }
    check_pair(remarks, number, begin, end, sense);
    check_changes(remarks, number, rows, begin, end);
    return;
  }
  const Row* open = nullptr;
  bool closed_before = false;
  for (const Row& row : rows) {
    if (row.kind == 'A') {
      if (open != nullptr)
        remarks.row(
            Rule::run_twice, row.index,
            "stretch " + number + " begins again while it is open; it began in " + remarks.name(open->index),
            "its end B" + number + " first, or another number");
      else if (closed_before)
        remarks.row(Rule::run_number_again, row.index,
                    "stretch " + number + " was ended before and its number is used again", "a new number");
      open = &row;
    } else if (row.kind == 'B') {
      if (open == nullptr) {
        remarks.row(Rule::run_unbegun, row.index, "stretch " + number + " ends without a begin",
                    "a row with A" + number + " before it");
        continue;
      }
      check_pair(remarks, number, open->index, row.index, sense);
      open = nullptr;
      closed_before = true;
    } else if (open == nullptr) {
      remarks.row(Rule::run_unbegun, row.index, "stretch " + number + " changes while it is not open",
                  "a row with A" + number + " before it");
    }
  }
  if (open != nullptr)
    remarks.row(Rule::run_open, open->index, "stretch " + number + " begins and never ends",
                "a row with B" + number);
}

}  // namespace

void check_runs(RemarksOn& remarks) {
  std::map<std::string, std::vector<Row>> runs;
  const auto& observations = remarks.record.observations;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    if (observations[i].stretch.empty()) continue;
    const auto mark = stretch_mark(observations[i].stretch);
    if (!mark)
      remarks.row(Rule::run_mark, i, "the continuous mark is \"" + observations[i].stretch + "\"",
                  "A, B or C and a number, such as A1");
    else
      runs[mark->number].push_back({i, mark->kind});
  }
  const int sense = direction(remarks.record);
  for (const auto& [number, rows] : runs) check_number(remarks, number, rows, sense);
}

}  // namespace haunch::coding
