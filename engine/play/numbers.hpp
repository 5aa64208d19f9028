// SPDX-License-Identifier: Apache-2.0
// What the numbers of a typed line say: distance, sizes, clock, which stretch.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "play/tokens.hpp"

namespace haunch::play {

struct Size {
  double value = 0;
  std::string unit;   ///< "mm", "%", "degree", "count"; empty for a bare number
  std::string typed;  ///< "14 mm"
};

struct Numbers {
  std::optional<double> distance_m;
  std::vector<Size> sizes;
  std::optional<int> clock_from, clock_to;
  std::string stretch;             ///< "A1", "B2" where typed as such
  std::vector<std::size_t> bare;   ///< tokens that are numbers and nothing else yet
  std::vector<std::string> wrong;  ///< what could not be taken, in words
};

/// Marks the tokens it uses.
Numbers read_numbers(std::vector<Token>& tokens, base::LengthUnit unit);

}  // namespace haunch::play
