// SPDX-License-Identifier: Apache-2.0
#include "report/output_json.hpp"

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "grading/grade_json.hpp"

namespace haunch::report {
namespace {

using Json = nlohmann::ordered_json;

Json grade_json(const GradedRecord& one) {
  Json json{{"kind", "grade"}, {"edition", 1}, {"file", one.file}, {"inspection", one.inspection}};
  json.update(Json::parse(grading::to_json(one.grade, *one.record)));
  return json;
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
                    {"classes_right", base::or_null<Json>(one.classes_right)},
                    {"classes_asked", base::or_null<Json>(one.classes_asked)},
                    {"action_right", base::or_null<Json>(one.action_right)}});
  }
  return written(Json{{"kind", "scores"}, {"edition", 1}, {"attempts", std::move(list)}});
}

}  // namespace haunch::report
