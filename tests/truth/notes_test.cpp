// SPDX-License-Identifier: Apache-2.0
// What no picture shows: its codes, when it is told, and that nobody is held to what was not told. And the
// spacing of joints, which no code of a fault carries.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "coding/validate.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

scene::Note air(double at_m, scene::Gas gas, double reading, std::string unit, std::string text = {}) {
  return {at_m, scene::NoteKind::air, gas, reading, std::move(unit), std::move(text), "/notes/0"};
}
scene::Note note(double at_m, scene::NoteKind kind, std::string text) {
  return {at_m, kind, scene::Gas::other, 0, "", std::move(text), "/notes/0"};
}
Truth derived(const scene::Scenario& scenario) { return derive(scene::build_scene(scenario)); }
std::vector<Observation> rows(const Truth& truth) {
  std::vector<Observation> found;
  for (const Observation& row : truth.record.observations)
    if (row.code != "BCD" && row.code != "BCE") found.push_back(row);
  return found;
}

TEST(Notes, HaveTheirCodeTheirPlaceAndWhatWasSaid) {
  scene::Scenario scenario = scene::plain_run();
  scenario.notes = {air(0, scene::Gas::oxygen, 18.2, "%"),
                    air(2, scene::Gas::hydrogen_sulphide, 12, "ppm"),
                    air(3, scene::Gas::methane, 4, "% LEL", "rising"),
                    air(4, scene::Gas::other, 30, "ppm", "petrol vapour"),
                    note(5, scene::NoteKind::remark, "under the wall"),
                    note(6, scene::NoteKind::photograph, ""),
                    note(7, scene::NoteKind::photograph, "the bend"),
                    note(8, scene::NoteKind::new_video, "V2"),
                    note(9, scene::NoteKind::new_photographs, "P2"),
                    note(9.5, scene::NoteKind::weather, "rain")};
  const Truth truth = derived(scenario);
  const std::vector<Observation> all = rows(truth);
  std::vector<std::string> codes, remarks;
  std::vector<double> places;
  for (const Observation& row : all) {
    codes.push_back(coding::show_code(row));
    remarks.push_back(row.remark);
    places.push_back(*row.distance_m.value);
  }
  EXPECT_THAT(codes,
              ElementsAre("BDF A", "BDF B", "BDF C", "BDF Z", "BDB", "BDA", "BDA", "AEA", "AEB", "AEG"));
  EXPECT_THAT(remarks,
              ElementsAre("oxygen, 18.2 %", "hydrogen sulphide, 12 ppm",
                          "methane, 4 % of the lower explosive limit; rising", "petrol vapour, 30 ppm",
                          "under the wall", "", "the bend", "V2", "P2", "rain"));
  EXPECT_THAT(places, ElementsAre(0, 2, 3, 4, 5, 6, 7, 8, 9, 9.5));
  EXPECT_EQ(all[0].q1.value, 18.2);
  EXPECT_NE(all[5].photo, all[6].photo) << "two photographs are not one";
  for (const Observation& row : all) EXPECT_FALSE(row.clock_from) << row.code;
  EXPECT_THAT(truth.record.not_visible, IsEmpty()) << "no picture shows them, but people are told";
  for (const base::Problem& problem : coding::validate(truth.record, coding::CodeList::shipped(), "run"))
    EXPECT_EQ(problem.severity, base::Severity::note) << base::to_line(problem);
}

TEST(Notes, AreThereFromEitherEnd) {
  scene::Scenario scenario = scene::plain_run();
  scenario.notes = {air(2, scene::Gas::methane, 1, "%")};
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  const std::vector<Observation> all = rows(derived(scenario));
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].distance_m, coding::Number(8));
}

TEST(Notes, NobodyIsHeldToWhatTheDriveDidNotComeTo) {
  scene::Scenario scenario = scene::plain_run();
  scenario.notes = {air(0, scene::Gas::oxygen, 18.2, "%"), air(6, scene::Gas::methane, 1, "%")};
  const auto untold = [&](double furthest_m) {
    const Truth truth = derived(scenario);
    std::vector<std::string> codes;
    for (const coding::NotVisible& one : as_told(truth, scenario, furthest_m).not_visible)
      codes.push_back(coding::show_code(*truth.record.find(one.observation)));
    return codes;
  };
  EXPECT_THAT(untold(0), ElementsAre("BDF C")) << "the air where the camera goes in is told before the drive";
  EXPECT_THAT(untold(5.9), ElementsAre("BDF C"));
  EXPECT_THAT(untold(6), IsEmpty());
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  EXPECT_THAT(untold(3.9), ElementsAre("BDF C", "BDF A"));
  EXPECT_THAT(untold(4), ElementsAre("BDF A"));
}

TEST(Notes, OfAirPeopleAreToldWhatToDo) {
  const std::string words = told_of(air(0, scene::Gas::hydrogen_sulphide, 12, "ppm"));
  EXPECT_THAT(words, HasSubstr("hydrogen sulphide, 12 ppm"));
  EXPECT_THAT(words, HasSubstr("keep out"));
  EXPECT_THAT(words, HasSubstr("local rules"));
}

TEST(UnitLength, IsToldWhereTheSpacingOfJointsChanges) {
  scene::Scenario scenario = scene::plain_run(12);
  scenario.sections.push_back(scenario.sections.front());
  scenario.sections[0].to_m = scenario.sections[1].from_m = 6;
  scenario.sections[1].unit_length_m = 1.5;
  auto all = rows(derived(scenario));
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].code, "AEF");
  EXPECT_EQ(all[0].q1.value, 1500);
  EXPECT_EQ(all[0].distance_m, coding::Number(6));
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  all = rows(derived(scenario));
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].q1.value, 1000) << "what the camera goes into";

  scenario.inspection = {};
  scenario.sections[1].unit_length_m = 1.05;
  EXPECT_THAT(rows(derived(scenario)), IsEmpty()) << "too little to be noticed";
  scenario.sections[1].unit_length_m = 3.5;
  EXPECT_THAT(rows(derived(scenario)), testing::SizeIs(1)) << "one whole unit tells";
  scenario.sections[1].unit_length_m = 7;
  EXPECT_THAT(rows(derived(scenario)), IsEmpty()) << "no two joints stand a unit apart";
}

TEST(Lining, ItsBeginAndItsEndAreChanges) {
  scene::Scenario scenario = scene::plain_run(12);
  scenario.sections.push_back(scenario.sections.front());
  scenario.sections[0].to_m = scenario.sections[1].from_m = 6;
  scenario.sections[1].material = scene::Material::liner;
  const auto remark = [&] {
    for (const Observation& row : rows(derived(scenario)))
      if (row.code == "AEE") return row.remark;
    return std::string("none");
  };
  EXPECT_EQ(remark(), "cured in place from here");
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  EXPECT_EQ(remark(), "no lining from here");
  scenario.sections[1].material = scene::Material::concrete;
  EXPECT_EQ(remark(), "none");
}

}  // namespace
}  // namespace haunch::truth
