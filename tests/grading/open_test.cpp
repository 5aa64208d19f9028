// SPDX-License-Identifier: Apache-2.0
// What is not known must not read as what is not there: classes of the whole pipe beside findings that have
// none, and marks that go from any cell of a scheme to the classes it decides.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "base/files.hpp"
#include "grading/grade_json.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::Place;
using testing::record_of;
using testing::seen;
using Json = nlohmann::json;

/// A pipe seen from end to end.
coding::Record whole(std::vector<coding::Observation> found, const std::string& material = "AE",
                     const std::string& bore_mm = "800") {
  found.insert(found.begin(), seen(0, "BCD", "A"));
  found.push_back(seen(30, "BCE", "A"));
  return record_of(std::move(found), material, bore_mm);
}

Grade second(const coding::Record& record, const Site& site = {}) {
  static const Scheme scheme = Scheme::shipped_named("mean-and-worst").value();
  return grade(record, scheme, site);
}
Grade three(const coding::Record& record, const Site& site = {}) {
  return grade(record, Scheme::shipped(), site);
}

const Overall& overall(const Grade& grade, const std::string& id) {
  for (const Overall& one : grade.overall)
    if (one.id == id) return one;
  throw std::runtime_error("no " + id);
}

/// Every condition of the three goals, so that nothing hangs on the site.
Site known_site() {
  return {{{"system", "foul water"},
           {"water_endangering", "no"},
           {"protection_zone", "outside"},
           {"groundwater", "invert above the aquifer"},
           {"soil", "loam, clay"}}};
}

/// A size below 0 cannot be: it must not read as the slightest one.
TEST(Open, ASizeBelow0GivesNoClass) {
  const coding::Record record = whole({seen(8, "BBC", "B", "", -5, Place{5, 7, false})});
  for (const Grade& all : {three(record, known_site()), second(record)}) {
    EXPECT_FALSE(all.object_class || all.object_least || all.object_most) << all.object_reason;
    EXPECT_THAT(all.object_reason, HasSubstr("-5 % cannot be, as no size is below 0"));
    ASSERT_EQ(all.open.size(), 1U);
    EXPECT_FALSE(all.open[0].classed);
    for (const GoalClass& goal : all.observations.at(0).goals) EXPECT_FALSE(goal.grade) << goal.reason;
  }
}

TEST(Open, ASizeBelow0AnywhereInARunLeavesItOpen) {
  coding::Observation begin = seen(8, "BBC", "B", "", 20, Place{5, 7, false}), end = begin;
  begin.stretch = "A1";
  end.stretch = "B1";
  end.distance_m = 9;
  EXPECT_TRUE(three(whole({begin, end}), known_site()).open.empty());
  end.q1 = -5;
  const Grade all = three(whole({begin, end}), known_site());
  EXPECT_EQ(all.object_class, three(whole({begin}), known_site()).object_class) << "what is given counts";
  ASSERT_EQ(all.open.size(), 1U);
  EXPECT_THAT(all.open[0].what, HasSubstr("not given in full"));
}

/// A run that nobody ended has no length: numbers that hang on one are too small, and say so.
TEST(Open, TheLengthOfARunWithoutAnEndIsNotKnown) {
  coding::Observation begin = seen(5, "BBC", "B", "", 30, Place{5, 7, false}), end = begin;
  begin.stretch = "A1";
  end.stretch = "B1";
  end.distance_m = 9;
  for (const bool ended : {true, false}) {
    coding::Record record = ended ? whole({begin, end}) : whole({begin});
    record.set_header("ABQ", "30");
    for (const Grade& all : {three(record, known_site()), second(record)}) {
      EXPECT_EQ(all.lengths_complete, ended);
      EXPECT_EQ(all.object_class, all.object_most) << "the class does not hang on the length";
      ASSERT_EQ(all.open.size(), ended ? 0U : 1U);
      if (ended) continue;
      EXPECT_EQ(all.open[0].observation, "o2");
      EXPECT_TRUE(all.open[0].classed);
      EXPECT_THAT(all.open[0].what, HasSubstr("the end of the run is not recorded"));
    }
    EXPECT_EQ(overall(second(record), "functional_density").complete, ended);
    EXPECT_TRUE(overall(second(record), "functional").complete);
    EXPECT_EQ(three(record, known_site()).object_reason.find("number is at least ") == std::string::npos,
              ended);
  }
}

