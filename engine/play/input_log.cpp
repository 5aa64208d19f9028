// SPDX-License-Identifier: Apache-2.0
// The input log as JSON Lines: a header, then one input a line. Strict on reading: a log that is not
// understood whole would replay as something that never happened.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "play/exercise.hpp"

namespace haunch::play {
namespace {

using Json = nlohmann::ordered_json;

// -- writing --------------------------------------------------------------------------------------

Json number_json(const coding::Number& number) {
  if (!number.text.empty() || !number.value) return number.text;
  return *number.value;
}

Json observation_json(const coding::Observation& o) {
  Json json = Json::object();
  const auto text = [&](const char* key, const std::string& value) {
    if (!value.empty()) json[key] = value;
  };
  const auto number = [&](const char* key, const coding::Number& value) {
    if (!value.empty()) json[key] = number_json(value);
  };
  text("id", o.id);
  number("distance_m", o.distance_m);
  text("code", o.code);
  text("ch1", o.ch1);
  text("ch2", o.ch2);
  number("q1", o.q1);
  number("q2", o.q2);
  if (o.clock_from) json["clock_from"] = *o.clock_from;
  if (o.clock_to) json["clock_to"] = *o.clock_to;
  if (o.at_joint) json["at_joint"] = true;
  text("stretch", o.stretch);
  text("remark", o.remark);
  text("manhole_place", o.manhole_place);
  text("photo", o.photo);
  text("video", o.video);
  for (const auto& [key, value] : o.extra) json["extra"].push_back({key, value});
  text("reason", o.reason);
  return json;
}

struct Write {
  Json& json;
  void operator()(const Drive& input) const {
    json["do"] = "drive";
    json["speed_m_s"] = input.speed_m_s;
  }
  void operator()(const TurnHead& input) const {
    json["do"] = "turn head";
    json["yaw_deg"] = input.yaw_deg;
    json["pitch_deg"] = input.pitch_deg;
  }
  void operator()(const GoTo& input) const {
    json["do"] = "go to";
    json["distance_m"] = input.distance_m;
  }
  void operator()(const Log& input) const {
    json["do"] = "log";
    json["observation"] = observation_json(input.observation);
  }
  void operator()(const Change& input) const {
    json["do"] = "change";
    json["id"] = input.id;
    json["observation"] = observation_json(input.observation);
  }
  void operator()(const Remove& input) const {
    json["do"] = "remove";
    json["id"] = input.id;
  }
  void operator()(const GiveClasses& input) const {
    json["do"] = "classes";
    json["id"] = input.classes.observation;
    json["classes"] = Json::object();
    for (const auto& [goal, grade] : input.classes.classes) json["classes"][goal] = grade;
  }
  void operator()(const GiveObjectClass& input) const {
    json["do"] = "object class";
    json["class"] = input.object_class;
  }
  void operator()(const GiveAction& input) const {
    json["do"] = "action";
    json["action"] = coding::show(input.action);
  }
  void operator()(const Finish&) const { json["do"] = "finish"; }
  void operator()(const Resume&) const { json["do"] = "resume"; }
  void operator()(const Begin& input) const {
    json["do"] = "begin";
    json["mode"] = show(input.mode);
  }
  void operator()(const SetPlumb& input) const {
    json["do"] = "plumb";
    json["on_screen_h"] = input.on_screen_h;
  }
  void operator()(const SetCounter& input) const {
    json["do"] = "counter";
    json["reads_m"] = input.reads_m;
  }
  void operator()(const TakeHint&) const { json["do"] = "hint"; }
  void operator()(const KeepPicture& input) const {
    json["do"] = "picture";
    if (!input.id.empty()) json["id"] = input.id;
  }
};

// Text that came through a keyboard or a paste may hold bytes that are no UTF-8; they become "?".
std::string line_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

// -- reading --------------------------------------------------------------------------------------

/// One line's object: takes fields by name and type, then reports what nobody asked for.
class Fields {
 public:
  Fields(const base::JsonDocument& document, int line, base::Problems& problems)
      : document_(document), line_(line), problems_(problems) {}

