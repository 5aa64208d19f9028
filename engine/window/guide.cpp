// SPDX-License-Identifier: Apache-2.0
#include "window/guide.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "play/words.hpp"
#include "window/card.hpp"

namespace haunch::window {
namespace {

std::vector<std::string> words_in(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : base::lower(text) + " ") {
    const bool letter = (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
    if (letter) {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

bool begins_any(const std::vector<std::string>& words, const std::string& begin) {
  return std::any_of(words.begin(), words.end(),
                     [&](const std::string& word) { return word.starts_with(begin); });
}

/// How well a word fits: 3 the code itself, 2 its name or a trade word for it, 1 anything said of it, 0 not.
int fit(const std::string& word, const coding::CodeEntry& entry) {
  if (base::lower(entry.code).starts_with(word)) return 3;
  if (begins_any(words_in(entry.name), word)) return 2;
  for (const play::Phrase& phrase : play::Words::shipped().phrases)
    for (const play::Meaning& meaning : phrase.means)
      if (meaning.code == entry.code && begins_any(phrase.words, word)) return 2;
  for (const auto* letters : {&entry.ch1, &entry.ch2})
    for (const auto& [letter, meaning] : *letters)
      if (begins_any(words_in(meaning), word)) return 1;
  return begins_any(words_in(entry.note), word) ? 1 : 0;
}

std::string letters_line(const char* what, const std::map<std::string, std::string>& letters) {
  std::vector<std::string> parts;
  for (const auto& [letter, meaning] : letters) parts.push_back(letter + " " + meaning);
  return what + base::join(parts, "; ");
}

std::string size_line(const char* what, const coding::QuantityRule& rule) {
  std::string text = what + rule.meaning + (rule.unit.empty() ? "" : ", " + rule.unit);
  for (const auto& [letter, unit] : rule.unit_by_ch1) text += "; with " + letter + " " + unit;
  return text;
}

}  // namespace

std::vector<const coding::CodeEntry*> look_up(const std::string& typed, const coding::CodeList& list) {
  const std::vector<std::string> words = words_in(typed);
  // Once a whole code stands there, the rest is its letters, sizes and hours.
  for (const std::string& word : words)
    for (const coding::CodeEntry& entry : list.codes())
      if (base::lower(entry.code) == word) return {&entry};
  std::vector<std::pair<int, const coding::CodeEntry*>> found;
  for (const coding::CodeEntry& entry : list.codes()) {
    int sum = 0;
    bool all = true;
    for (const std::string& word : words) {
      // A letter by itself is a characterisation that is being typed, not a thing to look for.
      if (word.size() < 2) continue;
      const int one = fit(word, entry);
      all = all && one > 0;
      sum += one;
    }
    if (all) found.emplace_back(sum, &entry);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<const coding::CodeEntry*> entries;
  for (const auto& [sum, entry] : found) entries.push_back(entry);
  return entries;
}

std::vector<std::string> entry_lines(const coding::CodeEntry& entry) {
  std::vector<std::string> lines;
  if (!entry.ch1.empty()) lines.push_back(letters_line("First letter: ", entry.ch1));
  if (!entry.ch2.empty()) lines.push_back(letters_line("Second letter: ", entry.ch2));
  if (entry.q1) lines.push_back(size_line("Size: ", *entry.q1));
  if (entry.q2) lines.push_back(size_line("Second size: ", *entry.q2));
  using coding::ClockRule;
  switch (entry.clock) {
    case ClockRule::one:
      lines.push_back(tr("Clock: one hour"));
      break;
    case ClockRule::range:
      lines.push_back(tr("Clock: from one hour to another"));
      break;
    case ClockRule::one_or_range:
      lines.push_back(tr("Clock: one hour, or from one to another"));
      break;
    case ClockRule::by_ch1:
      lines.push_back(tr("Clock: hangs on the first letter"));
      break;
    case ClockRule::none:
    case ClockRule::optional:
      break;
  }
  if (entry.may_be_continuous)
    lines.push_back(tr("May go on along the pipe: write start where it begins and end where it ends"));
  if (!entry.note.empty()) lines.push_back(entry.note);
  return lines;
}

void draw_guide(Session& session) {
  if (!session.guide_open) return;
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float margin = em(0.6F);
  const float width = std::min(em(24), io.DisplaySize.x - 2 * margin);
  const float most = std::max(em(6), room_above_words() - top_edge(session));
  ImGui::SetNextWindowPos({io.DisplaySize.x - margin, top_edge(session)}, ImGuiCond_Always, {1, 0});
  ImGui::SetNextWindowSize({width, most});
  if (ImGui::Begin("look up", nullptr, card)) {
    ImGui::AlignTextToFramePadding();
    text_in(type().strong, p.ink, tr("Look up"), false);
    ImGui::SameLine(ImGui::GetContentRegionMax().x - em(3.6F));
    if (quiet_button(tr("Close"), key_of(Command::guide))) session.command(Command::guide);
    const std::vector<const coding::CodeEntry*> found = look_up(session.line.text, session.codes());
    text_in(type().text, p.soft_ink,
            session.line.text.empty() ? tr("Type a code or a word in the line and the list follows.")
            : found.empty()           ? tr("No code goes by that.")
                                      : tr("By what is in the line:"));
    ImGui::BeginChild("found");
    for (const coding::CodeEntry* entry : found) {
      ImGui::PushID(entry->code.c_str());
      ImGui::Separator();
      ImGui::AlignTextToFramePadding();
      text_in(type().strong, p.ink, entry->code, false);
      ImGui::SameLine();
      if (session.screen == Screen::driving && quiet_button(tr("Use"), tr("puts the code into the line")))
        session.put_in_line(entry->code + " ");
      text_in(type().strong, p.ink, entry->name);
      if (found.size() <= 6)
        for (const std::string& line : entry_lines(*entry)) text_in(type().text, p.soft_ink, line);
      ImGui::PopID();
    }
    ImGui::EndChild();
  }
  ImGui::End();
}

}  // namespace haunch::window
