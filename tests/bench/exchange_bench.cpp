// SPDX-License-Identifier: Apache-2.0
// exchange_bench FILE [read|validate|classes|grade]: reads a file inspection by inspection, validates and
// grades each (or stops before), and prints what it counted, MB/s (10^6 bytes) and the peak of resident
// memory.
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <iostream>
#include <map>
#include <string>

#include "coding/validate.hpp"
#include "exchange/inspections.hpp"
#include "grading/grade.hpp"

namespace {
using namespace haunch;

struct Counts {
  long inspections = 0, observations = 0, problems = 0, unread = 0, classes = 0;
  double metres = 0;
  std::map<int, long> pipes;  ///< by class
};

Counts walk(const std::string& file, const std::string& until) {
  const coding::CodeList& codes = coding::CodeList::shipped();
  const grading::Scheme& scheme = grading::Scheme::shipped();
  const bool validates = until != "read", grades = until == "classes" || until == "grade";
  const grading::Words words = until == "grade" ? grading::Words::all : grading::Words::none;
  Counts counts;
  exchange::Inspections inspections(file);
  exchange::Inspection inspection;
  while (inspections.next(inspection)) {
    const coding::Record& record = inspection.placed.record;
    ++counts.inspections;
    counts.observations += static_cast<long>(record.observations.size());
    counts.unread += static_cast<long>(inspection.remarks.size());
    for (const auto& one : record.observations) counts.metres += one.distance_m.value.value_or(0);
    if (validates)
      for (const auto& problem : coding::validate(record, codes, file, inspection.placed.places))
        counts.problems += problem.severity == base::Severity::error ? 1 : 0;
    if (!grades) continue;
    const grading::Grade grade = grading::grade(record, scheme, grading::site_from(record), words);
    for (const auto& one : grade.observations) counts.classes += one.worst ? 1 : 0;
    if (grade.object_class) ++counts.pipes[*grade.object_class];
  }
  for (const auto& problem : inspections.problems()) std::cerr << base::to_line(problem) << '\n';
  return counts;
}

}  // namespace

int main(int count, char** words) {
  const std::string until = count == 3 ? words[2] : "grade";
  if (count < 2 || count > 3 ||
      (until != "read" && until != "validate" && until != "classes" && until != "grade")) {
    std::cerr << "usage: exchange_bench FILE [read|validate|classes|grade]\n";
    return 2;
  }
  try {
    const auto megabytes = static_cast<double>(std::filesystem::file_size(words[1])) / 1e6;
    const auto start = std::chrono::steady_clock::now();
    const Counts counts = walk(words[1], until);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    rusage use{};
    ::getrusage(RUSAGE_SELF, &use);
    std::printf("inspections %ld observations %ld metres %.2f remarks %ld errors %ld\n", counts.inspections,
                counts.observations, counts.metres, counts.unread, counts.problems);
    if (!counts.pipes.empty()) std::printf("classed %ld pipes by class", counts.classes);
    for (const auto& [grade, pipes] : counts.pipes) std::printf(" %d: %ld", grade, pipes);
    if (!counts.pipes.empty()) std::printf("\n");
    std::printf("until %s: %.1f MB in %.2f s, %.1f MB/s, peak %.1f MB resident\n", until.c_str(), megabytes,
                seconds, megabytes / seconds, static_cast<double>(use.ru_maxrss) / 1000);
  } catch (const std::exception& stop) {
    std::cerr << "exchange_bench: " << stop.what() << '\n';
    return 3;
  }
}
