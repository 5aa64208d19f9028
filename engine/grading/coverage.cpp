// SPDX-License-Identifier: Apache-2.0
// Does a record show its whole pipe? What was not seen has no class, and is not free of defects either.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "grading/along.hpp"

namespace haunch::grading {
namespace {

using coding::Observation;

std::string at(const Observation& seen) {
  return seen.distance_m.value ? " at " + base::show_number(*seen.distance_m.value) + " m" : "";
}

}  // namespace

std::vector<std::string> not_inspected(const coding::Record& record) {
  if (record.observations.empty()) return {"nothing was observed"};
  std::vector<std::string> why;
  bool start = false, finish = false;
  std::optional<double> reached;
  for (const std::size_t index : order_along(record)) {
    const Observation& seen = record.observations[index];
    start = start || seen.code == "BCD";
    finish = finish || seen.code == "BCE";
    if (seen.code == "BDC") why.push_back("the inspection was abandoned (BDC)" + at(seen));
    // The end of a stretch without view is told with its begin.
    if (seen.code == "BDG" && (seen.stretch.empty() || seen.stretch.front() == 'A'))
      why.push_back("the view was lost (BDG)" + at(seen));
    if (seen.distance_m.value)
      reached = std::max(reached.value_or(*seen.distance_m.value), *seen.distance_m.value);
  }
  if (!finish) why.insert(why.begin(), "no finish node (BCE) is recorded");
  if (!start) why.insert(why.begin(), "no start node (BCD) is recorded");
  // As much as a record may run past its stated length: the length is an expectation, and cables stretch.
  const auto length_m = record.header_number("ABQ");
  if (length_m && *length_m > 0 && reached && *length_m - *reached > std::max(1.0, 0.02 * *length_m))
    why.push_back("the record reaches " + base::show_number(*reached) + " m of the " +
                  base::show_number(*length_m) + " m stated (ABQ)");
  return why;
}

}  // namespace haunch::grading
