// SPDX-License-Identifier: Apache-2.0
// A short lining: its face from end to end, its two ends, and what hangs off it. What nobody states is ours,
// by eye.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/coat_build.hpp"
#include "matter/lining_relief.hpp"
#include "matter/noise.hpp"
#include "matter/openings.hpp"

namespace haunch::matter {
namespace {

using scene::LiningForm;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;
constexpr double sunk_m = 0.0006;    // an end reaches this far into the wall, so that no gap shows
constexpr double bridges_m = 0.035;  // how far off a step in the wall bends it
constexpr std::size_t most_points = 420000;

/// Where a liner is the wall itself, what is wrong with it lies this far off that, so that it hides it.
constexpr double proud_m = 0.0003;
/// The edge of such a liner where it is torn stands up a little.
constexpr double void_reach = 1.75;  // in bulges: what covers the wall that is gone about one
constexpr double torn_lip_m = 0.0014, lip_wide_m = 0.0045;

double middle_of(const scene::Fault& fault) {
  const scene::Stretch s = scene::stretch_of(fault);
  return (s.from_m + s.to_m) / 2;
}

class Builder {
 public:
  Builder(const scene::Scene& scene, int number, const scene::Lined& lining)
      : scene_(scene),
        number_(static_cast<std::uint16_t>(number)),
        lining_(lining),
        face_m_(lining.is_the_wall() ? proud_m : lining.thickness_mm / 1000),
        wall_(scene, lining_.from_m, lining_.to_m, bridges_m),
        reliefs_(lining.is_the_wall() ? std::vector<LiningRelief>{LiningRelief(scene, lining, number)}
                                      : reliefs_of(scene, lining)),
        openings_(openings_in(scene, {lining_.from_m, lining_.to_m})) {
    std::erase_if(openings_, [](const Opening& o) { return !o.is_branch; });
    const std::uint64_t seed = scene::fault_seed(scene.scenario, number);
    coat_.seed = static_cast<std::uint32_t>(seed ^ (seed >> 32U));
    coat_.finish = lining_.finish;
    coat_.section = lining_.section;
    coat_.radius_m = scene::radius_at(scene, (lining_.from_m + lining_.to_m) / 2);
    if (lining_.is_the_wall()) {
      seam_ = scene::liner_seam_angle(scene.scenario, lining_.section);
      return;
    }
    base::Random random(base::mix(seed + 3U));
    seam_ = random.uniform(0, tau);
    for (const LiningRelief& relief : reliefs_)
      if (relief.defect().form == LiningForm::seam_off)
        seam_ = relief.area().from_angle + relief.area().round_m / relief.area().radius_m / 2;
  }

  Coat build() {
    face();
    for (const double way : {-1.0, 1.0}) end_face(way);
    if (lining_.is_the_wall())
      for (const LiningRelief& relief : reliefs_) pipe_behind(relief);
    for (const LiningRelief& relief : reliefs_) add_to(relief);
    return std::move(coat_);
  }

 private:
  Vec3 at(double z, double angle, double into) const { return wall_.at(z, angle, into); }
  Vec3 at(double z, double angle, double into, const LiningSpot& here) const {
    return at(z, angle, into) +
           Vec3{here.drop_m * std::sin(here.drop_angle), here.drop_m * std::cos(here.drop_angle), 0};
  }
  double joint_groove(double z) const {
    // The pipe's joints show through as faint rings.
    double groove = 0;
    if (lining_.is_the_wall()) return groove;
    for (const scene::Joint& joint : scene_.joints) {
      const double t = (z - joint.at_m) / (0.004 + joint.gap_m / 2);
      if (std::abs(t) < 3) groove = std::min(0.0016, 0.0004 + 0.10 * joint.gap_m) * std::exp(-t * t);
    }
    return groove;
  }
  LiningSpot spot(double z, double angle) const {
    LiningSpot spot;
    spot.fault = number_;
    const double off = std::remainder(angle - seam_, tau) * coat_.radius_m;
    if (std::abs(off) < seam_half_m) spot.skin = Skin::seam, spot.share = 1, spot.out_m = 0.0005;
    spot.out_m -= joint_groove(z);
    for (const LiningRelief& relief : reliefs_) relief.shape(z, angle, spot);
    for (const Opening& opening : openings_)
      if (edge_distance_m(opening, coat_.radius_m, z, angle) < 0.0015) spot.open = true;
    return spot;
  }
  /// Does a section's liner differ here from what the wall shows of it by itself?
  bool worked(double z, double angle, LiningSpot& here) const {
    LiningSpot bare;
    for (const LiningRelief& relief : reliefs_) relief.shape(z, angle, bare);
    // Lifted where it would sink into the wall that is drawn.
    here.out_m += lifted(bare);
    if (here.fault == number_ && bare.fault == 0) here.fault = 0;
    return std::abs(bare.out_m) > 0.00015 || bare.drop_m > 0.001 || bare.share > 0.02 || bare.open ||
           covers_void(z, angle);
  }
  double lifted(const LiningSpot& bare) const {
    switch (bare.skin) {
      case Skin::sticky:
        return 0.003 * bare.share;
      case Skin::fibre:
      case Skin::raw:
        return 0.001 * bare.share;
      default:
        return 0;
    }
  }
  /// About a bulge into a void the wall that is drawn is gone.
  bool covers_void(double z, double angle) const {
    return std::any_of(reliefs_.begin(), reliefs_.end(), [&](const LiningRelief& relief) {
      if (relief.defect().form != LiningForm::bulging_out) return false;
      const PatchArea& area = relief.area();
      const double u = (z - area.from_m) / area.length_m * 2 - 1;
      const double middle = area.from_angle + area.round_m / area.radius_m / 2;
      const double v = std::remainder(angle - middle, tau) * area.radius_m / (area.round_m / 2);
      return u * u + v * v < void_reach * void_reach;
    });
  }
  static double hole_edge(const WallOutline& outline, double radius, double z, double angle) {
    return edge_distance_m(outline, {z - outline.z_m, std::remainder(angle - outline.angle, tau) * radius});
  }

