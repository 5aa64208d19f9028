// SPDX-License-Identifier: Apache-2.0
#include "marking/free_response.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <string>

namespace haunch::marking {
namespace {

constexpr double unmarked = -std::numeric_limits<double>::infinity();

/// Of each run without a fault the surest mark on it.
std::vector<double> surest_on_clean(const std::vector<RatedRun>& runs) {
  std::vector<double> surest;
  for (const RatedRun& run : runs)
    if (run.findings.empty()) {
      const auto most = std::max_element(run.false_marks.begin(), run.false_marks.end());
      surest.push_back(most == run.false_marks.end() ? unmarked : *most);
    }
  return surest;
}

/// What nothing can be reckoned from.
void check(const std::vector<RatedRun>& runs) {
  const auto is_number = [](double sure) {
    if (std::isnan(sure)) throw std::invalid_argument("a sureness is no number");
  };
  for (const RatedRun& run : runs) {
    for (const double sure : run.false_marks) is_number(sure);
    for (const auto& sure : run.findings)
      if (sure) is_number(*sure);
    if (run.weights.empty()) continue;
    if (run.weights.size() != run.findings.size())
      throw std::invalid_argument("a run has " + std::to_string(run.findings.size()) + " findings and " +
                                  std::to_string(run.weights.size()) + " weights");
    const double sum = std::accumulate(run.weights.begin(), run.weights.end(), 0.0);
    if (!(std::abs(sum - 1) <= 1e-6))
      throw std::invalid_argument("the weights of a run sum to " + std::to_string(sum) + ", not to 1");
  }
}

double told_apart(const std::vector<double>& clean, const std::optional<double>& finding) {
  const double sure = finding.value_or(unmarked);
  double sum = 0;
  for (const double one : clean) sum += one < sure ? 1 : one == sure ? 0.5 : 0;
  return sum;
}

}  // namespace

std::optional<double> figure_of_merit(const std::vector<RatedRun>& runs) {
  check(runs);
  const std::vector<double> clean = surest_on_clean(runs);
  double sum = 0, findings = 0;
  for (const RatedRun& run : runs)
    for (const auto& finding : run.findings) sum += told_apart(clean, finding), findings += 1;
  if (clean.empty() || findings == 0) return std::nullopt;
  return sum / (static_cast<double>(clean.size()) * findings);
}

std::optional<double> weighted_figure_of_merit(const std::vector<RatedRun>& runs) {
  check(runs);
  const std::vector<double> clean = surest_on_clean(runs);
  double sum = 0, faulty = 0;
  for (const RatedRun& run : runs) {
    if (run.findings.empty()) continue;
    faulty += 1;
    for (std::size_t i = 0; i < run.findings.size(); ++i)
      sum += (run.weights.empty() ? 1.0 / static_cast<double>(run.findings.size()) : run.weights[i]) *
             told_apart(clean, run.findings[i]);
  }
  if (clean.empty() || faulty == 0) return std::nullopt;
  return sum / (static_cast<double>(clean.size()) * faulty);
}

}  // namespace haunch::marking
