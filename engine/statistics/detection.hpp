// SPDX-License-Identifier: Apache-2.0
// How well something is found, and how readily it is called.
#pragma once

#include <optional>

namespace haunch::statistics {

/// Signal detection with equal variances (Stanislaw & Todorov, Behav. Res. Methods 31 (1999) 137). In free
/// marking nothing counts as a true negative: cut the run into windows first, and say how long they are.
struct Sensitivity {
  double d_prime = 0;    ///< how well signal is told from noise
  double criterion = 0;  ///< c: below 0 calls readily, above 0 holds back
  double ln_beta = 0;    ///< c times d'
  bool operator==(const Sensitivity&) const = default;
};
/// Of rates; 0 and 1 give infinities or no number.
Sensitivity sensitivity(double hit_rate, double false_alarm_rate);
/// Of counts, by the log-linear correction of Hautus (1995): every rate is (count + 0.5) / (total + 1), so
/// that 0 and 1 do no harm and no cell is treated unlike another. 0 <= count <= total.
Sensitivity sensitivity(int hits, int signals, int false_alarms, int noise);

/// Marks against what was there. Nothing where a share of nothing is asked for.
struct Retrieval {
  int found = 0;        ///< true positives
  int false_calls = 0;  ///< false positives
  int missed = 0;       ///< false negatives
  bool operator==(const Retrieval&) const = default;
};
std::optional<double> precision(const Retrieval& counts);
std::optional<double> recall(const Retrieval& counts);
/// F: recall counts `beta` times as much as precision. beta > 0.
std::optional<double> f_measure(const Retrieval& counts, double beta = 1);

}  // namespace haunch::statistics
