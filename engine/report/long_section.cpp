// SPDX-License-Identifier: Apache-2.0
#include "report/long_section.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/words.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

constexpr double page_width = 1000, side = 40, lane_height = 22, pipe_height = 150;

/// Places on the page. The camera goes in at the left, so a run driven upstream rises to the right.
struct Layout {
  double from_m = 0, to_m = 1;          ///< distances at the left and the right edge
  double low_y_m = 0, metres_high = 1;  ///< elevations drawn
  double pipe_top = 0;
  double x(double distance_m) const {
    return side + (distance_m - from_m) / (to_m - from_m) * (page_width - 2 * side);
  }
  double y(double elevation_m) const {
    return pipe_top + (1 - (elevation_m - low_y_m) / metres_high) * pipe_height;
  }
};

/// The mark's shape about a centre, 7 units wide each way.
std::string shape_at(Came came, Point c) {
  const double r = 7;
  const auto circle = [&](std::string_view css_class) {
    return "<circle class=\"" + std::string(css_class) + "\" cx=\"" + svg_number(c.x) + "\" cy=\"" +
           svg_number(c.y) + "\" r=\"6.5\"/>";
  };
  switch (came) {
    case Came::found:
      return circle("m-found");
    case Came::partly: {
      const std::string x = svg_number(c.x), top = svg_number(c.y - 6.5), bottom = svg_number(c.y + 6.5);
      return circle("m-hollow") + "<path class=\"m-found\" d=\"M" + x + " " + top + "A6.5 6.5 0 0 0 " + x +
             " " + bottom + "Z\"/>";
    }
    case Came::missed:
      return svg_polygon({{c.x, c.y - r - 1}, {c.x + r + 1, c.y}, {c.x, c.y + r + 1}, {c.x - r - 1, c.y}},
                         "m-missed");
    case Came::unseen:
      return svg_polygon({{c.x - 6, c.y - 6}, {c.x + 6, c.y - 6}, {c.x + 6, c.y + 6}, {c.x - 6, c.y + 6}},
                         "m-unseen");
    case Came::invented:
    case Came::doubled:
      return svg_line({c.x - 6, c.y - 6}, {c.x + 6, c.y + 6}, "m-cross") +
             svg_line({c.x - 6, c.y + 6}, {c.x + 6, c.y - 6}, "m-cross");
    case Came::logged:
      return svg_polygon({{c.x, c.y - r}, {c.x + r, c.y + 6}, {c.x - r, c.y + 6}}, "m-found");
  }
  return {};
}

/// A lane for each mark so that labels never lie on one another; lane 0 is next to the pipe.
std::vector<int> lanes_for(const std::vector<SectionMark>& marks, const Layout& layout) {
  std::vector<int> lanes;
  std::vector<double> taken_to;  // right end of what each lane holds
  std::vector<std::size_t> order(marks.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto left = [&](std::size_t i) {
    return std::min(layout.x(marks[i].from_m), layout.x(marks[i].to_m));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return left(a) < left(b); });
  lanes.resize(marks.size());
  for (const std::size_t i : order) {
    const double right = std::max(layout.x(marks[i].from_m), layout.x(marks[i].to_m)) + 12 +
                         9 * static_cast<double>(marks[i].label.size());
    std::size_t lane = 0;
    while (lane < taken_to.size() && taken_to[lane] > left(i) - 10) ++lane;
    if (lane == taken_to.size()) taken_to.push_back(0);
    taken_to[lane] = right;
    lanes[i] = static_cast<int>(lane);
  }
  return lanes;
}

int lane_count(const std::vector<int>& lanes) {
  return lanes.empty() ? 1 : *std::max_element(lanes.begin(), lanes.end()) + 1;
}

/// `edge_y`: where the lanes begin; `away`: -1 up, +1 down; `wall_y`: the pipe's edge at a distance.
template <class WallY>
std::string marks_svg(const std::vector<SectionMark>& marks, const std::vector<int>& lanes,
                      const Layout& layout, double edge_y, double away, WallY wall_y) {
  std::string text;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const SectionMark& mark = marks[i];
    const double y = edge_y + away * (lanes[i] + 0.5) * lane_height;
    const double x = layout.x(mark.from_m), x_end = layout.x(mark.to_m);
    const bool leads = !mark.leads_to.empty();
    if (leads) text += "<a href=\"#" + escaped(mark.leads_to) + "\">";
    text += "<g><title>" + escaped(mark.title) + "</title>";
    text += svg_line({x, y}, {x, wall_y(mark.from_m)}, "lead");
    if (std::abs(x_end - x) > 1) {
      text += svg_line({x_end, y}, {x_end, wall_y(mark.to_m)}, "lead");
      // Begins after the label, and is left out where the label is longer.
      const double after = x + 15 + 8.0 * static_cast<double>(mark.label.size());
      if (x_end > after) text += svg_line({after, y}, {x_end, y}, "extent");
    }
    text += shape_at(mark.came, {x, y}) + svg_text({x + 11, y + 4.5}, mark.label, "label") + "</g>" +
            (leads ? "</a>\n" : "\n");
  }
  return text;
}

