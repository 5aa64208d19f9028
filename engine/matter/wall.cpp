// SPDX-License-Identifier: Apache-2.0
// Crack paths, hole outlines and branch openings from the scenario's numbers and a seed.
#include "matter/wall.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;

struct Arc {
  double from = 0, to = 0;  // to >= from
};
Arc radians_of(const base::ClockArc& arc) {
  const double from = base::degrees_from_crown(arc.from_h) * tau / 360;
  const double width = base::arc_width_h(arc) * tau / 12;
  return {from, from + width};
}

// Sideways wander of a crack in brittle ware, metres: long lazy swings and ever smaller kinks, in a
// proportion that looks torn, not drawn. `swing` scales all of it.
double wander(double x, double y, double z, std::uint32_t seed, double swing) {
  struct Octave {
    double length_m, size_m;
  };
  static constexpr Octave octaves[] = {{0.260, 0.0062}, {0.095, 0.0042}, {0.040, 0.0026},
                                       {0.017, 0.0015}, {0.007, 0.0008}, {0.003, 0.00028}};
  double sum = 0;
  std::uint32_t k = seed;
  for (const Octave& o : octaves) {
    const double f = 1 / o.length_m;
    sum += o.size_m * static_cast<double>(noise(static_cast<float>(x * f), static_cast<float>(y * f),
                                                static_cast<float>(z * f), k += 17U));
  }
  return swing * sum;
}

// Width along a line: uneven, closing towards the ends that are tips.
double width_share(double along_m, double length, bool tip_at_start, bool tip_at_end, std::uint32_t seed) {
  const auto n = static_cast<double>(layered_noise(static_cast<float>(along_m / 0.05), 0.3F, 0.7F, seed, 3));
  double share = 0.85 + 0.3 * n;
  const double taper = std::min(0.06, 0.3 * length);
  if (tip_at_start) share *= std::sqrt(std::clamp(along_m / taper, 0.0, 1.0));
  if (tip_at_end) share *= std::sqrt(std::clamp((length - along_m) / taper, 0.0, 1.0));
  return std::clamp(share, 0.0, 1.2);
}

struct Flat {
  double z = 0, s = 0;  // metres on the unrolled wall
};

// A wandering line from a to b; the wander dies out at both ends so that it lands where it should.
CrackLine torn_line(Flat a, Flat b, double radius, double swing, std::uint32_t seed, bool tip_a, bool tip_b) {
  CrackLine line;
  const double dz = b.z - a.z, ds = b.s - a.s;
  const double straight = std::sqrt(dz * dz + ds * ds);
  const int steps = std::clamp(static_cast<int>(straight / 0.002), 4, 4000);
  for (int i = 0; i <= steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    const double along = t * straight;
    const double hold = std::min({1.0, along / 0.03, (straight - along) / 0.03});
    const double off = straight > 0 ? hold * wander(a.z + t * dz, a.s + t * ds, 0.37, seed, swing) : 0;
    const double nz = straight > 0 ? -ds / straight : 0, ns = straight > 0 ? dz / straight : 0;
    line.nodes.push_back({a.z + t * dz + nz * off, (a.s + t * ds + ns * off) / radius,
                          width_share(along, straight, tip_a, tip_b, seed + 5U)});
  }
  return line;
}

CrackLine along_line(const scene::Crack& crack, double radius, std::uint32_t seed) {
  const double angle = base::degrees_from_crown(crack.arc.from_h) * tau / 360;
  CrackLine line;
  const double length = crack.to_m - crack.from_m;
  const int steps = std::clamp(static_cast<int>(length / 0.002), 2, 20000);
  const double swing = std::clamp(radius / 0.075, 0.6, 1.6);
  for (int i = 0; i <= steps; ++i) {
    const double along = length * i / steps;
    line.nodes.push_back({crack.from_m + along, angle + wander(along, 0.11, 0.53, seed, swing) / radius,
                          width_share(along, length, true, true, seed + 5U)});
  }
  return line;
}

