// SPDX-License-Identifier: Apache-2.0
// Records from JSON. The schema has checked types before anything is read here.
#include "exchange/record_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "exchange/rest_of_record.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace {

using Json = nlohmann::ordered_json;  // headers keep the order of the file

std::string text(const Json& from, const char* key) {
  const auto found = from.find(key);
  return found != from.end() && found->is_string() ? found->get<std::string>() : std::string();
}

coding::Number number(const Json& from, const char* key) {
  const auto found = from.find(key);
  if (found == from.end() || found->is_null()) return {};
  if (found->is_string()) return coding::Number::from_text(found->get<std::string>());
  return found->get<double>();
}

/// Beside a number its text as another file has it, which counts as long as it says the same.
void take_text(const Json& texts, const char* key, coding::Number& into) {
  const auto found = texts.find(key);
  if (!into.value || found == texts.end() || !found->is_string()) return;
  auto written = coding::Number::from_text(found->get<std::string>());
  if (written.value == into.value) into = std::move(written);
}

std::optional<int> whole(const Json& from, const char* key) {
  const auto found = from.find(key);
  if (found == from.end() || !found->is_number_integer()) return {};
  return found->get<int>();
}

std::string header_text(const Json& value) {
  if (value.is_string()) return value.get<std::string>();
  return value.is_number() ? coding::Number(value.get<double>()).show() : std::string();
}

/// `at` is where the header stands.
void header_from(const Json& from, const base::JsonDocument& document, const Json::json_pointer& at,
                 PlacedRecord& placed) {
  const auto add = [&](const std::string& code, const Json& value, const Json::json_pointer& where) {
    placed.record.header.push_back({code, header_text(value)});
    placed.places.header.push_back(document.place(where.to_string()));
  };
  if (from.is_array()) {
    for (std::size_t i = 0; i < from.size(); ++i)
      if (from[i].is_array() && from[i].size() == 2 && from[i][0].is_string())
        add(from[i][0].get<std::string>(), from[i][1], at / i / 1);
    return;
  }
  for (const auto& [code, value] : from.items()) {
    if (!value.is_array()) add(code, value, at / code);
    for (std::size_t i = 0; value.is_array() && i < value.size(); ++i) add(code, value[i], at / code / i);
  }
}

const Json& part(const Json& from, const char* key) {
  static const Json none;
  const auto found = from.find(key);
  return found == from.end() ? none : *found;
}

coding::Observation observation_from(const Json& from) {
  coding::Observation one;
  one.id = text(from, "id");
  one.distance_m = number(from, "distance_m");
  one.code = text(from, "code");
  one.ch1 = text(from, "ch1");
  one.ch2 = text(from, "ch2");
  one.q1 = number(from, "q1");
  one.q2 = number(from, "q2");
  const Json& texts = part(from, "as_written");
  take_text(texts, "distance_m", one.distance_m);
  take_text(texts, "q1", one.q1);
  take_text(texts, "q2", one.q2);
  one.clock_from = whole(from, "clock_from");
  one.clock_to = whole(from, "clock_to");
  one.at_joint = part(from, "at_joint").is_boolean() && part(from, "at_joint").get<bool>();
  one.stretch = text(from, "stretch");
  one.remark = text(from, "remark");
  one.manhole_place = text(from, "manhole_place");
  one.photo = text(from, "photo");
  one.video = text(from, "video");
  one.reason = text(from, "reason");
  for (const Json& pair : part(from, "extra"))
    if (pair.is_array() && pair.size() == 2 && pair[0].is_string() && pair[1].is_string())
      one.extra.emplace_back(pair[0].get<std::string>(), pair[1].get<std::string>());
  return one;
}

coding::GivenClasses classes_from(const std::string& observation, const Json& from) {
  coding::GivenClasses given{observation, {}};
  for (const auto& [goal, value] : from.items())
    if (value.is_number_integer()) given.classes[goal] = value.get<int>();
  return given;
}

coding::Judgement judgement_from(const Json& from, const base::JsonDocument& document,
                                 const std::string& pointer, std::vector<base::Place>& places) {
  coding::Judgement judgement;
  const Json& classes = part(from, "classes");
  if (classes.is_array())
    for (std::size_t i = 0; i < classes.size(); ++i) {
      judgement.classes.push_back(classes_from(text(classes[i], "observation"), part(classes[i], "classes")));
      places.push_back(document.place(pointer + "/classes/" + std::to_string(i) + "/observation"));
    }
  if (classes.is_object())
    for (const auto& [observation, one] : classes.items()) {
      judgement.classes.push_back(classes_from(observation, one));
      places.push_back(document.key_place(pointer + "/classes", observation));
    }
  judgement.object_class = whole(from, "object_class");
  judgement.action = coding::action_from(text(from, "action"));
  return judgement;
}

