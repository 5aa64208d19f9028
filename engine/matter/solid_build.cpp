// SPDX-License-Identifier: Apache-2.0
#include "matter/solid_build.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;

double bumps(const scene::Vec3& p, const Rough& rough) {
  if (rough.out_m == 0) return 0;
  return rough.out_m * static_cast<double>(layered_noise(
                           static_cast<float>(p.x / rough.size_m), static_cast<float>(p.y / rough.size_m),
                           static_cast<float>(p.z / rough.size_m), rough.seed, 3));
}

void put(SolidPart& part, const scene::Vec3& p) { part.points.push_back({p, p}); }

int steps_for(double length_m, double step_m, int least, int most) {
  return std::clamp(static_cast<int>(std::ceil(length_m / step_m)), least, most);
}

}  // namespace

Turn turned(double roll, double pitch, double yaw) {
  const double cr = std::cos(roll), sr = std::sin(roll), cp = std::cos(pitch), sp = std::sin(pitch),
               cy = std::cos(yaw), sy = std::sin(yaw);
  const auto apply = [&](scene::Vec3 p) {
    p = {cr * p.x + sr * p.y, cr * p.y - sr * p.x, p.z};
    p = {p.x, cp * p.y + sp * p.z, cp * p.z - sp * p.y};
    return scene::Vec3{cy * p.x + sy * p.z, p.y, cy * p.z - sy * p.x};
  };
  return {apply({1, 0, 0}), apply({0, 1, 0}), apply({0, 0, 1})};
}

Turn along_y(const scene::Vec3& up, const scene::Vec3& ahead) {
  const scene::Vec3 y = scene::normalised(up);
  const scene::Vec3 x = scene::normalised(scene::cross(y, ahead));
  return {x, y, scene::cross(x, y)};
}

void move(Solid& solid, const Turn& turn, const scene::Vec3& by) {
  for (SolidPart& part : solid.parts)
    for (SolidPoint& p : part.points) p.at = turn(p.at) + by;
}

void add(Solid& solid, Solid more) {
  for (SolidPart& part : more.parts) solid.parts.push_back(std::move(part));
}

Solid block(const scene::Vec3& half, double edge_m, const Rough& faces, const Rough& ends, Stuff stuff,
            std::uint32_t tint, double step_m) {
  Solid solid;
  const double h[3] = {half.x, half.y, half.z};
  const auto coord = [](scene::Vec3& p, int axis) -> double& {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
  };
  for (int axis = 0; axis < 3; ++axis)
    for (const double side : {-1.0, 1.0}) {
      const int u = (axis + 1) % 3, v = (axis + 2) % 3;
      SolidPart part{
          stuff, tint, steps_for(2 * h[u], step_m, 6, 48) + 1, steps_for(2 * h[v], step_m, 6, 48) + 1,
          false, {}};
      for (int r = 0; r < part.rows; ++r)
        for (int c = 0; c < part.columns; ++c) {
          scene::Vec3 p;
          coord(p, axis) = side * h[axis];
          coord(p, u) = h[u] * (2.0 * r / (part.rows - 1) - 1);
          coord(p, v) = h[v] * (2.0 * c / (part.columns - 1) - 1);
          const scene::Vec3 own = p;
          // Edges are worn: whatever lies within edge_m of one is drawn in onto a rounding.
          scene::Vec3 q = p, away;
          for (int k = 0; k < 3; ++k) {
            const double wear =
                std::min(edge_m * (0.6 + 0.4 * std::abs(bumps(own, {1, 0.011, faces.seed + 9U}))) *
                             (1 + 1.5 * std::max(0.0, bumps(own, {1, 0.018, faces.seed + 5U}))),
                         0.45 * h[k]);
            const double inner = h[k] - wear;
            const double over = coord(p, k) - std::clamp(coord(p, k), -inner, inner);
            coord(away, k) = over / std::max(1e-9, wear);
            coord(q, k) = std::clamp(coord(p, k), -inner, inner);
          }
          const double far = scene::length(away);
          if (far > 1e-9) {
            for (int k = 0; k < 3; ++k) {
              const double wear = h[k] - std::abs(coord(q, k));
              if (std::abs(coord(away, k)) > 0) coord(q, k) += coord(away, k) / far * std::min(wear, edge_m);
            }
          }
          // Rough faces, and ends that broke.
          const double out = bumps(own, faces);
          if (far > 1e-9) q = q + (out / far) * away;
          if (h[2] > 0 && std::abs(own.z) > 0.5 * h[2])
            q.z += (own.z > 0 ? 1 : -1) * (std::abs(own.z) / h[2] - 0.5) * 2 *
                   bumps({own.x, own.y, own.z > 0 ? 1.0 : -1.0}, ends);
          part.points.push_back({q, own});
        }
      solid.parts.push_back(std::move(part));
    }
  return solid;
}

