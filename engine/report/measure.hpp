// SPDX-License-Identifier: Apache-2.0
// Distances as an owner wants them counted: from where the camera went in, from the far end, from the wall of
// the house.
#pragma once

#include <optional>
#include <string>

#include "base/units.hpp"
#include "coding/record.hpp"

namespace haunch::report {

enum class ZeroAt { recorded, start, end, upstream, downstream, place };

struct Zero {
  ZeroAt at = ZeroAt::recorded;
  double place_m = 0;  ///< with `place`: distance as recorded
};
/// "recorded", "start", "end", "upstream", "downstream", or a number in `unit`; nothing for anything else.
std::optional<Zero> zero_from(const std::string& words, base::LengthUnit unit);

/// The two ends of the run as a record counts. Where a node is not recorded its end is where the stated
/// length or the last finding puts it.
struct Ends {
  double start_m = 0, finish_m = 0;  ///< finish_m is the smaller one where distances count down
  bool finish_known = false;         ///< by a finish node or a stated length
  double length_m() const { return start_m < finish_m ? finish_m - start_m : start_m - finish_m; }
};
Ends ends_of(const coding::Record& record);

/// The node that the camera went in at, and the other one, as the header names them; empty when it does not.
struct NodeNames {
  std::string start, finish;
};
NodeNames node_names(const coding::Record& record);

struct Measure {
  double zero_m = 0;    ///< as recorded
  double forward = 1;   ///< -1 where distances grow against the record's
  std::string words;    ///< "Distances count from ..."
  std::string refused;  ///< why the chosen zero could not be used; then they stay as recorded
  base::LengthUnit unit = base::LengthUnit::metres;

  double from_zero(double recorded_m) const;
  std::string show(double recorded_m) const;  ///< "12.40 m"
};
/// "150 mm", or "5.9 in (150 mm)" where lengths are in feet.
std::string show_mm(double mm, base::LengthUnit unit);

Measure measure_of(const coding::Record& record, const Zero& zero, base::LengthUnit unit);

}  // namespace haunch::report
