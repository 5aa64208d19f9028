// SPDX-License-Identifier: Apache-2.0
// A marking as JSON. Every entry can be read without the two records beside it.
#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "grading/grade_json.hpp"
#include "marking/mark.hpp"

namespace haunch::marking {
namespace {

using Json = nlohmann::ordered_json;

Json verdict_json(const Verdict& verdict) {
  return Json{
      {"aspect", show(verdict.aspect)}, {"standing", show(verdict.standing)}, {"given", verdict.given},
      {"expected", verdict.expected},   {"tolerance", verdict.tolerance},     {"source", verdict.source},
      {"earned", verdict.earned},       {"counts", verdict.counts},           {"sentence", verdict.sentence}};
}

Json hit_json(const Hit& hit) {
  Json verdicts = Json::array();
  for (const Verdict& verdict : hit.verdicts) verdicts.push_back(verdict_json(verdict));
  Json json{{"truth", hit.truth},
            {"attempt", hit.attempt},
            {"truth_code", hit.truth_code},
            {"attempt_code", hit.attempt_code},
            {"truth_m", base::or_null<Json>(hit.truth_m)},
            {"attempt_m", base::or_null<Json>(hit.attempt_m)},
            {"weight", hit.weight},
            {"weight_why", hit.weight_why},
            {"earned", hit.earned},
            {"neutral", hit.neutral},
            {"verdicts", std::move(verdicts)}};
  if (!hit.also_truths.empty()) json["also_truths"] = hit.also_truths;
  if (!hit.also_attempts.empty()) json["also_attempts"] = hit.also_attempts;
  return json;
}

Json class_json(const ClassVerdict& verdict) {
  const bool misgraded = verdict.given && verdict.own_record && verdict.given != verdict.own_record;
  const bool miscoded = verdict.truth && verdict.own_record && verdict.truth != verdict.own_record;
  Json json = Json::object();
  if (!verdict.observation.empty()) json["observation"] = verdict.observation;
  json["goal"] = verdict.goal;
  json["given"] = base::or_null<Json>(verdict.given);
  json["own_record"] = base::or_null<Json>(verdict.own_record);
  json["truth"] = base::or_null<Json>(verdict.truth);
  json["own_row"] = verdict.own_row;
  json["truth_row"] = verdict.truth_row;
  json["own_provisional"] = verdict.own_provisional;
  json["truth_provisional"] = verdict.truth_provisional;
  json["misgraded"] = misgraded;
  json["miscoded"] = miscoded;
  json["sentence"] = verdict.sentence;
  return json;
}

/// A grade as it stands in a file of its own, but for what names it there.
Json grade_json(const grading::Grade& grade) {
  Json json = Json::parse(grading::to_json(grade));
  json.erase("kind");
  return json;
}

Json grading_json(const GradingMarks& grading) {
  if (!grading.given) return "not given";
  Json classes = Json::array();
  for (const ClassVerdict& verdict : grading.classes) classes.push_back(class_json(verdict));
  return Json{{"right", grading.right},           {"asked", grading.asked},
              {"right_firm", grading.right_firm}, {"asked_firm", grading.asked_firm},
              {"classes", std::move(classes)},    {"object", class_json(grading.object)}};
}

Json counter_json(const Marking& marking) {
  if (!marking.counter) return nullptr;
  const CounterError& counter = *marking.counter;
  return Json{{"zero_m", counter.zero_m}, {"scale", counter.scale},     {"agree", counter.agree},
              {"common", counter.common}, {"penalty", counter.penalty}, {"sentences", counter.sentences}};
}

Json help_json(const Marking& marking) {
  Json places = Json::array();
  int named = 0;
  for (const HintTaken& one : marking.hints) {
    places.push_back(one.distance_m);
    named += one.named ? 1 : 0;
  }
  return Json{{"hints", std::move(places)}, {"named", named}, {"sentence", marking.help}};
}

Json summary_json(const Summary& counts) {
  return Json{{"there", counts.there},
              {"found", counts.found},
              {"right_name", counts.right_name},
              {"missed", counts.missed},
              {"false_calls", counts.false_calls},
              {"duplicates", counts.duplicates},
              {"not_visible", counts.not_visible},
              {"inspected_m", base::or_null<Json>(counts.inspected_m)},
              {"false_per_100m", base::or_null<Json>(counts.false_per_100m)},
              {"sentence", counts.sentence}};
}

}  // namespace

std::string to_json(const Marking& marking) {
  Json hits = Json::array(), missed = Json::array(), invented = Json::array(), not_visible = Json::array();
  for (const Hit& hit : marking.hits) hits.push_back(hit_json(hit));
  for (const Missed& one : marking.missed) {
    missed.push_back({{"truth", one.truth},
                      {"code", one.code},
                      {"distance_m", base::or_null<Json>(one.distance_m)},
                      {"weight", one.weight},
                      {"weight_why", one.weight_why},
                      {"dangerous", one.dangerous},
                      {"sentence", one.sentence}});
    if (one.in_view && one.in_view->has_outline)
      missed.back()["in_view"] = {{"in_view_s", one.in_view->in_view_s},
                                  {"plainly_s", one.in_view->plainly_s},
                                  {"most_percent", one.in_view->most_percent}};
  }
  for (const Invented& one : marking.invented)
    invented.push_back({{"attempt", one.attempt},
                        {"code", one.code},
                        {"distance_m", base::or_null<Json>(one.distance_m)},
                        {"penalty", one.penalty},
                        {"duplicate", one.duplicate},
                        {"sentence", one.sentence}});
  for (const NotVisible& one : marking.not_visible)
    not_visible.push_back({{"truth", one.truth},
                           {"code", one.code},
                           {"distance_m", base::or_null<Json>(one.distance_m)},
                           {"why", one.why}});
  Json costs = Json::array();
  for (const Cost& one : marking.costs)
    costs.push_back(
        {{"truth", one.truth}, {"attempt", one.attempt}, {"what", one.what}, {"points", one.points}});
  Json skills = Json::array();
  for (const Skill& one : marking.skills)
    skills.push_back({{"name", one.name},
                      {"right", one.right},
                      {"partly", one.partly},
                      {"wrong", one.wrong},
                      {"earned", base::or_null<Json>(one.earned)},
                      {"sentence", one.sentence}});
  const Consequence& both = marking.consequence;
  const Json root{
      {"kind", "marking"},
      {"edition", 1},
      {"score", marking.score},
      {"costs", std::move(costs)},
      {"warnings", marking.warnings},
      {"remarks", marking.remarks},
      {"hits", std::move(hits)},
      {"missed", std::move(missed)},
      {"invented", std::move(invented)},
      {"not_visible", std::move(not_visible)},
      {"counter", counter_json(marking)},
      {"summary", summary_json(marking.summary)},
      {"skills", std::move(skills)},
      {"help", help_json(marking)},
      {"consequence",
       {{"sentences", both.sentences},
        {"truth", grade_json(both.truth)},
        {"attempt", grade_json(both.attempt)}}},
      {"grading", grading_json(marking.grading)},
      {"action",
       {{"given", marking.action.given ? Json(coding::show(*marking.action.given)) : Json(nullptr)},
        {"own_record", coding::show(marking.action.own_record)},
        {"truth", coding::show(marking.action.truth)},
        {"right", marking.action.right},
        {"verdict", show(marking.action.standing)},
        {"sentence", marking.action.sentence}}}};
  return root.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace haunch::marking
