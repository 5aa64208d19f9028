// SPDX-License-Identifier: Apache-2.0
#include "exchange/rest_of_record.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "coding/code_list.hpp"

namespace haunch::exchange {
namespace {

bool says(const std::string& what, const char* words) { return what.find(words) != std::string::npos; }

/// Would this have been said only because the field was read as empty?
bool hangs_on(const std::string& what, const std::string& field) {
  if (field == "*") return true;
  if (field == "clock_from" || field == "clock_to") return says(what, "clock position");
  if (field == "ch1" || field == "ch2") return says(what, "characterisation");
  if (field == "q1") return says(what, "quantification 1");
  if (field == "q2") return says(what, "quantification 2");
  if (field == "distance_m") return says(what, "distance");
  if (field == "code") return says(what, "main code");
  if (field == "at_joint") return says(what, "at a joint");
  return (field == "photo" || field == "remark") && says(what, ("no " + field).c_str());
}

/// Runs and nodes are told by several rows together; one that was refused may be the one that is wanted.
bool hangs_on_rows(const std::string& what, const Refused& refused) {
  const bool row = std::any_of(refused.of_fields.begin(), refused.of_fields.end(), [](const auto& one) {
    return one.second.contains("*") || one.second.contains("code");
  });
  const bool run = row || std::any_of(refused.of_fields.begin(), refused.of_fields.end(),
                                      [](const auto& one) { return one.second.contains("stretch"); });
  const bool name =
      refused.names || std::any_of(refused.of_fields.begin(), refused.of_fields.end(), [](const auto& one) {
        return one.second.contains("*") || one.second.contains("id");
      });
  return (row && (says(what, "no start node") || says(what, "neither a finish node"))) ||
         (run && (says(what, ": stretch ") || says(what, "part of a "))) ||
         (name && says(what, "names an observation"));
}

}  // namespace

Refused refused_in(const std::string& pointer, const std::vector<base::JsonDocument::Fault>& faults) {
  Refused refused;
  const std::string list = pointer + "/observations";
  for (const base::JsonDocument::Fault& fault : faults) {
    if (fault.pointer == list || (fault.pointer == pointer && says(fault.problem.what, "\"observations\"")))
      refused.observations = true;
    refused.names = refused.names || fault.pointer.rfind(pointer + "/judgement", 0) == 0 ||
                    fault.pointer.rfind(pointer + "/not_visible", 0) == 0;
    if (fault.pointer.rfind(list + "/", 0) != 0) continue;
    const auto parts = base::split(fault.pointer.substr(list.size() + 1), '/');
    auto& fields = refused.of_fields[std::stoul(parts[0])];
    if (parts.size() > 1)
      fields.insert(parts[1]);
    else
      fields.insert(says(fault.problem.what, "\"code\" is missing") ? "code" : "*");
  }
  return refused;
}

base::Problems problems_of_the_rest(const PlacedRecord& placed, const Refused& refused,
                                    const base::Place& begins) {
  if (refused.observations) return {};
  base::Problems problems =
      coding::validate(placed.record, coding::CodeList::shipped(), begins.file, placed.places);
  std::erase_if(problems, [&](const base::Problem& problem) {
    if (hangs_on_rows(problem.what, refused)) return true;
    // The reader tells names that are taken, with the line of the first.
    if (says(problem.what, "is taken by another observation")) return true;
    return std::any_of(refused.of_fields.begin(), refused.of_fields.end(), [&](const auto& one) {
      return problem.place == placed.places.observations.at(one.first) &&
             std::any_of(one.second.begin(), one.second.end(),
                         [&](const std::string& field) { return hangs_on(problem.what, field); });
    });
  });
  for (base::Problem& problem : problems)
    if (problem.place.line == 0) problem.place = begins;
  return problems;
}

}  // namespace haunch::exchange
