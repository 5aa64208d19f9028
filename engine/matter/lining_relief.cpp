// SPDX-License-Identifier: Apache-2.0
// The shape each defect gives a lining's face. Sizes that nobody states are ours, by eye.
#include "matter/lining_relief.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

using scene::FoldWay;
using scene::LiningForm;

constexpr double tau = 2 * std::numbers::pi;
constexpr double at_end_within_m = 0.02;
constexpr double usual_out_m = 0.012;

double smooth(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

}  // namespace

LiningRelief::LiningRelief(const scene::Scene& scene, const scene::Lined& lining, int number)
    : defect_(
          std::get<scene::LiningDefect>(scene.scenario.faults[static_cast<std::size_t>(number - 1)].kind)),
      number_(number),
      thick_m_(lining.is_the_wall() ? 0 : lining.thickness_mm / 1000),
      bore_m_(scene::radius_at(scene, (defect_.from_m + defect_.to_m) / 2) - thick_m_) {
  const std::uint64_t seed = scene::fault_seed(scene.scenario, number);
  seed_ = static_cast<std::uint32_t>(seed ^ (seed >> 32U));
  area_ = patch_area(scene, defect_.from_m, defect_.to_m, defect_.arc, seed);
  const double before = defect_.from_m - lining.from_m, after = lining.to_m - defect_.to_m;
  if (std::min(before, after) <= at_end_within_m) end_ = before < after ? -1 : 1;
  base::Random random(base::mix(seed + 91U));
  if (end_ == 0 && defect_.form == LiningForm::come_away) end_ = random.uniform() < 0.5 ? -1 : 1;
  end_m_ = end_ < 0 ? std::max(defect_.from_m, lining.from_m) : std::min(defect_.to_m, lining.to_m);
  if (defect_.form == LiningForm::wrinkled) {
    const double across = defect_.way == FoldWay::along ? area_.round_m : area_.length_m;
    const double apart = random.uniform(0.055, 0.10);
    const int many = std::clamp(static_cast<int>(std::lround(across / apart)), 1, 40);
    for (int n = 0; n < many; ++n)
      folds_.push_back(
          defect_.way == FoldWay::spiral
              ? Fold{(n + 0.5) * across / many, 0.006, 1}  // each turn goes on into the next
              : Fold{(n + 0.5 + (many > 1 ? random.uniform(-0.28, 0.28) : random.uniform(-0.1, 0.1))) *
                         across / many,
                     random.uniform(0.004, 0.012), n == 0 ? 1 : random.uniform(0.55, 1.0)});
    slant_ = random.uniform() < 0.5 ? -1 : 1;
  }
  if (!scene::takes_area(defect_.form) || !(defect_.percent > 0)) return;
  double low = 0, high = 1.9 * bore_m_;
  for (int i = 0; i < 14; ++i) {
    high_m_ = (low + high) / 2;
    (share_lost() < defect_.percent / 100 ? low : high) = high_m_;
  }
}

double LiningRelief::round(double angle) const {
  double turned = angle - area_.from_angle;
  turned -= tau * std::floor(turned / tau);
  const double round = turned * area_.radius_m;
  // Beside the arc the shorter way.
  const double full = tau * area_.radius_m;
  return !area_.whole && round > (area_.round_m + full) / 2 ? round - full : round;
}

double LiningRelief::noise_at(double a, double s, double size_m, std::uint32_t more, int octaves,
                              double drawn_round) const {
  const double turn = area_.from_angle + s / area_.radius_m, r = area_.radius_m / drawn_round;
  return static_cast<double>(layered_noise(
      static_cast<float>(r * std::sin(turn) / size_m), static_cast<float>(r * std::cos(turn) / size_m),
      static_cast<float>((area_.from_m + a) / size_m), seed_ + more, octaves));
}

double LiningRelief::ridge(double off_m) const {
  // Pinched, so that it is hardly wider than it is high.
  const double wide = 0.0022 + 0.40 * high_m_, t = off_m / wide;
  return std::exp(-t * t);
}

