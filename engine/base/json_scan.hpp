// SPDX-License-Identifier: Apache-2.0
// A reading of JSON text that keeps only places: where each value and each key stands, and where and
// why the text stops being JSON, in words. Inside base; others use json_document.hpp.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/result.hpp"

namespace haunch::base {

/// Deeper nesting than any of our files needs; stops a hostile file from using up the stack.
inline constexpr int json_depth_limit = 64;

struct JsonScan {
  std::unordered_map<std::string, std::size_t> values;  ///< JSON pointer -> byte where the value begins
  std::unordered_map<std::string, std::size_t> keys;    ///< JSON pointer -> byte where its key begins
  Problems problems;  ///< at most one breach of the grammar; every key given twice, every number too large
};
JsonScan scan_json(std::string_view text, const Place& begins);
inline JsonScan scan_json(std::string_view text, const std::string& file_name) {
  return scan_json(text, Place{file_name, 1, 1});
}

/// Adds a key or an index to a JSON pointer, escaped.
std::string pointer_to(const std::string& parent, std::string_view key);

/// Line and column (in characters, not bytes) of a byte; a byte order mark counts for nothing.
class LinePlaces {
 public:
  LinePlaces(std::string_view text, std::string file_name)
      : LinePlaces(text, Place{std::move(file_name), 1, 1}) {}
  /// The text is a part of its file and begins there.
  LinePlaces(std::string_view text, Place begins);
  Place at(std::size_t byte) const;

 private:
  int characters_before(std::size_t byte) const;

  std::string_view text_;
  Place begins_;
  std::vector<std::size_t> line_starts_;
  std::vector<int> characters_before_;  ///< at every 256th byte: a file may be one long line
};

}  // namespace haunch::base
