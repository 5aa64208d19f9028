// SPDX-License-Identifier: Apache-2.0
// Of many questions: none comes twice, and what is reckoned hard is hard.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "campaign.hpp"
#include "drills/make.hpp"
#include "learning/model.hpp"
#include "render/renderer.hpp"
#include "statistics/normal.hpp"

namespace haunch::drills {
namespace {

TEST(Campaign, NoQuestionComesTwice) {
  // Every day 200, with --long 10,000.
  const int count = campaign::rounds(200);
  std::set<std::string> instances;
  for (int i = 0; i < count; ++i) {
    Wanted wanted{all_kinds()[static_cast<std::size_t>(i) % all_kinds().size()],
                  "",
                  0.1 * (i % 11),
                  {},
                  static_cast<std::uint64_t>(1000 + i)};
    const auto item = make(wanted, {grading::Scheme::shipped(), 0, false});
    ASSERT_TRUE(item) << base::to_line(item.problems().front());
    EXPECT_TRUE(instances.insert(item.value().instance).second) << i;
  }
}

/// Luminance of a small noisy view, as somebody sees it who has only a glance: 0..1 of white.
std::vector<double> glance(const scene::Scene& scene, const Clip& clip) {
  render::Renderer renderer(scene, 0);
  render::View view;
  view.pose = pose_at(scene, clip, clip.seconds);
  view.width = 160;
  view.height = 90;
  view.time_s = 1;
  const auto frame = renderer.draw(view);
  std::vector<double> light;
  for (std::size_t i = 0; i < frame.rgb.size(); i += 3)
    light.push_back((0.2126 * frame.rgb[i] + 0.7152 * frame.rgb[i + 1] + 0.0722 * frame.rgb[i + 2]) / 255);
  return light;
}

std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), 0U);
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> rank(values.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[order[i]] = static_cast<double>(i);
  return rank;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const double n = static_cast<double>(a.size());
  const double mean_a = std::accumulate(a.begin(), a.end(), 0.0) / n;
  const double mean_b = std::accumulate(b.begin(), b.end(), 0.0) / n;
  double ab = 0, aa = 0, bb = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    ab += (a[i] - mean_a) * (b[i] - mean_b);
    aa += (a[i] - mean_a) * (a[i] - mean_a);
    bb += (b[i] - mean_b) * (b[i] - mean_b);
  }
  return ab / std::sqrt(aa * bb);
}

TEST(Campaign, WhatIsReckonedHardIsHardToTell) {
  // An ideal observer (Green & Swets 1966, from memory) tells a known signal from none in white noise with
  // d' = the signal's energy over the noise; of two intervals it is wrong with the chance Phi(-d'/sqrt 2).
  // Its signal is taken from pictures with and without the finding, which the reckoned difficulty never sees.
  constexpr double noise = 4;  // of white: so that neither all nor none is missed
  std::vector<double> reckoned, missed;
  const char* codes[] = {"BAB", "BBA", "BAJ", "BAF", "BBB", "BBC", "BAG", "BCA", "BBE", "BAI"};
  for (int i = 0; i < campaign::rounds(20); ++i) {
    const auto item =
        make({Kind::name_it, codes[i % 10], 0.05 * (i % 21), {}, static_cast<std::uint64_t>(i + 1)});
    ASSERT_TRUE(item);
    const Item& one = item.value();
    ASSERT_TRUE(one.shows);
    scene::Scenario without = one.scene.scenario;
    without.faults.erase(without.faults.begin() + (one.fault - 1));
    const auto with_it = glance(one.scene, one.clip);
    const auto clean = glance(scene::build_scene(std::move(without)), one.clip);
    double energy = 0;
    for (std::size_t p = 0; p < clean.size(); ++p)
      energy += (with_it[p] - clean[p]) * (with_it[p] - clean[p]);
    missed.push_back(statistics::normal_cdf(-std::sqrt(energy) / noise / std::sqrt(2.0)));
    reckoned.push_back(
        learning::difficulty_of({one.shows->share, one.shows->contrast, 0, one.shows->in_view_s},
                                learning::shipped_model().difficulty));
  }
  const double rank_correlation = correlation(ranks(reckoned), ranks(missed));
  RecordProperty("rank_correlation", std::to_string(rank_correlation));
  std::printf("rank correlation of reckoned difficulty and errors of an ideal observer: %.2f of %zu\n",
              rank_correlation, missed.size());
  EXPECT_GT(rank_correlation, 0.5);
}

}  // namespace
}  // namespace haunch::drills
