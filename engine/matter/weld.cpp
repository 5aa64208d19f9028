// SPDX-License-Identifier: Apache-2.0
// What nobody states of a weld is ours, by eye.
#include "matter/weld.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "base/random.hpp"
#include "matter/coat_build.hpp"
#include "matter/noise.hpp"
#include "matter/solid.hpp"

namespace haunch::matter {
namespace {

using scene::WeldWay;

constexpr double tau = 2 * std::numbers::pi;
constexpr double step_m = 0.002;

struct Place {
  double z_m = 0, angle = 0;
};

/// A weld's way over the wall, by the share of the failed stretch: 0 where that begins, 1 where it ends.
class Way {
 public:
  Way(const scene::Scene& scene, const scene::FailedWeld& weld)
      : radius_(scene::radius_at(scene, weld.from_m)), from_m_(weld.from_m), length_m_(weld.to_m - weld.from_m) {
    from_angle_ = base::degrees_from_crown(weld.arc.from_h) / 360 * tau;
    turn_ = weld.way == WeldWay::along ? 0 : weld.arc.whole ? tau : base::arc_width_h(weld.arc) / 12 * tau;
    if (weld.way == WeldWay::around) from_m_ = joint_near_m(scene, weld.from_m);
  }
  Place at(double share) const { return {from_m_ + share * length_m_, from_angle_ + share * turn_}; }
  double size_m() const { return std::hypot(length_m_, turn_ * radius_); }
  double share_at(double z_m) const { return (z_m - from_m_) / length_m_; }
  double radius_m() const { return radius_; }

 private:
  double radius_, from_m_, length_m_, from_angle_ = 0, turn_ = 0;
};

CrackLine gap_of(const Way& way, const scene::FailedWeld& weld, std::uint32_t seed) {
  CrackLine line;
  const double size = way.size_m();
  const int steps = std::clamp(static_cast<int>(size / step_m), 8, 20000);
  const bool closed = weld.way == WeldWay::around && weld.arc.whole;
  double widest = 0;
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps, along = share * size;
    const Place place = way.at(share);
    const double ends = closed ? 1 : std::sqrt(std::clamp(std::min(along, size - along) / 0.05, 0.0, 1.0));
    // A closed ring meets its own beginning.
    const double u = closed ? 0.03 * std::sin(tau * share) : along,
                 v = closed ? 0.03 * std::cos(tau * share) : 0.7;
    const double uneven = 0.82 + 0.30 * static_cast<double>(noise(static_cast<float>(u / 0.045),
                                                                  static_cast<float>(v / 0.045), 0.2F, seed));
    const double off = 0.0004 * static_cast<double>(
                                    noise(static_cast<float>(u / 0.012), static_cast<float>(v / 0.012), 0.6F, seed + 1U));
    CrackNode node{place.z_m, place.angle, ends * std::max(0.2, uneven)};
    (weld.way == WeldWay::along ? node.angle : node.z_m) += weld.way == WeldWay::along ? off / way.radius_m() : off;
    widest = std::max(widest, node.width_m);
    line.nodes.push_back(node);
  }
  for (CrackNode& node : line.nodes) node.width_m *= weld.gap_mm / 1000 / widest;
  return line;
}

/// The two ends of the length of pipe that a place lies in.
scene::Stretch length_of_pipe(const scene::Scene& scene, double z_m) {
  scene::Stretch unit{0, scene.length_m()};
  for (const scene::Joint& joint : scene.joints)
    if (joint.at_m <= z_m)
      unit.from_m = std::max(unit.from_m, joint.at_m);
    else
      unit.to_m = std::min(unit.to_m, joint.at_m);
  return unit;
}

std::uint32_t low(std::uint64_t seed) { return static_cast<std::uint32_t>(seed ^ (seed >> 32U)); }

}  // namespace

CrackLine weld_gap(const scene::Scene& scene, const scene::FailedWeld& weld, std::uint64_t seed) {
  return gap_of(Way(scene, weld), weld, low(seed));
}

Coat weld_coat(const scene::Scene& scene, const scene::FailedWeld& weld, int number) {
  const std::uint64_t seed = scene::fault_seed(scene.scenario, number);
  const Way way(scene, weld);
  const bool around = weld.way == WeldWay::around;
  Coat coat;
  coat.seed = low(seed);
  coat.radius_m = way.radius_m();
  base::Random random(base::mix(seed + 5U));
  // Round the pipe it stands out of the sound bead a little, as torn plastic does.
  const double high = around ? random.uniform(0.0034, 0.0042) : random.uniform(0.0018, 0.0028),
               half = around ? random.uniform(0.0085, 0.0100) : random.uniform(0.006, 0.010);
  double first = 0, last = 1;
  const scene::Stretch unit = length_of_pipe(scene, (weld.from_m + weld.to_m) / 2);
  if (!around) first = way.share_at(unit.from_m + 0.012), last = way.share_at(unit.to_m - 0.012);
  const double from_z = way.at(first).z_m, to_z = way.at(last).z_m;
  const CoatedWall wall(scene, std::min(from_z, to_z) - 0.02, std::max(from_z, to_z) + 0.02, 0.02);
  const int rows = std::clamp(static_cast<int>((last - first) * way.size_m() / step_m), 12, 4000);
  constexpr int columns = 15;
  const Place a = way.at(0), b = way.at(1);
  const double dz = b.z_m - a.z_m, ds = (b.angle - a.angle) * coat.radius_m, size = std::hypot(dz, ds);
  const bool closed = around && weld.arc.whole;
  CoatSheet seam = empty_sheet(rows, columns);
  for (int r = 0; r < rows; ++r) {
    const double share = first + (last - first) * r / (rows - 1);
    const Place place = way.at(share);
    // At its ends it runs out into the sound bead or the end of the pipe.
    const double along = std::min(share - first, last - share) * way.size_m();
    const double ends = closed ? 1 : std::sqrt(std::clamp(along / 0.012, 0.0, 1.0));
    for (int c = 0; c < columns; ++c) {
      const double x = 2.0 * c / (columns - 1) - 1, off = x * half;
      const double z = place.z_m - off * ds / size, angle = place.angle + off * dz / size / coat.radius_m;
      const double lumps = static_cast<double>(
          layered_noise(static_cast<float>(coat.radius_m * std::sin(angle) / 0.012),
                        static_cast<float>(coat.radius_m * std::cos(angle) / 0.012), static_cast<float>(z / 0.012),
                        coat.seed + 3U, 2));
      const double round = std::sqrt(std::max(0.0, 1 - x * x));
      const std::size_t i = seam.index(r, c);
      seam.points[i] = wall.at(z, angle, -0.0004 + ends * high * round * (1 + (around ? 0.30 : 0.10) * lumps));
      seam.skin[i] = Skin::plastic, seam.share[i] = 1, seam.fault[i] = 0;
    }
  }
  coat.sheets.push_back(std::move(seam));
  const auto face = [&](double, double) { return high * 1.02; };
  CrackShape gap;
  gap.lines.push_back(gap_of(way, weld, low(seed)));
  add_crack(coat, wall, face, gap, static_cast<std::uint16_t>(number), Skin::torn);
  return coat;
}

}  // namespace haunch::matter
