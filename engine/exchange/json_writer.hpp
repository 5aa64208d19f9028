// SPDX-License-Identifier: Apache-2.0
// Records as JSON, one after another: one stands alone, several in a list. Inside exchange.
#pragma once

#include <string>

#include "coding/record.hpp"

namespace haunch::exchange {

class JsonWriter {
 public:
  void add(const coding::Record& record);
  void end();

  std::string out;

 private:
  std::size_t count_ = 0;
  coding::Record first_;  ///< until it is known whether there is another
};

}  // namespace haunch::exchange
