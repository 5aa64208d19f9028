// SPDX-License-Identifier: Apache-2.0
// What a scheme file holds, for this room only. Procedures work on these and on nothing else, so that
// another scheme of the same procedure is only another file.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "grading/grade.hpp"

namespace haunch::grading {

struct Procedure;

/// Where a value of the file is from.
struct Mark {
  std::string source;  ///< in words
  bool provisional = false;
};

/// What a row measures.
enum class Quantity { none, q1, q2, clock_arc };

/// One row of a class table. A row that takes its bounds from one of the scheme's own tables of defects has
/// them here already.
struct Row {
  std::string id, code;
  std::vector<std::string> ch1, ch2;  ///< empty: any
  std::string goal;
  std::string pipe;  ///< "rigid", "flexible" or empty
  std::optional<double> bore_above_mm, bore_to_mm;
  std::vector<std::string> remark_has;  ///< one of these words in the remark, lower case; empty: any remark
  Quantity quantity = Quantity::none;
  std::string divided_by;  ///< a number of the site, or empty
  std::string unit;
  std::map<int, double> bounds;     ///< class -> where it begins
  bool bound_included = true;       ///< a size on the bound takes the worse class
  std::optional<int> otherwise;     ///< class below every bound; none: no class there
  std::string below_is;             ///< why a size below every bound is no defect, or empty
  std::optional<int> without_size;  ///< class where the size is not given
  std::optional<int> flat;          ///< class whatever the size
  bool not_relevant = false;        ///< the scheme says that this kind has no bearing on the goal
  Mark mark;
  std::string kind;                 ///< "offset joint (CK)": of the table it takes its classes from
  std::map<int, double> scores;     ///< class -> score, where the scheme has them
  std::map<int, Mark> class_marks;  ///< where a class has a source of its own
};

/// An option of a condition and what it is worth: by goal, or one value under "".
struct PointsOption {
  std::string criterion, when;
  std::map<std::string, double> points;  ///< goal -> points; a goal that is absent gets none
};

/// One condition of the boundary points table.
struct Condition {
  std::string name;
  std::string field;  ///< of the site; or "place", "joint": of the observation
  std::vector<PointsOption> options;
  Mark mark;
};

struct NotGraded {
  std::vector<std::string> codes;
  std::string why;
};

/// Procedure "three goals".
struct ThreeGoals {
  std::map<int, double> class_numbers;
  Mark numbers;
  std::vector<Condition> conditions;
  double least_final_number = 0;
  Mark least;
  double point_length_m = 0;
  std::string length_points_why;  ///< why the procedure stops before them
  std::map<int, double> object_from;
  int object_otherwise = 1;
  Mark object;
};

/// A number that classes are read from: a number above a bound takes the class.
struct Scale {
  std::string id, name;
  std::map<int, double> above;
  std::map<int, std::string> meaning;
  Mark mark;
};
struct Density {
  std::string id, name;
  double low = 0, high = 0;
  std::string below, between, above;  ///< words for the three
  Mark mark;
};
/// An index of a scale and what the site is worth.
struct Index {
  Scale scale;
  double of_number = 0;
  std::map<std::string, double> of_importance;  ///< by id of the importance
};
struct Judged {
  std::string goal;
  Scale scale;
  Density density;
  Index index;
};
/// What the site or the bore is worth in an index.
struct ImportanceOption {
  std::string criterion, when;  ///< a value of the site field
  std::optional<double> bore_above_mm, bore_from_mm;
  double value = 0;
  Mark mark;
};
struct Importance {
  std::string id, what, field;         ///< field empty: the bore decides
  std::optional<double> counts_from;   ///< nothing where the first number is below
  std::optional<double> counts_above;  ///< nothing where it is not above
  std::vector<ImportanceOption> options;
};
/// Procedure "mean score and worst".
struct MeanAndWorst {
  double least_length_m = 1, together_within_m = 1, close_within_m = 1.5, close_factor = 1, most_together = 0;
  Mark length, together, close;
  std::vector<Judged> judged;
  std::vector<Importance> importance;
};

struct Scheme::Inside {
  std::string id, title, procedure_source, fingerprint;
  const Procedure* procedure = nullptr;
  std::vector<std::string> goals;
  int worst_class = 5;
  std::vector<SiteField> site;
  /// A finding belongs to one goal: where a row of one fits, the others are not relevant to it.
  bool one_goal_each = false;
  std::map<int, std::string> object_meaning;
  std::vector<NotGraded> not_graded;
  std::vector<Row> rows;
  ThreeGoals three_goals;       ///< of its procedure only
  MeanAndWorst mean_and_worst;  ///< of its procedure only

  /// Made from the above: rows of a code, by goal, in the order of the file; why a code is not graded.
  using RowsByGoal = std::vector<std::vector<std::size_t>>;
  std::unordered_map<std::string, RowsByGoal> rows_of_code;
  std::unordered_map<std::string, std::size_t> why_not_graded;
  void index();

  const SiteField* field(std::string_view name) const;
};

}  // namespace haunch::grading