double LiningRelief::fold(double a, double s) const {
  double best = 0;
  const double sway = noise_at(a, s, 0.09, 41U, 2);
  if (defect_.way == FoldWay::several) {
    // A crumple: the places where broad noise changes its sign, of two sizes.
    const double one = std::abs(noise_at(a, s, 0.055, 42U)), two = std::abs(noise_at(a, s, 0.030, 43U));
    best = std::max(ridge(0.075 * one), 0.7 * ridge(0.045 * two));
    return best * (0.7 + 0.3 * std::clamp(0.5 + sway, 0.0, 1.0));
  }
  for (const Fold& f : folds_) {
    double off = 0;
    switch (defect_.way) {
      case FoldWay::along:
        off = s - f.at - f.wander * noise_at(a, f.at, 0.12, 44U, 2);
        break;
      case FoldWay::around:
        off = a - f.at - f.wander * noise_at(f.at, s, 0.07, 45U, 2);
        break;
      default: {
        // One turn takes as much length as it lies apart from the next, so that it goes on into it.
        const double apart = area_.length_m / static_cast<double>(folds_.size());
        const double pitch = area_.whole ? apart * std::max(1.0, std::round(0.22 / apart)) : 0.22;
        const double turn = s / (tau * area_.radius_m);
        off = a - f.at - slant_ * pitch * turn;
        if (area_.whole)  // of all turns the nearest
          for (const double more : {-pitch, pitch})
            if (std::abs(off + more) < std::abs(off)) off += more;
        off += 0.5 * f.wander * sway;
        break;
      }
    }
    best = std::max(best, f.strength * ridge(off));
  }
  return best * (0.85 + 0.15 * sway);
}

double LiningRelief::end_distance(double z_m) const {
  return end_ == 0 ? 1e9 : end_ < 0 ? z_m - end_m_ : end_m_ - z_m;
}

double LiningRelief::raised_m(double z_m, double angle) const {
  const double a = along(z_m), s = round(angle);
  if (a < -0.03 || a > area_.length_m + 0.03) return 0;
  const double half_a = area_.length_m / 2, half_s = area_.round_m / 2;
  const double u = (a - half_a) / half_a, v = area_.whole ? 0 : (s - half_s) / half_s;
  switch (defect_.form) {
    case LiningForm::wrinkled: {
      const double edge = area_.whole
                              ? half_a - std::abs(a - half_a)
                              : std::min(half_a - std::abs(a - half_a), half_s - std::abs(s - half_s));
      if (edge <= 0) return 0;
      return high_m_ * fold(a, s) * smooth(0, std::min(0.07, 0.4 * std::min(half_a, half_s)), edge);
    }
    case LiningForm::bulging_in:
    case LiningForm::bulging_out: {
      const double r = u * u + v * v * (1 + 0.12 * noise_at(a, s, 0.12, 46U));
      if (r >= 1) return 0;
      const bool in = defect_.form == LiningForm::bulging_in;
      const double deep = defect_.width_mm > 0 ? defect_.width_mm / 1000 : usual_out_m;
      const double high = in ? high_m_ : -(deep + thick_m_);
      return high * std::pow(1 - r, 1.4);
    }
    case LiningForm::come_away: {
      // Held at one end, free at the other; its sides tear or crease where it leaves the pipe.
      const double free = end_ > 0 ? a / area_.length_m : 1 - a / area_.length_m;
      if (free <= 0 || free > 1.0 + 1e-6) return 0;
      double across = 0;
      if (area_.whole) {
        // It sinks from the crown; the rest holds.
        if (std::cos(angle) <= 0) return 0;
        across = std::sqrt(std::cos(angle));
      } else {
        if (std::abs(v) >= 1) return 0;
        across = std::pow(1 - v * v, 0.6);
      }
      const double waves = 1 + 0.13 * noise_at(a, s, 0.05, 47U, 2) + 0.08 * noise_at(a, s, 0.02, 48U);
      return high_m_ * std::pow(free, 1.5) * across * waves;
    }
    case LiningForm::end_open: {
      const double way = end_distance(z_m);
      if (way < -1e-6 || way > 0.09) return 0;
      const double side = area_.whole ? 1 : smooth(0, 0.35, 1 - std::abs(v));
      const double left = 1 - smooth(0, 0.07, way);
      return defect_.width_mm / 1000 * side * left * left *
             (area_.whole ? 0.85 + 0.15 * noise_at(0, s, 0.06, 49U) : 1);
    }
    case LiningForm::poor_end: {
      const double way = end_ < 0 ? z_m - ragged_end_m(angle) : ragged_end_m(angle) - z_m;
      if (way < 0 || (!area_.whole && (s < 0 || s > area_.round_m))) return 0;
      return 0.007 * std::exp(-way / 0.010) * std::max(0.0, 0.45 + 0.9 * noise_at(0, s, 0.022, 50U, 2));
    }
    case LiningForm::soft: {
      const double in = smooth(0, 0.03, inside_m(area_, a, s));
      // Runs that went down before it was to set, and dents of whatever touched it.
      const double runs = noise_at(a, s, 0.013, 51U, 2, 4.0), dents = noise_at(a, s, 0.024, 52U);
      return in * (0.0022 * runs + 0.0030 * std::min(0.0, dents + 0.25) + 0.0012);
    }
    case LiningForm::film_off: {
      const double in = inside_m(area_, a, s);
      // The film's torn edge stands up in curls; where it is gone the face lies lower by as much.
      const double curl = std::max(0.0, 0.15 + noise_at(a, s, 0.028, 53U, 2));
      const double t = (in - 0.003) / 0.0035;
      return 0.011 * curl * std::exp(-t * t) - 0.0004 * smooth(0, 0.004, in);
    }
    case LiningForm::poor_joint: {
      const double off = std::abs(z_m - joint_at_m(angle)), gap = joint_gap_m(angle) / 2;
      if (gap <= 0) return 0;
      const double lip =
          0.6 + 0.8 * std::max(0.0, noise_at(z_m > joint_at_m(angle) ? 1 : 0, s, 0.03, 54U, 2));
      return 0.0050 * lip * std::exp(-std::max(0.0, off - gap) / 0.009);
    }
    case LiningForm::resin_missing:
      return -0.0006 * smooth(0, 0.006, inside_m(area_, a, s)) +
             0.0004 * noise_at(a, s, 0.004, 55U, 1) * smooth(0, 0.006, inside_m(area_, a, s));
    case LiningForm::discoloured:
    case LiningForm::cracked:
    case LiningForm::holed:
    case LiningForm::seam_off:
      break;
  }
  return 0;
}

