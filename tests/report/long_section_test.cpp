// SPDX-License-Identifier: Apache-2.0
#include "report/long_section.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "base/words.hpp"
#include "scenario/read.hpp"

namespace haunch::report {
namespace {

scene::Scene yard(const char* from) {
  const std::string text = R"({"kind": "scenario", "edition": 1, "title": "Yard",
    "pipe": {"bore_mm": 150, "length_m": 20, "gradient_percent": 1,
             "sections": [{"to_m": 20, "material": "concrete", "unit_length_m": 1}],
             "low_spots": [{"from_m": 8, "to_m": 12, "depth_mm": 60}]},
    "inspection": {"from": ")" +
                           std::string(from) + R"(", "distance_zero": ")" + from + "\"}}";
  auto read = scenario::scenario_from_json(text, "yard.json");
  for (const auto& problem : read.problems()) ADD_FAILURE() << base::to_line(problem);
  return scene::build_scene(std::move(read).value());
}

std::vector<std::pair<double, double>> labels_in(const std::string& svg) {
  static const std::regex pattern("<text class=\"label\" x=\"([-0-9.]+)\" y=\"([-0-9.]+)\"");
  std::vector<std::pair<double, double>> found;
  for (std::sregex_iterator it(svg.begin(), svg.end(), pattern), end; it != end; ++it) {
    double x = 0, y = 0;
    base::read_number((*it)[1].str(), x);
    base::read_number((*it)[2].str(), y);
    found.emplace_back(x, y);
  }
  return found;
}

/// First "x,y" pairs of the first polygon of a class.
std::vector<std::pair<double, double>> polygon_in(const std::string& svg, const std::string& css_class) {
  const auto at = svg.find("<polygon class=\"" + css_class + "\" points=\"");
  std::vector<std::pair<double, double>> points;
  if (at == std::string::npos) return points;
  const auto from = svg.find("points=\"", at) + 8;
  for (const std::string& pair : base::split(svg.substr(from, svg.find('"', from) - from), ' ')) {
    const auto numbers = base::split(pair, ',');
    double x = 0, y = 0;
    if (numbers.size() == 2 && base::read_number(numbers[0], x) && base::read_number(numbers[1], y))
      points.emplace_back(x, y);
  }
  return points;
}

TEST(LongSection, LabelsNeverLieOnOneAnother) {
  const scene::Scene scene = yard("start");
  LongSection section;
  section.scene = &scene;
  for (int i = 0; i < 12; ++i)
    section.truth.push_back({std::to_string(i + 1), 9.5 + 0.02 * i, 9.5 + 0.02 * i, Came::missed, "x"});
  const auto labels = labels_in(long_section_svg(section));
  ASSERT_EQ(labels.size(), 12U);
  for (std::size_t a = 0; a < labels.size(); ++a) {
    for (std::size_t b = a + 1; b < labels.size(); ++b) {
      const bool apart = std::abs(labels[a].first - labels[b].first) > 16 ||
                         std::abs(labels[a].second - labels[b].second) > 14;
      EXPECT_TRUE(apart) << a << " and " << b;
    }
  }
}

TEST(LongSection, TheCameraGoesInAtTheLeftFromEitherEnd) {
  for (const char* from : {"start", "end"}) {
    const scene::Scene scene = yard(from);
    LongSection section;
    section.scene = &scene;
    section.truth = {{"1", 2, 2, Came::found, "near"}, {"2", 18, 18, Came::found, "far"}};
    const auto labels = labels_in(long_section_svg(section));
    ASSERT_EQ(labels.size(), 2U) << from;
    EXPECT_LT(labels[0].first, labels[1].first) << from;
  }
}

TEST(LongSection, ThePondIsLevelAndThePipeFalls) {
  const scene::Scene scene = yard("start");
  LongSection section;
  section.scene = &scene;
  const std::string svg = long_section_svg(section);
  const auto pond = polygon_in(svg, "water pond");
  ASSERT_GE(pond.size(), 4U) << svg;
  // The polygon goes along the surface and back along the invert; away from its ends, where surface
  // and invert meet, the surface stands at one height.
  const std::size_t half = pond.size() / 2;
  double lowest = -1e9;
  for (std::size_t i = half; i < pond.size(); ++i) lowest = std::max(lowest, pond[i].second);
  int level = 0;
  for (std::size_t i = 0; i < half; ++i)
    level += std::abs(pond[i].second - pond[half / 2].second) < 0.02 ? 1 : 0;
  EXPECT_GE(level, static_cast<int>(half) - 2);
  EXPECT_GT(lowest, pond[half / 2].second + 2) << "the invert lies below the surface";
  const auto bore = polygon_in(svg, "bore s3");
  ASSERT_EQ(bore.size(), 4U);
  EXPECT_LT(bore[0].second, bore[1].second) << "downstream lies lower on the page";
}

TEST(LongSection, MarksDifferByShapeNotOnlyByColour) {
  std::vector<std::string> shapes;
  for (const Came came :
       {Came::found, Came::partly, Came::missed, Came::unseen, Came::invented, Came::logged}) {
    static const std::regex colours("class=\"m-[a-z]+\"");
    const std::string shape = std::regex_replace(mark_svg(came), colours, "");
    for (const std::string& other : shapes) EXPECT_NE(shape, other);
    shapes.push_back(shape);
  }
}

TEST(LongSection, WithoutASceneOnlyALine) {
  LongSection section;
  section.truth = {{"1", 3, 3, Came::found, "a <b>"}};
  const std::string svg = long_section_svg(section);
  EXPECT_NE(svg.find("a &lt;b&gt;"), std::string::npos);
  EXPECT_EQ(svg.find("bore s"), std::string::npos);
  EXPECT_EQ(svg.find("nan"), std::string::npos);
}

}  // namespace
}  // namespace haunch::report