TEST(OpenSecond, AGrossStepWithoutTheWallIsNoSoundPipe) {
  const coding::Record record = whole({seen(5, "BAJ", "B", "", 140)});
  ASSERT_EQ(second(record, {{{"wall_thickness_mm", "100"}}}).object_class, 3);
  const Grade all = second(record);
  EXPECT_FALSE(all.object_class);
  EXPECT_FALSE(all.object_most);
  EXPECT_THAT(all.object_reason,
              AllOf(HasSubstr("no object class"), HasSubstr("BAJ B"),
                    HasSubstr("wall thickness of the pipe is not known"), Not(HasSubstr("nothing to do"))));
  ASSERT_EQ(all.open.size(), 1U);
  EXPECT_EQ(all.open[0].observation, "o2");
  EXPECT_EQ(all.open[0].goal, "structural");
  EXPECT_FALSE(all.open[0].classed);
  EXPECT_FALSE(overall(all, "structural").grade || overall(all, "structural").complete);
  EXPECT_THAT(overall(all, "structural").reason, HasSubstr("1 finding has no class"));
  EXPECT_EQ(overall(all, "functional").grade, 1) << "nothing hinders the flow, and that is known";
  EXPECT_TRUE(overall(all, "functional").complete);
}

TEST(OpenSecond, BesideAWorseFindingTheClassIsALowerBound) {
  const Grade all = second(whole({seen(5, "BAJ", "B", "", 140), seen(20, "BAF", "C", "A")}));
  EXPECT_EQ(all.object_class, 2);
  EXPECT_EQ(all.object_least, 2);
  EXPECT_EQ(all.object_most, 4);
  EXPECT_THAT(all.object_reason, AllOf(HasSubstr("lower bound"), HasSubstr("wall thickness")));
  EXPECT_EQ(overall(all, "structural").grade, 2);
  EXPECT_FALSE(overall(all, "structural").complete);
  EXPECT_FALSE(overall(all, "structural_density").complete || overall(all, "structural").meaning.empty());
}

TEST(OpenSecond, BesideASlightOneThereIsNoClassAndNothingSaysThatAllIsWell) {
  const Grade all = second(whole({seen(5, "BAJ", "B", "", 140), seen(20, "BAB", "A", "A")}));
  EXPECT_FALSE(all.object_class);
  EXPECT_FALSE(overall(all, "structural").grade);
  EXPECT_EQ(overall(all, "structural").number, 0.5);
  for (const Overall& one : all.overall)
    if (one.id == "structural" || one.id == "repair") {
      EXPECT_THAT(one.meaning, Not(HasSubstr("no"))) << one.id;
    }
}

TEST(OpenSecond, WhatTheSchemeHasNoRowForCountsAsOpen) {
  const Grade all = second(whole({seen(5, "BAP"), seen(20, "BAF", "C", "A")}));
  EXPECT_EQ(all.object_most, 4);
  ASSERT_EQ(all.open.size(), 1U);
  EXPECT_EQ(all.open[0].goal, "");
  EXPECT_THAT(all.object_reason, HasSubstr("BAP (the scheme has no class for it)"));
}

