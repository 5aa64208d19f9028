// SPDX-License-Identifier: Apache-2.0
// Which pipe stands where along a run, and findings put together whatever order they are written in.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::grading {

/// Indices of the rows of a Record in an order that does not hang on the one they are written in.
std::vector<std::size_t> order_along(const coding::Record& record);

/// coding::extents, but the order of the rows never matters: an end written before its begin still
/// ends it. A change ("C1") that belongs to no run is a point. Indices are those of the Record; the
/// list is in order of distance.
std::vector<coding::Extent> extents_in_any_order(const coding::Record& record);

/// The rows that change a run ("C1"), gathered once for a Record: looking them up costs no walk over it.
class Changes {
 public:
  explicit Changes(const coding::Record& record);
  /// Of the run's code and number, in the order of the Record.
  const std::vector<std::size_t>& of(const coding::Observation& begin) const;

 private:
  std::map<std::pair<std::string, std::string>, std::vector<std::size_t>> by_code_and_number_;
};

/// All rows of an extent: the point, or begin, changes and end of a run. A change belongs to the run
/// of its number, code and place; where a place or the end of the run is not known, to every one of its
/// number and code.
std::vector<std::size_t> rows_of(const coding::Record& record, const coding::Extent& extent,
                                 const Changes& changes);

/// The sizes that count for an extent: along a run they may differ, and the largest counts.
struct Sizes {
  std::optional<double> q1, q2;
};
Sizes sizes_of(const coding::Record& record, const std::vector<std::size_t>& rows);

/// True where distances run backwards, from the start node down to the finish node.
bool counts_down(const coding::Record& record);

/// Why a record does not show its whole pipe (ours): no start or finish node, abandoned, the view lost on
/// the way, or a counter that never came near the length in the header. Empty when it does.
std::vector<std::string> not_inspected(const coding::Record& record);

struct PipeHere {
  std::string material;   ///< code, or empty when not known
  std::string stiffness;  ///< "rigid", "flexible" or empty when not known
  std::optional<double> bore_mm;
};

/// Which pipe stands where: from the header, and the last change of material (AED) or of bore (AEC) met
/// before or at the place. Read once for a Record. A change without a distance, or to nothing that is given,
/// makes it unsure.
class PipeAlong {
 public:
  PipeAlong(const coding::Record& record, const coding::CodeList& list);
  PipeHere at(const std::optional<double>& distance_m) const;
  /// Where it may change, as the record counts, in no order.
  std::vector<double> changes_m() const;

 private:
  struct Material {
    double from = 0;
    std::string material, stiffness;
  };
  PipeHere start_;
  double sign_ = 1;
  std::vector<Material> materials_;                              ///< along the way, as the camera goes
  std::vector<std::pair<double, std::optional<double>>> bores_;  ///< from where, mm
  bool unsure_material_ = false, unsure_bore_ = false;
};

}  // namespace haunch::grading
