// SPDX-License-Identifier: Apache-2.0
#include "courses/course.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "coding/code_list.hpp"
#include "guide/plates.hpp"

namespace haunch::courses {
namespace {

using ::testing::HasSubstr;

base::Result<Course> course_with(const std::string& lessons, const std::string& more = "") {
  return course_from_text(R"({"kind": "course", "edition": 1, "id": "c", "title": "C", )" + more +
                              R"("lessons": [)" + lessons + "]}",
                          "c.json");
}
std::string problem_of(const base::Result<Course>& result) {
  return result ? "no problem" : base::to_line(result.problems().front());
}

TEST(Course, SaysWhatTheFileSays) {
  const auto course = course_with(
      R"({"id": "a", "title": "A", "text": ["One.", "Two."], "pictures": [{"code": "BAB B A", "words": "w"}],
          "drills": [{"kind": "clock", "right": 3, "of": 4}, {"kind": "name it", "codes": ["BAB"]}],
          "runs": [{"scenario": "first-drive", "guided": true}]},
         {"id": "b", "title": "B", "after": ["a"]})");
  ASSERT_TRUE(course) << problem_of(course);
  ASSERT_EQ(course.value().lessons.size(), 2U);
  const Lesson& a = course.value().lessons[0];
  EXPECT_EQ(a.text.size(), 2U);
  EXPECT_EQ(a.drills, (std::vector<LessonDrill>{{"clock", {}, 3, 4}, {"name it", {"BAB"}, 8, 10}}));
  EXPECT_EQ(a.runs, (std::vector<LessonRun>{{"first-drive", 60, true}}));
  EXPECT_EQ(course.value().lessons[1].after, std::vector<std::string>{"a"});
}

TEST(Course, WhatMakesNoSenseIsToldWithItsPlace) {
  const std::map<std::string, std::string> wrong = {
      {R"({"id": "a", "title": "A", "after": ["b"]}, {"id": "b", "title": "B"})",
       "no lesson before this one has the id \"b\""},
      {R"({"id": "a", "title": "A"}, {"id": "a", "title": "B"})", "two lessons have the id \"a\""},
      {R"({"id": "a", "title": "A", "runs": [{"scenario": "nowhere"}]})", "there is no run \"nowhere\""},
      {R"({"id": "a", "title": "A", "runs": [{"scenario": "../courses/beginner"}]})", "there is no run"},
      {R"({"id": "a", "title": "A", "drills": [{"kind": "clock", "right": 5, "of": 4}]})",
       "more are to be right"},
      {R"({"id": "a", "title": "A", "drills": [{"kind": "clocks"}]})", "clocks"},
      {R"({"id": "a", "title": "A", "picture": []})", "\"picture\""}};
  for (const auto& [lessons, said] : wrong) {
    const auto course = course_with(lessons);
    ASSERT_FALSE(course) << lessons;
    EXPECT_THAT(problem_of(course), HasSubstr(said));
    EXPECT_THAT(problem_of(course), HasSubstr("c.json:1:"));
  }
  EXPECT_THAT(problem_of(course_with(R"({"id": "a", "title": "A"})", R"("exam": "none-such", )")),
              HasSubstr("there is no exam"));
}

TEST(Course, ShippedOnesAreSoundAndTheirCodesAndPicturesExist) {
  const auto files = shipped_courses();
  ASSERT_GE(files.size(), 2U);
  const auto plates = guide::read_plates(guide::shipped_plates());
  ASSERT_TRUE(plates);
  std::set<std::pair<std::string, std::string>> there;
  for (const auto& plate : plates.value().plates) {
    const std::string code = coding::show_code(plate.subject);
    there.insert({code, plate.material});
    there.insert({code, ""});
  }
  for (const auto& file : files) {
    const auto course = read_course(file);
    ASSERT_TRUE(course) << problem_of(course);
    for (const Lesson& lesson : course.value().lessons) {
      for (const LessonPicture& picture : lesson.pictures)
        EXPECT_TRUE(there.contains({picture.code, picture.material}))
            << file << ' ' << lesson.id << ": " << picture.code << ' ' << picture.material;
      for (const LessonDrill& drill : lesson.drills)
        for (const std::string& code : drill.codes)
          EXPECT_NE(coding::CodeList::shipped().find(code), nullptr) << code;
    }
  }
}

TEST(Course, TheBeginnersHasTenLessonsThatCanAllBeReached) {
  for (const auto& file : shipped_courses()) {
    if (file.stem() != "beginner") continue;
    const auto course = read_course(file);
    ASSERT_TRUE(course);
    EXPECT_EQ(course.value().lessons.size(), 10U);
    EXPECT_EQ(course.value().exam, "beginner");
    for (const Lesson& lesson : course.value().lessons) {
      EXPECT_FALSE(lesson.text.empty()) << lesson.id;
      EXPECT_FALSE(lesson.drills.empty() && lesson.runs.empty()) << lesson.id << " has nothing to practise";
    }
    return;
  }
  FAIL() << "no beginner's course";
}

}  // namespace
}  // namespace haunch::courses
