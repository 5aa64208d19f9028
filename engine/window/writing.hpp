// SPDX-License-Identifier: Apache-2.0
// The two ways to write an observation down. The typed line, edited a character at a time: our own
// rather than a toolkit's field, because it must take typing whatever else has the mouse, and leave
// the arrows that drive alone. And the draft, built step by step with the pointer: code,
// characterisation, size, clock; what may be chosen comes from the code list alone.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::window {

/// Groups of main codes in the order and words of the menu.
struct Group {
  std::string id;    ///< as in the code list
  std::string name;  ///< "Pipe wall"
};
const std::vector<Group>& groups();
std::vector<const coding::CodeEntry*> codes_in(const std::string& group, const coding::CodeList& list);

struct Draft {
  coding::Observation observation;
  bool goes_on = false;  ///< begins a continuous observation
};

/// Begins afresh with a main code.
void choose_code(Draft& draft, const std::string& code);
/// Sets characterisation 1 and drops a second one that no longer fits.
void choose_first(Draft& draft, const std::string& letter, const coding::CodeList& list);

using Choice = std::pair<std::string, std::string>;  ///< letter, meaning
std::vector<Choice> first_choices(const Draft& draft, const coding::CodeList& list);
/// The second letters that go with the first; none when the first rules them out.
std::vector<Choice> second_choices(const Draft& draft, const coding::CodeList& list);

/// What a size means here, and how a person steps through it.
struct SizeAsk {
  std::string meaning, unit;
  bool required = false;
  double step = 1, most = 100;
  std::vector<double> usual;  ///< to begin from with one click, smallest first; ours
};
std::optional<SizeAsk> size_ask(const Draft& draft, int which, const coding::CodeList& list);

bool asks_clock(const Draft& draft, const coding::CodeList& list);
bool needs_clock(const Draft& draft, const coding::CodeList& list);
bool may_go_on(const Draft& draft, const coding::CodeList& list);

/// What is still to be chosen, in words; empty when the observation can be logged.
std::vector<std::string> still_needed(const Draft& draft, const coding::CodeList& list);

/// An arc drawn on the screen as true hours: the plumb mark stands where the person believes the
/// bottom of the pipe to be, so that a rolled picture does not turn the clock.
base::ClockArc true_arc(const base::ClockArc& on_screen, double plumb_on_screen_h);
/// Whole hours; a code that wants a single hour takes the middle of what was drawn.
void set_clock(Draft& draft, const base::ClockArc& arc, const coding::CodeList& list);

/// Names of continuous observations begun and not ended, oldest first: "1" for A1.
std::vector<std::string> open_stretches(const coding::Record& record);
/// The observation that ends a begun one, saying the same; nothing when that one is not open.
std::optional<coding::Observation> ending_of(const coding::Record& record, const std::string& id);

struct Line {
  std::string text;       ///< UTF-8
  std::size_t caret = 0;  ///< bytes before the caret

  bool operator==(const Line&) const = default;
  void insert(const std::string& utf8);  ///< control characters and line ends become spaces
  void backspace();
  void erase();  ///< the character after the caret
  void left();
  void right();
  void home() { caret = 0; }
  void end() { caret = text.size(); }
  void set(std::string new_text);
  void clear() { set({}); }
  bool at_end() const { return caret == text.size(); }
};

/// The rest of a completion after what is typed ("offset jo" + "offset joint" -> "int"), when the
/// completion continues it whatever the letter case; else empty.
std::string rest_of(const std::string& typed, const std::string& completion);

}  // namespace haunch::window
