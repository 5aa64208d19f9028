// SPDX-License-Identifier: Apache-2.0
// Sizes that can hardly be. Whoever decides something by one has to say so.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "coding/validate.hpp"

namespace haunch::coding {

struct DoubtfulSize {
  std::size_t observation = 0;  ///< index
  int quantification = 1;       ///< 1 or 2
  std::string why;              ///< "quantification 1 is 900 %", "200 mm wide in a pipe of 150 mm"
  bool operator==(const DoubtfulSize&) const = default;
};

/// Rules by which a size is doubted: it is below nothing, a share of more than the whole, larger than the
/// bore, longer than the pipe, or an angle that no joint holds (size-range, size-impossible, size-over-bore,
/// size-over-length, connection-over-bore, joint-angle).
bool doubts_the_size(Rule rule);

/// Those among what was found, in its order.
std::vector<DoubtfulSize> doubtful_sizes(const std::vector<Remark>& found);
/// The same of a Record that was not looked through yet.
std::vector<DoubtfulSize> doubtful_sizes(const Record& record, const CodeList& list);

}  // namespace haunch::coding
