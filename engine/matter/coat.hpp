// SPDX-License-Identifier: Apache-2.0
// What covers a pipe's wall from within, and what hangs off it: linings and repairs. Sheets of points, each
// with what it is made of there, for whoever draws it.
#pragma once

#include <cstdint>
#include <vector>

#include "matter/patch.hpp"
#include "matter/wall.hpp"
#include "scene/scene.hpp"

namespace haunch::matter {

/// What a coat is made of at a place: how it looks, never what it is called.
enum class Skin {
  resin,    ///< set hard, as its finish is
  seam,     ///< the strip over a lining's seam
  raw,      ///< resin without its film: dull
  sticky,   ///< resin that has not set: wet
  stained,  ///< resin that something has coloured
  fibre,    ///< dry felt or glass
  frayed,   ///< torn fibre
  film,     ///< thin milky film
  split,    ///< where it broke: pale, crazed
  dark,     ///< a gap the lamp does not reach into
  mortar,
  rubber,  ///< of a sleeve that joins two pipes
  sealant,  ///< resin pressed into a joint
  plastic,  ///< the black of welded pipe
  host,    ///< the pipe behind a liner, where that is gone
  torn      ///< the same where it was torn: drawn pale
};

/// Rows follow the pipe or a thing's own length, columns go across.
struct CoatSheet {
  int rows = 0, columns = 0;
  bool ring = false;                 ///< the last column is the first again
  std::vector<scene::Vec3> points;   ///< scene coordinates, m
  std::vector<Skin> skin;            ///< of each point ..
  std::vector<float> share;          ///< .. and how far it is that rather than resin, 0 .. 1
  std::vector<std::uint16_t> fault;  ///< of each point: the number of the fault it shows
  std::vector<bool> open;            ///< points where there is nothing; or empty
  std::vector<float> light;          ///< how much reaches each point: less at the foot of a fold; or empty
  std::size_t index(int row, int column) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
};
struct Coat {
  std::uint32_t seed = 0;
  scene::LiningFinish finish = scene::LiningFinish::felt;
  double radius_m = 0;
  int section = -1;  ///< of a section's own liner: which, so that both have one colour
  std::vector<CoatSheet> sheets;
};

/// A short lining with all that is wrong with it (number: of the lining); or one defect of the liner that its
/// section is lined with (number: of the defect): only where it differs from the sound liner.
Coat lining_coat(const scene::Scene& scene, int number);
/// Share of the lined bore's area that a defect takes in its worst place, measured on its shape.
double share_lost(const scene::Scene& scene, int defect_number);

/// What mends one place (number: of the repair); of a section that was replaced the sleeves at its ends.
Coat repair_coat(const scene::Scene& scene, const scene::Repair& repair, int number);
/// Share of the bore's area that what is too much of it takes in its worst place, measured on its shape.
double share_taken(const scene::Scene& scene, const scene::Repair& repair, int number);

/// The outline of a hole in a lining.
WallOutline lining_hole(const scene::Scene& scene, const scene::LiningDefect& defect, std::uint64_t seed);
/// A void behind a lining that has gone outwards: the pipe's own wall is gone there.
scene::Hole void_behind(const scene::Scene& scene, const scene::LiningDefect& defect);

}  // namespace haunch::matter