TEST(OpenSecond, AnIndexThatIsNotKnownLeavesTheClassOpenAsFarAsItCouldReach) {
  // RI is at most 0.7 x 2 + 0.15 x 10 = 2.9 for a score of 2: class 2, as F has it.
  const Grade slight = second(whole({seen(20, "BAF", "C", "A")}));
  EXPECT_EQ(slight.object_class, 2);
  EXPECT_EQ(slight.object_most, 2);
  EXPECT_TRUE(slight.open.empty());
  // 0.7 x 10 + 0.05 x 3 = 7.15 and more: class 4, as F has it. 0.7 x 5 + 1 + 0.15 + 1.5 = 6.15: class 3.
  for (const auto& [code, ch1, wanted] : {std::tuple("BAC", "C", 4), {"BBF", "D", 3}}) {
    const Grade bad = second(whole({seen(20, code, ch1)}));
    EXPECT_EQ(bad.object_class, wanted);
    EXPECT_EQ(bad.object_most, wanted);
  }
  // 0.7 x 1 + 0.15 x 10 = 2.2: class 2, where F has 1.
  const Grade worse = second(whole({seen(20, "BAI", "A", "B")}));
  EXPECT_EQ(worse.object_class, 1);
  EXPECT_EQ(worse.object_most, 2);
  EXPECT_THAT(worse.object_reason, HasSubstr("lower bound, 1 to 2"));
  ASSERT_EQ(worse.open.size(), 1U);
  EXPECT_EQ(worse.open[0].what, "repair index (RI) not given, as not known: ground round the pipe");
}

TEST(OpenSecond, WithoutAPlaceNobodyKnowsWhatLiesClose) {
  coding::Observation lost = seen(5, "BAB", "C", "A");
  lost.distance_m = {};
  const Grade all = second(whole({lost, seen(5.5, "BAB", "C", "A")}));
  EXPECT_EQ(all.object_class, 2);
  EXPECT_EQ(all.object_most, 4);
  EXPECT_THAT(all.object_reason, HasSubstr("where it lies is not given"));
  EXPECT_EQ(second(whole({lost})).object_most, 2) << "alone it is close to nothing";
}

TEST(OpenSecond, OneHourTellsNoArcWhereTwoAreAskedFor) {
  const Grade all = second(whole({seen(5, "BAC", "A", "", {}, Place{3, {}, false})}));
  EXPECT_EQ(all.object_class, 3);
  EXPECT_EQ(all.object_most, 4);
  EXPECT_EQ(second(whole({seen(5, "BAC", "A", "", {}, Place{2, 3, false})})).object_most, 3);
}

TEST(OpenSecond, FiguresAndBoundsOfEveryNumberAreWritten) {
  coding::Record record =
      whole({seen(5, "BAF", "G", "A"), seen(7.2, "BAB", "C", "A"), seen(20, "BAF", "C", "A")});
  record.set_header("ABQ", "30");
  const Site site{{{"area", "anywhere else"}, {"ground", "mud"}}};
  const Json json = Json::parse(to_json(second(record, site), record));
  std::map<std::string, Json> by_id;
  for (const Json& one : json.at("overall")) by_id[one.at("id").get<std::string>()] = one;
  ASSERT_EQ(by_id.size(), 5U) << "no density without a functional defect";
  const Json& condition = by_id.at("structural");
  EXPECT_NEAR(condition.at("figures").at("mean").get<double>(), (2 + 1.1 * 7) / 3, 1e-9);
  EXPECT_EQ(condition.at("figures").at("worst"), 5);
  EXPECT_EQ(condition.at("number"), 5);
  EXPECT_EQ(condition.at("bounds"), Json({{"2", 1}, {"3", 3}, {"4", 6}}));
  EXPECT_EQ(condition.at("bound_included"), false);
  EXPECT_NEAR(by_id.at("structural_density").at("figures").at("scores times lengths").get<double>(),
              2 + 1.1 * 7, 1e-9);
  EXPECT_EQ(by_id.at("structural_density").at("figures").at("length_m"), 30);
  EXPECT_EQ(by_id.at("repair").at("figures"), Json({{"structural", 5}, {"K", 0}, {"E", 3}, {"T", 10}}));
  EXPECT_NEAR(by_id.at("repair").at("number").get<double>(), 0.7 * 5 + 0.05 * 3 + 0.15 * 10, 1e-9);
  for (const auto& [id, one] : by_id) {
    EXPECT_EQ(one.at("provisional"), true) << id;
    EXPECT_THAT(one.at("source").get<std::string>(), Not(::testing::IsEmpty())) << id;
  }
  EXPECT_EQ(json.at("object_class_most"), json.at("object_class"));
  EXPECT_EQ(json.at("open"), Json::array());
}

