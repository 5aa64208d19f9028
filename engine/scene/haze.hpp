// SPDX-License-Identifier: Apache-2.0
// How far one sees in a pipe: through steam, stirred silt and what sticks to the window.
#pragma once

#include "scene/scene.hpp"

namespace haunch::scene {

/// Of the light of what lies behind x of haze (per_m times way) 1 / (1 + x/8)^8 is left, which stands for
/// e^-x in the pictures; a twentieth from here.
inline constexpr double hidden_behind = 3.634;

/// How strongly haze of a kind hides at z, per metre of way; 0: there is none.
double haze_per_m(const Scenario& scenario, HazeKind kind, double z_m);
/// The same over the way between two places along the pipe.
double haze_between(const Scenario& scenario, HazeKind kind, double z_m, double other_z_m);
/// How far a lens at z can see through what is just about it, m: steam above the water, silt below it; at
/// most `most_m`. The same whichever way it looks.
double sight_through_haze_m(const Scene& scene, double lens_z_m, double most_m);
/// The thickest haze of a kind within a stretch (either way round): its fault number, or 0.
int thickest_haze(const Scenario& scenario, HazeKind kind, double z_m, double other_z_m);
/// The film on the window of a lens at z: the number of the fault that covers most of it, or 0.
int film_at(const Scenario& scenario, double z_m);

}  // namespace haunch::scene
