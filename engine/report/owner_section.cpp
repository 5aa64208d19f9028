// SPDX-License-Identifier: Apache-2.0
#include "report/owner_section.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "report/owner_marks.hpp"
#include "report/pipe_pieces.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

constexpr double page_width = 1000, side = 56, bore_height = 58, wall = 8;
constexpr int most_lanes = 9;

struct Drawing {
  const OwnerSection& section;
  Ends ends;
  std::vector<PipePiece> pieces;
  std::optional<Depths> depths;
  double widest_mm = 0, ground_y = 0, reached = 0;

  double x(double recorded_m) const {
    if (ends.length_m() <= 0) return page_width / 2;
    const double share = (recorded_m - ends.start_m) / (ends.finish_m - ends.start_m);
    return side + std::clamp(share, 0.0, 1.0) * (page_width - 2 * side);
  }
  /// Of pipes that lie at depths that are known, else all on one level: a fall is never made up.
  double invert_y(double at_x) const {
    if (!depths) return ground_y + 24 + wall + bore_height;
    const double deepest = std::max(depths->start_m, depths->finish_m);
    const double share = (at_x - side) / (page_width - 2 * side);
    const double depth = depths->start_m + share * (depths->finish_m - depths->start_m);
    return ground_y + 24 + wall + bore_height + 90 * depth / deepest;
  }
  double height(const PipePiece& piece) const {
    if (!piece.bore_mm || widest_mm <= 0) return bore_height;
    return std::max(12.0, bore_height * *piece.bore_mm / widest_mm);
  }
  const PipePiece& piece_at(double at_x) const {
    for (const PipePiece& piece : pieces)
      if (at_x <= x(piece.to_m)) return piece;
    return pieces.back();
  }
  double crown_y(double at_x) const { return invert_y(at_x) - height(piece_at(at_x)) - wall; }
};

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
         one("water", "width=\"12\" height=\"6\"", "<path class=\"p-wave\" d=\"M0 3Q3 1 6 3T12 3\"/>") +
         "</defs>\n";
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
      text += svg_line({from - 9, y}, {from + 9, y}, "level") +
              svg_polygon({{from - 4.5, y - 8}, {from + 4.5, y - 8}, {from, y - 1}}, "level-mark");
    }
    const double at = (from + to) / 2;
    if (at - last_label < 46) continue;
    const double most = std::max(water.from_percent, water.to_percent);
    text += svg_text({std::min(at + (water.stretch ? 0 : 26), page_width - side - 16), on.invert_y(at) - 5},
                     base::show_number(std::round(most)) + " %", "water-label");
    last_label = at;
  }
  return text;
}

std::string connections_svg(const Drawing& on) {
  std::string text;
  for (const RankedFinding& part : on.section.advice->parts) {
    if (part.seen->code != "BCA" || !part.from_m) continue;
    const double x = on.x(*part.from_m), crown = on.crown_y(x), invert = on.invert_y(x) + wall;
    const int hour = part.seen->clock_from.value_or(12);
    std::string shape;
    if (hour == 3 || hour == 9)
      shape = "<circle class=\"stub\" cx=\"" + svg_number(x) + "\" cy=\"" + svg_number((crown + invert) / 2) +
              "\" r=\"5\"/>";
    else if (hour >= 4 && hour <= 8)
      shape =
          svg_polygon({{x - 5, invert}, {x + 5, invert}, {x + 5, invert + 11}, {x - 5, invert + 11}}, "stub");
    else
      shape = svg_polygon({{x - 5, crown - 11}, {x + 5, crown - 11}, {x + 5, crown}, {x - 5, crown}}, "stub");
    text += "<g><title>" + escaped(part.meaning->title + " at " + on.section.measure->show(*part.from_m)) +
            "</title>" + shape + "</g>";
  }
  return text;
}

std::string unseen_svg(const Drawing& on) {
  const double from = on.x(on.reached), to = on.x(on.ends.finish_m);
  if (on.ends.length_m() <= 0 || to - from < 4) return {};
  const double a = on.invert_y(from) + wall + 3, b = on.invert_y(to) + wall + 3,
               h = bore_height + 2 * wall + 6;
  std::string text = svg_polygon({{from, a - h}, {to, b - h}, {to, b}, {from, a}}, "unseen");
  if (to - from > 84)
    text += svg_text({(from + to) / 2, (a + b) / 2 - h / 2 + 4}, "not seen", "unseen-label");
  return text;
}

