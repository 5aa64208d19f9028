// SPDX-License-Identifier: Apache-2.0
#include "play/numbers.hpp"

#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include "base/words.hpp"

namespace haunch::play {
namespace {

/// Word or sign -> unit kept, and how many of it one of these is.
struct UnitWord {
  std::string_view word, unit;
  double factor;
};
constexpr std::array<UnitWord, 24> size_units = {{
    {"mm", "mm", 1},
    {"millimetre", "mm", 1},
    {"millimetres", "mm", 1},
    {"millimeter", "mm", 1},
    {"millimeters", "mm", 1},
    {"cm", "mm", 10},
    {"centimetre", "mm", 10},
    {"centimetres", "mm", 10},
    {"centimeter", "mm", 10},
    {"centimeters", "mm", 10},
    {"in", "mm", base::mm_per_inch},
    {"inch", "mm", base::mm_per_inch},
    {"inches", "mm", base::mm_per_inch},
    {"%", "%", 1},
    {"percent", "%", 1},
    {"pct", "%", 1},
    {"pc", "%", 1},
    {"deg", "degree", 1},
    {"degs", "degree", 1},
    {"degree", "degree", 1},
    {"degrees", "degree", 1},
    {"\xC2\xB0", "degree", 1},
    {"grad", "degree", 0.9},
    {"gon", "degree", 0.9},
}};
constexpr std::array<std::pair<std::string_view, base::LengthUnit>, 11> length_units = {{
    {"m", base::LengthUnit::metres},
    {"metre", base::LengthUnit::metres},
    {"metres", base::LengthUnit::metres},
    {"meter", base::LengthUnit::metres},
    {"meters", base::LengthUnit::metres},
    {"mtr", base::LengthUnit::metres},
    {"ft", base::LengthUnit::feet},
    {"foot", base::LengthUnit::feet},
    {"feet", base::LengthUnit::feet},
    {"'", base::LengthUnit::feet},
    {"lf", base::LengthUnit::feet},
}};

/// Converted feet and inches without the tail of digits nobody measured.
double to_thousandth(double value) { return std::round(value * 1000) / 1000; }

class Reader {
 public:
  Reader(std::vector<Token>& tokens, base::LengthUnit unit) : tokens_(tokens), unit_(unit) {}

  Numbers run() {
    for (std::size_t i = 0; i < tokens_.size(); ++i) lettered_stretch(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) distance(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) size(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) range(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) numbered_stretch(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) single_hour(i);
    for (std::size_t i = 0; i < tokens_.size(); ++i) {
      if (free_number(i)) found_.bare.push_back(i);
    }
    return std::move(found_);
  }

 private:
  const Token* at(std::size_t i) const {
    return i < tokens_.size() && !tokens_[i].used ? &tokens_[i] : nullptr;
  }
  bool free_number(std::size_t i) const { return at(i) != nullptr && at(i)->is_number(); }
  bool word(std::size_t i, std::string_view text) const {
    return at(i) != nullptr && at(i)->kind == Token::Kind::word && at(i)->text == text;
  }
  bool sign(std::size_t i, std::string_view text) const {
    return at(i) != nullptr && at(i)->kind == Token::Kind::sign && at(i)->text == text;
  }
  void use(std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < to; ++i) tokens_[i].used = true;
  }
  std::string typed(std::size_t from, std::size_t to) const {
    std::string text;
    for (std::size_t i = from; i < to; ++i)
      text += (i > from && !tokens_[i].glued ? " " : "") + tokens_[i].typed;
    return text;
  }

  /// "A1" or "B12" in one piece.
  void lettered_stretch(std::size_t i) {
    if (!(word(i, "a") || word(i, "b")) || !free_number(i + 1) || !tokens_[i + 1].glued) return;
    if (size_unit(i + 2) != nullptr && tokens_[i + 2].glued) return;
    const Token& number = tokens_[i + 1];
    if (number.text.find('.') != std::string::npos) return;
    found_.stretch = (tokens_[i].text == "a" ? "A" : "B") + number.text;
    use(i, i + 2);
  }

