// SPDX-License-Identifier: Apache-2.0
// Records in a few words, and what validation says of them.
#pragma once

#include <string>
#include <vector>

#include "coding/validate.hpp"

namespace haunch::coding {

inline Observation make(double at, std::string code, std::string ch1 = {}, std::string ch2 = {},
                        Number q1 = {}) {
  Observation one;
  one.distance_m = at;
  one.code = std::move(code);
  one.ch1 = std::move(ch1);
  one.ch2 = std::move(ch2);
  one.q1 = std::move(q1);
  return one;
}
inline Observation at_clock(Observation one, std::optional<int> from, std::optional<int> to = {}) {
  one.clock_from = from;
  one.clock_to = to;
  return one;
}
inline Observation joint(Observation one) {
  one.at_joint = true;
  return one;
}
inline Observation run(Observation one, std::string mark) {
  one.stretch = std::move(mark);
  return one;
}

/// A good record of 20 m of 150 mm clay with nodes and whatever is between.
inline Record with(std::vector<Observation> between) {
  Record record;
  record.header = {{"ABQ", "20"}, {"ACB", "150"},        {"ACD", "AE"},
                   {"AAK", "A"},  {"ABF", "2026-03-02"}, {"ABG", "09:40"}};
  record.observations.push_back(make(0, "BCD", "A"));
  for (Observation& one : between) record.observations.push_back(std::move(one));
  record.observations.push_back(make(20, "BCE", "A"));
  return record;
}

inline std::vector<std::string> lines(const Record& record, const RecordPlaces& places = {},
                                      const Checks& checks = {}) {
  std::vector<std::string> out;
  for (const auto& problem : validate(record, CodeList::shipped(), "r", places, checks))
    out.push_back(base::to_line(problem));
  return out;
}

/// Names of the rules that a record breaks, in order.
inline std::vector<std::string> broken(const Record& record, const Checks& checks = {}) {
  std::vector<std::string> out;
  for (const Remark& one : remarks_on(record, CodeList::shipped(), "r", {}, checks))
    out.emplace_back(words_of(one.rule).name);
  return out;
}

}  // namespace haunch::coding
