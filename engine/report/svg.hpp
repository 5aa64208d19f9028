// SPDX-License-Identifier: Apache-2.0
// Pieces of SVG as text, escaped and with short numbers.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace haunch::report {

/// & < > " ' as entities, and control characters left out: safe in HTML and SVG text and attributes.
std::string escaped(std::string_view text);

struct Point {
  double x = 0, y = 0;
};
/// At most two decimals.
std::string svg_number(double value);
std::string svg_line(Point a, Point b, std::string_view css_class);
std::string svg_polygon(const std::vector<Point>& points, std::string_view css_class);
std::string svg_text(Point at, std::string_view text, std::string_view css_class);

}  // namespace haunch::report
