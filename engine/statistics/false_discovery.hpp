// SPDX-License-Identifier: Apache-2.0
// Many tests at once: which of them to believe (Benjamini & Hochberg, J. R. Statist. Soc. B 57 (1995) 289).
#pragma once

#include <vector>

namespace haunch::statistics {

/// The smallest false discovery rate at which each would be believed, in the order given. p from 0 to 1.
std::vector<double> benjamini_hochberg(const std::vector<double>& p);
/// Which are believed when that share of those believed may be false.
std::vector<bool> discoveries(const std::vector<double>& p, double rate = 0.05);

}  // namespace haunch::statistics
