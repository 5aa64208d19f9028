// SPDX-License-Identifier: Apache-2.0
// Reads a scheme file. What a schema cannot say (bounds that fall, sources that exist, a row from
// memory that claims to be firm) is checked here.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {
namespace {

using base::JsonDocument;
using base::Problems;
using Json = nlohmann::json;

std::vector<std::string> words_of(const Json& json, const char* key) {
  return json.contains(key) ? json.at(key).get<std::vector<std::string>>() : std::vector<std::string>();
}

template <class T>
std::optional<T> maybe(const Json& json, const char* key) {
  return json.contains(key) ? std::optional<T>(json.at(key).get<T>()) : std::nullopt;
}

class Reader {
 public:
  explicit Reader(const JsonDocument& document) : document_(document), root_(document.root()) {}

  Scheme::Inside read() {
    inside_.id = root_.at("id").get<std::string>();
    inside_.title = root_.at("title").get<std::string>();
    inside_.procedure_source = root_.value("procedure_source", "");
    inside_.goals = words_of(root_, "goals");
    inside_.worst_class = root_.at("worst_class").get<int>();
    for (int grade = 1; grade <= inside_.worst_class; ++grade) {
      const Json& numbers = root_.at("class_numbers").at("numbers");
      const std::string key = std::to_string(grade);
      if (!numbers.contains(key))
        problem("/class_numbers/numbers", "class " + key + " has no number",
                "a number for each class from 1 to " + std::to_string(inside_.worst_class));
      else
        inside_.class_numbers[grade] = numbers.at(key).get<double>();
    }
    source_of("/class_numbers");
    for (const Json& field : root_.value("site", Json::array()))
      inside_.site.push_back({field.at("field").get<std::string>(), field.at("what").get<std::string>(),
                              words_of(field, "values"), field.value("unit", "")});
    read_conditions();
    read_object();
    for (const Json& entry : root_.value("not_graded", Json::array()))
      inside_.not_graded.push_back({words_of(entry, "codes"), entry.at("why").get<std::string>()});
    for (std::size_t i = 0; i < root_.at("rows").size(); ++i) read_row(i);
    return std::move(inside_);
  }

  Problems problems;

 private:
  void problem(const std::string& pointer, std::string what, std::string expected,
               std::string suggestion = {}) {
    problems.push_back(
        document_.problem(pointer, std::move(what), std::move(expected), std::move(suggestion)));
  }

  /// The sources of the value at `pointer` in words; a key that the file does not explain is a problem.
  std::string source_of(const std::string& pointer, const char* key = "source") {
    const Json& value = root_.at(Json::json_pointer(pointer));
    const Json& sources = root_.at("sources");
    std::vector<std::string> known, words;
    for (const auto& [name, text] : sources.items()) known.push_back(name);
    for (std::size_t i = 0; i < value.at(key).size(); ++i) {
      const auto name = value.at(key)[i].get<std::string>();
      if (sources.contains(name))
        words.push_back(sources.at(name).get<std::string>());
      else
        problem(pointer + "/" + key + "/" + std::to_string(i), "source \"" + name + "\" is not explained",
                "a key of \"sources\"", base::nearest_word(name, known));
    }
    return base::join(words, "; ");
  }

  void goal_known(const std::string& pointer, const std::string& goal) {
    if (std::find(inside_.goals.begin(), inside_.goals.end(), goal) == inside_.goals.end())
      problem(pointer, "\"" + goal + "\" is not a goal of this scheme", base::join(inside_.goals, ", "),
              base::nearest_word(goal, inside_.goals));
  }

  /// Bounds by class: a worse class must start higher, else a larger size could get a better class.
  std::map<int, double> bounds(const std::string& pointer) {
    std::map<int, double> from;
    for (const auto& [key, bound] : root_.at(Json::json_pointer(pointer)).items()) {
      const int grade = std::stoi(key);
      if (grade > inside_.worst_class)
        problem(pointer + "/" + key, "class " + key + " is past the worst class",
                "a class from 1 to " + std::to_string(inside_.worst_class));
      from[grade] = bound.get<double>();
    }
    for (auto next = from.begin(); next != from.end(); ++next)
      if (next != from.begin() && next->second <= std::prev(next)->second)
        problem(pointer + "/" + std::to_string(next->first),
                "class " + std::to_string(next->first) + " starts at " + base::show_number(next->second) +
                    ", not above class " + std::to_string(std::prev(next)->first),
                "bounds that rise with the class");
    return from;
  }

  void read_conditions() {
    const Json& conditions = root_.at("boundary_points").at("conditions");
    for (std::size_t i = 0; i < conditions.size(); ++i) {
      const std::string pointer = "/boundary_points/conditions/" + std::to_string(i);
      const Json& json = conditions[i];
      Condition condition{json.at("condition").get<std::string>(), json.at("field").get<std::string>(), {}};
      source_of(pointer);
      for (const Json& option : json.at("options")) {
        PointsOption read{
            option.at("criterion").get<std::string>(), option.at("when").get<std::string>(), {}};
        for (const auto& [goal, points] : option.at("points").items()) {
          goal_known(pointer, goal);
          read.points[goal] = points.get<double>();
        }
        condition.options.push_back(std::move(read));
      }
      inside_.conditions.push_back(std::move(condition));
    }
  }

