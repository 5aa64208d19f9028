// SPDX-License-Identifier: Apache-2.0
// How a defect of a lining shapes its face. Inside this room.
#pragma once

#include <vector>

#include "matter/coat_build.hpp"

namespace haunch::matter {

/// A place on a lining's face.
struct LiningSpot {
  double out_m = 0;                   ///< into the bore beyond the lining's thickness
  double drop_m = 0, drop_angle = 0;  ///< fallen as a whole, towards this angle from the crown
  Skin skin = Skin::resin;
  double share = 0;
  std::uint16_t fault = 0;
  bool open = false;
};

class LiningRelief {
 public:
  LiningRelief(const scene::Scene& scene, const scene::Lined& lining, int number);

  /// Works on what the lining is without it.
  void shape(double z_m, double angle, LiningSpot& spot) const;
  double raised_m(double z_m, double angle) const;
  /// At its height now, in its worst place.
  double share_lost() const;
  /// What has come away falls this way: an angle from the crown.
  double falls_toward() const;

  const scene::LiningDefect& defect() const { return defect_; }
  int number() const { return number_; }
  std::uint32_t seed() const { return seed_; }
  const PatchArea& area() const { return area_; }
  /// Which of the lining's ends it is at: -1 the upstream, 1 the downstream, 0 neither.
  int end() const { return end_; }
  /// Chainage of what is left of a ragged end.
  double ragged_end_m(double angle) const;
  /// How wide the gap of a poor joint is, m.
  double joint_gap_m(double angle) const;
  double joint_at_m(double angle) const;

 private:
  double along(double z_m) const { return z_m - area_.from_m; }
  double round(double angle) const;
  double fold(double a, double s) const;
  double ridge(double off_m) const;
  double noise_at(double a, double s, double size_m, std::uint32_t more, int octaves = 1,
                  double drawn_round = 1) const;
  double end_distance(double z_m) const;

  const scene::LiningDefect& defect_;
  int number_;
  double thick_m_;  ///< how far its face stands off the wall that is drawn: nothing where it is that wall
  double bore_m_;   ///< radius within the lining
  std::uint32_t seed_;
  PatchArea area_;
  int end_ = 0;
  double end_m_ = 0;
  double high_m_ = 0;
  struct Fold {
    double at = 0, wander = 0, strength = 1;
  };
  std::vector<Fold> folds_;
  double slant_ = 1;
};

inline constexpr double seam_half_m = 0.012;  ///< of the strip over a lining's seam; ours
/// The strip over the seam: it hangs from where it still holds. `seam`: its angle.
void add_hanging_seam(Coat& coat, const scene::Scene& scene, const CoatedWall& wall,
                      const LiningRelief& relief, double thick_m, double seam);
/// Rags of film that still hang on.
void add_hanging_film(Coat& coat, const scene::Scene& scene, const CoatedWall& wall,
                      const LiningRelief& relief, double thick_m);

/// All of a lining, in the scenario's order.
std::vector<LiningRelief> reliefs_of(const scene::Scene& scene, const scene::Lined& lining);

}  // namespace haunch::matter