  const UnitWord* size_unit(std::size_t i) const {
    if (at(i) == nullptr || at(i)->is_number()) return nullptr;
    for (const UnitWord& unit : size_units) {
      if (unit.word == at(i)->text) return &unit;
    }
    return nullptr;
  }
  const base::LengthUnit* length_unit(std::size_t i) const {
    if (at(i) == nullptr || at(i)->is_number()) return nullptr;
    for (const auto& [name, unit] : length_units) {
      if (name == at(i)->text) return &unit;
    }
    return nullptr;
  }

  /// "@12.4", "@ 40.7 ft", "12.4 m", "40 ft 6 in".
  void distance(std::size_t i) {
    const bool marked = sign(i, "@");
    std::size_t n = marked ? i + 1 : i;
    const bool negative = marked && sign(n, "-");
    if (negative) ++n;
    if (!free_number(n)) {
      if (marked) {
        found_.wrong.push_back("@ (a distance goes after it)");
        use(i, n);
      }
      return;
    }
    const base::LengthUnit* unit = length_unit(n + 1);
    if (!marked && unit == nullptr) return;
    std::size_t end = n + (unit == nullptr ? 1 : 2);
    double metres = base::to_metres(tokens_[n].value, unit == nullptr ? unit_ : *unit);
    if (unit != nullptr && *unit == base::LengthUnit::feet && free_number(end) &&
        (word(end + 1, "in") || word(end + 1, "inch") || word(end + 1, "inches"))) {
      metres += tokens_[end].value * base::mm_per_inch / 1000;
      end += 2;
    }
    if (negative || found_.distance_m) {
      found_.wrong.push_back(typed(i, end) + (negative ? " (distances begin at 0)" : " (a second distance)"));
    } else {
      found_.distance_m = to_thousandth(metres);
    }
    use(i, end);
    if (!marked && i > 0 && word(i - 1, "at")) use(i - 1, i);
  }

  /// "14 mm", "1/2 in", "1 1/2 in", "100 x 150 mm", "30 per cent".
  void size(std::size_t i) {
    if (!free_number(i)) return;
    double value = tokens_[i].value;
    std::size_t end = i + 1;
    const auto fraction = [&](std::size_t f) {
      return free_number(f) && sign(f + 1, "/") && free_number(f + 2) && tokens_[f + 2].value > 0 &&
             size_unit(f + 3) != nullptr;
    };
    if (fraction(i)) {
      value /= tokens_[i + 2].value;
      end = i + 3;
    } else if (fraction(i + 1)) {
      value += tokens_[i + 1].value / tokens_[i + 3].value;
      end = i + 4;
    } else if ((word(i + 1, "x") || sign(i + 1, "x") || word(i + 1, "by")) && free_number(i + 2)) {
      const UnitWord* unit = size_unit(i + 3);
      if (unit == nullptr) return;
      found_.sizes.push_back({to_thousandth(value * unit->factor), std::string(unit->unit), typed(i, i + 4)});
      found_.sizes.push_back(
          {to_thousandth(tokens_[i + 2].value * unit->factor), std::string(unit->unit), typed(i + 2, i + 4)});
      use(i, i + 4);
      return;
    }
    if (word(end, "per") && word(end + 1, "cent")) {
      found_.sizes.push_back({value, "%", typed(i, end + 2)});
      use(i, end + 2);
      return;
    }
    const UnitWord* unit = size_unit(end);
    if (unit == nullptr) return;
    // 360 degrees is a place (all round), not an angle that a pipe could have.
    if (unit->unit == "degree" && value == 360) {
      clock(12, 12, typed(i, end + 1));
    } else {
      found_.sizes.push_back(
          {to_thousandth(value * unit->factor), std::string(unit->unit), typed(i, end + 1)});
    }
    use(i, end + 1);
  }

