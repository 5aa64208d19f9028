// SPDX-License-Identifier: Apache-2.0
// Grows roots. Every form is a function of one number, its reach, and of a seed; the reach is then
// searched until the silhouette along the axis covers the stated share of the bore.
#include "matter/roots.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;

/// Strands relative to the bore's centre: x and y across, z the chainage.
struct Growth {
  double radius = 0;       // of the bore
  double z0 = 0, run = 0;  // where they come in, how far they trail
  double arc_from = 0, arc_width = 0;
  std::uint64_t seed = 0;
};

struct Grown {
  std::vector<StrandNode> nodes;
  std::vector<Strand> strands;
  void begin(double age) { strands.push_back({static_cast<int>(nodes.size()), 0, static_cast<float>(age)}); }
  void add(const scene::Vec3& at, double radius) {
    nodes.push_back({at, radius});
    ++strands.back().count;
  }
};

scene::Vec2 outward(double angle) { return {std::sin(angle), std::cos(angle)}; }

/// Slides a place back into the bore along the radius.
scene::Vec2 held_inside(scene::Vec2 p, double limit) {
  const double r = length(p);
  return r > limit ? (limit / r) * p : p;
}

/// Soft kinks along a strand, each of its own phase.
scene::Vec2 curl(double along_m, double phase, double wave_m, std::uint32_t seed, int octaves = 2) {
  const auto u = static_cast<float>(along_m / wave_m), p = static_cast<float>(phase);
  return {static_cast<double>(layered_noise(u, p, 0.5F, seed, octaves)),
          static_cast<double>(layered_noise(u, p, 7.5F, seed + 3U, octaves))};
}

// Tassels: bundles of hair that enter together, hang as a fringe and trail downstream, some long and
// full, some a few hairs, and strays between.
Grown grow_fine(const Growth& g, double reach) {
  base::Random random(g.seed);
  const auto curl_seed = static_cast<std::uint32_t>(random.next());
  Grown grown;
  const double arc_m = g.arc_width * g.radius;
  const double scale = std::clamp(g.radius / 0.075, 0.5, 2.0);
  const int tassels = std::clamp(static_cast<int>(std::lround(arc_m / (0.016 * scale))), 1, 14);
  const int budget = std::clamp(620 / tassels, 40, 110);
  for (int k = 0; k < tassels; ++k) {
    const double angle = g.arc_from + g.arc_width * (k + random.uniform(0.05, 0.95)) / tassels;
    const scene::Vec2 in = -1.0 * outward(angle), across{in.y, -in.x};
    // A bundle from the crown hangs freely; one from below can only lie down.
    const double bow = std::max(0.12, 0.45 - 0.45 * in.y);
    const double bundle = 0.35 + 1.15 * random.uniform() * random.uniform() + 0.3 * random.uniform();
    const double lean = random.uniform(-0.35, 0.35), flock = random.uniform(0.0, 300.0);
    const int hairs = static_cast<int>(budget * std::min(1.0, 0.35 + 0.65 * bundle));
    for (int h = 0; h < hairs; ++h) {
      const bool leader = h % 11 == 0;
      const double reach_m =
          reach * bundle * scale * 0.055 * (leader ? random.uniform(0.8, 1.1) : random.uniform(0.25, 1.0));
      const double trail = std::max(g.run, 0.03) * std::min(1.0, bundle * random.uniform(0.25, 0.8));
      const double spread = 0.34 * random.normal() + lean, rise = 0.30 * random.normal();
      const double root_angle = angle + (leader ? 0.002 : 0.0045) * scale * random.normal() / g.radius;
      const double thick =
          scale * (leader ? random.uniform(0.00042, 0.00075) : random.uniform(0.00015, 0.00032));
      const double phase = random.uniform(0.0, 400.0), z_start = g.z0 + random.uniform(-0.002, 0.002);
      const double late = random.uniform(1.4, 2.4);
      grown.begin(std::clamp(0.22 + 0.20 * random.normal() + (leader ? 0.30 : 0.0), 0.0, 1.0));
      const double path = std::sqrt(reach_m * reach_m + trail * trail);
      const int steps = std::clamp(static_cast<int>(path / 0.005), 7, 40);
      for (int i = 0; i <= steps; ++i) {
        const double u = static_cast<double>(i) / steps;
        const double hang = 1 - (1 - u) * (1 - u);
        const scene::Vec2 way = ((1 - 0.22 * hang) * hang + rise * u * u) * in + (spread * hang) * across +
                                scene::Vec2{0, -bow * hang * hang};
        // Hairs of a tassel share its waves, and each has finer ones of its own.
        const scene::Vec2 wave =
            (0.0045 * scale * std::min(1.0, 3 * u)) * curl(u * path, flock, 0.034 * scale, curl_seed + 40U) +
            (0.0030 * scale * std::min(1.0, 4 * u)) * curl(u * path, phase, 0.017 * scale, curl_seed, 1);
        const double r = thick * (1 - 0.75 * u);
        const scene::Vec2 p = held_inside(1.002 * g.radius * outward(root_angle) + reach_m * way + wave,
                                          u < 0.02 ? 1.002 * g.radius : g.radius - r);
        grown.add({p.x, p.y, z_start + trail * std::pow(u, late)}, r);
      }
    }
  }
  return grown;
}

