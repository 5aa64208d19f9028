// SPDX-License-Identifier: Apache-2.0
// A question, or the test fails in words.
#pragma once

#include <stdexcept>

#include "drills/make.hpp"

namespace haunch::drills::test {

/// `measured`: as it would be asked of a person; else quicker, without a look at whether it shows.
inline Item made(const Wanted& wanted, bool measured = true) {
  auto item = make(wanted, {grading::Scheme::shipped(), 0, measured});
  if (!item) throw std::runtime_error(base::to_line(item.problems().front()));
  return std::move(item).value();
}

}  // namespace haunch::drills::test
