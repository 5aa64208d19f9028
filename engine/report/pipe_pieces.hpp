// SPDX-License-Identifier: Apache-2.0
// What a record says of the pipe itself along its way: material, bore, water. Nothing is filled in that it
// does not say.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "report/measure.hpp"

namespace haunch::report {

/// Distances here are as recorded, with from_m nearer to where the camera went in.
struct PipePiece {
  double from_m = 0, to_m = 0;
  std::string material;           ///< code, or empty when not known
  std::optional<double> bore_mm;  ///< height where the pipe is not round
  bool operator==(const PipePiece&) const = default;
};
/// From end to end; at least one piece.
std::vector<PipePiece> pipe_pieces(const coding::Record& record, const coding::CodeList& list);

/// Water as recorded (BDD): at a place, or along a stretch.
struct RecordedWater {
  double from_m = 0, to_m = 0;
  double from_percent = 0, to_percent = 0;  ///< of the pipe's height
  bool stretch = false;
};
std::vector<RecordedWater> recorded_water(const coding::Record& record);

/// As far as the record saw: the distance that lies furthest from the start.
double reached_m(const coding::Record& record, const Ends& ends);

/// Depths of the invert below the ground at the two nodes (ACH, ACI), when both are stated.
struct Depths {
  double start_m = 0, finish_m = 0;
};
std::optional<Depths> depths_of(const coding::Record& record);

/// "clay", "PVC-U"; "material not stated" for an empty code.
std::string material_words(const std::string& code, const coding::CodeList& list);

}  // namespace haunch::report
