// SPDX-License-Identifier: Apache-2.0
// How long and how plainly each fault was in view on a drive. Measured on pictures: a fault shows where the
// picture with it differs from the picture of the same run without it, not merely where its number stands.
#pragma once

#include <atomic>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "scene/scene.hpp"

namespace haunch::sight {

/// A lens at rest: where, how it looks, and for how long.
struct Look {
  double lens_z_m = 0;   ///< m from the upstream end
  double yaw_deg = 0;    ///< right of the pipe's axis, seen along travel
  double pitch_deg = 0;  ///< above it
  double seconds = 0;
};
/// A drive as looks, in order. A moving camera is many short ones.
using Drive = std::vector<Look>;

/// The drive of someone who leaves nothing out: the whole length in short steps, a halt before each
/// connection, and where the camera can turn its head (a crawler's can) a look into it. What this drive does
/// not show plainly, nobody could see. It ends where the lens is `until_z_m`, if it does not come to the end.
Drive careful_drive(const scene::Scene& scene, std::optional<double> until_z_m = std::nullopt);

/// Of a drive whose looks follow one another along the run, those from which one of the faults can be near
/// enough to be made out (20 bores, ours), as no more than `most` looks: neighbours are taken together, at
/// the place where the drive stayed longest and for as long as it stayed at all of them.
Drive near(const scene::Scene& scene, const Drive& drive, const std::vector<int>& faults, std::size_t most);

/// What counts as plainly seen. Ours, judged by eye on frames of the shipped runs: a tenth of white stands
/// out from the sensor's noise, and so much of a picture is a patch of a dozen by a dozen pixels in one of
/// 640 by 360.
struct Plain {
  double differs_from = 0.1;   ///< of white, in the largest of the three colours of the finished picture
  double share_from = 0.0006;  ///< of the picture that differs so
};

struct Seen {
  int fault = 0;         ///< its number in the scenario
  double in_view_s = 0;  ///< any pixel shows it
  double plainly_s = 0;  ///< it stands out by `Plain`
  double most_share =
      0;  ///< largest share of the picture that differs: 0 .. 1; 0 where less than `share_from` shows it
  double contrast = 0;  ///< mean difference of those pixels in that look, of white: 0 .. 1
  double best_z_m = 0;  ///< the lens of that look, m from the upstream end
  bool plain() const { return plainly_s > 0; }
  bool operator==(const Seen&) const = default;
};

/// "a careful drive shows it nowhere plainly: it is never in view", for what is not plain.
std::string why_not_plain(const Seen& seen);

struct Options {
  int width = 640, height = 360;
  int threads = 0;        ///< 0: as many as the machine has; the outcome is the same on any number
  std::vector<int> only;  ///< the faults that are measured; empty: all. Of others only in_view_s is told
  Plain plain;
  const std::atomic<bool>* stop = nullptr;  ///< once true, no further look is taken
};

/// One for each fault, in the scenario's order. A look costs a picture, and one more for each fault that
/// enough of it shows.
std::vector<Seen> seen_on(const scene::Scene& scene, const Drive& drive, const Options& options = {});

}  // namespace haunch::sight
