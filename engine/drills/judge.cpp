// SPDX-License-Identifier: Apache-2.0
#include "drills/judge.hpp"

#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "marking/mark.hpp"

namespace haunch::drills {
namespace {

/// The one finding as the person would have written it down.
coding::Record attempt_of(const Item& item, const Answer& answer) {
  coding::Record attempt = item.truth;
  if (attempt.observations.empty()) return attempt;
  coding::Observation& row = attempt.observations.front();
  row.reason.clear();
  if (item.wanted.kind == Kind::clock) {
    row.clock_from = answer.clock_from;
    row.clock_to = answer.clock_to;
  }
  if ((item.wanted.kind == Kind::size_it || item.wanted.kind == Kind::water_depth) && answer.number)
    row.q1 = coding::Number(*answer.number);
  coding::Judgement judgement;
  if (item.wanted.kind == Kind::grade_it) judgement.classes = {{row.id, answer.classes}};
  if (item.wanted.kind == Kind::next_step) judgement.action = coding::action_from(answer.option);
  attempt.judgement = judgement;
  return attempt;
}

Verdict of_aspect(const marking::Marking& marking, marking::Aspect aspect) {
  for (const auto& hit : marking.hits)
    for (const auto& verdict : hit.verdicts)
      if (verdict.aspect == aspect) return {verdict.earned, verdict.sentence};
  return {0, "It could not be marked."};
}

Verdict of_bottom(const Item& item, double bottom_h) {
  const double there_h = base::on_screen_hour(6, item.clip.roll_deg);
  const double off_h = std::remainder(bottom_h - there_h, 12.0);
  const auto marking =
      marking::mark({}, {}, grading::Scheme::shipped(), {}, marking::Rules::shipped(),
                    coding::CodeList::shipped(), base::LengthUnit::metres, {}, {{{0, off_h}}, {}});
  for (const auto& skill : marking.skills)
    if (skill.name == "finding the bottom" && skill.earned)
      return {*skill.earned, "The bottom is at " + item.right + " on the screen; you were " +
                                 base::show_number(std::round(std::abs(off_h) * 10) / 10) + " h off."};
  return {0, "It could not be marked."};
}

Verdict of_action(const marking::ActionMark& action) {
  using marking::ActionStanding;
  switch (action.standing) {
    case ActionStanding::right:
    case ActionStanding::safer:
      return {1, action.sentence};
    case ActionStanding::more_than_needed:
      return {0.5, action.sentence};
    default:
      return {0, action.sentence};
  }
}

std::string name_of(const std::string& code) {
  const auto* entry = coding::CodeList::shipped().find(code);
  return code + (entry ? ", " + base::lower(entry->name) : std::string());
}

Verdict of_name(const Item& item, const std::string& said) {
  if (said == item.code) return {1, "Right: " + name_of(item.code) + "."};
  if (std::find(item.also.begin(), item.also.end(), said) != item.also.end())
    return {1, name_of(said) + " is there as well; what was meant is " + name_of(item.code) + "."};
  return {0, "It is " + name_of(item.code) + ", not " + name_of(said) + "."};
}

Verdict of_classes(const marking::GradingMarks& grading) {
  std::string wrong;
  for (const auto& one : grading.classes)
    if (one.given != one.own_record) wrong += (wrong.empty() ? "" : " ") + one.sentence;
  if (grading.asked == 0) return {0, "No class was given."};
  return {grading.right / static_cast<double>(grading.asked),
          wrong.empty() ? "All of them right: " + marking::show_right(grading) + "." : wrong};
}

}  // namespace

std::string show(const Answer& answer) {
  if (!answer.option.empty()) return answer.option;
  if (answer.number) return base::show_number(*answer.number);
  if (answer.bottom_h) return base::show_number(std::round(*answer.bottom_h * 10) / 10);
  if (answer.clock_from)
    return std::to_string(*answer.clock_from) +
           (answer.clock_to ? " to " + std::to_string(*answer.clock_to) : "");
  std::vector<std::string> classes;
  for (const auto& [goal, grade] : answer.classes) classes.push_back(goal + " " + std::to_string(grade));
  return base::join(classes, ", ");
}

bool answers(const Item& item, const Answer& answer) {
  const auto offered = [&] {
    return std::any_of(item.options.begin(), item.options.end(),
                       [&](const Option& one) { return one.value == answer.option; });
  };
  switch (item.wanted.kind) {
    case Kind::name_it:
      return coding::CodeList::shipped().find(answer.option) != nullptr;
    case Kind::which_of_two:
    case Kind::clean_or_not:
    case Kind::next_step:
      return offered();
    case Kind::clock:
      return answer.clock_from.has_value();
    case Kind::size_it:
    case Kind::water_depth:
      return answer.number && std::isfinite(*answer.number) && *answer.number >= 0;
    case Kind::find_bottom:
      return answer.bottom_h && std::isfinite(*answer.bottom_h);
    case Kind::grade_it:
      return !answer.classes.empty();
  }
  return false;
}

Verdict judge(const Item& item, const Answer& answer, const grading::Scheme& scheme) {
  if (!answers(item, answer)) return {0, "That is no answer to what was asked."};
  switch (item.wanted.kind) {
    case Kind::name_it:
    case Kind::which_of_two:
      return of_name(item, answer.option);
    case Kind::clean_or_not:
      if (answer.option == item.right) return {1, item.code.empty() ? "Right: clean." : "Right: there is."};
      return {0, item.code.empty() ? "There is nothing wrong here: an owner would pay for it."
                                   : "Something was missed: " + name_of(item.code) + "."};
    case Kind::find_bottom:
      return of_bottom(item, *answer.bottom_h);
    default:
      break;
  }
  const auto marking =
      marking::mark(item.truth, attempt_of(item, answer), scheme, {}, marking::Rules::shipped());
  switch (item.wanted.kind) {
    case Kind::clock:
      return of_aspect(marking, marking::Aspect::clock);
    case Kind::size_it:
    case Kind::water_depth:
      return of_aspect(marking, marking::Aspect::size);
    case Kind::grade_it:
      return of_classes(marking.grading);
    default:
      return of_action(marking.action);
  }
}

Answer right_answer(const Item& item, const grading::Scheme& scheme) {
  Answer answer;
  switch (item.wanted.kind) {
    case Kind::clock:
      answer.clock_from = item.there.clock_from;
      answer.clock_to = item.there.clock_to;
      break;
    case Kind::size_it:
    case Kind::water_depth:
      answer.number = item.there.q1.value;
      break;
    case Kind::find_bottom:
      answer.bottom_h = base::on_screen_hour(6, item.clip.roll_deg);
      break;
    case Kind::grade_it: {
      const auto grade = grading::grade(item.truth, scheme, {});
      for (const auto& goal : grade.observations.front().goals)
        if (goal.grade) answer.classes[goal.goal] = *goal.grade;
      break;
    }
    default:
      answer.option = item.right;
  }
  return answer;
}

}  // namespace haunch::drills
