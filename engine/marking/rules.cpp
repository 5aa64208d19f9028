// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {
namespace {

using base::JsonDocument;
using base::Problems;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

int thousandths(const Json& share) { return static_cast<int>(std::lround(share.get<double>() * 1000)); }
int tenths(const Json& weight) { return static_cast<int>(std::lround(weight.get<double>() * 10)); }
Words words_of(const Json& json, const char* key) {
  return json.contains(key) ? json.at(key).get<Words>() : Words();
}
std::string source_of(const Json& json) { return json.at("source").get<std::string>(); }

template <class T>
std::optional<T> maybe(const Json& json, const char* key) {
  return json.contains(key) ? std::optional<T>(json.at(key).get<T>()) : std::nullopt;
}

void read_place(const Json& json, Rules::Inside& rules) {
  rules.place_within_m = json.at("within_m").get<double>();
  rules.place_within_share = json.at("within_share").get<double>();
  rules.stretch_extra_m = json.at("stretch_extra_m").get<double>();
  rules.place_partly_times = json.at("partly_times").get<double>();
  rules.place_partly_earns = thousandths(json.at("partly_earns"));
  rules.reach_times = json.at("reach_times").get<double>();
  rules.stretch_reach_share = json.at("stretch_reach_share").get<double>();
  rules.stretch_overlap_share = json.at("stretch_overlap_share").get<double>();
  rules.place_source = source_of(json);
  for (const Json& collar : json.value("collars", Json::array()))
    rules.collars.push_back({words_of(collar, "codes"), collar.at("within_m").get<double>(),
                             collar.at("reach_m").get<double>(), source_of(collar)});
}

void read_counter(const Json& json, Rules::Inside& rules) {
  rules.counter_looked_for = true;
  rules.counter_least_marks = json.at("least_marks").get<int>();
  rules.counter_least_share = json.at("least_share").get<double>();
  rules.counter_agree_m = json.at("agree_m").get<double>();
  rules.counter_from_m = json.at("from_m").get<double>();
  rules.counter_most_zero_m = json.at("most_zero_m").get<double>();
  rules.counter_most_scale = json.at("most_scale").get<double>();
  rules.counter_costs = tenths(json.at("costs"));
  rules.counter_source = source_of(json);
}

void read_clock(const Json& json, Rules::Inside& rules) {
  rules.clock_within_h = json.at("within_h").get<double>();
  rules.clock_partly_within_h = json.at("partly_within_h").get<double>();
  rules.clock_partly_earns = thousandths(json.at("partly_earns"));
  rules.range_overlap_from = json.at("range_overlap_from").get<double>();
  rules.one_hour_for_range_earns = thousandths(json.at("one_hour_for_range_earns"));
  rules.clock_source = source_of(json);
}

void read_plumb(const Json& root, Rules::Inside& rules) {
  const bool own = root.contains("plumb");
  rules.plumb_within_h = own ? root.at("plumb").at("within_h").get<double>() : rules.clock_within_h;
  rules.plumb_partly_within_h =
      own ? root.at("plumb").at("partly_within_h").get<double>() : rules.clock_partly_within_h;
  rules.plumb_partly_earns =
      own ? thousandths(root.at("plumb").at("partly_earns")) : rules.clock_partly_earns;
}

void read_sizes(const Json& json, Rules::Inside& rules) {
  rules.fade_times = json.at("fade_times").get<double>();
  for (const Json& size : json.at("rules")) {
    SizeRule rule;
    rule.codes = words_of(size, "codes");
    rule.ch1 = words_of(size, "ch1");
    rule.within = size.at("within").get<double>();
    rule.within_share = size.value("within_share", 0.0);
    rule.small_up_to = maybe<double>(size, "small_up_to");
    rule.small_within = maybe<double>(size, "small_within");
    rule.unit = size.at("unit").get<std::string>();
    rule.source = source_of(size);
    rules.sizes.push_back(std::move(rule));
  }
}

void read_wrong_name(const Json& json, Rules::Inside& rules) {
  rules.wrong_name_earns = thousandths(json.at("earns"));
  rules.wrong_name_clock_h = json.at("clock_within_h").get<double>();
  rules.wrong_name_groups = words_of(json, "groups");
  rules.only_itself = words_of(json, "only_itself");
  for (const Json& pair : json.at("easily_taken"))
    rules.easily_taken.emplace_back(pair[0].get<std::string>(), pair[1].get<std::string>());
  rules.wrong_name_source = source_of(json);
}

void read_weights(const Json& json, Rules::Inside& rules) {
  for (const auto& [group, weight] : json.at("groups").items()) rules.group_weight[group] = tenths(weight);
  for (const auto& [code, weight] : json.at("codes").items()) rules.code_weight[code] = tenths(weight);
  for (const auto& [grade, weight] : json.at("by_class").items())
    rules.class_weight[std::stoi(grade)] = tenths(weight);
  rules.without_class = tenths(json.at("without_class"));
  if (json.contains("by_action"))
    for (const auto& [action, weight] : json.at("by_action").items())
      if (const auto known = coding::action_from(action)) rules.action_weight[*known] = tenths(weight);
  rules.run_codes = words_of(json, "run_codes");
  rules.tenths_per_metre = json.at("per_metre_of_run").get<double>() * 10;
}

Meaning meaning_of(const Json& json) {
  Meaning meaning;
  meaning.code = json.at("code").get<std::string>();
  meaning.ch1 = words_of(json, "ch1");
  meaning.quantity = json.value("quantity", "");
  meaning.from = json.value("from", 0.0);
  meaning.pipe = json.value("pipe", "");
  meaning.why = json.at("why").get<std::string>();
  if (json.contains("action"))
    meaning.action =
        coding::action_from(json.at("action").get<std::string>()).value_or(coding::Action::carry_on);
  return meaning;
}

Rules::Inside read_all(const Json& root) {
  Rules::Inside rules;
  read_place(root.at("place"), rules);
  if (root.contains("counter") && root.at("counter").is_object()) read_counter(root.at("counter"), rules);
  read_clock(root.at("clock"), rules);
  read_plumb(root, rules);
  read_sizes(root.at("sizes"), rules);
  for (const Aspect aspect : {Aspect::code, Aspect::characterisation, Aspect::place, Aspect::clock,
                              Aspect::size, Aspect::joint, Aspect::extent})
    rules.aspects[aspect] = root.at("aspects").at(show(aspect)).get<int>();
  for (const Json& near : root.value("near_letters", Json::array()))
    rules.near_letters.push_back(
        {near.at("code").get<std::string>(),
         near.at("field").get<std::string>(),
         {near.at("letters")[0].get<std::string>(), near.at("letters")[1].get<std::string>()},
         thousandths(near.at("earns"))});
  read_wrong_name(root.at("wrong_name"), rules);
  read_weights(root.at("weights"), rules);
  rules.neutral = words_of(root, "neutral");
  rules.false_call = tenths(root.at("false_call").at("weight"));
  const Json& false_call = root.at("false_call");
  rules.duplicate =
      false_call.contains("duplicate_weight") ? tenths(false_call.at("duplicate_weight")) : rules.false_call;
  rules.least_total = tenths(root.at("false_call").at("least_total"));
  for (const Json& entry : root.at("dangerous")) rules.dangerous.push_back(meaning_of(entry));
  for (const Json& entry : root.at("actions")) rules.actions.push_back(meaning_of(entry));
  rules.actions_source = root.value("actions_source", "ours");
  return rules;
}

/// What a schema cannot say.
Problems check(const JsonDocument& document, const Rules::Inside& rules) {
  Problems problems;
  // The main code has to weigh, or a mark with the wrong name would count as much as a right one.
  if (rules.aspects.at(Aspect::code) == 0)
    problems.push_back(document.problem("/aspects/code", "the main code weighs nothing", "a weight above 0"));
  if (rules.clock_partly_within_h < rules.clock_within_h)
    problems.push_back(
        document.problem("/clock/partly_within_h", "narrower than \"within_h\"", "at least \"within_h\""));
  if (rules.plumb_partly_within_h < rules.plumb_within_h)
    problems.push_back(
        document.problem("/plumb/partly_within_h", "narrower than \"within_h\"", "at least \"within_h\""));
  for (std::size_t i = 0; i < rules.collars.size(); ++i)
    if (rules.collars[i].reach_m < rules.collars[i].within_m)
      problems.push_back(document.problem("/place/collars/" + std::to_string(i) + "/reach_m",
                                          "reaches less far than what is right", "at least \"within_m\""));
  if (rules.place_within_m <= 0)
    problems.push_back(document.problem("/place/within_m", "no place could be right", "more than 0"));
  const bool any_code = std::any_of(rules.sizes.begin(), rules.sizes.end(), [](const SizeRule& rule) {
    return is_one_of(rule.codes, "*") && rule.ch1.empty();
  });
  if (!any_code)
    problems.push_back(document.problem("/sizes/rules", "no rule holds for every other code",
                                        "a last rule with \"codes\": [\"*\"]"));
  return problems;
}

}  // namespace

