// SPDX-License-Identifier: Apache-2.0
// Standing water. Walking upstream from the outlet, water at a place stands as high as the highest
// invert still to be passed on the way out; where that is above the invert there is a pond. A lip
// further down that is higher drowns a lower one by itself, so ponds merge.
#include <algorithm>

#include "scene/water.hpp"

namespace haunch::scene {

std::vector<WaterReach> ponds(const std::vector<InvertPoint>& invert) {
  std::vector<WaterReach> found;
  if (invert.size() < 2) return found;
  double lip = invert.back().y_m;
  bool in_pond = false;
  WaterReach pond;
  pond.standing = true;
  const auto close_at = [&](double z) {
    pond.from_m = z;
    if (pond.to_m > pond.from_m) found.push_back(pond);
    in_pond = false;
  };
  for (std::size_t i = invert.size() - 1; i > 0; --i) {
    const InvertPoint& down = invert[i];
    const InvertPoint& up = invert[i - 1];
    if (!in_pond && up.y_m < lip) {
      in_pond = true;
      pond.to_m = down.z_m;
      pond.from_level_m = pond.to_level_m = lip;
    }
    if (in_pond && up.y_m >= lip) {
      // The invert rises out of the water between the two points; a step does so at one chainage.
      const double rise = up.y_m - down.y_m;
      const double share = rise > 0 ? (lip - down.y_m) / rise : 1.0;
      close_at(down.z_m + share * (up.z_m - down.z_m));
    }
    lip = std::max(lip, up.y_m);
  }
  if (in_pond) close_at(invert.front().z_m);
  std::reverse(found.begin(), found.end());
  return found;
}

}  // namespace haunch::scene
