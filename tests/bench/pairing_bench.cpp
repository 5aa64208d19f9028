// SPDX-License-Identifier: Apache-2.0
// Time to pair N marks with N true findings on one run, and the same gated problem written down for a rival.
// Says, does not judge.
//   pairing_bench [N [FILE]]: N 10000; FILE gets "N", then a line "truth attempt gain" for each pair in reach
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "base/files.hpp"
#include "grading/helpers.hpp"
#include "marking/assignment.hpp"
#include "marking/pairing.hpp"

namespace {

using namespace haunch;

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Four findings a metre; of ten marks one is misplaced, one misnamed, and one on nothing.
std::pair<coding::Record, coding::Record> records(int count) {
  base::Random random(17);
  std::vector<coding::Observation> truth, attempt;
  for (int i = 0; i < count; ++i) {
    coding::Observation one = grading::testing::random_defect(random);
    one.distance_m = std::round(100 * random.uniform(0, 0.25 * count)) / 100;
    truth.push_back(one);
    const auto luck = random.below(10);
    one.distance_m = *one.distance_m.value + random.uniform(-0.15, 0.15);
    if (luck == 0) one.distance_m = *one.distance_m.value + random.uniform(-0.7, 0.7);
    if (luck == 1) one.code = "BAC", one.ch1 = "A";
    if (luck == 2)
      one = grading::testing::random_defect(random), one.distance_m = random.uniform(0, 0.25 * count);
    attempt.push_back(one);
  }
  return {grading::testing::record_of(truth), grading::testing::record_of(attempt)};
}

/// Every day's rules, but for tolerances that grow with the distance: kilometres of drain as one run would
/// put everything in reach of everything.
marking::Rules rules_without_growth() {
  std::string text = base::read_file(base::content_dir() / "marking" / "rules.json").value();
  const std::string grows = "\"within_share\": 0.01";
  text.replace(text.find(grows), grows.size(), "\"within_share\": 0");
  const auto path = std::filesystem::temp_directory_path() / "haunch-pairing-bench-rules.json";
  std::ofstream(path) << text;
  auto rules = marking::Rules::read(path);
  std::filesystem::remove(path);
  return std::move(rules).value();
}

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::atoi(argv[1]) : 10000;
  if (count < 1) return std::fprintf(stderr, "pairing_bench [N [FILE]]\n"), 2;
  const auto [truth, attempt] = records(count);
  const marking::Rules rules = rules_without_growth();
  const coding::CodeList& list = coding::CodeList::shipped();
  const std::vector<marking::Finding> truths = marking::findings_of(truth),
                                      marks = marking::findings_of(attempt);
  const std::vector<int> weights(truths.size(), 20);

  auto start = std::chrono::steady_clock::now();
  const marking::Pairing pairing = marking::pair_up(truths, marks, weights, rules.inside(), list);
  const double whole_s = seconds_since(start);

  // One number for each pair, so that a rival can be given the same problem.
  std::vector<marking::PossiblePair> possible;
  const auto near = marking::within_reach(truths, marks, rules.inside(), list);
  for (std::size_t t = 0; t < truths.size(); ++t)
    for (const std::size_t a : near[t]) {
      const marking::Comparison same = marking::compare(truths[t], marks[a], rules.inside());
      const int nearness = *marking::nearness(truths[t], marks[a], rules.inside(), list);
      possible.push_back({t, a, (same.right_name ? 20000 : 10000) + 4 * same.thousandths + nearness});
    }
  start = std::chrono::steady_clock::now();
  const auto pairs = marking::best_pairs(truths.size(), marks.size(), possible);
  const double alone_s = seconds_since(start);
  std::map<std::pair<std::size_t, std::size_t>, std::int64_t> gain_of;
  for (const marking::PossiblePair& one : possible) gain_of[{one.left, one.right}] = one.gain;
  std::int64_t total = 0;
  for (const auto& pair : pairs) total += gain_of.at(pair);
  if (argc > 2) {
    std::ofstream file(argv[2]);
    file << count << '\n';
    for (const marking::PossiblePair& one : possible)
      file << one.left << ' ' << one.right << ' ' << one.gain << '\n';
  }
  std::printf("whole_s %.6f pairs %zu of %d, in reach %zu\n", whole_s, pairing.pairs.size(), count,
              possible.size());
  std::printf("alone_s %.6f pairs %zu total %lld\n", alone_s, pairs.size(), static_cast<long long>(total));
  return 0;
}
