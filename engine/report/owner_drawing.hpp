// SPDX-License-Identifier: Apache-2.0
// The drawing of a run from the side, in the making. Inside this room.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "report/owner_section.hpp"
#include "report/pipe_pieces.hpp"

namespace haunch::report {

inline constexpr double page_width = 1000, side = 56, bore_height = 58, wall = 8;

struct Drawing {
  const OwnerSection& section;
  Ends ends;
  std::vector<PipePiece> pieces;
  std::optional<Depths> depths;
  double widest_mm = 0, ground_y = 0;

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

/// Hatchings, under ids that begin with `prefix`.
std::string patterns(const std::string& prefix);
/// The nodes at both ends, the joining pipes, the pipe, its water, and what was not seen.
std::string run_svg(const Drawing& on);

}  // namespace haunch::report
