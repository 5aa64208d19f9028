// SPDX-License-Identifier: Apache-2.0
#include "check_tally.hpp"

#include <algorithm>

namespace haunch::cli {
namespace {

/// What a reader says without what differs from place to place, its numbers and quoted words: "the row has #
/// cells", "the column "..." is not known".
std::string without_particulars(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const std::size_t closed = c == '"' ? text.find('"', i + 1) : std::string::npos;
    const bool digit = c >= '0' && c <= '9';
    if (closed != std::string::npos) {
      out += "\"...\"";
      i = closed;
    } else if (!digit) {
      out += c;
    } else if (out.empty() || out.back() != '#') {
      out += '#';
    }
  }
  return out;
}

}  // namespace

void Tally::add(base::Problem&& problem, int inspection, std::string_view rule, const std::string& says,
                std::string key) {
  key += static_cast<char>('0' + static_cast<int>(problem.severity));
  const auto [at, is_new] = index_.emplace(std::move(key), kinds_.size());
  if (is_new) kinds_.push_back({problem.severity, std::string(rule), says, 0, 0, {}, -1});
  ProblemKind& kind = kinds_[at->second];
  // What a reader says of several is said without their particulars.
  if (kind.count == 1 && kind.rule.empty() && kind.says != says) kind.says = without_particulars(says);
  ++kind.count;
  ++counts_[static_cast<std::size_t>(problem.severity)];
  if (inspection != kind.last_inspection && inspection > 0) ++kind.inspections;
  kind.last_inspection = inspection;
  if (kind.first.size() < keep_) kind.first.push_back({std::move(problem), inspection});
}

void Tally::add(base::Problem problem, int inspection) {
  const std::string says = problem.what;
  add(std::move(problem), inspection, {}, says, without_particulars(says));
}

void Tally::add(const base::Problems& problems, int inspection) {
  for (const base::Problem& problem : problems) add(problem, inspection);
}

void Tally::add(coding::Remark remark, int inspection) {
  add(std::move(remark.problem), inspection, coding::words_of(remark.rule).name, remark.kind, remark.kind);
}

std::vector<const ProblemKind*> Tally::kinds() const {
  std::vector<const ProblemKind*> out;
  for (const ProblemKind& kind : kinds_) out.push_back(&kind);
  std::stable_sort(out.begin(), out.end(), [](const ProblemKind* a, const ProblemKind* b) {
    return a->severity != b->severity ? a->severity < b->severity : a->count > b->count;
  });
  return out;
}

base::Problems Tally::by_line() const {
  base::Problems out;
  for (const ProblemKind& kind : kinds_)
    for (const Told& told : kind.first) out.push_back(told.problem);
  std::stable_sort(out.begin(), out.end(), [](const base::Problem& a, const base::Problem& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  return out;
}

}  // namespace haunch::cli