// Brittle ware breaks round a pipe in straight runs with corners between them, or the ring would pass
// for a joint: offsets in metres at uneven corners, straight in
// between.
struct Corners {
  std::vector<double> at, off;  // angles rising, offsets along the pipe
  double lean = 0, lean_from = 0;
  double operator()(double angle) const {
    const auto next = std::upper_bound(at.begin(), at.end(), angle);
    const auto i = static_cast<std::size_t>(
        std::clamp<std::ptrdiff_t>(next - at.begin(), 1, static_cast<std::ptrdiff_t>(at.size()) - 1));
    const double t = std::clamp((angle - at[i - 1]) / (at[i] - at[i - 1]), 0.0, 1.0);
    return off[i - 1] + t * (off[i] - off[i - 1]) + lean * std::cos(angle - lean_from);
  }
};
Corners corners_between(const Arc& arc, double radius, bool closed, std::uint32_t seed) {
  base::Random random(seed ^ 0x2c0ffeeU);
  const double span = arc.to - arc.from;
  const int runs = std::clamp(static_cast<int>(span * radius / 0.030), 3, 60);
  const double most = std::clamp(0.14 * radius, 0.004, 0.014);
  Corners corners;
  for (int i = 0; i <= runs; ++i) {
    const double jitter = i == 0 || i == runs ? 0 : random.uniform(-0.42, 0.42);
    corners.at.push_back(arc.from + span * (i + jitter) / runs);
    corners.off.push_back((i % 2 == 0 ? 1 : -1) * most * random.uniform(-0.25, 1.0));
  }
  if (closed) corners.off.back() = corners.off.front();
  // It seldom stands quite square on the pipe.
  corners.lean = std::clamp(0.12 * radius, 0.002, 0.016);
  corners.lean_from = random.uniform(0, tau);
  return corners;
}

CrackLine around_line(const scene::Crack& crack, double radius, std::uint32_t seed) {
  const Arc arc = radians_of(crack.arc);
  CrackLine line;
  const double length = (arc.to - arc.from) * radius;
  const bool closed = crack.arc.whole;
  const int steps = std::clamp(static_cast<int>(length / 0.0015), 2, 8000);
  const double z0 = (crack.from_m + crack.to_m) / 2;
  const Corners corners = corners_between(arc, radius, closed, seed);
  for (int i = 0; i <= steps; ++i) {
    const double angle = arc.from + (arc.to - arc.from) * i / steps;
    // Noise on the ring itself, so that a crack all the way round meets its own start.
    const double off =
        corners(angle) + wander(radius * std::sin(angle), radius * std::cos(angle), 0.9, seed, 0.5);
    double share = 0.5 + 0.5 * width_share(length * i / steps, length, !closed, !closed, seed + 5U);
    if (i == 0 || i == steps) share = 0;
    if (closed)
      share = 0.90 + 0.15 * static_cast<double>(noise(static_cast<float>(std::sin(angle) * 3),
                                                      static_cast<float>(std::cos(angle) * 3), 0.2F, seed));
    line.nodes.push_back({z0 + off, angle, share});
  }
  return line;
}

void fork_off(CrackShape& shape, const Flat& root, const Flat& end, double radius, double strength,
              double faint, std::uint32_t seed) {
  CrackLine line = torn_line(root, end, radius, 0.8, seed, false, true);
  for (CrackNode& node : line.nodes) node.width_m *= strength;
  line.faintness = faint;
  shape.lines.push_back(std::move(line));
}

