// SPDX-License-Identifier: Apache-2.0
// What the run itself gives to record: water, changes of material and bore.
#include <algorithm>
#include <cmath>

#include "scene/layout.hpp"
#include "scene/materials.hpp"
#include "truth/finding.hpp"

namespace haunch::truth {
namespace {

double depth_percent(const scene::Scene& scene, double z, double level) {
  const double bore = 2.0 * scene::bore_at(scene, z).half_height_m;
  return std::clamp(100.0 * (level - scene::invert_at(scene, z)) / bore, 0.0, 100.0);
}

const char* water_letter(const scene::Scene& scene) {
  switch (scene.scenario.water) {
    case scene::WaterLook::clear:
      return "A";
    case scene::WaterLook::cloudy:
      return "C";
    case scene::WaterLook::coloured:
      return "D";
    case scene::WaterLook::cloudy_coloured:
      return "E";
  }
  return "A";
}
std::string water_word(const scene::Scene& scene) {
  static constexpr const char* colours[] = {"", "red", "yellow", "green", "blue", "milky", "grey", "black"};
  const std::string colour = colours[static_cast<int>(scene.scenario.water_colour)];
  switch (scene.scenario.water) {
    case scene::WaterLook::clear:
      return "clear";
    case scene::WaterLook::cloudy:
      return "cloudy";
    case scene::WaterLook::coloured:
      return colour;
    case scene::WaterLook::cloudy_coloured:
      return "cloudy " + colour;
  }
  return {};
}

Finding water_finding(const scene::Scene& scene, double percent) {
  Finding finding;
  finding.line.code = "BDD";
  finding.line.ch1 = water_letter(scene);
  finding.line.q1 = percent;
  return finding;
}

/// Deepest place of a pond, as a share of the bore there: it lies at an end of a piece.
std::pair<double, double> deepest(const scene::Scene& scene, const scene::WaterReach& pond) {
  std::pair<double, double> best{pond.from_m, 0};
  for (const scene::Piece& piece : scene.pieces) {
    for (const double end : {piece.from_m, piece.to_m}) {
      const double z = std::clamp(end, pond.from_m, pond.to_m);
      if (z < piece.from_m || z > piece.to_m) continue;
      const double half = bore_at(piece, z).half_height_m, invert = centre_at(piece, z).y - half;
      const double percent = std::min(100.0, 50.0 * (pond.from_level_m - invert) / half);
      if (percent > best.second) best = {z, percent};
    }
  }
  return best;
}

/// Two joints that stand a whole unit apart: without them nobody can tell how long its units are.
bool holds_a_unit(const scene::Scene& scene, const scene::Section& section) {
  constexpr double hair_m = 0.001;
  double before = -1;
  for (const scene::JointPlace& joint : scene::joint_places(scene.scenario)) {
    if (joint.at_m < section.from_m - hair_m || joint.at_m > section.to_m + hair_m) continue;
    if (before >= 0 && std::abs(joint.at_m - before - section.unit_length_m) <= hair_m) return true;
    before = joint.at_m;
  }
  return false;
}

}  // namespace

std::vector<Finding> findings_of_water(const scene::Scene& scene, const Rules& rules,
                                       base::LengthUnit words) {
  std::vector<Finding> findings;
  const double entry = scene::travel(scene.scenario) > 0 ? 0 : scene.length_m();
  for (const scene::WaterReach& reach : scene.water.reaches) {
    if (!reach.standing) {
      const bool at_entry = entry == 0 ? reach.from_m == 0 : reach.to_m == scene.length_m();
      if (!at_entry) continue;
      const double percent =
          std::round(depth_percent(scene, entry, entry == 0 ? reach.from_level_m : reach.to_level_m));
      if (percent < rules.water_from_percent) continue;
      Finding finding = water_finding(scene, percent);
      finding.from_m = finding.to_m = entry;
      finding.line.reason = std::string("where the camera goes in, ") + water_word(scene) + " water runs " +
                            show(percent) + " % of the bore's height deep -> BDD " + water_letter(scene);
      findings.push_back(finding);
      continue;
    }
    const auto [where, exact] = deepest(scene, reach);
    const double percent = std::round(exact);
    const double length = length_written(reach.from_m, reach.to_m);
    if (percent < rules.water_from_percent) continue;
    Finding finding = water_finding(scene, percent);
    finding.continuous = length > rules.point_up_to_m + 1e-9;
    finding.from_m = finding.continuous ? reach.from_m : where;
    finding.to_m = finding.continuous ? reach.to_m : where;
    finding.line.reason = std::string("standing ") + water_word(scene) +
                          " water, filled to the lip downstream, " + show(percent) +
                          " % of the bore's height at its deepest -> BDD " + water_letter(scene) + "; " +
                          show_length(length, words) + " long";
    findings.push_back(finding);
  }
  return findings;
}

namespace {

std::string size_in_words(const scene::Section& section) {
  const std::string width = show(std::round(section.bore_mm));
  if (section.shape == scene::PipeShape::circular) return width + " mm, circular";
  return width + " mm wide and " + show(std::round(scene::clear_height_mm(section))) + " mm high, " +
         scene::show(section.shape) + (section.shape == scene::PipeShape::egg ? "-shaped" : "");
}

}  // namespace

std::vector<Finding> findings_of_changes(const scene::Scene& scene, const Rules& rules) {
  std::vector<Finding> findings;
  const std::vector<scene::Section>& sections = scene.scenario.sections;
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const bool downstream = scene::travel(scene.scenario) > 0;
    const scene::Section& left = downstream ? sections[i - 1] : sections[i];
    const scene::Section& entered = downstream ? sections[i] : sections[i - 1];
    Finding finding;
    finding.from_m = finding.to_m = sections[i].from_m;
    if (left.material != entered.material) {
      finding.line.code = "AED";
      finding.line.ch1 = material_code(entered.material);
      finding.line.reason = "the camera goes from " + scene::show(left.material) + " into " +
                            scene::show(entered.material) + " -> AED " + finding.line.ch1;
      findings.push_back(finding);
    }
    const auto change = [](double before, double after) {
      return 100.0 * std::abs(std::round(after) - std::round(before)) / std::round(before);
    };
    const double most = std::max(change(left.bore_mm, entered.bore_mm),
                                 change(scene::clear_height_mm(left), scene::clear_height_mm(entered)));
    if (left.shape != entered.shape || most >= rules.bore_change_from_percent) {
      finding.line = {};
      finding.line.code = "AEC";
      finding.line.ch1 = shape_code(entered.shape);
      finding.line.q1 = std::round(scene::clear_height_mm(entered));
      if (entered.shape != scene::PipeShape::circular) finding.line.q2 = std::round(entered.bore_mm);
      finding.line.reason =
          "the bore goes from " + size_in_words(left) + " to " + size_in_words(entered) +
          (left.shape != entered.shape
               ? ", another shape -> AEC "
               : ", a change of at least " + show(rules.bore_change_from_percent) + " % -> AEC ") +
          finding.line.ch1;
      findings.push_back(finding);
    }
    if (const bool lined = entered.material == scene::Material::liner;
        lined != (left.material == scene::Material::liner)) {
      finding.line = {};
      finding.line.code = "AEE";
      finding.line.remark = lined ? "cured in place from here" : "no lining from here";
      finding.line.reason = std::string(lined ? "a lining begins here" : "the lining ends here") + " -> AEE";
      findings.push_back(finding);
    }
    const double old_mm = std::round(1000 * left.unit_length_m);
    const double new_mm = std::round(1000 * entered.unit_length_m);
    if (100.0 * std::abs(new_mm - old_mm) / old_mm >= rules.unit_length_change_from_percent &&
        scene::has_joints(left.material) && holds_a_unit(scene, entered)) {
      finding.line = {};
      finding.line.code = "AEF";
      finding.line.q1 = new_mm;
      finding.line.reason = "from joint to joint it is " + show(new_mm) + " mm from here, " + show(old_mm) +
                            " mm before, a change of at least " +
                            show(rules.unit_length_change_from_percent) + " % -> AEF";
      findings.push_back(finding);
    }
  }
  return findings;
}

