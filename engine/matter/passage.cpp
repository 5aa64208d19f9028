// SPDX-License-Identifier: Apache-2.0
#include "matter/passage.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/solid_build.hpp"

namespace haunch::matter {

double widest_opening_m(const scene::Scene& scene, double z_m, const Solid& solid) {
  constexpr int side = 80;
  const scene::Bore bore = scene::bore_at(scene, z_m);
  const double half = std::max(bore.half_width_m, bore.half_height_m), cell = 2 * half / side;
  Solid flat = solid;
  for (SolidPart& part : flat.parts)
    for (SolidPoint& p : part.points) {
      const scene::Vec2 centre = scene::centre_at(scene, p.at.z);
      p.at = {p.at.x - centre.x, p.at.y - centre.y, 0};
    }
  const std::vector<bool> hidden = hidden_cells(flat, half, side);
  const auto middle = [&](int i) { return (i + 0.5) * cell - half; };
  const auto open = [&](int i, int j) {
    return i >= 0 && j >= 0 && i < side && j < side &&
           !hidden[static_cast<std::size_t>(j) * side + static_cast<std::size_t>(i)] &&
           scene::inside(bore, {middle(i), middle(j)});
  };
  std::vector<scene::Vec2> free, rim;  // the rim: what is not open and stands beside what is
  for (int j = -1; j <= side; ++j)
    for (int i = -1; i <= side; ++i) {
      const scene::Vec2 at{middle(i), middle(j)};
      if (open(i, j))
        free.push_back(at);
      else if (open(i - 1, j) || open(i + 1, j) || open(i, j - 1) || open(i, j + 1))
        rim.push_back(at);
    }
  double widest = 0;
  for (const scene::Vec2& at : free) {
    double nearest = 2 * half;
    for (const scene::Vec2& wall : rim) {
      nearest = std::min(nearest, std::hypot(at.x - wall.x, at.y - wall.y));
      if (nearest <= widest) break;
    }
    widest = std::max(widest, nearest);
  }
  // Between the middles of two cells; the rim itself begins half a cell nearer.
  return std::max(0.0, 2 * widest - cell);
}

Solid standing_in(const scene::Scene& scene, const scene::Connection& connection) {
  if (connection.intrudes_percent <= 0) return {};
  const double hour = connection.clock_h * std::numbers::pi / 6;
  const scene::Vec2 out{std::sin(hour), std::cos(hour)}, across{out.y, -out.x};
  const scene::Vec2 centre = scene::centre_at(scene, connection.at_m);
  const double radius = scene::radius_at(scene, connection.at_m);
  const double tip = radius * (1 - 2 * connection.intrudes_percent / 100), half = connection.bore_mm / 2000;
  SolidPart sheet;
  sheet.rows = sheet.columns = 2;
  for (const double along : {radius, tip})
    for (const double aside : {-half, half}) {
      const scene::Vec2 at = centre + along * out + aside * across;
      sheet.points.push_back({{at.x, at.y, connection.at_m}, {}});
    }
  return {{sheet}, {}};
}

}  // namespace haunch::matter
