// SPDX-License-Identifier: Apache-2.0
// What lies in the pipe or sticks to its wall, as surfaces of stated depth or share of the bore.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "scene/scene.hpp"

namespace haunch::matter {

/// A surface as rows of points; rows follow the pipe downstream, columns go across it clockwise
/// seen looking downstream from above, or round the wall clockwise.
struct Sheet {
  int rows = 0, columns = 0;
  std::vector<scene::Vec3> points;  ///< row by row, scene coordinates, m
  std::vector<float> thick_m;       ///< of matter at each point; 0 where there is none
  std::vector<bool> open;           ///< points within an opening of the wall, where nothing sticks; or empty
  std::size_t index(int row, int column) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
  const scene::Vec3& at(int row, int column) const { return points[index(row, column)]; }
  /// Does a hole, a branch or a gaping joint open the cell whose first corner this is?
  bool open_cell(int row, int column) const {
    return !open.empty() && (open[index(row, column)] || open[index(row, column + 1)] ||
                             open[index(row + 1, column)] || open[index(row + 1, column + 1)]);
  }
};

struct Stone {
  scene::Vec3 centre, half;  ///< half axes along x, y, z before turning
  double turn = 0;           ///< about the vertical, radians
  std::uint32_t seed = 0;
};

/// The top of settled matter reaches a little into the wall, so that no gap shows.
struct SettledBed {
  Sheet top;
  std::vector<Stone> stones;  ///< coarse matter only
};
SettledBed settled_bed(const scene::Scene& scene, const scene::Settled& settled, std::uint64_t seed);
/// Height of the level top above the invert, without bumps, as a share of the bore.
double settled_depth_share(const scene::Settled& settled, double z_m);

/// The face of attached matter; where it is bare the sheet lies just behind the wall. It thins out
/// towards holes and connections and breaks at joints displaced by more than it is thick.
/// `only`: the rows of this stretch alone, as they are in the whole; the others are bare.
Sheet attached_sheet(const scene::Scene& scene, const scene::Attached& attached, std::uint64_t seed,
                     const std::optional<scene::Stretch>& only = {});
/// Share of the bore's area lost at z: the stated share in the middle, tapering to the ends.
double attached_share(const scene::Attached& attached, double z_m);
/// The same measured on a row of a sheet.
double lost_share(const scene::Scene& scene, const Sheet& sheet, int row);

}  // namespace haunch::matter
