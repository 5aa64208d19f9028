// SPDX-License-Identifier: Apache-2.0
// JSON text with places, and its check against a schema: valijson decides, schema_words explains.
#include "base/json_document.hpp"

#include <algorithm>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <stdexcept>

#define VALIJSON_USE_EXCEPTIONS 1
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "base/files.hpp"
#include "base/json_scan.hpp"
#include "base/schema_words.hpp"

namespace haunch::base {
namespace {

struct CompiledSchema {
  nlohmann::json source;
  valijson::Schema schema;
};

/// Compiled once for each text of a schema; the file is read each time, so an edited one counts.
std::shared_ptr<const CompiledSchema> schema_named(std::string_view name) {
  static std::mutex guard;
  static std::map<std::string, std::shared_ptr<const CompiledSchema>> known;
  const auto path = content_dir() / "schemas" / (std::string(name) + ".schema.json");
  const auto bytes = read_file(path);
  if (!bytes) throw std::runtime_error("the content folder is damaged: " + to_line(bytes.problems().front()));
  const std::lock_guard lock(guard);
  auto& slot = known[bytes.value()];
  if (slot) return slot;
  try {
    auto compiled = std::make_shared<CompiledSchema>();
    compiled->source = nlohmann::json::parse(bytes.value());
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(compiled->source), compiled->schema);
    slot = std::move(compiled);
  } catch (const std::exception& error) {
    throw std::runtime_error("the schema " + path.string() + " cannot be used: " + error.what());
  }
  return slot;
}

/// valijson names a place as "<root>", "[faults]", "[2]".
std::string pointer_of(const std::vector<std::string>& context) {
  std::string pointer;
  for (const std::string& part : context)
    if (part.size() > 2 && part.front() == '[')
      pointer = pointer_to(pointer, part.substr(1, part.size() - 2));
  return pointer;
}

bool before(const Problem& a, const Problem& b) {
  return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
}

}  // namespace

struct JsonDocument::Inside {
  Inside(const std::string& given, const Place& begins)
      : text(given), lines(text, begins), scan(scan_json(text, begins)) {}
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;

  Place key_place(const std::string& pointer) const {
    const auto found = scan.keys.find(pointer);
    return lines.at(found == scan.keys.end() ? 0 : found->second);
  }

  std::string text;
  LinePlaces lines;
  JsonScan scan;
  nlohmann::json root;
};

JsonDocument::JsonDocument(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
JsonDocument::JsonDocument(JsonDocument&&) noexcept = default;
JsonDocument& JsonDocument::operator=(JsonDocument&&) noexcept = default;
JsonDocument::~JsonDocument() = default;

Result<JsonDocument> JsonDocument::parse(const std::string& text, const std::string& file_name) {
  return parse(text, Place{file_name, 1, 1});
}

Result<JsonDocument> JsonDocument::parse(const std::string& text, const Place& begins) {
  auto inside = std::make_unique<Inside>(text, begins);
  if (!inside->scan.problems.empty()) {
    Problems problems = std::move(inside->scan.problems);
    std::stable_sort(problems.begin(), problems.end(), before);
    return problems;
  }
  try {
    inside->root = nlohmann::json::parse(text);
  } catch (const nlohmann::json::parse_error& error) {
    return Problem{inside->lines.at(error.byte > 0 ? error.byte - 1 : 0),
                   Severity::error,
                   "this is not JSON",
                   "JSON",
                   {}};
  } catch (const nlohmann::json::exception&) {
    return Problem{inside->lines.at(0), Severity::error, "this cannot be read as JSON", "JSON", {}};
  }
  return JsonDocument(std::move(inside));
}

Result<JsonDocument> JsonDocument::read(const std::filesystem::path& path, std::string_view schema_name) {
  const auto bytes = read_file(path);
  if (!bytes) return bytes.problems();
  return read_text(bytes.value(), path.string(), schema_name);
}

Result<JsonDocument> JsonDocument::read_text(const std::string& text, const std::string& file_name,
                                             std::string_view schema_name) {
  auto parsed = parse(text, file_name);
  if (!parsed) return parsed;
  Problems problems = parsed.value().check(schema_name);
  if (!problems.empty()) return problems;
  return parsed;
}

const nlohmann::json& JsonDocument::root() const { return inside_->root; }

Place JsonDocument::place(std::string_view pointer) const {
  std::string at(pointer);
  for (;;) {
    const auto found = inside_->scan.values.find(at);
    if (found != inside_->scan.values.end()) return inside_->lines.at(found->second);
    const auto slash = at.rfind('/');
    if (slash == std::string::npos) return inside_->lines.at(0);
    at.resize(slash);
  }
}

Place JsonDocument::key_place(const std::string& parent, std::string_view key) const {
  return inside_->key_place(pointer_to(parent, key));
}

Problem JsonDocument::problem(std::string_view pointer, std::string what, std::string expected,
                              std::string suggestion) const {
  return {place(pointer), Severity::error, std::move(what), std::move(expected), std::move(suggestion)};
}

Problems JsonDocument::check(std::string_view schema_name) const {
  Problems problems;
  for (Fault& fault : faults(schema_name)) problems.push_back(std::move(fault.problem));
  return problems;
}

std::vector<JsonDocument::Fault> JsonDocument::faults(std::string_view schema_name) const {
  const auto compiled = schema_named(schema_name);
  std::vector<Fault> faults;
  for (const Breach& breach : breaches(inside_->root, compiled->source)) {
    Fault one{breach.pointer, !breach.at_key && breach.what.find("is missing") == std::string::npos,
              problem(breach.pointer, breach.what, breach.expected, breach.suggestion)};
    if (breach.at_key) one.problem.place = inside_->key_place(breach.pointer);
    const bool told = std::any_of(faults.begin(), faults.end(),
                                  [&](const Fault& other) { return other.problem == one.problem; });
    if (!told) faults.push_back(std::move(one));
  }
  valijson::Validator validator;
  valijson::ValidationResults results;
  const valijson::adapters::NlohmannJsonAdapter target(inside_->root);
  if (!validator.validate(compiled->schema, target, &results) && faults.empty())
    for (const auto& error : results) {
      const std::string pointer = pointer_of(error.context);
      faults.push_back({pointer, true,
                        problem(pointer, error.description,
                                "what the schema " + std::string(schema_name) + " describes")});
    }
  std::stable_sort(faults.begin(), faults.end(),
                   [](const Fault& a, const Fault& b) { return before(a.problem, b.problem); });
  return faults;
}

}  // namespace haunch::base
