// SPDX-License-Identifier: Apache-2.0
// Drives an exercise the way a person does: to a place, stop, type a line.
#pragma once

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/files.hpp"
#include "base/result.hpp"
#include "play/entry.hpp"
#include "play/exercise.hpp"
#include "scenario/read.hpp"
#include "scene/scenario.hpp"

namespace haunch::play::test {

inline scene::Scene shipped_scene(const std::string& name) {
  auto scenario = scenario::read_scenario(base::content_dir() / "scenarios" / (name + ".json"));
  if (!scenario) throw std::runtime_error(base::to_line(scenario.problems().front()));
  return scene::build_scene(std::move(scenario).value());
}

class Driver {
 public:
  explicit Driver(scene::Scene scene) : exercise(std::move(scene)) {}

  void act(const Input& input) {
    const auto problems = exercise.act(input);
    if (!problems.empty()) throw std::runtime_error(base::to_line(problems.front()));
  }
  void wait(double seconds) { exercise.step_to(exercise.tick() + std::lround(seconds * 60)); }

  /// Drives, forwards or back, until the counter is there, and stops.
  void drive_to(double distance_m, double speed_m_s = 0.15) {
    const auto ahead = [&] {
      // Counters may run down: which way is forward shows in how far the drive has come.
      const double along = distance_m - exercise.counter_m();
      const auto& scenario = exercise.scene().scenario;
      return scene::distance_of(scenario, scene::travel(scenario)) > scene::distance_of(scenario, 0) ? along
                                                                                                     : -along;
    };
    const double direction = ahead() > 0 ? 1 : -1;
    act(Drive{direction * speed_m_s});
    while (ahead() * direction > 0 && exercise.speed_m_s() != 0) exercise.step();
    act(Drive{0});
  }

  /// Types a line and logs it; typing takes time.
  std::string type(const std::string& line) {
    wait(0.25 * static_cast<double>(line.size()));
    const Entry entry = read_entry(line, coding::CodeList::shipped(), base::LengthUnit::metres);
    if (!entry.usable()) throw std::runtime_error("not usable: " + line);
    act(Log{entry.observation});
    return exercise.record().observations.back().id;
  }

  Exercise exercise;
};

}  // namespace haunch::play::test