std::string shape_code(scene::PipeShape shape) {
  switch (shape) {
    case scene::PipeShape::circular:
      return "A";
    case scene::PipeShape::rectangular:
      return "B";
    case scene::PipeShape::egg:
      return "C";
  }
  return "Z";
}

std::string material_code(scene::Material material) {
  switch (material) {
    case scene::Material::clay:
      return "AE";
    case scene::Material::pvc:
      return "AX";
    case scene::Material::cast_iron:
      return "AM";
    case scene::Material::concrete:
      return "AG";
    case scene::Material::brick:
      return "AD";
    case scene::Material::polyethylene:
      return "AV";
    case scene::Material::pitch_fibre:
      return "AC";
    case scene::Material::fibre_cement:
      return "AK";
    case scene::Material::liner:
      return "AU";
  }
  return "Z";
}

std::string node_code(scene::NodeKind kind) {
  switch (kind) {
    case scene::NodeKind::manhole:
      return "A";
    case scene::NodeKind::inspection_chamber:
      return "B";
    case scene::NodeKind::rodding_eye:
      return "C";
    case scene::NodeKind::lamphole:
      return "D";
    case scene::NodeKind::outfall:
      return "E";
    case scene::NodeKind::junction:
      return "F";
    case scene::NodeKind::other:
      return "Z";
  }
  return "Z";
}

}  // namespace haunch::truth