Solid turned_body(const std::vector<scene::Vec2>& profile, int around, const Rough& rough, Stuff stuff,
                  std::uint32_t tint) {
  SolidPart part{stuff, tint, static_cast<int>(profile.size()), around, true, {}};
  for (const scene::Vec2& p : profile)
    for (int c = 0; c < around; ++c) {
      const double a = tau * c / around;
      const scene::Vec3 d{std::sin(a), std::cos(a), 0};
      const scene::Vec3 on{p.y * d.x, p.y * d.y, p.x};
      put(part, on + bumps(on, rough) * d);
    }
  return {{std::move(part)}, {}};
}

Solid rod(const std::vector<scene::Vec3>& line, const std::function<double(double)>& radius, int around,
          const Rough& rough, Stuff stuff, std::uint32_t tint) {
  SolidPart part{stuff, tint, 0, around, true, {}};
  const std::size_t n = line.size();
  scene::Vec3 side{0, 1, 0};
  double gone = 0;
  const auto ring = [&](std::size_t i, double r, double on) {
    const scene::Vec3 t = scene::normalised(line[std::min(i + 1, n - 1)] - line[i > 0 ? i - 1 : 0]);
    scene::Vec3 s = side - scene::dot(side, t) * t;
    if (scene::length(s) < 1e-3) s = scene::cross(t, {1, 0.3, 0});
    side = scene::normalised(s);
    const scene::Vec3 other = scene::cross(t, side);
    for (int c = 0; c < around; ++c) {
      const double a = tau * c / around;
      const scene::Vec3 d = std::cos(a) * side + std::sin(a) * other;
      const scene::Vec3 own{r * std::cos(a), r * std::sin(a), on};
      part.points.push_back({line[i] + (r + bumps(own, rough) * std::min(1.0, r / 0.002)) * d, own});
    }
    ++part.rows;
  };
  for (std::size_t i = 0; i < n; ++i) {
    if (i > 0) gone += scene::length(line[i] - line[i - 1]);
    const double r = radius(static_cast<double>(i) / static_cast<double>(n - 1));
    if (i == 0)
      for (const double k : {0.02, 0.5, 0.96}) ring(0, k * r, gone);
    ring(i, r, gone);
    if (i + 1 == n)
      for (const double k : {0.96, 0.5, 0.02}) ring(i, k * r, gone);
  }
  return {{std::move(part)}, {}};
}

std::vector<scene::Vec3> smooth_line(const std::vector<scene::Vec3>& through, int count) {
  std::vector<scene::Vec3> line;
  const auto last = static_cast<int>(through.size()) - 1;
  const auto at = [&](int i) { return through[static_cast<std::size_t>(std::clamp(i, 0, last))]; };
  for (int k = 0; k < count; ++k) {
    const double place = static_cast<double>(k) / (count - 1) * last;
    const int i = std::min(static_cast<int>(place), last - 1);
    const double t = place - i;
    const scene::Vec3 a = at(i - 1), b = at(i), c = at(i + 1), d = at(i + 2);
    line.push_back(0.5 * (2.0 * b + t * (c - a) + t * t * (2.0 * a - 5.0 * b + 4.0 * c - d) +
                          t * t * t * (3.0 * b - a - 3.0 * c + d)));
  }
  return line;
}

