// SPDX-License-Identifier: Apache-2.0
// Time to grade one inspection of 30 rows under each shipped scheme. Says, does not judge: no assertion here.
//   build/release/bin/grading_bench
#include <benchmark/benchmark.h>

#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

/// Inspections as they come: points, four runs, a change of material, the nodes; 30 rows each.
std::vector<coding::Record> inspections() {
  base::Random random(5);
  std::vector<coding::Record> records;
  for (int i = 0; i < 64; ++i) {
    std::vector<coding::Observation> rows{testing::seen(0, "BCD", "A"), testing::seen(0, "BDB")};
    for (int run = 1; run <= 4; ++run) {
      coding::Observation begin = testing::random_defect(random), end;
      begin.stretch = "A" + std::to_string(run);
      end = begin;
      end.stretch = "B" + std::to_string(run);
      end.distance_m = *begin.distance_m.value + 3;
      rows.push_back(begin);
      rows.push_back(end);
    }
    rows.push_back(testing::seen(14, "AED", "AX"));
    while (rows.size() < 29) rows.push_back(testing::random_defect(random));
    rows.push_back(testing::seen(40, "BCE", "A"));
    records.push_back(testing::record_of(std::move(rows), "AE", "300"));
  }
  return records;
}

void grade_inspections(benchmark::State& state, const std::string& id) {
  const Scheme scheme = Scheme::shipped_named(id).value();
  const std::vector<coding::Record> records = inspections();
  std::size_t next = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(grade(records[next], scheme, {}));
    next = (next + 1) % records.size();
  }
}

}  // namespace
}  // namespace haunch::grading

int main(int argc, char** argv) {
  for (const std::string& id : haunch::grading::Scheme::shipped_ids())
    benchmark::RegisterBenchmark(("grade/" + id).c_str(), haunch::grading::grade_inspections, id);
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
