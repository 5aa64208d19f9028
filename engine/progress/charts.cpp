// SPDX-License-Identifier: Apache-2.0
#include "progress/charts.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "report/svg.hpp"

namespace haunch::progress {
namespace {

using report::Point;
using report::svg_line;
using report::svg_number;
using report::svg_polygon;
using report::svg_text;

constexpr double width = 640, height = 220, left = 44, right = 16, top = 14, bottom = 30;
constexpr std::size_t most_runs = 40;  // the latest: more would be too thin to read

std::string rect(double x, double y, double w, double h, const std::string& css_class) {
  return "<rect x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\" width=\"" + svg_number(w) +
         "\" height=\"" + svg_number(h) + "\" class=\"" + css_class + "\"/>";
}
std::string dot(Point at, double radius, const std::string& css_class) {
  return "<circle cx=\"" + svg_number(at.x) + "\" cy=\"" + svg_number(at.y) + "\" r=\"" + svg_number(radius) +
         "\" class=\"" + css_class + "\"/>";
}
std::string figure(double w, double h, const std::string& says, const std::string& inside,
                   const std::string& css_class = "chart") {
  return "<svg class=\"" + css_class + "\" viewBox=\"0 0 " + svg_number(w) + " " + svg_number(h) +
         "\" role=\"img\" aria-label=\"" + report::escaped(says) + "\">" + inside + "</svg>";
}
double height_of(double share) { return top + (1 - share) * (height - top - bottom); }
std::string percent(double share) { return base::show_number(std::round(share * 100)) + " %"; }

}  // namespace

std::string trend_svg(const std::vector<Period>& trend) {
  if (trend.empty()) return {};
  const double from = trend.front().at_days, days = std::max(1.0, trend.back().at_days - from);
  const auto x = [&](double at) {
    return trend.size() == 1 ? (left + width - right) / 2
                             : left + (at - from) / days * (width - left - right);
  };
  std::string inside;
  for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    inside += svg_line({left, height_of(share)}, {width - right, height_of(share)}, "grid");
    inside += svg_text({left - 6, height_of(share) + 4}, percent(share), "y");
  }
  std::vector<Point> band;
  for (const Period& one : trend)
    band.push_back({x(one.at_days), height_of(one.found_and_named.interval.high)});
  for (auto one = trend.rbegin(); one != trend.rend(); ++one)
    band.push_back({x(one->at_days), height_of(one->found_and_named.interval.low)});
  if (trend.size() > 1) inside += svg_polygon(band, "band");
  const auto share = [](const Period& one) {
    return one.found_and_named.right / static_cast<double>(std::max(1, one.found_and_named.of));
  };
  for (std::size_t i = 0; i < trend.size(); ++i) {
    const Point here{x(trend[i].at_days), height_of(share(trend[i]))};
    if (i > 0) inside += svg_line({x(trend[i - 1].at_days), height_of(share(trend[i - 1]))}, here, "line");
    const auto& interval = trend[i].found_and_named.interval;
    inside += svg_line({here.x, height_of(interval.low)}, {here.x, height_of(interval.high)}, "whisker");
    inside += dot(here, 4, "dot");
  }
  inside += svg_text({x(trend.front().at_days), height - 8}, trend.front().date,
                     trend.size() == 1 ? "x middle" : "x");
  if (trend.size() > 1) inside += svg_text({width - right, height - 8}, trend.back().date, "x end");
  return figure(width, height, "share found and rightly named over time, with 95 % intervals", inside);
}

std::string calls_svg(const std::vector<RunLine>& runs) {
  if (runs.empty()) return {};
  const std::size_t count = std::min(runs.size(), most_runs);
  const auto* first = &runs[runs.size() - count];
  int most = 1;
  for (std::size_t i = 0; i < count; ++i) most = std::max({most, first[i].missed, first[i].invented});
  const double middle = height / 2, unit = (height / 2 - top - 8) / most;
  const double step = (width - left - right) / static_cast<double>(count), bar = std::min(28.0, step * 0.7);
  std::string inside = svg_line({left, middle}, {width - right, middle}, "grid");
  for (std::size_t i = 0; i < count; ++i) {
    const double x = left + step * (static_cast<double>(i) + 0.5) - bar / 2;
    const auto& run = first[i];
    if (run.missed > 0)
      inside += rect(x, middle - unit * run.missed, bar, unit * run.missed, "missed") +
                svg_text({x + bar / 2, middle - unit * run.missed - 3}, std::to_string(run.missed), "n");
    if (run.invented > 0)
      inside += rect(x, middle, bar, unit * run.invented, "invented") +
                svg_text({x + bar / 2, middle + unit * run.invented + 12}, std::to_string(run.invented), "n");
  }
  inside += svg_text({4, middle - 8}, "missed", "side") + svg_text({4, middle + 16}, "not there", "side");
  return figure(width, height, "missed and wrongly written down, run by run", inside);
}

std::string interval_svg(const Counted& counted) {
  constexpr double w = 120, h = 16;
  if (counted.of == 0) return {};
  const auto x = [](double share) { return 4 + share * (w - 8); };
  return figure(w, h, percent(counted.interval.low) + " to " + percent(counted.interval.high),
                svg_line({x(0), h / 2}, {x(1), h / 2}, "grid") +
                    svg_line({x(counted.interval.low), h / 2}, {x(counted.interval.high), h / 2}, "range") +
                    dot({x(counted.right / static_cast<double>(counted.of)), h / 2}, 3.5, "dot"),
                "interval");
}

}  // namespace haunch::progress