  std::vector<double> rows() const {
    const auto step_at = [&](double z) {
      double step = 0.0036;
      for (const LiningRelief& relief : reliefs_)
        if (z > relief.defect().from_m - 0.02 && z < relief.defect().to_m + 0.02) step = 0.0014;
      for (const Opening& o : openings_)
        if (std::abs(z - o.z_m) < o.half_length_m + 0.006) step = std::min(step, 0.0016);
      return step;
    };
    double from = lining_.from_m, to = lining_.to_m;
    if (lining_.is_the_wall() && !reliefs_.empty()) {
      const PatchArea& area = reliefs_.front().area();
      const double more = std::max(0.03, 0.5 * (void_reach - 1) * area.length_m + 0.01);
      from = std::max(from, area.from_m - more), to = std::min(to, area.from_m + area.length_m + more);
    }
    std::vector<double> z{from};
    while (z.back() < to - 1e-9) z.push_back(std::min(to, z.back() + step_at(z.back())));
    return z;
  }

  void face() {
    std::vector<double> z = rows();
    int around = std::clamp(static_cast<int>(tau * coat_.radius_m / 0.0014), 200, 900);
    while (z.size() * static_cast<std::size_t>(around) > most_points) {
      // Every second row where there are too many, and fewer round about.
      std::vector<double> fewer;
      for (std::size_t i = 0; i < z.size(); ++i)
        if (i % 2 == 0 || i + 1 == z.size()) fewer.push_back(z[i]);
      z = std::move(fewer);
      if (z.size() * static_cast<std::size_t>(around) > most_points) around = around * 3 / 4;
    }
    std::vector<WallOutline> holes;
    for (const LiningRelief& relief : reliefs_)
      if (relief.defect().form == LiningForm::holed)
        holes.push_back(
            lining_hole(scene_, relief.defect(), scene::fault_seed(scene_.scenario, relief.number())));
    CoatSheet sheet = empty_sheet(static_cast<int>(z.size()), around + 1);
    sheet.ring = true;
    sheet.open.assign(sheet.points.size(), false);
    std::vector<float> high(sheet.points.size());
    for (int r = 0; r < sheet.rows; ++r)
      for (int c = 0; c < sheet.columns; ++c) {
        const double along = z[static_cast<std::size_t>(r)], angle = tau * (c % around) / around;
        LiningSpot here = spot(along, angle);
        for (const WallOutline& hole : holes)
          if (hole_edge(hole, coat_.radius_m, along, angle) < 0.0008) here.open = true;
        if (lining_.is_the_wall() && !worked(along, angle, here)) here.open = true;
        const std::size_t i = sheet.index(r, c);
        sheet.points[i] = at(along, angle, face_m_ + here.out_m, here);
        high[i] = static_cast<float>(here.out_m + here.drop_m);
        sheet.skin[i] = here.skin, sheet.share[i] = static_cast<float>(here.share);
        sheet.fault[i] = here.fault, sheet.open[i] = here.open;
      }
    shade_hollows(sheet, high, 7, 0.007F);
    coat_.sheets.push_back(std::move(sheet));
  }