// A tangle that has grown from its arc into the bore: strands to many places within reach of the
// arc, kinked and crossing, and loose ends that trail downstream.
Grown grow_mass(const Growth& g, double reach) {
  base::Random random(g.seed);
  const auto curl_seed = static_cast<std::uint32_t>(random.next());
  Grown grown;
  const double run = std::max(g.run, 0.06);
  const double scale = std::clamp(g.radius / 0.075, 0.5, 2.0);
  constexpr int candidates = 1500;
  for (int k = 0; k < candidates; ++k) {
    // Every candidate draws the same numbers whether it is in reach or not, so that a longer reach
    // only adds strands.
    const double target_r = std::sqrt(random.uniform()) * 0.99 * g.radius, target_a = random.uniform(0, tau);
    const scene::Vec2 target = target_r * outward(target_a);
    const double jitter = 0.18 * random.normal(), bulge = random.uniform();
    const double depth_u = random.uniform(), phase = random.uniform(0, 900), thick_u = random.uniform();
    const double age_n = random.normal(), tail = random.uniform(0.1, 0.6), droop = random.uniform(0.0, 0.02);
    const double bow_x = random.normal(), bow_y = random.normal();
    const double off = std::remainder(target_a - (g.arc_from + g.arc_width / 2), tau);
    const double at = std::clamp(off + jitter, -g.arc_width / 2, g.arc_width / 2);
    const scene::Vec2 entry = g.radius * outward(g.arc_from + g.arc_width / 2 + at);
    const double lumpy = 1 + 0.30 * static_cast<double>(noise(static_cast<float>(target.x / g.radius * 2.2),
                                                              static_cast<float>(target.y / g.radius * 2.2),
                                                              0.5F, curl_seed + 9U));
    const double away = length(target - entry) * lumpy;
    if (away > reach * g.radius) continue;
    const bool woody = thick_u > 0.965;
    const double thick =
        scale * (woody ? 0.0011 + 0.03 * (thick_u - 0.965) : 0.00028 + 0.00055 * thick_u * thick_u);
    const auto patch =
        static_cast<double>(noise(static_cast<float>(target.x / g.radius * 3.1),
                                  static_cast<float>(target.y / g.radius * 3.1), 9.5F, curl_seed + 19U));
    grown.begin(std::clamp(0.36 + 0.20 * age_n + 0.25 * patch + (woody ? 0.3 : 0.0), 0.0, 1.0));
    const double there_z = run * (0.06 + 0.62 * depth_u) * (0.55 + 0.45 * std::min(1.0, away / g.radius));
    const double end_z = std::min(run, there_z + tail * run * bulge);
    const double path = away + end_z;
    const int steps = std::clamp(static_cast<int>(path / 0.0048), 8, 44);
    const scene::Vec2 bow = (0.12 * away) * scene::Vec2{bow_x, bow_y};
    for (int i = 0; i <= steps; ++i) {
      const double u = static_cast<double>(i) / steps;
      const double v = std::min(1.0, u / 0.7), w = std::max(0.0, (u - 0.7) / 0.3);
      const scene::Vec2 base_way =
          (1 - v) * entry + v * target + (4 * v * (1 - v)) * bow + scene::Vec2{0, -droop * w};
      const double free = std::min(1.0, 5 * u);
      const scene::Vec2 kink = (0.0062 * scale * free) * curl(u * path, phase, 0.019 * scale, curl_seed, 1);
      const double r = thick * (1 - 0.6 * u);
      const scene::Vec2 p = held_inside(base_way + kink, u < 0.02 ? 1.002 * g.radius : g.radius - r);
      const double back = 0.010 * scale * free *
                          static_cast<double>(noise(static_cast<float>(u * path / (0.022 * scale)),
                                                    static_cast<float>(phase), 3.5F, curl_seed));
      grown.add({p.x, p.y, g.z0 + std::max(-0.004, (v * there_z + w * (end_z - there_z)) + back)}, r);
    }
  }
  return grown;
}

