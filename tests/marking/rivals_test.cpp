// SPDX-License-Identifier: Apache-2.0
// Our pairing against two libraries that solve the same problem by other means, run here on the same random
// cases: SciPy's linear_sum_assignment (a shortest augmenting path method) and the npm package munkres (the
// Hungarian method). Long only: `tools/install-packages long` puts them on the machine.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/random.hpp"
#include "campaign.hpp"
#include "marking/assignment.hpp"

namespace haunch::marking {
namespace {

namespace fs = std::filesystem;
using Gains = std::vector<std::vector<std::int64_t>>;
using Totals = std::vector<std::int64_t>;

/// Of any shape, with pairs that are out of reach (nothing gained) and many gains alike.
Gains random_case(base::Random& random) {
  const std::size_t rows = 1 + random.below(14), columns = 1 + random.below(14);
  const std::uint32_t share = 1 + random.below(4), most = random.below(2) == 0 ? 6 : 100000;
  Gains gains(rows, std::vector<std::int64_t>(columns, 0));
  for (auto& row : gains)
    for (auto& gain : row)
      if (random.below(4) < share) gain = 1 + random.below(most);
  return gains;
}

std::int64_t our_total(const Gains& gains) {
  std::vector<PossiblePair> possible;
  for (std::size_t row = 0; row < gains.size(); ++row)
    for (std::size_t column = 0; column < gains[row].size(); ++column)
      if (gains[row][column] > 0) possible.push_back({row, column, gains[row][column]});
  std::int64_t total = 0;
  for (const auto& [row, column] : best_pairs(gains.size(), gains.front().size(), possible))
    total += gains[row][column];
  return total;
}

/// What a program prints, or nothing where it does not go.
std::optional<Totals> totals_by(const std::string& command) {
  std::FILE* const pipe = popen((command + " 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return std::nullopt;
  std::string text;
  char part[4096];
  for (std::size_t got = 0; (got = std::fread(part, 1, sizeof part, pipe)) > 0;) text.append(part, got);
  if (pclose(pipe) != 0) return std::nullopt;
  return nlohmann::json::parse(text).get<Totals>();
}

void compare(const char* name, int many, const std::string& command) {
  if (campaign::rounds(1) == 1) GTEST_SKIP() << "for tools/test --long";
  base::Random random(31);
  std::vector<Gains> cases;
  for (int i = 0; i < many; ++i) cases.push_back(random_case(random));
  const fs::path file = fs::temp_directory_path() / (std::string("haunch-pairing-") + name + ".json");
  std::ofstream(file) << nlohmann::json(cases);
  const auto theirs = totals_by(command + " '" + file.string() + "'");
  fs::remove(file);
  if (!theirs) GTEST_SKIP() << name << " is not here: tools/install-packages long";
  ASSERT_EQ(theirs->size(), cases.size());
  for (std::size_t i = 0; i < cases.size(); ++i)
    EXPECT_EQ(our_total(cases[i]), (*theirs)[i]) << nlohmann::json(cases[i]);
}

const std::string scripts = HAUNCH_SOURCE_DIR "/tests/marking/rivals/";

TEST(Rivals, ScipyComesToTheSameTotals) {
  compare("scipy", 1000, "/usr/bin/python3 " + scripts + "scipy_totals.py");
}
TEST(Rivals, MunkresComesToTheSameTotals) {
  compare("munkres", 100, "node " + scripts + "munkres_totals.mjs " HAUNCH_SOURCE_DIR "/build/rivals");
}

}  // namespace
}  // namespace haunch::marking
