// SPDX-License-Identifier: Apache-2.0
// Records as JSON.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "exchange/json_writer.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {
namespace {

using Json = nlohmann::ordered_json;  // headers keep the order of the file

Json number_json(const coding::Number& number) {
  if (number.value && std::isfinite(*number.value)) {
    if (*number.value == std::floor(*number.value) && std::abs(*number.value) < 1e15)
      return static_cast<std::int64_t>(*number.value);
    return *number.value;
  }
  return number.text.empty() ? Json() : Json(number.text);
}

/// The texts of numbers that JSON has another text for: "007", "1.20". Null when there are none.
Json as_written(const coding::Observation& one) {
  Json out;
  const auto keep = [&out](const char* key, const coding::Number& number) {
    if (!number.value || number.text.empty()) return;
    const Json written = number_json(number);
    if (written.is_number() && written.dump() != number.text) out[key] = number.text;
  };
  keep("distance_m", one.distance_m);
  keep("q1", one.q1);
  keep("q2", one.q2);
  return out;
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
  if (Json texts = as_written(one); !texts.is_null()) out["as_written"] = std::move(texts);
  return out;
}

/// Values of one code stand together in an object; where they do not, the header is a list of pairs.
bool is_gathered(const std::vector<coding::HeaderField>& header) {
  for (std::size_t i = 1; i < header.size(); ++i)
    if (header[i].code != header[i - 1].code &&
        std::any_of(header.begin(), header.begin() + static_cast<std::ptrdiff_t>(i),
                    [&](const coding::HeaderField& one) { return one.code == header[i].code; }))
      return false;
  return true;
}

Json header_json(const std::vector<coding::HeaderField>& header) {
  if (!is_gathered(header)) {
    Json pairs = Json::array();
    for (const coding::HeaderField& field : header) pairs.push_back(Json::array({field.code, field.value}));
    return pairs;
  }
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

std::string language_text(const std::optional<std::string>& language) {
  return language ? "  \"language\": " + line(Json(*language)) + ",\n" : std::string();
}

/// `language` only of a record that stands alone.
std::string record_text(const coding::Record& record, const std::string& indent,
                        const std::optional<std::string>& language = {}) {
  std::string out = indent + "{\n" + indent + "  \"kind\": \"record\",\n" + indent + "  \"edition\": 1,\n" +
                    language_text(language);
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

void JsonWriter::add(const coding::Record& record) {
  if (++count_ == 1) {
    first_ = record;
    return;
  }
  if (count_ == 2) {
    out += "{\n  \"kind\": \"records\",\n  \"edition\": 1,\n" + language_text(language_) +
           "  \"records\": [\n" + record_text(first_, "    ");
    first_ = {};
  }
  out += ",\n" + record_text(record, "    ");
}

void JsonWriter::end() {
  if (count_ == 0)
    out += "{\n  \"kind\": \"records\",\n  \"edition\": 1,\n" + language_text(language_) +
           "  \"records\": []\n}\n";
  else if (count_ == 1)
    out += record_text(first_, "", language_) + "\n";
  else
    out += "\n  ]\n}\n";
}

std::string record_to_json(const coding::Record& record) { return record_text(record, "") + "\n"; }

std::string records_to_json(const std::vector<coding::Record>& records) {
  JsonWriter writer;
  for (const coding::Record& record : records) writer.add(record);
  writer.end();
  return std::move(writer.out);
}

}  // namespace haunch::exchange
