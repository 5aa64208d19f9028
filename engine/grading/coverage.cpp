// SPDX-License-Identifier: Apache-2.0
// Does a record show its whole pipe? What was not seen has no class, and is not free of defects either.
#include <algorithm>

#include "grading/along.hpp"

namespace haunch::grading {

std::vector<std::string> not_inspected(const coding::Record& record) {
  if (record.observations.empty()) return {"nothing was observed"};
  std::vector<std::string> why;
  bool start = false, finish = false, abandoned = false, blind = false;
  std::optional<double> reached;
  for (const coding::Observation& seen : record.observations) {
    start = start || seen.code == "BCD";
    finish = finish || seen.code == "BCE";
    abandoned = abandoned || seen.code == "BDC";
    blind = blind || seen.code == "BDG";
    if (seen.distance_m.value)
      reached = std::max(reached.value_or(*seen.distance_m.value), *seen.distance_m.value);
  }
  if (!start) why.emplace_back("no start node (BCD) is recorded");
  if (!finish) why.emplace_back("no finish node (BCE) is recorded");
  if (abandoned) why.emplace_back("the inspection was abandoned (BDC)");
  if (blind) why.emplace_back("the view was lost on the way (BDG)");
  // As much as a record may run past its stated length: the length is an expectation, and cables stretch.
  const auto length_m = record.header_number("ABQ");
  if (length_m && *length_m > 0 && reached && *length_m - *reached > std::max(1.0, 0.02 * *length_m))
    why.emplace_back("the record ends well short of the length stated (ABQ)");
  return why;
}

}  // namespace haunch::grading
