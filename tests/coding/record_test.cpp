// SPDX-License-Identifier: Apache-2.0
// Numbers as written, headers, actions and names.
#include "coding/record.hpp"

#include <gtest/gtest.h>

namespace haunch::coding {
namespace {

TEST(Number, KeepsTheTextAndReadsTheValue) {
  const Number half = Number::from_text("0.50");
  EXPECT_EQ(half.show(), "0.50");
  EXPECT_EQ(half.value, 0.5);
  EXPECT_EQ(half, Number(0.5));
  EXPECT_EQ(Number(0.5).show(), "0.5");
  EXPECT_EQ(Number::from_text("Q7").show(), "Q7");
  EXPECT_FALSE(Number::from_text("Q7").value);
  EXPECT_NE(Number::from_text("Q7"), Number::from_text("Q8"));
  EXPECT_NE(Number::from_text("Q7"), Number());
  EXPECT_TRUE(Number().empty());
  EXPECT_NE(Number(0.0), Number());
  EXPECT_FALSE(Number::from_text("1,5").value) << "the point is the decimal sign inside";
}

TEST(Record, Headers) {
  Record record;
  record.set_header("ACB", "150");
  record.set_header("AAN", "Little Wending");
  record.set_header("ACB", " 100 ");
  ASSERT_EQ(record.header.size(), 2U);
  EXPECT_EQ(record.header_number("ACB"), 100);
  EXPECT_EQ(record.header_value("AAN"), "Little Wending");
  EXPECT_FALSE(record.header_number("AAN"));
  EXPECT_FALSE(record.header_value("AAA"));
}

TEST(Record, ObservationsGetFreeNames) {
  Record record;
  record.observations.resize(4);
  record.observations[1].id = "o1";
  record.observations[3].id = "mine";
  number_observations(record);
  EXPECT_EQ(record.observations[0].id, "o2");
  EXPECT_EQ(record.observations[1].id, "o1");
  EXPECT_EQ(record.observations[2].id, "o3");
  EXPECT_EQ(record.find("mine"), &record.observations[3]);
  EXPECT_EQ(record.find("o9"), nullptr);
  EXPECT_EQ(record.find(""), nullptr);
}

TEST(Action, WordsThereAndBack) {
  EXPECT_EQ(all_actions().size(), 5U);
  for (const Action action : all_actions()) EXPECT_EQ(action_from(show(action)), action);
  EXPECT_EQ(action_from(" Call the GAS utility "), Action::call_gas_utility);
  EXPECT_FALSE(action_from("jet harder"));
  EXPECT_FALSE(action_from(""));
}

}  // namespace
}  // namespace haunch::coding
