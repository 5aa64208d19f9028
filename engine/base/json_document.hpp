// SPDX-License-Identifier: Apache-2.0
// A JSON file whose every value knows its line and column, checked against a JSON Schema.
#pragma once

#include <filesystem>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace haunch::base {

/// A value that may be absent, written as JSON: `or_null<Json>(size)`, where Json is the writer's own kind.
template <class Json, class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

class JsonDocument {
 public:
  /// Problems name the place where the text stops being JSON. A key given twice is a problem.
  static Result<JsonDocument> parse(const std::string& text, const std::string& file_name);
  /// The same for a part of a file, which begins at that place.
  static Result<JsonDocument> parse(const std::string& text, const Place& begins);
  /// Reads, parses and checks against `content/schemas/<schema_name>.schema.json`.
  static Result<JsonDocument> read(const std::filesystem::path& path, std::string_view schema_name);
  /// The same for text already in memory.
  static Result<JsonDocument> read_text(const std::string& text, const std::string& file_name,
                                        std::string_view schema_name);

  JsonDocument(JsonDocument&&) noexcept;
  JsonDocument& operator=(JsonDocument&&) noexcept;
  ~JsonDocument();

  const nlohmann::json& root() const;

  /// Where the value at a JSON pointer ("/faults/2/at_m") stands; for a pointer that does not
  /// exist, where its nearest existing parent stands.
  Place place(std::string_view pointer) const;
  /// Where a key of the object at a pointer stands.
  Place key_place(const std::string& parent, std::string_view key) const;
  /// A problem at that place.
  Problem problem(std::string_view pointer, std::string what, std::string expected,
                  std::string suggestion = {}) const;

  /// Every breach of the schema, each at its place: unknown keys (with the nearest known one),
  /// missing keys, wrong types, values out of range or not in the list.
  Problems check(std::string_view schema_name) const;

  /// The same, with what is wrong: for readers that go on with the rest, to tell all problems at once.
  struct Fault {
    std::string pointer;
    bool value = false;  ///< the value at the pointer is wrong; else a key is, or one is missing there
    Problem problem;
    bool operator==(const Fault&) const = default;
  };
  std::vector<Fault> faults(std::string_view schema_name) const;

 private:
  struct Inside;
  explicit JsonDocument(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::base
