// SPDX-License-Identifier: Apache-2.0
#include "report/output_json.hpp"

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "grading/grade_json.hpp"
#include "report/owner_words.hpp"

namespace haunch::report {
namespace {

using Json = nlohmann::ordered_json;

Json next_json(const GradedRecord& one) {
  const Meanings& meanings = Meanings::shipped();
  const Measure measure = measure_of(*one.record, {}, base::LengthUnit::metres);
  Json steps = Json::array(), findings = Json::array();
  for (const OwnerStep& step : next_steps(*one.record, *one.advice, one.grade, measure, meanings))
    steps.push_back({{"id", meanings.next()[step.next].id},
                     {"action", meanings.next()[step.waits ? meanings.ask() : step.next].action_words},
                     {"waits", step.waits},
                     {"heading", step.heading},
                     {"text", step.text},
                     {"findings", step.numbers}});
  for (const FindingGroup& group : one.advice->groups)
    for (const RankedFinding& finding : group.findings)
      findings.push_back({{"number", finding.number},
                          {"observation", finding.seen->id},
                          {"title", finding.meaning->title},
                          {"next", meanings.next()[finding.next].id},
                          {"waits", waits(finding.next, *one.advice, meanings)}});
  Json remarks = Json::array();
  for (const RemarkFound& remark : one.advice->remarks)
    remarks.push_back({{"title", remark.sign->meaning.title},
                       {"at_m", base::or_null<Json>(remark.at_m)},
                       {"words", remark.words}});
  return Json{{"id", meanings.next()[one.advice->next].id},
              {"action", meanings.next()[one.advice->next].action_words},
              {"steps", std::move(steps)},
              {"remarks", std::move(remarks)},
              {"findings", std::move(findings)}};
}

Json grade_json(const GradedRecord& one) {
  Json json{{"kind", "grade"}, {"edition", 1}, {"file", one.file}, {"inspection", one.inspection}};
  json.update(Json::parse(grading::to_json(one.grade, *one.record)));
  if (one.advice != nullptr) json["next"] = next_json(one);
  return json;
}

/// Text from real files may hold bytes that are no UTF-8; they are shown as the replacement mark.
std::string written(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace

std::string grade_to_json(const GradedRecord& one) { return written(grade_json(one)); }

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
                    {"classes_right_firm", base::or_null<Json>(one.classes_right_firm)},
                    {"classes_asked_firm", base::or_null<Json>(one.classes_asked_firm)},
                    {"action_right", base::or_null<Json>(one.action_right)}});
  }
  return written(Json{{"kind", "scores"}, {"edition", 1}, {"attempts", std::move(list)}});
}

}  // namespace haunch::report
