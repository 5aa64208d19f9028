// SPDX-License-Identifier: Apache-2.0
#include "report/beside.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/words.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

constexpr double middle = 36, face = 26, spoke = 4;

struct Arc {
  int from = 12, to = 12;
  bool whole = false, one = true;
};
std::optional<Arc> arc_of(const coding::Observation& seen) {
  const auto hour = [](const std::optional<int>& h) { return h && *h >= 1 && *h <= 12; };
  if (!hour(seen.clock_from)) return std::nullopt;
  if (!hour(seen.clock_to)) return Arc{*seen.clock_from, *seen.clock_from, false, true};
  const bool whole = *seen.clock_from == 12 && *seen.clock_to == 12;
  return Arc{*seen.clock_from, *seen.clock_to, whole, !whole && *seen.clock_from == *seen.clock_to};
}

Point at_hour(double hour, double radius) {
  const double angle = hour * std::numbers::pi / 6;
  return {middle + radius * std::sin(angle), middle - radius * std::cos(angle)};
}

/// One hour as a spoke, a range as an arc between two spokes.
std::string drawn(const Arc& arc, double radius, const char* css_class) {
  if (arc.whole)
    return "<circle class=\"" + std::string(css_class) + "\" cx=\"36\" cy=\"36\" r=\"" + svg_number(radius) +
           "\"/>";
  std::string text =
      svg_line(at_hour(arc.from, radius - spoke), at_hour(arc.from, radius + spoke), css_class);
  if (arc.one) return text;
  text += svg_line(at_hour(arc.to, radius - spoke), at_hour(arc.to, radius + spoke), css_class);
  const int wide = (arc.to - arc.from + 12) % 12;
  const Point a = at_hour(arc.from, radius), b = at_hour(arc.to, radius);
  const std::string r = svg_number(radius);
  return text + "<path class=\"" + css_class + "\" d=\"M" + svg_number(a.x) + " " + svg_number(a.y) + "A" +
         r + " " + r + " 0 " + (wide > 6 ? "1" : "0") + " 1 " + svg_number(b.x) + " " + svg_number(b.y) +
         "\"/>";
}

std::string hours(const Arc& arc) {
  if (arc.whole) return "all round";
  return std::to_string(arc.from) + (arc.one ? "" : " to " + std::to_string(arc.to));
}

std::string letter_line(const std::string& letter, const std::map<std::string, std::string>& meanings) {
  const auto known = meanings.find(letter);
  return known == meanings.end() ? std::string() : letter + ": " + known->second;
}

}  // namespace

std::string clock_svg(const coding::Observation& truth, const coding::Observation& attempt) {
  const auto there = arc_of(truth), given = arc_of(attempt);
  if (!there) return {};
  std::string text = "<svg class=\"dial\" viewBox=\"0 0 72 72\" role=\"img\" aria-label=\"Clock: there is " +
                     hours(*there) + ", you wrote " + (given ? hours(*given) : "nothing") + "\">" +
                     "<circle class=\"d-face\" cx=\"36\" cy=\"36\" r=\"30\"/>";
  for (int hour = 1; hour <= 12; ++hour)
    text += svg_line(at_hour(hour, hour % 3 == 0 ? 27.5 : 28.5), at_hour(hour, 30), "d-tick");
  text += drawn(*there, face - 4, "d-there");
  if (given) text += drawn(*given, face - 14, "d-given");
  return text + "</svg>";
}

std::string size_svg(const coding::Observation& truth, const coding::Observation& attempt,
                     const coding::CodeList& list) {
  if (!truth.q1.value || !attempt.q1.value || truth.code != attempt.code) return {};
  const double there = *truth.q1.value, given = *attempt.q1.value, most = std::max(there, given);
  if (!(most > 0) || there < 0 || given < 0) return {};
  const coding::CodeEntry* entry = list.find(truth.code);
  const std::string unit = entry != nullptr && entry->q1 ? entry->q1->unit_for(truth.ch1) : "";
  const auto said = [&](double size) { return base::show_number(size) + (unit.empty() ? "" : " " + unit); };
  constexpr double wide = 150;
  const auto bar = [&](double size, double y, const char* css_class) {
    return "<rect class=\"" + std::string(css_class) + "\" x=\"2\" y=\"" + svg_number(y) + "\" width=\"" +
           svg_number(std::max(1.0, wide * size / most)) + "\" height=\"11\"/>";
  };
  return "<svg class=\"sizes\" viewBox=\"0 0 156 64\" role=\"img\" aria-label=\"Size: there is " +
         escaped(said(there)) + ", you wrote " + escaped(said(given)) + "\">" + bar(there, 16, "d-there") +
         svg_text({2, 11}, "there is " + said(there), "side") + bar(given, 50, "d-given") +
         svg_text({2, 44}, "you wrote " + said(given), "side") + "</svg>";
}

std::vector<std::string> code_lines(const coding::Observation& seen, const coding::CodeList& list) {
  const coding::CodeEntry* entry = list.find(seen.code);
  if (entry == nullptr) return {};
  std::vector<std::string> lines{entry->code + ": " + entry->name};
  for (const std::string& line : {letter_line(seen.ch1, entry->ch1), letter_line(seen.ch2, entry->ch2)})
    if (!line.empty()) lines.push_back(line);
  if (entry->q1 && !entry->q1->meaning.empty()) {
    const std::string& unit = entry->q1->unit_for(seen.ch1);
    lines.push_back("Size: " + entry->q1->meaning + (unit.empty() ? "" : ", " + unit));
  }
  if (!entry->note.empty()) lines.push_back(entry->note);
  return lines;
}

}  // namespace haunch::report