  /// The cut edge at one of its ends: as thick as it is, and no farther down than the wall.
  void end_face(double way) {
    const double z = way < 0 ? lining_.from_m : lining_.to_m;
    if (lining_.is_the_wall() &&
        std::none_of(reliefs_.begin(), reliefs_.end(), [&](const LiningRelief& r) { return r.end() == way; }))
      return;
    const int around = std::clamp(static_cast<int>(tau * coat_.radius_m / 0.0014), 200, 900);
    CoatSheet sheet = empty_sheet(4, around + 1);
    sheet.ring = true;
    sheet.open.assign(sheet.points.size(), false);
    for (int r = 0; r < 4; ++r)
      for (int c = 0; c <= around; ++c) {
        const double angle = tau * (c % around) / around;
        LiningSpot here = spot(z, angle);
        if (lining_.is_the_wall() && !worked(z, angle, here)) here.open = true;
        const double top = face_m_ + here.out_m;
        const double foot = here.out_m + here.drop_m > 0.0015 ? here.out_m : -sunk_m;
        const std::size_t i = sheet.index(r, c);
        // Sawn off, not quite square.
        const double lean = way * 0.0012 * r / 3.0;
        sheet.points[i] = at(z, angle, top + (foot - top) * r / 3.0, here);
        sheet.points[i].z += lean;
        sheet.skin[i] = Skin::split, sheet.share[i] = r == 0 ? 0.35F : 0.85F;
        sheet.fault[i] = here.fault, sheet.open[i] = here.open;
      }
    coat_.sheets.push_back(std::move(sheet));
  }

  void add_to(const LiningRelief& relief) {
    const scene::LiningDefect& defect = relief.defect();
    const std::uint64_t seed = scene::fault_seed(scene_.scenario, relief.number());
    const auto number = static_cast<std::uint16_t>(relief.number());
    const auto face_at = [&](double z, double angle) {
      double lip = 0;
      if (lining_.is_the_wall() && defect.form == LiningForm::holed) {
        const WallOutline hole = lining_hole(scene_, defect, seed);
        lip = torn_lip_m * std::clamp(1 - hole_edge(hole, coat_.radius_m, z, angle) / lip_wide_m, 0.0, 1.0);
      }
      return face_m_ + lip + spot(std::clamp(z, lining_.from_m, lining_.to_m), angle).out_m;
    };
    switch (defect.form) {
      case LiningForm::cracked: {
        const scene::CrackForm forms[] = {scene::CrackForm::along, scene::CrackForm::around,
                                          scene::CrackForm::branching, scene::CrackForm::spiral};
        scene::Crack crack{defect.from_m, defect.to_m, defect.arc, forms[static_cast<int>(defect.way)],
                           defect.width_mm};
        if (crack.form == scene::CrackForm::along) {
          const double middle = base::wrap_hours(defect.arc.from_h + base::arc_width_h(defect.arc) / 2);
          crack.arc = {middle, middle, false};
        }
        if (crack.form == scene::CrackForm::around)
          crack.from_m = crack.to_m = (defect.from_m + defect.to_m) / 2;
        add_crack(coat_, wall_, face_at, crack_shape(crack, coat_.radius_m, seed), number);
        break;
      }
      case LiningForm::holed:
        add_hole(coat_, wall_, face_at, lining_hole(scene_, defect, seed), number);
        break;
      case LiningForm::come_away:
      case LiningForm::end_open:
      case LiningForm::poor_end:
        gap_behind(relief);
        if (defect.form == LiningForm::come_away) torn_edge(relief);
        break;
      case LiningForm::seam_off:
        add_hanging_seam(coat_, scene_, wall_, relief, face_m_, seam_);
        break;
      case LiningForm::film_off:
        add_hanging_film(coat_, scene_, wall_, relief, face_m_);
        break;
      default:
        break;
    }
  }

