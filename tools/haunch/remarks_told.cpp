// SPDX-License-Identifier: Apache-2.0
#include "remarks_told.hpp"

#include <algorithm>
#include <cctype>
#include <ostream>
#include <vector>

namespace haunch::cli {
namespace {

bool is_of_number(char letter) {
  return letter == '.' || std::isdigit(static_cast<unsigned char>(letter)) != 0;
}

constexpr std::size_t most_kinds = 200, kinds_shown = 15;

}  // namespace

std::string kind_of_problem(const base::Problem& problem) {
  std::string kind = problem.severity == base::Severity::error     ? ""
                     : problem.severity == base::Severity::warning ? "warning: "
                                                                   : "note: ";
  bool quoted = false;
  // "BCA A B at 16.6 m: quantification 1 is missing": code and place differ, the kind is the same.
  const std::size_t head = problem.what.find(": ");
  const bool placed =
      head != std::string::npos && problem.what.substr(0, head).find(" at ") != std::string::npos;
  for (std::size_t i = placed ? head + 2 : 0; i < problem.what.size(); ++i) {
    const char letter = problem.what[i];
    if (letter == '"') {
      if (!quoted) kind += "\"..\"";
      quoted = !quoted;
    } else if (!quoted && std::isdigit(static_cast<unsigned char>(letter)) != 0) {
      // A digit alone tells kinds apart ("quantification 1"), a longer number does not.
      std::size_t end = i;
      while (end + 1 < problem.what.size() && is_of_number(problem.what[end + 1])) ++end;
      kind += end == i ? std::string(1, letter) : "..";
      i = end;
    } else if (!quoted) {
      kind += letter;
    }
  }
  return kind;
}

void RemarksTold::add(const base::Problems& problems) {
  for (const base::Problem& problem : problems) {
    ++all_;
    if (first_.size() <= most_lines) first_.push_back(problem);
    const std::string kind = kind_of_problem(problem);
    const auto known = kinds_.find(kind);
    if (known != kinds_.end())
      ++known->second.times;
    else if (kinds_.size() < most_kinds)
      kinds_[kind] = {1, base::to_line(problem)};
    else
      ++beyond_;
  }
}

void RemarksTold::print(std::ostream& stream) const {
  if (all_ <= most_lines) {
    for (const base::Problem& problem : first_) stream << base::to_line(problem) << '\n';
    return;
  }
  std::vector<const std::pair<const std::string, Kind>*> order;
  for (const auto& kind : kinds_) order.push_back(&kind);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto* a, const auto* b) { return a->second.times > b->second.times; });
  stream << file_ << ": " << all_ << " remarks; `haunch check --every " << file_ << "` tells them all\n";
  std::size_t left = beyond_;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto& [kind, told] = *order[i];
    if (i >= kinds_shown)
      left += told.times;
    else if (told.times == 1)
      stream << "  " << told.example << '\n';
    else
      stream << "  " << told.times << " times: " << kind << "; the first: " << told.example << '\n';
  }
  if (left > 0) stream << "  and " << left << " of other kinds\n";
}

}  // namespace haunch::cli