double elevation(const scene::Piece& piece, double z_m, double side_of_axis) {
  return scene::centre_at(piece, z_m).y + side_of_axis * scene::bore_at(piece, z_m).half_height_m;
}

std::string water_svg(const scene::Scene& scene, const Layout& layout) {
  std::string text;
  for (const scene::WaterReach& reach : scene.water.reaches) {
    std::vector<Point> top, bottom;
    for (const scene::Piece& piece : scene.pieces) {
      const double from = std::max(piece.from_m, reach.from_m), to = std::min(piece.to_m, reach.to_m);
      if (from > to) continue;
      for (int step = 0; step <= 8; ++step) {
        const double z = from + (to - from) * step / 8.0;
        const double share = reach.to_m > reach.from_m ? (z - reach.from_m) / (reach.to_m - reach.from_m) : 0;
        const double level = reach.from_level_m + share * (reach.to_level_m - reach.from_level_m);
        const double invert = elevation(piece, z, -1);
        const double x = layout.x(scene::distance_of(scene.scenario, z));
        bottom.push_back({x, layout.y(invert)});
        top.push_back({x, layout.y(std::clamp(level, invert, elevation(piece, z, 1)))});
      }
    }
    if (top.empty()) continue;
    top.insert(top.end(), bottom.rbegin(), bottom.rend());
    text += svg_polygon(top, reach.standing ? "water pond" : "water");
  }
  return text;
}

std::string pipe_svg(const scene::Scene& scene, const Layout& layout) {
  const auto x = [&](double z) { return layout.x(scene::distance_of(scene.scenario, z)); };
  std::string text;
  for (const scene::Piece& piece : scene.pieces) {
    const std::string look =
        "bore s" + std::to_string(static_cast<int>(
                       scene.scenario.sections[static_cast<std::size_t>(piece.section)].material));
    text += svg_polygon({{x(piece.from_m), layout.y(elevation(piece, piece.from_m, 1))},
                         {x(piece.to_m), layout.y(elevation(piece, piece.to_m, 1))},
                         {x(piece.to_m), layout.y(elevation(piece, piece.to_m, -1))},
                         {x(piece.from_m), layout.y(elevation(piece, piece.from_m, -1))}},
                        look);
  }
  text += water_svg(scene, layout);
  for (const scene::Piece& piece : scene.pieces) {
    for (const double edge : {1.0, -1.0}) {
      text += svg_line({x(piece.from_m), layout.y(elevation(piece, piece.from_m, edge))},
                       {x(piece.to_m), layout.y(elevation(piece, piece.to_m, edge))}, "wall");
    }
  }
  for (const scene::Joint& joint : scene.joints) {
    const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(joint.before)];
    const std::string look =
        joint.open || length(joint.step) > 1e-9 || joint.bend_deg > 0 ? "joint faulty" : "joint";
    text += svg_line({x(joint.at_m), layout.y(elevation(piece, joint.at_m, 1))},
                     {x(joint.at_m), layout.y(elevation(piece, joint.at_m, -1))}, look);
  }
  for (const scene::Section& section : scene.scenario.sections) {
    const double middle = (section.from_m + section.to_m) / 2;
    text += svg_text({x(middle), layout.pipe_top + pipe_height + 14},
                     scene::show(section.material) + (section.colour.empty() ? "" : ", " + section.colour) +
                         ", bore " + base::show_number(std::round(section.bore_mm)) + " mm",
                     "material");
  }
  return text;
}

