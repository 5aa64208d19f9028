// SPDX-License-Identifier: Apache-2.0
// Puts findings into a Record: distances from the stated zero, clocks the way the camera looks,
// stretches numbered as they are met.
#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "base/words.hpp"
#include "scene/materials.hpp"
#include "truth/finding.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

void turn_clocks(coding::Observation& line) {
  const auto turned = [](int hour) { return base::nearest_hour(base::mirrored(hour)); };
  if (!line.clock_from) return;
  if (!line.clock_to) {
    line.clock_from = turned(*line.clock_from);
    return;
  }
  const int from = turned(*line.clock_to);
  line.clock_to = turned(*line.clock_from);
  line.clock_from = from;
}

/// "clock 10 to 2", as the camera looks.
std::string clock_words(const coding::Observation& line) {
  if (!line.clock_from) return {};
  if (line.clock_to && *line.clock_from == 12 && *line.clock_to == 12) return "; the whole way round";
  std::string words = "; clock " + std::to_string(*line.clock_from);
  if (line.clock_to) words += " to " + std::to_string(*line.clock_to);
  return words;
}

Finding node_finding(const scene::Scene& scene, bool entry) {
  const scene::Scenario& scenario = scene.scenario;
  const bool upstream = entry == (scene::travel(scenario) > 0);
  const scene::Node& node = upstream ? scenario.start : scenario.finish;
  Finding finding;
  finding.line.code = entry ? "BCD" : "BCE";
  finding.line.ch1 = node_code(node.kind);
  finding.line.remark = node.name;
  finding.line.reason = std::string(entry ? "the camera goes in here" : "the run ends here") + ", at the " +
                        (upstream ? "upstream" : "downstream") + " node -> " + finding.line.code + " " +
                        finding.line.ch1;
  finding.from_m = finding.to_m = upstream ? 0 : scene.length_m();
  return finding;
}

/// One row of the Record before it is sorted.
struct Row {
  double along_m = 0;  ///< how far the camera has gone when it meets it
  int rank = 1;        ///< start node 0, finish node 2
  std::size_t finding = 0;
  bool end = false;
};

std::vector<Row> rows_in_order(const scene::Scene& scene, const std::vector<Finding>& findings) {
  const auto along = [&](double z) { return scene::travel(scene.scenario) > 0 ? z : scene.length_m() - z; };
  std::vector<Row> rows;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const Finding& finding = findings[i];
    const double a = along(finding.from_m), b = along(finding.to_m);
    const double first = std::min(a, b), last = std::max(a, b);
    const int rank = finding.line.code == "BCD" ? 0 : (finding.line.code == "BCE" ? 2 : 1);
    rows.push_back({first, rank, i, false});
    if (finding.continuous) rows.push_back({last, rank, i, true});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
    return std::pair(a.rank, a.along_m) < std::pair(b.rank, b.along_m);
  });
  return rows;
}

void write_header(const scene::Scene& scene, coding::Record& record) {
  const scene::Scenario& scenario = scene.scenario;
  const bool downstream = scene::travel(scenario) > 0;
  const scene::Section& first = downstream ? scenario.sections.front() : scenario.sections.back();
  record.set_header("AAA", scenario.start.name + " - " + scenario.finish.name);
  record.set_header("AAB", (downstream ? scenario.start : scenario.finish).name);
  record.set_header("AAD", scenario.start.name);
  record.set_header("AAF", scenario.finish.name);
  if (!scenario.place_name.empty()) record.set_header("AAJ", scenario.place_name);
  record.set_header("AAK", downstream ? "A" : "B");
  record.set_header("ABA", "EN 13508-2:2003+A1:2011");
  const bool zero_at_entry = scenario.inspection.distance_zero == scenario.inspection.from;
  record.set_header("ABC", !zero_at_entry ? "C" : (scenario.inspection.zero_before_m > 0 ? "B" : "A"));
  record.set_header("ABE", "B");
  record.set_header(
      "ABQ", base::show_number(base::to_centimetre(scenario.length_m + scenario.inspection.zero_before_m)));
  record.set_header("ACA", shape_code(first.shape));
  record.set_header("ACB", base::show_number(std::round(scene::clear_height_mm(first))));
  if (first.shape != scene::PipeShape::circular)
    record.set_header("ACC", base::show_number(std::round(first.bore_mm)));
  record.set_header("ACD", material_code(first.material));
  if (first.material == scene::Material::liner) {
    // The pipe behind it cannot be seen; resin is polyester more often than not (from memory).
    record.set_header("ACE", "C");
    record.set_header("ACF", material_code(first.material));
  }
  if (scene::has_joints(first.material))
    record.set_header("ACG", base::show_number(std::round(first.unit_length_m * 1000.0)));
  record.set_header("ACJ", "A");
  record.set_header("ACK",
                    scenario.system == "surface water" ? "B" : (scenario.system == "combined" ? "C" : "A"));
}

