// SPDX-License-Identifier: Apache-2.0
// A tile's worth of rays and what each of them met, as arrays in step so that the wall can be met
// eight or sixteen rays at a time. Every pass takes Samples and leaves the nearest thing in them:
//   wall    -> fills everything (depth infinite where the ray leaves by the open far end)
//   marks   -> repaints wall samples (cracks), and opens them where the wall is missing
//   meshes  -> anything nearer than depth replaces it
//   strands -> the same for root hair, by coverage
//   water   -> goes over the lot
// Room-internal header: only engine/render includes it.
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

namespace haunch::render {

inline constexpr float nothing_hit = std::numeric_limits<float>::infinity();

struct Rgb {
  float r = 0, g = 0, b = 0;
};
inline Rgb operator*(float k, Rgb c) { return {k * c.r, k * c.g, k * c.b}; }
inline Rgb operator*(Rgb a, Rgb b) { return {a.r * b.r, a.g * b.g, a.b * b.b}; }
inline Rgb operator+(Rgb a, Rgb b) { return {a.r + b.r, a.g + b.g, a.b + b.b}; }
inline Rgb blend(Rgb a, Rgb b, float share_of_b) { return (1 - share_of_b) * a + share_of_b * b; }

/// Something clear before what a ray goes on to meet: it is laid over that when its light is known.
struct Veil {
  std::int32_t ray = 0;
  float depth = 0;    ///< along the ray, m
  float lets_by = 0;  ///< share of the light behind it that comes through
  Rgb light;          ///< its own
  std::uint16_t fault = 0;
};

struct Samples {
  int count = 0;
  // The rays: start (m, scene coordinates), unit direction.
  std::vector<float> org_x, org_y, org_z, dir_x, dir_y, dir_z;
  // Light on the way: how strongly the lamp shines along the ray (its beam, and what the water took),
  // and the way from the lamp to the ray's start (0 from the lens; more after a mirror or a bend).
  std::vector<float> lamp, travelled;
  // What they met: distance along the ray (m), linear light (before exposure), fault number.
  std::vector<float> depth, red, green, blue;
  std::vector<std::uint16_t> fault;
  // For samples that show bore wall: piece index (else -1), chainage, angle clockwise from the crown
  // looking downstream (radians, [0, 2 pi)), unit normal into the bore.
  std::vector<std::int32_t> piece;
  std::vector<float> wall_z, wall_angle, normal_x, normal_y, normal_z;
  std::vector<std::int32_t> place;  ///< the wall pass's own note: which stretch of wall was met, or -1
  std::vector<float> unseen;        ///< the wall is hidden beyond this distance along the ray (by water)
  // Laid over by coverage, so that finer rays would add nothing; stands for nothing else while
  // any_smooth is false.
  std::vector<std::uint8_t> smooth;
  bool any_smooth = false;
  std::vector<Veil> veils;  ///< before water that is yet to be drawn
  // Footprint of a pixel at unit distance (radians, or metres for the parallel lens).
  float pixel_size = 0;
  bool parallel = false;
  bool drowned = false;  ///< the rays go through water: nothing there has the gloss of a wet wall in air
  float right_x = 1, right_y = 0, right_z = 0;  ///< the picture's right: rays of a row spread this way
  float black_beyond = nothing_hit;  ///< what lies farther along the ray cannot be seen (murky water)

  void resize(int new_count);  ///< a multiple of 16 is allocated
  void pad();                  ///< the extra lanes repeat the last ray; call once the rays are filled in
};

/// Lays the veils over what lies behind them now.
void lay_veils(Samples& samples);

/// sRGB 0..255 to linear light, for writing down colours as people know them.
Rgb linear_from_srgb(int r, int g, int b);

// The lamp, for every pass (ours, chosen by eye).
inline constexpr float lamp_nearest_m = 0.03F;     ///< nearer than this it grows no brighter
inline constexpr float rough_share = 0.4F;         ///< how far rough matter stays bright at grazing angles
inline constexpr float highlight_strength = 1.5F;  ///< a wet highlight against white paper

/// What a point of matter looks like to the light.
struct Matter {
  Rgb albedo;              ///< linear, 0..1
  float gloss = 0;         ///< 0 dull .. 1 wet: strength of the highlight
  float shine_power = 40;  ///< narrowness of the highlight
};

/// The lamp ring sits round the lens, so light and view share one direction: what comes back falls
/// with the square of the distance and with the angle of the surface; wet matter adds a highlight.
/// `cosine` is between normal and the ray back to the lens. Linear light, before exposure.
Rgb lit(const Matter& matter, float cosine, float distance_m);
/// The same for what ray i meets at `depth_m`: with the lamp's beam and the way travelled before.
/// This is the one to use in a pass.
Rgb lit(const Samples& samples, int i, const Matter& matter, float cosine, float depth_m);

}  // namespace haunch::render
