// SPDX-License-Identifier: Apache-2.0
// Class rows of a scheme file, and its own tables of defects where rows take their classes from one.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "grading/scheme_reader.hpp"

namespace haunch::grading {
namespace {

std::vector<std::string> words_of(const nlohmann::json& json, const char* key) {
  return json.contains(key) ? json.at(key).get<std::vector<std::string>>() : std::vector<std::string>();
}

template <class T>
std::optional<T> maybe(const nlohmann::json& json, const char* key) {
  return json.contains(key) ? std::optional<T>(json.at(key).get<T>()) : std::nullopt;
}

Quantity quantity_of(const std::string& word) {
  if (word == "q1") return Quantity::q1;
  if (word == "q2") return Quantity::q2;
  return word == "clock arc" ? Quantity::clock_arc : Quantity::none;
}

bool meet(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return a.empty() || b.empty() || std::any_of(a.begin(), a.end(), [&](const std::string& letter) {
           return std::find(b.begin(), b.end(), letter) != b.end();
         });
}

/// Can both hold for one finding? A row that asks for a remark may stand before the one for the rest.
bool overlap(const Row& a, const Row& b) {
  if (a.goal != b.goal || !meet(a.ch1, b.ch1) || !meet(a.ch2, b.ch2)) return false;
  if (!a.pipe.empty() && !b.pipe.empty() && a.pipe != b.pipe) return false;
  if (!a.remark_has.empty() && a.remark_has != b.remark_has) return false;
  const double low = std::max(a.bore_above_mm.value_or(0), b.bore_above_mm.value_or(0));
  const double high = std::min(a.bore_to_mm.value_or(1e18), b.bore_to_mm.value_or(1e18));
  return low < high;
}

}  // namespace

void SchemeReader::read_tables() {
  const Json::json_pointer at("/tables");
  if (!root_.contains(at) || !root_.at(at).is_object()) return;
  for (const auto& [key, unused] : root_.at(at).items()) {
    const std::string pointer = (at / key).to_string();
    const Json* json = sound(pointer);
    if (json == nullptr) continue;
    Table table;
    table.kind = json->at("name").get<std::string>() + " (" + key + ")";
    table.goal = json->at("goal").get<std::string>();
    table.unit = json->value("unit", "");
    goal_known(pointer + "/goal", table.goal);
    Json above = Json::object();
    for (const auto& [grade, cell] : json->at("grades").items()) {
      const std::string here = pointer + "/grades/" + grade;
      if (!class_known(here, std::stoi(grade))) continue;
      table.grades.insert(std::stoi(grade));
      const Json &criterion = cell.at("criterion"), &score = cell.at("score");
      Mark mark = mark_of(criterion, here + "/criterion");
      const Mark of_score = mark_of(score, here + "/score");
      mark.provisional = mark.provisional || of_score.provisional;
      if (of_score.source != mark.source) mark.source += "; score: " + of_score.source;
      table.marks[std::stoi(grade)] = std::move(mark);
      if (criterion.contains("above")) above[grade] = criterion.at("above");
      if (!score.at("value").is_null()) table.scores[std::stoi(grade)] = score.at("value").get<double>();
    }
    table.above = bounds(above, pointer + "/grades");
    for (auto next = table.scores.begin(); next != table.scores.end(); ++next)
      if (next != table.scores.begin() && next->second < std::prev(next)->second)
        problem(pointer + "/grades/" + std::to_string(next->first) + "/score/value",
                "class " + std::to_string(next->first) + " scores less than class " +
                    std::to_string(std::prev(next)->first),
                "scores that never fall as the class gets worse");
    tables_[key] = std::move(table);
  }
}

void SchemeReader::take_table(Row& row, const Json& json, const std::string& pointer) {
  const auto name = json.at("table").get<std::string>();
  const auto found = tables_.find(name);
  if (found == tables_.end()) {
    std::vector<std::string> known;
    for (const auto& [key, table] : tables_) known.push_back(key);
    if (root_.value("tables", Json::object()).contains(name)) return;
    problem(pointer + "/table", "\"" + name + "\" is not one of the scheme's tables",
            known.empty() ? "a key of \"tables\"" : base::join(known, ", "), base::nearest_word(name, known));
    return;
  }
  const Table& table = found->second;
  row.kind = table.kind;
  row.scores = table.scores;
  row.class_marks = table.marks;
  if (row.goal != table.goal)
    problem(pointer + "/goal", "the table is for \"" + table.goal + "\", the row for \"" + row.goal + "\"",
            "\"" + table.goal + "\"");
  for (const auto& grade : {row.flat, row.otherwise, row.without_size})
    if (grade && !table.grades.contains(*grade))
      problem(pointer, "class " + std::to_string(*grade) + " is not in the table " + row.kind,
              "a class that the table has");
  if (row.quantity == Quantity::none) return;
  row.bounds = table.above;
  row.bound_included = false;
  if (row.unit.empty()) row.unit = table.unit;
  if (row.bounds.empty())
    problem(pointer + "/table", "the table " + row.kind + " has no bounds to measure by",
            "a table whose criteria have \"above\", or \"class\" for the row");
}

void SchemeReader::read_row(const Json& json, const std::string& pointer) {
  Row row;
  row.id = json.at("id").get<std::string>();
  row.code = json.at("code").get<std::string>();
  row.ch1 = words_of(json, "ch1");
  row.ch2 = words_of(json, "ch2");
  row.goal = json.at("goal").get<std::string>();
  goal_known(pointer + "/goal", row.goal);
  if (json.contains("when")) {
    const Json& when = json.at("when");
    row.pipe = when.value("pipe", "");
    row.bore_above_mm = maybe<double>(when, "bore_above_mm");
    row.bore_to_mm = maybe<double>(when, "bore_to_mm");
    for (const std::string& word : words_of(when, "remark_has")) row.remark_has.push_back(base::lower(word));
  }
  row.quantity = quantity_of(json.value("quantity", ""));
  row.divided_by = json.value("divided_by", "");
  if (!row.divided_by.empty())
    if (const SiteField* field = field_known(pointer + "/divided_by", row.divided_by);
        field != nullptr && field->unit.empty())
      problem(pointer + "/divided_by", "\"" + row.divided_by + "\" is no number", "a field with a unit");
  row.unit = json.value("unit", "");
  row.bound_included = !json.contains("above");
  for (const char* key : {"from", "above"})
    if (json.contains(key)) row.bounds = bounds(json.at(key), pointer + "/" + key);
  row.otherwise = maybe<int>(json, "otherwise");
  row.without_size = maybe<int>(json, "without_size");
  row.below_is = json.value("below_is", "");
  row.flat = maybe<int>(json, "class");
  row.not_relevant = json.value("not_relevant", false);
  row.mark = mark_of(json, pointer);
  if (json.contains("table")) take_table(row, json, pointer);
  check_row(row, json, pointer);
  inside.rows.push_back(std::move(row));
  row_pointers_.push_back(pointer);
}

void SchemeReader::check_row(const Row& row, const Json& json, const std::string& pointer) {
  for (const char* key : {"otherwise", "class", "without_size"})
    if (json.contains(key)) class_known(pointer + "/" + key, json.at(key).get<int>());
  if (row.otherwise && !row.bounds.empty() && *row.otherwise > row.bounds.begin()->first)
    problem(pointer + "/otherwise", "the class below every bound is worse than the one above it",
            "class " + std::to_string(row.bounds.begin()->first) + " or better");
  const bool measures = json.contains("from") || json.contains("above") ||
                        (json.contains("table") && json.contains("quantity"));
  if ((row.flat ? 1 : 0) + (measures ? 1 : 0) + (row.not_relevant ? 1 : 0) != 1)
    problem(pointer, "row \"" + row.id + "\" does not say one thing",
            "either \"class\", or \"from\" or \"above\" with \"quantity\", or \"not_relevant\": true");
  if (measures && row.quantity == Quantity::none)
    problem(pointer, "row \"" + row.id + "\" has bounds but no quantity",
            "\"quantity\": \"q1\", \"q2\" or \"clock arc\"");
  if (row.bore_above_mm && row.bore_to_mm && *row.bore_above_mm >= *row.bore_to_mm)
    problem(pointer + "/when",
            "no bore is over " + base::show_number(*row.bore_above_mm) + " and up to " +
                base::show_number(*row.bore_to_mm) + " mm",
            "\"bore_above_mm\" below \"bore_to_mm\"");
  const std::string strength = json.value("mapping", "good");
  if (strength != "good" && !row.mark.provisional)
    problem(pointer + "/provisional",
            "row \"" + row.id + "\" has a " + strength + " mapping and is not marked provisional", "true");
  once(pointer + "/id", "two rows are called", row_ids_, row.id);
  check_letters(row, pointer);
}

void SchemeReader::check_letters(const Row& row, const std::string& pointer) {
  const coding::CodeList& list = coding::CodeList::shipped();
  const coding::CodeEntry* entry = list.find(row.code);
  if (entry == nullptr) {
    std::vector<std::string> codes;
    for (const coding::CodeEntry& one : list.codes()) codes.push_back(one.code);
    problem(pointer + "/code", "\"" + row.code + "\" is not a main code", "a code of the code list",
            base::only_nearest_word(row.code, codes));
    return;
  }
  const auto check = [&](const char* key, const std::vector<std::string>& letters,
                         const std::map<std::string, std::string>& known,
                         const std::map<std::string, std::string>& habits) {
    for (std::size_t i = 0; i < letters.size(); ++i) {
      if (known.contains(letters[i]) || habits.contains(letters[i])) continue;
      std::vector<std::string> names;
      for (const auto& [letter, meaning] : known) names.push_back(letter);
      problem(pointer + "/" + key + "/" + std::to_string(i),
              row.code + " has no " + key + " \"" + letters[i] + "\"",
              names.empty() ? "no " + std::string(key) : base::join(names, ", "));
    }
  };
  check("ch1", row.ch1, entry->ch1, entry->ch1_habits);
  check("ch2", row.ch2, entry->ch2, entry->ch2_habits);
}

void SchemeReader::check_overlaps() {
  std::map<std::string, std::vector<std::size_t>> by_code;
  for (std::size_t i = 0; i < inside.rows.size(); ++i) {
    std::vector<std::size_t>& before = by_code[inside.rows[i].code];
    for (const std::size_t other : before)
      if (overlap(inside.rows[other], inside.rows[i]))
        problem(row_pointers_[i],
                "row \"" + inside.rows[i].id + "\" overlaps row \"" + inside.rows[other].id +
                    "\": both can hold for one finding",
                "rows of one code and goal that differ in ch1, ch2 or \"when\"");
    before.push_back(i);
  }
}

}  // namespace haunch::grading
