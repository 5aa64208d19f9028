// SPDX-License-Identifier: Apache-2.0
// The scheme "mean and worst": every cell of its tables against what was read or remembered of the published
// standard (CJJ 181-2012, chapter 8; 22 of 116 cells seen in reprints, the rest from memory), bounds through
// whole Records, and a check case. No published worked example was found: the check case is ours.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "base/files.hpp"
#include "grading/grade_json.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using testing::Place;
using testing::record_of;
using testing::seen;
using Json = nlohmann::json;

#define NEEDS_REFERENCE(name)                                  \
  const auto name = testing::reference("grading-second.json"); \
  if (!name) GTEST_SKIP() << "the reference file grading-second.json is not here"

const Scheme& scheme() {
  static const Scheme read = Scheme::shipped_named("mean-and-worst").value();
  return read;
}

Json shipped_file() {
  return Json::parse(base::read_file(base::content_dir() / "grading" / "mean-and-worst.json").value());
}

std::optional<double> number_in(const Json& json, const std::string& key) {
  return json.contains(key) && !json.at(key).is_null() ? std::optional(json.at(key).get<double>())
                                                       : std::nullopt;
}

/// What was seen names its page, what was not says so: neither may pass for the other.
void expect_same_source(const Json& ours, const Json& read, const std::string& where) {
  const auto sources = ours.at("source").get<std::set<std::string>>();
  if (read.at("status") == "seen") {
    EXPECT_TRUE(sources.contains(read.at("src").get<std::string>())) << where;
    EXPECT_FALSE(sources.contains("memory")) << where;
  } else {
    EXPECT_EQ(sources, std::set<std::string>{"memory"}) << where;
    EXPECT_EQ(ours.at("confidence"), read.at("confidence")) << where;
  }
}

/// Our tables of one defect: hard and soft scale have one each.
std::vector<std::pair<std::string, std::string>> tables_for(const std::string& code) {
  if (code == "JG") return {{"JG hard", "hard_above"}, {"JG soft", "soft_above"}};
  return {{code, "above"}};
}

TEST(SecondTables, EveryCellIsWrittenAsItWasRead) {
  NEEDS_REFERENCE(file);
  const Json ours = shipped_file();
  int cells = 0, from_memory = 0;
  std::set<std::string> met;
  for (const char* kind : {"structural", "functional"})
    for (const Json& defect : file->at(std::string(kind) + "_defects"))
      for (const auto& [name, above] : tables_for(defect.at("code").get<std::string>())) {
        // Scum is recorded and never scored, and no code stands for it.
        if (!ours.at("tables").contains(name)) {
          EXPECT_EQ(name, "FZ");
          continue;
        }
        met.insert(name);
        const Json& table = ours.at("tables").at(name);
        EXPECT_EQ(table.at("goal"), kind) << name;
        EXPECT_EQ(table.at("grades").size(), defect.at("grades").size()) << name;
        for (const Json& grade : defect.at("grades")) {
          const std::string where = name + " " + std::to_string(grade.at("grade").get<int>());
          const Json& cell = table.at("grades").at(std::to_string(grade.at("grade").get<int>()));
          EXPECT_EQ(number_in(cell.at("score"), "value"), number_in(grade, "score")) << where;
          EXPECT_EQ(number_in(cell.at("criterion"), "above"), number_in(grade, above)) << where;
          expect_same_source(cell.at("criterion"), grade.at("provenance").at("criterion"), where);
          expect_same_source(cell.at("score"), grade.at("provenance").at("score"), where);
          cells += 2;
          from_memory += grade.at("provenance").at("criterion").at("status") == "memory" ? 1 : 0;
          from_memory += grade.at("provenance").at("score").at("status") == "memory" ? 1 : 0;
        }
      }
  EXPECT_EQ(met.size(), ours.at("tables").size()) << "a table that nobody has read";
  // 116 cells less the 6 of scum, and scale stands twice.
  EXPECT_EQ(cells, 116 - (met.contains("FZ") ? 0 : 6) + 8);
  EXPECT_EQ(cells - from_memory, 22);
}

