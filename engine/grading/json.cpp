// SPDX-License-Identifier: Apache-2.0
#include <nlohmann/json.hpp>

#include "grading/grade_json.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

std::string written(const Grade& grade, const coding::Record* record) {
  Json observations = Json::array();
  for (const ObservationGrade& graded : grade.observations) {
    Json entry{{"observation", graded.observation}};
    const coding::Observation* seen = record == nullptr ? nullptr : record->find(graded.observation);
    if (seen != nullptr) {
      entry["code"] = seen->code;
      entry["ch1"] = seen->ch1;
      entry["ch2"] = seen->ch2;
      entry["distance_m"] = or_null(seen->distance_m.value);
    }
    Json classes = Json::object();
    for (const GoalClass& goal : graded.goals)
      classes[goal.goal] = Json{
          {"class", or_null(goal.grade)},  {"outcome", show(goal.outcome)}, {"row", goal.row},
          {"reason", goal.reason},         {"source", goal.source},         {"provisional", goal.provisional},
          {"number", or_null(goal.number)}};
    entry["classes"] = std::move(classes);
    entry["max_number"] = or_null(graded.max_number);
    entry["length_m"] = graded.length_m;
    entry["provisional"] = graded.provisional;
    observations.push_back(std::move(entry));
  }
  const Json root{{"kind", "grade"},
                  {"scheme", grade.scheme},
                  {"goals", grade.goals},
                  {"object_class", or_null(grade.object_class)},
                  {"object_reason", grade.object_reason},
                  {"provisional", grade.provisional},
                  {"object_number", or_null(grade.object_number)},
                  {"length_number", or_null(grade.length_number)},
                  {"observations", std::move(observations)},
                  {"missing", grade.missing},
                  {"notes", grade.notes}};
  return root.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

std::string to_json(const Grade& grade) { return written(grade, nullptr); }
std::string to_json(const Grade& grade, const coding::Record& record) { return written(grade, &record); }

}  // namespace haunch::grading
