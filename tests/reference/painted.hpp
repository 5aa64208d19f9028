// SPDX-License-Identifier: Apache-2.0
// What a place of the bore's wall shows: cracks, damaged surface, and where it is missing. Their lines and
// outlines are `matter`'s; which pixels count as theirs is said here once more.
#pragma once

#include <cstdint>
#include <memory>

#include "scene/scene.hpp"

namespace haunch::reference {

/// A place of the wall, m along and radians clockwise from the crown, and how both change from a pixel to the
/// next across and down.
struct Spot {
  double z_m = 0, angle = 0, radius_m = 0;
  double z_across = 0, z_down = 0, round_across = 0, round_down = 0;  // m a pixel
};
struct Painted {
  std::uint16_t fault = 0;  ///< 0: the wall itself
  bool open = false;        ///< the wall is missing
  bool either = false;      ///< near an edge that is drawn in tatters: its number or what lies beside it
};

class Painting {
 public:
  explicit Painting(const scene::Scene& scene);
  ~Painting();
  Painting(Painting&&) noexcept;
  Painting& operator=(Painting&&) = delete;
  Painted at(const Spot& spot, std::uint16_t wall_fault) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::reference
