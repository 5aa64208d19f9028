// SPDX-License-Identifier: Apache-2.0
#include "marking/telling.hpp"

#include <cmath>

#include "base/words.hpp"
#include "marking/compare.hpp"

namespace haunch::marking {
namespace {

constexpr double one_place_m = 0.01;  // as finely as a counter shows

}  // namespace

std::string meaning_of(const Finding& finding, const coding::CodeList& list) {
  coding::Observation seen = *finding.seen;
  seen.stretch.clear();
  return coding::in_words(seen, list);
}

std::string view_words(const InView& view) {
  const auto tenths = [](double value) { return base::show_number(std::round(10 * value) / 10); };
  const auto hundredths = [](double value) { return base::show_number(std::round(100 * value) / 100); };
  if (!view.has_outline)
    return "How long it was in view is not measured: it is a change or an end of the pipe, with no outline "
           "of "
           "its own in the picture.";
  if (view.in_view_s <= 0) return "It never came into view on this drive.";
  std::string words = "It was in view for " + tenths(view.in_view_s) + " s, ";
  words += view.plainly_s > 0 ? "plainly for " + tenths(view.plainly_s) + " s of them" : "never plainly";
  if (view.most_percent > 0)
    words += ", and changed up to " + hundredths(view.most_percent) + " % of the picture";
  return words + ".";
}

bool at_one_place(const Finding& a, const Finding& b) {
  if (!a.from_m || !b.from_m || std::abs(*a.from_m - *b.from_m) > one_place_m) return false;
  return !a.clock || !b.clock || hours_between(a, b) <= 0;
}

std::string beside_words(const Finding& found, base::LengthUnit unit) {
  return where_of(found, unit) +
         " stands at the same place and was found; this belongs in the record beside it.";
}

}  // namespace haunch::marking
