// SPDX-License-Identifier: Apache-2.0
// How a typed line could sensibly go on.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "play/entry.hpp"
#include "play/reading.hpp"

namespace haunch::play {

inline constexpr std::size_t most_completions = 8;

/// Fills entry.completions and their meanings from what has been understood so far. `unread` counts the
/// words of a line that are not understood: a completion never adds one.
void complete(Entry& entry, const std::string& typed, const Line& line, const Reading& reading,
              const Words& words, const coding::CodeList& list,
              const std::function<std::size_t(const std::string&)>& unread);

}  // namespace haunch::play
