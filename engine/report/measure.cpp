// SPDX-License-Identifier: Apache-2.0
#include "report/measure.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/words.hpp"
#include "grading/along.hpp"

namespace haunch::report {

std::optional<Zero> zero_from(const std::string& words, base::LengthUnit unit) {
  if (words == "recorded") return Zero{ZeroAt::recorded};
  if (words == "start") return Zero{ZeroAt::start};
  if (words == "end") return Zero{ZeroAt::end};
  if (words == "upstream") return Zero{ZeroAt::upstream};
  if (words == "downstream") return Zero{ZeroAt::downstream};
  double number = 0;
  if (!base::read_number(words, number) || std::abs(number) > 1e5) return {};
  return Zero{ZeroAt::place, base::to_metres(number, unit)};
}

Ends ends_of(const coding::Record& record) {
  std::optional<double> start, finish, low, high;
  for (const coding::Observation& seen : record.observations) {
    const auto& at = seen.distance_m.value;
    if (!at || !std::isfinite(*at)) continue;
    // Of nodes that stand there twice the outermost count, whatever their order.
    if (seen.code == "BCD") start = std::min(start.value_or(*at), *at);
    if (seen.code == "BCE") finish = std::max(finish.value_or(*at), *at);
    low = std::min(low.value_or(*at), *at);
    high = std::max(high.value_or(*at), *at);
  }
  const bool down = grading::counts_down(record);
  const auto length = record.header_number("ABQ");
  Ends ends;
  ends.start_m = start.value_or(down ? high.value_or(0) : std::min(0.0, low.value_or(0)));
  ends.finish_known = finish.has_value() || (length && *length > 0);
  const double far = down ? low.value_or(ends.start_m) : high.value_or(ends.start_m);
  if (finish) {
    ends.finish_m = *finish;
  } else if (length && *length > 0) {
    ends.finish_m = down ? std::min(ends.start_m - *length, far) : std::max(ends.start_m + *length, far);
  } else {
    ends.finish_m = far;
  }
  return ends;
}

NodeNames node_names(const coding::Record& record) {
  const auto named = [&](const char* code) { return base::trim(record.header_value(code).value_or("")); };
  const std::string one = named("AAD"), two = named("AAF");
  NodeNames names{named("AAB"), ""};
  const std::string way = named("AAK");
  if (names.start.empty() && way == "A") names.start = one;
  if (names.start.empty() && way == "B") names.start = two;
  if (!names.start.empty()) names.finish = names.start == one ? two : names.start == two ? one : "";
  return names;
}

double Measure::from_zero(double recorded_m) const {
  const double away = (recorded_m - zero_m) * forward;
  return std::abs(away) < 0.0005 ? 0 : away;  // never "-0.00 m"
}

std::string Measure::show(double recorded_m) const {
  return base::show_distance(from_zero(recorded_m), unit);
}

std::string show_mm(double mm, base::LengthUnit unit) {
  const std::string metric = base::show_number(std::round(mm * 10) / 10) + " mm";
  if (unit == base::LengthUnit::metres) return metric;
  const double inches = mm / base::mm_per_inch, step = inches < 1 ? 100 : 10;
  return base::show_number(std::round(inches * step) / step) + " in (" + metric + ")";
}

namespace {

std::string called(const std::string& what, const std::string& name) {
  return name.empty() ? what : what + " (" + name + ")";
}

std::string reference_words(const coding::Record& record) {
  const std::string point = base::trim(record.header_value("ABC").value_or(""));
  const std::string node =
      called("the manhole or opening where the camera went in", node_names(record).start);
  if (point == "A") return "as recorded, from the inside of the wall of " + node;
  if (point == "B") return "as recorded, from the middle of " + node;
  if (point == "C") return "as recorded, from a point that the inspector chose";
  return "as recorded; the record does not say from where";
}

}  // namespace

Measure measure_of(const coding::Record& record, const Zero& zero, base::LengthUnit unit) {
  const Ends ends = ends_of(record);
  const NodeNames names = node_names(record);
  const bool down = ends.finish_m < ends.start_m;
  Measure measure;
  measure.unit = unit;
  ZeroAt at = zero.at;
  const std::string way = base::trim(record.header_value("AAK").value_or(""));
  if (at == ZeroAt::upstream || at == ZeroAt::downstream) {
    if (way != "A" && way != "B") {
      measure.refused = "the record does not say which way the water flows (AAK)";
      at = ZeroAt::recorded;
    } else {
      at = (at == ZeroAt::upstream) == (way == "A") ? ZeroAt::start : ZeroAt::end;
    }
  }
  if (at == ZeroAt::end && !ends.finish_known) {
    measure.refused = "the record does not say where the pipe ends";
    at = ZeroAt::recorded;
  }
  switch (at) {
    case ZeroAt::recorded:
    case ZeroAt::upstream:
    case ZeroAt::downstream:
      measure.words = reference_words(record);
      break;
    case ZeroAt::start:
      measure.zero_m = ends.start_m;
      measure.forward = down ? -1 : 1;
      measure.words = "from " + called("where the camera went in", names.start);
      break;
    case ZeroAt::end:
      measure.zero_m = ends.finish_m;
      measure.forward = down ? 1 : -1;
      measure.words = "from " + called("the far end of the pipe", names.finish);
      break;
    case ZeroAt::place:
      measure.zero_m = zero.place_m;
      measure.words = "from the place recorded as " + base::show_distance(zero.place_m, unit) +
                      "; what lies before it has a minus";
      break;
  }
  return measure;
}

}  // namespace haunch::report