  void problem(const std::string& pointer, std::string what, std::string expected,
               std::string suggestion = {}) {
    base::Problem one =
        document_.problem(pointer, std::move(what), std::move(expected), std::move(suggestion));
    one.place.line = line_;
    problems_.push_back(std::move(one));
  }
  void missing(const Json& object, const std::string& at, const std::string& key,
               const std::string& expected) {
    if (!object.contains(key)) problem(at, "\"" + key + "\" is missing", expected);
  }

  std::string text(const Json& object, const std::string& at, const std::string& key, bool required) {
    if (required) missing(object, at, key, "a text");
    if (!object.contains(key)) return {};
    if (object.at(key).is_string()) return object.at(key).get<std::string>();
    problem(at + "/" + key, "\"" + key + "\" is no text", "a text in double quotes");
    return {};
  }
  double number(const Json& object, const std::string& at, const std::string& key) {
    missing(object, at, key, "a number");
    if (!object.contains(key)) return 0;
    if (object.at(key).is_number()) return object.at(key).get<double>();
    problem(at + "/" + key, "\"" + key + "\" is no number", "a number");
    return 0;
  }
  long whole(const Json& object, const std::string& at, const std::string& key, long low, long high) {
    missing(object, at, key, "a whole number");
    if (!object.contains(key)) return low;
    const Json& value = object.at(key);
    const bool fits =
        value.is_number_integer() &&
        (!value.is_number_unsigned() || value.get<std::uint64_t>() <= static_cast<std::uint64_t>(high)) &&
        value.get<std::int64_t>() >= low && value.get<std::int64_t>() <= high;
    if (fits) return static_cast<long>(value.get<std::int64_t>());
    problem(at + "/" + key,
            "\"" + key + "\" is " + value.dump(-1, ' ', false, Json::error_handler_t::replace),
            "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
    return low;
  }
  coding::Number number_or_text(const Json& object, const std::string& at, const std::string& key) {
    if (!object.contains(key)) return {};
    const Json& value = object.at(key);
    if (value.is_number()) return value.get<double>();
    if (value.is_string()) return coding::Number::from_text(value.get<std::string>());
    problem(at + "/" + key, "\"" + key + "\" is neither number nor text", "a number");
    return {};
  }
  void only(const Json& object, const std::string& at, const std::vector<std::string>& known) {
    for (const auto& [key, value] : object.items()) {
      if (std::find(known.begin(), known.end(), key) != known.end()) continue;
      problem(at + "/" + key, "unknown key \"" + key + "\"", "one of " + base::join(known, ", "),
              base::nearest_word(key, known));
    }
  }
  bool object(const Json& value, const std::string& at) {
    if (value.is_object()) return true;
    problem(at, "this is no object", "an object in braces");
    return false;
  }

 private:
  const base::JsonDocument& document_;
  int line_;
  base::Problems& problems_;
};

coding::Observation read_observation(const Json& parent, Fields& fields) {
  coding::Observation o;
  const std::string at = "/observation";
  fields.missing(parent, "", "observation", "an observation in braces");
  if (!parent.contains("observation") || !fields.object(parent.at("observation"), at)) return o;
  const Json& json = parent.at("observation");
  fields.only(json, at,
              {"id", "distance_m", "code", "ch1", "ch2", "q1", "q2", "clock_from", "clock_to", "at_joint",
               "stretch", "remark", "manhole_place", "photo", "video", "extra", "reason"});
  o.id = fields.text(json, at, "id", false);
  o.distance_m = fields.number_or_text(json, at, "distance_m");
  // The end of a stretch may leave its code to the begin.
  o.code = fields.text(json, at, "code", false);
  o.ch1 = fields.text(json, at, "ch1", false);
  o.ch2 = fields.text(json, at, "ch2", false);
  o.q1 = fields.number_or_text(json, at, "q1");
  o.q2 = fields.number_or_text(json, at, "q2");
  if (json.contains("clock_from"))
    o.clock_from = static_cast<int>(fields.whole(json, at, "clock_from", 1, 12));
  if (json.contains("clock_to")) o.clock_to = static_cast<int>(fields.whole(json, at, "clock_to", 1, 12));
  if (json.contains("at_joint")) {
    if (json.at("at_joint").is_boolean())
      o.at_joint = json.at("at_joint").get<bool>();
    else
      fields.problem(at + "/at_joint", "\"at_joint\" is neither true nor false", "true or false");
  }
  o.stretch = fields.text(json, at, "stretch", false);
  o.remark = fields.text(json, at, "remark", false);
  o.manhole_place = fields.text(json, at, "manhole_place", false);
  o.photo = fields.text(json, at, "photo", false);
  o.video = fields.text(json, at, "video", false);
  o.reason = fields.text(json, at, "reason", false);
  if (json.contains("extra")) {
    for (const Json& pair : json.at("extra")) {
      if (pair.is_array() && pair.size() == 2 && pair[0].is_string() && pair[1].is_string()) {
        o.extra.emplace_back(pair[0].get<std::string>(), pair[1].get<std::string>());
      } else {
        fields.problem(at + "/extra", "\"extra\" holds something else than pairs of texts",
                       "[[\"X\", \"text\"]]");
      }
    }
  }
  return o;
}

GiveClasses read_classes(const Json& json, Fields& fields) {
  fields.only(json, "", {"tick", "do", "id", "classes"});
  GiveClasses given;
  given.classes.observation = fields.text(json, "", "id", true);
  fields.missing(json, "", "classes", "a class for each goal");
  if (!json.contains("classes") || !fields.object(json.at("classes"), "/classes")) return given;
  for (const auto& [goal, grade] : json.at("classes").items()) {
    given.classes.classes[goal] =
        static_cast<int>(fields.whole(json.at("classes"), "/classes", goal, 0, 1000));
  }
  return given;
}

std::optional<Input> read_begin(const Json& json, Fields& fields) {
  fields.only(json, "", {"tick", "do", "mode"});
  const std::string words = fields.text(json, "", "mode", true);
  if (const auto mode = mode_from(words)) return Begin{*mode};
  const std::vector<std::string> modes = {show(Mode::practice), show(Mode::guided), show(Mode::exam)};
  if (json.contains("mode"))
    fields.problem("/mode", "there is no mode \"" + words + "\"", "one of " + base::join(modes, ", "),
                   base::nearest_word(words, modes));
  return {};
}

std::optional<Input> read_input(const Json& json, Fields& fields) {
  const std::vector<std::string> known = {"drive",   "turn head",    "go to",  "log",    "change", "remove",
                                          "classes", "object class", "action", "finish", "resume", "begin",
                                          "plumb",   "counter",      "hint",   "picture"};
  const std::string what = fields.text(json, "", "do", true);
  if (what == "drive") {
    fields.only(json, "", {"tick", "do", "speed_m_s"});
    return Drive{fields.number(json, "", "speed_m_s")};
  }
  if (what == "turn head") {
    fields.only(json, "", {"tick", "do", "yaw_deg", "pitch_deg"});
    return TurnHead{fields.number(json, "", "yaw_deg"), fields.number(json, "", "pitch_deg")};
  }
  if (what == "go to") {
    fields.only(json, "", {"tick", "do", "distance_m"});
    return GoTo{fields.number(json, "", "distance_m")};
  }
  if (what == "log") {
    fields.only(json, "", {"tick", "do", "observation"});
    return Log{read_observation(json, fields)};
  }
  if (what == "change") {
    fields.only(json, "", {"tick", "do", "id", "observation"});
    return Change{fields.text(json, "", "id", true), read_observation(json, fields)};
  }
  if (what == "remove") {
    fields.only(json, "", {"tick", "do", "id"});
    return Remove{fields.text(json, "", "id", true)};
  }
  if (what == "classes") return read_classes(json, fields);
  if (what == "object class") {
    fields.only(json, "", {"tick", "do", "class"});
    return GiveObjectClass{static_cast<int>(fields.whole(json, "", "class", 0, 1000))};
  }
  if (what == "action") {
    fields.only(json, "", {"tick", "do", "action"});
    const std::string words = fields.text(json, "", "action", true);
    if (const auto action = coding::action_from(words)) return GiveAction{*action};
    std::vector<std::string> actions;
    for (const coding::Action action : coding::all_actions()) actions.push_back(coding::show(action));
    if (json.contains("action")) {
      fields.problem("/action", "there is no action \"" + words + "\"", "one of " + base::join(actions, ", "),
                     base::nearest_word(words, actions));
    }
    return {};
  }
  if (what == "finish") {
    fields.only(json, "", {"tick", "do"});
    return Finish{};
  }
  if (what == "resume") {
    fields.only(json, "", {"tick", "do"});
    return Resume{};
  }
  if (what == "begin") return read_begin(json, fields);
  if (what == "plumb") {
    fields.only(json, "", {"tick", "do", "on_screen_h"});
    return SetPlumb{fields.number(json, "", "on_screen_h")};
  }
  if (what == "counter") {
    fields.only(json, "", {"tick", "do", "reads_m"});
    return SetCounter{fields.number(json, "", "reads_m")};
  }
  if (what == "hint") {
    fields.only(json, "", {"tick", "do"});
    return TakeHint{};
  }
  if (what == "picture") {
    fields.only(json, "", {"tick", "do", "id"});
    return KeepPicture{fields.text(json, "", "id", false)};
  }
  if (json.contains("do")) {
    fields.problem("/do", "there is no input \"" + what + "\"", "one of " + base::join(known, ", "),
                   base::nearest_word(what, known));
  }
  return {};
}

void read_header(const Json& json, Fields& fields, LogFile& file) {
  fields.only(json, "", {"kind", "edition", "scenario", "scenario_hash", "by"});
  const std::string kind = fields.text(json, "", "kind", true);
  if (json.contains("kind") && kind != "input log")
    fields.problem("/kind", "the kind is \"" + kind + "\"", "\"input log\"");
  fields.whole(json, "", "edition", 1, 1);
  file.scenario = fields.text(json, "", "scenario", true);
  file.scenario_hash = fields.text(json, "", "scenario_hash", true);
  file.by = fields.text(json, "", "by", false);
}

}  // namespace

std::string log_to_text(const Exercise& exercise, const std::string& by) {
  const scene::Scenario& scenario = exercise.scene().scenario;
  Json head = {
      {"kind", "input log"}, {"edition", 1}, {"scenario", scenario.title}, {"scenario_hash", scenario.hash}};
  if (!by.empty()) head["by"] = by;
  std::string text = line_of(head);
  for (const TimedInput& timed : exercise.log()) {
    Json json;
    json["tick"] = timed.tick;
    std::visit(Write{json}, timed.input);
    text += line_of(json);
  }
  return text;
}

base::Result<LogFile> log_file_from_text(const std::string& text, const std::string& file_name) {
  constexpr long most_ticks = 60L * 60 * 60 * 24;  // a day: longer is a slip, and would replay for hours
  LogFile file;
  base::Problems problems;
  std::vector<std::string> lines = base::split(text, '\n');
  if (!lines.empty() && lines.back().empty()) lines.pop_back();
  if (lines.empty())
    return base::Problem{{file_name, 1, 1}, base::Severity::error, "the file is empty", "an input log", {}};
  long last_tick = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const int line = static_cast<int>(i) + 1;
    const auto document = base::JsonDocument::parse(lines[i], file_name);
    if (!document) {
      for (base::Problem problem : document.problems()) {
        problem.place.line = line;
        problems.push_back(std::move(problem));
      }
      continue;
    }
    Fields fields(document.value(), line, problems);
    const Json json = document.value().root();
    if (!fields.object(json, "")) continue;
    if (i == 0) {
      read_header(json, fields, file);
      continue;
    }
    const long tick = fields.whole(json, "", "tick", 0, most_ticks);
    if (tick < last_tick) {
      fields.problem("/tick",
                     "tick " + std::to_string(tick) + " comes after tick " + std::to_string(last_tick),
                     "ticks that never fall");
    }
    last_tick = std::max(last_tick, tick);
    if (auto input = read_input(json, fields)) file.inputs.push_back({tick, std::move(*input)});
  }
  if (!problems.empty()) return problems;
  return file;
}

base::Result<std::vector<TimedInput>> log_from_text(const std::string& text, const std::string& file_name) {
  auto file = log_file_from_text(text, file_name);
  if (!file) return file.problems();
  return std::move(file).value().inputs;
}

}  // namespace haunch::play
