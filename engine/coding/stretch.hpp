// SPDX-License-Identifier: Apache-2.0
// The continuous-observation mark: "A1" begins stretch 1, "C1" changes it, "B1" ends it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace haunch::coding {

struct StretchMark {
  char kind = 'A';     ///< 'A', 'B' or 'C'
  std::string number;  ///< digits without leading zeros; a number can be longer than an int
  bool operator==(const StretchMark&) const = default;
};

/// Nothing for an empty text or one of another form.
inline std::optional<StretchMark> stretch_mark(std::string_view text) {
  if (text.size() < 2 || text[0] < 'A' || text[0] > 'C') return {};
  if (text.substr(1).find_first_not_of("0123456789") != std::string_view::npos) return {};
  const auto first = text.find_first_not_of('0', 1);
  return StretchMark{text[0], first == std::string_view::npos ? "0" : std::string(text.substr(first))};
}

}  // namespace haunch::coding
