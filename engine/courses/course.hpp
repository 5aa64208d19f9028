// SPDX-License-Identifier: Apache-2.0
// A course: lessons in an order, each a short text, pictures, drills and runs. Trainers write them as files
// (schema: content/schemas/course.schema.json).
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace haunch::courses {

/// A plate of the field guide, with words under it.
struct LessonPicture {
  std::string code;      ///< with its letters, as plates have it: "BAB B A"
  std::string material;  ///< of the plate; empty: the first that there is
  std::string words;
  bool operator==(const LessonPicture&) const = default;
};
/// A set of questions, done once `right` of the last `of` answers were right.
struct LessonDrill {
  std::string kind;                ///< "name it", "clock", ..
  std::vector<std::string> codes;  ///< main codes it is about; empty: any
  int right = 8, of = 10;
  bool operator==(const LessonDrill&) const = default;
};
/// A run, done once it was driven with at least this score.
struct LessonRun {
  std::string scenario;  ///< name of its file under content/scenarios, without ".json"
  double at_least = 60;  ///< 0..100
  bool guided = false;
  bool operator==(const LessonRun&) const = default;
};
struct Lesson {
  std::string id, title;
  std::vector<std::string> after;  ///< ids of lessons that come first
  std::vector<std::string> text;   ///< paragraphs
  std::vector<LessonPicture> pictures;
  std::vector<LessonDrill> drills;
  std::vector<LessonRun> runs;
  bool operator==(const Lesson&) const = default;
};
struct Course {
  std::string id, title, words;
  std::vector<Lesson> lessons;
  std::string exam;  ///< name of a file under content/exams, or empty
  std::string hash;
  bool operator==(const Course&) const = default;
};

/// All problems with their places: unknown keys, two lessons of one id, a lesson that comes after itself, a
/// run that does not exist.
base::Result<Course> read_course(const std::filesystem::path& file);
base::Result<Course> course_from_text(const std::string& text, const std::string& file_name);
/// content/courses/*.json, in the order of their names.
std::vector<std::filesystem::path> shipped_courses();

}  // namespace haunch::courses
