// SPDX-License-Identifier: Apache-2.0
#include "play/reading.hpp"

#include <algorithm>
#include <optional>

#include "base/words.hpp"

namespace haunch::play {
namespace {

using coding::CodeEntry;

std::string upper(std::string text) {
  for (char& c : text) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 32);
  }
  return text;
}

bool has(const std::map<std::string, std::string>& letters, const std::map<std::string, std::string>& habits,
         const std::string& letter) {
  return letters.contains(letter) || habits.contains(letter);
}
bool has_ch1(const CodeEntry& code, const std::string& letter) {
  return has(code.ch1, code.ch1_habits, letter);
}
bool has_ch2(const CodeEntry& code, const std::string& letter) {
  return has(code.ch2, code.ch2_habits, letter);
}

std::string letters_of(const std::map<std::string, std::string>& letters) {
  std::vector<std::string> known;
  for (const auto& [letter, meaning] : letters) known.push_back(letter);
  return base::join(known, ", ");
}

std::string name_of(const CodeEntry& code) { return code.code + " " + base::lower(code.name); }

// -- a bare code ----------------------------------------------------------------------------------

class BareCode {
 public:
  BareCode(std::vector<Token>& tokens, const Words& words, const coding::CodeList& list)
      : tokens_(tokens), words_(words), list_(list) {}

  /// At most one code is taken; a second one is reported.
  void run(Reading& reading) {
    for (std::size_t i = 0; i < tokens_.size(); ++i) {
      if (tokens_[i].used || tokens_[i].kind != Token::Kind::word) continue;
      const std::string text = upper(tokens_[i].text);
      if (text.size() < 3 || text.size() > 6) continue;
      const CodeEntry* code = list_.find(text.substr(0, 3));
      if (code == nullptr || is_plain_word(i, *code)) continue;
      Reading found;
      if (text.size() > 3 && !joined(text.substr(3), *code, found)) {
        // "BABXQ" was meant as a code; "banana" was not.
        if (tokens_[i].typed != text || text.size() > 5) continue;
        found.wrong.push_back(text.substr(3) + " (" + code->code + " has " + known(*code) + ")");
      }
      tokens_[i].used = true;
      if (text.size() == 3) letters(i + 1, *code, found);
      if (text.size() > 3 && found.ch2.empty() && !found.ch1.empty()) second(i + 1, *code, found);
      if (reading.code != nullptr) {
        reading.wrong.push_back(tokens_[i].typed + " (a second finding: one a line)");
        continue;
      }
      reading.code = code;
      reading.bare = true;
      reading.ch1 = found.ch1;
      reading.ch2 = found.ch2;
      reading.wrong.insert(reading.wrong.end(), found.wrong.begin(), found.wrong.end());
    }
  }

 private:
  static std::string known(const CodeEntry& code) {
    if (code.ch1.empty()) return "no characterisation";
    return letters_of(code.ch1) + (code.ch2.empty() ? "" : ", then " + letters_of(code.ch2));
  }

  /// "bad" is a code too; small letters and no characterisation behind it make it a word.
  bool is_plain_word(std::size_t i, const CodeEntry& code) const {
    const Token& token = tokens_[i];
    if (!words_.ignored.contains(token.text) && !words_.vague.contains(token.text)) {
      return std::find(words_.single.begin(), words_.single.end(), token.text) != words_.single.end();
    }
    if (token.typed == upper(token.text)) return false;
    const bool letter_follows = i + 1 < tokens_.size() && tokens_[i + 1].kind == Token::Kind::word &&
                                has_ch1(code, upper(tokens_[i + 1].text));
    return !letter_follows && tokens_.size() > 1;
  }

  static bool joined(const std::string& rest, const CodeEntry& code, Reading& found) {
    if (has_ch1(code, rest)) {
      found.ch1 = rest;
      return true;
    }
    for (std::size_t cut = 1; cut < rest.size(); ++cut) {
      if (!has_ch1(code, rest.substr(0, cut)) || !has_ch2(code, rest.substr(cut))) continue;
      found.ch1 = rest.substr(0, cut);
      found.ch2 = rest.substr(cut);
      return true;
    }
    return false;
  }

