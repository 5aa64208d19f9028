// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace haunch::statistics {

struct Interval {
  double low = 0;
  double high = 0;
  bool operator==(const Interval&) const = default;
};

}  // namespace haunch::statistics