TEST(SecondTables, BoundsAndCountingAreWrittenAsTheyWereRead) {
  NEEDS_REFERENCE(file);
  const Json mean = shipped_file().at("mean_score");
  const auto& bounds = file->at("grade_bounds");
  const auto same = [](const Json& ours, const Json& read, const std::string& name) {
    const std::map<std::string, std::string> roman = {{"I", "1"}, {"II", "2"}, {"III", "3"}, {"IV", "4"}};
    for (const Json& one : read) {
      const std::string grade = roman.at(one.at("grade").get<std::string>());
      EXPECT_EQ(number_in(ours.at("above"), grade), number_in(one, "above")) << name << " " << grade;
      // Seen or not: no page that was seen names the standard.
      EXPECT_TRUE(ours.at("provisional").get<bool>()) << name << " " << grade;
      const bool memory = one.at("provenance").at("bounds").at("status") == "memory";
      EXPECT_EQ(ours.at("source") == Json::array({"memory"}), memory) << name << " " << grade;
    }
    EXPECT_EQ(ours.at("meaning").size(), read.size()) << name;
  };
  ASSERT_EQ(mean.at("judged").size(), 2U);
  const Json &structural = mean.at("judged")[0], &functional = mean.at("judged")[1];
  same(structural, bounds.at("F"), "F");
  same(functional, bounds.at("G"), "G");
  same(structural.at("index"), bounds.at("RI"), "RI");
  same(functional.at("index"), bounds.at("MI"), "MI");
  for (const Json& judged : mean.at("judged")) {
    EXPECT_EQ(judged.at("density").at("low"), bounds.at("YM")[0].at("bounds")[0]);
    EXPECT_EQ(judged.at("density").at("high"), bounds.at("YM")[0].at("bounds")[1]);
  }
  EXPECT_EQ(mean.at("counting").at("close_factor").at("value"),
            file->at("aggregation").at("structural").at("S").at("alpha"));
  EXPECT_EQ(mean.at("counting").at("close_factor").at("value"),
            file->at("aggregation").at("functional").at("Y").at("beta"));
  // Formulas stand in words: 0.7 F + 0.1 K + 0.05 E + 0.15 T, and 0.8 G + 0.15 K + 0.05 E.
  EXPECT_EQ(file->at("aggregation").at("structural").at("RI").at("formula"),
            "0.7*F + 0.1*K + 0.05*E + 0.15*T");
  EXPECT_EQ(structural.at("index").at("of_number"), 0.7);
  EXPECT_EQ(structural.at("index").at("of"), Json({{"K", 0.1}, {"E", 0.05}, {"T", 0.15}}));
  EXPECT_EQ(file->at("aggregation").at("functional").at("MI").at("formula"), "0.8*G + 0.15*K + 0.05*E");
  EXPECT_EQ(functional.at("index").at("of_number"), 0.8);
  EXPECT_EQ(functional.at("index").at("of"), Json({{"K", 0.15}, {"E", 0.05}}));
}

TEST(SecondTables, WhatTheSiteIsWorthIsWrittenAsItWasRead) {
  NEEDS_REFERENCE(file);
  std::map<std::string, std::vector<double>> ours, read;
  const Json mean = shipped_file().at("mean_score");
  for (const Json& one : mean.at("importance"))
    for (const Json& option : one.at("options"))
      ours[one.at("id").get<std::string>()].push_back(option.at("value").get<double>());
  for (const auto& [id, parameter] : file->at("site_parameters").items()) {
    if (!parameter.contains("rows")) continue;
    for (const Json& row : parameter.at("rows"))
      for (const Json& value : row.at("value").is_array() ? row.at("value") : Json::array({row.at("value")}))
        read[id].push_back(value.get<double>());
  }
  EXPECT_EQ(ours, read);
}

struct Ground {
  Site site;
  std::string material = "AE", bore_mm = "800";
};

ObservationGrade second(const coding::Observation& one, const Ground& ground = {}) {
  const Grade all = grade(record_of({one}, ground.material, ground.bore_mm), scheme(), ground.site);
  return all.observations.empty() ? ObservationGrade{} : all.observations.front();
}

/// A finding that is measured against a table, and the size that stands for one unit of it.
struct Measured {
  std::string table, code, ch1, ch2, remark;
  double per_unit = 1;
};
const std::vector<Measured>& measured() {
  static const std::vector<Measured> all = {
      {"BX", "BAA", "A", "", ""},           {"CK", "BAJ", "B", "", "", 80}, {"TJ", "BAJ", "A", "", ""},
      {"AJ", "BAG", "A", "", ""},           {"CR", "BBE", "G", "", ""},     {"ZW", "BBE", "A", "", ""},
      {"CQ", "BBE", "A", "", "a dam left"}, {"SG", "BBA", "A", "", ""},     {"JG hard", "BBB", "A", "", ""},
      {"JG soft", "BBB", "B", "", ""},      {"CJ", "BBC", "A", "", ""},     {"QF", "BDD", "A", "", "sag"}};
  return all;
}