std::string axis_svg(const Layout& layout, double y, base::LengthUnit unit) {
  const double low = base::from_metres(std::min(layout.from_m, layout.to_m), unit);
  const double high = base::from_metres(std::max(layout.from_m, layout.to_m), unit);
  double step = 1;
  for (const double candidate : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    step = candidate;
    if ((high - low) / step <= 14) break;
  }
  std::string text = svg_line({side, y}, {page_width - side, y}, "axis");
  for (double value = std::ceil(low / step - 1e-9) * step; value <= high + 1e-9; value += step) {
    const double x = layout.x(base::to_metres(value, unit));
    text += svg_line({x, y}, {x, y + 5}, "axis");
    text += svg_text({x, y + 18}, base::show_number(std::round(value * 10) / 10), "tick");
  }
  return text + svg_text({page_width - side, y + 32},
                         unit == base::LengthUnit::feet ? "distance, ft" : "distance, m", "unit");
}

Layout layout_of(const LongSection& section) {
  Layout layout;
  if (section.scene != nullptr) {
    const scene::Scene& scene = *section.scene;
    const bool downstream = scene::travel(scene.scenario) > 0;
    layout.from_m = scene::distance_of(scene.scenario, downstream ? 0 : scene.length_m());
    layout.to_m = scene::distance_of(scene.scenario, downstream ? scene.length_m() : 0);
    double low = 1e9, high = -1e9;
    for (const scene::Piece& piece : scene.pieces) {
      for (const double z : {piece.from_m, piece.to_m}) {
        low = std::min(low, elevation(piece, z, -1));
        high = std::max(high, elevation(piece, z, 1));
      }
    }
    layout.low_y_m = low;
    layout.metres_high = std::max(high - low, 1e-6);
    return layout;
  }
  double low = 1e9, high = -1e9;
  for (const auto* marks : {&section.truth, &section.attempt}) {
    for (const SectionMark& mark : *marks) {
      low = std::min({low, mark.from_m, mark.to_m});
      high = std::max({high, mark.from_m, mark.to_m});
    }
  }
  layout.from_m = low > high ? 0 : low;
  layout.to_m = high > layout.from_m ? high : layout.from_m + 1;
  return layout;
}

}  // namespace

std::string mark_svg(Came came) {
  return "<svg class=\"mark\" viewBox=\"0 0 20 20\" role=\"img\" aria-label=\"" + escaped(show(came)) +
         "\">" + shape_at(came, {10, 10}) + "</svg>";
}

std::string long_section_svg(const LongSection& section) {
  Layout layout = layout_of(section);
  const std::vector<int> above = lanes_for(section.truth, layout), below = lanes_for(section.attempt, layout);
  layout.pipe_top = 26 + lane_count(above) * lane_height;
  const double pipe_bottom = layout.pipe_top + pipe_height + 22;
  const double axis_y = pipe_bottom + lane_count(below) * lane_height + 8;
  const double height = axis_y + 40;

  const auto wall = [&](double distance_m, double edge) {
    if (section.scene == nullptr) return layout.pipe_top + pipe_height / 2;
    const double z =
        std::clamp(scene::chainage_of(section.scene->scenario, distance_m), 0.0, section.scene->length_m());
    const scene::Piece& piece =
        section.scene->pieces[static_cast<std::size_t>(scene::piece_at(*section.scene, z))];
    return layout.y(elevation(piece, z, edge));
  };
  std::string text =
      "<svg class=\"section\" viewBox=\"0 0 1000 " + svg_number(height) +
      "\" role=\"img\" aria-label=\"Long section of the run with what is there above and what was "
      "logged below\">\n";
  text += svg_text({side, 14}, "what is there", "side");
  if (section.scene != nullptr) {
    text += pipe_svg(*section.scene, layout);
    const double across = (page_width - 2 * side) / std::abs(layout.to_m - layout.from_m);
    const double factor = pipe_height / layout.metres_high / across;
    text += svg_text({page_width - side, 14},
                     "heights drawn " + base::show_number(std::round(factor)) + " times too large", "unit");
  } else {
    const double y = layout.pipe_top + pipe_height / 2;
    text += svg_line({side, y}, {page_width - side, y}, "wall");
  }
  text += marks_svg(section.truth, above, layout, layout.pipe_top - 4, -1,
                    [&](double distance_m) { return wall(distance_m, 1); });
  text += marks_svg(section.attempt, below, layout, pipe_bottom, 1,
                    [&](double distance_m) { return wall(distance_m, -1); });
  text += svg_text({side, axis_y + 32}, "what was logged, below the pipe", "side");
  text += axis_svg(layout, axis_y, section.unit);
  return text + "</svg>\n";
}

}  // namespace haunch::report
