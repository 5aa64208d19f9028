// SPDX-License-Identifier: Apache-2.0
// Procedures: what a scheme's tables feed. A file names the one it is made for. Inside this room.
//
//   three goals           a class for each goal of each finding, a number for the class, points for the site;
//                         the largest number decides the class of the pipe (procedure_three_goals.cpp)
//   mean score and worst  a score for each finding; mean of all against the worst of them decides, for each
//                         goal apart (procedure_mean_and_worst.cpp)
//
// A new one is a file with two functions and a line in procedure.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grading/work.hpp"

namespace haunch::grading {

class SchemeReader;

struct Procedure {
  std::string_view name;
  /// Writes numbers, lengths, `overall`, object class and reason; marks them provisional.
  void (*run)(Work& work);
  /// Its own sections of the file.
  void (*read)(SchemeReader& reader);
};

const Procedure* procedure_named(std::string_view name);
std::vector<std::string> procedure_names();

void run_three_goals(Work& work);
void read_three_goals(SchemeReader& reader);
void run_mean_and_worst(Work& work);
void read_mean_and_worst(SchemeReader& reader);

}  // namespace haunch::grading
