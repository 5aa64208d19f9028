// SPDX-License-Identifier: Apache-2.0
#include "coding/suggest.hpp"

#include <algorithm>
#include <vector>

#include "base/words.hpp"

namespace haunch::coding {
namespace {

std::string capital(std::string_view text) {
  std::string out = base::trim(text);
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return out;
}

std::string shown(const CodeEntry& entry, const std::string& ch1, const std::string& ch2) {
  Observation one;
  one.code = entry.code;
  one.ch1 = ch1;
  one.ch2 = ch2;
  return show_code(one);
}

bool neighbours_changed_round(const std::string& a, const std::string& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i + 1 < a.size(); ++i) {
    std::string changed = a;
    std::swap(changed[i], changed[i + 1]);
    if (changed == b && a != b) return true;
  }
  return false;
}

/// One letter wrong, one too many or one too few.
bool one_slip(const std::string& a, const std::string& b) {
  const std::string &shorter = a.size() < b.size() ? a : b, &longer = a.size() < b.size() ? b : a;
  if (longer.size() - shorter.size() > 1) return false;
  std::size_t i = 0;
  while (i < shorter.size() && shorter[i] == longer[i]) ++i;
  const std::size_t rest = shorter.size() == longer.size() ? i + 1 : i;
  return shorter.substr(std::min(rest, shorter.size())) == longer.substr(std::min(i + 1, longer.size()));
}

/// How well the rest of an observation goes with a code; 0 when its letters do not.
int likeness(const Observation& one, const CodeEntry& entry) {
  if (fit(entry, one.ch1, one.ch2) != Fit::good) return 0;
  int score = 1;
  score += entry.q1 && one.q1.value ? 2 : 0;
  score += entry.joint == JointRule::always && one.at_joint ? 2
           : entry.joint == JointRule::no && one.at_joint   ? -1
                                                            : 0;
  const ClockRule clock = entry.clock_for(one.ch1);
  score += clock != ClockRule::none && one.clock_from ? 1 : 0;
  return std::max(score, 1);
}

/// The one that is likest; nothing where two are as like or none is.
const CodeEntry* likest(const Observation& one, const std::vector<const CodeEntry*>& candidates) {
  const CodeEntry* best = nullptr;
  int most = 0;
  bool alone = true;
  for (const CodeEntry* candidate : candidates) {
    const int score = likeness(one, *candidate);
    if (score == 0 || score < most) continue;
    alone = score > most;
    most = score;
    best = candidate;
  }
  return alone ? best : nullptr;
}

}  // namespace

std::string suggest_code(const Observation& one, const CodeList& list) {
  std::string text = capital(one.code).substr(0, 8);
  if (list.find(text) != nullptr) return text;
  // Letters joined to the code: "BABBA", "BAB B".
  text.erase(std::remove(text.begin(), text.end(), ' '), text.end());
  if (text.size() > 3 && text.size() < 6 && one.ch1.empty() && one.ch2.empty()) {
    const CodeEntry* entry = list.find(text.substr(0, 3));
    const std::string ch1 = text.substr(3, 1), ch2 = text.substr(4);
    if (entry != nullptr && fit(*entry, ch1, ch2) == Fit::good) return shown(*entry, ch1, ch2);
  }
  std::replace(text.begin(), text.end(), '0', 'O');
  std::replace(text.begin(), text.end(), '1', 'I');
  if (list.find(text) != nullptr) return text;
  std::vector<const CodeEntry*> changed_round, slips;
  for (const CodeEntry& entry : list.codes()) {
    if (neighbours_changed_round(text, entry.code)) changed_round.push_back(&entry);
    if (one_slip(text, entry.code)) slips.push_back(&entry);
  }
  if (changed_round.size() == 1) return changed_round.front()->code;
  if (slips.size() == 1) return slips.front()->code;
  const CodeEntry* best = likest(one, changed_round.empty() ? slips : changed_round);
  return best == nullptr ? std::string() : best->code;
}

std::string suggest_letters(const Observation& one, const CodeEntry& entry, const CodeList& list) {
  const std::string ch1 = capital(one.ch1), ch2 = capital(one.ch2);
  const auto good = [&](const std::string& a, const std::string& b) { return fit(entry, a, b) == Fit::good; };
  if (good(ch1, ch2)) return shown(entry, ch1, ch2);
  if (!ch2.empty() && good(ch2, ch1)) return shown(entry, ch2, ch1);
  const std::string& together = ch1.empty() ? ch2 : ch1;
  if ((ch1.empty() || ch2.empty()) && together.size() == 2 && good(together.substr(0, 1), together.substr(1)))
    return shown(entry, together.substr(0, 1), together.substr(1));
  // A second letter too many.
  if (!ch2.empty() && good(ch1, {})) return shown(entry, ch1, {});
  if (ch1.empty()) return {};
  Observation as_typed = one;
  as_typed.ch1 = ch1;
  as_typed.ch2 = ch2;
  std::vector<const CodeEntry*> kin;
  for (const CodeEntry& other : list.codes())
    if (list.kinship(entry.code, other.code) == 1) kin.push_back(&other);
  const CodeEntry* best = likest(as_typed, kin);
  return best == nullptr ? std::string() : shown(*best, ch1, ch2);
}

}  // namespace haunch::coding
