// SPDX-License-Identifier: Apache-2.0
// Patches: where the wall's own surface is another than it was. A seeded grid over (along, round) says how
// far inside each place lies, a tile what the surface there is made of.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "matter/patch.hpp"
#include "render/patch_tile.hpp"
#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// How a patch lies in the wall.
struct PatchRelief {
  float depth = 0;       ///< m its floor lies below the wall
  float top = 0;         ///< m that anything rises above the wall
  float edge = 0.004F;   ///< m from its edge over which it comes to its depth
  float uneven = 0.3F;   ///< how much of its depth comes and goes
  float solid = 1;       ///< how far it hides the wall beneath
  float soft = 0.0007F;  ///< m either way over which it gives way to the wall
  float dark = 0;        ///< how fast light is lost in it, 1/m
  Rgb deep;              ///< what its floor is made of ..
  float deep_from = 0;   ///< .. from this depth on, m; 0 it is all one
  float fray = 0.25F;    ///< m of edge to and fro for each m of the tile's height about its middle
  float frays_over = 0;  ///< m inside its edge over which it comes in islands
  float middle = 0;      ///< the tile's middling height, m
  Rgb body;              ///< what its steps show, which the tile lies across
  float grime = 0.38F;   ///< how far clouds of old dirt darken it
  Rgb rim;               ///< what shows above the ground beneath: the wall's own body ..
  float rim_to = 0;      ///< .. down to here, m below the wall; 0 it is all one
  bool film = false;     ///< the tile lies on the wall as a film: its albedo is a factor to the wall's own
  Rgb stain;             ///< what lies about and below it does to the wall: factors
  float stains = 0;      ///< how strongly, 0 .. 1
  bool bends = false;    ///< the wall's own skin, bulged or dented
};
/// Round bars of steel: rings, and lengths along the pipe.
struct PatchBars {
  float radius = 0;                           ///< m; 0 there are none
  float axis = 0;                             ///< m above the wall (negative: below it)
  float rings_every = 0, rings_from = 0;      // m along
  float lengths_every = 0, lengths_from = 0;  // m round
  float flaky = 0;                            ///< 0 sound .. 1 eaten into flakes
  float bow = 0;                              ///< m it stands off its axis here and there
  float hidden = 0;                           ///< 0 bare .. 1 mostly under concrete, in stretches
  float shade = 0.4F;                         ///< how much light it keeps from what lies under it
};
/// Of the grid, m.
struct PatchBox {
  float from_z = 0, to_z = 0, from_s = 0, to_s = 0;
};
/// How far a ray may run along the wall for each metre it comes down to a bulging one.
inline constexpr float patch_bend_slant = 12;

/// How far inside or outside its edge a cell of a patch knows to be, m.
inline constexpr float patch_cell_least = -0.1F, patch_cell_range = 0.5F;

struct PatchMark {
  std::uint16_t fault = 0;
  float z0 = 0, z1 = 0;  ///< chainages it may touch
  float from_angle = 0;  ///< radians, of the grid's first column
  float span = 0;        ///< radians it takes up, a whole turn at most
  float radius = 0;
  bool whole = false;
  bool over_joint = false;           ///< goes on over the groove of the joint in its middle
  float centre_x = 0, centre_y = 0;  ///< of the bore there
  // The grid: metres inside the edge; broad unevenness 0 .. 1; stain 0 .. 1. Of a skin that is bent: how
  // high it stands (negative: how deep), m; how pale it has turned, 0 .. 1.
  struct Cell {
    float inside, broad, stain;
  };
  float step_z = 0, step_s = 0;
  int rows = 0, columns = 0;
  std::vector<Cell> grid;
  /// The same of a patch with a tile, a word each: sixteen bits for metres inside (patch_cell_least and
  /// _range), a byte each for broad and stain.
  std::vector<std::int32_t> cells;
  std::vector<float> flow_y;               ///< of each row: elevation of what usually flows
  float crown_s = 0;                       ///< m from the grid's first column to the crown
  float full_s = 0;                        ///< m round the whole wall
  float per_texel_u = 0, per_texel_v = 0;  ///< texels a metre
  float shift_u = 0, shift_v = 0;
  PatchRelief relief;
  PatchBars bars;
  Rgb steel;                    ///< of bars; of plastic that has turned pale
  PatchBox bent;                ///< where a skin that bends does so
  std::vector<PatchTile> tile;  ///< one, or none where the skin only bends
  std::uint32_t seed = 0;
};

/// What a kind of surface looks like: relief, bars and tile; the area is set already.
void damage_look(const scene::SurfaceDamage& damage, const scene::Section& section, PatchMark& mark);

void porous_look(const scene::Section& section, PatchMark& mark);
void sweating_look(const scene::Section& section, PatchMark& mark);
void mortar_look(const scene::MissingMortar& mortar, PatchMark& mark);

PatchMark porous_patch(const scene::Scene& scene, const scene::PorousWall& wall, int number);
PatchMark sweating_patch(const scene::Scene& scene, const scene::SweatingWall& wall, int number);
PatchMark mortar_patch(const scene::Scene& scene, const scene::MissingMortar& mortar, int number);
PatchMark damage_patch(const scene::Scene& scene, const scene::SurfaceDamage& damage, int number);
PatchMark bent_patch(const scene::Scene& scene, const scene::SurfaceDamage& damage, int number);
/// Repaints the wall: with what it is made of there; or with its own skin where that only bends.
void paint_bends(const PatchMark& mark, Samples& samples);
void paint_patch(const PatchMark& mark, Samples& samples);

}  // namespace haunch::render