/// Ours: a size on a bound keeps the slighter class.
TEST(SecondBounds, OnTheBoundTheSlighterClassJustOverItTheWorse) {
  const Json tables = shipped_file().at("tables");
  Ground ground{{{{"wall_thickness_mm", "80"}}}, "AX", "800"};
  int bounds = 0;
  for (const Measured& one : measured()) {
    std::optional<int> before;
    for (const auto& [key, cell] : tables.at(one.table).at("grades").items()) {
      const auto above = number_in(cell.at("criterion"), "above");
      if (!above) continue;
      ++bounds;
      const auto at = [&](double size) {
        coding::Observation finding = seen(3, one.code, one.ch1, one.ch2, coding::Number(size));
        finding.remark = one.remark;
        return second(finding, ground);
      };
      const ObservationGrade on = at(*above * one.per_unit), over = at((*above + 0.001) * one.per_unit);
      EXPECT_EQ(on.worst, before) << one.table << " " << key;
      EXPECT_EQ(over.worst, std::stoi(key)) << one.table << " " << key;
      EXPECT_EQ(over.max_number, number_in(cell.at("score"), "value")) << one.table << " " << key;
      before = std::stoi(key);
    }
  }
  EXPECT_EQ(bounds, 45);
}

TEST(SecondBounds, TheArcOfABreakIsReadFromTheClock) {
  const auto worst = [](Place place) { return second(seen(3, "BAC", "A", "", {}, place)).worst; };
  EXPECT_EQ(worst({12, 2, false}), 3) << "60 degrees";
  EXPECT_EQ(worst({12, 3, false}), 4) << "90 degrees";
  EXPECT_EQ(worst({11, 1, false}), 3) << "over the top";
  EXPECT_EQ(worst({12, 12, false}), 4) << "whole circumference";
  EXPECT_EQ(worst({3, {}, false}), 3) << "a place without an arc";
  EXPECT_EQ(worst({}), 4) << "no clock: the worse, ours";
}

TEST(SecondKinds, LettersChooseTheClass) {
  struct Kind {
    std::string code, ch1, ch2;
    int grade;
    double score;
  };
  for (const Kind& one :
       {Kind{"BAB", "A", "A", 1, 0.5}, Kind{"BAB", "B", "A", 1, 0.5}, Kind{"BAB", "C", "A", 2, 2},
        Kind{"BAC", "C", "", 4, 10}, Kind{"BAD", "A", "", 2, 2}, Kind{"BAD", "C", "", 3, 5},
        Kind{"BAD", "D", "", 4, 10}, Kind{"BAF", "A", "A", 1, 0.5}, Kind{"BAF", "C", "A", 2, 2},
        Kind{"BAF", "G", "A", 3, 5}, Kind{"BAI", "A", "B", 1, 1}, Kind{"BAI", "A", "C", 2, 3},
        Kind{"BAI", "A", "D", 2, 3}, Kind{"BBF", "A", "", 1, 0.5}, Kind{"BBF", "B", "", 1, 0.5},
        Kind{"BBF", "C", "", 2, 2}, Kind{"BBF", "D", "", 3, 5}}) {
    const ObservationGrade graded = second(seen(3, one.code, one.ch1, one.ch2));
    EXPECT_EQ(graded.worst, one.grade) << one.code << one.ch1 << one.ch2;
    EXPECT_EQ(graded.max_number, one.score) << one.code << one.ch1 << one.ch2;
  }
  for (const char* code : {"BAE", "BAH", "BAK", "BAL", "BAM", "BAN", "BAO", "BAP", "BBD", "BBG", "BBH"})
    EXPECT_FALSE(second(seen(3, code, "A", "", 40)).worst) << code << " has no counterpart";
  EXPECT_FALSE(second(seen(3, "BAJ", "C", "", 10)).worst);
  EXPECT_FALSE(second(seen(3, "BAA", "A", "", 20)).worst) << "a rigid pipe is graded by its break";
}

TEST(SecondSite, AQuotientIsShownToThreePlacesAndNeverOnTheOtherSideOfABound) {
  const auto reason = [](double step_mm, const std::string& wall_mm) {
    const Grade all =
        grade(record_of({seen(5, "BAJ", "B", "", step_mm)}), scheme(), {{{"wall_thickness_mm", wall_mm}}});
    return testing::goal_of(all.observations.at(0), "structural").reason;
  };
  EXPECT_THAT(reason(140, "30"), ::testing::HasSubstr("30 = 4.67, "));
  EXPECT_THAT(reason(1, "30"), ::testing::HasSubstr("30 = 0.0333, "));
  // Bound 1: 0.9996 is no 1.
  EXPECT_THAT(reason(99.96, "100"), ::testing::HasSubstr("100 = 0.9996, "));
}

