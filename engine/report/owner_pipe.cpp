// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "base/words.hpp"
#include "report/owner_drawing.hpp"
#include "report/svg.hpp"
#include "report/unseen.hpp"

namespace haunch::report {
namespace {

/// The wall's pattern: by what the pipe is made of, told apart without colour.
std::string pattern_of(const std::string& material) {
  const auto among = [&](std::initializer_list<const char*> codes) {
    return std::any_of(codes.begin(), codes.end(), [&](const char* code) { return material == code; });
  };
  if (among({"AE"})) return "clay";
  if (among({"AA", "AF", "AG", "AH", "AI", "AJ", "AK"})) return "concrete";
  if (among({"AM", "AN", "AO", "AP", "AQ"})) return "iron";
  if (among({"AD", "AR", "AS"})) return "brick";
  if (among({"AL", "AT", "AU", "AV", "AW", "AX", "AY"})) return "plastic";
  return "other";
}

std::string filled(const std::vector<Point>& points, const std::string& fill, const char* css_class) {
  std::string text = svg_polygon(points, css_class);
  return text.insert(text.size() - 2, " fill=\"url(#" + fill + ")\"");
}

std::string pipe_svg(const Drawing& on) {
  std::string text;
  const std::string& prefix = on.section.pattern_prefix;
  for (const PipePiece& piece : on.pieces) {
    const double left = on.ends.length_m() > 0 ? on.x(piece.from_m) : side;
    const double right = on.ends.length_m() > 0 ? on.x(piece.to_m) : page_width - side;
    const double h = on.height(piece), a = on.invert_y(left), b = on.invert_y(right);
    text += svg_polygon({{left, a - h}, {right, b - h}, {right, b}, {left, a}}, "inside");
    const std::string pattern = pattern_of(piece.material);
    const std::vector<Point> crown{
        {left, a - h - wall}, {right, b - h - wall}, {right, b - h}, {left, a - h}};
    const std::vector<Point> invert{{left, a}, {right, b}, {right, b + wall}, {left, a + wall}};
    for (const auto& strip : {crown, invert})
      text +=
          pattern == "plastic" ? svg_polygon(strip, "wall-plain") : filled(strip, prefix + pattern, "wall");
  }
  return text + '\n';
}

std::string water_svg(const Drawing& on) {
  std::string text;
  double last_label = -100;
  for (const RecordedWater& water : recorded_water(*on.section.record)) {
    const double from = on.x(water.from_m), to = on.x(water.to_m);
    const auto level = [&](double at, double percent) {
      return on.invert_y(at) - percent / 100 * on.height(on.piece_at(at));
    };
    if (water.stretch && std::abs(to - from) > 2) {
      std::vector<Point> shape{{from, on.invert_y(from)}};
      for (int step = 0; step <= 40; ++step) {
        const double share = step / 40.0, at = from + share * (to - from);
        shape.push_back(
            {at, level(at, water.from_percent + share * (water.to_percent - water.from_percent))});
      }
      shape.push_back({to, on.invert_y(to)});
      text += svg_polygon(shape, "water") + filled(shape, on.section.pattern_prefix + "water", "water-waves");
    } else {
      const double y = level(from, water.from_percent);
      const double from_end = std::clamp(from, side + 11, page_width - side - 11);
      text +=
          svg_line({from_end - 9, y}, {from_end + 9, y}, "level") +
          svg_polygon({{from_end - 4.5, y - 8}, {from_end + 4.5, y - 8}, {from_end, y - 1}}, "level-mark");
    }
    const double at = std::clamp((from + to) / 2, side + 32, page_width - side - 32);
    if (at - last_label < 76) continue;
    const double most = std::max(water.from_percent, water.to_percent);
    text += svg_text({at, on.invert_y(at) + wall + 12},  // beneath the pipe, clear of the water
                     "water " + base::show_number(std::round(most)) + " %", "water-label");
    last_label = at;
  }
  return text;
}

/// Two lines with nothing across the end, so that it is no mark of a finding.
std::string stub(double x, double mouth_y, double end_y) {
  return svg_polygon({{x - 5, mouth_y}, {x + 5, mouth_y}, {x + 5, end_y}, {x - 5, end_y}}, "stub-inside") +
         svg_line({x - 5, mouth_y}, {x - 5, end_y}, "stub") +
         svg_line({x + 5, mouth_y}, {x + 5, end_y}, "stub");
}

std::string connections_svg(const Drawing& on) {
  std::string text;
  for (const RankedFinding& part : on.section.advice->parts) {
    if (part.seen->code != "BCA" || !part.from_m) continue;
    const double x = on.x(*part.from_m), crown = on.crown_y(x), invert = on.invert_y(x) + wall;
    const int hour = part.seen->clock_from.value_or(12);
    std::string shape;
    if (hour == 3 || hour == 9)
      shape = "<ellipse class=\"stub\" cx=\"" + svg_number(x) + "\" cy=\"" +
              svg_number((crown + invert) / 2) + "\" rx=\"5\" ry=\"8\"/>";
    else if (hour >= 4 && hour <= 8)
      shape = stub(x, invert - wall, invert + 12);
    else
      shape = stub(x, crown + wall, crown - 12);
    text += "<g><title>" + escaped(part.meaning->title + " at " + on.section.measure->show(*part.from_m)) +
            "</title>" + shape + "</g>";
  }
  return text;
}

std::string unseen_svg(const Drawing& on) {
  if (on.ends.length_m() <= 0) return {};
  std::string text;
  const std::string& prefix = on.section.pattern_prefix;
  for (const Unseen& one : unseen_stretches(*on.section.record)) {
    double from = on.x(one.from_m), to = on.x(one.to_m);
    if (to < from) std::swap(from, to);
    to = std::max(to, from + 4);  // a place
    const double a = on.invert_y(from), b = on.invert_y(to);
    const double h = on.height(on.piece_at((from + to) / 2));
    const std::vector<Point> shape{{from, a - h}, {to, b - h}, {to, b}, {from, a}};
    text += svg_polygon(shape, "unseen-ground") + filled(shape, prefix + "unseen", "unseen");
    const std::string metres =
        one.to_m != one.from_m
            ? ", " + base::show_distance(std::abs(one.to_m - one.from_m), on.section.measure->unit)
            : std::string();
    text +=
        svg_text({std::clamp((from + to) / 2, side + 50, page_width - side - 50), (a + b) / 2 - h / 2 + 4},
                 "not seen" + metres, "unseen-label");
  }
  return text;
}

/// Of the node that is recorded there: a rodding eye is no wider than the pipe that leads up to it.
double shaft_width(const coding::Record& record, const char* node) {
  return std::any_of(record.observations.begin(), record.observations.end(),
                     [&](const coding::Observation& seen) { return seen.code == node && seen.ch1 == "C"; })
             ? 13
             : 34;
}

std::string shafts_svg(const Drawing& on) {
  std::string text;
  const auto shaft = [&](double left, double right, double pipe_x) {
    const double bottom = on.invert_y(pipe_x) + wall;
    return svg_polygon({{left, on.ground_y}, {right, on.ground_y}, {right, bottom}, {left, bottom}}, "shaft");
  };
  text += shaft(side - shaft_width(*on.section.record, "BCD"), side, side);
  // Dashed where nobody recorded that the far end was reached.
  const bool reached =
      std::any_of(on.section.record->observations.begin(), on.section.record->observations.end(),
                  [](const coding::Observation& seen) { return seen.code == "BCE"; });
  std::string far =
      shaft(page_width - side, page_width - side + shaft_width(*on.section.record, "BCE"), page_width - side);
  if (!reached) far.replace(far.find("\"shaft\""), 7, "\"shaft guessed\"");
  text += far;
  if (on.depths) text += svg_line({4, on.ground_y}, {page_width - 4, on.ground_y}, "ground");
  return text + '\n';
}

}  // namespace

std::string patterns(const std::string& prefix) {
  const auto one = [&](const char* name, const char* size, const char* inside) {
    return "<pattern id=\"" + prefix + name + "\" patternUnits=\"userSpaceOnUse\" " + size + ">" + inside +
           "</pattern>";
  };
  return "<defs>" + one("clay", "width=\"7\" height=\"7\"", "<path class=\"p-line\" d=\"M0 7L7 0\"/>") +
         one("concrete", "width=\"8\" height=\"8\"",
             "<circle class=\"p-dot\" cx=\"2\" cy=\"2.5\" r=\"1\"/><circle class=\"p-dot\" cx=\"6\" cy=\"6\" "
             "r=\".7\"/>") +
         one("iron", "width=\"6\" height=\"3\"", "<path class=\"p-line\" d=\"M0 1.5H6\"/>") +
         one("brick", "width=\"16\" height=\"8\"",
             "<path class=\"p-line\" d=\"M0 0H16M0 4H16M4 0V4M12 4V8\"/>") +
         one("other", "width=\"9\" height=\"9\"", "<path class=\"p-line\" d=\"M0 0L9 9M9 0L0 9\"/>") +
         one("unseen", "width=\"9\" height=\"9\"", "<path class=\"p-unseen\" d=\"M0 9L9 0\"/>") +
         one("water", "width=\"12\" height=\"6\"", "<path class=\"p-wave\" d=\"M0 3Q3 1 6 3T12 3\"/>") +
         "</defs>\n";
}

std::string run_svg(const Drawing& on) {
  return shafts_svg(on) + pipe_svg(on) + connections_svg(on) + water_svg(on) + unseen_svg(on);
}

}  // namespace haunch::report