// One main line the length of the stretch and forks that leave it at a slant and reach the sides of
// the arc, some joined by cross pieces: the map of a pipe that is about to fall apart.
CrackShape branching_shape(const scene::Crack& crack, double radius, base::Random& random) {
  const auto seed = static_cast<std::uint32_t>(random.next());
  const Arc arc = radians_of(crack.arc);
  const double s0 = arc.from * radius, s1 = std::max(arc.to * radius, s0 + 0.02);
  const double length = std::max(crack.to_m - crack.from_m, 0.02);
  const double z0 = (crack.from_m + crack.to_m - length) / 2;
  const double middle = (s0 + s1) / 2, half = (s1 - s0) / 2;
  CrackShape shape;
  const Flat a{z0, middle + half * random.uniform(-0.45, 0.0)},
      b{z0 + length, middle + half * random.uniform(0.0, 0.45)};
  shape.lines.push_back(torn_line(a, b, radius, 1.3, seed, true, true));
  const std::vector<CrackNode> main = shape.lines.front().nodes;
  const int forks = std::clamp(static_cast<int>(length / 0.07) + 2, 3, 14);
  Flat last_tip[2] = {a, a};
  for (int i = 0; i < forks; ++i) {
    const double at = (i + random.uniform(0.3, 0.7)) / forks;
    const CrackNode& n = main[static_cast<std::size_t>(at * 0.92 * static_cast<double>(main.size() - 1))];
    const Flat root{n.z_m, n.angle * radius};
    const int side = i % 2;
    // The first fork on each side goes all the way to its edge, the rest stop where they please.
    const double reach = i < 2 ? 1.0 : random.uniform(0.45, 0.95);
    const double edge = side == 0 ? s0 : s1;
    const double ds = reach * (edge - root.s);
    const double lean = std::min(std::abs(ds) * random.uniform(0.35, 1.0), z0 + length - root.z);
    const Flat tip{root.z + lean, root.s + ds};
    fork_off(shape, root, tip, radius, random.uniform(0.55, 0.85), 0.15,
             seed + 31U * static_cast<std::uint32_t>(i + 1));
    if (random.uniform() < 0.55) {
      const double t = random.uniform(0.4, 0.7);
      const Flat from{root.z + t * lean, root.s + t * ds};
      const double turn = random.uniform(0.25, 0.5) * std::abs(ds);
      const Flat to{std::min(from.z + turn, z0 + length),
                    std::clamp(from.s + random.uniform(-0.5, 0.2) * ds, s0, s1)};
      fork_off(shape, from, to, radius, 0.4, 0.35, seed + 977U * static_cast<std::uint32_t>(i + 1));
    }
    if (i >= 2 && random.uniform() < 0.4)
      fork_off(shape, last_tip[side], {tip.z, root.s + 0.8 * ds}, radius, 0.35, 0.45,
               seed + 1999U * static_cast<std::uint32_t>(i + 1));
    last_tip[side] = tip;
  }
  // What wanders does not leave the stretch.
  for (CrackLine& line : shape.lines)
    for (CrackNode& node : line.nodes) node.z_m = std::clamp(node.z_m, z0, z0 + length);
  return shape;
}

// Winds through its arc from one end of its stretch to the other, either hand: long straight runs with
// kinks, as twisting breaks a pipe.
CrackShape spiral_shape(const scene::Crack& crack, double radius, base::Random& random) {
  const auto seed = static_cast<std::uint32_t>(random.next());
  const Arc arc = radians_of(crack.arc);
  // A turn and a bit could not be told from a ring where its ends pass each other.
  const double turn = std::min(arc.to - arc.from, 0.96 * tau);
  const bool right_handed = crack.from_m < crack.to_m && random.uniform() < 0.5;
  const Flat a{right_handed ? crack.from_m : crack.to_m, arc.from * radius},
      b{right_handed ? crack.to_m : crack.from_m, (arc.from + turn) * radius};
  CrackShape shape;
  shape.lines.push_back(torn_line(a, b, radius, 1.0, seed, true, true));
  const std::vector<CrackNode> main = shape.lines.front().nodes;
  for (int i = 0; i < 3; ++i) {
    if (random.uniform() < 0.45) continue;
    const CrackNode& n = main[static_cast<std::size_t>((0.2 + 0.25 * i) * static_cast<double>(main.size()))];
    const Flat root{n.z_m, n.angle * radius};
    const double long_ = random.uniform(0.015, 0.045), slant = random.uniform(-0.5, 0.5);
    const Flat tip{std::clamp(root.z + long_, crack.from_m, crack.to_m), root.s + slant * long_};
    fork_off(shape, root, tip, radius, 0.45, 0.35, seed + 71U * static_cast<std::uint32_t>(i + 1));
  }
  return shape;
}