void side_root(Grown& grown, const Growth& g, base::Random& random, const scene::Vec3& from, double length_m,
               double thick, double age, std::uint32_t curl_seed, double limit_z) {
  const double angle = random.uniform(0, tau), phase = random.uniform(0, 500.0);
  const scene::Vec2 way = 0.55 * outward(angle) + scene::Vec2{0, -0.35};
  grown.begin(age);
  const int steps = std::clamp(static_cast<int>(length_m / 0.005), 5, 20);
  for (int i = 0; i <= steps; ++i) {
    const double u = static_cast<double>(i) / steps;
    const double r = thick * (1 - 0.7 * u);
    const scene::Vec2 kink =
        (0.07 * length_m * std::min(1.0, 4 * u)) * curl(u * length_m, phase, 0.018, curl_seed);
    const scene::Vec2 p =
        held_inside(scene::Vec2{from.x, from.y} + (u * length_m) * way + kink, g.radius - r);
    grown.add({p.x, p.y, std::min(limit_z, from.z + 0.75 * u * length_m)}, r);
  }
}

// A woody root that comes in, winds and forks, keeps most of its thickness and ends blunt, with side roots.
Grown grow_tap(const Growth& g, double reach) {
  base::Random random(g.seed);
  const auto curl_seed = static_cast<std::uint32_t>(random.next());
  Grown grown;
  const double run = std::max(g.run, 0.5 * g.radius);
  const double angle = g.arc_from + g.arc_width / 2 + 0.1 * random.normal();
  const scene::Vec2 in = -1.0 * outward(angle), across{in.y, -in.x};
  const double long_m = std::min(1.75, 1.15 * reach) * 0.85 * g.radius, thick = 0.072 * reach * g.radius;
  const double lean = random.uniform(-0.35, 0.35), phase = random.uniform(0, 300);
  grown.begin(0.86);
  constexpr int steps = 64;
  const auto gnarled = [&](double u, double k) {
    const auto knots = static_cast<double>(layered_noise(static_cast<float>(u * 15), static_cast<float>(k),
                                                         static_cast<float>(phase), curl_seed + 5U, 2));
    return 1 + 0.18 * knots + 0.55 * std::max(0.0, knots - 0.25);
  };
  for (int i = 0; i <= steps; ++i) {
    const double u = static_cast<double>(i) / steps;
    const scene::Vec2 kink = (0.19 * long_m * std::min(1.0, 4 * u)) * curl(u * 0.14, phase, 0.034, curl_seed);
    // Squeezed flat where it comes through the joint, then thick nearly to its end.
    const double swell = std::clamp(u / 0.12, 0.0, 1.0);
    const double squeezed = 0.45 + 0.70 * swell * swell * (3 - 2 * swell);
    const double end = std::sqrt(std::clamp((1 - u) / 0.10, 0.0, 1.0));
    const double r =
        std::max(0.0008, thick * gnarled(u, 0.3) * squeezed * (1 - 0.62 * u) * (0.25 + 0.75 * end));
    const double bent = std::sin(u * 1.35) / 1.0;  // straight in at first, then along the flow
    // It comes out of the wall as it goes in; what lies beyond the wall, the wall hides.
    const scene::Vec2 p = held_inside(
        1.015 * g.radius * outward(angle) + (long_m * bent) * in + (lean * long_m * u * u) * across + kink,
        1.015 * g.radius);
    grown.add({p.x, p.y, g.z0 + run * (0.30 * u + 0.70 * u * u)}, r);
  }
  const std::vector<StrandNode> main = grown.nodes;
  const double limit = g.z0 + run * 1.02;
  // It forks: each limb leaves to its own side, thinner than what it leaves.
  const int limbs = 2 + static_cast<int>(random.below(2));
  for (int k = 0; k < limbs; ++k) {
    const StrandNode& from = main[static_cast<std::size_t>(16 + 13 * k + static_cast<int>(random.below(8)))];
    const double out = (k % 2 == 0 ? 1 : -1) * random.uniform(0.5, 1.1), own_phase = random.uniform(0, 300);
    const double limb_m = long_m * random.uniform(0.35, 0.65) * (1 - 0.15 * k),
                 first_r = from.radius_m * 0.62;
    const scene::Vec2 way = out * across + random.uniform(0.1, 0.7) * in + scene::Vec2{0, -0.2};
    const double along = run * random.uniform(0.2, 0.5);
    grown.begin(random.uniform(0.74, 0.86));
    constexpr int limb_steps = 30;
    for (int i = 0; i <= limb_steps; ++i) {
      const double u = static_cast<double>(i) / limb_steps;
      const double r = std::max(0.0005, first_r * gnarled(u, 3.1 + k) * (1 - 0.80 * u));
      const scene::Vec2 kink =
          (0.20 * limb_m * std::min(1.0, 4 * u)) * curl(u * limb_m, own_phase, 0.026, curl_seed + 31U);
      const scene::Vec2 p =
          held_inside(scene::Vec2{from.at.x, from.at.y} + (limb_m * u) * way + kink, g.radius - r);
      grown.add({p.x, p.y, std::min(limit, from.at.z + along * u)}, r);
    }
  }
  for (int k = 0; k < 10; ++k) {
    const auto& n = main[static_cast<std::size_t>(8 + random.below(steps - 10))];
    side_root(grown, g, random, n.at, random.uniform(0.25, 0.7) * long_m,
              n.radius_m * random.uniform(0.10, 0.24), random.uniform(0.5, 0.85), curl_seed + 21U, limit);
  }
  for (int k = 0; k < 30; ++k) {
    const auto& n = main[static_cast<std::size_t>(4 + random.below(steps - 5))];
    side_root(grown, g, random, n.at, random.uniform(0.12, 0.45) * long_m,
              0.00022 + 0.0002 * random.uniform(), random.uniform(0.2, 0.6), curl_seed + 22U, limit);
  }
  return grown;
}

