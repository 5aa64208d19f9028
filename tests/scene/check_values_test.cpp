// SPDX-License-Identifier: Apache-2.0
// Every applicable outside case of the reference's check values, one test each, named by its id. The
// file stays outside the repository; where it is absent the tests skip.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "scene/camera.hpp"
#include "scene/materials.hpp"
#include "scene/runs.hpp"
#include "scene/water.hpp"

namespace haunch::scene {
namespace {

using Json = nlohmann::json;

const std::filesystem::path reference = HAUNCH_SOURCE_DIR "/../shared/reference/trade/check-values.json";

const std::map<std::string, Json>& records() {
  static const std::map<std::string, Json> all = [] {
    std::map<std::string, Json> found;
    std::ifstream file(reference);
    if (!file) return found;
    const Json all_of_it = Json::parse(file);
    for (const Json& record : all_of_it.at("records")) found[record.at("id").get<std::string>()] = record;
    return found;
  }();
  return all;
}

/// Tolerance of one expected value: absolute, relative, or one in a million where none is given.
double slack(const Json& record, const std::string& key, double expected) {
  const Json& tolerances = record.at("tolerance");
  if (!tolerances.contains(key)) return std::max(1e-9, 1e-6 * std::abs(expected));
  const Json& tolerance = tolerances.at(key);
  if (tolerance.contains("abs")) return tolerance.at("abs").get<double>() + 1e-12;
  return tolerance.at("rel").get<double>() * std::abs(expected);
}

struct Case {
  const Json& record;
  double in(const char* key) const { return record.at("inputs").at(key).get<double>(); }
  bool expects(const char* key) const { return record.at("expected").contains(key); }
  void near(const char* key, double ours) const {
    ASSERT_TRUE(expects(key)) << key;
    const double expected = record.at("expected").at(key).get<double>();
    EXPECT_NEAR(ours, expected, slack(record, key, expected))
        << key << "; source: " << record.at("citation").get<std::string>();
  }
};

double flow_ratio(double depth) { return flow_m3_s(1, depth, 0.01, 0.01) / full_flow_m3_s(1, 0.01, 0.01); }
double velocity_ratio(double depth) {
  return velocity_m_s(1, depth, 0.01, 0.01) / velocity_m_s(1, 1, 0.01, 0.01);
}
constexpr double cubic_foot_m3 = base::metres_per_foot * base::metres_per_foot * base::metres_per_foot;
constexpr double inch_m = base::mm_per_inch / 1000.0;

/// The depth in [low, high] where a function is largest.
double place_of_most(const std::function<double(double)>& f, double low, double high) {
  double best = low;
  for (int i = 0; i <= 200000; ++i) {
    const double at = low + (high - low) * i / 200000.0;
    if (f(at) > f(best)) best = at;
  }
  return best;
}

void segment(const Case& c) {
  const double depth = c.in("depth_over_diameter");
  c.near("area_ratio", area_share(depth));
  c.near("hydraulic_radius_ratio", hydraulic_radius_share(depth));
  c.near("top_width_over_diameter", width_share(depth));
}
void segment_by_radius(const Case& c) {
  const double depth = c.in("depth_over_radius") / 2;
  c.near("area_over_r2", area_share(depth) * std::numbers::pi);
  c.near("hydraulic_radius_over_r", hydraulic_radius_share(depth) / 2);
}
void ratios(const Case& c) {
  c.near("velocity_ratio", velocity_ratio(c.in("depth_over_diameter")));
  c.near("flow_ratio", flow_ratio(c.in("depth_over_diameter")));
}
void depth_of_area(const Case& c) {
  c.near("depth_over_diameter", depth_from_area_share(c.in("area_ratio")));
}
void section_factor(const Case& c) {
  c.near("section_factor_ratio", flow_ratio(depth_from_area_share(c.in("area_ratio"))));
}
void most_flow(const Case& c) {
  const double at = place_of_most(flow_ratio, 0.5, 1);
  c.near("depth_over_diameter", at);
  c.near("flow_ratio", flow_ratio(at));
  c.near("area_ratio", area_share(at));
}
void most_flow_epa(const Case& c) {
  const double at = place_of_most(flow_ratio, 0.5, 1);
  c.near("area_ratio_at_max_flow", area_share(at));
  c.near("max_section_factor_ratio", flow_ratio(at));
}
void most_velocity(const Case& c) {
  const double at = place_of_most(velocity_ratio, 0.5, 1);
  c.near("depth_over_diameter", at);
  c.near("velocity_ratio", velocity_ratio(at));
  c.near("hydraulic_radius_ratio", hydraulic_radius_share(at));
}
double depth_for_ratio(double ratio) {
  return depth_share_for_flow(1, ratio * full_flow_m3_s(1, 0.01, 0.01), 0.01, 0.01);
}
void two_roots(const Case& c) {
  c.near("lower_depth", depth_for_ratio(c.in("flow_ratio")));
  // The upper root is a depth of the same flow; the solver must not give it.
  const double upper = c.record.at("expected").at("upper_depth").get<double>();
  EXPECT_NEAR(flow_ratio(upper), c.in("flow_ratio"), 0.002);
}
void full_flow_depth(const Case& c) { c.near("depth_over_diameter", depth_for_ratio(c.in("flow_ratio"))); }

void manning_200(const Case& c) {
  const double bore = c.in("D_m"), slope = c.in("slope"), n = c.in("n");
  const double depth = depth_share_for_flow(bore, c.in("Q_m3s"), slope, n);
  const double area = area_share(depth) * std::numbers::pi * bore * bore / 4;
  const double radius = hydraulic_radius_share(depth) * bore / 4;
  c.near("depth_m", depth * bore);
  c.near("velocity_ms", velocity_m_s(bore, depth, slope, n));
  c.near("area_m2", area);
  c.near("hydraulic_radius_m", radius);
  c.near("wetted_perimeter_m", area / radius);
  c.near("full_flow_m3s", full_flow_m3_s(bore, slope, n));
  // critical_depth_m is left out: nothing here works out critical depth.
}
void manning_600(const Case& c) {
  const double bore = c.in("D_m");
  c.near("Q_m3s", flow_m3_s(bore, c.in("depth_m") / bore, c.in("slope"), c.in("n")));
  c.near("full_flow_m3s", full_flow_m3_s(bore, c.in("slope"), c.in("n")));
}
void manning_84(const Case& c) {
  double low = 1, high = 20;  // feet
  for (int i = 0; i < 100; ++i) {
    const double bore = (low + high) / 2;
    const double flow =
        flow_m3_s(bore * base::metres_per_foot, c.in("depth_over_diameter"), c.in("slope"), c.in("n"));
    (flow < c.in("Q_cfs") * cubic_foot_m3 ? low : high) = bore;
  }
  c.near("D_ft", low);
  c.near("depth_ft", low * c.in("depth_over_diameter"));
}
void manning_8_inch(const Case& c) {
  const double bore = c.in("D_in") * inch_m;
  c.near("Q_cfs", full_flow_m3_s(bore, c.in("slope"), c.in("n")) / cubic_foot_m3);
  c.near("velocity_fps", velocity_m_s(bore, 1, c.in("slope"), c.in("n")) / base::metres_per_foot);
}
void least_slope(const Case& c) {
  const double velocity =
      velocity_m_s(c.in("D_in") * inch_m, 1, c.in("slope"), c.in("n")) / base::metres_per_foot;
  EXPECT_GE(velocity, c.record.at("expected").at("full_velocity_at_least_fps").get<double>())
      << c.record.at("citation").get<std::string>();
}
void manning_guidance(const Case& c) {
  c.near("Q_ls",
         1000 * flow_m3_s(c.in("D_mm") / 1000, c.in("depth_over_diameter"), c.in("slope"), c.in("n")));
}
void dry_weather(const Case& c) {
  c.near("depth_over_diameter",
         depth_share_for_flow(c.in("D_mm") / 1000, c.in("Q_ls") / 1000, c.in("slope"), c.in("n")));
}
void deposit_area(const Case& c) {
  c.near("area_loss_percent", 100 * area_share(c.in("flat_deposit_depth_percent") / 100));
}
void deposit_rest(const Case& c) {
  // Only the area left: nothing here works out capacity above a deposit.
  c.near("area_ratio", 1 - area_share(c.in("flat_deposit_depth_over_diameter")));
}

void water_clock(const Case& c) {
  const double depth = c.in("depth_percent");
  const double half = 180.0 / std::numbers::pi * std::acos(1 - 2 * depth / 100);
  c.near("half_angle_deg", half);
  // The published hours stand on the wall at the water's height, within the angle's tolerance.
  const Scene scene = run_under_water(100, depth);
  for (const Json& words : c.record.at("expected").at("waterline_at")) {
    const Vec3 end = wall_point(scene, 2, std::stod(words.get<std::string>()));
    EXPECT_NEAR(end.y, level_at(scene.water, 2), 0.0001);
  }
}
void roll(const Case& c) {
  c.near("apparent_clock",
         base::on_screen_hour(c.in("true_clock"), c.in("camera_roll_deg_clockwise_from_operator_view")));
}
void flip(const Case& c) { c.near("clock_looking_other_way", base::mirrored(c.in("clock_looking_one_way"))); }
void foot(const Case& c) { c.near("m", base::to_metres(c.in("ft"), base::LengthUnit::feet)); }
void speed(const Case& c) {
  const double limit = base::to_metres(c.in("limit_ft_min"), base::LengthUnit::feet);
  c.near("m_min", limit);
  c.near("m_s", limit / 60);
  EXPECT_LE(CameraRig{}.speed_m_s, limit / 60);
}
void counter_zero(const Case& c) {
  Scenario scenario = plain_run(30);
  scenario.inspection.zero_before_m = c.in("counter_at_start_node_m");
  c.near("distance_m", chainage_of(scenario, c.in("counter_reading_m")));
}
void nearest_wall(const Case& c) {
  c.near("nearest_wall_visible_ahead_mm",
         1000 * nearest_wall_ahead_m(c.in("bore_mm") / 2000, c.in("full_field_deg")));
}
void under_water(const Case& c) {
  const double bore = c.in("bore_mm");
  const auto share_at = [&](double percent) {
    Scene scene = run_under_water(bore, bore * percent / 100);
    scene.scenario.camera.head_mm = c.in("head_dia_mm");
    scene.scenario.camera.height_mm = c.in("head_dia_mm") / 2;  // bare on the invert
    return submerged_share(scene, pose_at(scene, 2));
  };
  const double axis = c.record.at("expected").at("axis_under_water_above_percent").get<double>();
  const double whole = c.record.at("expected").at("head_fully_under_above_percent").get<double>();
  EXPECT_NEAR(share_at(axis), 0.5, 0.002);
  EXPECT_GE(share_at(whole + 0.05), 1.0);
  EXPECT_LT(share_at(whole - 0.1), 1.0);
}
void pvc_wall(const Case& c) {
  const double bore = c.record.at("expected").at("bore_mm").get<double>();
  c.near("wall_mm", usual_wall_mm(Material::pvc, bore));
  EXPECT_NEAR(c.in("outside_mm") - 2 * usual_wall_mm(Material::pvc, bore), bore, 0.1 + 1e-9);
}
void iron_wall(const Case& c) {
  const double bore = c.record.at("expected").at("barrel_id_in").get<double>() * base::mm_per_inch;
  const double wall = c.record.at("expected").at("wall_nominal_in").get<double>() * base::mm_per_inch;
  EXPECT_NEAR(usual_wall_mm(Material::cast_iron, bore), wall, 0.05)
      << c.record.at("citation").get<std::string>();
}

std::vector<InvertPoint> profile_of(const Case& c) {
  std::vector<InvertPoint> points;
  for (const Json& corner : c.record.at("inputs").at("invert_profile_x_m_z_mm"))
    points.push_back({corner.at(0).get<double>(), corner.at(1).get<double>() / 1000});
  return points;
}
double invert_of(const std::vector<InvertPoint>& points, double z) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (z > points[i].z_m) continue;
    const double share = (z - points[i - 1].z_m) / (points[i].z_m - points[i - 1].z_m);
    return points[i - 1].y_m + share * (points[i].y_m - points[i - 1].y_m);
  }
  return points.back().y_m;
}
double deepest_mm(const std::vector<InvertPoint>& points, const WaterReach& pond) {
  double depth = 0;
  for (const InvertPoint& point : points) {
    if (point.z_m >= pond.from_m && point.z_m <= pond.to_m)
      depth = std::max(depth, pond.from_level_m - point.y_m);
  }
  return 1000 * depth;
}