Heap::Heap(double radius_m) : radius_(radius_m), top_(static_cast<std::size_t>(side_) * side_, -1e9) {}

double& Heap::top(double x, double z) {
  const auto index = [](double v) {
    return std::clamp(static_cast<int>(v / cell_ + side_ / 2.0), 0, side_ - 1);
  };
  return top_[static_cast<std::size_t>(index(x)) * side_ + static_cast<std::size_t>(index(z))];
}

scene::Vec2 Heap::way_down(const Solid& solid, const scene::Vec3& by) {
  const double inside = 0.97 * radius_;
  // Wider than the bore leaves room for: towards the middle first.
  double low = 1e9, high = -1e9, lift = -1e9;
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points)
      low = std::min(low, p.at.x + by.x), high = std::max(high, p.at.x + by.x);
  const double aside = high > inside ? inside - high : low < -inside ? -inside - low : 0;
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points) {
      const double x = std::clamp(p.at.x + by.x + aside, -inside, inside);
      const double wall = -std::sqrt(radius_ * radius_ - x * x);
      lift = std::max(lift, std::max(wall, top(x, p.at.z + by.z)) - p.at.y);
    }
  return {aside + by.x, lift};
}

void Heap::let_down(Solid& solid, double sunk_m) { let_roll(solid, {{0, 0, 0}}, sunk_m); }

void Heap::let_roll(Solid& solid, const std::vector<scene::Vec3>& places, double sunk_m) {
  scene::Vec3 best{0, 1e9, 0};
  for (const scene::Vec3& place : places) {
    const scene::Vec2 way = way_down(solid, place);
    if (way.y < best.y) best = {way.x, way.y, place.z};
  }
  best.y -= sunk_m;
  move(solid, {}, best);
  take(solid);
}

void Heap::take(const Solid& solid) {
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points) {
      double& there = top(p.at.x, p.at.z);
      there = std::max(there, p.at.y);
    }
}

base::ClockArc arc_on_wall(const Solid& solid, double radius_m, double near_m) {
  std::vector<double> hours;
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points)
      if (std::hypot(p.at.x, p.at.y) > radius_m - near_m) hours.push_back(scene::clock_of({p.at.x, p.at.y}));
  if (hours.empty()) return {6, 6, false};
  std::sort(hours.begin(), hours.end());
  // The widest stretch of wall without any is what it leaves free.
  double widest = hours.front() + 12 - hours.back(), from = hours.front(), to = hours.back();
  for (std::size_t i = 1; i < hours.size(); ++i)
    if (hours[i] - hours[i - 1] > widest)
      widest = hours[i] - hours[i - 1], from = hours[i], to = hours[i - 1];
  return {base::wrap_hours(from), base::wrap_hours(to), false};
}

scene::Vec3 on_wall(double radius_m, double clock_h, double out_m, double z) {
  const scene::Vec2 d = scene::toward_clock(clock_h);
  return {(radius_m + out_m) * d.x, (radius_m + out_m) * d.y, z};
}

Solid collar(double radius_m, const scene::Vec3& place, double inner_m, double outer_m, Stuff stuff,
             std::uint32_t seed) {
  constexpr int around = 72, rows = 9;
  SolidPart part{stuff, 0, rows, around, true, {}};
  const double angle = std::atan2(place.x, place.y);
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < around; ++c) {
      const double a = tau * c / around, t = r / (rows - 1.0);
      const scene::Vec3 round{std::cos(a), std::sin(a), 0};
      const double ragged = 1 + bumps(round, {0.38, 0.55, seed});
      const double away = inner_m + (std::max(inner_m * 1.02, outer_m * ragged) - inner_m) * t;
      const double s = angle + away * round.y / radius_m, z = place.z + away * round.x;
      const scene::Vec3 flat{away * round.x, away * round.y, 0};
      // Flakes stand off a little towards the seam, and lie down on the wall outside.
      const double up =
          r == rows - 1 ? -0.0004 : 0.0006 + (1 - t) * (0.0012 + bumps(flat, {0.0022, 0.006, seed + 3U}));
      const double k = radius_m - std::max(up, r == rows - 1 ? -0.0004 : 0.0002);
      part.points.push_back({{k * std::sin(s), k * std::cos(s), z}, flat});
    }
  return {{std::move(part)}, {}};
}

