// SPDX-License-Identifier: Apache-2.0
// Source: Chakraborty, D. P., The FROC paradigm (open book), chapter on empirical plots: the small case.
#include "marking/free_response.hpp"

#include <gtest/gtest.h>

#include "check_values.hpp"

namespace haunch::marking {
namespace {

/// The case's 4 runs without and 5 with something to find.
std::vector<RatedRun> published(const nlohmann::json& inputs) {
  std::vector<RatedRun> runs;
  for (const nlohmann::json& marks : inputs.at("nonlesion_ratings_on_4_clean_cases"))
    runs.push_back({marks.get<std::vector<double>>(), {}, {}});
  const nlohmann::json& found = inputs.at("lesion_ratings_on_5_cases");
  for (std::size_t i = 0; i < found.size(); ++i) {
    RatedRun run;
    for (const nlohmann::json& one : found[i])
      run.findings.push_back(one.is_null() ? std::nullopt : std::optional(one.get<double>()));
    run.weights = inputs.at("weights")[i].get<std::vector<double>>();
    runs.push_back(std::move(run));
  }
  return runs;
}

TEST(FreeResponse, FiguresOfMeritAsPublished) {
  NEEDS_CHECK(check, "froc-figures-of-merit");
  const auto runs = published(check->at("inputs"));
  const double tolerance = check->at("tolerance").get<double>();
  EXPECT_NEAR(*figure_of_merit(runs), check->at("expected").at("afroc").get<double>(), tolerance);
  EXPECT_NEAR(*weighted_figure_of_merit(runs), check->at("expected").at("wafroc").get<double>(), tolerance);
}

TEST(FreeResponse, NeedsCleanRunsAndSomethingToFind) {
  const RatedRun clean{{0.4}, {}, {}}, faulty{{}, {0.9, std::nullopt}, {}};
  EXPECT_FALSE(figure_of_merit({clean, clean}));
  EXPECT_FALSE(weighted_figure_of_merit({faulty}));
  // Found surely: right; not marked, where something was marked on the clean run: wrong.
  EXPECT_DOUBLE_EQ(*weighted_figure_of_merit({clean, faulty}), 0.5);
  // Nothing marked on either is told apart by nobody: half.
  EXPECT_DOUBLE_EQ(*figure_of_merit({RatedRun{}, RatedRun{{}, {std::nullopt}, {}}}), 0.5);
}

}  // namespace
}  // namespace haunch::marking
