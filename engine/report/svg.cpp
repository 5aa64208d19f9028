// SPDX-License-Identifier: Apache-2.0
#include "report/svg.hpp"

#include <cmath>

#include "base/words.hpp"

namespace haunch::report {
namespace {

std::string shape_of(std::string_view element, const std::vector<Point>& points, std::string_view css_class) {
  std::string text = "<" + std::string(element) + " class=\"" + std::string(css_class) + "\" points=\"";
  for (const Point& point : points) text += svg_number(point.x) + "," + svg_number(point.y) + " ";
  return text + "\"/>";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string result;
  result.reserve(text.size() + 16);
  for (const char letter : text) {
    switch (letter) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      case '\'':
        result += "&#39;";
        break;
      default:
        if (static_cast<unsigned char>(letter) >= 0x20 || letter == '\n' || letter == '\t') result += letter;
    }
  }
  return result;
}

std::string svg_number(double value) { return base::show_number(std::round(value * 100) / 100); }

std::string svg_line(Point a, Point b, std::string_view css_class) {
  return "<line class=\"" + std::string(css_class) + "\" x1=\"" + svg_number(a.x) + "\" y1=\"" +
         svg_number(a.y) + "\" x2=\"" + svg_number(b.x) + "\" y2=\"" + svg_number(b.y) + "\"/>";
}

std::string svg_polygon(const std::vector<Point>& points, std::string_view css_class) {
  return shape_of("polygon", points, css_class);
}

std::string svg_text(Point at, std::string_view text, std::string_view css_class) {
  return "<text class=\"" + std::string(css_class) + "\" x=\"" + svg_number(at.x) + "\" y=\"" +
         svg_number(at.y) + "\">" + escaped(text) + "</text>";
}

}  // namespace haunch::report
