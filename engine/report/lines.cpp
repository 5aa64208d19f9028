// SPDX-License-Identifier: Apache-2.0
#include "report/lines.hpp"

#include <algorithm>
#include <cctype>

#include "base/words.hpp"

namespace haunch::report {

std::string letters_for(std::size_t index) {
  std::string text;
  for (++index; index > 0; index = (index - 1) / 26) {
    text.insert(text.begin(), static_cast<char>('a' + (index - 1) % 26));
  }
  return text;
}

std::string distances_in(const std::string& text, base::LengthUnit unit) {
  if (unit == base::LengthUnit::metres) return text;
  const auto digit = [&](std::size_t at) {
    return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
  };
  const auto letter = [&](std::size_t at) {
    return at < text.size() && std::isalnum(static_cast<unsigned char>(text[at])) != 0;
  };
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = at;
    const bool fresh = at == 0 || (!letter(at - 1) && text[at - 1] != '.');
    while (fresh && (digit(end) || (end > at && text[end] == '.' && digit(end + 1)))) ++end;
    double metres = 0;
    if (end > at && text.compare(end, 2, " m") == 0 && !letter(end + 2) &&
        base::read_number(text.substr(at, end - at), metres)) {
      out += base::show_distance(metres, unit);
      at = end + 2;
    } else {
      end = std::max(end, at + 1);
      out += text.substr(at, end - at);
      at = end;
    }
  }
  return out;
}

std::vector<Line> lines_of(const coding::Record& record, const coding::CodeList& list, base::LengthUnit unit,
                           Labels labels) {
  std::vector<Line> lines;
  for (const coding::Extent& extent : coding::extents(record)) {
    const coding::Observation& first = record.observations[extent.first];
    const coding::Observation& last = record.observations[extent.last];
    Line line;
    line.id = first.id;
    if (extent.last != extent.first) line.end_id = last.id;
    line.label = labels == Labels::numbers ? std::to_string(lines.size() + 1) : letters_for(lines.size());
    line.placed = first.distance_m.value.has_value();
    line.from_m = extent.from_m;
    line.to_m = extent.to_m;
    line.where = line.placed ? base::show_distance(extent.from_m, unit) : first.distance_m.show();
    if (line.where.empty()) line.where = "no distance";
    if (extent.continuous && last.distance_m.value) {
      line.where += " to " + base::show_distance(extent.to_m, unit);
    }
    line.code = coding::show_code(first);
    coding::Observation spoken = first;
    if (extent.continuous) spoken.stretch.clear();  // both ends stand in `where`
    line.words = coding::in_words(spoken, list);
    line.reason = distances_in(first.reason, unit);
    lines.push_back(std::move(line));
  }
  return lines;
}

const Line* find_line(const std::vector<Line>& lines, const std::string& id) {
  const auto found = std::find_if(lines.begin(), lines.end(), [&](const Line& line) {
    return line.id == id || (!line.end_id.empty() && line.end_id == id);
  });
  return found == lines.end() ? nullptr : &*found;
}

}  // namespace haunch::report