  void read_object() {
    inside_.least_final_number = root_.at("least_final_number").at("value").get<double>();
    inside_.least_source = source_of("/least_final_number");
    inside_.point_length_m = root_.at("point_length_m").at("value").get<double>();
    source_of("/point_length_m");
    inside_.length_points_found = root_.at("length_points").at("found").get<bool>();
    inside_.length_points_why = root_.at("length_points").at("why").get<std::string>();
    const Json& object = root_.at("object_class");
    inside_.object_from = bounds("/object_class/from");
    inside_.object_otherwise = object.at("otherwise").get<int>();
    inside_.object_source = source_of("/object_class");
    inside_.object_provisional = object.at("provisional").get<bool>();
    source_of("/object_class", "meaning_source");
    for (const auto& [key, meaning] : object.at("meaning").items())
      inside_.object_meaning[std::stoi(key)] = meaning.get<std::string>();
  }

  void read_row(std::size_t index) {
    const std::string pointer = "/rows/" + std::to_string(index);
    const Json& json = root_.at("rows")[index];
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
    }
    row.quantity = json.value("quantity", "");
    row.unit = json.value("unit", "");
    if (json.contains("from")) row.from = bounds(pointer + "/from");
    row.otherwise = maybe<int>(json, "otherwise");
    row.flat = maybe<int>(json, "class");
    row.not_relevant = json.value("not_relevant", false);
    row.source = source_of(pointer);
    row.provisional = json.at("provisional").get<bool>();
    for (const auto& grade : {row.otherwise, row.flat})
      if (grade && *grade > inside_.worst_class)
        problem(pointer, "class " + std::to_string(*grade) + " is past the worst class",
                "a class from 1 to " + std::to_string(inside_.worst_class));
    if (row.otherwise && !row.from.empty() && *row.otherwise > row.from.begin()->first)
      problem(pointer + "/otherwise", "the class below every bound is worse than the one above it",
              "class " + std::to_string(row.from.begin()->first) + " or better");
    if ((row.flat ? 1 : 0) + (row.from.empty() ? 0 : 1) + (row.not_relevant ? 1 : 0) != 1)
      problem(pointer, "row \"" + row.id + "\" does not say one thing",
              "either \"class\", or \"from\" with \"quantity\", or \"not_relevant\": true");
    if (!row.from.empty() && row.quantity.empty())
      problem(pointer, "row \"" + row.id + "\" has bounds but no quantity", "\"quantity\": \"q1\" or \"q2\"");
    const auto sources = words_of(json, "source");
    if (!row.provisional && std::find(sources.begin(), sources.end(), "memory") != sources.end())
      problem(pointer + "/provisional", "row \"" + row.id + "\" is from memory and not marked provisional",
              "true");
    if (!ids_.insert(row.id).second)
      problem(pointer + "/id", "two rows are called \"" + row.id + "\"", "each id once");
    inside_.rows.push_back(std::move(row));
  }

  const JsonDocument& document_;
  const Json& root_;
  Scheme::Inside inside_;
  std::set<std::string> ids_;
};

}  // namespace

base::Result<Scheme> Scheme::read(const std::filesystem::path& path) {
  const auto document = JsonDocument::read(path, "grading-scheme");
  if (!document) return document.problems();
  Reader reader(document.value());
  auto inside = std::make_shared<const Inside>(reader.read());
  if (base::has_errors(reader.problems)) return reader.problems;
  Scheme scheme;
  scheme.inside_ = std::move(inside);
  return scheme;
}

const Scheme& Scheme::shipped() {
  static const Scheme scheme = [] {
    auto read = shipped_named("three-goals");
    if (!read)
      throw std::runtime_error("the content folder is damaged: " + base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return scheme;
}

std::vector<std::string> Scheme::shipped_ids() {
  std::vector<std::string> ids;
  for (const auto& entry : std::filesystem::directory_iterator(base::content_dir() / "grading"))
    if (entry.path().extension() == ".json") ids.push_back(entry.path().stem().string());
  std::sort(ids.begin(), ids.end());
  return ids;
}

base::Result<Scheme> Scheme::shipped_named(const std::string& id) {
  const std::vector<std::string> ids = shipped_ids();
  if (std::find(ids.begin(), ids.end(), id) == ids.end())
    return base::Problem{{},
                         base::Severity::error,
                         "no shipped scheme is called \"" + id + "\"",
                         "one of \"" + base::join(ids, "\", \"") + "\"",
                         base::nearest_word(id, ids)};
  return read(base::content_dir() / "grading" / (id + ".json"));
}

std::filesystem::path Scheme::file_named(const std::string& id_or_file) {
  const std::vector<std::string> ids = shipped_ids();
  const bool shipped = std::find(ids.begin(), ids.end(), id_or_file) != ids.end();
  return shipped ? base::content_dir() / "grading" / (id_or_file + ".json")
                 : std::filesystem::path(id_or_file);
}

base::Result<Scheme> Scheme::named(const std::string& id_or_file) {
  const std::filesystem::path file = file_named(id_or_file);
  // A bare word that is no file is a slip in an id; anything else is a file that may be missing.
  const bool a_word = id_or_file.find_first_of("/\\.") == std::string::npos;
  return a_word && !std::filesystem::exists(file) ? shipped_named(id_or_file) : read(file);
}

const std::string& Scheme::id() const { return inside_->id; }
const std::vector<std::string>& Scheme::goals() const { return inside_->goals; }
int Scheme::worst_class() const { return inside_->worst_class; }

const std::vector<SiteField>& Scheme::site_fields() const { return inside_->site; }

std::string Scheme::object_class_meaning(int object_class) const {
  const auto found = inside_->object_meaning.find(object_class);
  return found == inside_->object_meaning.end() ? std::string() : found->second;
}

std::string show(Outcome outcome) {
  switch (outcome) {
    case Outcome::classed:
      return "classed";
    case Outcome::no_row:
      return "no row";
    case Outcome::value_missing:
      return "value missing";
    case Outcome::condition_unknown:
      return "condition unknown";
    case Outcome::not_relevant:
      return "not relevant";
  }
  return {};
}

}  // namespace haunch::grading
