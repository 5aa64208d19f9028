// SPDX-License-Identifier: Apache-2.0
// What stands between the scene and the sensor: the lens bends, its corners are dark, and on the window
// before it hang drops, fog and dirt. A warp and a layer over the finished frame: fault numbers and depths
// know nothing of it. Room-internal header.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "render/renderer.hpp"
#include "scene/scenario.hpp"

namespace haunch::render {

inline constexpr double undimmed = 220;  ///< the lens takes no light; a drop's foot gathers more

/// Where each pixel of the finished frame is read from, and how bright the lens lets it be.
struct LensMap {
  int width = 0, height = 0;
  /// Source place in sixteenths of a pixel (middle of pixel 0 is 0); factor in `undimmed` parts.
  std::vector<std::uint16_t> x, y;
  std::vector<std::uint8_t> bright;
  /// What lies on the window: how much of the view it takes (255: all), and how brown it is.
  std::vector<std::uint8_t> cover, brown;
  std::vector<std::uint8_t> covered;  ///< of each row: does anything lie on it?
  bool clean() const { return std::find(covered.begin(), covered.end(), 1) == covered.end(); }
};
/// Slight barrel distortion and dark corners; in air a few drops by seed, and fog. Dirt also under water.
LensMap lens_map(int width, int height, std::uint64_t seed, const scene::CameraRig& rig, bool in_air);

/// The map with what still runs off the window, `ago_s` after it was wetted; `roll_deg` as in the pose.
void wet_the_window(const LensMap& dry, std::uint64_t seed, double ago_s, double roll_deg, LensMap& wet);

/// The picture as fog or dirt on the window, far out of focus, lets it through: its light, spread wide.
/// Tones 0 to 1023, three colours.
class Glow {
 public:
  static constexpr int cell_px = 16;
  void resize(int width, int height);
  int rows() const { return rows_; }
  void gather_row(const std::uint32_t* toned, int cell_row);  ///< each first, in any order
  void spread();                                              ///< then once
  /// One row of pixels: three planes of glow_plane(width).
  void row(int y, float* out) const;

 private:
  int width_ = 0, height_ = 0, columns_ = 0, rows_ = 0;
  std::vector<float> cells_, other_;
};
inline std::size_t glow_plane(int width) { return static_cast<std::size_t>(width) + 16; }
/// Of the light of a wide patch, what dirt keeps back of red, green and blue (ours, by eye: thin brown
/// sludge).
inline constexpr float dirt_takes[3] = {0.62F, 0.72F, 0.83F};

}  // namespace haunch::render
