// SPDX-License-Identifier: Apache-2.0
// Which code a typed line names: by a bare code, or by the phrases found in it.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "play/tokens.hpp"
#include "play/words.hpp"

namespace haunch::play {

/// A phrase that stands in the line.
struct Said {
  const Phrase* phrase = nullptr;
  std::size_t first = 0, last = 0;  ///< tokens, both inclusive
  std::string typed;
};

struct Reading {
  const coding::CodeEntry* code = nullptr;  ///< null: none, or more than one
  bool bare = false;                        ///< the code was typed as a code
  std::string ch1, ch2;
  std::string usual_ch1, usual_ch2;  ///< to take where nothing else says it
  std::vector<std::string> which;    ///< questions: what was said leaves more than one answer
  std::vector<std::string> wrong;    ///< words that do not fit, with the reason
  std::vector<Said> said;
};

/// Marks the tokens it uses.
Reading read_code(std::vector<Token>& tokens, const Words& words, const coding::CodeList& list);

/// What a phrase says about a code: what it means by itself, else what it adds.
std::vector<Meaning> about(const Phrase& phrase, const std::string& code);

}  // namespace haunch::play
