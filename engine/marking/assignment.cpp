// SPDX-License-Identifier: Apache-2.0
#include "marking/assignment.hpp"

#include <lemon/network_simplex.h>
#include <lemon/smart_graph.h>

#include <algorithm>
#include <stdexcept>

namespace haunch::marking {

std::vector<std::pair<std::size_t, std::size_t>> best_pairs(std::size_t lefts, std::size_t rights,
                                                            const std::vector<PossiblePair>& possible) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  if (possible.empty()) return pairs;
  // A flow of one unit for each left: through a pair to the sink, or past everybody at no cost.
  lemon::SmartDigraph graph;
  std::vector<lemon::SmartDigraph::Node> left(lefts), right(rights);
  for (auto& node : left) node = graph.addNode();
  for (auto& node : right) node = graph.addNode();
  const auto source = graph.addNode(), sink = graph.addNode();
  for (const auto& node : left) graph.addArc(source, node);
  for (const auto& node : right) graph.addArc(node, sink);
  std::vector<lemon::SmartDigraph::Arc> arcs;
  for (const PossiblePair& pair : possible) arcs.push_back(graph.addArc(left[pair.left], right[pair.right]));
  const auto past = graph.addArc(source, sink);
  // Maps are made last: an arc added after its map would get a capacity of 0.
  lemon::SmartDigraph::ArcMap<std::int64_t> cost(graph, 0), capacity(graph, 1);
  for (std::size_t i = 0; i < possible.size(); ++i) cost[arcs[i]] = -possible[i].gain;
  const auto units = static_cast<std::int64_t>(lefts);
  capacity[past] = units;
  lemon::NetworkSimplex<lemon::SmartDigraph, std::int64_t, std::int64_t> solver(graph);
  solver.upperMap(capacity).costMap(cost).stSupply(source, sink, units);
  if (solver.run() != decltype(solver)::OPTIMAL) throw std::logic_error("the pairing has no optimum");
  for (std::size_t i = 0; i < possible.size(); ++i)
    if (solver.flow(arcs[i]) == 1) pairs.emplace_back(possible[i].left, possible[i].right);
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

}  // namespace haunch::marking
