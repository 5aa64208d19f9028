// SPDX-License-Identifier: Apache-2.0
// From a typed line to an observation: cut, read numbers, read the code, then hold it against the
// code list's rules.
#include "play/entry.hpp"

#include <algorithm>
#include <optional>

#include "base/words.hpp"
#include "play/completions.hpp"
#include "play/numbers.hpp"
#include "play/reading.hpp"
#include "play/tokens.hpp"
#include "play/words.hpp"

namespace haunch::play {
namespace {

using coding::ClockRule;
using coding::CodeEntry;
using coding::QuantityRule;

std::string shown_unit(const std::string& unit) { return unit == "degree" ? "degrees" : unit; }

class Assembler {
 public:
  Assembler(Entry& entry, Line& line, Numbers numbers, const Reading& reading, const Words& words)
      : entry_(entry),
        line_(line),
        numbers_(std::move(numbers)),
        reading_(reading),
        words_(words),
        code_(reading.code) {}

  void run(base::LengthUnit unit, const coding::CodeList& list) {
    auto& o = entry_.observation;
    if (code_ != nullptr) o.code = code_->code;
    o.ch1 = reading_.ch1;
    o.ch2 = reading_.ch2;
    o.remark = line_.remark;
    if (numbers_.distance_m) o.distance_m = *numbers_.distance_m;
    const auto keep = [&](const std::vector<std::string>& texts) {
      entry_.not_understood.insert(entry_.not_understood.end(), texts.begin(), texts.end());
    };
    keep(numbers_.wrong);
    keep(reading_.wrong);
    clock_joint_stretch();
    usual_letters();
    for (const Size& size : numbers_.sizes) take(size);
    bare_numbers();
    leftovers();
    missing();
    sentence(unit, list);
  }

 private:
  void wrong(const std::string& what, const std::string& why = {}) {
    entry_.not_understood.push_back(why.empty() ? what : what + " (" + why + ")");
  }

  void clock_joint_stretch() {
    auto& o = entry_.observation;
    o.clock_from = numbers_.clock_from;
    o.clock_to = numbers_.clock_to;
    o.stretch = numbers_.stretch;
    for (const Said& said : reading_.said) {
      const Phrase& phrase = *said.phrase;
      // "left" is a bend's side and "start" a node where the code asks for that.
      if (code_ != nullptr && !about(phrase, code_->code).empty() && !phrase.joint && !whole_round(phrase))
        continue;
      if (phrase.joint) o.at_joint = true;
      if (phrase.clock) said_clock(said);
      if (phrase.stretch != 0) {
        if (o.stretch.empty())
          o.stretch = std::string(1, phrase.stretch);
        else
          wrong(said.typed, "a second stretch");
      }
    }
    if (code_ != nullptr && code_->joint == coding::JointRule::always) o.at_joint = true;
  }

  static bool whole_round(const Phrase& phrase) { return phrase.clock && phrase.clock->to; }

  void said_clock(const Said& said) {
    auto& o = entry_.observation;
    const SaidClock& clock = *said.phrase->clock;
    if (!o.clock_from) {
      o.clock_from = clock.from;
      o.clock_to = clock.to;
    } else if (o.clock_from != clock.from) {
      // "silt on the invert 5 to 7" says the place twice, and the hours say it better.
      const bool inside = o.clock_to && base_contains(*o.clock_from, *o.clock_to, clock.from);
      if (!inside || clock.to) wrong(said.typed, "a second place on the clock");
    }
  }
  static bool base_contains(int from, int to, int hour) {
    const int width = (to - from + 12) % 12;
    return (from == to && from == 12) || (hour - from + 12) % 12 <= width;
  }

  /// Letters that follow from the unit ("3 degrees" of a displaced joint) or from habit of speech.
  void usual_letters() {
    auto& o = entry_.observation;
    if (code_ == nullptr) return;
    if (o.ch1.empty() && !asked_which()) {
      const bool by_unit = code_->q1 && !code_->q1->unit_by_ch1.empty() && !numbers_.sizes.empty();
      std::vector<std::string> fitting;
      for (const auto& [letter, meaning] : code_->ch1) {
        if (!by_unit || code_->q1->unit_for(letter) == numbers_.sizes.front().unit) fitting.push_back(letter);
      }
      const bool usual_fits = std::find(fitting.begin(), fitting.end(), reading_.usual_ch1) != fitting.end();
      if (usual_fits)
        o.ch1 = reading_.usual_ch1;
      else if (by_unit && fitting.size() == 1)
        o.ch1 = fitting.front();
    }
    if (o.ch2.empty()) o.ch2 = reading_.usual_ch2;
  }
  bool asked_which() const { return !reading_.which.empty(); }

