// SPDX-License-Identifier: Apache-2.0
// What sticks to the window and takes the sight: grease, foam, a web, mud. Unlike fog and dirt it is a thing
// of the scene with a number; it lies over the toned picture, far out of focus. Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "scene/faults_sight.hpp"

namespace haunch::render {

struct Film {
  int width = 0, height = 0;
  int fault = 0;  ///< its number; 0: none made yet
  scene::LensFilm kind = scene::LensFilm::grease;
  std::vector<std::uint8_t> cover,
      shade;  ///< how much of the view it takes (255: all); its own light, 128: as it is
};
/// More than half of the view is taken on as much of the window as is said.
Film lens_film(int width, int height, const scene::OnLens& on_lens, int number, std::uint64_t seed);

/// Over one row; `glow` as Glow::row gives it.
void lay_film(const Film& film, const float* glow, int row, std::uint32_t* toned, std::uint16_t* fault,
              float* depth);

}  // namespace haunch::render