std::string shafts_svg(const Drawing& on, const DrawnSection&) {
  std::string text;
  const auto shaft = [&](double left, double right, double pipe_x) {
    const double bottom = on.invert_y(pipe_x) + wall;
    return svg_polygon({{left, on.ground_y}, {right, on.ground_y}, {right, bottom}, {left, bottom}}, "shaft");
  };
  text += shaft(side - 34, side, side);
  // Dashed where nobody recorded that the far end was reached.
  const bool reached =
      std::any_of(on.section.record->observations.begin(), on.section.record->observations.end(),
                  [](const coding::Observation& seen) { return seen.code == "BCE"; });
  std::string far = shaft(page_width - side, page_width - side + 34, page_width - side);
  if (!reached) far.replace(far.find("\"shaft\""), 7, "\"shaft guessed\"");
  text += far;
  if (on.depths) text += svg_line({4, on.ground_y}, {page_width - 4, on.ground_y}, "ground");
  return text + '\n';
}

/// Material and bore under each piece, in two rows where pieces are short; the table says all of them.
std::string piece_labels(const Drawing& on, double y) {
  std::string text;
  double taken[2] = {0, 0};
  for (const PipePiece& piece : on.pieces) {
    std::string words = material_words(piece.material, *on.section.list);
    if (piece.bore_mm) words += ", " + show_mm(*piece.bore_mm, on.section.measure->unit);
    const double half = 3.4 * static_cast<double>(words.size());
    const double middle =
        on.ends.length_m() > 0 ? (on.x(piece.from_m) + on.x(piece.to_m)) / 2 : page_width / 2;
    const double at = std::clamp(middle, half + 4, page_width - half - 4);
    for (int row = 0; row < 2; ++row) {
      if (at - half < taken[row] + 8) continue;
      text += svg_text({at, y + row * 16}, words, "piece-label");
      taken[row] = at + half;
      break;
    }
    if (piece.from_m != on.ends.start_m)
      text += svg_line({on.x(piece.from_m), y - 26}, {on.x(piece.from_m), y - 12}, "axis");
  }
  return text;
}

std::string axis_svg(const Drawing& on, double y) {
  if (on.ends.length_m() <= 0) return svg_text({page_width / 2, y + 18}, "no length recorded", "tick");
  const Measure& measure = *on.section.measure;
  const auto shown = [&](double recorded) {
    return base::from_metres(measure.from_zero(recorded), measure.unit);
  };
  const double a = shown(on.ends.start_m), b = shown(on.ends.finish_m);
  const double low = std::min(a, b), high = std::max(a, b);
  double step = std::pow(10, std::floor(std::log10((high - low) / 10)));
  for (const double times : {2.0, 2.5, 2.0})
    if ((high - low) / step > 12) step *= times;
  std::string text = svg_line({side, y}, {page_width - side, y}, "axis");
  for (double value = std::ceil(low / step - 1e-9) * step; value <= high + 1e-9; value += step) {
    const double recorded = measure.zero_m + measure.forward * base::to_metres(value, measure.unit);
    const double x = on.x(recorded);
    const double clean = std::round(value * 1000) / 1000;
    text += svg_line({x, y}, {x, y + 5}, "axis") +
            svg_text({x, y + 18}, base::show_number(clean == 0 ? 0 : clean), "tick");
  }
  return text + svg_text({page_width - side + 12, y + 18},
                         measure.unit == base::LengthUnit::feet ? "ft" : "m", "unit");
}

