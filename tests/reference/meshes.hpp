// SPDX-License-Identifier: Apache-2.0
// A run as triangles and round strands: the bore in fine facets, joints with their ends, and the bodies of
// faults as `matter` gives them. Nothing of the renderer is used: it is what the renderer is held against.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "scene/scene.hpp"

namespace haunch::reference {

enum class Part : std::uint8_t {
  bore,    ///< may be painted, or open
  end,     ///< of a unit
  groove,  ///< between units: how deep one sees there is nobody's business
  body,    ///< of a fault
  rough,   ///< of a fault, lumpier than it is given: its distance is not known
};

struct Triangles {
  Part part = Part::bore;
  std::uint16_t fault = 0;
  int piece = -1;  ///< of the bore
  std::vector<scene::Vec3> points;
  std::vector<std::array<std::uint32_t, 3>> corners;

  std::uint32_t add(scene::Vec3 p) {
    points.push_back(p);
    return static_cast<std::uint32_t>(points.size() - 1);
  }
  void quad(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    corners.push_back({a, b, d});
    corners.push_back({c, d, b});
  }
};

std::vector<Triangles> bore_triangles(const scene::Scene& scene);
std::vector<Triangles> body_triangles(const scene::Scene& scene, double time_s);

}  // namespace haunch::reference
