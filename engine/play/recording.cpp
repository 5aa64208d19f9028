// SPDX-License-Identifier: Apache-2.0
// What the trainee writes down during the drive, and the classes and the action after it.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/units.hpp"
#include "base/utf8.hpp"
#include "coding/code_list.hpp"
#include "coding/stretch.hpp"
#include "grading/grade.hpp"
#include "play/exercise.hpp"
#include "play/say.hpp"

namespace haunch::play {
namespace {

constexpr double outside_slack_m = 0.5;  // a node's own width; ours

/// Stretches begun and not ended: number -> the row that began it. `without` is left out of the count.
std::map<std::string, const coding::Observation*> open_stretches(const coding::Record& record,
                                                                 const std::string& without) {
  std::map<std::string, const coding::Observation*> open;
  for (const coding::Observation& row : record.observations) {
    const auto mark = coding::stretch_mark(row.stretch);
    if (!mark || row.id == without) continue;
    if (mark->kind == 'A') open[mark->number] = &row;
    if (mark->kind == 'B') open.erase(mark->number);
  }
  return open;
}

bool stretch_used(const coding::Record& record, const std::string& number, const std::string& without) {
  return std::any_of(record.observations.begin(), record.observations.end(),
                     [&](const coding::Observation& row) {
                       const auto mark = coding::stretch_mark(row.stretch);
                       return mark && mark->kind == 'A' && mark->number == number && row.id != without;
                     });
}

std::string free_stretch(const coding::Record& record, const std::string& without) {
  int number = 1;
  while (stretch_used(record, std::to_string(number), without)) ++number;
  return std::to_string(number);
}

bool is_utf8(const std::string& text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t bytes = base::utf8_length(text, at);
    if (bytes == 0) return false;
    at += bytes;
  }
  return true;
}

bool all_text(const coding::Observation& o) {
  bool good = true;
  for (const std::string* text : {&o.code, &o.ch1, &o.ch2, &o.stretch, &o.remark, &o.manhole_place, &o.photo,
                                  &o.video, &o.reason, &o.distance_m.text, &o.q1.text, &o.q2.text}) {
    good = good && is_utf8(*text);
  }
  for (const auto& [key, value] : o.extra) good = good && is_utf8(key) && is_utf8(value);
  return good;
}

/// The end of a stretch says again what its begin said, where nothing else was said.
void take_from_begin(coding::Observation& end, const coding::Observation& begin) {
  if (end.code.empty()) {
    end.code = begin.code;
    end.at_joint = begin.at_joint;
  }
  if (end.ch1.empty()) {
    end.ch1 = begin.ch1;
    if (end.ch2.empty()) end.ch2 = begin.ch2;
  }
  if (end.q1.empty()) end.q1 = begin.q1;
  if (end.q2.empty()) end.q2 = begin.q2;
  if (!end.clock_from && !end.clock_to) {
    end.clock_from = begin.clock_from;
    end.clock_to = begin.clock_to;
  }
}

}  // namespace

base::Problems Exercise::check(const coding::Observation& observation) const {
  // What is no text could be stored in no log, and would not replay.
  if (!all_text(observation)) return say("a text holds bytes that are no letters", "text in UTF-8");
  if (observation.code.empty()) return say("there is no code", "a main code of the code list");
  if (coding::CodeList::shipped().find(observation.code) == nullptr) {
    return say("\"" + observation.code + "\" is no code", "a main code of the code list");
  }
  for (const auto& hour : {observation.clock_from, observation.clock_to}) {
    if (hour && (*hour < 1 || *hour > 12))
      return say("the clock has no hour " + std::to_string(*hour), "an hour from 1 to 12");
  }
  for (const coding::Number* size : {&observation.q1, &observation.q2}) {
    if (size->value && (!std::isfinite(*size->value) || *size->value < 0))
      return say("a size below 0", "a size of 0 or more");
  }
  if (!observation.distance_m.value || !std::isfinite(*observation.distance_m.value)) {
    return say("the distance is not a number", "a distance in m");
  }
  const double a = scene::distance_of(scene_.scenario, 0),
               b = scene::distance_of(scene_.scenario, scene_.length_m());
  const double low = std::min(a, b) + counter_off_m_, high = std::max(a, b) + counter_off_m_;
  const double distance = *observation.distance_m.value;
  if (distance < low - outside_slack_m || distance > high + outside_slack_m || distance < 0) {
    return say(show(distance) + " lies outside the run",
               "a distance from " + show(low) + " to " + show(high));
  }
  return {};
}

