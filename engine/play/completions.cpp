// SPDX-License-Identifier: Apache-2.0
#include "play/completions.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace haunch::play {
namespace {

class Completer {
 public:
  Completer(Entry& entry, const std::string& typed, const Line& line, const Reading& reading,
            const Words& words, const coding::CodeList& list,
            const std::function<std::size_t(const std::string&)>& unread)
      : unread_(unread),
        entry_(entry),
        typed_(typed),
        line_(line),
        reading_(reading),
        words_(words),
        list_(list) {}

  void run() {
    if (line_.in_remark || line_.tokens.empty()) return;
    const bool word_last = line_.ends_open && line_.tokens.back().kind == Token::Kind::word;
    const bool word_open = word_last && !line_.tokens.back().used;
    if (word_open) {
      half_a_code();
      half_a_phrase();
    }
    if (reading_.code != nullptr && !(word_open && !entry_.completions.empty())) next_part();
    if (word_last && !word_open) longer_phrase();
  }

 private:
  void next_part() {
    const auto& observation = entry_.observation;
    const auto& code = *reading_.code;
    if (observation.ch1.empty() && !code.ch1.empty()) {
      reading_.bare ? letters(code.ch1) : phrases_for(true);
    } else if (observation.ch2.empty() && code.ch2_applies(observation.ch1)) {
      reading_.bare ? letters(code.ch2) : phrases_for(false);
    } else if (entry_.missing.empty() && entry_.not_understood.empty()) {
      if (code.joint == coding::JointRule::optional && !observation.at_joint) next("at joint", "at a joint");
      if (code.may_be_continuous && observation.stretch.empty()) {
        next("begin", "goes on from here");
        next("end", "went on to here");
      }
    }
  }

  /// The half word at the end does not count: a completion makes it whole.
  std::size_t unread_so_far() const {
    const bool half = line_.ends_open && !line_.tokens.back().used && !line_.tokens.back().is_number();
    return entry_.not_understood.size() - (half && !entry_.not_understood.empty() ? 1 : 0);
  }

  void offer(const std::string& whole, const std::string& meaning) {
    if (entry_.completions.size() >= most_completions || whole == typed_) return;
    if (std::find(entry_.completions.begin(), entry_.completions.end(), whole) != entry_.completions.end())
      return;
    if (unread_(whole) > unread_so_far()) return;
    entry_.completions.push_back(whole);
    entry_.completion_meanings.push_back(meaning);
  }
  void next(const std::string& words, const std::string& meaning) {
    const bool parted = typed_.empty() || typed_.back() == ' ';
    offer(typed_ + (parted ? "" : " ") + words, meaning);
  }

  /// Small letters where the person writes small letters.
  std::string in_their_case(const std::string& text, const std::string& typed) const {
    return typed == base::lower(typed) ? base::lower(text) : text;
  }

  void half_a_code() {
    if (reading_.code != nullptr) return;
    const Token& token = line_.tokens.back();
    if (token.text.size() > 2) return;
    for (const auto& code : list_.codes()) {
      if (base::lower(code.code).starts_with(token.text)) {
        offer(typed_ + in_their_case(code.code.substr(token.text.size()), token.typed), code.name);
      }
    }
  }

  bool fits(const Phrase& phrase) const {
    if (reading_.code == nullptr) return !phrase.means.empty() || phrase.stands_alone();
    return !about(phrase, reading_.code->code).empty() || phrase.stands_alone();
  }

  /// The words at the end of the line as the beginning of a longer phrase, most words first.
  void half_a_phrase() {
    const auto& tokens = line_.tokens;
    std::size_t most = 0;
    while (most < 4 && most < tokens.size() && tokens[tokens.size() - 1 - most].kind == Token::Kind::word)
      ++most;
    for (std::size_t count = most; count > 0; --count) {
      std::vector<const Phrase*> found;
      for (const Phrase& phrase : words_.phrases) {
        if (phrase.words.size() >= count && fits(phrase) && (count > 1 || says_more(phrase)) &&
            begins(phrase, tokens.size() - count))
          found.push_back(&phrase);
      }
      std::stable_sort(found.begin(), found.end(),
                       [](const Phrase* a, const Phrase* b) { return a->said.size() < b->said.size(); });
      std::vector<const Phrase*> offered;
      for (const Phrase* phrase : found) {
        std::string rest = phrase->words[count - 1].substr(tokens.back().text.size());
        for (std::size_t k = count; k < phrase->words.size(); ++k) rest += " " + phrase->words[k];
        const bool again = std::any_of(offered.begin(), offered.end(),
                                       [&](const Phrase* one) { return same(*one, *phrase); });
        if (rest.empty() || again) continue;
        offered.push_back(phrase);
        offer(typed_ + rest, meaning(*phrase));
      }
      if (!offered.empty()) return;
    }
  }

