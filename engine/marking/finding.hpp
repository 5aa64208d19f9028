// SPDX-License-Identifier: Apache-2.0
// A point or a whole stretch of a Record, ready to be compared. Inside this room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "coding/record.hpp"

namespace haunch::marking {

struct Finding {
  const coding::Observation* seen = nullptr;
  std::string id;
  std::optional<double> from_m, to_m;  ///< begin and end as counted; equal for a point
  /// As written, where from_m and to_m have an error of the counter taken off.
  std::optional<double> counted_from_m, counted_to_m;
  std::optional<double> q1, q2;  ///< the largest along a stretch
  std::optional<base::ClockArc> clock;
  bool continuous = false;
  std::string stiffness;          ///< of the pipe there: "rigid", "flexible" or empty when not known
  std::vector<std::string> rows;  ///< ids of all its rows, of what was taken into it as well

  double low_m() const { return *from_m < *to_m ? *from_m : *to_m; }
  double high_m() const { return *from_m < *to_m ? *to_m : *from_m; }
  /// What stands in the record.
  std::optional<double> written_from_m() const { return counted_from_m ? counted_from_m : from_m; }
  std::optional<double> written_to_m() const { return counted_to_m ? counted_to_m : to_m; }
};

/// In an order that the order of rows in the Record cannot change. Points into the Record.
std::vector<Finding> findings_of(const coding::Record& record);

/// "BAB B A at 5.20 m", "BDD A from 13.00 m to 16.40 m".
std::string where_of(const Finding& finding, base::LengthUnit unit);

/// The Record without what it lists as not visible.
coding::Record visible_part(const coding::Record& record);

}  // namespace haunch::marking
