// SPDX-License-Identifier: Apache-2.0
// What a trainee types, as an observation: a bare code ("BAJ B 14mm 10-2") or plain words in any
// order ("offset joint 14 mm 10 to 2").
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/observation.hpp"

namespace haunch::play {

struct Entry {
  coding::Observation observation;   ///< as far as understood; no distance unless one was typed ("@12.4").
                                     ///< Stretch "A" or "B" alone: the number is found when it is logged
  std::string sentence;              ///< echo in plain words of what will be stored
  std::vector<std::string> missing;  ///< what is still needed, in words; empty when complete
  std::vector<std::string>
      not_understood;  ///< words that were not used, each with the reason where there is one
  std::vector<std::string> completions;          ///< whole lines that would continue what is typed
  std::vector<std::string> completion_meanings;  ///< what each of them adds, in words; as many as completions
  /// The end of a run needs no code: it says again what the begin said.
  bool usable() const {
    const bool ends = !observation.stretch.empty() && observation.stretch.front() == 'B';
    return (!observation.code.empty() || ends) && missing.empty() && not_understood.empty();
  }
};

/// Words and phrases come from content/coding/words.json.
Entry read_entry(const std::string& typed, const coding::CodeList& list, base::LengthUnit unit);

}  // namespace haunch::play