  /// Tokens of "o'clock" after an hour, 0 to 3 of them.
  std::size_t o_clock(std::size_t i) const {
    if (word(i, "o'clock") || word(i, "oclock") || word(i, "clock") || word(i, "h") || word(i, "hrs"))
      return 1;
    if (word(i, "o") && word(i + 1, "clock")) return 2;
    if (word(i, "o") && sign(i + 1, "'") && word(i + 2, "clock")) return 3;
    return 0;
  }

  void clock(int from, std::optional<int> to, const std::string& said) {
    if (found_.clock_from) {
      found_.wrong.push_back(said + " (a second place on the clock)");
    } else {
      found_.clock_from = from;
      found_.clock_to = to;
    }
  }

  static bool leads(const Token* token) {
    return token != nullptr && token->kind == Token::Kind::word &&
           (token->text == "at" || token->text == "from" || token->text == "between" ||
            token->text == "position");
  }

  /// "10 to 2", "10-2", "from 10 o'clock to 2 o'clock", "between 10 and 2".
  void range(std::size_t i) {
    if (!free_number(i)) return;
    std::size_t next = i + 1 + o_clock(i + 1);
    bool parted = sign(next, "-") || sign(next, "/");
    for (const char* word_ : {"to", "till", "til", "until", "through", "thru"})
      parted = parted || word(next, word_);
    const bool between = i > 0 && word(i - 1, "between") && word(next, "and");
    std::size_t second = next + 1;
    if (between) {
      parted = true;
      if (at(second) != nullptr && !at(second)->is_number()) return;
    }
    // "between 10 and 2" loses its "and" to nobody: it is a word like another.
    if (!parted || !free_number(second)) return;
    const std::size_t end = second + 1 + o_clock(second + 1);
    const std::size_t begin = i > 0 && leads(at(i - 1)) ? i - 1 : i;
    const std::string said = typed(i, end);
    if (tokens_[i].is_hour() && tokens_[second].is_hour()) {
      clock(static_cast<int>(tokens_[i].value), static_cast<int>(tokens_[second].value), said);
    } else if (tokens_[i].value == 0 && tokens_[second].value == 12) {
      clock(12, 12, said);  // the other way to write the whole round
    } else {
      found_.wrong.push_back(said + " (the clock has whole hours from 1 to 12)");
    }
    use(begin, end);
  }

  /// "begin 1", "end of stretch 2".
  void numbered_stretch(std::size_t i) {
    char kind = 0;
    for (const char* word_ : {"begin", "begins", "start", "starts", "beginning"})
      kind = word(i, word_) ? 'A' : kind;
    for (const char* word_ : {"end", "ends", "stop", "stops"}) kind = word(i, word_) ? 'B' : kind;
    if (kind == 0) return;
    std::size_t n = i + 1;
    if (word(n, "of")) ++n;
    if (word(n, "run") || word(n, "stretch")) ++n;
    if (!free_number(n) || o_clock(n + 1) != 0 || tokens_[n].text.find('.') != std::string::npos) return;
    if (found_.stretch.empty()) {
      found_.stretch = kind + tokens_[n].text;
    } else {
      found_.wrong.push_back(typed(i, n + 1) + " (a second stretch)");
    }
    use(i, n + 1);
  }

  /// "at 12", "3 o'clock".
  void single_hour(std::size_t i) {
    if (!free_number(i)) return;
    const bool led = i > 0 && leads(at(i - 1));
    std::size_t end = i + 1 + o_clock(i + 1);
    if (!led && end == i + 1) return;
    // "2:30"
    if (sign(i + 1, ":") && free_number(i + 2)) end = i + 3 + o_clock(i + 3);
    const std::string said = typed(i, end);
    if (tokens_[i].is_hour() && !sign(i + 1, ":")) {
      clock(static_cast<int>(tokens_[i].value), {}, said);
    } else {
      found_.wrong.push_back(said + " (the clock has whole hours from 1 to 12)");
    }
    use(led ? i - 1 : i, end);
  }

  std::vector<Token>& tokens_;
  base::LengthUnit unit_;
  Numbers found_;
};

}  // namespace

Numbers read_numbers(std::vector<Token>& tokens, base::LengthUnit unit) { return Reader(tokens, unit).run(); }

}  // namespace haunch::play