std::string foot_svg(const Drawing& on, double y) {
  const NodeNames names = node_names(*on.section.record);
  const auto node = [&](const std::string& name, const char* without, std::optional<double> depth) {
    std::string words = name.empty()       ? without
                        : name.size() > 40 ? name.substr(0, name.find(' ')).substr(0, 40)
                                           : name;
    if (depth) words += ", " + base::show_distance(*depth, on.section.measure->unit) + " below ground";
    return words;
  };
  const auto depth = [&](double Depths::*end) {
    return on.depths ? std::optional<double>((*on.depths).*end) : std::nullopt;
  };
  std::string text =
      svg_text({side - 34, y}, node(names.start, "start", depth(&Depths::start_m)), "node-name");
  text += svg_text({page_width - side + 34, y}, node(names.finish, "far end", depth(&Depths::finish_m)),
                   "node-name node-end");
  const std::string way = base::trim(on.section.record->header_value("AAK").value_or(""));
  if (way == "A" || way == "B") {
    const double mid = page_width / 2, tip = way == "A" ? mid + 92 : mid - 92,
                 tail = way == "A" ? tip - 34 : tip + 34;
    text += svg_text({way == "A" ? mid - 20 : mid + 20, y}, "the water flows", "flow") +
            svg_line({tail, y - 4}, {tip, y - 4}, "flow-line") +
            svg_polygon({{tip, y - 8.5}, {tip, y + .5}, {way == "A" ? tip + 9 : tip - 9, y - 4}}, "flow-tip");
  }
  return text;
}

}  // namespace

DrawnSection draw_owner_section(const OwnerSection& section) {
  const coding::Record& record = *section.record;
  Drawing on{section, ends_of(record), pipe_pieces(record, *section.list), depths_of(record)};
  on.reached = reached_m(record, on.ends);
  for (const PipePiece& piece : on.pieces) on.widest_mm = std::max(on.widest_mm, piece.bore_mm.value_or(0));

  DrawnSection drawn;
  std::vector<PlacedMark> marks;
  for (const FindingGroup& group : section.advice->groups)
    for (const RankedFinding& one : group.findings) {
      if (!one.from_m) {
        ++drawn.unplaced;
        continue;
      }
      const double a = on.x(*one.from_m), b = on.x(*one.to_m);
      std::string title =
          std::to_string(one.number) + ": " + one.meaning->title + ", " + section.measure->show(*one.from_m);
      if (one.continuous) title += " to " + section.measure->show(*one.to_m);
      marks.push_back({&one, std::min(a, b), std::max(a, b), -1, title});
    }
  give_lanes(marks, most_lanes);
  for (const PlacedMark& mark : marks) drawn.unnumbered += mark.lane < 0 ? 1 : 0;

  const double lanes_bottom = 8 + lanes_used(marks) * mark_lane_height;
  on.ground_y = lanes_bottom + 4;
  const double pipe_bottom = std::max(on.invert_y(side), on.invert_y(page_width - side)) + wall;
  const double label_y = pipe_bottom + 30, axis_y = label_y + (on.pieces.size() > 1 ? 28 : 14),
               foot_y = axis_y + 42;
  std::string text = "<svg class=\"section\" viewBox=\"0 0 1000 " + svg_number(foot_y + 10) +
                     "\" role=\"img\" aria-label=\"The pipe from the side with " +
                     std::to_string(section.advice->finding_count) +
                     " numbered findings; the list below tells each of them\">\n" +
                     patterns(section.pattern_prefix);
  text += shafts_svg(on, drawn) + connections_svg(on) + pipe_svg(on) + water_svg(on) + unseen_svg(on);
  text += marks_svg(marks, lanes_bottom, [&](double x) { return on.crown_y(x); });
  text += piece_labels(on, label_y) + axis_svg(on, axis_y) + foot_svg(on, foot_y);
  drawn.svg = text + "</svg>\n";
  return drawn;
}

std::vector<std::string> section_notes(const coding::Record& record, const Measure& measure) {
  std::vector<std::string> notes;
  if (const auto depths = depths_of(record)) {
    notes.push_back(
        "The bottom of the pipe lies " + base::show_distance(depths->start_m, measure.unit) +
        " below the ground at the start and " + base::show_distance(depths->finish_m, measure.unit) +
        " at the far end. It is drawn as if the ground were level, which nobody measured, so its true "
        "fall is not known.");
  } else {
    notes.emplace_back(
        "The record gives no levels, so the fall of the pipe is not known and it is drawn level.");
  }
  notes.emplace_back(
      recorded_water(record).empty()
          ? "No water level was recorded."
          : "Water is drawn where and as deep as it was recorded on the day, in percent of the "
            "pipe's height.");
  return notes;
}

}  // namespace haunch::report