TEST(SecondSite, WithoutTheWallAnOffsetHasNoClass) {
  const ObservationGrade graded = second(seen(3, "BAJ", "B", "", 40));
  EXPECT_EQ(graded.goals.at(0).outcome, Outcome::condition_unknown);
  EXPECT_THAT(graded.goals.at(0).reason, ::testing::HasSubstr("wall thickness of the pipe is not known"));
}

const Overall& overall(const Grade& grade, const std::string& id) {
  for (const Overall& one : grade.overall)
    if (one.id == id) return one;
  throw std::runtime_error("no " + id);
}

coding::Record check_record() {
  coding::Observation begin = seen(16, "BBC", "A", "", 35), end = begin;
  begin.stretch = "A1";
  end.stretch = "B1";
  end.distance_m = 22.0;
  coding::Record record = record_of(
      {seen(0, "BCD", "A"), seen(5, "BAJ", "B", "", 60), seen(12, "BAC", "A", "", {}, {12, 2, false}),
       seen(14.2, "BBF", "C"), begin, end, seen(25, "BCE", "A")},
      "AE", "800");
  record.set_header("ABQ", "25");
  return record;
}

Site check_site() {
  return {{{"area", "main road, or buildings of the second class near by"},
           {"ground", "ordinary"},
           {"wall_thickness_mm", "100"}}};
}

/// Ours, by hand: S = (2 + 1.1 x (5 + 2)) / 3 = 3.2333, Smax 5; SM = (2 + 1.1 x 7) / (3.2333 x 25) = 0.12;
/// RI = 0.7 x 5 + 0.1 x 6 + 0.05 x 3 = 4.25. G 2; YM = 2 x 6 / (2 x 25) = 0.24; MI = 1.6 + 0.9 + 0.15 = 2.65.
TEST(SecondCheckCase, ThroughARecord) {
  const Grade all = grade(check_record(), scheme(), check_site());
  ASSERT_EQ(all.overall.size(), 6U);
  EXPECT_EQ(overall(all, "structural").number, 5);
  EXPECT_EQ(overall(all, "structural").grade, 3);
  EXPECT_THAT(overall(all, "structural").reason, ::testing::HasSubstr("mean 3.2333 = (2 + 1.1 x 7) / 3"));
  EXPECT_NEAR(overall(all, "structural_density").number.value(), 0.12, 1e-9);
  EXPECT_EQ(overall(all, "structural_density").meaning, "part of the run, or all of it");
  EXPECT_NEAR(overall(all, "repair").number.value(), 4.25, 1e-9);
  EXPECT_EQ(overall(all, "repair").grade, 3);
  EXPECT_EQ(overall(all, "functional").number, 2);
  EXPECT_EQ(overall(all, "functional").grade, 2);
  EXPECT_NEAR(overall(all, "functional_density").number.value(), 0.24, 1e-9);
  EXPECT_NEAR(overall(all, "maintenance").number.value(), 2.65, 1e-9);
  EXPECT_EQ(overall(all, "maintenance").grade, 2);
  EXPECT_EQ(all.object_class, 3);
}

TEST(SecondCheckCase, IsTheOneThatWasReckoned) {
  NEEDS_REFERENCE(file);
  const Grade all = grade(check_record(), scheme(), check_site());
  const Json& result = file->at("worked_examples")[0].at("result");
  for (const auto& [id, key] : {std::pair("structural", "F"),
                                {"structural_density", "SM"},
                                {"repair", "RI"},
                                {"functional", "G"},
                                {"functional_density", "YM"},
                                {"maintenance", "MI"}})
    EXPECT_NEAR(overall(all, id).number.value(), result.at(key).get<double>(), 1e-9) << key;
  std::size_t row = 0;
  for (const char* kind : {"structural", "functional"})
    for (const Json& one : file->at("worked_examples")[0].at(kind)) {
      EXPECT_EQ(all.observations.at(row).worst, one.at("grade").get<int>());
      EXPECT_EQ(all.observations.at(row).max_number, one.at("P").get<double>());
      EXPECT_NEAR(all.observations.at(row).length_m, one.at("L_i").get<double>(), 1e-9);
      ++row;
    }
}