void pool(const Case& c) {
  const auto points = profile_of(c);
  const auto found = ponds(points);
  if (c.expects("pools")) {
    ASSERT_EQ(found.size(), c.record.at("expected").at("pools").get<std::size_t>());
    if (found.empty()) return;
  }
  ASSERT_FALSE(found.empty());
  const WaterReach& pond = found.front();
  EXPECT_EQ(pond.from_level_m, pond.to_level_m);
  if (c.expects("pool2_surface_z_mm")) {
    ASSERT_EQ(found.size(), 2U);
    c.near("pool1_surface_z_mm", 1000 * found[0].from_level_m);
    c.near("pool2_surface_z_mm", 1000 * found[1].from_level_m);
    c.near("pool1_max_depth_mm", deepest_mm(points, found[0]));
    c.near("pool2_max_depth_mm", deepest_mm(points, found[1]));
    return;
  }
  EXPECT_EQ(found.size(), 1U);
  c.near("surface_z_mm", 1000 * pond.from_level_m);
  c.near("upstream_edge_x_m", pond.from_m);
  const double bore = c.in("bore_mm");
  const auto depth_mm = [&](double z) { return 1000 * (pond.from_level_m - invert_of(points, z)); };
  if (c.expects("lip_x_m")) c.near("lip_x_m", pond.to_m);
  if (c.expects("length_m")) c.near("length_m", pond.to_m - pond.from_m);
  if (c.expects("max_depth_mm")) c.near("max_depth_mm", deepest_mm(points, pond));
  if (c.expects("max_depth_percent")) c.near("max_depth_percent", 100 * deepest_mm(points, pond) / bore);
  for (const char* place : {"10", "14"}) {
    const std::string key = std::string("depth_percent_at_") + place;
    if (c.expects(key.c_str())) c.near(key.c_str(), 100 * depth_mm(std::stod(place)) / bore);
  }
  for (const char* place : {"4", "6", "8"}) {
    const std::string key = std::string("depth_mm_at_") + place;
    if (c.expects(key.c_str())) c.near(key.c_str(), depth_mm(std::stod(place)));
  }
  if (!c.expects("full_bore_from_x_m")) return;
  double from = 0, to = 0;
  for (double z = pond.from_m; z < pond.to_m; z += 0.0005) {
    if (depth_mm(z) < bore) continue;
    if (from == 0) from = z;
    to = z;
  }
  c.near("full_bore_from_x_m", from);
  c.near("full_bore_to_x_m", to);
}

