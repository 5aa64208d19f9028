// SPDX-License-Identifier: Apache-2.0
#include "reference/painted.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include "matter/brick_damage.hpp"
#include "matter/coat.hpp"
#include "matter/deposit.hpp"
#include "matter/openings.hpp"
#include "matter/patch.hpp"
#include "matter/roots.hpp"
#include "matter/solid.hpp"
#include "matter/squashed.hpp"
#include "matter/wall.hpp"

namespace haunch::reference {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double chips_m = 0.0049;       // beside a broken edge
constexpr double collar_m = 0.034;       // mortar and rims round a fitting, and what they hide
constexpr double tatters_m = 0.012;      // of a damaged surface
constexpr double film_m = 0.012;         // that a bed leaves above its edge
constexpr double crumbles_m = 0.0045;    // a brick's bed, either way of its edge
constexpr double far_m = 0.05;           // from a crack
constexpr double least_half_m = 0.0005;  // a finer crack shows as the dirt along it

struct CrackLines {
  std::uint16_t fault = 0;
  double radius_m = 0, low_z = 1e9, high_z = -1e9;
  matter::CrackShape shape;
};
struct Gap {
  std::uint16_t fault = 0;
  matter::Opening opening;
  bool fitted = false;
};
struct Patch {
  std::uint16_t fault = 0;
  matter::PatchArea area;
  bool patchy = false;  ///< bulges within it alone are its own, or it leaves islands
};
struct BricksOut {
  std::uint16_t fault = 0;
  matter::BrickArea area;
};
/// Soil that a thick root has brought in lies about its foot.
struct Foot {
  std::uint16_t fault = 0;
  double z_m = 0, angle = 0, reach_m = 0;
};
struct Bed {
  std::uint16_t fault = 0;
  scene::Settled settled;
};

}  // namespace

struct Painting::Inside {
  const scene::Scene& scene;
  std::vector<CrackLines> cracks;
  std::vector<Gap> gaps;
  std::vector<Patch> patches;
  std::vector<Bed> beds;
  std::vector<Foot> feet;
  std::vector<BricksOut> bricks;

  void add_crack(std::uint16_t fault, const scene::Crack& crack, std::uint64_t seed) {
    CrackLines lines;
    lines.fault = fault;
    lines.radius_m = matter::wall_radius_m(scene, crack);
    lines.shape = matter::crack_shape(crack, lines.radius_m, seed);
    for (const matter::CrackLine& line : lines.shape.lines)
      for (const matter::CrackNode& node : line.nodes)
        lines.low_z = std::min(lines.low_z, node.z_m - 0.02),
        lines.high_z = std::max(lines.high_z, node.z_m + 0.02);
    cracks.push_back(std::move(lines));
  }

  /// Half the crack's width less the way to it, in pixels, where it comes nearest; above -0.5 the pixel is
  /// its own.
  static double in_crack(const CrackLines& crack, const Spot& spot) {
    double best = -1e9, nearest = 1e9;
    for (const matter::CrackLine& line : crack.shape.lines)
      for (std::size_t k = 1; k < line.nodes.size(); ++k) {
        const matter::CrackNode &a = line.nodes[k - 1], &b = line.nodes[k];
        // A line may be long: what lies farther off than any pixel reaches need not be asked.
        if (spot.z_m < std::min(a.z_m, b.z_m) - far_m || spot.z_m > std::max(a.z_m, b.z_m) + far_m) continue;
        const double dz = b.z_m - a.z_m, ds = (b.angle - a.angle) * crack.radius_m;
        const double ez = spot.z_m - a.z_m;
        // The line's angles run on over the crown.
        const double es = (std::remainder(spot.angle - a.angle, tau)) * crack.radius_m;
        const double square = dz * dz + ds * ds;
        if (square <= 0) continue;
        const double t = std::clamp((dz * ez + ds * es) / square, 0.0, 1.0);
        const double oz = ez - t * dz, os = es - t * ds, off = std::hypot(oz, os);
        if (off >= nearest) continue;
        nearest = off;
        const double nz = -ds / std::sqrt(square), ns = dz / std::sqrt(square);
        const double pixel =
            std::hypot(nz * spot.z_across + ns * spot.round_across, nz * spot.z_down + ns * spot.round_down);
        const double half = (a.width_m + t * (b.width_m - a.width_m)) / 2;
        best = (std::max(half, least_half_m) - off) / std::max(pixel, 1e-9);
      }
    return best;
  }
};