  /// The token's letters when it can be a characterisation; nothing when it is a word.
  std::optional<std::string> letter_at(std::size_t i) const {
    if (i >= tokens_.size() || tokens_[i].used || tokens_[i].kind != Token::Kind::word) return {};
    if (tokens_[i].text.size() > 2) return {};
    return upper(tokens_[i].text);
  }
  /// A single letter that the code does not have is a slip and worth saying.
  bool slip(std::size_t i, const std::string& letter, const CodeEntry& code, Reading& found) {
    if (letter.size() != 1) return false;
    if (tokens_[i].text == "x" && i > 0 && tokens_[i - 1].is_number()) return false;  // "100 x 150"
    found.wrong.push_back(letter + " (" + code.code + " has " + known(code) + ")");
    tokens_[i].used = true;
    return true;
  }

  void letters(std::size_t i, const CodeEntry& code, Reading& found) {
    const auto letter = letter_at(i);
    if (!letter) return;
    if (has_ch1(code, *letter)) {
      found.ch1 = *letter;
      tokens_[i].used = true;
      second(i + 1, code, found);
    } else if (joined(*letter, code, found)) {
      tokens_[i].used = true;
    } else {
      slip(i, *letter, code, found);
    }
  }

  void second(std::size_t i, const CodeEntry& code, Reading& found) {
    const auto letter = letter_at(i);
    if (!letter) return;
    if (has_ch2(code, *letter)) {
      found.ch2 = *letter;
      tokens_[i].used = true;
    } else {
      slip(i, *letter, code, found);
    }
  }

  std::vector<Token>& tokens_;
  const Words& words_;
  const coding::CodeList& list_;
};

// -- phrases --------------------------------------------------------------------------------------

bool same_word(const std::string& typed, const std::string& known) {
  if (typed == known) return true;
  // Plurals: "cracks", "branches".
  return typed.size() > known.size() && typed.starts_with(known) && known.size() > 2 &&
         (typed.substr(known.size()) == "s" || typed.substr(known.size()) == "es");
}

bool stands_at(const std::vector<Token>& tokens, std::size_t i, const Phrase& phrase) {
  if (i + phrase.words.size() > tokens.size()) return false;
  for (std::size_t k = 0; k < phrase.words.size(); ++k) {
    const Token& token = tokens[i + k];
    if (token.used || token.kind != Token::Kind::word || !same_word(token.text, phrase.words[k]))
      return false;
  }
  return true;
}

std::vector<Said> find_phrases(std::vector<Token>& tokens, const Words& words) {
  std::vector<Said> found;
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const Phrase* longest = nullptr;
    for (const Phrase& phrase : words.phrases) {
      if (longest != nullptr && phrase.words.size() <= longest->words.size()) continue;
      if (stands_at(tokens, i, phrase)) longest = &phrase;
    }
    if (longest == nullptr) continue;
    Said said{longest, i, i + longest->words.size() - 1, {}};
    for (std::size_t k = said.first; k <= said.last; ++k) {
      said.typed += (k > said.first ? " " : "") + tokens[k].typed;
      tokens[k].used = true;
    }
    i = said.last;
    found.push_back(std::move(said));
  }
  return found;
}

/// In "clay to PVC" the first is what the pipe was, not what it changes to.
bool is_former(const Said& said, const std::vector<Token>& tokens) {
  return said.last + 1 < tokens.size() && tokens[said.last + 1].is_word("to") && said.phrase->means.empty() &&
         !said.phrase->stands_alone();
}

// -- putting together -----------------------------------------------------------------------------

struct Option {
  std::string ch1, ch2;
  bool operator==(const Option&) const = default;
};

std::optional<Option> merged(const Option& option, const Meaning& meaning) {
  Option result = option;
  if (!meaning.ch1.empty()) {
    if (!result.ch1.empty() && result.ch1 != meaning.ch1) return {};
    result.ch1 = meaning.ch1;
  }
  if (!meaning.ch2.empty()) {
    if (!result.ch2.empty() && result.ch2 != meaning.ch2) return {};
    result.ch2 = meaning.ch2;
  }
  return result;
}

std::string meaning_of(const std::map<std::string, std::string>& letters, const std::string& letter) {
  const auto found = letters.find(letter);
  return found == letters.end() ? letter : letter + " (" + found->second + ")";
}

