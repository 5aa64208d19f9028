// SPDX-License-Identifier: Apache-2.0
// The normal distribution of mean 0 and deviation 1.
#pragma once

namespace haunch::statistics {

/// The share below x; 0 and 1 at the infinities.
double normal_cdf(double x);
/// The x below which a share lies. `share` from 0 to 1; the ends give the infinities.
double normal_quantile(double share);
/// How many deviations on either side hold that share of the whole: 1.96 for 0.95. 0 < confidence < 1.
double two_sided(double confidence);

}  // namespace haunch::statistics
