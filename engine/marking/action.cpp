// SPDX-License-Identifier: Apache-2.0
// What to do next: what the rules call for, and what a person chose against it. Too careful is never
// wrong where something is dangerous; too careless is told by what it would do.
#include <algorithm>

#include "marking/judgement.hpp"

namespace haunch::marking {
namespace {

using coding::Action;

/// From here on somebody or the pipe comes to harm if it is not heeded.
bool is_dangerous(Action action) { return action >= Action::do_not_jet; }

std::string quoted(Action action) { return "\"" + coding::show(action) + "\""; }

std::string with_reason(const ActionReason& reason) {
  return quoted(reason.action) + " (" + reason.why + ")";
}

ActionStanding standing_of(Action given, Action wanted, Action with_hidden) {
  if (given == wanted) return ActionStanding::right;
  if (given > wanted) {
    const bool danger = is_dangerous(wanted) || is_dangerous(with_hidden);
    return danger ? ActionStanding::safer : ActionStanding::more_than_needed;
  }
  return is_dangerous(wanted) && !is_dangerous(given) ? ActionStanding::dangerous
                                                      : ActionStanding::not_enough;
}

std::string too_mild(const ActionMark& mark, const ActionReason& wanted) {
  std::string text = mark.standing == ActionStanding::dangerous ? "Dangerous action: " : "Not enough: ";
  text += quoted(*mark.given) + " was given; what is there calls for " + with_reason(wanted) + ".";
  if (mark.standing == ActionStanding::dangerous && *mark.given == Action::clean_again)
    text += " To clean is to jet, and a jet can do harm there.";
  if (is_dangerous(*mark.given)) text += " It keeps the jet out, but the right people are not told.";
  return text;
}

std::string too_careful(const ActionMark& mark, const ActionReason& wanted, const ActionReason& with_hidden) {
  const std::string given = quoted(*mark.given) + " was given; ";
  if (mark.standing == ActionStanding::more_than_needed)
    return "More than needed: " + given + with_reason(wanted) + " is enough, as nothing there is dangerous.";
  if (is_dangerous(wanted.action))
    return "Right, and safer than needed: " + given + with_reason(wanted) + " was enough.";
  return "Right, and safer than what could be seen called for: " + given + with_reason(wanted) +
         " was enough for that; what could not be seen calls for " + with_reason(with_hidden) + ".";
}

}  // namespace

std::string show(ActionStanding standing) {
  switch (standing) {
    case ActionStanding::not_given:
      return "not given";
    case ActionStanding::right:
      return "right";
    case ActionStanding::safer:
      return "safer than needed";
    case ActionStanding::more_than_needed:
      return "more than needed";
    case ActionStanding::not_enough:
      return "not enough";
    case ActionStanding::dangerous:
      return "dangerous";
  }
  return {};
}

coding::Action action_of(const Finding& finding, const Rules::Inside& rules) {
  Action action = Action::carry_on;
  for (const Meaning& meaning : rules.actions)
    if (falls_under(meaning, finding)) action = std::max(action, meaning.action);
  return action;
}

std::vector<ActionReason> actions_by_finding(const coding::Record& record, const Rules& rules,
                                             base::LengthUnit unit) {
  std::vector<ActionReason> reasons;
  for (const Finding& finding : findings_of(record)) {
    ActionReason reason;
    reason.observation = finding.id;
    for (const Meaning& meaning : rules.inside().actions) {
      if (meaning.action <= reason.action || !falls_under(meaning, finding)) continue;
      reason = {meaning.action, finding.id, where_of(finding, unit) + ": " + meaning.why, meaning.why};
    }
    reasons.push_back(std::move(reason));
  }
  return reasons;
}

ActionReason action_for(const coding::Record& record, const Rules& rules, base::LengthUnit unit) {
  ActionReason result;
  result.why = "nothing in the record calls for more";
  for (ActionReason& reason : actions_by_finding(record, rules, unit))
    if (reason.action > result.action) result = std::move(reason);
  return result;
}

ActionMark mark_action(const coding::Record& seen, const coding::Record& whole, const coding::Record& attempt,
                       const Rules& rules, base::LengthUnit unit) {
  const ActionReason there = action_for(seen, rules, unit), here = action_for(attempt, rules, unit);
  const ActionReason with_hidden = action_for(whole, rules, unit);
  ActionMark mark;
  mark.own_record = here.action;
  mark.truth = there.action;
  if (attempt.judgement) mark.given = attempt.judgement->action;
  if (!mark.given) {
    mark.sentence = "No action was given. What is there calls for " + with_reason(there) + ".";
    return mark;
  }
  mark.standing = standing_of(*mark.given, there.action, with_hidden.action);
  mark.right = mark.standing == ActionStanding::right || mark.standing == ActionStanding::safer;
  if (mark.standing == ActionStanding::right)
    mark.sentence = "Right: what is there calls for " + with_reason(there) + ".";
  else if (*mark.given > there.action)
    mark.sentence = too_careful(mark, there, with_hidden);
  else
    mark.sentence = too_mild(mark, there);
  if (mark.right) return mark;
  if (*mark.given == here.action)
    mark.sentence += " It fits what was logged, so the coding led to it.";
  else if (here.action == there.action)
    mark.sentence += " What was logged calls for that too.";
  return mark;
}

}  // namespace haunch::marking
