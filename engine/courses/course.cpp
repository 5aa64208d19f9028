// SPDX-License-Identifier: Apache-2.0
#include "courses/course.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "courses/shipped.hpp"

namespace haunch::courses {
namespace {

using Json = nlohmann::json;

std::vector<std::string> words_of(const Json& json, const char* key) {
  return json.contains(key) ? json.at(key).get<std::vector<std::string>>() : std::vector<std::string>();
}

Lesson lesson_from(const Json& json) {
  Lesson lesson;
  lesson.id = json.at("id").get<std::string>();
  lesson.title = json.at("title").get<std::string>();
  lesson.after = words_of(json, "after");
  lesson.text = words_of(json, "text");
  for (const Json& one : json.value("pictures", Json::array()))
    lesson.pictures.push_back({one.at("code").get<std::string>(), one.value("material", std::string()),
                               one.at("words").get<std::string>()});
  for (const Json& one : json.value("drills", Json::array())) {
    LessonDrill drill;
    drill.kind = one.at("kind").get<std::string>();
    drill.codes = words_of(one, "codes");
    drill.right = one.value("right", drill.right);
    drill.of = one.value("of", drill.of);
    lesson.drills.push_back(std::move(drill));
  }
  for (const Json& one : json.value("runs", Json::array()))
    lesson.runs.push_back({one.at("scenario").get<std::string>(), one.value("at_least", LessonRun{}.at_least),
                           one.value("guided", false)});
  return lesson;
}

class Sense {
 public:
  Sense(const base::JsonDocument& document, const Course& course) : document_(document), course_(course) {}

  base::Problems problems() {
    for (std::size_t i = 0; i < course_.lessons.size(); ++i) one(i);
    if (!course_.exam.empty() && !shipped_file("exams", course_.exam))
      say("/exam", "there is no exam \"" + course_.exam + "\"", "the name of a file in content/exams");
    return std::move(problems_);
  }

 private:
  void one(std::size_t i) {
    const Lesson& lesson = course_.lessons[i];
    const std::string at = "/lessons/" + std::to_string(i);
    if (const auto before = seen_.find(lesson.id); before != seen_.end())
      say(at + "/id", "two lessons have the id \"" + lesson.id + "\"", "an id of its own for each");
    for (std::size_t j = 0; j < lesson.after.size(); ++j)
      if (!seen_.contains(lesson.after[j]))
        say(at + "/after/" + std::to_string(j),
            "no lesson before this one has the id \"" + lesson.after[j] + "\"",
            "the id of an earlier lesson");
    for (std::size_t j = 0; j < lesson.drills.size(); ++j)
      if (lesson.drills[j].right > lesson.drills[j].of)
        say(at + "/drills/" + std::to_string(j) + "/right", "more are to be right than are counted",
            "no more than \"of\", which is " + std::to_string(lesson.drills[j].of));
    for (std::size_t j = 0; j < lesson.runs.size(); ++j)
      if (!shipped_file("scenarios", lesson.runs[j].scenario))
        say(at + "/runs/" + std::to_string(j) + "/scenario",
            "there is no run \"" + lesson.runs[j].scenario + "\"",
            "the name of a file in content/scenarios, without \".json\"");
    seen_[lesson.id] = i;
  }
  void say(const std::string& pointer, std::string what, std::string expected) {
    problems_.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
  }

  const base::JsonDocument& document_;
  const Course& course_;
  std::map<std::string, std::size_t> seen_;
  base::Problems problems_;
};

}  // namespace

base::Result<Course> course_from_text(const std::string& text, const std::string& file_name) {
  const auto document = base::JsonDocument::read_text(text, file_name, "course");
  if (!document) return document.problems();
  const Json& root = document.value().root();
  Course course;
  course.id = root.at("id").get<std::string>();
  course.title = root.at("title").get<std::string>();
  course.words = root.value("words", std::string());
  course.exam = root.value("exam", std::string());
  for (const Json& lesson : root.at("lessons")) course.lessons.push_back(lesson_from(lesson));
  course.hash = base::fingerprint(text);
  base::Problems problems = Sense(document.value(), course).problems();
  if (!problems.empty()) return problems;
  return course;
}

base::Result<Course> read_course(const std::filesystem::path& file) {
  const auto text = base::read_file(file);
  if (!text) return text.problems();
  return course_from_text(text.value(), file.string());
}

std::vector<std::filesystem::path> shipped_courses() { return shipped_files("courses"); }

}  // namespace haunch::courses
