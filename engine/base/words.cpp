// SPDX-License-Identifier: Apache-2.0
#include "base/words.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>

namespace haunch::base {
namespace {

/// Letters to add, drop or change; two neighbours swapped count once, the commonest slip in typing.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  const std::size_t width = b.size() + 1;
  std::vector<std::size_t> table((a.size() + 1) * width);
  const auto cell = [&table, width](std::size_t i, std::size_t j) -> std::size_t& {
    return table[i * width + j];
  };
  for (std::size_t i = 0; i <= a.size(); ++i) cell(i, 0) = i;
  for (std::size_t j = 0; j <= b.size(); ++j) cell(0, j) = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = cell(i - 1, j - 1) + (a[i - 1] == b[j - 1] ? 0 : 1);
      std::size_t best = std::min({cell(i - 1, j) + 1, cell(i, j - 1) + 1, changed});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        best = std::min(best, cell(i - 2, j - 2) + 1);
      cell(i, j) = best;
    }
  }
  return cell(a.size(), b.size());
}

char lower_letter(char letter) {
  return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter + 32) : letter;
}

}  // namespace

std::string lower(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(), lower_letter);
  return result;
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  // Longer than any word of ours: no slip of the hand, and costly to compare.
  if (word.size() > 200) return {};
  const std::string wanted = lower(word);
  std::string best;
  std::size_t best_distance = wanted.size() + 1;
  for (const std::string& candidate : candidates) {
    const std::string known = lower(candidate);
    std::size_t distance = edit_distance(wanted, known);
    // "clay" for "vitrified clay": a whole word inside counts as one slip.
    if (wanted.size() >= 3 && known.find(wanted) != std::string::npos)
      distance = std::min<std::size_t>(distance, 1);
    // "at" for "at_m".
    if (wanted.size() == 2 && known.rfind(wanted + '_', 0) == 0) distance = 1;
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  // Of a single letter nothing would be left to go by but its case.
  if (best_distance > 0 && best_distance >= wanted.size()) return {};
  return best_distance * 3 <= std::max<std::size_t>(wanted.size(), 3) ? best : std::string();
}

std::string only_nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string best = nearest_word(word, candidates);
  if (best.empty()) return best;
  std::vector<std::string> others;
  for (const std::string& candidate : candidates)
    if (candidate != best) others.push_back(candidate);
  // Of two as near the first one listed is taken, so the other one goes first.
  const std::string second = nearest_word(word, others);
  return second.empty() || nearest_word(word, {second, best}) == best ? best : std::string();
}

std::string join(const std::vector<std::string>& parts, std::string_view between) {
  std::string result;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) result += between;
    result += parts[i];
  }
  return result;
}

std::string trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (;;) {
    const auto at = text.find(separator, from);
    if (at == std::string_view::npos) break;
    parts.emplace_back(text.substr(from, at - from));
    from = at + 1;
  }
  parts.emplace_back(text.substr(from));
  return parts;
}

std::string show_number(double value) {
  if (value == 0) return "0";
  char text[64];
  const double size = std::abs(value);
  const auto format = size >= 1e-6 && size < 1e15 ? std::chars_format::fixed : std::chars_format::general;
  const auto done = std::to_chars(text, text + sizeof text, value, format);
  return std::string(text, done.ptr);
}

bool read_number(std::string_view text, double& value) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  const auto done = std::from_chars(text.data(), text.data() + text.size(), value);
  return done.ec == std::errc() && done.ptr == text.data() + text.size() && std::isfinite(value);
}

}  // namespace haunch::base
