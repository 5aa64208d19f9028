// SPDX-License-Identifier: Apache-2.0
#include "matter/coat_build.hpp"

#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

/// From a place within a bore to its wall in a direction.
double to_wall(const scene::Bore& bore, const scene::Vec2& from_middle, const scene::Vec2& toward) {
  if (!bore.round()) return scene::radius_toward(bore, toward);
  const auto times = [](const scene::Vec2& a, const scene::Vec2& b) { return a.x * b.x + a.y * b.y; };
  const double along = times(from_middle, toward), r = bore.half_height_m;
  return -along + std::sqrt(std::max(0.0, along * along - times(from_middle, from_middle) + r * r));
}

}  // namespace

CoatSheet empty_sheet(int rows, int columns) {
  CoatSheet sheet;
  sheet.rows = rows, sheet.columns = columns;
  const auto many = static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns);
  sheet.points.resize(many);
  sheet.skin.assign(many, Skin::resin);
  sheet.share.assign(many, 0.0F);
  sheet.fault.assign(many, 0);
  return sheet;
}

void shade_hollows(CoatSheet& sheet, const std::vector<float>& high_m, int reach, float relief_m) {
  const int rows = sheet.rows, columns = sheet.columns;
  std::vector<float> across(high_m.size());
  sheet.light.resize(high_m.size());
  const float share = 1.0F / static_cast<float>(2 * reach + 1);
  for (int r = 0; r < rows; ++r) {
    const auto at = [&](int c) {
      const int turn = columns - 1;  // a ring's last column is its first
      return high_m[sheet.index(r, sheet.ring ? (c + 4 * turn) % turn : std::clamp(c, 0, columns - 1))];
    };
    float sum = 0;
    for (int c = -reach; c <= reach; ++c) sum += at(c);
    for (int c = 0; c < columns; ++c) {
      across[sheet.index(r, c)] = sum * share;
      sum += at(c + reach + 1) - at(c - reach);
    }
  }
  for (int c = 0; c < columns; ++c) {
    const auto at = [&](int r) { return across[sheet.index(std::clamp(r, 0, rows - 1), c)]; };
    float sum = 0;
    for (int r = -reach; r <= reach; ++r) sum += at(r);
    for (int r = 0; r < rows; ++r) {
      const std::size_t i = sheet.index(r, c);
      sheet.light[i] = std::clamp(1 + (high_m[i] - sum * share) / relief_m, 0.30F, 1.12F);
      sum += at(r + reach + 1) - at(r - reach);
    }
  }
}

CoatedWall::CoatedWall(const scene::Scene& scene, double from_m, double to_m, double bridges_m)
    : scene_(scene), bridges_m_(bridges_m) {
  for (const scene::Joint& joint : scene.joints)
    if (scene::length(joint.step) > 1e-9 && joint.at_m > from_m - bridges_m && joint.at_m < to_m + bridges_m)
      steps_.push_back(joint.at_m);
}

double CoatedWall::radius_at(double z, const scene::Vec2& axis, const scene::Vec2& toward) const {
  const auto wall = [&](double there) {
    const double clamped = std::clamp(there, 0.0, scene_.length_m());
    return to_wall(scene::bore_at(scene_, clamped), axis - scene::centre_at(scene_, clamped), toward);
  };
  const bool near =
      std::any_of(steps_.begin(), steps_.end(), [&](double at) { return std::abs(at - z) < 2 * bridges_m_; });
  if (!near) return wall(z);
  // The mean of the narrowest within reach: each of those reaches holds z, so it never lies behind the wall.
  constexpr int parts = 8;
  double narrow[2 * parts + 1], sum = 0;
  for (int k = -parts; k <= parts; ++k) narrow[k + parts] = wall(z + 2 * bridges_m_ * k / parts);
  for (int k = -parts / 2; k <= parts / 2; ++k) {
    double least = 1e9;
    for (int j = k - parts / 2; j <= k + parts / 2; ++j) least = std::min(least, narrow[j + parts]);
    sum += least;
  }
  return sum / (parts + 1);
}

scene::Vec3 CoatedWall::at(double z, double angle, double into) const {
  const scene::Vec2 toward{std::sin(angle), std::cos(angle)};
  const scene::Vec2 axis = scene::centre_at(scene_, z);
  const double r = radius_at(z, axis, toward) - into;
  return {axis.x + r * toward.x, axis.y + r * toward.y, z};
}

