// SPDX-License-Identifier: Apache-2.0
#include <nlohmann/json.hpp>
#include <string_view>
#include <unordered_map>

#include "base/json_document.hpp"
#include "grading/grade_json.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::ordered_json;

Json overall_json(const Overall& one) {
  Json figures = Json::object(), bounds = Json::object();
  for (const auto& [name, number] : one.figures) figures[name] = number;
  for (const auto& [grade, from] : one.bounds) bounds[std::to_string(grade)] = from;
  return Json{{"id", one.id},
              {"name", one.name},
              {"number", base::or_null<Json>(one.number)},
              {"class", base::or_null<Json>(one.grade)},
              {"complete", one.complete},
              {"meaning", one.meaning},
              {"reason", one.reason},
              {"figures", std::move(figures)},
              {"bounds", std::move(bounds)},
              {"bound_included", one.bound_included},
              {"source", one.source},
              {"provisional", one.provisional},
              {"doubtful", one.doubtful}};
}

Json open_json(const Open& one) {
  return Json{{"observation", one.observation.empty() ? Json(nullptr) : Json(one.observation)},
              {"goal", one.goal.empty() ? Json(nullptr) : Json(one.goal)},
              {"classed", one.classed},
              {"what", one.what}};
}

std::string written(const Grade& grade, const coding::Record* record) {
  std::unordered_map<std::string_view, const coding::Observation*> by_id;
  if (record != nullptr)
    for (const coding::Observation& one : record->observations)
      if (!one.id.empty()) by_id.emplace(one.id, &one);
  Json observations = Json::array();
  for (const ObservationGrade& graded : grade.observations) {
    Json entry{{"observation", graded.observation}};
    if (const auto found = by_id.find(graded.observation); found != by_id.end()) {
      const coding::Observation* seen = found->second;
      entry["code"] = seen->code;
      entry["ch1"] = seen->ch1;
      entry["ch2"] = seen->ch2;
      entry["distance_m"] = base::or_null<Json>(seen->distance_m.value);
    }
    Json classes = Json::object();
    for (const GoalClass& goal : graded.goals)
      classes[goal.goal] = Json{{"class", base::or_null<Json>(goal.grade)},
                                {"outcome", show(goal.outcome)},
                                {"row", goal.row},
                                {"reason", goal.reason},
                                {"source", goal.source},
                                {"provisional", goal.provisional},
                                {"doubtful", goal.doubtful},
                                {"number", base::or_null<Json>(goal.number)}};
    entry["classes"] = std::move(classes);
    entry["max_number"] = base::or_null<Json>(graded.max_number);
    entry["length_m"] = graded.length_m;
    entry["provisional"] = graded.provisional;
    observations.push_back(std::move(entry));
  }
  Json overall = Json::array(), open = Json::array();
  for (const Overall& one : grade.overall) overall.push_back(overall_json(one));
  for (const Open& one : grade.open) open.push_back(open_json(one));
  const Json root{{"kind", "grade"},
                  {"scheme", grade.scheme},
                  {"goals", grade.goals},
                  {"object_class", base::or_null<Json>(grade.object_class)},
                  {"object_class_least", base::or_null<Json>(grade.object_least)},
                  {"object_class_most", base::or_null<Json>(grade.object_most)},
                  {"object_reason", grade.object_reason},
                  {"open", std::move(open)},
                  {"overall", std::move(overall)},
                  {"wholly_inspected", grade.not_inspected.empty()},
                  {"not_inspected", grade.not_inspected},
                  {"provisional", grade.provisional},
                  {"object_number", base::or_null<Json>(grade.object_number)},
                  {"length_number", base::or_null<Json>(grade.length_number)},
                  {"lengths_complete", grade.lengths_complete},
                  {"observations", std::move(observations)},
                  {"missing", grade.missing},
                  {"notes", grade.notes},
                  {"doubtful", grade.doubtful},
                  {"object_class_doubtful", grade.object_class_doubtful}};
  return root.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

std::string to_json(const Grade& grade) { return written(grade, nullptr); }
std::string to_json(const Grade& grade, const coding::Record& record) { return written(grade, &record); }

}  // namespace haunch::grading
