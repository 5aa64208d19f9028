// SPDX-License-Identifier: Apache-2.0
#include "report/standing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/words.hpp"

namespace haunch::report {

Came came_of(const marking::Hit& hit) {
  const bool all_right =
      std::all_of(hit.verdicts.begin(), hit.verdicts.end(), [](const marking::Verdict& verdict) {
        return !verdict.counts || verdict.standing == marking::Standing::right ||
               verdict.standing == marking::Standing::not_asked;
      });
  return all_right ? Came::found : Came::partly;
}

std::string show(Came came) {
  switch (came) {
    case Came::found:
      return "found";
    case Came::partly:
      return "found, partly right";
    case Came::missed:
      return "missed";
    case Came::unseen:
      return "could not be seen";
    case Came::invented:
      return "invented";
    case Came::doubled:
      return "marked twice";
    case Came::logged:
      return "logged";
  }
  return {};
}

std::string one_decimal(double number) { return base::show_number(std::round(number * 10) / 10); }

std::string show_score(double score) {
  return score < 100 ? one_decimal(std::min(score, 99.9)) : one_decimal(score);
}

std::string two_decimals(double number) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", number);
  return text;
}

std::string show_class(const std::optional<int>& grade, bool provisional, const std::string& none) {
  if (!grade) return none;
  return std::to_string(*grade) + (provisional ? " (provisional)" : "");
}

std::string class_in_span(int grade, int least, int most) {
  if (least >= grade && most <= grade) return std::to_string(grade);
  if (least >= grade) return "at least " + std::to_string(grade);
  return std::to_string(grade) + " (" + std::to_string(least) + " to " + std::to_string(most) + " possible)";
}

std::string show_object_class(const grading::Grade& grade, const std::string& none) {
  if (!grade.object_class) return none;
  const int here = *grade.object_class;
  return class_in_span(here, grade.object_least.value_or(here), grade.object_most.value_or(here)) +
         (grade.provisional ? " (provisional)" : "");
}

std::string object_class_words(const grading::Grade& grade) {
  if (!grade.object_class) return {};
  const int here = *grade.object_class;
  const int least = grade.object_least.value_or(here), most = grade.object_most.value_or(here);
  if (least >= here && most > here) return std::to_string(here) + " or worse";
  return class_in_span(here, least, most);
}

std::string reason_alone(const grading::GoalClass& goal) {
  std::string reason = goal.reason;
  const auto cut = [&](const std::string& end) {
    if (!end.empty() && reason.ends_with(end)) reason.erase(reason.size() - end.size());
  };
  if (goal.provisional) cut(" (provisional)");
  if (!goal.source.empty()) cut("; source: " + goal.source);
  return reason;
}

namespace {

const std::string provisional_head = "Provisional: ";

bool names_all(const std::string& note, const std::vector<std::string>& words) {
  return !words.empty() && std::all_of(words.begin(), words.end(), [&](const std::string& word) {
    return note.find(word) != std::string::npos;
  });
}

}  // namespace

std::string provisional_words(const grading::Grade& grade) {
  if (!grade.provisional) return {};
  for (const std::string& note : grade.notes)
    if (note.starts_with(provisional_head)) return note.substr(provisional_head.size());
  return "some of the rows that decided are not from a source that was read, so the classes show how grading "
         "works and are no official grade.";
}

std::string not_known_words(const grading::Grade& grade) {
  if (grade.missing.empty()) return {};
  for (const std::string& note : grade.notes)
    if (!note.starts_with(provisional_head) && names_all(note, grade.missing)) return note;
  return "Not known about the site: " + base::join(grade.missing, ", ");
}

std::vector<std::string> other_notes(const grading::Grade& grade) {
  std::vector<std::string> notes;
  for (const std::string& note : grade.notes) {
    if (!note.starts_with(provisional_head) && !names_all(note, grade.missing)) notes.push_back(note);
  }
  return notes;
}

}  // namespace haunch::report
