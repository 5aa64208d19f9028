// SPDX-License-Identifier: Apache-2.0
#include "report/owner_marks.hpp"

#include <algorithm>

#include "report/owner_section.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

constexpr double letter = 6.6, right = 996;
constexpr double reach = 15;  ///< half of a mark's width with its air

bool fits(const std::vector<std::pair<double, double>>& taken, double from, double to) {
  return std::none_of(taken.begin(), taken.end(),
                      [&](const auto& one) { return from < one.second && to > one.first; });
}

/// Nothing else stands in the lane there, and no other mark's line runs through.
bool room(const std::vector<PlacedMark>& marks, const PlacedMark& mark, double from, double to) {
  return std::none_of(marks.begin(), marks.end(), [&](const PlacedMark& other) {
    if (&other == &mark || other.lane < mark.lane) return false;
    const double left = other.lane == mark.lane ? other.x - reach : other.x;
    return left < to && (other.lane == mark.lane ? other.x_end + reach : other.x) > from;
  });
}

}  // namespace

void give_lanes(std::vector<PlacedMark>& marks, int most_lanes) {
  std::vector<PlacedMark*> order;
  for (PlacedMark& mark : marks) order.push_back(&mark);
  std::sort(order.begin(), order.end(),
            [](const PlacedMark* a, const PlacedMark* b) { return a->finding->number < b->finding->number; });
  std::vector<std::vector<std::pair<double, double>>> taken;
  for (PlacedMark* mark : order) {
    const double from = mark->x - reach, to = std::max(mark->x + reach, mark->x_end + 4);
    std::size_t lane = 0;
    while (lane < taken.size() && !fits(taken[lane], from, to)) ++lane;
    if (lane >= static_cast<std::size_t>(most_lanes)) continue;
    if (lane == taken.size()) taken.emplace_back();
    taken[lane].emplace_back(from, to);
    mark->lane = static_cast<int>(lane);
  }
}

int lanes_used(const std::vector<PlacedMark>& marks) {
  int most = 0;
  for (const PlacedMark& mark : marks) most = std::max(most, mark.lane + 1);
  return most;
}

std::string step_shape(std::size_t next, double x, double y, const std::string& label) {
  const auto box = [&](double half) {
    return std::vector<Point>{
        {x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}};
  };
  const auto octagon = [&](double far, double near) {
    return std::vector<Point>{{x - near, y - far}, {x + near, y - far}, {x + far, y - near},
                              {x + far, y + near}, {x + near, y + far}, {x - near, y + far},
                              {x - far, y + near}, {x - far, y - near}};
  };
  const auto circle = [&](double radius, const char* css_class) {
    return "<circle class=\"" + std::string(css_class) + "\" cx=\"" + svg_number(x) + "\" cy=\"" +
           svg_number(y) + "\" r=\"" + svg_number(radius) + "\"/>";
  };
  std::string text;
  bool dark = false;
  switch (next) {
    case 0:
      text = circle(10, "k-plain");
      break;
    case 1:
      text = circle(10, "k-thin");
      break;
    case 2:
      text = circle(10, "k-thin") + circle(5, "k-thin");
      break;
    case 3:
      text = circle(9.5, "k-thick");
      break;
    case 4:
      text = svg_polygon({{x, y - 13}, {x + 13, y}, {x, y + 13}, {x - 13, y}}, "k-thin");
      break;
    case 5:
      text = svg_polygon(box(9.5), "k-thick");
      break;
    case 6:
      text = svg_polygon(box(12), "k-thin") + svg_polygon(box(8.5), "k-dark");
      dark = true;
      break;
    case 7:
      text = svg_polygon(box(10.5), "k-dark");
      dark = true;
      break;
    case 8:
      text = svg_polygon(octagon(12, 5), "k-dark");
      dark = true;
      break;
    default:
      text = svg_polygon(octagon(13.2, 5.5), "k-thin") + svg_polygon(octagon(10.4, 4.3), "k-dark");
      dark = true;
      break;
  }
  if (label.empty()) return text;
  return text + svg_text({x, y + 4.2}, label, dark ? "k-label k-light" : "k-label");
}

std::string step_mark_svg(std::size_t next, const std::string& label) {
  return "<svg class=\"mark\" viewBox=\"-14 -14 28 28\" aria-hidden=\"true\">" +
         step_shape(next, 0, 0, label) + "</svg>";
}

std::string marks_svg(const std::vector<PlacedMark>& marks, double bottom_y,
                      const std::function<double(double)>& crown_y) {
  const auto lane_y = [&](const PlacedMark& mark) { return bottom_y - (mark.lane + 0.5) * mark_lane_height; };
  std::string leads, shapes;
  for (const PlacedMark& mark : marks) {
    const double crown = crown_y(mark.x);
    if (mark.lane < 0) {
      leads += "<g><title>" + escaped(mark.title) + "</title>" +
               svg_line({mark.x, crown - 9}, {mark.x, crown}, "tick-only") + "</g>\n";
      continue;
    }
    const double y = lane_y(mark);
    leads += svg_line({mark.x, y}, {mark.x, crown}, "lead");
    shapes += "<g><title>" + escaped(mark.title) + "</title>";
    if (mark.x_end > mark.x + reach)
      shapes += svg_line({mark.x, y}, {mark.x_end, y}, "extent") +
                svg_line({mark.x_end, y - 5}, {mark.x_end, y + 5}, "extent");
    shapes += step_shape(mark.finding->next, mark.x, y, std::to_string(mark.finding->number));
    const std::string& word = mark.finding->meaning->brief;
    const double from = std::max(mark.x + reach, mark.x_end + 5),
                 to = from + letter * static_cast<double>(word.size());
    if (!word.empty() && to < right && room(marks, mark, from, to))
      shapes += svg_text({from, y + 4}, word, "mark-word");
    shapes += "</g>\n";
  }
  return leads + shapes;
}

}  // namespace haunch::report
