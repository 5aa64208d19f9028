// SPDX-License-Identifier: Apache-2.0
#include "drills/item.hpp"

#include <algorithm>

namespace haunch::drills {

const std::vector<Kind>& all_kinds() {
  static const std::vector<Kind> all = {Kind::name_it,      Kind::clock,       Kind::size_it,
                                        Kind::water_depth,  Kind::find_bottom, Kind::which_of_two,
                                        Kind::clean_or_not, Kind::grade_it,    Kind::next_step};
  return all;
}

std::string show(Kind kind) {
  switch (kind) {
    case Kind::name_it:
      return "name it";
    case Kind::clock:
      return "clock";
    case Kind::size_it:
      return "size it";
    case Kind::water_depth:
      return "water depth";
    case Kind::find_bottom:
      return "find bottom";
    case Kind::which_of_two:
      return "which of two";
    case Kind::clean_or_not:
      return "clean or not";
    case Kind::grade_it:
      return "grade it";
    case Kind::next_step:
      return "next step";
  }
  return {};
}

std::optional<Kind> kind_from(const std::string& words) {
  for (const Kind kind : all_kinds())
    if (show(kind) == words) return kind;
  return std::nullopt;
}

learning::Skill skill_of(Kind kind) {
  switch (kind) {
    case Kind::name_it:
    case Kind::which_of_two:
      return learning::Skill::named;
    case Kind::clock:
      return learning::Skill::clock;
    case Kind::size_it:
      return learning::Skill::sized;
    case Kind::water_depth:
      return learning::Skill::water_depth;
    case Kind::find_bottom:
      return learning::Skill::bottom;
    case Kind::clean_or_not:
      return learning::Skill::clean;
    case Kind::grade_it:
      return learning::Skill::graded;
    case Kind::next_step:
      return learning::Skill::next_step;
  }
  return learning::Skill::named;
}

scene::CameraPose pose_at(const scene::Scene& scene, const Clip& clip, double seconds) {
  const double share = clip.seconds > 0 ? std::clamp(seconds / clip.seconds, 0.0, 1.0) : 0;
  scene::CameraPose pose = scene::pose_at(scene, clip.from_z_m + share * (clip.to_z_m - clip.from_z_m));
  pose.roll_deg = clip.roll_deg;
  pose.yaw_deg = clip.yaw_deg;
  pose.pitch_deg = clip.pitch_deg;
  return pose;
}

std::optional<double> ring_z_m(const scene::Scene& scene, const Clip& clip, Kind kind) {
  if (kind != Kind::water_depth) return std::nullopt;
  return clip.to_z_m +
         scene::travel(scene.scenario) * scene::reference_ring_ahead_m(scene::radius_at(scene, clip.to_z_m));
}

}  // namespace haunch::drills
