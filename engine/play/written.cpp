// SPDX-License-Identifier: Apache-2.0
#include "play/written.hpp"

#include "base/words.hpp"
#include "play/entry.hpp"

namespace haunch::play {
namespace {

std::string with_unit(const coding::Number& number, const std::string& unit) {
  const std::string typed = unit == "degree" ? "deg" : unit;
  return number.show() + (typed.empty() ? "" : " " + typed);
}

std::string sizes(const coding::Observation& o, const coding::CodeEntry& entry) {
  const std::string first = entry.q1 ? entry.q1->unit_for(o.ch1) : "";
  const std::string second = entry.q2 ? entry.q2->unit_for(o.ch1) : "";
  if (!o.q1.empty() && !o.q2.empty() && first == "mm" && second == "mm")
    return " " + o.q1.show() + " x " + o.q2.show() + " mm";
  std::string text;
  if (!o.q1.empty()) text += " " + with_unit(o.q1, first);
  if (!o.q2.empty()) text += " " + with_unit(o.q2, second);
  return text;
}

bool same(coding::Observation read, coding::Observation wanted) {
  wanted.id.clear();
  wanted.distance_m = read.distance_m = {};
  wanted.reason.clear();
  wanted.photo.clear();
  return read == wanted;
}

}  // namespace

std::optional<std::string> written(const coding::Observation& o, const coding::CodeList& list,
                                   base::LengthUnit unit) {
  const coding::CodeEntry* entry = list.find(o.code);
  if (entry == nullptr) return std::nullopt;
  std::string text = coding::show_code(o) + sizes(o, *entry);
  if (o.clock_from && o.clock_to)
    text += " " + std::to_string(*o.clock_from) + "-" + std::to_string(*o.clock_to);
  else if (o.clock_from)
    text += " at " + std::to_string(*o.clock_from);
  if (!o.stretch.empty()) text += " " + o.stretch;
  std::string end;
  if (!o.remark.empty()) end = " # " + o.remark;
  // Some codes are at a joint unless they say otherwise.
  for (const char* joint : {"", " at joint", " not at joint"})
    if (same(read_entry(text + joint + end, list, unit).observation, o)) return text + joint + end;
  return std::nullopt;
}

}  // namespace haunch::play
