// SPDX-License-Identifier: Apache-2.0
#include "marking/skills.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/words.hpp"

namespace haunch::marking {
namespace {

constexpr const char* water_level = "BDD";
constexpr double one_place_m = 0.1;  // the mark is moved about until it seems right: ours

/// Verdicts of one kind, as they come.
class Tally {
 public:
  explicit Tally(std::string name) { skill_.name = std::move(name); }
  void take(const Verdict& verdict) {
    if (!verdict.counts) return;
    switch (verdict.standing) {
      case Standing::right:
        ++skill_.right;
        break;
      case Standing::partly:
        ++skill_.partly;
        break;
      case Standing::wrong:
        ++skill_.wrong;
        break;
      case Standing::not_asked:
        return;
    }
    earned_ += verdict.earned;
  }
  /// "4 of 6 right, 1 partly: 71 % earned."
  Skill told(const std::string& of_what) {
    const int asked = skill_.right + skill_.partly + skill_.wrong;
    if (asked == 0) {
      skill_.sentence = "Not asked for in what was found.";
      return skill_;
    }
    skill_.earned = earned_ / asked;
    skill_.sentence =
        std::to_string(skill_.right) + " of " + std::to_string(asked) + " " + of_what + " right";
    if (skill_.partly > 0) skill_.sentence += ", " + std::to_string(skill_.partly) + " partly";
    skill_.sentence += ": " + std::to_string(std::lround(100 * *skill_.earned)) + " % earned.";
    return skill_;
  }

 private:
  Skill skill_;
  double earned_ = 0;
};

std::string counted(int count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

/// Found or not, and nothing made up: the mean of recall and precision's harmonic kind, F1.
Skill searching(const Summary& counts) {
  Skill skill;
  skill.name = "searching";
  skill.right = counts.found, skill.wrong = counts.missed + counts.false_calls;
  if (counts.there + counts.false_calls == 0) {
    skill.sentence = "There was nothing to find, and nothing was made up.";
    return skill;
  }
  skill.earned = 2.0 * counts.found / (2.0 * counts.found + counts.missed + counts.false_calls);
  skill.sentence = std::to_string(counts.found) + " of " + std::to_string(counts.there) + " found";
  if (counts.false_calls > 0)
    skill.sentence += ", " + counted(counts.false_calls, "mark", "marks") + " on nothing";
  skill.sentence += ": what was found against all that was there and all that was marked.";
  return skill;
}

/// Each place at which the mark was set asks once, by the last that was set there.
Skill finding_the_bottom(const std::vector<PlumbMark>& plumbs, const Rules::Inside& rules) {
  Tally tally("finding the bottom");
  double most_h = 0;
  for (std::size_t i = 0; i < plumbs.size(); ++i) {
    const auto again = std::find_if(plumbs.begin() + static_cast<std::ptrdiff_t>(i) + 1, plumbs.end(),
                                    [&](const PlumbMark& later) {
                                      return std::abs(later.distance_m - plumbs[i].distance_m) < one_place_m;
                                    });
    if (again != plumbs.end()) continue;
    const double off_h = std::abs(plumbs[i].off_h);
    most_h = std::max(most_h, off_h);
    Verdict verdict;
    verdict.standing = off_h <= rules.plumb_within_h + hair          ? Standing::right
                       : off_h <= rules.plumb_partly_within_h + hair ? Standing::partly
                                                                     : Standing::wrong;
    verdict.earned = verdict.standing == Standing::right    ? 1
                     : verdict.standing == Standing::partly ? rules.plumb_partly_earns / 1000.0
                                                            : 0;
    tally.take(verdict);
  }
  Skill skill = tally.told("marks for the bottom of the pipe");
  if (!skill.earned)
    skill.sentence = "The plumb mark was not set.";
  else
    skill.sentence += " Within " + base::show_number(rules.plumb_within_h) +
                      " h on the screen is right; the worst was " +
                      base::show_number(std::round(10 * most_h) / 10) + " h off.";
  return skill;
}

}  // namespace

std::string help_words(const std::vector<HintTaken>& hints, base::LengthUnit unit) {
  if (hints.empty()) return {};
  std::vector<std::string> places;
  for (const HintTaken& one : hints) {
    std::string place = base::show_distance(one.distance_m, unit);
    if (places.empty() || places.back() != place) places.push_back(std::move(place));
  }
  const auto named =
      std::count_if(hints.begin(), hints.end(), [](const HintTaken& one) { return one.named; });
  return counted(static_cast<int>(hints.size()), "hint was", "hints were") + " taken, at " +
         base::join(places, ", ") +
         (named > 0 ? "; " + std::to_string(named) + " told the code" : std::string()) + ".";
}

std::vector<Skill> skills_of(const Marking& marking, const std::vector<PlumbMark>& plumbs,
                             const Rules::Inside& rules) {
  Tally naming("naming"), placing("placing"), clock("clock"), water("water depth"), sizes("sizes");
  for (const Hit& hit : marking.hits) {
    if (hit.neutral) continue;
    for (const Verdict& verdict : hit.verdicts) switch (verdict.aspect) {
        case Aspect::code:
        case Aspect::characterisation:
          naming.take(verdict);
          break;
        case Aspect::place:
        case Aspect::extent:
        case Aspect::joint:
          placing.take(verdict);
          break;
        case Aspect::clock:
          clock.take(verdict);
          break;
        case Aspect::size:
          (hit.truth_code.rfind(water_level, 0) == 0 ? water : sizes).take(verdict);
          break;
      }
  }
  return {searching(marking.summary),
          naming.told("codes and letters"),
          placing.told("places, extents and joints"),
          clock.told("clock positions"),
          finding_the_bottom(plumbs, rules),
          water.told("water levels"),
          sizes.told("sizes")};
}

Summary summary_of(const Marking& marking, double inspected_m, base::LengthUnit unit) {
  Summary counts;
  for (const Hit& hit : marking.hits) {
    if (hit.neutral) continue;
    ++counts.found;
    if (!hit.verdicts.empty() && hit.verdicts.front().standing == Standing::right) ++counts.right_name;
  }
  counts.missed = static_cast<int>(marking.missed.size());
  counts.there = counts.found + counts.missed;
  for (const Invented& one : marking.invented) ++(one.duplicate ? counts.duplicates : counts.false_calls);
  counts.not_visible = static_cast<int>(marking.not_visible.size());
  counts.sentence = std::to_string(counts.found) + " of " + std::to_string(counts.there) + " found, " +
                    std::to_string(counts.right_name) + " under the right code; " +
                    counted(counts.missed, "miss", "misses") + ", " +
                    counted(counts.false_calls, "false call", "false calls");
  if (counts.duplicates > 0) counts.sentence += ", " + std::to_string(counts.duplicates) + " marked twice";
  if (inspected_m > 0) {
    counts.inspected_m = inspected_m;
    counts.false_per_100m = 100 * counts.false_calls / inspected_m;
    const bool feet = unit == base::LengthUnit::feet;
    const double shown = *counts.false_per_100m * (feet ? base::metres_per_foot : 1);
    if (counts.false_calls > 0)
      counts.sentence += " (" + base::show_number(std::round(10 * shown) / 10) + " false calls in 100 " +
                         (feet ? "ft" : "m") + "; " + base::show_distance(inspected_m, unit) + " of pipe)";
  }
  counts.sentence += ".";
  return counts;
}

}  // namespace haunch::marking
