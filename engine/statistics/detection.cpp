// SPDX-License-Identifier: Apache-2.0
#include "statistics/detection.hpp"

#include <cassert>

#include "statistics/normal.hpp"

namespace haunch::statistics {
namespace {

std::optional<double> share(double part, double whole) {
  return whole > 0 ? std::optional<double>(part / whole) : std::nullopt;
}

}  // namespace

Sensitivity sensitivity(double hit_rate, double false_alarm_rate) {
  const double hit = normal_quantile(hit_rate);
  const double false_alarm = normal_quantile(false_alarm_rate);
  Sensitivity result;
  result.d_prime = hit - false_alarm;
  result.criterion = -(hit + false_alarm) / 2;
  result.ln_beta = result.criterion * result.d_prime;
  return result;
}

Sensitivity sensitivity(int hits, int signals, int false_alarms, int noise) {
  assert(hits >= 0 && hits <= signals && false_alarms >= 0 && false_alarms <= noise);
  return sensitivity((hits + 0.5) / (signals + 1.0), (false_alarms + 0.5) / (noise + 1.0));
}

std::optional<double> precision(const Retrieval& counts) {
  return share(counts.found, counts.found + counts.false_calls);
}

std::optional<double> recall(const Retrieval& counts) {
  return share(counts.found, counts.found + counts.missed);
}

std::optional<double> f_measure(const Retrieval& counts, double beta) {
  assert(beta > 0);
  // The usual (1 + b2) P R / (b2 P + R), written in counts: it then also holds where nothing was found.
  const double weight = beta * beta;
  const double twice = (1 + weight) * counts.found;
  return share(twice, twice + weight * counts.missed + counts.false_calls);
}

}  // namespace haunch::statistics
