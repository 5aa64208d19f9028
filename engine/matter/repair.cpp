// SPDX-License-Identifier: Apache-2.0
// What mends a single place: mortar over a hole, mortar or sealant in a joint, a brim round a connection.
// What nobody states is ours, by eye.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "matter/repair_build.hpp"
#include "matter/solid.hpp"

namespace haunch::matter {
namespace {

using scene::RepairFlaw;
using scene::RepairForm;

constexpr double tau = 2 * std::numbers::pi;
constexpr double sunk_m = 0.0006;
constexpr double into_hole_m = 0.013;  // how thick it is where the wall under it is gone

double smooth(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

double middle_of(const scene::Scene& scene, const scene::Repair& repair) {
  const bool in_joint =
      repair.form == RepairForm::mortar_in_joint || repair.form == RepairForm::sealant_in_joint;
  return in_joint ? joint_near_m(scene, repair.from_m) : repair.from_m;
}

/// How high it stands at a place of its area, and whether there is anything.
struct Stand {
  double high_m = 0;
  bool open = false;
};

class Mended {
 public:
  Mended(const scene::Scene& scene, const scene::Repair& repair, std::uint64_t seed)
      : scene_(scene),
        repair_(repair),
        at_m_(middle_of(scene, repair)),
        radius_(scene::radius_at(scene, at_m_)) {
    base::Random random(base::mix(seed + 11U));
    seed_ = static_cast<std::uint32_t>(seed ^ (seed >> 32U));
    const bool patch = repair.form == RepairForm::patch;
    const double lap = random.uniform(0.018, 0.034);
    if (patch) {
      hole_ = hole_outline(scene::mended_hole(repair), radius_, seed);
      const double half_z = repair.length_mm / 2000 + lap, half_s = repair.width_mm / 2000 + lap;
      const double half_h = std::min(5.9, half_s / (tau * radius_) * 12);
      area_ = patch_area(
          scene, at_m_ - half_z, at_m_ + half_z,
          {base::wrap_hours(repair.arc.from_h - half_h), base::wrap_hours(repair.arc.from_h + half_h), false},
          seed);
      thick_ = random.uniform(0.004, 0.008);
      // Well done it is struck off level with the wall, and lies on it as a skin at its edge.
      if (repair.flaw == RepairFlaw::none) thick_ *= 0.35;
      area_.ragged_m = repair.flaw == RepairFlaw::poor_patch ? 0.017 : 0.010;
    } else {
      const bool mortar = repair.form == RepairForm::mortar_in_joint;
      const double half = mortar ? random.uniform(0.020, 0.034) : random.uniform(0.010, 0.016);
      area_ = patch_area(scene, at_m_ - half, at_m_ + half, repair.arc, seed);
      area_.ragged_m = mortar ? 0.014 : 0.006;
      thick_ = mortar ? random.uniform(0.003, 0.0055) : random.uniform(0.004, 0.008);
    }
    // Which way it is off, and how far.
    turn_ = random.uniform(0, tau);
    const double up = area_.from_angle + area_.round_m / radius_ / 2;
    // What lets go lets go at its upper edge; overhead at either end.
    if (std::abs(std::sin(up)) > 0.4) turn_ = std::sin(up) > 0 ? -tau / 4 : tau / 4;
    lift_ = std::clamp(random.uniform(0.16, 0.26) * radius_, 0.010, 0.034);
    const double reach = std::max(area_.length_m, area_.round_m);
    // In a joint it gathers at one place.
    const double gather = patch ? 0.5 : random.uniform(0.3, 0.7), spread = patch ? 0.4 : 0.16;
    for (int n = 0; n < 5; ++n)
      lumps_.push_back({random.uniform(0.18, 0.82) * area_.length_m,
                        (gather + random.uniform(-spread, spread)) * area_.round_m,
                        random.uniform(0.14, 0.26) * std::min(reach, 0.16),
                        n == 0 ? 1 : random.uniform(0.5, 0.95)});
    if (repair.flaw == RepairFlaw::excess) solve();
  }

  const PatchArea& area() const { return area_; }
  double at_m() const { return at_m_; }
  double radius() const { return radius_; }
  std::uint32_t seed() const { return seed_; }
  const WallOutline& hole() const { return hole_; }

  Stand stand(double along, double round) const {
    double in = inside_m(area_, along, round);
    const double x = area_.from_m + along - at_m_, y = round - area_.round_m / 2;
    const bool patch = repair_.form == RepairForm::patch;
    const double to_hole = patch ? edge_distance_m(hole_, {x, y}) : 1;
    double under = -sunk_m, thick = thick_;
    if (scene::leaves_open(repair_) && to_hole < 0) under = -into_hole_m;
    switch (repair_.flaw) {
      case RepairFlaw::wall_missing: {
        // It was put on from one side and covers but half of the hole.
        const double off = std::cos(turn_) * x + std::sin(turn_) * y;
        in = std::min(in, 0.10 * std::min(repair_.length_mm, repair_.width_mm) / 1000 - off +
                              0.009 * noise_at(along, round, 0.022, 3U, 2));
        break;
      }
      case RepairFlaw::not_reaching:
        in = std::min(in, -to_hole - 0.0095 - 0.003 * noise_at(along, round, 0.03, 4U, 2));
        thick = 0.002;
        break;
      case RepairFlaw::poor_patch:
        // Thrown on: too thick here, fallen out there.
        thick *= 0.5 + 1.3 * std::max(0.0, 0.5 + noise_at(along, round, 0.030, 5U, 2));
        in = std::min(in, 0.028 * (0.30 - noise_at(along, round, 0.026, 6U, 2)));
        break;
      case RepairFlaw::holed:
        if (edge_distance_m(inner_hole(), {x, y}) < 0.0008) return {thick_, true};
        break;
      default:
        break;
    }
    double high = under;
    if (in > 0) {
      const bool sealant = repair_.form == RepairForm::sealant_in_joint;
      if (sealant) {
        // A bead, squeezed out by fits and starts.
        const double half = area_.length_m / 2, share = std::min(1.0, in / half);
        high = thick_ * std::sqrt(share * (2 - share)) *
               (0.55 + 0.6 * std::max(0.0, 0.5 + noise_at(0, round, 0.022, 7U, 2)));
      } else {
        const double marks = noise_at(along * 0.35 + round * 0.2, round, 0.012, 8U, 2);
        const double lumps =
            repair_.form == RepairForm::patch ? 0 : 0.8 * noise_at(along, round, 0.02, 9U, 3);
        const bool struck_off = repair_.form == RepairForm::patch && repair_.flaw == RepairFlaw::none;
        high = thick * smooth(0, 0.009, in) * (1 + lumps) +
               (struck_off ? 0.00035 : 0.0009) * marks * smooth(0, 0.004, in);
        if (high < 0) high = 0;
      }
    }
    high += lifted(along, round);
    if (repair_.flaw == RepairFlaw::excess && in > -0.02)
      high = std::max(high, lumps(along, round) * smooth(-0.001, 0.012, in));
    return {high, in < -0.0025 && high < 0.0005};
  }
  /// How far it stands off the wall there.
  double lifted(double along, double round) const {
    if (repair_.flaw != RepairFlaw::come_away) return 0;
    const double x = (along - area_.length_m / 2) / (area_.length_m / 2),
                 y = (round - area_.round_m / 2) / (area_.round_m / 2);
    if (repair_.form != RepairForm::patch) {
      // A part of the ring hangs off.
      const double off = std::abs(y - 0.2) / 0.38;
      return off < 1 ? 0.6 * lift_ * (1 - off * off) : 0;
    }
    const double t = std::clamp(0.5 + 0.5 * (std::cos(turn_) * x + std::sin(turn_) * y), 0.0, 1.0);
    return lift_ * std::pow(t, 1.3);
  }
  WallOutline inner_hole() const {
    if (!inner_) {
      scene::Hole hole = scene::mended_hole(repair_);
      hole.length_mm *= 0.5, hole.width_mm *= 0.5;
      inner_ = hole_outline(hole, radius_, seed_ + 77U);
    }
    return *inner_;
  }
  double share_lost() const {
    double worst = 0;
    constexpr int rows = 32, around = 200;
    for (int k = 0; k < rows; ++k) {
      double lost = 0;
      for (int i = 0; i < around; ++i) {
        const double round = area_.round_m * (i + 0.5) / around;
        const double along = area_.length_m * (k + 0.5) / rows;
        const double high =
            std::max(0.0, lumps(along, round) * smooth(-0.001, 0.012, inside_m(area_, along, round)));
        const double left = std::max(0.0, radius_ - high);
        lost += (radius_ * radius_ - left * left) * area_.round_m / around / radius_;
      }
      worst = std::max(worst, lost / (tau * radius_ * radius_));
    }
    return worst;
  }

 private:
  double noise_at(double a, double s, double size_m, std::uint32_t more, int octaves) const {
    const double turn = area_.from_angle + s / radius_;
    return static_cast<double>(layered_noise(static_cast<float>(radius_ * std::sin(turn) / size_m),
                                             static_cast<float>(radius_ * std::cos(turn) / size_m),
                                             static_cast<float>((area_.from_m + a) / size_m), seed_ + more,
                                             octaves));
  }
  double lumps(double along, double round) const {
    double best = 0;
    const double knob = 1 + 0.16 * noise_at(along, round, 0.018, 12U, 2);
    for (const Lump& lump : lumps_) {
      const double r = std::max(lump.radius, 0.55 * high_m_);
      const double dx = along - lump.along, dy = round - lump.round, d = (dx * dx + dy * dy) / (r * r);
      if (d < 1) best = std::max(best, high_m_ * lump.high * std::sqrt(1 - d) * knob);
    }
    return best;
  }
  void solve() {
    double low = 0, high = 1.4 * radius_;
    for (int i = 0; i < 18; ++i) {
      high_m_ = (low + high) / 2;
      (share_lost() < repair_.takes_percent / 100 ? low : high) = high_m_;
    }
  }

  const scene::Scene& scene_;
  const scene::Repair& repair_;
  double at_m_, radius_;
  std::uint32_t seed_ = 0;
  PatchArea area_;
  WallOutline hole_;
  mutable std::optional<WallOutline> inner_;
  double thick_ = 0, turn_ = 0, lift_ = 0, high_m_ = 0;
  struct Lump {
    double along, round, radius, high;
  };
  std::vector<Lump> lumps_;
};

void add_face(Coat& coat, const CoatedWall& wall, const Mended& mended, const scene::Repair& repair,
              std::uint16_t fault) {
  const PatchArea& area = mended.area();
  constexpr double margin = 0.006, step = 0.0015;
  const int rows = std::clamp(static_cast<int>((area.length_m + 2 * margin) / step), 20, 500),
            columns = std::clamp(static_cast<int>((area.round_m + 2 * margin) / step), 20, 900);
  const double side = area.whole ? 0 : margin;
  CoatSheet sheet = empty_sheet(rows, columns);
  sheet.ring = area.whole;
  sheet.open.assign(sheet.points.size(), false);
  const bool off = repair.flaw == RepairFlaw::come_away;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const double along = (area.length_m + 2 * margin) * r / (rows - 1) - margin,
                   round = (area.round_m + 2 * side) * c / (columns - 1) - side;
      const Stand here = mended.stand(along, round);
      const double z = area.from_m + along, angle = area.from_angle + round / area.radius_m;
      const std::size_t i = sheet.index(r, c);
      sheet.points[i] = wall.at(z, angle, here.high_m);
      sheet.skin[i] = skin_of(repair), sheet.share[i] = 1;
      sheet.fault[i] = fault, sheet.open[i] = here.open;
      // Off the wall there is an edge, and no more of it beyond.
      if (off && inside_m(area, along, round) < -0.0016) sheet.open[i] = true;
    }
  coat.sheets.push_back(std::move(sheet));
  if (!off) return;
  CoatSheet shade = empty_sheet(60, area.whole ? 300 : 90);
  for (int r = 0; r < shade.rows; ++r)
    for (int c = 0; c < shade.columns; ++c) {
      const double along = area.length_m * (0.04 + 0.92 * r / (shade.rows - 1)),
                   round = area.round_m * (0.04 + 0.92 * c / (shade.columns - 1));
      const std::size_t i = shade.index(r, c);
      const double room = mended.lifted(along, round);
      shade.points[i] = wall.at(area.from_m + along, area.from_angle + round / area.radius_m,
                                room > 0.002 ? 0.0004 : -0.0006);
      shade.skin[i] = Skin::dark, shade.share[i] = 1, shade.fault[i] = fault;
    }
  shade.open.assign(shade.points.size(), false);
  // Over the hole the hole itself is dark.
  for (int r = 0; r < shade.rows; ++r)
    for (int c = 0; c < shade.columns; ++c) {
      const double along = area.length_m * (0.04 + 0.92 * r / (shade.rows - 1)),
                   round = area.round_m * (0.04 + 0.92 * c / (shade.columns - 1));
      const bool over_hole =
          repair.form == RepairForm::patch &&
          edge_distance_m(mended.hole(), {area.from_m + along - mended.at_m(), round - area.round_m / 2}) < 0;
      shade.open[shade.index(r, c)] = over_hole || inside_m(area, along, round) < 0.003;
    }
  coat.sheets.push_back(std::move(shade));
}

/// The rubber of the sleeve that joins old pipe to new shows between their ends.
void add_sleeve(Coat& coat, const scene::Scene& scene, double z, std::uint16_t fault) {
  constexpr double half_m = 0.011, high_m = 0.0022;
  constexpr int rows = 11, columns = 241;
  const CoatedWall wall(scene, z - 0.05, z + 0.05, 0.02);
  CoatSheet sheet = empty_sheet(rows, columns);
  sheet.ring = true;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const double angle = tau * (c % (columns - 1)) / (columns - 1), s = 2.0 * r / (rows - 1) - 1;
      const double uneven = static_cast<double>(layered_noise(static_cast<float>(2 * std::sin(angle)),
                                                              static_cast<float>(2 * std::cos(angle)), 0.4F,
                                                              coat.seed + static_cast<std::uint32_t>(r), 2));
      // Two lips with a groove between them.
      const double lips = std::abs(std::sin(1.5 * std::numbers::pi * s));
      const std::size_t i = sheet.index(r, c);
      sheet.points[i] = wall.at(z + s * half_m * (1 + 0.1 * uneven), angle,
                                r == 0 || r == rows - 1 ? -0.0006 : high_m * (0.4 + 0.6 * lips));
      sheet.skin[i] = Skin::rubber, sheet.share[i] = 1, sheet.fault[i] = fault;
    }
  coat.sheets.push_back(std::move(sheet));
}

}  // namespace

