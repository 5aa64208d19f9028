// SPDX-License-Identifier: Apache-2.0
// The bore itself: pieces and joint grooves as a row of short sheared cylinders, met by many rays at
// a time with exact arithmetic, so that every instruction set gives the same picture.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/passes.hpp"
#include "render/textures.hpp"

namespace haunch::render {

inline constexpr double sight_m = 14;  ///< beyond this the lamp shows nothing

/// One stretch of wall, a row of floats so that a vector of rays can gather it.
struct Stretch {
  float z0, z1;              // chainage, m
  float centre_x, centre_y;  // at z0
  float slope_x, slope_y;    // of the centre line, m per m
  float radius;
  float texels_per_radian, texels_per_m, shift_u, shift_v;
  float tint_r, tint_g, tint_b;      // multiplies the tile's albedo
  float mean_r, mean_g, mean_b;      // what is mirrored in a wet wall
  float flow_y, flow_slope;          // elevation of the flow line at z0, m per m
  float per_tide;                    // 1 / height of the stained band above it
  float gloss, bumps;                // factors on the tile's own
  float per_smear_lo, per_smear_hi;  // 1 / width of mortar, rust or dirt beside the joints at z0 and z1
  float smear_r, smear_g, smear_b, smear_gloss;
  float print;                   // maker's marks near the crown, 0 or 1
  float soak;                    // how far water darkens it
  float face_r, face_g, face_b;  // broken or cut end of the wall
  float fault;                   // number shown by this stretch's own surface (an open joint's groove)
  float face_lo_fault, face_hi_fault;
  float tile;    // start of its tile in the textures (whole number)
  float groove;  // 1 for the groove of a joint: no bore wall
  float sludge;  // how dark the invert is
  float grain;   // how strongly fine grit shows
  float bare;    // 1: its end faces stand clear, 0: the joint is closed
  float shape;   // of its sections: round_bore, oval_bore, hinged_bore, egg_bore, box_bore
  // Oval: 1 / square of half width and half height at z0, and their change per m. Hinged: how far the
  // quarters' centres lie from the middle, and that change. Egg and box: half width and half height, which
  // do not change.
  float wide, wide_slope, high, high_slope;
  float behind;  // egg and box: how far the wall of a groove lies behind the bore's, m
  // As it is lit, so that a row of straight pieces looks as smooth as what it stands for: lean of the
  // line, and slopes of wide and high, at z0, and their change per m. Not asked of what is neither
  // curved nor out of round.
  float curved;
  float lean_x, lean_x_change, lean_y, lean_y_change;
  float wide_lean, wide_lean_change, high_lean, high_lean_change;
  // What no tile can hold. Bricks: a is courses a radian. A liner: a is 1 / spacing of the joints behind it,
  // b the chainage of one, c the angle of its seam. A worn channel: a is half the angle it takes up.
  float particular;  // plain_wall, brick_wall ..
  float particular_a, particular_b, particular_c;
};
inline constexpr float round_bore = 0, oval_bore = 1, hinged_bore = 2, egg_bore = 3, box_bore = 4;
inline constexpr float plain_wall = 0, brick_wall = 1, lined_wall = 2, worn_channel = 3;
inline constexpr int stretch_floats = sizeof(Stretch) / sizeof(float);

struct Marks;

struct Wall {
  std::vector<Stretch> stretches;
  std::vector<std::int32_t> piece;  ///< of the scene; -1 for grooves
  bool any_curved = false;
};

/// with_faults false: open joints are closed to an ordinary gap and no fault is numbered; shifts and
/// bends keep their shape, because the rest of the run follows from them.
Wall build_wall(const scene::Scene& scene, const Textures& textures, bool with_faults);

/// Fills the rays for places of the picture (pixels), with the lamp's beam.
void make_rays(const RayCamera& camera, const float* px, const float* py, int count, Samples& samples);
/// How far off the rays meet the wall, and which stretch. Sets unseen to black_beyond.
void walk_wall(const Wall& wall, Samples& samples);
/// Lights what was met, and fills the rest of the samples; black where depth lies beyond unseen. What the
/// marks will paint over may be left black too; null: nothing will be.
void shade_wall(const Wall& wall, const Textures& textures, const Marks* marks, Samples& samples);

}  // namespace haunch::render
