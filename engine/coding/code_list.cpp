// SPDX-License-Identifier: Apache-2.0
// Reads the code list; the schema has checked its shape before.
#include "coding/code_list.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <unordered_set>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"

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
    return rule;
  }

  CodeEntry entry(const Json& from) const {
    CodeEntry out;
    out.code = text(from, "code");
    out.name = text(from, "name");
    out.group = text(from, "group");
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
    if (from.contains("habits")) {
      out.ch1_habits = letters(from["habits"], "ch1");
      out.ch2_habits = letters(from["habits"], "ch2");
    }
    out.note = text(from, "note");
    for (const auto& [first, first_meaning] : out.ch1) {
      if (!out.ch2_applies(first) || out.ch2_applies_when == "optional") out.combinations.push_back(first);
      if (!out.ch2_applies(first)) continue;
      for (const auto& [second, second_meaning] : out.ch2) out.combinations.push_back(first + second);
    }
    return out;
  }

  std::vector<Named> named(const char* key) {
    std::vector<Named> out;
    for (const Json& one : document.root()[key])
      out.push_back({text(one, "code"), text(one, "name"), letters(one, "values"), text(one, "stiffness")});
    return out;
  }

  template <class Entries>
  void each_once(const Entries& entries, const std::string& key) {
    std::unordered_set<std::string> seen;
    for (std::size_t i = 0; i < entries.size(); ++i)
      if (!seen.insert(entries[i].code).second)
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
    each_once(list.codes_, "codes");
    each_once(list.materials_, "materials");
    each_once(list.shapes_, "shapes");
    each_once(list.nodes_, "nodes");
    each_once(list.header_fields_, "header_fields");
  }
};

namespace {

template <class Entries>
auto find_code(const Entries& entries, std::string_view code) -> decltype(entries.data()) {
  const auto found =
      std::find_if(entries.begin(), entries.end(), [code](const auto& one) { return one.code == code; });
  return found == entries.end() ? nullptr : &*found;
}

/// "except ch1=A,B or continuous": is `letter` among those named?
bool names_letter(std::string_view rule, std::string_view letter) {
  const auto at = rule.find("ch1=");
  if (at == std::string_view::npos || letter.empty()) return false;
  const std::string_view letters = rule.substr(at + 4, rule.find(' ', at) - (at + 4));
  for (const std::string& one : base::split(letters, ','))
    if (one == letter) return true;
  return false;
}

const std::string& by_ch1(const std::map<std::string, std::string>& special, const std::string& usual,
                          std::string_view ch1) {
  const auto found = special.find(std::string(ch1));
  return found == special.end() ? usual : found->second;
}

}  // namespace

const std::string& QuantityRule::unit_for(std::string_view ch1) const {
  return by_ch1(unit_by_ch1, unit, ch1);
}
const std::string& QuantityRule::says_for(std::string_view ch1) const {
  return by_ch1(says_by_ch1, says, ch1);
}

bool QuantityRule::is_required(std::string_view ch1, bool continuous) const {
  if (continuous && required.find("continuous") != std::string::npos) return false;
  if (required.rfind("only", 0) == 0) return names_letter(required, ch1);
  if (required.rfind("except", 0) == 0) return !names_letter(required, ch1);
  return required == "yes";
}

ClockRule CodeEntry::clock_for(std::string_view letter) const {
  if (clock != ClockRule::by_ch1) return clock;
  const auto found = clock_by_ch1.find(std::string(letter));
  return found == clock_by_ch1.end() ? ClockRule::optional : found->second;
}

bool CodeEntry::ch2_applies(std::string_view letter) const {
  if (ch2.empty()) return false;
  return ch2_applies_when.empty() || ch2_applies_when == "optional" || ch2_applies_when.substr(4) == letter;
}

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

const CodeEntry* CodeList::find(std::string_view code) const { return find_code(codes_, code); }
const Named* CodeList::material(std::string_view code) const { return find_code(materials_, code); }
const Named* CodeList::header_field(std::string_view code) const { return find_code(header_fields_, code); }
const Named* CodeList::node(std::string_view code) const { return find_code(nodes_, code); }

int CodeList::kinship(std::string_view code_a, std::string_view code_b) const {
  if (code_a == code_b) return 0;
  const CodeEntry* a = find(code_a);
  const CodeEntry* b = find(code_b);
  if (a == nullptr || b == nullptr) return 2;
  return a->group == b->group && code_a.substr(0, 2) == code_b.substr(0, 2) ? 1 : 2;
}

}  // namespace haunch::coding