std::vector<Finding> all_findings(const scene::Scene& scene, const Rules& rules, base::LengthUnit words,
                                  std::optional<Stop>& stop) {
  std::vector<Finding> findings{node_finding(scene, true)};
  const auto take = [&findings](std::vector<Finding> more) {
    for (Finding& finding : more) findings.push_back(std::move(finding));
  };
  const std::vector<Blind> blind = blind_stretches(scene, rules);
  take(findings_of_water(scene, rules, words));
  take(findings_of_blindness(scene, blind, rules, words));
  take(findings_of_changes(scene, rules));
  take(findings_of_notes(scene));
  for (int number = 1; number <= static_cast<int>(scene.scenario.faults.size()); ++number) {
    std::vector<Finding> more = findings_of_fault(scene, number, rules, words);
    const std::string hidden = more.empty() ? std::string() : why_hidden(scene, number, blind, rules);
    for (Finding& finding : more) finding.hidden = hidden;
    take(std::move(more));
  }
  stop = stop_of(scene, blind, rules, words);
  if (stop) end_at(*stop, scene, findings, rules);
  findings.push_back(stop ? abandoned(*stop) : node_finding(scene, false));
  return findings;
}

}  // namespace

Truth derive(const scene::Scene& scene, base::LengthUnit words) {
  return derive(scene, coding::CodeList::shipped(), shipped_rules(), words);
}

Truth derive(const scene::Scene& scene, const coding::CodeList& list, const Rules& rules,
             base::LengthUnit words) {
  Truth truth;
  write_header(scene, truth.record);
  const std::vector<Finding> findings = all_findings(scene, rules, words, truth.stop);
  const std::vector<Row> rows = rows_in_order(scene, findings);
  const bool upstream = scene::travel(scene.scenario) < 0;
  std::vector<int> stretch(findings.size(), 0);
  int stretches = 0;
  for (const Row& row : rows) {
    const Finding& finding = findings[row.finding];
    coding::Observation line = finding.line;
    const double z = upstream ? scene.length_m() - row.along_m : row.along_m;
    // The place is rounded before it is counted from a zero, so that both directions agree.
    line.distance_m = base::to_centimetre(scene::distance_of(scene.scenario, base::to_centimetre(z)));
    if (upstream) turn_clocks(line);
    line.reason += clock_words(line);
    if (const coding::CodeEntry* entry = list.find(line.code); entry && entry->joint == coding::JointRule::no)
      line.at_joint = false;
    if (finding.continuous) {
      if (!row.end) stretch[row.finding] = ++stretches;
      line.stretch = (row.end ? "B" : "A") + std::to_string(stretch[row.finding]);
      if (row.end) line.reason = "the same stretch ends here";
    }
    line.id = "o" + std::to_string(truth.record.observations.size() + 1);
    if (!finding.hidden.empty() && !row.end) truth.record.not_visible.push_back({line.id, finding.hidden});
    truth.origins.push_back({finding.fault, std::min(finding.from_m, finding.to_m),
                             std::max(finding.from_m, finding.to_m), finding.note});
    truth.record.observations.push_back(std::move(line));
  }
  return truth;
}

}  // namespace haunch::truth
