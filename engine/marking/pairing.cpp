// SPDX-License-Identifier: Apache-2.0
// The gain of a pair is built so that a later wish can never outweigh an earlier one. Sizes do not
// decide who may pair, and credit decides among the allowed pairings; so the credit of the whole is
// the largest there is, and making one size worse can only lower it.
#include "marking/pairing.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

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

}  // namespace

Pairing pair_up(const std::vector<Finding>& truths, const std::vector<Finding>& attempts,
                const std::vector<int>& weights, const Rules::Inside& rules, const coding::CodeList& list) {
  std::vector<Candidate> candidates;
  Clusters clusters(truths.size() + attempts.size());
  for (std::size_t t = 0; t < truths.size(); ++t)
    for (std::size_t a = 0; a < attempts.size(); ++a) {
      const std::optional<int> near = nearness(truths[t], attempts[a], rules, list);
      if (!near) continue;
      const Comparison comparison = compare(truths[t], attempts[a], rules);
      candidates.push_back(
          {t, a, comparison.right_name, std::int64_t{weights[t]} * comparison.thousandths, *near});
      clusters.join(t, truths.size() + a);
    }
  std::stable_sort(candidates.begin(), candidates.end(), [&](const Candidate& a, const Candidate& b) {
    return clusters.root(a.truth) < clusters.root(b.truth);
  });
  Pairing result;
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
