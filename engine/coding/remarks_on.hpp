// SPDX-License-Identifier: Apache-2.0
// Gathers problems of a Record, each by its rule and named after its observation. Inside coding.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "coding/rules.hpp"
#include "coding/validate.hpp"

namespace haunch::coding {

struct RemarksOn {
  const Record& record;
  const CodeList& list;
  const std::string& file_name;
  const RecordPlaces& places;
  const Checks& checks;
  std::vector<Remark> found = {};
  std::optional<double> length_m = {};         ///< ABQ, where it is more than 0
  std::vector<const CodeEntry*> entries = {};  ///< of each row; null where the code is not known
  int quantification = 0;                      ///< that is being looked at

  /// "BAB B A at 3.4 m"; with its number where no line of a file says which one is meant.
  std::string name(std::size_t index) const;
  /// Of one observation. `solid`: what the rule rests on here.
  void row(Rule rule, std::size_t index, std::string_view what, std::string expected,
           std::string suggestion = {}, Solid solid = Solid::sourced);
  /// Of one field of the header, which `what` begins with.
  void header(Rule rule, std::size_t index, std::string what, std::string expected,
              std::string suggestion = {}, Solid solid = Solid::sourced);
  /// Of the inspection as a whole; told at the header field that it is read from, where one is named.
  void whole(Rule rule, std::string what, std::string expected, std::string_view header_code = {});
  /// At a place of its own, where one is known.
  void at(const std::vector<base::Place>& known, std::size_t index, Rule rule, std::string what,
          std::string expected, std::string suggestion = {}, std::string kind = {});
  /// Where the inspection begins, as far as that is known.
  base::Place start() const;
};

/// The pipe at a row: the header's, changed by the rows above it.
struct PipeHere {
  double height_mm = 0, width_mm = 0;  ///< 0: not known
  std::string shape, material;
  bool lined = false;
  double bore_mm() const { return height_mm > width_mm ? height_mm : width_mm; }
};

/// Letters, then sizes, clock, joint and the other rules of the code list. (validate_row.cpp)
void check_letters(RemarksOn& remarks, std::size_t index, const CodeEntry& entry);
void check_sizes(RemarksOn& remarks, std::size_t index, const CodeEntry& entry);
void check_list_rules(RemarksOn& remarks, std::size_t index, const CodeEntry& entry);
/// What the pipe says of a row, and a row of the pipe. (validate_pipe.cpp)
PipeHere pipe_at_start(const Record& record, const CodeList& list);
void check_against_pipe(RemarksOn& remarks, std::size_t index, const CodeEntry& entry, PipeHere& pipe);
/// Distances and nodes. (validate_places.cpp)
void check_distance(RemarksOn& remarks, std::size_t index);
void check_order(RemarksOn& remarks);
void check_twice(RemarksOn& remarks);
void check_nodes(RemarksOn& remarks);
/// Continuous observations: begun, ended, numbered, in place. (validate_runs.cpp)
void check_runs(RemarksOn& remarks);
/// Header codes and values. (validate_header.cpp)
void check_header(RemarksOn& remarks);
/// Given classes and names of observations. (validate_names.cpp)
void check_names(RemarksOn& remarks);

/// A code with which EN 13508-2 describes manholes and chambers rather than pipes: main codes begin with D,
/// header codes with C, then A to D and a letter (from memory). `begins` is that first letter.
bool of_manhole(std::string_view code, char begins);

/// "15" for "15 mm", "1.5" for "1,5"; empty when no number is near.
std::string nearest_number(std::string_view text);

}  // namespace haunch::coding
