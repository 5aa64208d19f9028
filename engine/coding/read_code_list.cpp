// SPDX-License-Identifier: Apache-2.0
// Reads the code list; the schema has checked its shape before.
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "coding/code_list.hpp"

namespace haunch::coding {

using Json = nlohmann::json;

struct CodeListReader {
  const base::JsonDocument& document;
  CodeList list;
  base::Problems problems;

  static std::string text(const Json& from, const char* key) { return from.value(key, std::string()); }
  static Solid solid(const Json& from, const char* key) {
    return text(from, key) == "sourced" ? Solid::sourced : Solid::memory;
  }

  static ClockRule clock(const std::string& word) {
    if (word == "none") return ClockRule::none;
    if (word == "one") return ClockRule::one;
    if (word == "range") return ClockRule::range;
    if (word == "one or range") return ClockRule::one_or_range;
    return ClockRule::optional;
  }

  /// Letters with their meanings, or the name of a list whose entries are meant.
  std::map<std::string, std::string> letters(const Json& from, const char* key) const {
    std::map<std::string, std::string> out;
    if (!from.contains(key)) return out;
    const Json& given = from[key];
    if (!given.is_string()) return given.get<std::map<std::string, std::string>>();
    const std::string name = given.get<std::string>();
    const auto& named = name == "materials" ? list.materials_ : name == "shapes" ? list.shapes_ : list.nodes_;
    for (const Named& one : named) out[one.code] = one.name;
    return out;
  }

  static std::optional<QuantityRule> quantity(const Json& from, const char* key) {
    if (!from.contains(key)) return {};
    const Json& given = from[key];
    QuantityRule rule;
    rule.meaning = text(given, "meaning");
    rule.unit = text(given, "unit");
    rule.required = text(given, "required");
    rule.solid = solid(given, "solid");
    rule.required_solid = given.contains("required_solid") ? solid(given, "required_solid") : rule.solid;
    rule.says = text(given, "says");
    if (given.contains("unit_by_ch1"))
      rule.unit_by_ch1 = given["unit_by_ch1"].get<std::map<std::string, std::string>>();
    if (given.contains("says_by_ch1"))
      rule.says_by_ch1 = given["says_by_ch1"].get<std::map<std::string, std::string>>();
    rule.within = text(given, "within");
    return rule;
  }

  static void add_habit(CodeEntry& entry, const std::string& pair, const std::string& why) {
    entry.habits[pair] = why;
    const std::string first = pair.substr(0, 1), second = pair.size() > 1 ? pair.substr(1) : std::string();
    if (!entry.ch1.contains(first)) entry.ch1_habits[first] = why;
    if (!second.empty() && !entry.ch2.contains(second)) entry.ch2_habits[second] = why;
  }

  static Role role(const std::string& code) {
    static const std::map<std::string, Role> roles{
        {"BCD", Role::start},    {"BCE", Role::finish}, {"BDC", Role::abandoned}, {"AEC", Role::shape},
        {"AED", Role::material}, {"AEE", Role::lining}, {"BAA", Role::deformed},  {"BAB", Role::broken},
        {"BAC", Role::broken},   {"BAJ", Role::joint},  {"BCA", Role::connection}};
    const auto found = roles.find(code);
    return found == roles.end() ? Role::finding : found->second;
  }

  CodeEntry entry(const Json& from) const {
    CodeEntry out;
    out.code = text(from, "code");
    out.name = text(from, "name");
    out.group = text(from, "group");
    out.role = role(out.code);
    out.ch1 = letters(from, "ch1");
    out.ch2 = letters(from, "ch2");
    out.ch2_applies_when = text(from, "ch2_when");
    out.q1 = quantity(from, "q1");
    out.q2 = quantity(from, "q2");
    if (from["clock"].is_string()) {
      out.clock = clock(from["clock"].get<std::string>());
    } else {
      out.clock = ClockRule::by_ch1;
      for (const auto& [letter, word] : from["clock"].items())
        out.clock_by_ch1[letter] = clock(word.get<std::string>());
    }
    out.clock_solid = solid(from, "clock_solid");
    const std::string joint = text(from, "joint");
    out.joint = joint == "no" ? JointRule::no : joint == "always" ? JointRule::always : JointRule::optional;
    out.may_be_continuous = from["continuous"].get<bool>();
    if (from.contains("needs")) out.needs = from["needs"].get<std::vector<std::string>>();
    if (from.contains("habits"))
      for (const Json& habit : from["habits"])
        for (const Json& pair : habit["pairs"]) add_habit(out, pair.get<std::string>(), text(habit, "why"));
    out.note = text(from, "note");
    if (from.contains("in_one_list")) out.in_one_list = from["in_one_list"].get<std::vector<std::string>>();
    if (from.contains("made_of"))
      out.made_of = from["made_of"].get<std::map<std::string, std::vector<std::string>>>();
    for (const auto& [first, first_meaning] : out.ch1) {
      if (!out.ch2_applies(first) || out.ch2_applies_when == "optional") out.combinations.push_back(first);
      if (!out.ch2_applies(first)) continue;
      for (const auto& [second, second_meaning] : out.ch2) out.combinations.push_back(first + second);
    }
    work_out_fits(out);
    return out;
  }

  std::vector<Named> named(const char* key) {
    std::vector<Named> out;
    for (const Json& one : document.root()[key])
      out.push_back({text(one, "code"), text(one, "name"), letters(one, "values"), text(one, "stiffness")});
    return out;
  }

  template <class Entries>
  void index(const Entries& entries, const std::string& key, CodeIndex& index) {
    for (std::size_t i = 0; i < entries.size(); ++i)
      if (!index.add(entries[i].code, i))
        problems.push_back(document.problem("/" + key + "/" + std::to_string(i) + "/code",
                                            "the code " + entries[i].code + " is in the list twice",
                                            "each code once"));
  }

  void read() {
    const Json& root = document.root();
    list.edition_ = root["edition"].get<int>();
    list.standard_ = text(root, "standard");
    list.materials_ = named("materials");
    list.shapes_ = named("shapes");
    list.nodes_ = named("nodes");
    list.header_fields_ = named("header_fields");
    for (const Json& one : root["codes"]) list.codes_.push_back(entry(one));
    index(list.codes_, "codes", list.code_index_);
    index(list.materials_, "materials", list.material_index_);
    index(list.shapes_, "shapes", list.shape_index_);
    index(list.nodes_, "nodes", list.node_index_);
    index(list.header_fields_, "header_fields", list.header_index_);
  }
};

base::Result<CodeList> CodeList::read(const std::filesystem::path& path) {
  auto document = base::JsonDocument::read(path, "code-list");
  if (!document) return document.problems();
  CodeListReader reader{document.value(), {}, {}};
  reader.read();
  if (!reader.problems.empty()) return reader.problems;
  return std::move(reader.list);
}

const CodeList& CodeList::shipped() {
  static const CodeList list = [] {
    auto read = CodeList::read(base::content_dir() / "coding" / "en13508-2.json");
    if (!read)
      throw std::runtime_error("the content folder is damaged: " + base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return list;
}

}  // namespace haunch::coding