Painting::Painting(const scene::Scene& scene)
    : inside_(std::make_unique<Inside>(Inside{scene, {}, {}, {}, {}, {}, {}})) {
  std::uint16_t number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    const std::uint64_t seed = scene::fault_seed(scene.scenario, ++number);
    const auto patch = [&](matter::PatchArea area, bool patchy = false) {
      inside_->patches.push_back({number, area, patchy});
    };
    if (const auto* crack = std::get_if<scene::Crack>(&fault.kind)) inside_->add_crack(number, *crack, seed);
    if (const auto* squashed = std::get_if<scene::Squashed>(&fault.kind)) {
      std::uint64_t also = 0;
      for (const scene::Crack& crack : matter::cracks_of(scene, *squashed))
        inside_->add_crack(number, crack, seed + ++also);
    }
    if (const auto* damage = std::get_if<scene::SurfaceDamage>(&fault.kind))
      patch(matter::damaged_area(scene, *damage, seed), true);
    if (const auto* mortar = std::get_if<scene::MissingMortar>(&fault.kind))
      patch(matter::mortar_area(scene, *mortar, seed), true);
    if (const auto* porous = std::get_if<scene::PorousWall>(&fault.kind))
      patch(matter::patch_area(scene, porous->from_m, porous->to_m, porous->arc, seed));
    if (const auto* sweating = std::get_if<scene::SweatingWall>(&fault.kind))
      patch(matter::patch_area(scene, sweating->from_m, sweating->to_m, sweating->arc, seed));
    if (const auto* damage = std::get_if<scene::BrickDamage>(&fault.kind))
      inside_->bricks.push_back({number, matter::bricks_of(scene, *damage)});
    if (const auto* settled = std::get_if<scene::Settled>(&fault.kind);
        settled && settled->kind != scene::SettledKind::coarse)
      inside_->beds.push_back({number, *settled});
    if (const auto* roots = std::get_if<scene::Roots>(&fault.kind);
        roots && roots->form == scene::RootForm::tap) {
      const matter::RootShape shape = matter::root_shape(scene, *roots, seed);
      const scene::Vec3 foot = shape.nodes.front().at;
      const scene::Vec2 c = scene::centre_at(scene, foot.z);
      double thick = 0;
      for (const matter::StrandNode& node : shape.nodes) thick = std::max(thick, node.radius_m);
      inside_->feet.push_back({number, foot.z, std::atan2(foot.x - c.x, foot.y - c.y), 4 * thick});
    }
    const bool fitted = std::holds_alternative<scene::Connection>(fault.kind);
    // What a patch or a lining leaves of the wall has a hole in it.
    std::optional<scene::Hole> left_open;
    if (const auto* repair = std::get_if<scene::Repair>(&fault.kind); repair && scene::leaves_open(*repair))
      left_open = scene::mended_hole(*repair);
    if (const auto* lining = std::get_if<scene::LiningDefect>(&fault.kind);
        lining && lining->form == scene::LiningForm::bulging_out)
      left_open = matter::void_behind(scene, *lining);
    if (fitted || left_open || std::holds_alternative<scene::Hole>(fault.kind) ||
        std::holds_alternative<scene::BrokenWall>(fault.kind)) {
      // Openings of this fault alone, under its own number and so its own seed.
      scene::Scene alone = scene;
      alone.scenario.faults.resize(number);
      if (left_open) alone.scenario.faults.back().kind = *left_open;
      const std::vector<matter::Opening> openings = matter::openings_in(alone, {-1, scene.length_m() + 1});
      matter::Opening opening = openings.back();
      if (fitted)
        opening.branch = matter::branch_shape(
            std::get<scene::Connection>(fault.kind),
            matter::wall_radius_m(scene, opening.z_m, base::hours_from_degrees(opening.angle / tau * 360)),
            seed);
      inside_->gaps.push_back({number, opening, fitted});
    }
  }
}
Painting::~Painting() = default;
Painting::Painting(Painting&&) noexcept = default;

Painted Painting::at(const Spot& spot, std::uint16_t wall_fault) const {
  Painted shown{wall_fault, false, false};
  for (const Patch& patch : inside_->patches) {
    const matter::PatchArea& area = patch.area;
    const double along = spot.z_m - area.from_m;
    if (along < -0.05 || along > area.length_m + 0.05) continue;
    double round = (spot.angle - area.from_angle) * area.radius_m;
    const double whole = tau * area.radius_m;
    round -= whole * std::floor(round / whole);
    // What lies just before its first corner is not at its far end.
    if (!area.whole && round - area.round_m > whole - round) round -= whole;
    const double inside = matter::inside_m(area, along, round);
    const double pixel =
        std::hypot(spot.z_across, spot.z_down) + std::hypot(spot.round_across, spot.round_down);
    if (inside > tatters_m + pixel && !patch.patchy)
      shown = {patch.fault, false, false};
    else if (inside > -tatters_m - pixel)
      shown = {patch.fault, false, true};
  }
  for (const Bed& bed : inside_->beds) {
    const double share = matter::settled_depth_share(bed.settled, spot.z_m);
    if (share <= 0) continue;
    const scene::Bore bore = scene::bore_at(inside_->scene, spot.z_m);
    const double above_invert = bore.half_height_m + spot.radius_m * std::cos(spot.angle),
                 deep = share * 2 * bore.half_height_m;
    const double steep = std::max(0.15, std::abs(std::sin(spot.angle)));
    if (above_invert < deep + film_m * steep) shown = {bed.fault, false, true};
  }
  for (const Foot& foot : inside_->feet)
    if (std::hypot(spot.z_m - foot.z_m, std::remainder(spot.angle - foot.angle, tau) * spot.radius_m) <
        foot.reach_m)
      shown = {foot.fault, false, true};
  for (const CrackLines& crack : inside_->cracks)
    if (spot.z_m > crack.low_z && spot.z_m < crack.high_z && Inside::in_crack(crack, spot) > -0.5)
      shown = {crack.fault, false, false};
  for (const Gap& gap : inside_->gaps) {
    if (std::abs(spot.z_m - gap.opening.z_m) > gap.opening.half_length_m + 0.08) continue;
    const double away = matter::edge_distance_m(gap.opening, spot.radius_m, spot.z_m, spot.angle);
    if (away < 0)
      shown = {gap.fault, true, false};
    else if (away < (gap.fitted ? collar_m : chips_m) &&
             (!gap.fitted || gap.opening.branch.reach_in_m > 0 || gap.opening.branch.rim_m > 0 ||
              !gap.opening.outline.corners.empty()))
      shown = {gap.fault, false, true};
  }
  for (const BricksOut& out : inside_->bricks) {
    const double away = matter::edge_distance_m(out.area, spot.z_m, spot.angle);
    if (away < -crumbles_m)
      shown = {out.fault, true, false};
    else if (away < crumbles_m)
      shown = {out.fault, false, true};
  }
  return shown;
}

}  // namespace haunch::reference
