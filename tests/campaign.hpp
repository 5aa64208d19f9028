// SPDX-License-Identifier: Apache-2.0
// How long a test of cases by chance goes on: every day a few, fifty times as many in a campaign
// (`tools/test --long`).
#pragma once

#include <cstdlib>
#include <string_view>

namespace haunch::campaign {

inline int rounds(int every_day) {
  const char* const asked = std::getenv("HAUNCH_LONG");
  return asked != nullptr && std::string_view(asked) == "1" ? 50 * every_day : every_day;
}

}  // namespace haunch::campaign