// Marks what lies within a tapering line between two places, in cells of `pitch`.
class Stencil {
 public:
  Stencil(double radius, double pitch)
      : radius_(radius), pitch_(pitch), side_(2 * static_cast<int>(std::ceil(radius / pitch)) + 2) {
    cells_.assign(static_cast<std::size_t>(side_) * static_cast<std::size_t>(side_), 0);
  }
  void draw(scene::Vec2 a, double ra, scene::Vec2 b, double rb) {
    const double top = std::max(ra, rb);
    const scene::Vec2 d = b - a;
    const double dd = d.x * d.x + d.y * d.y;
    const int x0 = cell(std::min(a.x, b.x) - top), x1 = cell(std::max(a.x, b.x) + top);
    const int y0 = cell(std::min(a.y, b.y) - top), y1 = cell(std::max(a.y, b.y) + top);
    const double per = dd > 0 ? 1 / dd : 0;
    for (int y = y0; y <= y1; ++y) {
      std::uint8_t* row = &cells_[static_cast<std::size_t>(y) * static_cast<std::size_t>(side_)];
      for (int x = x0; x <= x1; ++x) {
        if (row[x] != 0) continue;  // strands lie over one another a hundredfold
        const scene::Vec2 p{middle(x), middle(y)};
        const scene::Vec2 e = p - a;
        const double t = std::clamp((d.x * e.x + d.y * e.y) * per, 0.0, 1.0);
        const scene::Vec2 off = e - t * d;
        const double r = ra + t * (rb - ra);
        if (off.x * off.x + off.y * off.y <= r * r && p.x * p.x + p.y * p.y <= radius_ * radius_) row[x] = 1;
      }
    }
  }
  double share() const {
    const auto marked = static_cast<double>(std::count(cells_.begin(), cells_.end(), 1));
    return marked * pitch_ * pitch_ / (std::numbers::pi * radius_ * radius_);
  }

