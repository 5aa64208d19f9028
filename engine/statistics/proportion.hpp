// SPDX-License-Identifier: Apache-2.0
// Between which bounds a proportion lies of which `right` of `of` were seen. 0 <= right <= of,
// 0 < confidence < 1. Of nothing at all nothing is known: 0 to 1.
#pragma once

#include "statistics/interval.hpp"

namespace haunch::statistics {

/// Wilson's score interval (1927), without continuity correction: method 3 of Newcombe, Stat. Med. 17 (1998)
/// 857. Holds its confidence on average; the one to show.
Interval wilson(int right, int of, double confidence = 0.95);
/// The exact interval of Clopper and Pearson (1934). Never holds less than its confidence, and so is wider.
Interval exact(int right, int of, double confidence = 0.95);

}  // namespace haunch::statistics
