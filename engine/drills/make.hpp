// SPDX-License-Identifier: Apache-2.0
// Makes questions.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "drills/item.hpp"
#include "grading/grade.hpp"

namespace haunch::drills {

/// Main codes that a kind of question can be asked of; for kinds that are about no code of the person's
/// choosing (find bottom, water depth) none or the one that it is about.
std::vector<std::string> codes_for(Kind kind);
/// Codes that are never asked about, each with the reason.
std::vector<std::pair<std::string, std::string>> not_asked();

struct Making {
  const grading::Scheme& scheme = grading::Scheme::shipped();
  int threads = 0;  ///< that draw what is measured; the outcome is the same on any number
  /// False: whether it shows plainly is not looked at, and nothing is measured. For counting questions; such
  /// a one is not asked of anybody.
  bool measured = true;
};
/// A problem, in words, where the code cannot be asked about in that way or no picture of it came out.
base::Result<Item> make(const Wanted& wanted, const Making& making = {});

}  // namespace haunch::drills
