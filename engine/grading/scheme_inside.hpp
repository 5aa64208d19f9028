// SPDX-License-Identifier: Apache-2.0
// What a scheme file holds, for this room only. The procedure works on these and on nothing else, so
// that another scheme of the same procedure is only another file.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "grading/grade.hpp"

namespace haunch::grading {

/// One row of a class table.
struct Row {
  std::string id, code;
  std::vector<std::string> ch1, ch2;  ///< empty: any
  std::string goal;
  std::string pipe;  ///< "rigid", "flexible" or empty
  std::optional<double> bore_above_mm, bore_to_mm;
  std::string quantity;  ///< "q1", "q2" or empty
  std::string unit;
  std::map<int, double> from;    ///< class -> lower bound, the bound itself included
  std::optional<int> otherwise;  ///< class below every bound; none: no class there
  std::optional<int> flat;       ///< class whatever the size
  bool not_relevant = false;     ///< the scheme says that this kind has no bearing on the goal
  std::string source;            ///< in words
  bool provisional = false;
};

struct PointsOption {
  std::string criterion, when;
  std::map<std::string, double> points;  ///< goal -> points; a goal that is absent gets none
};

/// One condition of the boundary points table.
struct Condition {
  std::string name;
  std::string field;  ///< of the site; or "place", "joint": of the observation
  std::vector<PointsOption> options;
};

struct NotGraded {
  std::vector<std::string> codes;
  std::string why;
};

struct Scheme::Inside {
  std::string id, title, procedure_source;
  std::vector<std::string> goals;
  int worst_class = 5;
  std::map<int, double> class_numbers;
  std::vector<SiteField> site;
  std::vector<Condition> conditions;
  double least_final_number = 0;
  std::string least_source;
  double point_length_m = 0;
  bool length_points_found = false;
  std::string length_points_why;
  std::map<int, double> object_from;
  int object_otherwise = 1;
  bool object_provisional = false;
  std::string object_source;
  std::map<int, std::string> object_meaning;
  std::vector<NotGraded> not_graded;
  std::vector<Row> rows;
};

}  // namespace haunch::grading
