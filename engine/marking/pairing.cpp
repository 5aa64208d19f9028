// SPDX-License-Identifier: Apache-2.0
// The gain of a pair is built so that a later wish can never outweigh an earlier one. Sizes do not
// decide who may pair, and credit decides among the allowed pairings; so the credit of the whole is
// the largest there is, and making one size worse can only lower it.
#include "marking/pairing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <stdexcept>

#include "marking/assignment.hpp"

namespace haunch::marking {
namespace {

struct Candidate {
  std::size_t truth = 0, attempt = 0;
  bool right_name = false;
  std::int64_t credit = 0;  ///< tenths x thousandths
  int near = 0;
};

/// Clusters of findings linked by possible pairs; each is solved by itself, which keeps gains small.
class Clusters {
 public:
  explicit Clusters(std::size_t count) : parent_(count) {
    std::iota(parent_.begin(), parent_.end(), std::size_t{0});
  }
  std::size_t root(std::size_t at) {
    while (parent_[at] != at) at = parent_[at] = parent_[parent_[at]];
    return at;
  }
  void join(std::size_t a, std::size_t b) { parent_[root(a)] = root(b); }

 private:
  std::vector<std::size_t> parent_;
};

void solve(const std::vector<Candidate>& cluster, Pairing& result) {
  std::vector<std::size_t> truths, attempts;
  for (const Candidate& candidate : cluster) {
    truths.push_back(candidate.truth);
    attempts.push_back(candidate.attempt);
  }
  for (auto* side : {&truths, &attempts}) {
    std::sort(side->begin(), side->end());
    side->erase(std::unique(side->begin(), side->end()), side->end());
  }
  const auto most = static_cast<std::int64_t>(std::min(truths.size(), attempts.size()));
  std::int64_t most_credit = 1;
  for (const Candidate& candidate : cluster) most_credit = std::max(most_credit, candidate.credit);
  // Hundreds of marks on one spot are no inspection: there credit is told apart more coarsely, so
  // that the sums stay within 64 bits.
  std::int64_t coarse = 1;
  const auto step_of = [&] { return std::int64_t{256} * most; };
  const auto pair_of = [&] { return step_of() * ((most_credit / coarse) * most + 1); };
  while (pair_of() * (most + 1) > (std::int64_t{1} << 60U) / (most + 1) / 4) coarse *= 2;
  const std::int64_t step = step_of(), any_pair = pair_of(), right_pair = any_pair * (most + 1);
  const auto place_of = [](const std::vector<std::size_t>& side, std::size_t value) {
    return static_cast<std::size_t>(std::lower_bound(side.begin(), side.end(), value) - side.begin());
  };
  std::vector<PossiblePair> possible;
  for (const Candidate& candidate : cluster)
    possible.push_back(
        {place_of(truths, candidate.truth), place_of(attempts, candidate.attempt),
         (candidate.right_name ? right_pair : any_pair) + candidate.credit / coarse * step + candidate.near});
  for (const auto& [truth, attempt] : best_pairs(truths.size(), attempts.size(), possible))
    result.pairs.emplace_back(truths[truth], attempts[attempt]);
}

/// Findings by where they lie. Stretches are kept by about how long they are, so that one long one does
/// not make every place look crowded.
class Along {
 public:
  explicit Along(const std::vector<Finding>& findings) {
    for (std::size_t i = 0; i < findings.size(); ++i) {
      const Finding& one = findings[i];
      if (!one.from_m) {
        nowhere_[one.seen->code].push_back(i);
        continue;
      }
      const double length = one.high_m() - one.low_m();
      const int size = std::isfinite(length) ? (length > 0 ? std::ilogb(length) + 1 : none) : endless;
      by_size_[size].push_back({one.low_m(), i});
    }
    for (auto& [size, places] : by_size_) std::sort(places.begin(), places.end());
  }
  /// All that may come within [low, high], and some that do not, in the order of the list.
  std::vector<std::size_t> near(double low, double high) const {
    std::vector<std::size_t> found;
    for (const auto& [size, places] : by_size_) {
      const double longest = size == none ? 0 : size == endless ? HUGE_VAL : std::ldexp(1.0, size);
      auto place = std::lower_bound(places.begin(), places.end(), std::pair(low - longest, std::size_t{0}));
      for (; place != places.end() && place->first <= high; ++place) found.push_back(place->second);
    }
    std::sort(found.begin(), found.end());
    return found;
  }
  std::vector<std::size_t> without_distance(const std::string& code) const {
    const auto found = nowhere_.find(code);
    return found == nowhere_.end() ? std::vector<std::size_t>() : found->second;
  }

 private:
  static constexpr int none = -100000, endless = 100000;
  std::map<int, std::vector<std::pair<double, std::size_t>>> by_size_;
  std::map<std::string, std::vector<std::size_t>> nowhere_;
};

}  // namespace

std::vector<std::vector<std::size_t>> within_reach(const std::vector<Finding>& truths,
                                                   const std::vector<Finding>& attempts,
                                                   const Rules::Inside& rules, const coding::CodeList& list) {
  const Along along(attempts);
  std::vector<std::vector<std::size_t>> near(truths.size());
  std::size_t count = 0;
  for (std::size_t t = 0; t < truths.size(); ++t) {
    const Finding& truth = truths[t];
    std::vector<std::size_t> maybe;
    if (truth.from_m) {
      // A little more than the reach: the gates themselves decide.
      const double reach = farthest_reach_m(truth, rules) * (1 + 1e-9) + 1e-6;
      maybe = along.near(truth.low_m() - reach, truth.high_m() + reach);
    } else {
      maybe = along.without_distance(truth.seen->code);
    }
    for (const std::size_t a : maybe)
      if (nearness(truth, attempts[a], rules, list)) near[t].push_back(a);
    count += near[t].size();
    if (count > most_pairs_in_reach)
      throw std::runtime_error("more than " + std::to_string(most_pairs_in_reach) +
                               " pairs of a true finding and a mark lie within reach of each other; a record "
                               "so crowded is no inspection and cannot be marked");
  }
  return near;
}

Pairing pair_up(const std::vector<Finding>& truths, const std::vector<Finding>& attempts,
                const std::vector<int>& weights, const Rules::Inside& rules, const coding::CodeList& list) {
  Pairing result;
  result.truths_near.resize(attempts.size());
  std::vector<Candidate> candidates;
  Clusters clusters(truths.size() + attempts.size());
  const auto near_truths = within_reach(truths, attempts, rules, list);
  for (std::size_t t = 0; t < truths.size(); ++t)
    for (const std::size_t a : near_truths[t]) {
      const int near = *nearness(truths[t], attempts[a], rules, list);
      const Comparison comparison = compare(truths[t], attempts[a], rules);
      candidates.push_back(
          {t, a, comparison.right_name, std::int64_t{weights[t]} * comparison.thousandths, near});
      clusters.join(t, truths.size() + a);
      result.truths_near[a].push_back(t);
    }
  std::stable_sort(candidates.begin(), candidates.end(), [&](const Candidate& a, const Candidate& b) {
    return clusters.root(a.truth) < clusters.root(b.truth);
  });
  for (std::size_t from = 0; from < candidates.size();) {
    std::size_t to = from;
    while (to < candidates.size() &&
           clusters.root(candidates[to].truth) == clusters.root(candidates[from].truth))
      ++to;
    solve({candidates.begin() + static_cast<std::ptrdiff_t>(from),
           candidates.begin() + static_cast<std::ptrdiff_t>(to)},
          result);
    from = to;
  }
  std::sort(result.pairs.begin(), result.pairs.end());
  return result;
}

}  // namespace haunch::marking
