// SPDX-License-Identifier: Apache-2.0
// Lookups in the code list, and what its rules say of letters, sizes and clocks.
#include "coding/code_list.hpp"

#include <algorithm>

namespace haunch::coding {
namespace {

template <class Entries>
auto find_code(const Entries& entries, const CodeIndex& index, std::string_view code)
    -> decltype(entries.data()) {
  const std::size_t at = index.find(code);
  return at == CodeIndex::none ? nullptr : &entries[at];
}

/// 0 for no letter, 1 to 26 for one capital, 27 for anything else.
std::size_t letter_number(const std::string& letter) {
  if (letter.empty()) return 0;
  return letter.size() == 1 && letter[0] >= 'A' && letter[0] <= 'Z'
             ? static_cast<std::size_t>(letter[0] - 'A') + 1
             : 27;
}

/// Three capitals as one number, or CodeIndex::none.
std::size_t code_number(std::string_view code) {
  if (code.size() != 3) return CodeIndex::none;
  std::size_t number = 0;
  for (const char c : code) {
    if (c < 'A' || c > 'Z') return CodeIndex::none;
    number = number * 26 + static_cast<std::size_t>(c - 'A');
  }
  return number;
}

/// "except ch1=A,B or continuous" names A and B under "ch1=".
bool names_letter(std::string_view rule, std::string_view key, std::string_view letter) {
  const auto at = rule.find(key);
  if (at == std::string_view::npos || letter.empty()) return false;
  std::string_view letters = rule.substr(at + key.size());
  letters = letters.substr(0, letters.find(' '));
  while (!letters.empty()) {
    const auto comma = letters.find(',');
    if (letters.substr(0, comma) == letter) return true;
    letters = comma == std::string_view::npos ? std::string_view() : letters.substr(comma + 1);
  }
  return false;
}

const std::string& by_ch1(const std::map<std::string, std::string>& special, const std::string& usual,
                          std::string_view ch1) {
  if (special.empty()) return usual;
  const auto found = special.find(std::string(ch1));
  return found == special.end() ? usual : found->second;
}

}  // namespace

bool CodeIndex::add(const std::string& code, std::size_t at) {
  const std::size_t number = code_number(code);
  if (number == none) return others_.emplace(code, at).second;
  if (by_letters_.empty()) by_letters_.resize(26 * 26 * 26);
  if (by_letters_[number] != 0) return false;
  by_letters_[number] = static_cast<std::uint32_t>(at + 1);
  return true;
}

std::size_t CodeIndex::find(std::string_view code) const {
  const std::size_t number = code_number(code);
  if (number != none) return by_letters_.empty() ? none : by_letters_[number] - std::size_t{1};
  const auto found = others_.find(code);
  return found == others_.end() ? none : found->second;
}

const std::string& QuantityRule::unit_for(std::string_view ch1) const {
  return by_ch1(unit_by_ch1, unit, ch1);
}
const std::string& QuantityRule::says_for(std::string_view ch1) const {
  return by_ch1(says_by_ch1, says, ch1);
}

bool QuantityRule::is_required(std::string_view ch1, bool continuous, std::string_view ch2) const {
  if (continuous && required.find("continuous") != std::string::npos) return false;
  if (required.rfind("only", 0) == 0) return names_letter(required, "ch1=", ch1);
  if (required.rfind("except", 0) == 0)
    return !names_letter(required, "ch1=", ch1) && !names_letter(required, "ch2=", ch2);
  return required == "yes";
}

ClockRule CodeEntry::clock_for(std::string_view letter) const {
  if (clock != ClockRule::by_ch1) return clock;
  const auto found = clock_by_ch1.find(std::string(letter));
  return found == clock_by_ch1.end() ? ClockRule::optional : found->second;
}

bool CodeEntry::ch2_applies(std::string_view letter) const {
  if (ch2.empty()) return false;
  if (ch2_applies_when.empty() || ch2_applies_when == "optional") return true;
  return names_letter(ch2_applies_when, "ch1=", letter) != (ch2_applies_when.rfind("except", 0) == 0);
}

namespace {

Fit worked_out(const CodeEntry& entry, const std::string& ch1, const std::string& ch2) {
  const bool known1 = entry.ch1.contains(ch1), known2 = entry.ch2.contains(ch2);
  // Pairs are told by their letters together, which a lone second letter or longer ones may look like.
  const bool pair = ch1.size() < 2 && ch2.size() < 2 && (ch2.empty() || !ch1.empty());
  const auto& uneven = entry.in_one_list;
  if (pair && std::find(uneven.begin(), uneven.end(), ch1 + ch2) != uneven.end()) return Fit::in_one_list;
  if (ch1.empty() && entry.ch1.empty() && ch2.empty()) return Fit::good;
  if (known1 && ch2.empty())
    return entry.ch2_applies(ch1) && entry.ch2_applies_when != "optional" ? Fit::missing : Fit::good;
  if (known1 && known2 && entry.ch2_applies(ch1)) return Fit::good;
  if (pair && entry.habits.contains(ch1 + ch2)) return Fit::habit;
  const bool translated1 = ch1 == "Y" && !entry.ch1.empty(), translated2 = ch2 == "Y" && !entry.ch2.empty();
  const bool told1 = known1 || translated1 || ch1.empty(), told2 = known2 || translated2 || ch2.empty();
  if (!told1 || !told2) return Fit::unknown;
  if (translated1 || translated2) return Fit::translated;
  if (ch1.empty()) return Fit::missing;
  // One of the lists has characterisation 2 with every characterisation 1.
  return entry.ch2_applies_when.rfind("ch1=", 0) == 0 ? Fit::in_one_list : Fit::unknown;
}

}  // namespace

Fit fit(const CodeEntry& entry, const std::string& ch1, const std::string& ch2) {
  const std::size_t first = letter_number(ch1), second = letter_number(ch2);
  return first < 27 && second < 27 ? entry.fits[first * 27 + second] : worked_out(entry, ch1, ch2);
}

void work_out_fits(CodeEntry& entry) {
  const auto letter = [](std::size_t n) {
    return n == 0 ? std::string() : std::string(1, static_cast<char>('A' + n - 1));
  };
  for (std::size_t first = 0; first < 27; ++first)
    for (std::size_t second = 0; second < 27; ++second)
      entry.fits[first * 27 + second] = worked_out(entry, letter(first), letter(second));
}

const CodeEntry* CodeList::find(std::string_view code) const { return find_code(codes_, code_index_, code); }
const Named* CodeList::material(std::string_view code) const {
  return find_code(materials_, material_index_, code);
}
const Named* CodeList::shape(std::string_view code) const { return find_code(shapes_, shape_index_, code); }
const Named* CodeList::header_field(std::string_view code) const {
  return find_code(header_fields_, header_index_, code);
}
const Named* CodeList::node(std::string_view code) const { return find_code(nodes_, node_index_, code); }

int CodeList::kinship(std::string_view code_a, std::string_view code_b) const {
  if (code_a == code_b) return 0;
  const CodeEntry* a = find(code_a);
  const CodeEntry* b = find(code_b);
  if (a == nullptr || b == nullptr) return 2;
  return a->group == b->group && code_a.substr(0, 2) == code_b.substr(0, 2) ? 1 : 2;
}

}  // namespace haunch::coding
