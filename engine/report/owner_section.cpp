// SPDX-License-Identifier: Apache-2.0
#include "report/owner_section.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "report/owner_drawing.hpp"
#include "report/owner_marks.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

constexpr int most_lanes = 9;

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
  // Zero itself, where it lies in the node just outside the pipe.
  const double share = a == b ? 1 : (0 - a) / (b - a);
  const double zero_x = side + share * (page_width - 2 * side);
  if (low > 0 && zero_x >= side - 34 && zero_x < side)
    text += svg_line({zero_x, y}, {side, y}, "axis") + svg_line({zero_x, y}, {zero_x, y + 5}, "axis") +
            svg_text({zero_x, y + 18}, "0", "tick");
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
  const double label_y = pipe_bottom + 36, axis_y = label_y + (on.pieces.size() > 1 ? 28 : 14),
               foot_y = axis_y + 42;
  std::string text = "<svg class=\"section\" viewBox=\"0 0 1000 " + svg_number(foot_y + 10) +
                     "\" role=\"img\" aria-label=\"The pipe from the side with " +
                     std::to_string(section.advice->finding_count) +
                     " numbered findings; the list below tells each of them\">\n" +
                     patterns(section.pattern_prefix);
  text += run_svg(on);
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
  const Ends ends = ends_of(record);
  if (ends.start_m != 0 && measure.zero_m == 0)
    notes.push_back("The record begins at " + measure.show(ends.start_m) + " and ends at " +
                    measure.show(ends.finish_m) + ": what lies between is the length.");
  notes.emplace_back(
      "The hatching of the wall tells materials apart; a joining pipe is a short open stub, or a ring where "
      "it "
      "joins at the side.");
  notes.emplace_back(
      recorded_water(record).empty()
          ? "No water level was recorded."
          : "Water is drawn where and as deep as it was recorded on the day, in percent of the "
            "pipe's height.");
  return notes;
}

}  // namespace haunch::report
