// SPDX-License-Identifier: Apache-2.0
#include "report/grade_json.hpp"

#include <nlohmann/json.hpp>

namespace haunch::report {
namespace {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json number_json(const coding::Number& number) {
  if (number.value) return *number.value;
  return number.text.empty() ? Json(nullptr) : Json(number.text);
}

Json goal_json(const grading::GoalClass& goal) {
  return Json{{"goal", goal.goal},
              {"outcome", grading::show(goal.outcome)},
              {"class", or_null(goal.grade)},
              {"number", or_null(goal.number)},
              {"row", goal.row},
              {"reason", goal.reason},
              {"source", goal.source},
              {"provisional", goal.provisional}};
}

Json grade_json(const GradedRecord& one) {
  const grading::Grade& grade = one.grade;
  Json observations = Json::array();
  for (const grading::ObservationGrade& graded : grade.observations) {
    Json entry{{"observation", graded.observation}};
    if (const coding::Observation* seen = one.record->find(graded.observation)) {
      entry["distance_m"] = number_json(seen->distance_m);
      entry["code"] = seen->code;
      entry["ch1"] = seen->ch1;
      entry["ch2"] = seen->ch2;
    }
    Json classes = Json::array();
    for (const grading::GoalClass& goal : graded.goals) classes.push_back(goal_json(goal));
    entry["classes"] = std::move(classes);
    entry["max_number"] = or_null(graded.max_number);
    entry["length_m"] = graded.length_m;
    entry["provisional"] = graded.provisional;
    observations.push_back(std::move(entry));
  }
  return Json{{"kind", "grade"},
              {"edition", 1},
              {"file", one.file},
              {"inspection", one.inspection},
              {"scheme", grade.scheme},
              {"goals", grade.goals},
              {"object_class", or_null(grade.object_class)},
              {"object_number", or_null(grade.object_number)},
              {"length_number", or_null(grade.length_number)},
              {"object_reason", grade.object_reason},
              {"provisional", grade.provisional},
              {"missing", grade.missing},
              {"notes", grade.notes},
              {"observations", std::move(observations)}};
}

/// Text from real files may hold bytes that are no UTF-8; they are shown as the replacement mark.
std::string written(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace

std::string grades_to_json(const std::vector<GradedRecord>& graded) {
  if (graded.size() == 1) return written(grade_json(graded.front()));
  Json grades = Json::array();
  for (const GradedRecord& one : graded) grades.push_back(grade_json(one));
  return written(Json{{"kind", "grades"}, {"edition", 1}, {"grades", std::move(grades)}});
}

std::string scores_to_json(const std::vector<scores::Attempt>& attempts) {
  Json list = Json::array();
  for (const scores::Attempt& one : attempts) {
    list.push_back({{"id", one.id},
                    {"trainee", one.trainee},
                    {"finished_at", one.finished_at},
                    {"scenario", one.scenario},
                    {"scenario_hash", one.scenario_hash},
                    {"program", one.program},
                    {"rules_hash", one.rules_hash},
                    {"scheme_hash", one.scheme_hash},
                    {"code_list_hash", one.code_list_hash},
                    {"score", one.score},
                    {"hits", one.hits},
                    {"missed", one.missed},
                    {"invented", one.invented},
                    {"classes_right", or_null(one.classes_right)},
                    {"classes_asked", or_null(one.classes_asked)},
                    {"action_right", or_null(one.action_right)}});
  }
  return written(Json{{"kind", "scores"}, {"edition", 1}, {"attempts", std::move(list)}});
}

}  // namespace haunch::report
