// SPDX-License-Identifier: Apache-2.0
#include "statistics/false_discovery.hpp"

#include <algorithm>
#include <numeric>

namespace haunch::statistics {

std::vector<double> benjamini_hochberg(const std::vector<double>& p) {
  std::vector<std::size_t> rank(p.size());
  std::iota(rank.begin(), rank.end(), std::size_t{0});
  std::stable_sort(rank.begin(), rank.end(), [&p](std::size_t a, std::size_t b) { return p[a] < p[b]; });
  std::vector<double> adjusted(p.size());
  double least = 1;
  for (std::size_t i = p.size(); i-- > 0;) {
    least = std::min(least, p[rank[i]] * static_cast<double>(p.size()) / static_cast<double>(i + 1));
    adjusted[rank[i]] = least;
  }
  return adjusted;
}

std::vector<bool> discoveries(const std::vector<double>& p, double rate) {
  std::vector<bool> believed;
  for (const double adjusted : benjamini_hochberg(p)) believed.push_back(adjusted <= rate);
  return believed;
}

}  // namespace haunch::statistics
