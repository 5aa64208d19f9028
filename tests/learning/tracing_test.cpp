// SPDX-License-Identifier: Apache-2.0
#include "learning/tracing.hpp"

#include <gtest/gtest.h>

#include "check_values.hpp"

namespace haunch::learning {
namespace {

// A lecture's example for the equations of Corbett & Anderson (1995), printed to two places (from memory).
TEST(Tracing, WrongThenRight) {
  const Tracing rules{0.1, 0.3, 0.2};
  EXPECT_NEAR(known_by(rules, 0.4, false), 0.20, 0.005);
  const double after = known_after(rules, 0.4, false);
  EXPECT_NEAR(after, 0.28, 0.005);
  EXPECT_NEAR(known_by(rules, after, true), 0.58, 0.005);
  EXPECT_NEAR(known_after(rules, after, true), 0.62, 0.005);
}

TEST(Tracing, AsKept) {
  for (const char* id : {"bkt-lecture", "bkt-sequence"}) {
    NEEDS_CHECK(check, id);
    const auto& in = (*check)["inputs"];
    const auto& out = (*check)["recomputed"];
    const Tracing rules{in["T"].get<double>(), in["S"].get<double>(), in["G"].get<double>()};
    double known = in["L0"].get<double>();
    for (std::size_t i = 0; i < in["responses"].size(); ++i) {
      const bool right = in["responses"][i].get<int>() == 1;
      if (out.contains("p_correct")) {
        EXPECT_NEAR(traced_success(rules, known), out["p_correct"][i].get<double>(), 1e-9);
      }
      if (out.contains("post")) {
        EXPECT_NEAR(known_by(rules, known, right), out["post"][i].get<double>(), 1e-9);
      }
      known = known_after(rules, known, right);
      EXPECT_NEAR(known, out["L"][i].get<double>(), 1e-9);
    }
  }
}

TEST(Tracing, AnAnswerThatCannotBeSaysNothing) {
  EXPECT_EQ(known_by({0.1, 0, 0}, 0, true), 0);
  EXPECT_EQ(known_by({0.1, 0, 0}, 1, false), 1);
}

}  // namespace
}  // namespace haunch::learning
