// SPDX-License-Identifier: Apache-2.0
#include "report/unseen.hpp"

#include <algorithm>
#include <cmath>

#include "grading/along.hpp"
#include "report/pipe_pieces.hpp"

namespace haunch::report {
namespace {

constexpr double least_m = 0.1;  ///< of an end that was not reached; ours

bool names(const std::string& reason, const char* code) {
  return reason.find("(" + std::string(code) + ")") != std::string::npos;
}

std::string without_code(std::string reason) {
  const auto at = reason.rfind(" (");
  if (at != std::string::npos && reason.back() == ')') reason.erase(at);
  return reason;
}

}  // namespace

std::vector<Unseen> unseen_stretches(const coding::Record& record) {
  std::vector<Unseen> list;
  for (const coding::Extent& extent : grading::extents_in_any_order(record)) {
    const coding::Observation& first = record.observations[extent.first];
    if (first.code != "BDG" || !first.distance_m.value) continue;
    const double from_m = *first.distance_m.value;
    list.push_back({from_m, record.observations[extent.last].distance_m.value.value_or(from_m), true});
  }
  const Ends ends = ends_of(record);
  const double reached = reached_m(record, ends);
  const bool arrived = std::any_of(record.observations.begin(), record.observations.end(),
                                   [](const coding::Observation& seen) { return seen.code == "BCE"; });
  if (!arrived && ends.finish_known && std::abs(ends.finish_m - reached) > least_m)
    list.push_back({reached, ends.finish_m, false});
  std::sort(list.begin(), list.end(), [&](const Unseen& a, const Unseen& b) {
    return std::pair(std::abs(a.from_m - ends.start_m), a.to_m) <
           std::pair(std::abs(b.from_m - ends.start_m), b.to_m);
  });
  return list;
}

std::vector<std::string> unseen_words(const coding::Record& record, const grading::Grade& grade,
                                      const Measure& measure) {
  std::vector<std::string> said;
  bool blind = false, short_of_end = false;
  for (const Unseen& one : unseen_stretches(record)) {
    const double length_m = std::abs(one.to_m - one.from_m);
    std::string words = length_m > 0 ? "from " + measure.show(one.from_m) + " to " + measure.show(one.to_m) +
                                           " (" + base::show_distance(length_m, measure.unit) + ")"
                                     : "at " + measure.show(one.from_m);
    words += one.blind ? " the camera could not see" : " the camera did not get";
    (one.blind ? blind : short_of_end) = true;
    if (said.size() < 8) said.push_back(std::move(words));
  }
  for (const std::string& reason : grade.not_inspected) {
    if (blind && names(reason, "BDG")) continue;
    if (short_of_end && (names(reason, "BCE") || names(reason, "ABQ"))) continue;
    said.push_back(names(reason, "BCD")   ? "the record does not say that it begins at an end of the pipe"
                   : names(reason, "BCE") ? "the record does not say that the far end was reached"
                   : names(reason, "BDC") ? "the inspection was broken off"
                                          : without_code(reason));
  }
  return said;
}

bool only_blind(const grading::Grade& grade) {
  return grade.not_inspected.size() == 1 && names(grade.not_inspected.front(), "BDG");
}

}  // namespace haunch::report
