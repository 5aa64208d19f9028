// SPDX-License-Identifier: Apache-2.0
// Records as JSON, one after another: one stands alone, several in a list. Inside exchange.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "coding/record.hpp"

namespace haunch::exchange {

class JsonWriter {
 public:
  /// Of the remarks, as #A2 names it; nothing where it is not known. Stands before the records, because
  /// whoever reads them one after another needs it first.
  explicit JsonWriter(std::optional<std::string> language = {}) : language_(std::move(language)) {}

  void add(const coding::Record& record);
  void end();

  std::string out;

 private:
  std::optional<std::string> language_;
  std::size_t count_ = 0;
  coding::Record first_;  ///< until it is known whether there is another
};

}  // namespace haunch::exchange