 private:
  int cell(double v) const {
    return std::clamp(static_cast<int>(std::floor(v / pitch_)) + side_ / 2, 0, side_ - 1);
  }
  double middle(int c) const { return (c - side_ / 2 + 0.5) * pitch_; }
  double radius_, pitch_;
  int side_;
  std::vector<std::uint8_t> cells_;
};

double pitch_for(double radius) { return std::max(0.00016, radius / 330); }

double share_of(const Grown& grown, double radius) {
  Stencil stencil(radius, pitch_for(radius));
  for (const Strand& s : grown.strands)
    for (int i = s.first; i + 1 < s.first + s.count; ++i) {
      const StrandNode& a = grown.nodes[static_cast<std::size_t>(i)];
      const StrandNode& b = grown.nodes[static_cast<std::size_t>(i) + 1];
      stencil.draw({a.at.x, a.at.y}, a.radius_m, {b.at.x, b.at.y}, b.radius_m);
    }
  return stencil.share();
}

Grown grow(scene::RootForm form, const Growth& g, double reach) {
  switch (form) {
    case scene::RootForm::tap:
      return grow_tap(g, reach);
    case scene::RootForm::fine:
      return grow_fine(g, reach);
    case scene::RootForm::mass:
      break;
  }
  return grow_mass(g, reach);
}

}  // namespace

RootShape root_shape(const scene::Scene& scene, const scene::Roots& roots, std::uint64_t seed) {
  Growth g;
  g.radius = radius_at(scene, roots.from_m);
  g.z0 = roots.from_m;
  g.run = roots.to_m - roots.from_m;
  g.arc_from = base::degrees_from_crown(roots.arc.from_h) * tau / 360;
  g.arc_width = base::arc_width_h(roots.arc) * tau / 12;
  g.seed = seed;
  const double wanted = roots.blocks_percent / 100;
  double low = 0.02, high = roots.form == scene::RootForm::fine ? 8.0 : 3.2;
  Grown best;
  double best_share = 1e9;
  for (int i = 0; i < 16 && std::abs(best_share - wanted) > 0.0015; ++i) {
    const double reach = i == 0 ? high : (low + high) / 2;
    Grown grown = grow(roots.form, g, reach);
    const double share = share_of(grown, g.radius);
    if (std::abs(share - wanted) < std::abs(best_share - wanted)) {
      best = std::move(grown);
      best_share = share;
    }
    if (i == 0 && share < wanted) break;  // even the longest reach does not cover more
    if (share < wanted) low = reach;
    if (share > wanted) high = reach;
  }
  RootShape shape{std::move(best.nodes), std::move(best.strands), best_share};
  // The pipe they came through at a shifted joint is the one they trail in.
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(piece_at(scene, roots.from_m + 1e-6))];
  for (StrandNode& n : shape.nodes) {
    // Truth says how far they trail, so tips that wave past it are drawn in, softly, to within 3 cm.
    constexpr double free_m = 0.015, softness_m = 0.014;
    const double past_m = n.at.z - roots.to_m - free_m;
    if (past_m > 0) n.at.z = roots.to_m + free_m + softness_m * past_m / (past_m + softness_m);
    const scene::Vec2 c = n.at.z > piece.to_m ? centre_at(scene, n.at.z) : centre_at(piece, n.at.z);
    const scene::Vec2 at = pressed(scene, n.at.z, {n.at.x, n.at.y});
    n.at.x = at.x + c.x;
    n.at.y = at.y + c.y;
  }
  return shape;
}

double silhouette_share(const scene::Scene& scene, const RootShape& shape, double z_m) {
  const double radius = radius_at(scene, z_m);
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(piece_at(scene, z_m + 1e-6))];
  Grown grown{shape.nodes, shape.strands};
  for (StrandNode& n : grown.nodes) {
    const scene::Vec2 c = n.at.z > piece.to_m ? centre_at(scene, n.at.z) : centre_at(piece, n.at.z);
    const scene::Vec2 at{n.at.x - c.x, n.at.y - c.y};
    // Back to the round bore.
    const double away = length(at), out = away > 0 ? length(pressed(scene, n.at.z, at)) / away : 1.0;
    n.at.x = at.x / out;
    n.at.y = at.y / out;
  }
  return share_of(grown, radius);
}

}  // namespace haunch::matter