Coat repair_coat(const scene::Scene& scene, const scene::Repair& repair, int number) {
  const std::uint64_t seed = scene::fault_seed(scene.scenario, number);
  const auto fault = static_cast<std::uint16_t>(number);
  Coat coat;
  coat.seed = static_cast<std::uint32_t>(seed ^ (seed >> 32U));
  coat.radius_m = scene::radius_at(scene, repair.from_m);
  if (repair.form == RepairForm::pipe_replaced) {
    for (const double z : {repair.from_m, repair.to_m})
      if (z > 0.02 && z < scene.length_m() - 0.02) add_sleeve(coat, scene, z, fault);
    return coat;
  }
  if (repair.form == RepairForm::connection_lining || repair.form == RepairForm::connection_mortar) {
    add_brim(coat, scene, repair, seed, fault);
    return coat;
  }
  const Mended mended(scene, repair, seed);
  const PatchArea& area = mended.area();
  const CoatedWall wall(scene, area.from_m, area.from_m + area.length_m, 0.02);
  add_face(coat, wall, mended, repair, fault);
  const auto face_at = [&](double z, double angle) {
    double round = (angle - area.from_angle) - tau * std::floor((angle - area.from_angle) / tau);
    round *= area.radius_m;
    return std::max(0.0, mended.stand(z - area.from_m, round).high_m);
  };
  if (repair.flaw == RepairFlaw::holed)
    add_hole(coat, wall, face_at, mended.inner_hole(), fault, -into_hole_m, Skin::mortar);
  if (repair.flaw == RepairFlaw::cracked) {
    const scene::CrackForm forms[] = {scene::CrackForm::along, scene::CrackForm::around,
                                      scene::CrackForm::branching, scene::CrackForm::spiral};
    const double hour = area.whole ? repair.arc.from_h
                                   : base::wrap_hours(base::hours_from_degrees(
                                         (area.from_angle + area.round_m / area.radius_m / 2) * 360 / tau));
    const double half_h = area.whole ? 6 : 0.45 * area.round_m / (tau * area.radius_m) * 12;
    const scene::CrackForm form = forms[static_cast<int>(repair.way)];
    const bool around = form == scene::CrackForm::around;
    const double mid = area.from_m + area.length_m / 2, half_z = around ? 0 : 0.47 * area.length_m;
    base::ClockArc arc{base::wrap_hours(hour - half_h), base::wrap_hours(hour + half_h), area.whole};
    if (form == scene::CrackForm::along) arc = {hour, hour, false};
    add_crack(coat, wall, face_at,
              crack_shape({mid - half_z, mid + half_z, arc, form, repair.crack_mm}, area.radius_m, seed),
              fault, skin_of(repair));
  }
  return coat;
}

double share_taken(const scene::Scene& scene, const scene::Repair& repair, int number) {
  return Mended(scene, repair, scene::fault_seed(scene.scenario, number)).share_lost();
}

}  // namespace haunch::matter