// Legs from the point where something has struck or pressed, as far as the arc's edges; rings of short
// pieces join some of them near the point.
CrackShape star_shape(const scene::Crack& crack, double radius, base::Random& random) {
  const auto seed = static_cast<std::uint32_t>(random.next());
  const Arc arc = radians_of(crack.arc);
  const double reach = std::max((arc.to - arc.from) * radius / 2, 0.015);
  const Flat point{(crack.from_m + crack.to_m) / 2, (arc.from + arc.to) / 2 * radius};
  const int legs = 5 + static_cast<int>(random.below(4));
  const double first = random.uniform(-0.15, 0.15);
  CrackShape shape;
  std::vector<Flat> near;
  for (int i = 0; i < legs; ++i) {
    const double turn = tau / 4 + first + tau * (i + (i == 0 ? 0 : random.uniform(-0.28, 0.28))) / legs;
    // One leg reaches the edge of the arc each way, the rest stop where they please.
    const bool to_edge = i == 0 || i == (legs + 1) / 2;
    const double far = (to_edge ? 1.0 : random.uniform(0.5, 0.95)) * reach;
    const double ds = to_edge ? std::copysign(reach, std::sin(turn)) : far * std::sin(turn);
    const Flat tip{point.z + far * std::cos(turn), point.s + ds};
    CrackLine line =
        torn_line(point, tip, radius, 0.8, seed + 37U * static_cast<std::uint32_t>(i), false, true);
    for (CrackNode& node : line.nodes) node.width_m *= to_edge ? 1.0 : 0.8;
    const Flat middle{line.nodes[line.nodes.size() / 2].z_m,
                      line.nodes[line.nodes.size() / 2].angle * radius};
    shape.lines.push_back(std::move(line));
    if (random.uniform() < 0.5) {
      const double aside = turn + random.uniform(0.5, 0.9) * (random.uniform() < 0.5 ? -1 : 1);
      const double long_ = random.uniform(0.25, 0.4) * far;
      fork_off(shape, middle,
               {middle.z + long_ * std::cos(aside),
                std::clamp(middle.s + long_ * std::sin(aside), point.s - reach, point.s + reach)},
               radius, 0.45, 0.35, seed + 977U * static_cast<std::uint32_t>(i + 1));
    }
    const double ring = random.uniform(0.10, 0.22) * reach;
    near.push_back({point.z + ring * std::cos(turn), point.s + ring * std::sin(turn)});
  }
  for (std::size_t i = 0; i < near.size(); ++i)
    if (random.uniform() < 0.6)
      fork_off(shape, near[i], near[(i + 1) % near.size()], radius, 0.5, 0.25,
               seed + 1999U * static_cast<std::uint32_t>(i + 1));
  return shape;
}

}  // namespace

CrackShape crack_shape(const scene::Crack& crack, double radius_m, std::uint64_t seed) {
  base::Random random(seed);
  CrackShape shape;
  if (crack.form == scene::CrackForm::branching) {
    shape = branching_shape(crack, radius_m, random);
  } else if (crack.form == scene::CrackForm::spiral) {
    shape = spiral_shape(crack, radius_m, random);
  } else if (crack.form == scene::CrackForm::star) {
    shape = star_shape(crack, radius_m, random);
  } else {
    const auto line_seed = static_cast<std::uint32_t>(random.next());
    shape.lines.push_back(crack.form == scene::CrackForm::along ? along_line(crack, radius_m, line_seed)
                                                                : around_line(crack, radius_m, line_seed));
  }
  // Widths so far are shares; the widest place of all gets the stated opening.
  double widest = 0;
  for (const CrackLine& line : shape.lines)
    for (const CrackNode& node : line.nodes) widest = std::max(widest, node.width_m);
  const double scale = widest > 0 ? crack.width_mm / 1000 / widest : 0;
  for (CrackLine& line : shape.lines)
    for (CrackNode& node : line.nodes) node.width_m *= scale;
  return shape;
}