double LiningRelief::ragged_end_m(double angle) const {
  const double s = round(angle);
  const double torn = std::clamp(0.42 + 0.75 * noise_at(0, s, 0.045, 60U) +
                                     0.35 * noise_at(0, s, 0.014, 61U) + 0.2 * noise_at(0, s, 0.005, 62U),
                                 0.0, 1.0);
  double share = 1;
  if (!area_.whole) {
    const double half = area_.round_m / 2;
    share = smooth(0, 0.2, 1 - std::abs(s - half) / half);
  }
  const double short_by = share * torn * 0.9 * area_.length_m;
  return end_ < 0 ? end_m_ + short_by : end_m_ - short_by;
}

double LiningRelief::joint_at_m(double angle) const {
  return area_.from_m + area_.length_m * (0.5 + 0.10 * noise_at(0, round(angle), 0.08, 63U, 2));
}

double LiningRelief::joint_gap_m(double angle) const {
  const double s = round(angle);
  if (!area_.whole && (s <= 0 || s >= area_.round_m)) return 0;
  const double half = area_.round_m / 2;
  const double side = area_.whole ? 1 : smooth(0, 0.25, 1 - std::abs(s - half) / half);
  return 0.55 * area_.length_m * side *
         std::clamp(0.45 + 0.7 * noise_at(0, s, 0.05, 64U, 2) + 0.25 * noise_at(0, s, 0.012, 65U), 0.12, 1.0);
}