PlacedRecord record_from(const Json& from, const base::JsonDocument& document, const std::string& pointer,
                         base::Problems& problems) {
  PlacedRecord placed;
  coding::Record& record = placed.record;
  header_from(part(from, "header"), document, Json::json_pointer(pointer) / "header", placed);
  const Json& observations = part(from, "observations");
  std::unordered_map<std::string, std::size_t> taken;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const std::string here = pointer + "/observations/" + std::to_string(i);
    record.observations.push_back(observation_from(observations[i]));
    placed.places.observations.push_back(document.place(here));
    const std::string& id = record.observations.back().id;
    if (id.empty()) continue;
    const auto [first, is_new] = taken.emplace(id, i);
    if (!is_new)
      problems.push_back(document.problem(here + "/id",
                                          "the id \"" + id + "\" is taken by the observation in line " +
                                              std::to_string(placed.places.observations[first->second].line),
                                          "an id of its own, or none"));
  }
  if (part(from, "judgement").is_object())
    record.judgement =
        judgement_from(part(from, "judgement"), document, pointer + "/judgement", placed.places.classes);
  const Json& hidden = part(from, "not_visible");
  for (std::size_t i = 0; i < hidden.size(); ++i) {
    record.not_visible.push_back({text(hidden[i], "observation"), text(hidden[i], "why")});
    placed.places.not_visible.push_back(
        document.place(pointer + "/not_visible/" + std::to_string(i) + "/observation"));
  }
  coding::number_observations(record);
  return placed;
}

/// A file that is plainly of another kind is not held against the schema of records key by key.
std::optional<base::Problem> other_kind(const base::JsonDocument& document) {
  const nlohmann::json& root = document.root();
  if (!root.is_object()) return {};
  const auto found = root.find("kind");
  const bool named = found != root.end() && found->is_string();
  const std::string kind = named ? found->get<std::string>() : std::string();
  if (kind == "scenario" || (!named && root.contains("pipe") && !root.contains("observations")))
    return document.problem(named ? "/kind" : "", "this is a scenario, not a record",
                            "a record; `haunch truth SCENARIO --json -o FILE` makes one of a scenario");
  if (!named && !root.empty()) {
    static const std::vector<std::string> ours{"kind",      "edition",     "header", "observations",
                                               "judgement", "not_visible", "records"};
    std::vector<std::string> keys;
    for (const auto& [key, value] : root.items()) {
      if (!base::nearest_word(key, ours).empty()) return {};
      if (keys.size() < 5) keys.push_back(key);
    }
    return document.problem("",
                            "this is some other JSON, not a record: it has \"" + base::join(keys, "\", \"") +
                                "\"" + (root.size() > keys.size() ? " and more" : ""),
                            "a record, with \"observations\"");
  }
  if (!named || !base::nearest_word(kind, {"record", "records"}).empty()) return {};
  return document.problem("/kind", "this is a file of the kind \"" + kind + "\", not a record",
                          "\"record\" or \"records\"");
}

}  // namespace

JsonRecords json_records(const std::string& json_text, const base::Place& begins) {
  JsonRecords read;
  auto document = base::JsonDocument::parse(json_text, begins);
  if (!document) {
    read.problems = document.problems();
    return read;
  }
  if (auto other = other_kind(document.value())) {
    read.problems = {*other};
    return read;
  }
  const auto faults = document.value().faults("record");
  Json root = Json::parse(json_text);
  base::Problems& problems = read.problems;
  for (const base::JsonDocument::Fault& fault : faults) {
    problems.push_back(fault.problem);
    if (fault.value && fault.pointer.empty()) return read;
    // What is refused is read as if it were not there, and the rest is looked at all the same.
    if (const Json::json_pointer at(fault.pointer); fault.value && root.contains(at)) root[at] = nullptr;
  }
  std::string language = text(root, "language");
  // A line of exchange text holds neither.
  std::replace_if(
      language.begin(), language.end(), [](char c) { return c == '\r' || c == '\n' || c == 0; }, ' ');
  if (language = base::trim(language); !language.empty()) read.language = std::move(language);
  std::vector<std::string> pointers;
  if (!root.contains("records")) pointers.emplace_back();
  for (std::size_t i = 0; i < part(root, "records").size(); ++i)
    pointers.push_back("/records/" + std::to_string(i));
  for (const std::string& pointer : pointers)
    read.records.push_back(
        record_from(root[Json::json_pointer(pointer)], document.value(), pointer, problems));
  if (problems.empty()) return read;
  for (std::size_t i = 0; i < read.records.size(); ++i)
    for (base::Problem& more : problems_of_the_rest(read.records[i], refused_in(pointers[i], faults), begins))
      problems.push_back(std::move(more));
  std::stable_sort(problems.begin(), problems.end(), [](const base::Problem& a, const base::Problem& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  return read;
}

base::Result<std::vector<PlacedRecord>> records_from_json(const std::string& json_text,
                                                          const std::string& file_name) {
  return all_of(*walk_json(Bytes::over(json_text), file_name));
}

base::Result<PlacedRecord> record_from_json(const std::string& json_text, const std::string& file_name) {
  auto records = records_from_json(json_text, file_name);
  if (!records) return records.problems();
  if (records.value().size() != 1)
    return base::Problem{{file_name, 1, 1},
                         base::Severity::error,
                         "the file holds " + std::to_string(records.value().size()) + " records",
                         "one record",
                         {}};
  return std::move(records.value().front());
}

}  // namespace haunch::exchange
