// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/words.hpp"
#include "grading/scheme_reader.hpp"

namespace haunch::grading {

SchemeReader::SchemeReader(const base::JsonDocument& document,
                           const std::vector<base::JsonDocument::Fault>& faults)
    : document_(document), root_(document.root()) {
  for (const auto& fault : faults) broken_.push_back(fault.pointer);
}

void SchemeReader::problem(const std::string& pointer, std::string what, std::string expected,
                           std::string suggestion) {
  problems.push_back(document_.problem(pointer, std::move(what), std::move(expected), std::move(suggestion)));
}

const SchemeReader::Json* SchemeReader::sound(const std::string& pointer) const {
  const Json::json_pointer at(pointer);
  if (!root_.contains(at)) return nullptr;
  for (const std::string& broken : broken_)
    if (broken == pointer || broken.starts_with(pointer + "/")) return nullptr;
  return &root_.at(at);
}

std::size_t SchemeReader::size_of(const std::string& pointer) const {
  const Json::json_pointer at(pointer);
  return root_.contains(at) && root_.at(at).is_array() ? root_.at(at).size() : 0;
}

Mark SchemeReader::mark_of(const Json& value, const std::string& pointer, const char* key) {
  Mark mark;
  const Json* sources = sound("/sources");
  std::vector<std::string> known, words;
  if (sources != nullptr)
    for (const auto& [name, text] : sources->items()) known.push_back(name);
  std::string unread;  // the first source that makes it provisional
  for (std::size_t i = 0; i < value.at(key).size(); ++i) {
    const auto name = value.at(key)[i].get<std::string>();
    if (unread.empty() && provisional_sources_.contains(name)) unread = name;
    if (sources == nullptr) continue;
    if (sources->contains(name))
      words.push_back(sources->at(name).get<std::string>());
    else
      problem(pointer + "/" + key + "/" + std::to_string(i), "source \"" + name + "\" is not explained",
              "a key of \"sources\"", base::nearest_word(name, known));
  }
  mark.source = base::join(words, "; ");
  mark.provisional = value.value("provisional", !unread.empty());
  if (!unread.empty() && !mark.provisional)
    problem(
        pointer + "/provisional",
        (value.contains("id") ? "row \"" + value.at("id").get<std::string>() + "\"" : std::string("this")) +
            " is from " + (unread == "memory" ? unread : "the provisional source \"" + unread + "\"") +
            " and not marked provisional",
        "true");
  return mark;
}

bool SchemeReader::goal_known(const std::string& pointer, const std::string& goal) {
  if (std::find(inside.goals.begin(), inside.goals.end(), goal) != inside.goals.end()) return true;
  if (!inside.goals.empty())
    problem(pointer, "\"" + goal + "\" is not a goal of this scheme", base::join(inside.goals, ", "),
            base::nearest_word(goal, inside.goals));
  return false;
}

bool SchemeReader::class_known(const std::string& pointer, int grade) {
  if (grade >= 1 && grade <= inside.worst_class) return true;
  problem(pointer, "class " + std::to_string(grade) + " is past the worst class",
          "a class from 1 to " + std::to_string(inside.worst_class));
  return false;
}

std::map<int, double> SchemeReader::bounds(const Json& value, const std::string& pointer) {
  std::map<int, double> from;
  for (const auto& [key, bound] : value.items())
    if (class_known(pointer + "/" + key, std::stoi(key))) from[std::stoi(key)] = bound.get<double>();
  for (auto next = from.begin(); next != from.end(); ++next)
    if (next != from.begin() && next->second <= std::prev(next)->second)
      problem(pointer + "/" + std::to_string(next->first),
              "class " + std::to_string(next->first) + " starts at " + base::show_number(next->second) +
                  ", not above class " + std::to_string(std::prev(next)->first),
              "bounds that rise with the class");
  return from;
}

std::map<int, std::string> SchemeReader::meanings(const Json& value, const std::string& pointer) {
  std::map<int, std::string> words;
  for (const auto& [key, meaning] : value.items())
    if (key == "0" || class_known(pointer + "/" + key, std::stoi(key)))
      words[std::stoi(key)] = meaning.get<std::string>();
  return words;
}

const SiteField* SchemeReader::field_known(const std::string& pointer, const std::string& name) {
  if (const SiteField* field = inside.field(name)) return field;
  std::vector<std::string> names;
  for (const SiteField& field : inside.site) names.push_back(field.name);
  problem(pointer, "\"" + name + "\" is not a field of \"site\"",
          names.empty() ? "a field that \"site\" explains" : base::join(names, ", "),
          base::nearest_word(name, names));
  return nullptr;
}

void SchemeReader::option_known(const std::string& pointer, const SiteField* field, const std::string& when,
                                std::set<std::string>& seen) {
  once(pointer, "two options are for", seen, when);
  if (field == nullptr) return;
  if (std::find(field->values.begin(), field->values.end(), when) == field->values.end())
    problem(pointer, "\"" + when + "\" is not a value of " + field->name,
            field->values.empty() ? "a field of \"site\" with values"
                                  : "one of \"" + base::join(field->values, "\", \"") + "\"",
            base::nearest_word(when, field->values));
}

void SchemeReader::once(const std::string& pointer, const std::string& what, std::set<std::string>& seen,
                        const std::string& id) {
  if (!seen.insert(id).second) problem(pointer, what + " \"" + id + "\"", "each once");
}

void SchemeReader::read_sources() {
  const Json* sources = sound("/sources");
  std::vector<std::string> known;
  if (sources != nullptr)
    for (const auto& [name, text] : sources->items()) known.push_back(name);
  each("/provisional_sources", [&](const Json& json, const std::string& pointer) {
    const auto name = json.get<std::string>();
    provisional_sources_.insert(name);
    if (sources != nullptr && !sources->contains(name))
      problem(pointer, "source \"" + name + "\" is not explained", "a key of \"sources\"",
              base::nearest_word(name, known));
  });
}

void SchemeReader::read_head() {
  const auto text = [&](const char* key) {
    const Json* value = sound(std::string("/") + key);
    return value == nullptr ? std::string() : value->get<std::string>();
  };
  inside.id = text("id");
  inside.title = text("title");
  inside.procedure_source = text("procedure_source");
  inside.procedure = procedure_named(text("procedure"));
  if (inside.procedure == nullptr && sound("/procedure") != nullptr)
    problem("/procedure", "no procedure is called \"" + text("procedure") + "\"",
            base::join(procedure_names(), ", "), base::nearest_word(text("procedure"), procedure_names()));
  if (const Json* goals = sound("/goals")) inside.goals = goals->get<std::vector<std::string>>();
  const Json* worst = sound("/worst_class");
  inside.worst_class = worst == nullptr ? 9 : worst->get<int>();
  if (const Json* one = sound("/one_goal_each")) inside.one_goal_each = one->get<bool>();
  each("/not_graded", [&](const Json& entry, const std::string& pointer) {
    NotGraded read{entry.at("codes").get<std::vector<std::string>>(), entry.at("why").get<std::string>()};
    for (std::size_t i = 0; i < read.codes.size(); ++i)
      if (coding::CodeList::shipped().find(read.codes[i]) == nullptr)
        problem(pointer + "/codes/" + std::to_string(i), "\"" + read.codes[i] + "\" is not a main code",
                "a code of the code list");
    inside.not_graded.push_back(std::move(read));
  });
  if (const Json* object = sound("/object_class")) {
    mark_of(*object, "/object_class", "meaning_source");
    inside.object_meaning = meanings(object->at("meaning"), "/object_class/meaning");
  }
}

void SchemeReader::read_site() {
  std::set<std::string> names;
  each("/site", [&](const Json& json, const std::string& pointer) {
    SiteField field{json.at("field").get<std::string>(), json.at("what").get<std::string>(), {}, ""};
    if (json.contains("values")) field.values = json.at("values").get<std::vector<std::string>>();
    field.unit = json.value("unit", "");
    once(pointer + "/field", "two fields are called", names, field.name);
    if (field.name == "place" || field.name == "joint")
      problem(pointer + "/field", "\"" + field.name + "\" is told by the observation, not by the site",
              "another name");
    inside.site.push_back(std::move(field));
  });
}

void SchemeReader::read() {
  read_sources();
  read_head();
  read_site();
  read_tables();
  each("/rows", [&](const Json& json, const std::string& pointer) { read_row(json, pointer); });
  check_overlaps();
  if (inside.procedure != nullptr) inside.procedure->read(*this);
}

base::Result<Scheme> Scheme::read(const std::filesystem::path& path) {
  const auto bytes = base::read_file(path);
  if (!bytes) return bytes.problems();
  const auto document = base::JsonDocument::parse(bytes.value(), path.string());
  if (!document) return document.problems();
  const auto faults = document.value().faults("grading-scheme");
  SchemeReader reader(document.value(), faults);
  base::Problems problems;
  for (const auto& fault : faults) problems.push_back(fault.problem);
  if (document.value().root().is_object()) reader.read();
  problems.insert(problems.end(), reader.problems.begin(), reader.problems.end());
  std::stable_sort(problems.begin(), problems.end(), [](const base::Problem& a, const base::Problem& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  if (base::has_errors(problems)) return problems;
  auto inside = std::make_shared<Inside>(std::move(reader.inside));
  inside->fingerprint = base::fingerprint(bytes.value());
  inside->index();
  Scheme scheme;
  scheme.inside_ = std::move(inside);
  return scheme;
}

}  // namespace haunch::grading
