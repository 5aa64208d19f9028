// SPDX-License-Identifier: Apache-2.0
// The sections of a scheme file that procedure "three goals" needs.
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "grading/scheme_reader.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::json;

void read_numbers(SchemeReader& reader, ThreeGoals& tables) {
  const Json* section = reader.sound("/class_numbers");
  if (section == nullptr) return;
  tables.numbers = reader.mark_of(*section, "/class_numbers");
  const Json& numbers = section->at("numbers");
  for (int grade = 1; grade <= reader.inside.worst_class; ++grade) {
    const std::string key = std::to_string(grade);
    if (!numbers.contains(key)) {
      reader.problem("/class_numbers/numbers", "class " + key + " has no number",
                     "a number for each class from 1 to " + std::to_string(reader.inside.worst_class));
      continue;
    }
    const double number = numbers.at(key).get<double>();
    if (grade > 1 && tables.class_numbers.contains(grade - 1) && number < tables.class_numbers.at(grade - 1))
      reader.problem("/class_numbers/numbers/" + key,
                     "class " + key + " has a lower number than class " + std::to_string(grade - 1),
                     "numbers that never fall as the class gets worse");
    tables.class_numbers[grade] = number;
  }
  for (const auto& [key, number] : numbers.items())
    reader.class_known("/class_numbers/numbers/" + key, std::stoi(key));
}

void read_conditions(SchemeReader& reader, ThreeGoals& tables) {
  static const SiteField place{"place", "place on the circumference", {"lower", "upper", "whole"}, ""};
  static const SiteField joint{"joint", "at a joint", {"yes", "no"}, ""};
  std::set<std::string> fields;
  reader.each("/boundary_points/conditions", [&](const Json& json, const std::string& pointer) {
    Condition condition{json.at("condition").get<std::string>(),
                        json.at("field").get<std::string>(),
                        {},
                        reader.mark_of(json, pointer)};
    reader.once(pointer + "/field", "two conditions are for", fields, condition.field);
    const SiteField* field = condition.field == "place" ? &place
                             : condition.field == "joint"
                                 ? &joint
                                 : reader.field_known(pointer + "/field", condition.field);
    std::set<std::string> seen;
    for (std::size_t i = 0; i < json.at("options").size(); ++i) {
      const Json& option = json.at("options")[i];
      const std::string here = pointer + "/options/" + std::to_string(i);
      PointsOption read{option.at("criterion").get<std::string>(), option.at("when").get<std::string>(), {}};
      reader.option_known(here + "/when", field, read.when, seen);
      for (const auto& [goal, points] : option.at("points").items()) {
        reader.goal_known(here + "/points/" + goal, goal);
        read.points[goal] = points.get<double>();
      }
      condition.options.push_back(std::move(read));
    }
    tables.conditions.push_back(std::move(condition));
  });
}

}  // namespace

void read_three_goals(SchemeReader& reader) {
  ThreeGoals& tables = reader.inside.three_goals;
  read_numbers(reader, tables);
  read_conditions(reader, tables);
  if (const Json* least = reader.sound("/least_final_number")) {
    tables.least_final_number = least->at("value").get<double>();
    tables.least = reader.mark_of(*least, "/least_final_number");
  }
  if (const Json* length = reader.sound("/point_length_m")) {
    tables.point_length_m = length->at("value").get<double>();
    reader.mark_of(*length, "/point_length_m");
  }
  if (const Json* points = reader.sound("/length_points"))
    tables.length_points_why = points->at("why").get<std::string>();
  const Json* object = reader.sound("/object_class");
  if (object == nullptr) return;
  tables.object_from = reader.bounds(object->at("from"), "/object_class/from");
  tables.object_otherwise = object->at("otherwise").get<int>();
  reader.class_known("/object_class/otherwise", tables.object_otherwise);
  tables.object = reader.mark_of(*object, "/object_class");
  if (!tables.object_from.empty() && tables.object_otherwise > tables.object_from.begin()->first)
    reader.problem("/object_class/otherwise", "the class below every bound is worse than the one above it",
                   "class " + std::to_string(tables.object_from.begin()->first) + " or better");
}

}  // namespace haunch::grading
