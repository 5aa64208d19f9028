// SPDX-License-Identifier: Apache-2.0
// Where the camera's lens is and how it looks, for a place along the run.
#pragma once

#include "scene/scene.hpp"

namespace haunch::scene {

struct CameraPose {
  Vec3 lens;              ///< m
  double roll_deg = 0;    ///< clockwise seen along travel
  double yaw_deg = 0;     ///< right of the pipe's axis, seen along travel
  double pitch_deg = 0;   ///< above the pipe's axis
  int travel = 1;         ///< +1 looks downstream, -1 upstream
  Vec3 forward;           ///< unit: along the axis before yaw and pitch
  double field_deg = 90;  ///< full field across the picture's width
};

/// The camera with its lens at z. A push camera rests on the invert on its ball skid, rolls as the
/// rod twists (smooth, by seed) and dips under in a sag; a crawler stays level on its height.
CameraPose pose_at(const Scene& scene, double lens_z_m);

/// How far off the pipe's axis a crawler's head turns, and how fast (ours: about as such heads do). A push
/// camera's head does not turn.
inline constexpr double most_turn_deg = 75, turn_deg_s = 45;
bool head_turns(const Scenario& scenario);

/// Diameter of the ball skid a push head of this thickness rides on in this bore, mm. Gives a
/// 38 mm head in a 100 mm bore its top at 50 mm (common practice, no source).
double skid_mm(double head_mm, double bore_mm);
/// Lens height above the invert, mm.
double lens_height_mm(const CameraRig& rig, double bore_mm);

/// Share of the head's height under water, 0 clear to 1 wholly under.
double submerged_share(const Scene& scene, const CameraPose& pose);

/// Is the lens under water, or under ground water that falls into the pipe? Drops stay on it.
bool lens_wetted(const Scene& scene, const CameraPose& pose);

/// How far ahead of a lens on the axis the wall first comes into the picture, m.
double nearest_wall_ahead_m(double radius_m, double field_deg);

/// The counter reads at a ring on the wall: the circle 35 degrees off the axis (ours). Its distance
/// ahead of the lens, m.
double reference_ring_ahead_m(double radius_m);

}  // namespace haunch::scene