  /// Where a section's liner is gone or hangs off, the pipe that it lined: the wall that is drawn is the
  /// liner.
  void pipe_behind(const LiningRelief& relief) {
    const scene::LiningDefect& defect = relief.defect();
    const bool holed = defect.form == LiningForm::holed;
    const std::optional<WallOutline> hole =
        holed
            ? std::optional(lining_hole(scene_, defect, scene::fault_seed(scene_.scenario, relief.number())))
            : std::nullopt;
    std::vector<double> z{std::max(lining_.from_m, defect.from_m - 0.01)};
    const double to = std::min(lining_.to_m, defect.to_m + 0.01);
    while (z.back() < to - 1e-9) z.push_back(std::min(to, z.back() + 0.002));
    const int around = std::clamp(static_cast<int>(tau * coat_.radius_m / 0.002), 200, 900);
    CoatSheet sheet = empty_sheet(static_cast<int>(z.size()), around + 1);
    sheet.ring = true;
    sheet.open.assign(sheet.points.size(), true);
    bool any = false;
    for (int r = 0; r < sheet.rows; ++r)
      for (int c = 0; c < sheet.columns; ++c) {
        const double along = z[static_cast<std::size_t>(r)], angle = tau * (c % around) / around;
        const std::size_t i = sheet.index(r, c);
        const LiningSpot here = spot(along, angle);
        const bool gone =
            hole ? hole_edge(*hole, coat_.radius_m, along, angle) < 0.003 : here.open || here.drop_m > 0.002;
        sheet.points[i] = at(along, angle, gone ? 0.0002 : 0);
        sheet.skin[i] = Skin::host, sheet.share[i] = 1;
        sheet.fault[i] = static_cast<std::uint16_t>(relief.number());
        sheet.open[i] = !gone;
        any = any || gone;
      }
    if (any) coat_.sheets.push_back(std::move(sheet));
  }

  /// The wall under a lining that stands off it: no light comes back from there.
  void gap_behind(const LiningRelief& relief) {
    if (relief.end() == 0 || (lining_.is_the_wall() && relief.defect().form != LiningForm::end_open)) return;
    const PatchArea& area = relief.area();
    const bool ragged = relief.defect().form == LiningForm::poor_end;
    const double first = relief.end() < 0 ? area.from_m : area.from_m + area.length_m;
    const double deep = std::min(0.10, area.length_m);
    const int rows = 12, columns = std::max(8, static_cast<int>(area.round_m / 0.003));
    CoatSheet sheet = empty_sheet(rows, columns);
    sheet.open.assign(sheet.points.size(), false);
    for (int r = 0; r < rows; ++r)
      for (int c = 0; c < columns; ++c) {
        const double angle = area.from_angle + area.round_m / area.radius_m * c / (columns - 1);
        const double from = ragged ? relief.ragged_end_m(angle) - relief.end() * 0.002 : first;
        const double z =
            std::clamp(from - relief.end() * deep * r / (rows - 1), lining_.from_m, lining_.to_m);
        const std::size_t i = sheet.index(r, c);
        const LiningSpot here = spot(z, angle);
        const double room = here.out_m + here.drop_m;
        sheet.points[i] = at(z, angle, room > 0.0008 || r > 2 ? 0.0004 : -0.0004);
        if (lining_.is_the_wall() && room < 0.002) sheet.open[i] = true;
        sheet.skin[i] = Skin::dark, sheet.share[i] = r == 0 ? 0.5F : 1.0F;
        sheet.fault[i] = static_cast<std::uint16_t>(relief.number());
      }
    coat_.sheets.push_back(std::move(sheet));
  }

  /// Where it has torn off within its length, the edge shows how thick it is.
  void torn_edge(const LiningRelief& relief) {
    const PatchArea& area = relief.area();
    const double z = relief.end() < 0 ? area.from_m : area.from_m + area.length_m;
    if (z < lining_.from_m + 0.02 || z > lining_.to_m - 0.02) return;
    const int columns = std::max(8, static_cast<int>(area.round_m / 0.0015));
    CoatSheet sheet = empty_sheet(3, columns);
    for (int r = 0; r < 3; ++r)
      for (int c = 0; c < columns; ++c) {
        const double angle = area.from_angle + area.round_m / area.radius_m * c / (columns - 1);
        const LiningSpot here = spot(z, angle);
        const std::size_t i = sheet.index(r, c);
        sheet.points[i] = at(z, angle, face_m_ + here.out_m - face_m_ * r / 2.0, here);
        sheet.skin[i] = Skin::frayed, sheet.share[i] = 0.8F;
        sheet.fault[i] = static_cast<std::uint16_t>(relief.number());
      }
    coat_.sheets.push_back(std::move(sheet));
  }

  const scene::Scene& scene_;
  std::uint16_t number_;
  const scene::Lined lining_;
  double face_m_;  ///< how far its face lies off the wall that is drawn
  CoatedWall wall_;
  std::vector<LiningRelief> reliefs_;
  std::vector<Opening> openings_;
  Coat coat_;
  double seam_ = 0;
};

}  // namespace

Coat lining_coat(const scene::Scene& scene, int number) {
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
  const auto lining = scene::lining_over(scene.scenario, middle_of(fault));
  return lining ? Builder(scene, number, *lining).build() : Coat{};
}

}  // namespace haunch::matter