base::Problems Exercise::settle_stretch(coding::Observation& observation, const std::string& own_id) const {
  std::string& stretch = observation.stretch;
  if (stretch.empty()) return {};
  if (stretch == "A") stretch += free_stretch(record_, own_id);
  const auto open = open_stretches(record_, own_id);
  if (stretch == "B") {
    std::vector<std::string> fitting;
    for (const auto& [number, begin] : open) {
      if (observation.code.empty() || begin->code == observation.code) fitting.push_back(number);
    }
    if (fitting.size() != 1) {
      return say(
          fitting.empty() ? "nothing of this kind has begun" : "more than one stretch of this kind is open",
          fitting.empty() ? "an end after its begin" : "\"end\" with the number of the stretch");
    }
    stretch += fitting.front();
  }
  const auto mark = coding::stretch_mark(stretch);
  if (!mark)
    return say("\"" + stretch + "\" is no stretch",
               "A and a number to begin one, B and its number to end it");
  if (mark->kind == 'A' && stretch_used(record_, mark->number, own_id)) {
    return say("stretch " + mark->number + " has begun already",
               "another number: " + free_stretch(record_, own_id) + " is free");
  }
  if (mark->kind == 'B') {
    const auto begun = open.find(mark->number);
    if (begun == open.end())
      return say("stretch " + mark->number + " is not open", "the number of a stretch that has begun");
    if (!observation.code.empty() && observation.code != begun->second->code) {
      return say(
          "stretch " + mark->number + " began as " + begun->second->code + ", this is " + observation.code,
          "the same code at both ends");
    }
    take_from_begin(observation, *begun->second);
  }
  return {};
}

base::Problems Exercise::log(const Log& input) {
  if (auto problems = in_phase(Phase::driving, "writing a finding down"); !problems.empty()) return problems;
  coding::Observation observation = input.observation;
  observation.id = "o" + std::to_string(next_id_);
  if (observation.distance_m.empty()) observation.distance_m = base::to_centimetre(counter_m());
  if (auto problems = settle_stretch(observation, observation.id); !problems.empty()) return problems;
  if (auto problems = check(observation); !problems.empty()) return problems;
  ++next_id_;
  record_.observations.push_back(std::move(observation));
  return {};
}

base::Problems Exercise::change(const Change& input) {
  if (auto problems = in_phase(Phase::driving, "changing a finding"); !problems.empty()) return problems;
  const auto found = std::find_if(record_.observations.begin(), record_.observations.end(),
                                  [&](const coding::Observation& row) { return row.id == input.id; });
  if (found == record_.observations.end())
    return say("there is no finding " + input.id, "one that was written down");
  coding::Observation observation = input.observation;
  observation.id = input.id;
  if (observation.distance_m.empty()) observation.distance_m = found->distance_m;
  if (auto problems = settle_stretch(observation, input.id); !problems.empty()) return problems;
  if (auto problems = check(observation); !problems.empty()) return problems;
  *found = std::move(observation);
  return {};
}

base::Problems Exercise::remove(const Remove& input) {
  if (auto problems = in_phase(Phase::driving, "removing a finding"); !problems.empty()) return problems;
  const auto gone =
      std::erase_if(record_.observations, [&](const coding::Observation& row) { return row.id == input.id; });
  if (gone == 0) return say("there is no finding " + input.id, "one that was written down");
  if (record_.judgement) {  // classes given before the coding was taken up again
    std::erase_if(record_.judgement->classes,
                  [&](const coding::GivenClasses& one) { return one.observation == input.id; });
  }
  return {};
}

coding::Judgement& Exercise::judgement() {
  if (!record_.judgement) record_.judgement.emplace();
  return *record_.judgement;
}

base::Problems Exercise::give(const GiveClasses& input) {
  if (auto problems = in_phase(Phase::judging, "giving classes"); !problems.empty()) return problems;
  const std::string& id = input.classes.observation;
  if (record_.find(id) == nullptr) return say("there is no finding " + id, "one that was written down");
  for (const auto& [goal, grade] : input.classes.classes) {
    if (std::find(scheme_.goals().begin(), scheme_.goals().end(), goal) == scheme_.goals().end()) {
      return say("the scheme has no goal \"" + goal + "\"", "a goal of the scheme");
    }
    if (grade < 1 || grade > scheme_.worst_class()) {
      return say("there is no class " + std::to_string(grade),
                 "a class from 1 to " + std::to_string(scheme_.worst_class()));
    }
  }
  auto& classes = judgement().classes;
  std::erase_if(classes, [&](const coding::GivenClasses& one) { return one.observation == id; });
  if (!input.classes.classes.empty()) classes.push_back(input.classes);
  return {};
}

base::Problems Exercise::give(const GiveObjectClass& input) {
  if (auto problems = in_phase(Phase::judging, "giving the object class"); !problems.empty()) return problems;
  if (scheme_.object_class_meaning(input.object_class).empty()) {
    return say("there is no object class " + std::to_string(input.object_class),
               "an object class of the scheme");
  }
  judgement().object_class = input.object_class;
  return {};
}

base::Problems Exercise::give(const GiveAction& input) {
  if (auto problems = in_phase(Phase::judging, "saying what to do next"); !problems.empty()) return problems;
  judgement().action = input.action;
  return {};
}

}  // namespace haunch::play
