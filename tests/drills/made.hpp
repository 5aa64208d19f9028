// SPDX-License-Identifier: Apache-2.0
// A question, or the test fails in words.
#pragma once

#include <stdexcept>

#include "drills/make.hpp"

namespace haunch::drills::test {

inline Item made(const Wanted& wanted) {
  auto item = make(wanted);
  if (!item) throw std::runtime_error(base::to_line(item.problems().front()));
  return std::move(item).value();
}

}  // namespace haunch::drills::test
