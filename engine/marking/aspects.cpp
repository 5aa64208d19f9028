// SPDX-License-Identifier: Apache-2.0
#include "marking/aspects.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "base/words.hpp"

namespace haunch::marking {
namespace {

using base::show_number;

/// Distances as people read them.
struct Shown {
  base::LengthUnit unit;
  std::string operator()(double metres) const { return base::show_distance(metres, unit); }
  /// Does it come to nothing once it is written down?
  bool nothing(double metres) const { return (*this)(metres) == (*this)(0); }
};

Judged judged(Aspect aspect, std::string given, std::string expected, int thousandths, std::string sentence) {
  Judged result;
  result.thousandths = thousandths;
  result.verdict.aspect = aspect;
  result.verdict.standing = thousandths >= 1000 ? Standing::right
                            : thousandths > 0   ? Standing::partly
                                                : Standing::wrong;
  result.verdict.given = std::move(given);
  result.verdict.expected = std::move(expected);
  result.verdict.source = "ours";
  result.verdict.sentence = std::move(sentence);
  result.verdict.earned = thousandths / 1000.0;
  return result;
}

Judged with(Judged result, std::string tolerance, const std::string& source) {
  result.verdict.tolerance = std::move(tolerance);
  result.verdict.source = source;
  return result;
}

const Collar* collar_of(const std::string& code, const Rules::Inside& rules) {
  for (const Collar& collar : rules.collars)
    if (is_one_of(collar.codes, code)) return &collar;
  return nullptr;
}

std::string hours(const base::ClockArc& arc) {
  if (arc.whole) return "all round";
  if (arc.from_h == arc.to_h) return show_number(arc.from_h) + " o'clock";
  return show_number(arc.from_h) + " to " + show_number(arc.to_h) + " o'clock";
}

bool single(const base::ClockArc& arc) { return !arc.whole && arc.from_h == arc.to_h; }

const SizeRule& size_rule(const Finding& truth, const Rules::Inside& rules) {
  for (const SizeRule& rule : rules.sizes)
    if ((is_one_of(rule.codes, truth.seen->code) || is_one_of(rule.codes, "*")) &&
        (rule.ch1.empty() || is_one_of(rule.ch1, truth.seen->ch1)))
      return rule;
  return rules.sizes.back();
}

double size_tolerance(const SizeRule& rule, double expected) {
  if (rule.small_up_to && rule.small_within && expected <= *rule.small_up_to) return *rule.small_within;
  return std::max(rule.within, rule.within_share * std::abs(expected));
}

}  // namespace

double place_tolerance_m(const Finding& truth, const Rules::Inside& rules) {
  const Collar* collar = collar_of(truth.seen->code, rules);
  const double within = collar != nullptr ? collar->within_m : rules.place_within_m;
  return std::max(within, rules.place_within_share * std::abs(truth.from_m.value_or(0)));
}

Judged not_asked(Aspect aspect, std::string sentence) {
  Judged result;
  result.verdict.aspect = aspect;
  result.verdict.standing = Standing::not_asked;
  result.verdict.source = "ours";
  result.verdict.sentence = std::move(sentence);
  return result;
}

std::pair<double, double> ends_along(const Finding& truth, const Finding& attempt) {
  const bool turned = (*truth.to_m - *truth.from_m) * (*attempt.to_m - *attempt.from_m) < 0;
  return turned ? std::pair(*attempt.to_m, *attempt.from_m) : std::pair(*attempt.from_m, *attempt.to_m);
}

Judged judge_code(const Finding& truth, const Finding& attempt, const Rules::Inside& rules) {
  const std::string &given = attempt.seen->code, &expected = truth.seen->code;
  if (given == expected) return judged(Aspect::code, given, expected, 1000, "Right code: " + expected + ".");
  return with(judged(Aspect::code, given, expected, 0,
                     "Right place, wrong name: " + given + " was given, it is " + expected + "."),
              "the same code", rules.wrong_name_source);
}

namespace {

/// What is nothing when written down is not written with a sign.
double without_sign(double metres) { return std::abs(metres) < 0.005 ? 0 : metres; }

}  // namespace

Judged judge_letter(const Finding& truth, const Finding& attempt, const std::string& field,
                    const Rules::Inside& rules) {
  const bool first = field == "ch1";
  const std::string& given = first ? attempt.seen->ch1 : attempt.seen->ch2;
  const std::string& expected = first ? truth.seen->ch1 : truth.seen->ch2;
  const std::string name = first ? "Characterisation 1" : "Characterisation 2";
  const std::string said = given.empty() ? "nothing" : given, wanted = expected.empty() ? "none" : expected;
  if (given == expected)
    return judged(Aspect::characterisation, given, expected, 1000, name + " is right: " + expected + ".");
  int earns = 0;
  for (const NearLetters& near : rules.near_letters)
    if (near.code == truth.seen->code && near.field == field &&
        (near.letters == std::pair(given, expected) || near.letters == std::pair(expected, given)))
      earns = std::min(near.earns, 999);
  return with(judged(Aspect::characterisation, given, expected, earns,
                     name + ": " + said + " was given, it is " + wanted + (earns > 0 ? "; close." : ".")),
              "the same letter", "ours");
}

Judged judge_place(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                   base::LengthUnit unit) {
  const Shown length{unit};
  const Collar* collar = collar_of(truth.seen->code, rules);
  double tolerance = place_tolerance_m(truth, rules), off = 0;
  if (truth.continuous && attempt.continuous) {
    tolerance += rules.stretch_extra_m;
    off = std::abs(ends_along(truth, attempt).first - *truth.from_m);
  } else {
    // A point against a stretch: right anywhere along it.
    off = std::max({0.0, truth.low_m() - attempt.high_m(), attempt.low_m() - truth.high_m()});
  }
  const int earns = off <= tolerance + hair                              ? 1000
                    : off <= tolerance * rules.place_partly_times + hair ? rules.place_partly_earns
                                                                         : 0;
  const std::string what = truth.continuous && attempt.continuous ? "Begins at " : "At ";
  const std::string written = length(*attempt.written_from_m());
  std::string sentence = what + written;
  if (attempt.counted_from_m)
    sentence += " (" + length(without_sign(*attempt.from_m)) + " with the counter's error taken off)";
  sentence += ", expected " + length(*truth.from_m);
  if (truth.continuous && !attempt.continuous) sentence += " to " + length(*truth.to_m);
  sentence += !length.nothing(off) ? ": off by " + length(off) + "." : ": right.";
  return with(judged(Aspect::place, written, length(*truth.from_m), earns, std::move(sentence)),
              "within " + length(tolerance), collar != nullptr ? collar->source : rules.place_source);
}

Judged judge_clock(const Finding& truth, const Finding& attempt, const Rules::Inside& rules) {
  const base::ClockArc& expected = *truth.clock;
  const std::string tolerance = "within " + show_number(rules.clock_within_h) + " h";
  if (!attempt.clock)
    return with(judged(Aspect::clock, "", hours(expected), 0,
                       "No clock position given, expected " + hours(expected) + "."),
                tolerance, rules.clock_source);
  const base::ClockArc& given = *attempt.clock;
  int earns = 0;
  std::string why;
  if (single(expected) && single(given)) {
    const double off = base::hours_apart(given.from_h, expected.from_h);
    earns = off <= rules.clock_within_h + hair          ? 1000
            : off <= rules.clock_partly_within_h + hair ? rules.clock_partly_earns
                                                        : 0;
    why = off > hair ? ": off by " + show_number(off) + " h" : ": right";
  } else if (single(expected) || single(given)) {
    const base::ClockArc& range = single(expected) ? given : expected;
    const base::ClockArc& hour = single(expected) ? expected : given;
    const bool inside = range.whole || base::arc_contains(range, hour.from_h);
    const bool narrow = !range.whole && base::arc_width_h(range) <= rules.clock_within_h + hair;
    earns = inside ? (narrow ? 1000 : rules.one_hour_for_range_earns) : 0;
    why = single(expected) ? ": a range was given for one place" : ": one hour was given for a range";
  } else {
    const double begin = base::hours_apart(given.from_h, expected.from_h);
    const double end = base::hours_apart(given.to_h, expected.to_h);
    const double shared = base::arc_overlap_h(given, expected);
    const double together = base::arc_width_h(given) + base::arc_width_h(expected) - shared;
    const double share = together > 0 ? std::clamp(shared / together, 0.0, 1.0) : 0;
    const bool same_kind = given.whole == expected.whole;
    if (same_kind && (given.whole || (shared > 0 && begin <= rules.clock_within_h + hair &&
                                      end <= rules.clock_within_h + hair)))
      earns = 1000;
    else if (share >= rules.range_overlap_from)
      earns = std::min(999, static_cast<int>(std::floor(share * 1000)));
    why = earns == 1000 ? ": right"
                        : ": " + std::to_string(std::lround(share * 100)) + " % of the two arcs is shared";
  }
  // Looking the other way, or left for right.
  const base::ClockArc turned = base::mirrored(expected);
  if (earns == 0 && !expected.whole && !given.whole &&
      base::hours_apart(given.from_h, turned.from_h) <= rules.clock_within_h + hair &&
      base::hours_apart(given.to_h, turned.to_h) <= rules.clock_within_h + hair)
    why += "; left and right look changed over";
  return with(judged(Aspect::clock, hours(given), hours(expected), earns,
                     "Clock: " + hours(given) + ", expected " + hours(expected) + why + "."),
              tolerance, rules.clock_source);
}

Judged judge_size(const Finding& truth, const Finding& attempt, const std::string& field,
                  const Rules::Inside& rules) {
  const SizeRule& rule = size_rule(truth, rules);
  const std::string unit = rule.unit.empty() ? "" : " " + rule.unit;
  const double expected = field == "q1" ? *truth.q1 : *truth.q2;
  const std::optional<double>& given = field == "q1" ? attempt.q1 : attempt.q2;
  const double tolerance = size_tolerance(rule, expected);
  const std::string within = "within " + show_number(std::round(tolerance * 100) / 100) + unit;
  const std::string name = field == "q1" ? "Size" : "Second size";
  if (!given)
    return with(judged(Aspect::size, "", show_number(expected) + unit, 0,
                       name + " not given, expected " + show_number(expected) + unit + "."),
                within, rule.source);
  const double off = std::abs(*given - expected);
  int earns = 1000;
  if (off > tolerance + hair) {
    const double fade = tolerance > 0 ? (off - tolerance) / ((rules.fade_times - 1) * tolerance) : 1;
    earns = std::clamp(static_cast<int>(std::floor((1 - fade) * 1000)), 0, 999);
  }
  std::string sentence =
      name + ": " + show_number(*given) + unit + ", expected " + show_number(expected) + unit;
  if (off > hair)
    sentence += std::string(*given > expected ? ": too large by " : ": too small by ") +
                show_number(std::round(off * 1000) / 1000) + unit;
  sentence += earns == 1000 ? " (" + within + " is right)." : ".";
  return with(judged(Aspect::size, show_number(*given) + unit, show_number(expected) + unit, earns,
                     std::move(sentence)),
              within, rule.source);
}

Judged judge_joint(const Finding& truth, const Finding& attempt) {
  const auto words = [](bool at_joint) { return std::string(at_joint ? "at a joint" : "not at a joint"); };
  const bool right = truth.seen->at_joint == attempt.seen->at_joint;
  return judged(
      Aspect::joint, words(attempt.seen->at_joint), words(truth.seen->at_joint), right ? 1000 : 0,
      right ? "At a joint: right."
            : "Logged as " + words(attempt.seen->at_joint) + ", it is " + words(truth.seen->at_joint) + ".");
}

Judged judge_extent(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                    base::LengthUnit unit) {
  const Shown length{unit};
  const auto words = [&](const Finding& finding) {
    return finding.continuous ? length(*finding.written_from_m()) + " to " + length(*finding.written_to_m())
                              : "a point";
  };
  const double tolerance = place_tolerance_m(truth, rules) + rules.stretch_extra_m;
  const std::string within = "end within " + length(tolerance);
  if (truth.continuous != attempt.continuous)
    return with(judged(Aspect::extent, words(attempt), words(truth), 0,
                       truth.continuous ? "Logged as a point, it runs from " + words(truth) + "."
                                        : "Logged as a stretch, it is a point."),
                within, rules.place_source);
  const double off = std::abs(ends_along(truth, attempt).second - *truth.to_m);
  const std::string corrected = attempt.counted_to_m ? " (to " + length(without_sign(*attempt.to_m)) +
                                                           " with the counter's error taken off)"
                                                     : std::string();
  const double shared =
      std::max(0.0, std::min(truth.high_m(), attempt.high_m()) - std::max(truth.low_m(), attempt.low_m()));
  const double together =
      std::max(truth.high_m(), attempt.high_m()) - std::min(truth.low_m(), attempt.low_m());
  int earns = 1000;
  if (off > tolerance + hair)
    earns = together > 0 ? std::min(999, static_cast<int>(std::floor(shared / together * 1000))) : 0;
  return with(judged(Aspect::extent, words(attempt), words(truth), earns,
                     !length.nothing(off) ? "Runs " + words(attempt) + corrected + ", expected " +
                                                words(truth) + ": its end is off by " + length(off) + "."
                                          : "Ends where it should."),
              within, rules.place_source);
}

}  // namespace haunch::marking