TEST(SecondCheckCase, TwoLikeOnesCloseTogetherBeatTheWorst) {
  // Ours: two of score 2, 1.2 m clear of each other: 1.1 x 4 / 2 = 2.2.
  const auto number = [](double second_at) {
    return overall(
               grade(record_of({seen(5, "BAB", "C", "A"), seen(second_at, "BAB", "C", "A")}), scheme(), {}),
               "structural")
        .number.value();
  };
  EXPECT_NEAR(number(7.2), 2.2, 1e-9);
  EXPECT_NEAR(number(7.5), 2.2, 1e-9) << "1.5 m clear is close";
  EXPECT_NEAR(number(7.51), 2, 1e-9);
  EXPECT_NEAR(number(7), 4, 1e-9) << "within 1 m they are one, and their scores add up";
}

/// Two of score 1 that are close: 1.1 x 2 / 2 = 1.1, class 2. A slight one far off brings the mean down to
/// (2.2 + 0.5) / 3 = 0.9, and the number to the worst, 1: class 1 as published, not for the pipe (ours).
TEST(SecondCheckCase, ASlightOneFarOffMakesThePipeNoBetter) {
  std::vector<coding::Observation> rows{seen(0, "BCD", "A"), seen(5, "BAI", "A", "B"),
                                        seen(7.2, "BAI", "A", "B"), seen(25, "BCE", "A")};
  const Site site{{{"area", "anywhere else"}, {"ground", "ordinary"}}};
  EXPECT_EQ(grade(record_of(rows), scheme(), site).object_class, 2);
  rows.push_back(seen(20, "BAB", "A", "A"));
  const Grade after = grade(record_of(rows), scheme(), site);
  EXPECT_EQ(overall(after, "structural").grade, 1);
  EXPECT_EQ(after.object_class, 2);
  EXPECT_THAT(after.object_reason, ::testing::HasSubstr("a finding more never makes a class better"));
}

TEST(SecondSite, WithoutItOnlyTheConditionsAreGiven) {
  const Grade all = grade(check_record(), scheme(), {{{"wall_thickness_mm", "100"}}});
  EXPECT_EQ(overall(all, "structural").grade, 3);
  EXPECT_EQ(overall(all, "functional").grade, 2);
  for (const Overall& one : all.overall) EXPECT_TRUE(one.id != "repair" && one.id != "maintenance");
  EXPECT_THAT(all.missing,
              ::testing::UnorderedElementsAre("importance of the area", "ground round the pipe"));
}

/// No page that was seen names the standard, and which code stands for which defect is ours: even a class
/// of a cell that was seen (deformation, say) decides over nobody.
TEST(SecondNames, NoClassIsFirm) {
  const Json file = shipped_file();
  for (const Json& row : file.at("rows")) EXPECT_TRUE(row.at("provisional").get<bool>()) << row;
  const ObservationGrade seen_cell = second(seen(3, "BAA", "A", "", 20), {{}, "AX", "800"});
  ASSERT_EQ(seen_cell.goals.at(0).grade, 3);
  EXPECT_TRUE(seen_cell.goals.at(0).provisional);
  EXPECT_FALSE(firm_class(seen_cell.goals.at(0)));
  base::Random random(13);
  int classes = 0;
  for (int i = 0; i < 300; ++i) {
    const Grade all = grade(testing::random_record(random), scheme(), i % 2 == 0 ? check_site() : Site{});
    for (const ObservationGrade& one : all.observations)
      for (const GoalClass& goal : one.goals) {
        classes += goal.grade ? 1 : 0;
        EXPECT_FALSE(firm_class(goal)) << goal.row << ": " << goal.source;
      }
    for (const Overall& one : all.overall) EXPECT_TRUE(one.provisional) << one.id << ": " << one.source;
  }
  EXPECT_GT(classes, 300);
}

TEST(SecondNames, TheStandardsNameStandsOnNoProvisionalGrade) {
  base::Random random(12);
  int provisional = 0;
  for (int i = 0; i < 300; ++i) {
    const coding::Record record = testing::random_record(random);
    const Grade all = grade(record, scheme(), i % 2 == 0 ? check_site() : Site{});
    provisional += all.provisional ? 1 : 0;
    EXPECT_TRUE(!decides_on_provisional(all) || to_json(all, record).find("CJJ") == std::string::npos);
  }
  // Every class of the pipe hangs on bounds from memory.
  EXPECT_EQ(provisional, 300);
}

}  // namespace
}  // namespace haunch::grading