double length_m(const CrackLine& line, double radius_m) {
  double sum = 0;
  for (std::size_t i = 1; i < line.nodes.size(); ++i) {
    const double dz = line.nodes[i].z_m - line.nodes[i - 1].z_m;
    const double ds = radius_m * (line.nodes[i].angle - line.nodes[i - 1].angle);
    sum += std::sqrt(dz * dz + ds * ds);
  }
  return sum;
}

std::vector<scene::Vec2> broken_polygon(base::Random& random, double length, double width, double unevenness,
                                        int breaks) {
  std::vector<scene::Vec2> big;
  for (int i = 0; i < breaks; ++i) {
    const double a = tau * (i + random.uniform(-0.33, 0.33)) / breaks;
    const double r = 1 - unevenness * random.uniform();
    big.push_back({r * std::cos(a), r * std::sin(a)});
  }
  std::vector<scene::Vec2> corners;
  for (std::size_t i = 0; i < big.size(); ++i) {
    const scene::Vec2 a = big[i], b = big[(i + 1) % big.size()];
    const scene::Vec2 d = b - a;
    const int pieces = 6;
    double rough = 0;
    for (int k = 0; k < pieces; ++k) {
      const double t = static_cast<double>(k) / pieces;
      const scene::Vec2 across{-d.y, d.x};
      corners.push_back(a + t * d + (k == 0 ? 0.0 : rough) * across);
      rough = 0.5 * rough + random.uniform(-0.06, 0.06);
    }
  }
  scene::Vec2 low = corners.front(), high = corners.front();
  for (const scene::Vec2& c : corners) {
    low = {std::min(low.x, c.x), std::min(low.y, c.y)};
    high = {std::max(high.x, c.x), std::max(high.y, c.y)};
  }
  const double kx = length / (high.x - low.x), ky = width / (high.y - low.y);
  for (scene::Vec2& c : corners) c = {(c.x - (low.x + high.x) / 2) * kx, (c.y - (low.y + high.y) / 2) * ky};
  return corners;
}

WallOutline hole_outline(const scene::Hole& hole, double /*radius_m*/, std::uint64_t seed) {
  base::Random random(seed);
  const int breaks = 7 + static_cast<int>(random.below(4));
  return {hole.at_m, base::degrees_from_crown(hole.clock_h) * tau / 360,
          broken_polygon(random, hole.length_mm / 1000, hole.width_mm / 1000, 0.30, breaks)};
}

double area_m2(const WallOutline& outline) {
  double twice = 0;
  const std::size_t n = outline.corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const scene::Vec2 a = outline.corners[i], b = outline.corners[(i + 1) % n];
    twice += a.x * b.y - b.x * a.y;
  }
  return std::abs(twice) / 2;
}

double edge_distance_m(const WallOutline& outline, scene::Vec2 p) {
  double nearest = 1e9;
  bool inside = false;
  const std::size_t n = outline.corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const scene::Vec2 a = outline.corners[i], b = outline.corners[(i + 1) % n];
    const scene::Vec2 d = b - a, e = p - a;
    const double t = std::clamp((d.x * e.x + d.y * e.y) / (d.x * d.x + d.y * d.y), 0.0, 1.0);
    nearest = std::min(nearest, length(e - t * d));
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * d.x / d.y) inside = !inside;
  }
  return inside ? -nearest : nearest;
}

}  // namespace haunch::matter
