// SPDX-License-Identifier: Apache-2.0
#include "scene/scenario.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "base/random.hpp"

namespace haunch::scene {
namespace {

int chance_of(const Scenario& scenario, int number) {
  const Fault& fault = scenario.faults.at(static_cast<std::size_t>(number - 1));
  return fault.chance > 0 ? fault.chance : number;
}

}  // namespace

std::string show(PipeShape shape) {
  switch (shape) {
    case PipeShape::circular:
      return "circular";
    case PipeShape::egg:
      return "egg";
    case PipeShape::rectangular:
      return "rectangular";
  }
  return {};
}

double clear_height_mm(const Section& section) {
  switch (section.shape) {
    case PipeShape::circular:
      return section.bore_mm;
    case PipeShape::egg:
      return 1.5 * section.bore_mm;
    case PipeShape::rectangular:
      return section.height_mm;
  }
  return section.bore_mm;
}

std::uint64_t fault_seed(const Scenario& scenario, int number) {
  return base::mix(scenario.seed ^ base::mix(static_cast<std::uint64_t>(chance_of(scenario, number))));
}

Scenario without(Scenario scenario, int number) {
  const int count = static_cast<int>(scenario.faults.size());
  assert(number >= 1 && number <= count);
  for (int n = 1; n <= count; ++n)
    scenario.faults[static_cast<std::size_t>(n - 1)].chance = chance_of(scenario, n);
  // What was replaced is then as its neighbour is.
  const Fault& gone = scenario.faults[static_cast<std::size_t>(number - 1)];
  if (const auto* repair = std::get_if<Repair>(&gone.kind);
      repair && repair->form == RepairForm::pipe_replaced)
    for (std::size_t i = 0; i < scenario.sections.size() && scenario.sections.size() > 1; ++i) {
      Section& section = scenario.sections[i];
      if (std::abs(section.from_m - repair->from_m) > 0.01 || std::abs(section.to_m - repair->to_m) > 0.01)
        continue;
      const Section& beside = scenario.sections[i > 0 ? i - 1 : i + 1];
      section.material = beside.material;
      section.colour = beside.colour;
    }
  scenario.faults.erase(scenario.faults.begin() + (number - 1));
  return scenario;
}

double flow_at_l_s(const Scenario& scenario, double z_m) {
  // In order along the run: what has left is gone before the next water comes in.
  struct Change {
    double at_m, adds_l_s, keeps;
  };
  std::vector<Change> changes;
  for (const Fault& fault : scenario.faults) {
    if (const auto* connection = std::get_if<Connection>(&fault.kind); connection && connection->at_m < z_m)
      changes.push_back({connection->at_m, connection->flow_l_s, 1});
    if (const auto* loss = std::get_if<Exfiltration>(&fault.kind); loss && loss->at_m <= z_m)
      changes.push_back({loss->at_m, 0, 1 - loss->loses_percent / 100});
  }
  std::stable_sort(changes.begin(), changes.end(),
                   [](const Change& a, const Change& b) { return a.at_m < b.at_m; });
  double flow = scenario.flow_l_s;
  for (const Change& change : changes) flow = flow * change.keeps + change.adds_l_s;
  return flow;
}

}  // namespace haunch::scene
