// SPDX-License-Identifier: Apache-2.0
#include "learning/kept.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <nlohmann/json.hpp>
#include <set>

namespace haunch::learning {
namespace {

using Json = nlohmann::json;
constexpr double seconds_a_day = 86400;

std::optional<Skill> skill_named(const std::string& word) {
  const auto found =
      std::find_if(all_skills.begin(), all_skills.end(), [&](Skill skill) { return show(skill) == word; });
  return found == all_skills.end() ? std::nullopt : std::optional(*found);
}

/// "BAB B A" -> "BAB"
std::string main_code(const std::string& code) { return code.substr(0, code.find(' ')); }

/// What a verdict of this aspect earned; nothing where it was not asked or does not count.
std::optional<double> earned(const Json& hit, const std::string& aspect) {
  for (const Json& verdict : hit.value("verdicts", Json::array())) {
    if (verdict.value("aspect", std::string()) != aspect) continue;
    if (verdict.value("standing", std::string()) == "not asked") return std::nullopt;
    return std::clamp(verdict.value("earned", 0.0), 0.0, 1.0);
  }
  return std::nullopt;
}

}  // namespace

std::optional<double> days_of(const std::string& utc) {
  std::tm parts{};
  char end = 0;
  if (std::sscanf(utc.c_str(), "%4d-%2d-%2dT%2d:%2d:%2d%c", &parts.tm_year, &parts.tm_mon, &parts.tm_mday,
                  &parts.tm_hour, &parts.tm_min, &parts.tm_sec, &end) != 7 ||
      end != 'Z')
    return std::nullopt;
  parts.tm_year -= 1900;
  parts.tm_mon -= 1;
  const std::time_t moment = ::timegm(&parts);
  std::tm here{};
  if (::localtime_r(&moment, &here) == nullptr) return std::nullopt;
  return static_cast<double>(moment + here.tm_gmtoff) / seconds_a_day;
}

std::string date_of(double days) {
  const auto moment = static_cast<std::time_t>(std::floor(days) * seconds_a_day);
  std::tm parts{};
  std::array<char, 16> text{};
  if (::gmtime_r(&moment, &parts) == nullptr ||
      std::strftime(text.data(), text.size(), "%Y-%m-%d", &parts) == 0)
    return {};
  return text.data();
}

std::vector<Evidence> evidence_of(const scores::Answer& answer, const Model& model) {
  const auto skill = skill_named(answer.skill);
  const auto at = days_of(answer.answered_at);
  if (!skill || !at) return {};
  Evidence one;
  one.skill = *skill;
  one.code = for_each_code(*skill) ? answer.code : std::string();
  one.at_days = *at;
  one.credit = answer.credit;
  one.guess = answer.guess;
  if (answer.share)
    one.difficulty =
        difficulty_of({*answer.share, answer.contrast.value_or(model.difficulty.usual_contrast),
                       answer.hidden.value_or(0), answer.in_view_s.value_or(model.difficulty.usual_seconds)},
                      model.difficulty);
  one.latency_s = answer.seconds;
  one.instance = answer.instance;
  if (*skill == Skill::named) one.answered_code = main_code(answer.given);
  std::vector<Evidence> all = {one};
  // Whether something is there is asked of a code as well, where there is something.
  if (*skill == Skill::clean && !answer.code.empty()) {
    one.skill = Skill::found;
    one.code = answer.code;
    all.push_back(one);
  }
  return all;
}

std::vector<Evidence> evidence_of(const scores::Attempt& attempt, bool first_time) {
  const auto at = days_of(attempt.finished_at);
  if (!at || attempt.mode == "guided") return {};
  const Json marking = Json::parse(attempt.marking_json, nullptr, false);
  if (!marking.is_object()) return {};
  std::vector<Evidence> all;
  const auto add = [&](Skill skill, const std::string& code, const std::string& truth, double credit,
                       const std::string& said) {
    Evidence one;
    one.skill = skill;
    one.code = main_code(code);
    one.at_days = *at;
    one.credit = credit;
    one.first_exposure = first_time;
    one.instance = attempt.scenario_hash + "/" + truth;
    one.answered_code = said;
    all.push_back(std::move(one));
  };
  for (const Json& hit : marking.value("hits", Json::array())) {
    const std::string truth = hit.value("truth", std::string());
    const std::string code = hit.value("truth_code", std::string());
    const std::string said = main_code(hit.value("attempt_code", std::string()));
    add(Skill::found, code, truth, 1, {});
    // The right main code is the name; its letters are finer than what mastery of a code means.
    add(Skill::named, code, truth, said == main_code(code) ? 1 : 0, said);
    if (const auto size = earned(hit, "size")) add(Skill::sized, code, truth, *size, {});
  }
  for (const Json& missed : marking.value("missed", Json::array()))
    add(Skill::found, missed.value("code", std::string()), missed.value("truth", std::string()), 0, {});
  return all;
}

std::vector<Evidence> evidence_of(const std::vector<scores::Answer>& answers,
                                  const std::vector<scores::Attempt>& attempts, const Model& model) {
  std::vector<Evidence> all;
  std::set<std::string> seen;
  for (const scores::Answer& answer : answers) {
    const bool first = seen.insert(answer.instance).second;
    for (Evidence& one : evidence_of(answer, model)) {
      one.first_exposure = first;
      all.push_back(std::move(one));
    }
  }
  for (const scores::Attempt& attempt : attempts)
    for (Evidence& one : evidence_of(attempt, seen.insert(attempt.scenario_hash).second))
      all.push_back(std::move(one));
  std::stable_sort(all.begin(), all.end(),
                   [](const Evidence& a, const Evidence& b) { return a.at_days < b.at_days; });
  return all;
}

Person person_of(const std::vector<Evidence>& evidence, const Model& model) {
  Person person = fresh_person(model);
  for (const Evidence& one : evidence) learn(person, model, one);
  return person;
}

}  // namespace haunch::learning