void LiningRelief::shape(double z_m, double angle, LiningSpot& spot) const {
  const double raised = raised_m(z_m, angle);
  if (defect_.form == LiningForm::come_away) {
    if (raised > spot.drop_m) spot.drop_m = raised, spot.drop_angle = falls_toward();
  } else {
    spot.out_m += raised;
  }
  const double a = along(z_m), s = round(angle);
  const double in = inside_m(area_, a, s);
  const auto show = [&](Skin skin, double share) {
    // What is wrong covers the strip over the seam as well.
    if (spot.skin == Skin::seam ? share < 0.3 : share <= spot.share) return;
    spot.skin = skin, spot.share = share;
  };
  const auto belongs = [&](bool here) {
    if (here) spot.fault = static_cast<std::uint16_t>(number_);
  };
  switch (defect_.form) {
    case LiningForm::discoloured: {
      belongs(in > 0);
      show(Skin::stained,
           smooth(-0.002, 0.012, in) * std::clamp(0.85 + 0.5 * noise_at(a, s, 0.03, 70U, 3), 0.3, 1.0));
      break;
    }
    case LiningForm::soft:
      belongs(in > 0);
      show(Skin::sticky, smooth(0, 0.015, in));
      break;
    case LiningForm::resin_missing:
      belongs(in > 0);
      show(Skin::fibre, smooth(0, 0.003, in));
      break;
    case LiningForm::film_off:
      belongs(in > -0.001);
      if (in > 0.004)
        show(Skin::raw, smooth(0.004, 0.006, in));
      else if (in > -0.001)
        show(Skin::film, smooth(-0.001, 0.001, in));
      break;
    case LiningForm::poor_end: {
      if (a < -1e-6 || a > area_.length_m + 1e-6 || (!area_.whole && (s < 0 || s > area_.round_m))) break;
      const double way = end_ < 0 ? z_m - ragged_end_m(angle) : ragged_end_m(angle) - z_m;
      spot.open = spot.open || way < 0;
      belongs(way < 0.03);
      show(Skin::frayed, 1 - smooth(0.004, 0.018, way + 0.006 * noise_at(a, s, 0.006, 71U, 2)));
      break;
    }
    case LiningForm::poor_joint: {
      const double off = std::abs(z_m - joint_at_m(angle)), gap = joint_gap_m(angle) / 2;
      if (gap <= 0) break;
      spot.open = spot.open || off < gap;
      belongs(off < gap + 0.022);
      show(Skin::frayed, 1 - smooth(0.002, 0.011, off - gap + 0.004 * noise_at(a, s, 0.006, 72U, 2)));
      break;
    }
    case LiningForm::come_away:
    case LiningForm::end_open:
    case LiningForm::wrinkled:
    case LiningForm::bulging_in:
    case LiningForm::bulging_out:
      belongs(std::abs(raised) > 0.00015);
      // Strained resin goes pale on the crest of a fold.
      if (defect_.form == LiningForm::wrinkled)
        show(Skin::split, 0.30 * smooth(0.6, 1.0, raised / std::max(high_m_, 1e-6)));
      break;
    case LiningForm::cracked:
    case LiningForm::holed:
    case LiningForm::seam_off:
      break;
  }
}

double LiningRelief::falls_toward() const {
  const double middle = area_.whole ? 0.0 : area_.from_angle + area_.round_m / area_.radius_m / 2;
  return middle + tau / 2;
}

double LiningRelief::share_lost() const {
  double worst = 0;
  // Close enough together for the crest of a fold.
  const int rows = std::clamp(static_cast<int>(area_.length_m / 0.003), 25, 200);
  constexpr int around = 120;
  for (int k = 0; k <= rows; ++k) {
    const double z = area_.from_m + area_.length_m * k / rows;
    double lost = 0;
    for (int i = 0; i < around; ++i) {
      const double angle = tau * i / around, raised = raised_m(z, angle);
      if (defect_.form == LiningForm::come_away) {
        // It falls as a whole: by so much of the chord.
        lost -= 2 * bore_m_ * std::min(raised, 2 * bore_m_) * std::cos(angle - falls_toward());
        continue;
      }
      const double left = std::max(0.0, bore_m_ - raised);
      lost += bore_m_ * bore_m_ - left * left;
    }
    worst = std::max(worst, lost / (around * bore_m_ * bore_m_));
  }
  return worst;
}

std::vector<LiningRelief> reliefs_of(const scene::Scene& scene, const scene::Lined& lining) {
  const auto& faults = scene.scenario.faults;
  std::vector<LiningRelief> reliefs;
  for (std::size_t i = 0; i < faults.size(); ++i)
    if (const auto* defect = std::get_if<scene::LiningDefect>(&faults[i].kind)) {
      const auto over = scene::lining_over(scene.scenario, (defect->from_m + defect->to_m) / 2);
      if (over && over->section == lining.section && over->from_m == lining.from_m)
        reliefs.emplace_back(scene, lining, static_cast<int>(i) + 1);
    }
  return reliefs;
}

}  // namespace haunch::matter
