// SPDX-License-Identifier: Apache-2.0
// Made-up answers and attempts.
#pragma once

#include <string>

#include "progress/overview.hpp"

namespace haunch::progress::test {

/// Answered on the day-th of March 2026, the minute-th minute past nine.
inline scores::Answer named(int day, int minute, const std::string& code, const std::string& said) {
  scores::Answer one;
  const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  one.id = code + two(day) + two(minute);
  one.trainee = "coder-07";
  one.answered_at = "2026-03-" + two(day) + "T09:" + two(minute) + ":00Z";
  one.kind = "name it";
  one.skill = "named";
  one.code = code;
  one.instance = one.id;
  one.given = said;
  one.right = code;
  one.credit = code == said ? 1 : 0;
  one.guess = 0.2;
  one.seconds = 4;
  return one;
}

inline const char* const marks = R"({"kind": "marking", "score": 50, "summary": {"there": 3, "right_name": 1},
  "hits": [{"truth": "t1", "truth_code": "BAB B A", "attempt_code": "BAB B B",
            "verdicts": [{"aspect": "size", "standing": "partly", "earned": 0.4}]},
           {"truth": "t2", "truth_code": "BAG", "attempt_code": "BCA A A",
            "verdicts": [{"aspect": "size", "standing": "not asked", "earned": 0}]}],
  "missed": [{"truth": "t3", "code": "BBA B", "dangerous": false}]})";

inline scores::Attempt driven(const std::string& when, const std::string& mode = "practice") {
  scores::Attempt one;
  one.id = when;
  one.trainee = "coder-07";
  one.finished_at = when;
  one.scenario = "A run";
  one.scenario_hash = "h";
  one.score = 50;
  one.hits = 2;
  one.missed = 1;
  one.invented = 2;
  one.mode = mode;
  one.marking_json = marks;
  return one;
}

}  // namespace haunch::progress::test