void pool_at_step(const Case& c) {
  // Through a whole scene: a unit that stands up by the step at a joint.
  Scenario scenario = plain_run(10, c.in("bore_mm"));
  scenario.gradient_percent = c.in("grade_percent");
  add(scenario, JointShift{6, c.in("step_up_at_joint_mm"), 12});
  const Scene scene = build_scene(scenario);
  ASSERT_EQ(scene.water.reaches.size(), 1U);
  const WaterReach& pond = scene.water.reaches.front();
  const double depth = 1000 * (pond.to_level_m - (invert_at(scene, 6) - c.in("step_up_at_joint_mm") / 1000));
  c.near("length_m", pond.to_m - pond.from_m);
  c.near("max_depth_mm", depth);
  c.near("max_depth_percent", 100 * depth / c.in("bore_mm"));
}

/// Published entries known to be wrong: ours must differ from them, or somebody has re-imported them.
void known_bad(const Case& c) {
  const Json& expected = c.record.at("expected");
  if (expected.contains("published_section_factor")) {
    const double depth = depth_from_area_share(c.in("area_ratio"));
    EXPECT_GT(std::abs(depth - expected.at("published_depth").get<double>()), 0.0015);
    EXPECT_GT(std::abs(flow_ratio(depth) - expected.at("published_section_factor").get<double>()), 0.005);
  } else if (expected.contains("published_hydraulic_radius_over_r")) {
    const double ours = hydraulic_radius_share(c.in("depth_over_radius") / 2) / 2;
    EXPECT_GT(ours / expected.at("published_hydraulic_radius_over_r").get<double>(), 1.15);
  } else {
    EXPECT_LT(velocity_m_s(c.in("D_in") * inch_m, 1, c.in("slope"), c.in("n")) / base::metres_per_foot, 2.0);
  }
}