  static bool same(const Phrase& a, const Phrase& b) {
    return a.means == b.means && a.adds == b.adds && a.clock == b.clock && a.joint == b.joint &&
           a.stretch == b.stretch;
  }
  /// Would it tell anything that has not been said?
  bool says_more(const Phrase& phrase) const {
    const auto& o = entry_.observation;
    if (reading_.code == nullptr) return true;
    for (const Meaning& one : about(phrase, reading_.code->code)) {
      if ((!one.ch1.empty() && one.ch1 != o.ch1) || (!one.ch2.empty() && one.ch2 != o.ch2)) return true;
    }
    return (phrase.clock && !o.clock_from) || (phrase.joint && !o.at_joint) ||
           (phrase.stretch != 0 && o.stretch.empty());
  }

  /// A phrase that is complete may be the beginning of a longer one that says more.
  void longer_phrase() {
    if (reading_.said.empty() || reading_.said.back().last + 1 != line_.tokens.size()) return;
    const Said& last = reading_.said.back();
    const std::size_t count = last.last - last.first + 1;
    for (const Phrase& phrase : words_.phrases) {
      const bool more = !same(phrase, *last.phrase) && says_more(phrase);
      if (phrase.words.size() <= count || !more || !fits(phrase) || !begins(phrase, last.first)) continue;
      if (phrase.words[count - 1] != line_.tokens.back().text) continue;
      std::string rest;
      for (std::size_t k = count; k < phrase.words.size(); ++k) rest += " " + phrase.words[k];
      offer(typed_ + rest, meaning(phrase));
    }
  }

  bool begins(const Phrase& phrase, std::size_t first) const {
    const auto& tokens = line_.tokens;
    for (std::size_t k = 0; first + k + 1 < tokens.size(); ++k) {
      if (tokens[first + k].text != phrase.words[k]) return false;
    }
    return phrase.words[tokens.size() - 1 - first].starts_with(tokens.back().text);
  }

  std::string meaning(const Phrase& phrase) const {
    const auto meanings = reading_.code != nullptr ? about(phrase, reading_.code->code) : phrase.means;
    if (meanings.empty())
      return phrase.clock ? "a place on the clock" : phrase.joint ? "at a joint" : "a stretch";
    const Meaning& one = meanings.front();
    const auto* code = list_.find(one.code);
    std::string said = code->name;
    if (!one.ch1.empty()) said += ": " + code->ch1.at(one.ch1);
    if (!one.ch2.empty()) said += ": " + code->ch2.at(one.ch2);
    return said;
  }

  void letters(const std::map<std::string, std::string>& known) {
    const bool small = typed_ == base::lower(typed_);
    for (const auto& [letter, meaning] : known) next(small ? base::lower(letter) : letter, meaning);
  }

  /// The first phrase for each letter that is still open.
  void phrases_for(bool first) {
    const auto& known = first ? reading_.code->ch1 : reading_.code->ch2;
    for (const auto& [letter, meaning] : known) {
      const Phrase* best = nullptr;
      // A word that only adds this letter, else one that means it outright.
      for (const auto kind : {&Phrase::adds, &Phrase::means}) {
        for (const Phrase& phrase : words_.phrases) {
          const auto& meanings = phrase.*kind;
          const bool says =
              std::any_of(meanings.begin(), meanings.end(), [&, &wanted = letter](const Meaning& one) {
                return one.code == reading_.code->code && (first ? one.ch1 : one.ch2) == wanted;
              });
          if (says && best == nullptr && about(phrase, reading_.code->code).size() == 1) best = &phrase;
        }
      }
      if (best != nullptr) next(best->said, meaning);
    }
  }

  const std::function<std::size_t(const std::string&)>& unread_;
  Entry& entry_;
  const std::string& typed_;
  const Line& line_;
  const Reading& reading_;
  const Words& words_;
  const coding::CodeList& list_;
};

}  // namespace

void complete(Entry& entry, const std::string& typed, const Line& line, const Reading& reading,
              const Words& words, const coding::CodeList& list,
              const std::function<std::size_t(const std::string&)>& unread) {
  Completer(entry, typed, line, reading, words, list, unread).run();
}

}  // namespace haunch::play
