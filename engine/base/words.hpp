// SPDX-License-Identifier: Apache-2.0
// Small helpers for words: nearest spelling, joining lists, numbers as people write them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace haunch::base {

/// The candidate nearest to `word` by edit distance, case ignored; empty when none is near
/// (more than a third of the letters wrong).
std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates);

/// The same, but empty where another candidate is as near: "o9" is no slip for "o1" rather than "o2".
std::string only_nearest_word(std::string_view word, const std::vector<std::string>& candidates);

std::string join(const std::vector<std::string>& parts, std::string_view between);
std::string lower(std::string_view text);
std::string trim(std::string_view text);
std::vector<std::string> split(std::string_view text, char separator);

/// Shortest decimal that reads back as the same double ("0.5", "12"); never in exponent form for
/// 1e-6 <= |x| < 1e15. Independent of the locale.
std::string show_number(double value);
/// Whole text as a number with '.' as the decimal sign, or false. Independent of the locale.
bool read_number(std::string_view text, double& value);

}  // namespace haunch::base
