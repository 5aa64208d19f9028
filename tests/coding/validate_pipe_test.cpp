// SPDX-License-Identifier: Apache-2.0
// What rows say, held against the pipe: material, shape and bore.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// Clay of 150 mm unless the header is told otherwise.
Record in(const char* material, std::vector<Observation> between) {
  Record record = with(std::move(between));
  record.set_header("ACD", material);
  return record;
}

TEST(ValidatePipe, AChangeChangesSomething) {
  EXPECT_THAT(broken(with({make(3, "AED", "AX")})), IsEmpty());
  EXPECT_THAT(broken(with({make(3, "AED", "AE")})), ElementsAre("same-material"));
  EXPECT_THAT(broken(with({make(3, "AED", "AX"), make(5, "AED", "AE")})), IsEmpty()) << "and back";
  EXPECT_THAT(broken(with({make(3, "AED", "AX"), make(5, "AED", "AX")})), ElementsAre("same-material"));
  EXPECT_THAT(broken(in("AZ", {make(3, "AED", "AZ")})), IsEmpty()) << "two materials that are not known";
  EXPECT_THAT(broken(with({make(3, "AED")})), ElementsAre("material-unsaid"));
  EXPECT_THAT(broken(with({make(3, "AED", "QQ")})), ElementsAre("letter-unknown"));
}

TEST(ValidatePipe, AChangeOfShapeChangesSomething) {
  const auto change = [](const char* shape, double high, Number wide) {
    Observation one = make(3, "AEC", shape, "", high);
    one.q2 = wide;
    return one;
  };
  Record record = with({change("A", 200, {})});
  record.set_header("ACA", "A");
  EXPECT_THAT(broken(record), IsEmpty());
  record.observations[1] = change("C", 150, 100);
  EXPECT_THAT(broken(record), IsEmpty());
  record.observations[1] = change("A", 150, {});
  EXPECT_THAT(broken(record), ElementsAre("same-shape"));
  record.observations[1] = change("A", 200, 150);
  EXPECT_THAT(broken(record), ElementsAre("shape-sizes"));
}

TEST(ValidatePipe, SizesStayWithinTheBore) {
  const auto crack = [](double wide) { return at_clock(make(6, "BAB", "C", "A", wide), 3); };
  const auto step = [](double high) { return joint(at_clock(make(6, "BAJ", "B", "", high), 3)); };
  const auto gap = [](double wide) { return joint(make(6, "BAJ", "A", "", wide)); };
  const auto lateral = [](double high) { return at_clock(make(6, "BCA", "A", "A", high), 3); };
  for (const Observation& good : {crack(3), step(150), gap(40), lateral(150)})
    EXPECT_THAT(broken(with({good})), IsEmpty()) << show_code(good);
  EXPECT_THAT(broken(with({crack(151)})), ElementsAre("size-over-bore"));
  EXPECT_THAT(broken(with({step(151)})), ElementsAre("size-over-bore"));
  EXPECT_THAT(broken(with({gap(160)})), ElementsAre("size-over-bore"));
  EXPECT_THAT(broken(with({lateral(225)})), ElementsAre("connection-over-bore"));
  EXPECT_THAT(broken(with({make(3, "AEC", "A", "", 300), lateral(225)})), IsEmpty()) << "wider from 3 m on";
  Record unknown = with({lateral(225)});
  unknown.set_header("ACB", "");
  EXPECT_THAT(broken(unknown), IsEmpty()) << "no bore, no opinion";
  EXPECT_FALSE(base::has_errors(validate(with({lateral(225)}), CodeList::shipped(), "r")));
}

TEST(ValidatePipe, LengthsStayWithinThePipe) {
  const auto hole = [](double length) { return at_clock(make(6, "BAC", "B", "", length), 3, 5); };
  EXPECT_THAT(broken(with({hole(300)})), IsEmpty());
  EXPECT_THAT(broken(with({hole(19999)})), IsEmpty());
  EXPECT_THAT(broken(with({hole(20000.5)})), ElementsAre("size-range")) << "nothing of this kind is as long";
  Record shorter = with({hole(12000)});
  shorter.set_header("ABQ", "10");
  EXPECT_THAT(broken(shorter), Contains("size-over-length"));
}

TEST(ValidatePipe, AJointBendsOnlySoFar) {
  const auto bent = [](double degrees) { return joint(at_clock(make(6, "BAJ", "C", "", degrees), 3)); };
  EXPECT_THAT(broken(with({bent(20)})), IsEmpty());
  EXPECT_THAT(broken(with({bent(21)})), ElementsAre("joint-angle"));
  EXPECT_THAT(broken(with({bent(91)})), ElementsAre("size-range")) << "said once";
}

TEST(ValidatePipe, FindingsGoWithTheMaterial) {
  const Observation bricks = at_clock(make(6, "BAD", "A"), 3, 5);
  const Observation steel = at_clock(make(6, "BAF", "F", "E"), 3, 5);
  const Observation weld = at_clock(make(6, "BAM", "A"), 3);
  EXPECT_THAT(broken(in("AD", {bricks})), IsEmpty());
  EXPECT_THAT(broken(in("AE", {bricks})), ElementsAre("material-fault"));
  EXPECT_THAT(broken(in("AH", {steel})), IsEmpty());
  EXPECT_THAT(broken(in("AX", {steel})), ElementsAre("material-fault"));
  EXPECT_THAT(broken(in("AV", {weld})), IsEmpty());
  EXPECT_THAT(broken(in("AG", {weld})), ElementsAre("material-fault"));
  EXPECT_THAT(broken(in("AG", {make(2, "AED", "AP"), weld})), IsEmpty()) << "steel from 2 m on";
  EXPECT_THAT(broken(in("AZ", {weld})), IsEmpty()) << "not known what it is";
  EXPECT_THAT(broken(in("AG", {make(2, "AEE"), weld})), IsEmpty()) << "the lining hides the concrete";
}

TEST(ValidatePipe, ARigidPipeBreaksBeforeItIsSquashed) {
  const Observation squashed = make(6, "BAA", "A", "", 8);
  EXPECT_THAT(broken(in("AX", {squashed})), IsEmpty());
  EXPECT_THAT(broken(in("AE", {squashed})), ElementsAre("rigid-deformed"));
  EXPECT_THAT(broken(in("AE", {squashed, at_clock(make(6.2, "BAB", "C", "A", 4), 12)})), IsEmpty());
  Checks no_memory;
  ASSERT_TRUE(no_memory.switch_off("memory"));
  EXPECT_THAT(broken(in("AE", {squashed}), no_memory), IsEmpty()) << "stiffness is from memory";
}

}  // namespace
}  // namespace haunch::coding