namespace {

std::filesystem::path rules_folder() { return base::content_dir() / "marking"; }

std::vector<std::string> shipped_names() {
  std::vector<std::string> names;
  std::error_code wrong;
  for (const auto& entry : std::filesystem::directory_iterator(rules_folder(), wrong))
    if (entry.path().extension() == ".json") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

/// A file that is based on other rules says only what differs, a section at a time.
Problems complete(const JsonDocument& document, Json& root) {
  if (!root.contains("based_on")) return {};
  const std::string name = root.at("based_on").get<std::string>();
  const std::vector<std::string> names = shipped_names();
  if (!is_one_of(names, name))
    return {document.problem("/based_on", "no shipped rules are called \"" + name + "\"",
                             base::join(names, ", "), base::nearest_word(name, names))};
  const auto below = JsonDocument::read(rules_folder() / (name + ".json"), "marking-rules");
  if (!below) return below.problems();
  if (below.value().root().contains("based_on"))
    return {document.problem("/based_on", "\"" + name + "\" is itself based on other rules",
                             "rules that say everything")};
  for (const auto& [section, value] : below.value().root().items())
    if (!root.contains(section)) root[section] = value;
  return {};
}

}  // namespace

base::Result<Rules> Rules::read(const std::filesystem::path& path) {
  const auto document = JsonDocument::read(path, "marking-rules");
  if (!document) return document.problems();
  Json root = document.value().root();
  Problems problems = complete(document.value(), root);
  if (base::has_errors(problems)) return problems;
  auto inside = std::make_shared<const Inside>(read_all(root));
  problems = check(document.value(), *inside);
  if (base::has_errors(problems)) return problems;
  Rules rules;
  rules.inside_ = std::move(inside);
  rules.title_ = root.value("title", "") + ", edition " + std::to_string(root.value("edition", 0));
  // Keys in the order of the alphabet: the same rules have the same fingerprint, wherever they stand.
  rules.fingerprint_ = base::fingerprint(root.dump());
  return rules;
}

std::filesystem::path Rules::file_named(const std::string& name_or_file) {
  return is_one_of(shipped_names(), name_or_file) ? rules_folder() / (name_or_file + ".json")
                                                  : std::filesystem::path(name_or_file);
}

base::Result<Rules> Rules::named(const std::string& name_or_file) {
  const std::filesystem::path file = file_named(name_or_file);
  const bool a_word = name_or_file.find_first_of("/\\.") == std::string::npos;
  if (a_word && !std::filesystem::exists(file)) {
    const std::vector<std::string> names = shipped_names();
    return base::Problems{{{name_or_file},
                           base::Severity::error,
                           "no marking rules are called \"" + name_or_file + "\"",
                           base::join(names, ", ") + ", or a file",
                           base::only_nearest_word(name_or_file, names)}};
  }
  return read(file);
}

const Rules& Rules::shipped() {
  static const Rules rules = [] {
    auto read = Rules::read(base::content_dir() / "marking" / "rules.json");
    if (!read)
      throw std::runtime_error("the content folder is damaged: " + base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return rules;
}

bool is_one_of(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool falls_under(const Meaning& meaning, const Finding& finding) {
  if (meaning.code != finding.seen->code) return false;
  if (!meaning.ch1.empty() && !is_one_of(meaning.ch1, finding.seen->ch1)) return false;
  if (!meaning.pipe.empty() && !finding.stiffness.empty() && meaning.pipe != finding.stiffness) return false;
  if (meaning.quantity.empty()) return true;
  const std::optional<double>& size = meaning.quantity == "q2" ? finding.q2 : finding.q1;
  return size && *size >= meaning.from;
}

std::string show(Aspect aspect) {
  switch (aspect) {
    case Aspect::code:
      return "code";
    case Aspect::characterisation:
      return "characterisation";
    case Aspect::place:
      return "place";
    case Aspect::clock:
      return "clock";
    case Aspect::size:
      return "size";
    case Aspect::joint:
      return "joint";
    case Aspect::extent:
      return "extent";
  }
  return {};
}

std::string show(Standing standing) {
  switch (standing) {
    case Standing::right:
      return "right";
    case Standing::partly:
      return "partly";
    case Standing::wrong:
      return "wrong";
    case Standing::not_asked:
      return "not asked";
  }
  return {};
}

}  // namespace haunch::marking
