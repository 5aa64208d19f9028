// SPDX-License-Identifier: Apache-2.0
#include "report/findings_csv.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "base/words.hpp"
#include "report/owner_words.hpp"
#include "report/runs.hpp"

namespace haunch::report {
namespace {

const char* const end_of_line = "\r\n";

std::string number(const std::optional<double>& value) {
  return value ? base::show_number(*value) : std::string();
}

std::string whole(const std::optional<int>& value) { return value ? std::to_string(*value) : std::string(); }

std::vector<std::string> goal_cells(const grading::ObservationGrade* grade, const std::string& goal) {
  if (grade != nullptr)
    for (const grading::GoalClass& one : grade->goals)
      if (one.goal == goal)
        return {one.grade ? std::to_string(*one.grade) : std::string(),
                grading::show(one.outcome),
                one.row,
                one.provisional ? "yes" : "no",
                one.reason,
                one.source};
  return {"", "", "", "", "", ""};
}

}  // namespace

std::string findings_csv_head(const std::vector<std::string>& goals) {
  std::string text =
      "file,inspection,pipe,number,observation,from_m,to_m,from_zero,to_zero,unit,code,ch1,ch2,q1,q2,clock_"
      "from,clock_to,"
      "at_joint,title,next,waits,worst_class,provisional,pipe_class,pipe_class_least,pipe_class_most";
  for (const std::string& goal : goals)
    for (const char* what : {"class", "outcome", "row", "provisional", "reason", "source"})
      text += "," + csv_cell(goal + " " + what);
  return text + ",remark,photo" + end_of_line;
}

std::string findings_csv(const std::string& file, int inspection, const coding::Record& record,
                         const grading::Grade& grade, const Advice& advice, const Measure& measure,
                         const Meanings& meanings) {
  std::unordered_map<std::string, const grading::ObservationGrade*> grades;
  for (const grading::ObservationGrade& one : grade.observations) grades[one.observation] = &one;
  const auto zeroed = [&](const std::optional<double>& at) {
    if (!at) return std::string();
    return base::show_number(std::round(base::from_metres(measure.from_zero(*at), measure.unit) * 1000) /
                             1000);
  };
  std::string text;
  for (const FindingGroup& group : advice.groups)
    for (const RankedFinding& one : group.findings) {
      const coding::Observation& seen = *one.seen;
      const auto found = grades.find(seen.id);
      std::vector<std::string> cells{file,
                                     std::to_string(inspection),
                                     pipe_title(record),
                                     std::to_string(one.number),
                                     seen.id,
                                     number(one.from_m),
                                     number(one.to_m),
                                     zeroed(one.from_m),
                                     zeroed(one.to_m),
                                     measure.unit == base::LengthUnit::feet ? "ft" : "m",
                                     seen.code,
                                     seen.ch1,
                                     seen.ch2,
                                     number(one.q1),
                                     number(one.q2),
                                     whole(seen.clock_from),
                                     whole(seen.clock_to),
                                     seen.at_joint ? "yes" : "no",
                                     one.meaning->title,
                                     meanings.next()[one.next].id,
                                     waits(one.next, advice, meanings) ? "yes" : "no",
                                     whole(one.worst_class),
                                     one.provisional ? "yes" : "no",
                                     whole(grade.object_class),
                                     whole(grade.object_least),
                                     whole(grade.object_most)};
      for (const std::string& goal : grade.goals)
        for (std::string& cell : goal_cells(found == grades.end() ? nullptr : found->second, goal))
          cells.push_back(std::move(cell));
      cells.push_back(seen.remark);
      cells.push_back(seen.photo);
      for (std::size_t i = 0; i < cells.size(); ++i) {
        // A minus before a number is a number, not a formula.
        double value = 0;
        const bool plain = base::read_number(cells[i], value);
        text += (i > 0 ? "," : "") + (plain ? cells[i] : csv_cell(cells[i]));
      }
      text += end_of_line;
    }
  return text;
}

}  // namespace haunch::report