void add_crack(Coat& coat, const CoatedWall& wall, const FaceAt& face, const CrackShape& shape,
               std::uint16_t fault, Skin lip_skin) {
  constexpr int columns = 6;
  for (const CrackLine& line : shape.lines) {
    const int rows = static_cast<int>(line.nodes.size());
    if (rows < 2) continue;
    CoatSheet sheet = empty_sheet(rows, columns);
    for (int r = 0; r < rows; ++r) {
      const CrackNode& here = line.nodes[static_cast<std::size_t>(r)];
      const CrackNode &before = line.nodes[static_cast<std::size_t>(std::max(r - 1, 0))],
                      &after = line.nodes[static_cast<std::size_t>(std::min(r + 1, rows - 1))];
      const double dz = after.z_m - before.z_m, ds = (after.angle - before.angle) * coat.radius_m;
      const double size = std::max(1e-9, std::hypot(dz, ds));
      const double half = std::max(here.width_m / 2, 0.00015);
      const double lip =
          half +
          0.0016 * (1 + 0.6 * static_cast<double>(noise(
                                  static_cast<float>(here.z_m / 0.008),
                                  static_cast<float>(here.angle * coat.radius_m / 0.008), 0.4F, coat.seed)));
      // Across the line: lip, gap, lip.
      const double off[columns] = {-lip, -half, -half, half, half, lip};
      for (int c = 0; c < columns; ++c) {
        const double z = here.z_m - off[c] * ds / size,
                     angle = here.angle + off[c] * dz / size / coat.radius_m;
        const std::size_t i = sheet.index(r, c);
        const bool gap = c == 2 || c == 3, outer = c == 0 || c == columns - 1;
        sheet.points[i] = wall.at(z, angle, face(z, angle) + (outer ? 0.0001 : 0.0004));
        sheet.skin[i] = gap ? Skin::dark : lip_skin;
        // Lips of what broke or tore are only a little paler than it; others are as it is.
        const bool paler = lip_skin == Skin::split || lip_skin == Skin::torn;
        sheet.share[i] = gap || !paler ? 1.0F : outer ? 0.05F : 0.45F;
        sheet.fault[i] = fault;
      }
    }
    coat.sheets.push_back(std::move(sheet));
  }
}

void add_hole(Coat& coat, const CoatedWall& wall, const FaceAt& face, const WallOutline& outline,
              std::uint16_t fault, double foot_m, Skin rim) {
  // Evenly along its edge.
  const std::vector<scene::Vec2>& corners = outline.corners;
  std::vector<scene::Vec2> edge;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const scene::Vec2 a = corners[i], b = corners[(i + 1) % corners.size()];
    const int parts = std::max(1, static_cast<int>(scene::length(b - a) / 0.0012));
    for (int k = 0; k < parts; ++k) edge.push_back(a + static_cast<double>(k) / parts * (b - a));
  }
  edge.push_back(edge.front());
  // From the face about it to its edge, and down to the wall.
  constexpr int rows = 6;
  CoatSheet sheet = empty_sheet(rows, static_cast<int>(edge.size()));
  sheet.ring = true;
  for (int c = 0; c < sheet.columns; ++c) {
    const scene::Vec2 p = edge[static_cast<std::size_t>(c)];
    const double size = std::max(1e-6, scene::length(p));
    for (int r = 0; r < rows; ++r) {
      const double beyond = r == 0 ? 0.0045 : r == 1 ? 0.0008 : 0;
      const scene::Vec2 q = (1 + beyond / size) * p;
      const double z = outline.z_m + q.x, angle = outline.angle + q.y / coat.radius_m;
      const double top = face(z, angle);
      const double down = r <= 2 ? 0 : (r - 2) / 3.0;
      const std::size_t i = sheet.index(r, c);
      sheet.points[i] =
          wall.at(z, angle, r == 0 ? top - 0.0002 : (top + 0.0002) * (1 - down) + foot_m * down);
      sheet.skin[i] = r <= 3 ? rim : Skin::dark;
      sheet.share[i] = rim != Skin::split ? 1.0F : r == 0 ? 0.0F : r == 1 ? 0.5F : 0.8F;
      sheet.fault[i] = fault;
    }
  }
  coat.sheets.push_back(std::move(sheet));
}

}  // namespace haunch::matter
