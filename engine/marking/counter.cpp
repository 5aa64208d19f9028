// SPDX-License-Identifier: Apache-2.0
// Every pair of a true finding and a mark with the same main code speaks for one error of the counter. The
// errors on a grid of scales are counted in boxes of the zero; the box that most agree on wins (a Hough
// vote), and the marks in it are fitted by least squares. Robust, since what disagrees has no say.
#include "marking/counter.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <set>
#include <tuple>

#include "base/words.hpp"
#include "marking/aspects.hpp"

namespace haunch::marking {
namespace {

/// More than this do not make it surer; of a crowded record every so many true findings speak.
constexpr std::size_t most_pairs = 20000;
constexpr double scale_step = 0.001;

struct Pair {
  std::size_t truth = 0, attempt = 0;
  double true_m = 0, counted_m = 0;
};
struct Vote {
  CounterRun run;
  std::vector<Pair> agree;  ///< one to one
};

std::vector<Pair> pairs_of(const std::vector<Finding>& truths, const std::vector<Finding>& attempts,
                           const Rules::Inside& rules) {
  std::map<std::string, std::vector<std::size_t>> by_code;
  for (std::size_t a = 0; a < attempts.size(); ++a)
    if (attempts[a].from_m) by_code[attempts[a].seen->code].push_back(a);
  std::vector<Pair> pairs;
  for (std::size_t t = 0; t < truths.size(); ++t) {
    const auto same = by_code.find(truths[t].seen->code);
    if (same == by_code.end() || !truths[t].from_m) continue;
    const double there = *truths[t].from_m,
                 reach = rules.counter_most_zero_m + rules.counter_most_scale * std::abs(there);
    for (const std::size_t a : same->second) {
      const bool both = truths[t].continuous && attempts[a].continuous;
      const double counted = both ? ends_along(truths[t], attempts[a]).first : *attempts[a].from_m;
      if (std::abs(counted - there) <= reach) pairs.push_back({t, a, there, counted});
    }
  }
  if (pairs.size() <= most_pairs) return pairs;
  const std::size_t every = pairs.size() / most_pairs + 1;
  std::erase_if(pairs, [&](const Pair& pair) { return pair.truth % every != 0; });
  return pairs;
}

/// Nearest first, each true finding and each mark once.
std::vector<Pair> agreeing(const std::vector<Pair>& pairs, const CounterRun& run, double within_m) {
  std::vector<std::pair<double, const Pair*>> near;
  for (const Pair& pair : pairs) {
    const double off = std::abs(pair.counted_m - run.zero_m - run.scale * pair.true_m);
    if (off <= within_m + hair) near.emplace_back(off, &pair);
  }
  std::sort(near.begin(), near.end(), [](const auto& a, const auto& b) {
    return std::tuple(a.first, a.second->true_m, a.second->counted_m, a.second->truth, a.second->attempt) <
           std::tuple(b.first, b.second->true_m, b.second->counted_m, b.second->truth, b.second->attempt);
  });
  std::set<std::size_t> truths, attempts;
  std::vector<Pair> chosen;
  for (const auto& [off, pair] : near)
    if (!truths.contains(pair->truth) && !attempts.contains(pair->attempt)) {
      truths.insert(pair->truth), attempts.insert(pair->attempt);
      chosen.push_back(*pair);
    }
  return chosen;
}

/// Which of the two the fit is free to move.
enum class Free { zero, scale, both };

CounterRun fitted(const std::vector<Pair>& pairs, Free free) {
  CounterRun run;
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (const Pair& pair : pairs) {
    n += 1, x += pair.true_m, y += pair.counted_m;
    xx += pair.true_m * pair.true_m, xy += pair.true_m * pair.counted_m;
  }
  const double spread = n * xx - x * x;
  if (free == Free::scale && xx > 0) run.scale = xy / xx;
  if (free == Free::both && spread > 1e-9) run.scale = (n * xy - x * y) / spread;
  if (free != Free::scale && n > 0) run.zero_m = (y - run.scale * x) / n;
  return run;
}

/// The best start for a fit: the box of zero and scale that most pairs fall into.
CounterRun best_box(const std::vector<Pair>& pairs, Free free, const Rules::Inside& rules) {
  const double box_m = rules.counter_agree_m;
  const int steps = free == Free::zero ? 0 : static_cast<int>(rules.counter_most_scale / scale_step);
  CounterRun best;
  std::size_t most = 0;
  for (int step = 0; step <= 2 * steps; ++step) {
    // From no error outwards, so that of two alike the smaller error wins.
    const double scale = 1 + scale_step * (step % 2 == 0 ? 1 : -1) * ((step + 1) / 2);
    if (free == Free::scale) {
      const std::size_t votes = agreeing(pairs, {0, scale}, box_m).size();
      if (votes > most) most = votes, best = {0, scale};
      continue;
    }
    std::map<std::int64_t, std::set<std::size_t>> boxes;
    for (const Pair& pair : pairs) {
      const double zero = pair.counted_m - scale * pair.true_m;
      if (std::abs(zero) > rules.counter_most_zero_m) continue;
      // Two overlapping rows of boxes: no cluster is cut in two.
      const auto box = static_cast<std::int64_t>(std::floor(zero / box_m));
      boxes[box].insert(pair.truth), boxes[box - 1].insert(pair.truth);
    }
    for (const auto& [box, truths] : boxes) {
      const double zero = static_cast<double>(box + 1) * box_m;
      const bool nearer =
          truths.size() == most && scale == best.scale && std::abs(zero) < std::abs(best.zero_m);
      if (truths.size() > most || nearer) most = truths.size(), best = {zero, scale};
    }
  }
  return best;
}

Vote vote_of(const std::vector<Pair>& pairs, Free free, const Rules::Inside& rules) {
  Vote vote{best_box(pairs, free, rules), {}};
  vote.agree = agreeing(pairs, vote.run, 2 * rules.counter_agree_m);
  for (int round = 0; round < 3 && !vote.agree.empty(); ++round) {
    vote.run = fitted(vote.agree, free);
    vote.agree = agreeing(pairs, vote.run, rules.counter_agree_m);
  }
  const bool possible = std::abs(vote.run.zero_m) <= rules.counter_most_zero_m &&
                        std::abs(vote.run.scale - 1) <= rules.counter_most_scale;
  if (!possible) vote.agree.clear();
  return vote;
}

int common_of(const std::vector<Pair>& pairs) {
  std::set<std::size_t> truths, attempts;
  for (const Pair& pair : pairs) truths.insert(pair.truth), attempts.insert(pair.attempt);
  return static_cast<int>(std::min(truths.size(), attempts.size()));
}

}  // namespace

std::optional<CounterRun> counter_run(const std::vector<Finding>& truths,
                                      const std::vector<Finding>& attempts, const Rules::Inside& rules) {
  if (!rules.counter_looked_for) return std::nullopt;
  const std::vector<Pair> pairs = pairs_of(truths, attempts, rules);
  const int common = common_of(pairs);
  if (common < rules.counter_least_marks) return std::nullopt;
  const auto as_written = static_cast<int>(agreeing(pairs, {}, rules.counter_agree_m).size());
  const Vote votes[] = {vote_of(pairs, Free::zero, rules), vote_of(pairs, Free::scale, rules),
                        vote_of(pairs, Free::both, rules)};
  const auto sure_of = [&](const Vote& vote) -> std::optional<CounterRun> {
    CounterRun run = vote.run;
    run.agree = static_cast<int>(vote.agree.size());
    run.common = common;
    for (const Pair& pair : vote.agree) {
      run.zero_moves_m = std::abs(run.zero_m);
      run.scale_moves_m = std::max(run.scale_moves_m, std::abs((run.scale - 1) * pair.true_m));
      run.moves_m = std::max(run.moves_m, std::abs(run.zero_m + (run.scale - 1) * pair.true_m));
    }
    // Two errors at once fit a few marks by chance: it takes more to believe in both.
    const int needed = rules.counter_least_marks + (&vote == &votes[2] ? 2 : 0);
    const bool sure = run.agree >= needed && run.agree >= rules.counter_least_share * common - hair &&
                      run.agree >= as_written + 3;
    return sure && run.moves_m >= rules.counter_from_m ? std::optional(run) : std::nullopt;
  };
  // Of those that are sure and explain about as much, the simplest.
  std::size_t most = 0;
  for (const Vote& vote : votes)
    if (sure_of(vote)) most = std::max(most, vote.agree.size());
  for (const Vote& vote : votes)
    if (auto run = sure_of(vote); run && 10 * vote.agree.size() >= 9 * most) return run;
  return std::nullopt;
}

CounterError told(const CounterRun& run, const Rules::Inside& rules, base::LengthUnit unit) {
  CounterError error{run.zero_m, run.scale, run.agree, run.common, 0, {}};
  const std::string agree = " (" + std::to_string(run.agree) + " of " + std::to_string(run.common) +
                            " marks agree within " + base::show_distance(rules.counter_agree_m, unit) +
                            "). Places are judged with that taken off, but where a mark is righter as it was "
                            "written.";
  // Each where it moves some mark by more than half of what is told at all; one of the two does.
  if (run.zero_moves_m >= rules.counter_from_m / 2)
    error.sentences.push_back(
        "Every place is " + base::show_distance(run.zero_moves_m, unit) +
        (run.zero_m > 0 ? " too far" : " too near") +
        " from the start on: the counter was not set to zero, or each was written down " +
        (run.zero_m > 0 ? "after it was passed" : "as soon as it showed") + agree);
  if (run.scale_moves_m >= rules.counter_from_m / 2)
    error.sentences.push_back(std::string("The counter counts ") + (run.scale > 1 ? "long" : "short") + ": " +
                              base::show_number(std::round(10000 * std::abs(run.scale - 1)) / 100) +
                              " % too " + (run.scale > 1 ? "much" : "little") + " over any length" + agree);
  return error;
}

std::vector<Finding> with_counter_set_right(const std::vector<Finding>& truths, std::vector<Finding> attempts,
                                            const CounterRun& run, const Rules::Inside& rules) {
  std::map<std::string, std::vector<const Finding*>> by_code;
  for (const Finding& truth : truths)
    if (truth.from_m) by_code[truth.seen->code].push_back(&truth);
  // How far the nearest of that code lies, where that is near enough to be right; else nothing.
  const auto off_by = [&](const std::string& code, double at_m) {
    std::optional<double> nearest;
    if (const auto same = by_code.find(code); same != by_code.end())
      for (const Finding* truth : same->second)
        if (const double off = std::abs(*truth->from_m - at_m);
            off <= place_tolerance_m(*truth, rules) + hair && off < nearest.value_or(1e9))
          nearest = off;
    return nearest;
  };
  for (Finding& one : attempts) {
    if (!one.from_m) continue;
    const auto as_written = off_by(one.seen->code, *one.from_m),
               set_right = off_by(one.seen->code, run.true_m(*one.from_m));
    if (as_written && (!set_right || *as_written + rules.counter_agree_m / 2 < *set_right)) continue;
    one.counted_from_m = one.from_m, one.counted_to_m = one.to_m;
    one.from_m = run.true_m(*one.from_m);
    if (one.to_m) one.to_m = run.true_m(*one.to_m);
  }
  return attempts;
}

}  // namespace haunch::marking