TEST(OpenThree, AFindingWithoutAClassIsNoSlightOne) {
  const Grade none = three(whole({seen(3, "BAB", "A", "A", {}, {12, {}, false}), seen(5, "BAB", "B", "A")}));
  EXPECT_FALSE(none.object_class);
  EXPECT_THAT(none.object_reason, AllOf(HasSubstr("no object class"), HasSubstr("BAB B A"),
                                        HasSubstr("is not given"), Not(HasSubstr("no action"))));
  const Grade bound =
      three(whole({seen(3, "BAI", "A", "A", {}, {12, {}, false}), seen(5, "BAB", "B", "A")}), known_site());
  EXPECT_EQ(bound.object_class, 3);
  EXPECT_EQ(bound.object_least, 3);
  EXPECT_EQ(bound.object_most, 5);
  EXPECT_FALSE(overall(bound, "object").complete);
}

TEST(OpenThree, AGoalWithoutAClassLeavesThePipeOpenToo) {
  // Roots: tight or not is known, how much they hinder is not.
  const Grade all = three(whole({seen(3, "BBA", "A", "", {}, {12, {}, false})}), known_site());
  EXPECT_EQ(all.object_class, 3);
  EXPECT_EQ(all.object_most, 5);
  ASSERT_EQ(all.open.size(), 1U);
  EXPECT_EQ(all.open[0].goal, "operation");
}

TEST(OpenThree, TheSiteLeavesTheClassOpenAsFarAsItsPointsReach) {
  // 200 for the class; surface water takes 30, the other conditions are worth nothing here.
  const auto graded = [](const std::string& without) {
    Site site = known_site();
    site.values["system"] = "surface water";
    site.values["water_endangering"] = "yes";
    site.values.erase(without);
    return three(whole({seen(3, "BAI", "A", "A", {}, {12, {}, false})}), site);
  };
  const Grade known = graded("");  // 200 - 30 + 150 = 320
  EXPECT_EQ(known.object_class, 4);
  EXPECT_EQ(known.object_least, 4);
  EXPECT_EQ(known.object_most, 4);
  EXPECT_TRUE(known.open.empty());
  const Grade zone = graded("protection_zone");  // up to 400 more
  EXPECT_EQ(zone.object_class, 4);
  EXPECT_EQ(zone.object_most, 5);
  EXPECT_THAT(zone.object_reason, HasSubstr("that hangs on what is not known: conditions of the site"));
  ASSERT_EQ(zone.open.size(), 1U);
  EXPECT_EQ(zone.open[0].what, "water protection zone not known");
  const Grade soil = graded("soil");  // 30 more: 350
  EXPECT_EQ(soil.object_most, 4);
  EXPECT_TRUE(soil.open.empty());
  // The system may take 50 or give 30, of 350.
  EXPECT_EQ(graded("system").object_least, 4);
  Site no_system;
  no_system = known_site();
  no_system.values.erase("system");
  no_system.values["protection_zone"] = "outside";
  no_system.values["water_endangering"] = "";
  const Grade down = three(whole({seen(3, "BAI", "A", "A", {}, {12, {}, false})}), no_system);
  EXPECT_EQ(down.object_class, 3);
  EXPECT_EQ(down.object_least, 2) << "150 in a culverted watercourse";
  EXPECT_EQ(down.object_most, 4) << "200 + 30 + 150";
}

TEST(OpenAlong, AChangeOfShapeToNoHeightLeavesTheBoreOpen) {
  const coding::Record known = whole({seen(3, "AEC", "A", "", 300), seen(5, "BAJ", "C", "", 5)}, "AE", "150");
  const coding::Record open = whole({seen(3, "AEC", "A"), seen(5, "BAJ", "C", "", 5)}, "AE", "150");
  EXPECT_EQ(three(known).observations.at(0).worst, 4);
  EXPECT_EQ(three(open).observations.at(0).goals.at(0).outcome, Outcome::condition_unknown);
}

