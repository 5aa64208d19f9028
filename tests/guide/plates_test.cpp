// SPDX-License-Identifier: Apache-2.0
// Plates: what they say is what their runs give, every code has one, and each shows what it is for.
#include "guide/plates.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>

#include "base/files.hpp"
#include "coding/code_list.hpp"
#include "sight/sight.hpp"

namespace haunch::guide {
namespace {

const Plates& shipped() {
  static const Plates all = [] {
    auto read = read_plates(shipped_plates());
    std::string wrong;
    for (const base::Problem& problem : read.problems()) wrong += base::to_line(problem) + "\n";
    EXPECT_TRUE(read.ok()) << wrong;
    return read.ok() ? std::move(read).value() : Plates{};
  }();
  return all;
}

TEST(ShippedPlates, HaveNamesOfTheirOwnThatSayCodeAndMaterial) {
  std::set<std::string> names;
  for (const Plate& plate : shipped().plates) {
    EXPECT_TRUE(names.insert(plate.name).second) << plate.name;
    std::string code = coding::show_code(plate.subject);
    std::replace(code.begin(), code.end(), ' ', '-');
    EXPECT_THAT(plate.name, testing::StartsWith(code + "-"));
  }
  EXPECT_GT(names.size(), 100U);
}

// Two pictures of one thing in one material are two things, not one twice.
TEST(ShippedPlates, AreEachDrawnByASeedOfTheirOwn) {
  std::set<std::uint64_t> seeds;
  for (const Plate& plate : shipped().plates)
    EXPECT_TRUE(seeds.insert(plate.scene.scenario.seed).second) << plate.name;
}

struct Written {
  std::string text = R"({ "kind": "plates", "edition": 1,
 "base": { "kind": "scenario", "edition": 1, "title": "Plate", "place": "Yard",
   "pipe": { "bore_mm": 150, "length_m": 6, "sections": [ { "to_m": 6, "material": "*", "unit_length_m": 1 } ] },
   "start": { "kind": "manhole", "name": "P1" }, "finish": { "kind": "manhole", "name": "P2" }, "faults": [],
   "inspection": { "from": "start", "distance_zero": "start" } },
 "plates": [
  { "code": "CODE", "materials": [ "clay", "concrete" ],
    "run": { "faults": [ { "kind": "joint gap", "at_m": 3, "gap_mm": GAP } ] }, "look": { "ahead_m": 0.4 } } ],
 "unpictured": { "BDF": "nobody sees the air" } })";
  Written& put(const std::string& key, const std::string& value) {
    text.replace(text.find(key), key.size(), value);
    return *this;
  }
  base::Result<Plates> read() const {
    const auto file = std::filesystem::path(testing::TempDir()) / "own-plates.json";
    std::ofstream(file) << text;
    return read_plates(file);
  }
};

TEST(Plates, StandBeforeWhatTheyShowInEachMaterial) {
  const auto read = Written().put("CODE", "BAJ A").put("GAP", "20").read();
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  ASSERT_EQ(read.value().plates.size(), 2U);
  const Plate& clay = read.value().plates[0];
  EXPECT_EQ(clay.name, "BAJ-A-clay");
  EXPECT_EQ(read.value().plates[1].name, "BAJ-A-concrete");
  EXPECT_EQ(read.value().plates[1].scene.scenario.sections.front().material, scene::Material::concrete);
  EXPECT_EQ(clay.fault, 1);
  EXPECT_EQ(clay.subject.q1.value, 20);
  EXPECT_NEAR(clay.lens_at_m, clay.subject.distance_m.value.value() - 0.4, 0.011);
  ASSERT_EQ(read.value().unpictured.size(), 1U);
  EXPECT_EQ(read.value().unpictured[0].code, "BDF");
}

// The picture and its name cannot disagree: what is not in the run has no plate.
TEST(Plates, WhoseRunGivesAnotherCodeAreRefused) {
  const auto read = Written().put("CODE", "BAJ B").put("GAP", "20").read();
  ASSERT_FALSE(read.ok());
  EXPECT_THAT(base::to_line(read.problems().front()),
              testing::AllOf(testing::HasSubstr("own-plates.json:7:"), testing::HasSubstr("BAJ-B-clay"),
                             testing::HasSubstr("it gives BAJ A")));
}

TEST(Plates, WithARunThatCannotBeTellWhatIsWrong) {
  const auto read = Written().put("CODE", "BAJ A").put("GAP", "-3").read();
  ASSERT_FALSE(read.ok());
  EXPECT_THAT(base::to_line(read.problems().front()),
              testing::AllOf(testing::HasSubstr("own-plates.json:8:"), testing::HasSubstr("gap_mm")));
}

/// What is found in or of a pipe: each main code with each first letter. Of another kind (Z) may look like
/// anything, and what a pipe changes into is the pipe's own picture.
std::set<std::string> to_be_pictured() {
  std::set<std::string> codes{"AEC", "AED"};
  for (const coding::CodeEntry& entry : coding::CodeList::shipped().codes()) {
    if (entry.code[0] != 'B' || entry.code[1] > 'D') continue;
    if (entry.ch1.empty()) codes.insert(entry.code);
    for (const auto& [letter, words] : entry.ch1)
      if (letter != "Z") codes.insert(entry.code + " " + letter);
  }
  return codes;
}

TEST(ShippedPlates, ShowEveryCodeOrSayWhyNoPictureCan) {
  std::set<std::string> have;
  for (const Plate& plate : shipped().plates)
    have.insert({plate.subject.code, plate.subject.code + " " + plate.subject.ch1});
  for (const Unpictured& code : shipped().unpictured) {
    EXPECT_THAT(have, testing::Not(testing::Contains(code.code)))
        << "has a plate and a reason for having none";
    have.insert(code.code);
  }
  // A reason may be for all of a main code.
  std::set<std::string> reasons;
  for (const Unpictured& code : shipped().unpictured) reasons.insert(code.code);
  for (const std::string& code : to_be_pictured())
    EXPECT_TRUE(have.contains(code) || reasons.contains(code.substr(0, 3)))
        << code << " has neither plate nor reason";
}

std::vector<std::string> main_codes() {
  std::set<std::string> codes;
  for (const Plate& plate : shipped().plates) codes.insert(plate.subject.code);
  return {codes.begin(), codes.end()};
}

/// The plates of one main code, so that they run beside the others'.
class PlatesOf : public testing::TestWithParam<std::string> {};

// As `sight` measures it: the picture differs from the one without the fault, by enough and over enough of
// it.
TEST_P(PlatesOf, ShowPlainlyWhatTheyAreFor) {
  for (const Plate& plate : shipped().plates) {
    if (plate.subject.code != GetParam() || plate.fault == 0) continue;
    const sight::Look look{plate.pose.lens.z, plate.pose.yaw_deg, plate.pose.pitch_deg, 1};
    sight::Options options;
    options.width = 640;
    options.height = 360;
    options.threads = 2;
    const auto seen = sight::seen_on(plate.scene, {look}, options);
    const sight::Seen& one = seen.at(static_cast<std::size_t>(plate.fault - 1));
    EXPECT_TRUE(one.plain()) << plate.name << " differs in " << 100 * one.most_share
                             << " % of the picture, by " << 100 * one.contrast << " % of white";
  }
}
INSTANTIATE_TEST_SUITE_P(Codes, PlatesOf, testing::ValuesIn(main_codes()),
                         [](const auto& one) { return one.param; });

}  // namespace
}  // namespace haunch::guide
