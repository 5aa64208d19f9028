// SPDX-License-Identifier: Apache-2.0
// A run and a lens as a scene file of POV-Ray: the same camera and bodies, a lamp at the lens that falls off
// with the square of the way, and procedural ware. Left out: what is painted on the wall (cracks, dirt, worn
// surface), the maps of the ware, what opens the wall, droplets, noise, exposure; strands have no ends of
// their own.
#pragma once

#include <string>

#include "shots.hpp"

namespace haunch::bench {

std::string pov_scene(const Shot& shot);

}  // namespace haunch::bench