using Check = void (*)(const Case&);
const std::vector<std::pair<std::string, Check>>& checks() {
  static const std::vector<std::pair<std::string, Check>> by_beginning{
      {"HYD-BAD-", known_bad},
      {"MAN-BAD-", known_bad},
      {"HYD-SEG-", segment},
      {"HYD-EB-", segment_by_radius},
      {"HYD-VQ-", ratios},
      {"HYD-INV-", depth_of_area},
      {"HYD-SEC-", section_factor},
      {"HYD-MAX-Q", most_flow},
      {"HYD-MAX-EPA", most_flow_epa},
      {"HYD-MAX-V", most_velocity},
      {"HYD-TWO-ROOTS", two_roots},
      {"HYD-FULLQ-LOWER", full_flow_depth},
      {"MAN-SI-200", manning_200},
      {"MAN-SI-600", manning_600},
      {"MAN-US-84", manning_84},
      {"MAN-US-8IN", manning_8_inch},
      {"MAN-MINSLOPE-", least_slope},
      {"MAN-ADH-", manning_guidance},
      {"MAN-FLOW-", dry_weather},
      {"DEP-CAP-", deposit_rest},
      {"DEP-", deposit_area},
      {"CLK-WATER-", water_clock},
      {"CLK-ROLL-", roll},
      {"CLK-FLIP-", flip},
      {"DST-FT-M", foot},
      {"DST-SPEED", speed},
      {"DST-ZERO", counter_zero},
      {"OPT-NEAR-", nearest_wall},
      {"OPT-SUBM-", under_water},
      {"BORE-PVCU-", pvc_wall},
      {"BORE-CI-", iron_wall},
      {"SAG-STEP", pool_at_step},
      {"SAG-LIMIT-", nullptr},
      {"SAG-", pool},
      // Not applicable here, by name:
      {"SLP-", nullptr},         // slopes in inches per foot: no such unit is read anywhere
      {"DST-TOL-", nullptr},     // contract tolerances of a counter: nothing here marks one
      {"BORE-SDR35-", nullptr},  // no table of that standard is kept
      {"DEF-", nullptr},         // no deformation yet
      {"STAT-", nullptr},        // how often roots are found: nothing is generated yet
      {"SAFE-", nullptr},        // gas alarm points: nothing measures gas
  };
  return by_beginning;
}

