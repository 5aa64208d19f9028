// SPDX-License-Identifier: Apache-2.0
// A small invented inspection for the tests of the owner's summary: places and numbers are ours.
#pragma once

#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "report/owner_page.hpp"

namespace haunch::report {

inline coding::Observation noted(double at_m, const std::string& code, const std::string& ch1 = {},
                                 std::optional<double> q1 = {}, const std::string& stretch = {}) {
  coding::Observation one;
  one.distance_m = at_m;
  one.code = code;
  one.ch1 = ch1;
  if (q1) one.q1 = *q1;
  one.stretch = stretch;
  return one;
}

/// 20 m of clay from K1 to K2 with the flow, then plastic; nothing found unless added.
inline coding::Record clean_pipe(const std::vector<coding::Observation>& found = {}) {
  coding::Record record;
  for (const auto& [code, value] : std::vector<std::pair<std::string, std::string>>{{"AAB", "K1"},
                                                                                    {"AAD", "K1"},
                                                                                    {"AAF", "K2"},
                                                                                    {"AAK", "A"},
                                                                                    {"ABC", "A"},
                                                                                    {"ABF", "2026-03-02"},
                                                                                    {"ABQ", "20"},
                                                                                    {"ACB", "150"},
                                                                                    {"ACD", "AE"},
                                                                                    {"ACK", "A"}})
    record.set_header(code, value);
  record.observations = {noted(0, "BCD", "A"), noted(12, "AED", "AX"), noted(20, "BCE", "A")};
  record.observations.insert(record.observations.begin() + 1, found.begin(), found.end());
  coding::number_observations(record);
  return record;
}

inline grading::Grade graded(const coding::Record& record) {
  return grading::grade(record, grading::Scheme::shipped(), {});
}

inline Advice advised(const coding::Record& record) { return advice_for(record, graded(record)); }

inline std::string article_of(const coding::Record& record, const Zero& zero = {},
                              base::LengthUnit unit = base::LengthUnit::metres,
                              RecordPictures* pictures = nullptr) {
  const grading::Grade grade = graded(record);
  OwnerPage page;
  page.record = &record;
  page.grade = &grade;
  page.file = "yard.txt";
  page.zero = zero;
  page.unit = unit;
  page.pictures = pictures;
  return owner_article(page);
}

}  // namespace haunch::report