  std::vector<std::string> units(const QuantityRule& rule) const {
    const auto& ch1 = entry_.observation.ch1;
    if (!ch1.empty()) return {rule.unit_for(ch1)};
    std::vector<std::string> all{rule.unit};
    for (const auto& [letter, unit] : rule.unit_by_ch1) all.push_back(unit);
    return all;
  }

  void take(const Size& size) {
    auto& o = entry_.observation;
    if (code_ == nullptr) {
      if (o.q1.empty())
        o.q1 = size.value;
      else if (o.q2.empty())
        o.q2 = size.value;
      else
        wrong(size.typed, "a third size");
      return;
    }
    const std::string name = code_->code + " " + base::lower(code_->name);
    if (!code_->q1) return wrong(size.typed, name + " takes no size");
    const bool second = !o.q1.empty();
    if (second && (!code_->q2 || !o.q2.empty()))
      return wrong(size.typed, "a second size; " + name + " takes one");
    const QuantityRule& rule = second ? *code_->q2 : *code_->q1;
    const auto wanted = units(rule);
    const bool fits = std::any_of(wanted.begin(), wanted.end(),
                                  [&](const std::string& unit) { return unit.empty() || unit == size.unit; });
    if (!fits) return wrong(size.typed, name + " is given in " + shown_unit(wanted.front()));
    (second ? o.q2 : o.q1) = size.value;
  }

  void bare_numbers() {
    auto& o = entry_.observation;
    bool clock_was_bare = false;
    for (const std::size_t i : numbers_.bare) {
      const Token& token = line_.tokens[i];
      const ClockRule rule = code_ == nullptr ? ClockRule::one : code_->clock_for(o.ch1);
      const bool clock_open = !o.clock_from && rule != ClockRule::none;
      const bool size_open = code_ == nullptr ? o.q1.empty() : code_->q1 && o.q1.empty();
      const std::string unit = code_ != nullptr && code_->q1 ? units(*code_->q1).front() : "mm";
      if (size_open && unit == "count") {
        o.q1 = token.value;
      } else if (token.is_hour() && clock_open && rule == ClockRule::optional && size_open) {
        wrong(token.typed, "a size or a place? write " + token.typed + " " + unit + ", or at " + token.typed);
      } else if (token.is_hour() && clock_open) {
        o.clock_from = static_cast<int>(token.value);
        clock_was_bare = true;
      } else if (size_open && !(token.is_hour() && clock_was_bare)) {
        o.q1 = token.value;
      } else if (token.is_hour() && clock_was_bare) {
        wrong(token.typed, "write " + std::to_string(*o.clock_from) + "-" + token.typed + " for the clock" +
                               (size_open ? ", " + token.typed + " " + unit + " for a size" : ""));
      } else {
        wrong(token.typed, "a number without a meaning here");
      }
    }
  }

  void leftovers() {
    std::string vague;  // "quite high" is told in one
    const auto tell_vague = [&] {
      if (!vague.empty()) wrong(vague, "say how much by a size");
      vague.clear();
    };
    const bool sized =
        !entry_.observation.q1.empty() || !entry_.observation.q2.empty() || !numbers_.sizes.empty();
    for (const Token& token : line_.tokens) {
      const bool is_vague = !token.used && (words_.vague.contains(token.text) ||
                                            (!sized && words_.measures.contains(token.text)));
      if (is_vague) {
        vague += (vague.empty() ? "" : " ") + token.typed;
        continue;
      }
      tell_vague();
      if (token.used || token.is_number()) continue;  // a number is told already
      if (token.kind == Token::Kind::sign) {
        wrong(token.typed);
      } else if (!words_.ignored.contains(token.text) && !words_.measures.contains(token.text)) {
        wrong(token.typed, suggestion(token));
      }
    }
    tell_vague();
  }

  std::string suggestion(const Token& token) const {
    if (token.text.size() < 3) return {};
    const bool shouted =
        token.typed != token.text && base::lower(token.typed) == token.text && token.text.size() == 3;
    if (shouted && token.typed[1] != token.text[1]) return "not a code of the list";
    const std::string near = base::nearest_word(token.text, words_.single);
    return near.size() < 3 || near == token.text ? std::string() : "did you mean \"" + near + "\"?";
  }

  static std::string choices(const std::map<std::string, std::string>& letters) {
    std::vector<std::string> parts;
    for (const auto& [letter, meaning] : letters) parts.push_back(letter + " " + meaning);
    if (parts.size() > 6) {
      parts.resize(6);
      parts.emplace_back("...");
    }
    return base::join(parts, ", ");
  }

