// SPDX-License-Identifier: Apache-2.0
#include "drills/questions.hpp"

#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "drills/library.hpp"
#include "learning/model.hpp"
#include "marking/mark.hpp"

namespace haunch::drills {
namespace {

constexpr std::size_t names_offered = 5;
constexpr double widest_asked_h = 8;

Option of_code(const std::string& code) {
  const auto* entry = coding::CodeList::shipped().find(code);
  return {code, entry ? entry->name : std::string()};
}

/// Sorted, so that the right one stands at no place that could be learnt.
std::vector<Option> sorted(std::vector<std::string> codes) {
  std::sort(codes.begin(), codes.end());
  std::vector<Option> options;
  for (const std::string& code : codes) options.push_back(of_code(code));
  return options;
}

std::string hours(const coding::Observation& there) {
  const int from = there.clock_from.value_or(12), to = there.clock_to.value_or(from);
  if (there.clock_to && from == to && from == 12) return "the whole way round";
  return there.clock_to && to != from ? std::to_string(from) + " to " + std::to_string(to)
                                      : std::to_string(from);
}

const coding::QuantityRule* size_rule(const coding::Observation& there) {
  const auto* entry = coding::CodeList::shipped().find(there.code);
  return entry && entry->q1 ? &*entry->q1 : nullptr;
}

void ask_for_number(Item& item, const std::string& question) {
  const auto* rule = size_rule(item.there);
  item.unit = rule ? rule->unit_for(item.there.ch1) : std::string("%");
  item.question = question;
  item.right = base::show_number(std::round(*item.there.q1.value * 10) / 10) + " " + item.unit;
}

bool is_there_too(const Item& item, const std::string& code) {
  return std::find(item.also.begin(), item.also.end(), code) != item.also.end();
}

/// What one picture does not tell apart is never offered together: both are damp wall.
bool look_alike(const std::string& a, const std::string& b) {
  return (a == "BAN" && b == "BBF") || (a == "BBF" && b == "BAN");
}

/// Codes that it is mixed up with and that are not there as well.
std::vector<std::string> wrong_names(const Item& item) {
  std::vector<std::string> wrong = mixed_up_with(item.code);
  std::erase_if(wrong, [&](const std::string& code) {
    return is_there_too(item, code) || look_alike(item.code, code);
  });
  return wrong;
}

/// With what it is and the pipe's bore: without a ruler nobody tells millimetres.
std::string size_question(const Item& item) {
  const auto* entry = coding::CodeList::shipped().find(item.code);
  std::string words = entry->name;
  if (const auto letter = entry->ch1.find(item.there.ch1); letter != entry->ch1.end())
    words += ", " + base::lower(letter->second);
  words += ": how much is it";
  if (const std::string& meaning = size_rule(item.there)->meaning; !meaning.empty())
    words += " (" + meaning + ")";
  const double bore_mm = 2000 * scene::radius_at(item.scene, item.clip.to_z_m);
  return words + "? The bore is " + base::show_number(std::round(bore_mm)) + " mm.";
}

void offer_names(Item& item, base::Random& random) {
  std::vector<std::string> codes = {item.code};
  for (const std::string& other : wrong_names(item))
    if (codes.size() < names_offered) codes.push_back(other);
  const auto& all = Library::shipped().codes;
  while (codes.size() < names_offered) {
    const std::string& other = all[random.below(static_cast<std::uint32_t>(all.size()))];
    if (!is_there_too(item, other) && !look_alike(item.code, other) &&
        std::find(codes.begin(), codes.end(), other) == codes.end())
      codes.push_back(other);
  }
  item.options = sorted(std::move(codes));
}

std::string best_row(const grading::ObservationGrade& grade) {
  std::vector<std::string> rows;
  for (const auto& goal : grade.goals)
    if (goal.grade)
      rows.push_back(goal.goal + ": " + std::to_string(*goal.grade) + " (" + goal.reason + ")" +
                     (goal.provisional ? ", provisional" : ""));
  return base::join(rows, "; ");
}

}  // namespace

std::vector<std::string> mixed_up_with(const std::string& code) {
  std::vector<std::string> others;
  const auto& library = Library::shipped();
  const auto& model = learning::shipped_model();
  const auto add = [&](const std::string& other) {
    if (other != code && library.of.contains(other) &&
        std::find(others.begin(), others.end(), other) == others.end())
      others.push_back(other);
  };
  for (const auto& [a, b] : model.confusable) {
    if (a == code) add(b);
    if (b == code) add(a);
  }
  for (const auto& family : model.families)
    if (std::find(family.codes.begin(), family.codes.end(), code) != family.codes.end())
      for (const std::string& other : family.codes) add(other);
  return others;
}

bool can_be_asked(const Item& item, const grading::Scheme& scheme) {
  const coding::Observation& there = item.there;
  switch (item.wanted.kind) {
    case Kind::name_it:
    case Kind::clean_or_not:
    case Kind::next_step:
    case Kind::find_bottom:
      return true;
    case Kind::which_of_two:
      return !wrong_names(item).empty();
    case Kind::clock: {
      // Nearly the whole way round is no hour to find.
      if (!there.clock_from) return false;
      const double from_h = *there.clock_from, to_h = there.clock_to.value_or(*there.clock_from);
      const bool whole = there.clock_to && from_h == to_h;
      return !whole && base::arc_width_h({from_h, to_h, false}) <= widest_asked_h;
    }
    case Kind::size_it:
    case Kind::water_depth: {
      const auto* rule = size_rule(there);
      return there.q1.value && *there.q1.value > 0 && rule != nullptr;
    }
    case Kind::grade_it: {
      const auto grade = grading::grade(item.truth, scheme, {});
      return !grade.observations.empty() &&
             std::any_of(grade.observations[0].goals.begin(), grade.observations[0].goals.end(),
                         [](const auto& goal) { return goal.grade.has_value(); });
    }
  }
  return false;
}

void ask(Item& item, const grading::Scheme& scheme, base::Random& random) {
  const auto& list = coding::CodeList::shipped();
  const std::string said = item.code.empty() ? std::string() : coding::in_words(item.there, list);
  item.why = item.code.empty()
                 ? std::string("There is nothing wrong here.")
                 : said + "." + (item.there.reason.empty() ? "" : " Why: " + item.there.reason + ".");
  switch (item.wanted.kind) {
    case Kind::name_it:
      item.question = "What is it?";
      offer_names(item, random);
      item.right = item.code;
      break;
    case Kind::which_of_two: {
      const auto others = wrong_names(item);
      item.question = "Which of the two is it?";
      // Of the likeliest three, so that pairs go both ways.
      const auto most = static_cast<std::uint32_t>(std::min<std::size_t>(3, others.size()));
      item.options = sorted({item.code, others[random.below(most)]});
      item.right = item.code;
      break;
    }
    case Kind::clock:
      item.question = of_code(item.code).words + ": " +
                      (item.there.clock_to ? "from which hour to which is it?" : "at which hour is it?");
      item.right = hours(item.there);
      break;
    case Kind::size_it:
      ask_for_number(item, size_question(item));
      break;
    case Kind::water_depth:
      ask_for_number(item, "How deep is the water where the ring lies, in per cent of the bore's height?");
      break;
    case Kind::find_bottom:
      item.question = "Where on the screen is the bottom of the pipe?";
      item.why = "Water and dirt lie lowest.";
      break;
    case Kind::clean_or_not:
      item.question = "Is anything wrong here?";
      item.options = {{"clean", "nothing"}, {"not clean", "something"}};
      item.right = item.code.empty() ? "clean" : "not clean";
      break;
    case Kind::grade_it: {
      item.question = "How bad is it? " + said + ".";
      item.worst_class = scheme.worst_class();
      const auto grade = grading::grade(item.truth, scheme, {});
      // Where the scheme says nothing of a goal there is nothing to judge.
      for (const auto& goal : grade.observations.front().goals)
        if (goal.grade) item.goals.push_back(goal.goal);
      item.right = best_row(grade.observations.front());
      item.why = item.right + ".";
      break;
    }
    case Kind::next_step: {
      item.question = "What do you do next? The pipe was to be cleaned with a jet.";
      for (const coding::Action action : coding::all_actions())
        item.options.push_back({coding::show(action), {}});
      const auto reason = marking::action_for(item.truth, marking::Rules::shipped());
      item.right = coding::show(reason.action);
      if (!reason.why.empty()) item.why = said + ". " + reason.cause + ".";
      break;
    }
  }
  if (!item.options.empty()) item.guess = 1.0 / static_cast<double>(item.options.size());
}

}  // namespace haunch::drills
