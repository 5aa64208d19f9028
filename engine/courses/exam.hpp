// SPDX-License-Identifier: Apache-2.0
// An exam: a fixed form, the same for everybody with the same seed. What is passed or failed is decided on
// the lower bound of an interval, never on a share alone.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "scores/kept.hpp"
#include "statistics/interval.hpp"

namespace haunch::courses {

struct ExamQuestions {
  std::string kind;
  std::vector<std::string> codes;  ///< asked in turn, in an order by the seed; empty: any
  int count = 1;
  double clean_share = 0;  ///< of these so many show nothing wrong, 0..1: what a person meets at work
  bool operator==(const ExamQuestions&) const = default;
};
/// Bounds that the lower ends of the intervals have to reach; nothing: told, and not decided on.
struct PassRule {
  std::optional<double> questions;  ///< of the questions that were right, 0..1
  std::optional<double> findings;   ///< of what was there in the runs, found and rightly named, 0..1
  bool no_dangerous_miss = true;    ///< in the runs
  bool operator==(const PassRule&) const = default;
};
struct Exam {
  std::string id, title, words, seed;
  std::vector<ExamQuestions> questions;
  std::vector<std::string> runs;  ///< see run_file
  PassRule pass;
  std::string source;  ///< of the rule
  std::string hash;
  int question_count() const;
  bool operator==(const Exam&) const = default;
};

base::Result<Exam> read_exam(const std::filesystem::path& file);
base::Result<Exam> exam_from_text(const std::string& text, const std::string& file_name);
std::vector<std::filesystem::path> shipped_exams();
/// A run of an exam by its name: content/exams/runs/NAME.json, which nobody can practise on, or else
/// content/scenarios/NAME.json; nothing where there is neither.
std::optional<std::filesystem::path> run_file(const std::string& name);

/// One question of an exam, in its place: what to ask and with which seed to draw it.
struct ExamItem {
  std::string kind, code;  ///< code empty: any, or nothing wrong where `clean`
  bool clean = false;
  std::uint64_t seed = 0;
  bool operator==(const ExamItem&) const = default;
};
/// The same for the same exam and seed on every machine.
std::vector<ExamItem> form_of(const Exam& exam);

struct Tally {
  int right = 0, of = 0;
  statistics::Interval interval;  ///< Wilson, 95 %
};
struct ExamResult {
  bool complete = false;  ///< every question answered, every run handed in
  int answered = 0, runs_in = 0;
  Tally questions, findings;
  int false_calls = 0, dangerous_missed = 0;
  bool passed = false;  ///< only where complete
  std::vector<std::string> sentences;
};
/// Of one sitting, from what was kept under its id.
ExamResult result_of(const Exam& exam, const std::string& sitting, const std::vector<scores::Answer>& answers,
                     const std::vector<scores::Attempt>& attempts);

}  // namespace haunch::courses
