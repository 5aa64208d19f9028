// SPDX-License-Identifier: Apache-2.0
// Looks for words in free remarks, which are in any language and spelt anyhow.
#include <algorithm>

#include "report/meanings.hpp"

namespace haunch::report {
namespace {

bool is_digit(unsigned char byte) { return byte >= '0' && byte <= '9'; }
/// Bytes of other letters than the Latin ones belong to words too.
bool in_word(unsigned char byte) {
  return byte >= 0x80 || is_digit(byte) || (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
}

/// Small letters, also of the accented ones of western languages, the rest as they stand.
std::string small(std::string_view text) {
  std::string result(text);
  for (std::size_t i = 0; i < result.size(); ++i) {
    const auto byte = static_cast<unsigned char>(result[i]);
    const auto before = static_cast<unsigned char>(i > 0 ? result[i - 1] : 0);
    const bool accented = before == 0xC3 && byte >= 0x80 && byte <= 0x9E && byte != 0x97;
    if ((byte >= 'A' && byte <= 'Z') || accented) result[i] = static_cast<char>(byte + 0x20);
  }
  return result;
}

/// Sizes ("DN 63", "63 mm") stand between the words that matter, and count for none.
bool is_size(const std::string& word) {
  return is_digit(static_cast<unsigned char>(word.front())) || word == "mm" || word == "cm" || word == "dn" ||
         word == "d";
}

std::vector<std::string> words_of(std::string_view remark) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at < remark.size();) {
    std::size_t end = at;
    while (end < remark.size() && in_word(static_cast<unsigned char>(remark[end]))) ++end;
    std::string word = small(remark.substr(at, end - at));
    if (!word.empty() && !is_size(word)) words.push_back(std::move(word));
    at = std::max(end, at + 1);
  }
  return words;
}

bool is_one_of(const std::string& word, const std::vector<std::string>& list) {
  return std::any_of(list.begin(), list.end(), [&](const std::string& wanted) {
    return wanted.back() == '*' ? word.starts_with(std::string_view(wanted).substr(0, wanted.size() - 1))
                                : word == wanted;
  });
}

}  // namespace

bool RemarkSign::stands_in(std::string_view remark) const {
  const std::vector<std::string> words = words_of(remark);
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (!is_one_of(words[i], together.front())) continue;
    if (together.size() == 1) return true;
    for (std::size_t k = 0; k < words.size(); ++k) {
      if (in_order && k < i) continue;
      const std::size_t apart = k > i ? k - i : i - k;
      if (apart > 0 && (within_words == 0 || apart <= within_words) && is_one_of(words[k], together.back()))
        return true;
    }
  }
  return false;
}

}  // namespace haunch::report
