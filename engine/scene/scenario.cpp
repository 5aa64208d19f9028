// SPDX-License-Identifier: Apache-2.0
#include "scene/scenario.hpp"

#include <cassert>

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
  scenario.faults.erase(scenario.faults.begin() + (number - 1));
  return scenario;
}

}  // namespace haunch::scene