const std::pair<std::string, Check>* check_for(const std::string& id) {
  for (const auto& check : checks()) {
    if (id.rfind(check.first, 0) == 0) return &check;
  }
  return nullptr;
}

std::vector<std::string> applicable_ids() {
  std::vector<std::string> ids;
  for (const auto& [id, record] : records()) {
    const auto* check = check_for(id);
    if (check && check->second) ids.push_back(id);
  }
  if (ids.empty()) ids.push_back("reference-absent");
  return ids;
}

class CheckValue : public testing::TestWithParam<std::string> {};

TEST_P(CheckValue, Holds) {
  if (records().empty()) GTEST_SKIP() << "the reference file is not here: " << reference;
  const auto found = records().find(GetParam());
  ASSERT_NE(found, records().end()) << "the reference has changed since the tests were listed";
  check_for(GetParam())->second(Case{found->second});
}

std::string test_name(const testing::TestParamInfo<std::string>& about) {
  std::string name = about.param;
  for (char& letter : name) {
    if (!std::isalnum(static_cast<unsigned char>(letter))) letter = '_';
  }
  return name;
}
INSTANTIATE_TEST_SUITE_P(Outside, CheckValue, testing::ValuesIn(applicable_ids()), test_name);

TEST(CheckValues, NoneIsPassedOverInSilence) {
  if (records().empty()) GTEST_SKIP() << "the reference file is not here: " << reference;
  for (const auto& [id, record] : records()) {
    EXPECT_NE(check_for(id), nullptr) << id << " is neither tested nor named as not applicable";
  }
}

}  // namespace
}  // namespace haunch::scene
