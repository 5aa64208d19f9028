// SPDX-License-Identifier: Apache-2.0
// The rules of the pointer-built observation, and editing the line, whole UTF-8 characters at a time.
#include "window/writing.hpp"

#include <algorithm>
#include <utility>

#include "base/words.hpp"

namespace haunch::window {

namespace {

using coding::ClockRule;

const coding::CodeEntry* entry_of(const Draft& draft, const coding::CodeList& list) {
  return draft.observation.code.empty() ? nullptr : list.find(draft.observation.code);
}

}  // namespace

const std::vector<Group>& groups() {
  static const std::vector<Group> all = {{"fabric", "Pipe wall"},
                                         {"operation", "In the pipe"},
                                         {"inventory", "Fittings"},
                                         {"other", "Water, notes"},
                                         {"header-change", "Changes"}};
  return all;
}

std::vector<const coding::CodeEntry*> codes_in(const std::string& group, const coding::CodeList& list) {
  std::vector<const coding::CodeEntry*> found;
  for (const auto& entry : list.codes()) {
    if (entry.group == group) found.push_back(&entry);
  }
  return found;
}

void choose_code(Draft& draft, const std::string& code) {
  draft = {};
  draft.observation.code = code;
}

void choose_first(Draft& draft, const std::string& letter, const coding::CodeList& list) {
  draft.observation.ch1 = letter;
  const auto fits = second_choices(draft, list);
  const bool still = std::any_of(fits.begin(), fits.end(),
                                 [&](const Choice& c) { return c.first == draft.observation.ch2; });
  if (!still) draft.observation.ch2.clear();
  // A size belongs to its characterisation: 14 mm of step is not 14 degrees of bend.
  draft.observation.q1 = {};
  draft.observation.q2 = {};
}

std::vector<Choice> first_choices(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  if (entry == nullptr) return {};
  return {entry->ch1.begin(), entry->ch1.end()};
}

std::vector<Choice> second_choices(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  if (entry == nullptr || draft.observation.ch1.empty()) return {};
  const std::string& first = draft.observation.ch1;
  if (!entry->ch2_applies(first)) return {};
  std::vector<Choice> fits;
  for (const auto& [letter, meaning] : entry->ch2) {
    const std::string pair = first + letter;
    const auto& known = entry->combinations;
    if (known.empty() || std::find(known.begin(), known.end(), pair) != known.end()) {
      fits.emplace_back(letter, meaning);
    }
  }
  return fits;
}

std::optional<SizeAsk> size_ask(const Draft& draft, int which, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  if (entry == nullptr) return std::nullopt;
  const auto& rule = which == 1 ? entry->q1 : entry->q2;
  if (!rule) return std::nullopt;
  const std::string& letter = draft.observation.ch1;
  SizeAsk ask{rule->meaning,
              rule->unit_for(letter),
              rule->is_required(letter, draft.goes_on, draft.observation.ch2),
              1,
              100,
              {}};
  if (ask.unit == "mm") {
    const bool large = entry->code[0] == 'A' || entry->code == "BCA";
    ask.step = large ? 5 : 1;
    ask.most = large ? 5000 : 500;
    ask.usual = large ? std::vector<double>{100, 150, 200, 300} : std::vector<double>{1, 2, 5, 10, 20, 50};
  } else if (ask.unit == "degree") {
    ask.most = 90;
    ask.usual = {2, 5, 15, 30, 45};
  } else if (ask.unit == "%") {
    ask.usual = {5, 10, 20, 30, 50};
  }
  return ask;
}

bool needs_clock(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  if (entry == nullptr) return false;
  const ClockRule rule = entry->clock_for(draft.observation.ch1);
  return rule == ClockRule::one || rule == ClockRule::range || rule == ClockRule::one_or_range;
}

bool asks_clock(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  return entry != nullptr && entry->clock_for(draft.observation.ch1) != ClockRule::none;
}

bool may_go_on(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  return entry != nullptr && entry->may_be_continuous;
}

std::vector<std::string> still_needed(const Draft& draft, const coding::CodeList& list) {
  const auto* entry = entry_of(draft, list);
  if (entry == nullptr) return {"what it is"};
  std::vector<std::string> needed;
  if (!entry->ch1.empty() && draft.observation.ch1.empty()) needed.emplace_back("which kind");
  if (!second_choices(draft, list).empty() && draft.observation.ch2.empty())
    needed.emplace_back("which form");
  if (const auto ask = size_ask(draft, 1, list); ask && ask->required && draft.observation.q1.empty()) {
    needed.push_back("size (" + ask->meaning + ", " + ask->unit + ")");
  }
  if (needs_clock(draft, list) && !draft.observation.clock_from) needed.emplace_back("where on the clock");
  return needed;
}

base::ClockArc true_arc(const base::ClockArc& on_screen, double plumb_on_screen_h) {
  // The plumb mark is at true 6 by definition.
  const double turn = 6.0 - plumb_on_screen_h;
  return {base::wrap_hours(on_screen.from_h + turn), base::wrap_hours(on_screen.to_h + turn),
          on_screen.whole};
}

void set_clock(Draft& draft, const base::ClockArc& arc, const coding::CodeList& list) {
  auto& o = draft.observation;
  const auto* entry = entry_of(draft, list);
  if (entry != nullptr && entry->clock_for(o.ch1) == ClockRule::one) {
    const double middle = arc.whole ? arc.from_h : arc.from_h + base::arc_width_h(arc) / 2;
    o.clock_from = base::nearest_hour(base::wrap_hours(middle));
    o.clock_to = std::nullopt;
    return;
  }
  if (arc.whole) {
    o.clock_from = 12;
    o.clock_to = 12;
    return;
  }
  o.clock_from = base::nearest_hour(arc.from_h);
  const int to = base::nearest_hour(arc.to_h);
  o.clock_to = to == *o.clock_from ? std::nullopt : std::optional<int>(to);
}

std::vector<std::string> open_stretches(const coding::Record& record) {
  std::vector<std::string> open;
  for (const auto& o : record.observations) {
    if (o.stretch.size() < 2) continue;
    const std::string name = o.stretch.substr(1);
    if (o.stretch[0] == 'A') open.push_back(name);
    if (o.stretch[0] == 'B') open.erase(std::remove(open.begin(), open.end(), name), open.end());
  }
  return open;
}

std::optional<coding::Observation> ending_of(const coding::Record& record, const std::string& id) {
  const auto* begun = record.find(id);
  if (begun == nullptr || begun->stretch.size() < 2 || begun->stretch[0] != 'A') return std::nullopt;
  const auto open = open_stretches(record);
  if (std::find(open.begin(), open.end(), begun->stretch.substr(1)) == open.end()) return std::nullopt;
  coding::Observation ending = *begun;
  ending.id.clear();
  ending.distance_m = {};
  ending.stretch[0] = 'B';
  return ending;
}

namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t before(const std::string& text, std::size_t at) {
  if (at == 0) return 0;
  --at;
  while (at > 0 && continues(text[at])) --at;
  return at;
}

std::size_t after(const std::string& text, std::size_t at) {
  if (at >= text.size()) return text.size();
  ++at;
  while (at < text.size() && continues(text[at])) ++at;
  return at;
}

}  // namespace

void Line::insert(const std::string& utf8) {
  std::string clean;
  for (char c : utf8) {
    const auto code = static_cast<unsigned char>(c);
    clean += code < 0x20 || code == 0x7F ? ' ' : c;
  }
  text.insert(caret, clean);
  caret += clean.size();
}

void Line::backspace() {
  const std::size_t from = before(text, caret);
  text.erase(from, caret - from);
  caret = from;
}

void Line::erase() { text.erase(caret, after(text, caret) - caret); }
void Line::left() { caret = before(text, caret); }
void Line::right() { caret = after(text, caret); }

void Line::set(std::string new_text) {
  text = std::move(new_text);
  caret = text.size();
}

std::string rest_of(const std::string& typed, const std::string& completion) {
  if (typed.empty() || completion.size() <= typed.size()) return {};
  if (base::lower(completion.substr(0, typed.size())) != base::lower(typed)) return {};
  return completion.substr(typed.size());
}

}  // namespace haunch::window