void settle_letters(Reading& reading) {
  const CodeEntry& code = *reading.code;
  std::vector<Option> options{{reading.ch1, reading.ch2}};
  for (const Said& said : reading.said) {
    const auto meanings = about(*said.phrase, code.code);
    if (meanings.empty()) continue;
    std::vector<Option> next;
    for (const Option& option : options) {
      for (const Meaning& meaning : meanings) {
        const auto one = merged(option, meaning);
        if (one && std::find(next.begin(), next.end(), *one) == next.end()) next.push_back(*one);
      }
    }
    if (next.empty()) {
      const Meaning& meaning = meanings.front();
      const bool first =
          !meaning.ch1.empty() && !options.front().ch1.empty() && meaning.ch1 != options.front().ch1;
      reading.which.push_back(
          "one of two: " +
          (first ? meaning_of(code.ch1, options.front().ch1) + " or " + meaning_of(code.ch1, meaning.ch1)
                 : meaning_of(code.ch2, options.front().ch2) + " or " + meaning_of(code.ch2, meaning.ch2)));
      continue;
    }
    options = std::move(next);
    if (!meanings.front().usual_ch1.empty()) reading.usual_ch1 = meanings.front().usual_ch1;
    if (!meanings.front().usual_ch2.empty()) reading.usual_ch2 = meanings.front().usual_ch2;
  }
  const auto settle = [&](std::string Option::*field, const std::map<std::string, std::string>& letters) {
    std::vector<std::string> answers;
    for (const Option& option : options) {
      const std::string text = meaning_of(letters, option.*field);
      if (std::find(answers.begin(), answers.end(), text) == answers.end()) answers.push_back(text);
    }
    if (answers.size() == 1) return options.front().*field;
    reading.which.push_back("which of these: " + base::join(answers, " or "));
    return std::string();
  };
  reading.ch1 = settle(&Option::ch1, code.ch1);
  reading.ch2 = settle(&Option::ch2, code.ch2);
}

void choose_code(Reading& reading, const coding::CodeList& list) {
  std::vector<std::string> candidates;
  for (const Said& said : reading.said) {
    for (const Meaning& meaning : said.phrase->means) {
      if (std::find(candidates.begin(), candidates.end(), meaning.code) == candidates.end())
        candidates.push_back(meaning.code);
    }
  }
  // The code that most phrases speak of; a phrase that says something by itself need not fit.
  std::vector<std::string> best;
  int best_unfit = 0, best_fit = -1;
  for (const std::string& candidate : candidates) {
    int fit = 0, unfit = 0;
    for (const Said& said : reading.said) {
      if (!about(*said.phrase, candidate).empty())
        ++fit;
      else if (!said.phrase->stands_alone())
        ++unfit;
    }
    if (best.empty() || unfit < best_unfit || (unfit == best_unfit && fit > best_fit)) {
      best = {candidate};
      best_unfit = unfit;
      best_fit = fit;
    } else if (unfit == best_unfit && fit == best_fit) {
      best.push_back(candidate);
    }
  }
  if (best.size() == 1) reading.code = list.find(best.front());
  if (best.size() < 2) return;
  std::vector<std::string> names;
  for (const std::string& code : best) names.push_back(name_of(*list.find(code)));
  reading.which.push_back((best_unfit > 0 ? "one finding a line: " : "which of these: ") +
                          base::join(names, " or "));
}

}  // namespace

std::vector<Meaning> about(const Phrase& phrase, const std::string& code) {
  std::vector<Meaning> found;
  for (const auto* meanings : {&phrase.means, &phrase.adds}) {
    for (const Meaning& meaning : *meanings) {
      if (meaning.code == code) found.push_back(meaning);
    }
    if (!found.empty()) break;
  }
  return found;
}

Reading read_code(std::vector<Token>& tokens, const Words& words, const coding::CodeList& list) {
  Reading reading;
  BareCode(tokens, words, list).run(reading);
  reading.said = find_phrases(tokens, words);
  const auto first_former = std::stable_partition(reading.said.begin(), reading.said.end(),
                                                  [&](const Said& said) { return !is_former(said, tokens); });
  const std::vector<Said> formers(first_former, reading.said.end());
  reading.said.erase(first_former, reading.said.end());
  if (reading.code == nullptr) choose_code(reading, list);
  if (reading.code == nullptr) return reading;
  for (const Said& said : reading.said) {
    if (!about(*said.phrase, reading.code->code).empty() || said.phrase->stands_alone()) continue;
    reading.wrong.push_back(
        said.typed + (said.phrase->means.empty()
                          ? " (says nothing about " + name_of(*reading.code) + ")"
                          : " (another finding, " + said.phrase->means.front().code + ": one a line)"));
  }
  for (const Said& said : formers) {  // of a change of material; a root has none
    if (about(*said.phrase, reading.code->code).empty())
      reading.wrong.push_back(said.typed + " (says nothing about " + name_of(*reading.code) + ")");
  }
  settle_letters(reading);
  return reading;
}

}  // namespace haunch::play
