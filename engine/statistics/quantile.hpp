// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

namespace haunch::statistics {

/// The value below which a share lies, between neighbours in proportion (type 7 of Hyndman & Fan, Am. Stat.
/// 50 (1996) 361). `values` sorted and not empty, share from 0 to 1.
double quantile_of_sorted(const std::vector<double>& values, double share);
/// The same of values in any order.
double quantile(std::vector<double> values, double share);

}  // namespace haunch::statistics