  void missing() {
    auto& o = entry_.observation;
    auto& list = entry_.missing;
    list = reading_.which;
    const bool ends_run = !o.stretch.empty() && o.stretch.front() == 'B';
    if (ends_run) return;
    if (code_ == nullptr) {
      if (list.empty()) list.emplace_back("what it is: a code or a word for it");
      return;
    }
    // A bend goes sideways or up or down; either letter is enough.
    const bool either = code_->code == "BCC" && !(o.ch1.empty() && o.ch2.empty());
    if (!asked_which() && !code_->ch1.empty() && o.ch1.empty() && !either) {
      list.push_back("which kind: " + choices(code_->ch1));
    }
    if (!asked_which() && o.ch2.empty() && !either && !o.ch1.empty() && code_->ch2_applies(o.ch1) &&
        code_->ch2_applies_when != "optional") {
      list.push_back("which form: " + choices(code_->ch2));
    }
    if (code_->q1 && o.q1.empty() && code_->q1->is_required(o.ch1, !o.stretch.empty(), o.ch2)) {
      const auto unit = units(*code_->q1).front();
      list.push_back("size: " + code_->q1->meaning +
                     (unit.empty() || unit == "count" ? "" : ", in " + shown_unit(unit)));
    }
    if (code_->q2 && o.q2.empty() && code_->q2->is_required(o.ch1, !o.stretch.empty(), o.ch2)) {
      list.push_back("second size: " + code_->q2->meaning + ", in " + shown_unit(units(*code_->q2).front()));
    }
    const ClockRule rule = code_->clock_for(o.ch1);
    if (!o.clock_from &&
        (rule == ClockRule::one || rule == ClockRule::range || rule == ClockRule::one_or_range)) {
      list.emplace_back("where on the clock");
    }
    if (o.remark.empty() &&
        std::find(code_->needs.begin(), code_->needs.end(), "remark") != code_->needs.end()) {
      list.emplace_back("a remark: write it after #");
    }
  }

  void sentence(base::LengthUnit unit, const coding::CodeList& list) {
    coding::Observation o = entry_.observation;
    const std::string stretch = o.stretch;
    if (code_ == nullptr) {
      if (!stretch.empty() && stretch.front() == 'B') {
        entry_.sentence =
            stretch.size() > 1 ? "Stretch " + stretch.substr(1) + " ends here" : "The open stretch ends here";
      }
      return;
    }
    // The number is not known yet; the code list's words want one.
    if (stretch.size() == 1) o.stretch.clear();
    entry_.sentence = coding::in_words(o, list);
    const std::string where =
        o.distance_m.value ? "at " + base::show_distance(*o.distance_m.value, unit) : std::string("here");
    if (stretch == "A") entry_.sentence += "; begins " + where;
    if (stretch == "B") entry_.sentence += "; ends " + where;
    if (stretch.size() != 1 && o.distance_m.value) entry_.sentence += "; " + where;
  }

  Entry& entry_;
  Line& line_;
  Numbers numbers_;
  const Reading& reading_;
  const Words& words_;
  const CodeEntry* code_;
};

/// A place at the very end of a remark is meant as one: "BCD B # Y1 @0" says where, as "BCD B @0 # Y1" does.
std::string place_first(const std::string& typed) {
  const std::size_t remark = typed.find('#'), place = typed.rfind('@');
  if (remark == std::string::npos || place == std::string::npos || place < remark) return typed;
  const std::string said = base::trim(typed.substr(place + 1));
  const std::size_t number = said.find_first_not_of("0123456789.,");
  const std::string unit = number == std::string::npos ? std::string() : base::trim(said.substr(number));
  if (said.empty() || number == 0 || !(unit.empty() || unit == "m" || unit == "ft")) return typed;
  return typed.substr(0, remark) + " @" + said + " " + base::trim(typed.substr(remark, place - remark));
}

Entry understand(const std::string& typed, const coding::CodeList& list, base::LengthUnit unit, Line& line,
                 Reading& reading) {
  const Words& words = Words::shipped();
  Entry entry;
  line = cut(place_first(typed));
  Numbers numbers = read_numbers(line.tokens, unit);
  reading = read_code(line.tokens, words, list);
  Assembler(entry, line, std::move(numbers), reading, words).run(unit, list);
  return entry;
}

}  // namespace

Entry read_entry(const std::string& typed, const coding::CodeList& list, base::LengthUnit unit) {
  Line line;
  Reading reading;
  Entry entry = understand(typed, list, unit, line, reading);
  complete(entry, typed, line, reading, Words::shipped(), list, [&](const std::string& whole) {
    Line whole_line;
    Reading whole_reading;
    return understand(whole, list, unit, whole_line, whole_reading).not_understood.size();
  });
  return entry;
}

}  // namespace haunch::play