std::vector<bool> hidden_cells(const Solid& solid, double half_m, int side) {
  const auto place = [side](int i, int j) {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(side) + static_cast<std::size_t>(i);
  };
  std::vector<bool> hidden(place(0, side), false);
  const double cell = 2 * half_m / side;
  const auto edge = [](const scene::Vec3& a, const scene::Vec3& b, double x, double y) {
    return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
  };
  const auto fill = [&](const scene::Vec3& a, const scene::Vec3& b, const scene::Vec3& c) {
    const auto first = [&](double v) {
      return std::clamp(static_cast<int>((v + half_m) / cell - 0.5), 0, side);
    };
    const int x0 = first(std::min({a.x, b.x, c.x})), y0 = first(std::min({a.y, b.y, c.y}));
    const int x1 = std::min(side - 1, first(std::max({a.x, b.x, c.x})) + 1),
              y1 = std::min(side - 1, first(std::max({a.y, b.y, c.y})) + 1);
    for (int j = y0; j <= y1; ++j)
      for (int i = x0; i <= x1; ++i) {
        const double x = (i + 0.5) * cell - half_m, y = (j + 0.5) * cell - half_m;
        const double e = edge(a, b, x, y), f = edge(b, c, x, y), g = edge(c, a, x, y);
        if ((e >= 0 && f >= 0 && g >= 0) || (e <= 0 && f <= 0 && g <= 0)) hidden[place(i, j)] = true;
      }
  };
  for (const SolidPart& part : solid.parts)
    for (int r = 0; r + 1 < part.rows; ++r)
      for (int c = 0; c + 1 < part.columns + (part.closed ? 1 : 0); ++c) {
        const auto at = [&](int row, int column) -> const scene::Vec3& {
          return part
              .points[static_cast<std::size_t>(row) * static_cast<std::size_t>(part.columns) +
                      static_cast<std::size_t>(column % part.columns)]
              .at;
        };
        fill(at(r, c), at(r, c + 1), at(r + 1, c));
        fill(at(r + 1, c + 1), at(r, c + 1), at(r + 1, c));
      }
  return hidden;
}

double share_hidden(const Solid& solid, double radius_m) {
  constexpr int side = 220;
  const std::vector<bool> hidden = hidden_cells(solid, radius_m, side);
  const double cell = 2 * radius_m / side;
  long taken = 0, whole = 0;
  for (int j = 0; j < side; ++j)
    for (int i = 0; i < side; ++i) {
      const double x = (i + 0.5) * cell - radius_m, y = (j + 0.5) * cell - radius_m;
      if (x * x + y * y > radius_m * radius_m) continue;
      ++whole;
      if (hidden[static_cast<std::size_t>(j) * side + static_cast<std::size_t>(i)]) ++taken;
    }
  return static_cast<double>(taken) / static_cast<double>(whole);
}

Solid of_share(const std::function<Solid(double)>& made, double low, double high, double share,
               double radius_m) {
  for (int i = 0; i < 14; ++i) {
    const double middle = (low + high) / 2;
    (share_hidden(made(middle), radius_m) < share ? low : high) = middle;
  }
  return made((low + high) / 2);
}

Solid into_scene(const scene::Scene& scene, double z, Solid solid) {
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, z))];
  for (SolidPart& part : solid.parts)
    for (SolidPoint& p : part.points) {
      const scene::Vec2 centre = scene::centre_at(piece, z + p.at.z);
      p.at = {centre.x + p.at.x, centre.y + p.at.y, z + p.at.z};
    }
  return solid;
}

}  // namespace haunch::matter
