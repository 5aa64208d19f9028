// SPDX-License-Identifier: Apache-2.0
// One question of a drill: a short run, where to look at it from, what is asked, and what the run's own truth
// says to it. The right answer is never written by hand.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "coding/observation.hpp"
#include "coding/record.hpp"
#include "learning/evidence.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::drills {

enum class Kind {
  name_it,
  clock,
  size_it,
  water_depth,
  find_bottom,
  which_of_two,
  clean_or_not,
  grade_it,
  next_step
};
const std::vector<Kind>& all_kinds();
std::string show(Kind kind);  ///< "name it", as files and stores have it
std::optional<Kind> kind_from(const std::string& words);
/// What a person shows with an answer to such a question.
learning::Skill skill_of(Kind kind);

/// What question is wanted.
struct Wanted {
  Kind kind = Kind::name_it;
  std::string code;           ///< main code; empty: any that the kind can be asked of
  double ease = 0.5;          ///< 0 small, far and turned over .. 1 large, near and upright
  std::optional<bool> clean;  ///< of clean or not; nothing: one or the other, by the seed
  std::uint64_t seed = 1;     ///< the same gives the same question and the same picture
  bool operator==(const Wanted&) const = default;
};

/// How the camera moves. It looks the same way all along.
struct Clip {
  double from_z_m = 0, to_z_m = 0;  ///< of the lens, m from the upstream end
  double seconds = 0;               ///< 0: a still
  double roll_deg = 0, yaw_deg = 0, pitch_deg = 0;
  bool operator==(const Clip&) const = default;
};
/// The camera so long after the beginning; where the clip has ended it stays.
scene::CameraPose pose_at(const scene::Scene& scene, const Clip& clip, double seconds);

/// Where the ring is drawn on the wall that the question speaks of; nothing where it speaks of none.
std::optional<double> ring_z_m(const scene::Scene& scene, const Clip& clip, Kind kind);

struct Option {
  std::string value;  ///< what an answer says: "BAB", "clean", "do not jet"
  std::string words;
  bool operator==(const Option&) const = default;
};

/// How what is asked about shows, measured on the picture. Nothing where nothing is shown, or it has no
/// outline (a change, the end of the run).
struct Shows {
  double share = 0, contrast = 0, in_view_s = 0;
  bool operator==(const Shows&) const = default;
};

struct Item {
  Wanted wanted;
  scene::Scene scene;
  Clip clip;
  std::string code;                 ///< main code of what is there; empty where nothing is wrong
  coding::Observation there;        ///< as derived; empty where nothing is wrong
  coding::Record truth;             ///< header and that one observation, for the marking
  std::vector<std::string> also{};  ///< other main codes that the run's truth has: never offered as wrong
  int fault = 0;                    ///< to light up afterwards: its number; 0: none
  std::string question;
  std::vector<Option> options;     ///< empty where the answer is a number or a place
  std::vector<std::string> goals;  ///< of grade it: a class is asked for each
  int worst_class = 5;
  std::string unit;   ///< of a number: "%", "mm"
  std::string right;  ///< in words, or the option's value
  std::string why;    ///< why it is so, in a sentence or two
  std::optional<Shows> shows;
  double guess = 0;      ///< chance of being right by guessing
  std::string instance;  ///< of run and view: never the same for two seeds
};

}  // namespace haunch::drills