TEST(OpenAlong, ARunWhoseBeginHasNoSizeMayBeLargerThere) {
  const auto run = [](const coding::Number& at_begin, const coding::Number& at_end) {
    coding::Observation begin = seen(3, "BBC", "A", "", at_begin), end = seen(9, "BBC", "A", "", at_end);
    begin.stretch = "A1";
    end.stretch = "B1";
    return second(whole({begin, end}));
  };
  EXPECT_EQ(run(45, {}).object_most, run(45, {}).object_class) << "an end often repeats nothing";
  const Grade open = run({}, 45);
  EXPECT_EQ(open.object_class, run(45, 45).object_class);
  EXPECT_EQ(open.object_most, 4);
  EXPECT_FALSE(run({}, 12).object_class) << "no defect where it is given, and not known where it is not";
  EXPECT_EQ(run(12, 12).object_class, 1);
}

/// A scheme file with every value said to be from one source that was read, and then one that was not.
class Marked : public ::testing::Test {
 protected:
  static Json firm(const std::string& id) {
    Json file = Json::parse(base::read_file(base::content_dir() / "grading" / (id + ".json")).value());
    file["sources"]["read"] = "read for a test";
    file.erase("provisional_sources");
    settle(file);
    return file;
  }
  static void settle(Json& json) {
    if (json.is_object()) {
      for (const char* key : {"source", "meaning_source"})
        if (json.contains(key)) json[key] = Json::array({"read"});
      if (json.contains("provisional")) json["provisional"] = false;
      if (json.contains("mapping")) json["mapping"] = "good";
    }
    for (auto& part : json)
      if (part.is_structured()) settle(part);
  }
  Grade graded(const Json& file, const coding::Record& record, const Site& site) const {
    const auto path = std::filesystem::temp_directory_path() /
                      (std::string("haunch-marked-") +
                       ::testing::UnitTest::GetInstance()->current_test_info()->name() + ".json");
    std::ofstream(path) << file.dump(1);
    auto read = Scheme::read(path);
    std::filesystem::remove(path);
    EXPECT_TRUE(read.ok()) << (read.ok() ? "" : base::to_line(read.problems().front()));
    return read.ok() ? grade(record, read.value(), site) : Grade{};
  }
  void expect_marked(const std::string& id, const std::vector<std::string>& places,
                     const coding::Record& record, const Site& site) const {
    const Json file = firm(id);
    ASSERT_FALSE(decides_on_provisional(graded(file, record, site))) << id;
    for (const std::string& place : places) {
      Json one = file;
      one[Json::json_pointer(place)]["source"] = Json::array({"memory"});
      if (file[Json::json_pointer(place)].contains("provisional"))
        one[Json::json_pointer(place)]["provisional"] = true;
      EXPECT_TRUE(decides_on_provisional(graded(one, record, site))) << id << " " << place;
    }
  }
};

TEST_F(Marked, EveryCellOfThreeGoalsThatANumberRestsOn) {
  std::vector<std::string> places{"/class_numbers", "/object_class"};
  for (int i = 0; i < 7; ++i) places.push_back("/boundary_points/conditions/" + std::to_string(i));
  expect_marked("three-goals", places, whole({seen(3, "BAI", "A", "A", {}, {12, {}, true})}), known_site());
}

TEST_F(Marked, EveryCellOfMeanAndWorstThatANumberRestsOn) {
  std::vector<std::string> places;
  for (const char* counted : {"least_length_m", "together_within_m", "close_within_m", "close_factor"})
    places.push_back(std::string("/mean_score/counting/") + counted);
  for (const char* judged : {"/mean_score/judged/0", "/mean_score/judged/0/index", "/mean_score/judged/1",
                             "/mean_score/importance/2/options/1", "/mean_score/importance/0/options/1"})
    places.emplace_back(judged);
  expect_marked("mean-and-worst", places, whole({seen(3, "BBF", "D"), seen(20, "BBF", "D")}),
                {{{"area", "main road, or buildings of the second class near by"},
                  {"ground", "silty sand"},
                  {"wall_thickness_mm", "100"}}});
}

}  // namespace
}  // namespace haunch::grading
