// SPDX-License-Identifier: Apache-2.0
#include "report/pipe_pieces.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <tuple>

#include "grading/along.hpp"

namespace haunch::report {

std::vector<PipePiece> pipe_pieces(const coding::Record& record, const coding::CodeList& list) {
  const Ends ends = ends_of(record);
  const double low = std::min(ends.start_m, ends.finish_m), high = std::max(ends.start_m, ends.finish_m);
  const grading::PipeAlong pipe(record, list);
  std::vector<double> cuts{ends.start_m, ends.finish_m};
  for (const double at : pipe.changes_m())
    if (at > low && at < high) cuts.push_back(at);
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  if (ends.finish_m < ends.start_m) std::reverse(cuts.begin(), cuts.end());
  if (cuts.size() == 1) cuts.push_back(cuts.front());
  std::vector<PipePiece> pieces;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const grading::PipeHere here = pipe.at((cuts[i] + cuts[i + 1]) / 2);
    PipePiece piece{cuts[i], cuts[i + 1], here.material, here.bore_mm};
    const bool same =
        !pieces.empty() && pieces.back().material == piece.material && pieces.back().bore_mm == piece.bore_mm;
    if (same)
      pieces.back().to_m = piece.to_m;
    else
      pieces.push_back(std::move(piece));
  }
  return pieces;
}

std::vector<RecordedWater> recorded_water(const coding::Record& record) {
  std::vector<RecordedWater> waters;
  for (const coding::Extent& extent : grading::extents_in_any_order(record)) {
    const coding::Observation &first = record.observations[extent.first],
                              &last = record.observations[extent.last];
    if (first.code != "BDD" || !first.distance_m.value || !first.q1.value) continue;
    const auto percent = [](double written) { return std::clamp(written, 0.0, 100.0); };
    RecordedWater water{*first.distance_m.value, *first.distance_m.value, percent(*first.q1.value),
                        percent(*first.q1.value), false};
    if (extent.last != extent.first && last.distance_m.value) {
      water.to_m = *last.distance_m.value;
      water.to_percent = percent(last.q1.value.value_or(*first.q1.value));
      water.stretch = true;
    }
    waters.push_back(water);
  }
  std::sort(waters.begin(), waters.end(), [](const RecordedWater& a, const RecordedWater& b) {
    return std::tuple(a.from_m, a.to_m, a.from_percent, a.to_percent) <
           std::tuple(b.from_m, b.to_m, b.from_percent, b.to_percent);
  });
  return waters;
}

double reached_m(const coding::Record& record, const Ends& ends) {
  double reached = ends.start_m;
  for (const coding::Observation& seen : record.observations) {
    const auto& at = seen.distance_m.value;
    if (at && std::abs(*at - ends.start_m) > std::abs(reached - ends.start_m)) reached = *at;
  }
  return reached;
}

std::optional<Depths> depths_of(const coding::Record& record) {
  const auto start = record.header_number("ACH"), finish = record.header_number("ACI");
  if (!start || !finish || *start <= 0 || *finish <= 0) return {};
  return Depths{*start, *finish};
}

std::string material_words(const std::string& code, const coding::CodeList& list) {
  if (code.empty()) return "material not stated";
  const coding::Named* named = list.material(code);
  if (named == nullptr) return "material " + code;
  std::string words = named->name;
  // "Clay" in the middle of a sentence, but "PVC-U".
  if (words.size() > 1 && std::islower(static_cast<unsigned char>(words[1])) != 0)
    words[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(words[0])));
  return words;
}

}  // namespace haunch::report
