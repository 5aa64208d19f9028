// SPDX-License-Identifier: Apache-2.0
#include "learners/tables.hpp"

#include <numeric>
#include <thread>

#include "statistics/bootstrap.hpp"

namespace haunch::learners {
namespace {

Mean mean_of(const std::vector<double>& values) {
  Mean mean;
  mean.value = std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
  mean.interval = statistics::bootstrap_mean(values);
  return mean;
}

template <class Get>
std::vector<double> each(const std::vector<Outcome>& outcomes, Get get) {
  std::vector<double> values;
  for (const Outcome& outcome : outcomes) values.push_back(get(outcome));
  return values;
}

/// Of the mean trials of two orders, not of single learners: the share saved of all trials.
Mean saved_of(const std::vector<double>& ours, const std::vector<double>& theirs) {
  const auto share = [&](const std::vector<int>& drawn) {
    double a = 0;
    double b = 0;
    for (const int i : drawn) {
      a += ours[static_cast<std::size_t>(i)];
      b += theirs[static_cast<std::size_t>(i)];
    }
    return std::optional<double>(1 - a / b);
  };
  std::vector<int> all(ours.size());
  std::iota(all.begin(), all.end(), 0);
  return {*share(all), *statistics::bootstrap(static_cast<int>(ours.size()), share).interval};
}

/// Learner i goes on for at least least[i] trials, where that is given.
std::vector<Outcome> outcomes_of(const Kind& kind, Order order, int learners, const learning::Model& model,
                                 const StudyRules& rules, int threads, const std::vector<int>& least = {}) {
  std::vector<Outcome> outcomes(static_cast<std::size_t>(learners));
  const auto work = [&](int first) {
    for (int i = first; i < learners; i += threads) {
      StudyRules own = rules;
      if (!least.empty()) own.least_trials = least[static_cast<std::size_t>(i)];
      outcomes[static_cast<std::size_t>(i)] =
          study(kind, order, static_cast<std::uint64_t>(i) + 1, model, own);
    }
  };
  std::vector<std::thread> others;
  for (int t = 1; t < threads; ++t) others.emplace_back(work, t);
  work(0);
  for (std::thread& other : others) other.join();
  return outcomes;
}

}  // namespace

std::vector<Row> table_of(const Kind& kind, int learners, const learning::Model& model,
                          const std::vector<Order>& orders, const StudyRules& rules, int threads) {
  const auto trials = [](const Outcome& outcome) { return static_cast<double>(outcome.trials); };
  const auto retention = [](const Outcome& outcome) { return outcome.retention; };
  const std::vector<Outcome> ours = outcomes_of(kind, Order::ours, learners, model, rules, threads);
  std::vector<Row> rows;
  for (const Order order : orders) {
    const std::vector<Outcome> got =
        order == Order::ours ? ours : outcomes_of(kind, order, learners, model, rules, threads);
    Row row;
    row.kind = kind.name;
    row.order = order;
    row.learners = learners;
    int estimates = 0;
    int held = 0;
    std::vector<double> kept_more;
    std::vector<double> of_as_many;
    std::vector<int> least;
    for (const Outcome& outcome : got) least.push_back(outcome.trials);
    const std::vector<Outcome> longer =
        order == Order::ours ? ours : outcomes_of(kind, Order::ours, learners, model, rules, threads, least);
    for (std::size_t i = 0; i < got.size(); ++i) {
      row.reached += got[i].reached ? 1 : 0;
      estimates += got[i].estimates;
      held += got[i].held;
      for (std::size_t why = 0; why < row.by_why.size(); ++why)
        row.by_why[why] += static_cast<double>(got[i].by_why[why]) / learners;
      kept_more.push_back(ours[i].retention - got[i].retention);
      of_as_many.push_back(longer[i].retention - got[i].retention);
    }
    row.trials = mean_of(each(got, trials));
    row.days = mean_of(each(got, [](const Outcome& outcome) { return static_cast<double>(outcome.days); }));
    row.retention = mean_of(each(got, retention));
    row.saved = saved_of(each(ours, trials), each(got, trials));
    row.kept_more = mean_of(kept_more);
    row.kept_more_of_as_many = mean_of(of_as_many);
    row.coverage = estimates > 0 ? static_cast<double>(held) / estimates : 0;
    rows.push_back(row);
  }
  return rows;
}

}  // namespace haunch::learners
