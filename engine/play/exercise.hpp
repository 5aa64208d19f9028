// SPDX-License-Identifier: Apache-2.0
// One exercise without a screen: the drive, what was logged, the judgement, the marking; and a log
// of every input from which the whole exercise can be replayed.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "marking/mark.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::play {

/// Everything a trainee can do. Times are whole ticks of 1/60 s, so that a replay is exact.
struct Drive { double speed_m_s = 0; };         ///< along travel; negative reverses; 0 stops
struct GoTo { double distance_m = 0; };         ///< jump back to a distance already reached
struct Log { coding::Observation observation; };  ///< distance empty: where the counter stands
struct Change { std::string id; coding::Observation observation; };
struct Remove { std::string id; };
struct GiveClasses { coding::GivenClasses classes; };
struct GiveObjectClass { int object_class = 0; };
struct GiveAction { coding::Action action = coding::Action::carry_on; };
struct Finish {};
using Input = std::variant<Drive, GoTo, Log, Change, Remove, GiveClasses, GiveObjectClass, GiveAction, Finish>;

struct TimedInput {
  long tick = 0;
  Input input;
};

enum class Phase { driving, judging, review };
// driving: Drive, GoTo, Log, Change, Remove. Finish ends it and asks for classes and an action
// (judging); a second Finish marks (review).

class Exercise {
 public:
  explicit Exercise(scene::Scene scene);

  const scene::Scene& scene() const { return scene_; }
  const truth::Truth& truth() const { return truth_; }
  Phase phase() const { return phase_; }
  long tick() const { return tick_; }
  double time_s() const { return static_cast<double>(tick_) / 60.0; }

  /// Moves time on by one tick.
  void step();
  /// Does an input now; a problem (in words) when it makes no sense in this phase, and then nothing
  /// has changed and nothing is logged.
  base::Problems act(const Input& input);

  double lens_z_m() const { return lens_z_m_; }
  double counter_m() const;       ///< distance shown: at the reference ring
  double furthest_m() const;      ///< largest part of the run driven, as distance from where it began
  double speed_m_s() const { return speed_m_s_; }
  scene::CameraPose pose() const;
  bool under_water() const;

  const coding::Record& record() const { return record_; }  ///< the attempt so far
  const std::optional<marking::Marking>& marking() const { return marking_; }
  const std::vector<TimedInput>& log() const { return log_; }

 private:
  scene::Scene scene_;
  truth::Truth truth_;
  Phase phase_ = Phase::driving;
  long tick_ = 0;
  double lens_z_m_ = 0;
  double furthest_z_m_ = 0;
  double speed_m_s_ = 0;
  int next_id_ = 1;
  coding::Record record_;
  std::optional<marking::Marking> marking_;
  std::vector<TimedInput> log_;
};

/// The input log as text (JSON Lines: one header line naming scenario hash and edition, then one
/// line an input) and back.
std::string log_to_text(const Exercise& exercise);
base::Result<std::vector<TimedInput>> log_from_text(const std::string& text, const std::string& file_name);
/// Plays a log from the beginning.
base::Result<Exercise> replay(scene::Scene scene, const std::vector<TimedInput>& log);

}  // namespace haunch::play
