// SPDX-License-Identifier: Apache-2.0
#include "coding/doubtful.hpp"

namespace haunch::coding {

bool doubts_the_size(Rule rule) {
  switch (rule) {
    case Rule::size_range:
    case Rule::size_impossible:
    case Rule::size_over_bore:
    case Rule::size_over_length:
    case Rule::connection_over_bore:
    case Rule::joint_angle:
      return true;
    default:
      return false;
  }
}

std::vector<DoubtfulSize> doubtful_sizes(const std::vector<Remark>& found) {
  std::vector<DoubtfulSize> doubtful;
  for (const Remark& remark : found) {
    if (!doubts_the_size(remark.rule) || remark.quantification == 0) continue;
    // The name of the row stands before it; a code that is known holds no colon.
    const std::string& what = remark.problem.what;
    const std::size_t name = what.find(": ");
    doubtful.push_back({remark.observation, remark.quantification,
                        name == std::string::npos ? what : what.substr(name + 2)});
  }
  return doubtful;
}

std::vector<DoubtfulSize> doubtful_sizes(const Record& record, const CodeList& list) {
  return doubtful_sizes(remarks_on(record, list, {}));
}

}  // namespace haunch::coding
