// SPDX-License-Identifier: Apache-2.0
// Standing and running water of a laid-out run.
#pragma once

#include <vector>

#include "scene/scene.hpp"

namespace haunch::scene {

/// Corners of the invert of a run, steps at joints included. Where two units are out of line the
/// bottom of their shared opening counts too: water must pass it.
std::vector<InvertPoint> invert_profile(const Scene& scene);
/// Depth of what runs in by a connection, as a share of its own bore: Manning's n is that of the run's ware
/// for a made branch, else of plastic. 0 when nothing does.
double incoming_depth_share(const Scene& scene, const Connection& connection);
/// How fast it runs there, m/s.
double incoming_velocity_m_s(const Scene& scene, const Connection& connection);

/// The deeper of standing and running water. Water passing over a pond's lip has its running depth
/// there, so a pond with flow stands that much higher; without flow exactly at the lip. Settled
/// deposits do not yet dam water.
Water water_of_run(const Scene& scene);

}  // namespace haunch::scene
