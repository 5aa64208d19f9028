// SPDX-License-Identifier: Apache-2.0
// What a person has made of their practice so far, as values: per code, per skill, over time, and what to
// practise next.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "coding/code_list.hpp"
#include "courses/exam.hpp"
#include "learning/kept.hpp"
#include "learning/mastery.hpp"
#include "scores/kept.hpp"

namespace haunch::progress {

/// So many of so many were right; the 95 % interval is Wilson's.
struct Counted {
  int right = 0, of = 0;
  statistics::Interval interval{0, 1};
};
Counted counted(int right, int of);

struct CodeLine {
  std::string code, name, family;
  learning::Mastery mastery;
  Counted found, named, sized;
  learning::Estimate now;                              ///< of naming it on an average picture
  std::optional<double> seconds;                       ///< median of right answers
  std::vector<std::pair<std::string, int>> taken_for;  ///< the code that was said instead, how often
};
/// A skill that is about no code: "clock", "water depth".
struct SkillLine {
  std::string skill;
  Counted counted;
  learning::Estimate now;
};
/// A day, or a week where there are many.
struct Period {
  double at_days = 0;
  std::string date;
  Counted found_and_named;
};
struct RunLine {
  std::string date, scenario, mode;
  double score = 0;
  int found = 0, missed = 0, invented = 0;
};
struct ExamLine {
  std::string date, exam;
  std::optional<courses::ExamResult> result;  ///< nothing where the exam's file has changed or gone
};
struct Practise {
  std::string code, sentence;
  double expected = 0;  ///< chance of naming it now
};

struct Overview {
  std::string trainee;
  int answers = 0, runs = 0;
  std::string last_date;        ///< of the latest practice
  std::vector<CodeLine> codes;  ///< those that were met, in the order of the code list
  std::vector<SkillLine> skills;
  std::vector<Period> trend;
  std::vector<RunLine> run_lines;  ///< oldest first
  std::vector<ExamLine> exams;
  std::vector<Practise> practise;                       ///< most needed first
  int mastered = 0, shaky = 0, not_yet = 0, never = 0;  ///< of the codes of the model
};

/// All of one person's rows, oldest first.
struct Rows {
  std::vector<scores::Answer> answers;
  std::vector<scores::Attempt> attempts;
  std::vector<scores::Sitting> sittings;
};
Overview overview_of(const std::string& trainee, const Rows& rows, const std::vector<courses::Exam>& exams,
                     const learning::Model& model, const coding::CodeList& list, double now_days);

}  // namespace haunch::progress
