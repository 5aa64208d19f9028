// SPDX-License-Identifier: Apache-2.0
// Records as JSON, in and out. The schema has checked types before anything is read here.
#include "exchange/record_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "exchange/rest_of_record.hpp"

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

std::optional<int> whole(const Json& from, const char* key) {
  const auto found = from.find(key);
  if (found == from.end() || !found->is_number_integer()) return {};
  return found->get<int>();
}

std::string header_text(const Json& value) {
  if (value.is_string()) return value.get<std::string>();
  return value.is_number() ? coding::Number(value.get<double>()).show() : std::string();
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
  for (const auto& [code, value] : part(from, "header").items()) {
    if (!value.is_array()) {
      record.header.push_back({code, header_text(value)});
      continue;
    }
    for (const Json& one : value) record.header.push_back({code, header_text(one)});
  }
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
  if (!named || !base::nearest_word(kind, {"record", "records"}).empty()) return {};
  return document.problem("/kind", "this is a file of the kind \"" + kind + "\", not a record",
                          "\"record\" or \"records\"");
}

Json number_json(const coding::Number& number) {
  if (number.value && std::isfinite(*number.value)) {
    if (*number.value == std::floor(*number.value) && std::abs(*number.value) < 1e15)
      return static_cast<std::int64_t>(*number.value);
    return *number.value;
  }
  return number.text.empty() ? Json() : Json(number.text);
}

Json hour_json(const std::optional<int>& hour) { return hour ? Json(*hour) : Json(); }

Json observation_json(const coding::Observation& one) {
  Json out;
  if (!one.id.empty()) out["id"] = one.id;
  out["distance_m"] = number_json(one.distance_m);
  out["code"] = one.code;
  out["ch1"] = one.ch1;
  out["ch2"] = one.ch2;
  out["q1"] = number_json(one.q1);
  out["q2"] = number_json(one.q2);
  out["clock_from"] = hour_json(one.clock_from);
  out["clock_to"] = hour_json(one.clock_to);
  out["at_joint"] = one.at_joint;
  out["stretch"] = one.stretch;
  out["remark"] = one.remark;
  if (!one.manhole_place.empty()) out["manhole_place"] = one.manhole_place;
  if (!one.photo.empty()) out["photo"] = one.photo;
  if (!one.video.empty()) out["video"] = one.video;
  for (const auto& [column, cell] : one.extra) out["extra"].push_back(Json::array({column, cell}));
  if (!one.reason.empty()) out["reason"] = one.reason;
  return out;
}

Json header_json(const std::vector<coding::HeaderField>& header) {
  Json out = Json::object();
  for (const coding::HeaderField& field : header) {
    if (!out.contains(field.code)) {
      out[field.code] = field.value;
      continue;
    }
    if (!out[field.code].is_array()) out[field.code] = Json::array({out[field.code]});
    out[field.code].push_back(field.value);
  }
  return out;
}

Json judgement_json(const coding::Judgement& judgement) {
  Json out = Json::object();
  if (!judgement.classes.empty()) out["classes"] = Json::array();
  for (const coding::GivenClasses& one : judgement.classes) {
    Json classes = Json::object();
    for (const auto& [goal, value] : one.classes) classes[goal] = value;
    out["classes"].push_back({{"observation", one.observation}, {"classes", classes}});
  }
  if (judgement.object_class) out["object_class"] = *judgement.object_class;
  if (judgement.action) out["action"] = coding::show(*judgement.action);
  return out;
}

std::string line(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

/// One line an observation: people read these files, and compare them line by line.
void write_list(std::string& out, const std::string& indent, const char* key, const std::vector<Json>& rows) {
  out += indent + "  \"" + key + "\": [";
  for (std::size_t i = 0; i < rows.size(); ++i)
    out += (i == 0 ? "\n" : ",\n") + indent + "    " + line(rows[i]);
  out += rows.empty() ? "]" : "\n" + indent + "  ]";
}

std::string record_text(const coding::Record& record, const std::string& indent) {
  std::string out = indent + "{\n" + indent + "  \"kind\": \"record\",\n" + indent + "  \"edition\": 1,\n";
  if (!record.header.empty()) out += indent + "  \"header\": " + line(header_json(record.header)) + ",\n";
  std::vector<Json> rows;
  for (const coding::Observation& one : record.observations) rows.push_back(observation_json(one));
  write_list(out, indent, "observations", rows);
  if (record.judgement) out += ",\n" + indent + "  \"judgement\": " + line(judgement_json(*record.judgement));
  if (!record.not_visible.empty()) {
    rows.clear();
    for (const coding::NotVisible& one : record.not_visible)
      rows.push_back({{"observation", one.observation}, {"why", one.why}});
    out += ",\n";
    write_list(out, indent, "not_visible", rows);
  }
  return out + "\n" + indent + "}";
}

}  // namespace

base::Result<std::vector<PlacedRecord>> records_from_json(const std::string& json_text,
                                                          const std::string& file_name) {
  auto document = base::JsonDocument::parse(json_text, file_name);
  if (!document) return document.problems();
  if (auto other = other_kind(document.value())) return *other;
  const auto faults = document.value().faults("record");
  Json root = Json::parse(json_text);
  base::Problems problems;
  for (const base::JsonDocument::Fault& fault : faults) {
    problems.push_back(fault.problem);
    if (fault.value && fault.pointer.empty()) return problems;
    // What is refused is read as if it were not there, and the rest is looked at all the same.
    if (const Json::json_pointer at(fault.pointer); fault.value && root.contains(at)) root[at] = nullptr;
  }
  std::vector<PlacedRecord> records;
  std::vector<std::string> pointers;
  if (!root.contains("records")) pointers.emplace_back();
  for (std::size_t i = 0; i < part(root, "records").size(); ++i)
    pointers.push_back("/records/" + std::to_string(i));
  for (const std::string& pointer : pointers)
    records.push_back(record_from(root[Json::json_pointer(pointer)], document.value(), pointer, problems));
  if (problems.empty()) return records;
  for (std::size_t i = 0; i < records.size(); ++i)
    for (base::Problem& more : problems_of_the_rest(records[i], refused_in(pointers[i], faults), file_name))
      problems.push_back(std::move(more));
  std::stable_sort(problems.begin(), problems.end(), [](const base::Problem& a, const base::Problem& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  return problems;
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

std::string record_to_json(const coding::Record& record) { return record_text(record, "") + "\n"; }

std::string records_to_json(const std::vector<coding::Record>& records) {
  if (records.size() == 1) return record_to_json(records.front());
  std::string out = "{\n  \"kind\": \"records\",\n  \"edition\": 1,\n  \"records\": [";
  for (std::size_t i = 0; i < records.size(); ++i)
    out += (i == 0 ? "\n" : ",\n") + record_text(records[i], "    ");
  return out + (records.empty() ? "]" : "\n  ]") + "\n}\n";
}

}  // namespace haunch::exchange
