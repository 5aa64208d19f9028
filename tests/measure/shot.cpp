// SPDX-License-Identifier: Apache-2.0
#include "measure/shot.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace haunch::measure {

using scene::Vec2;
using scene::Vec3;

Mask Shot::numbered() const {
  Mask mask(with.fault.size());
  std::transform(with.fault.begin(), with.fault.end(), mask.begin(),
                 [](std::uint16_t id) { return id == 1; });
  return mask;
}

Mask Shot::off_wall() const {
  Mask mask(with.fault.size());
  for (int y = 0; y < height(); ++y)
    for (int x = 0; x < width(); ++x) {
      if (with.fault[index(x, y)] != 1) continue;
      const auto wall = meet_wall(scene, ray(x, y));
      mask[index(x, y)] =
          wall && std::abs(static_cast<double>(with.depth_m[index(x, y)]) - wall->distance_m) > 1e-4;
    }
  return mask;
}

Mask Shot::changed(int by) const {
  Mask mask(with.fault.size());
  for (std::size_t i = 0; i < mask.size(); ++i)
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      if (std::abs(with.rgb[k] - without.rgb[k]) > by) mask[i] = 1;
  return mask;
}

Shot take(const scene::Scene& scene, render::Renderer& faulty, render::Renderer& sound,
          const scene::CameraPose& pose, int width, int height, double parallel_height_m) {
  render::View view;
  view.pose = pose;
  view.width = width;
  view.height = height;
  view.noise = view.lens_effects = false;
  if (parallel_height_m > 0) {
    view.lens = render::Lens::parallel;
    view.parallel_height_m = parallel_height_m;
  }
  Shot shot{scene, Camera(pose, width, height, parallel_height_m), view, {}, {}};
  faulty.draw(view, shot.with);
  view.exposure = faulty.wanted_exposure();
  sound.draw(view, shot.without);
  return shot;
}

double Measured::tolerance() const {
  return std::max(pixel, 0.02 * std::abs(whole > 0 ? whole : stated)) + slack;
}

namespace {

double coordinate(const Shot& shot, const Ray& ray, Along along, double middle_angle, bool& met) {
  const auto wall = meet_wall(shot.scene, ray);
  met = wall.has_value();
  if (!met) return 0;
  if (along == Along::pipe) return wall->z_m;
  return std::remainder(wall->angle - middle_angle, tau) * scene::radius_at(shot.scene, wall->z_m);
}

/// How far the coordinate changes from one pixel to the next there.
double footprint(const Shot& shot, int x, int y, Along along, double middle_angle) {
  double most = 0;
  for (const Pixel step : {Pixel{0.5, 0}, Pixel{0, 0.5}}) {
    bool a = false, b = false;
    const double before =
        coordinate(shot, shot.camera.through(x + 0.5 - step.x, y + 0.5 - step.y), along, middle_angle, a);
    const double after =
        coordinate(shot, shot.camera.through(x + 0.5 + step.x, y + 0.5 + step.y), along, middle_angle, b);
    if (a && b) most = std::max(most, std::abs(after - before));
  }
  return most;
}

}  // namespace

std::vector<Measured> ends(const Shot& shot, const Mask& mask, Along along, double middle_angle, double low,
                           double high, const std::string& what, double slack) {
  struct End {
    double at = 0;
    int x = -1, y = -1;
  } first, last;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (!mask[shot.index(x, y)]) continue;
      bool met = false;
      const double at = coordinate(shot, shot.ray(x, y), along, middle_angle, met);
      if (!met) continue;
      if (first.x < 0 || at < first.at) first = {at, x, y};
      if (last.x < 0 || at > last.at) last = {at, x, y};
    }
  if (first.x < 0) return {{what + ": nothing of it shows", high - low, 0, 0, 0, 0}};
  // The middle of an outermost pixel lies up to a pixel within the edge: half a pixel on the mean.
  const double before = footprint(shot, first.x, first.y, along, middle_angle),
               after = footprint(shot, last.x, last.y, along, middle_angle);
  return {{what + ", first end", low, first.at - before / 2, before, slack, high - low},
          {what + ", last end", high, last.at + after / 2, after, slack, high - low}};
}

double percent_of_bore(const Shot& shot, const Mask& mask) {
  long shown = 0, all = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      const Vec3 p = shot.ray(x, y).from;
      const Vec2 c = scene::centre_at(shot.scene, p.z);
      if (!scene::inside(scene::bore_at(shot.scene, p.z), {p.x - c.x, p.y - c.y})) continue;
      ++all;
      shown += mask[shot.index(x, y)] ? 1 : 0;
    }
  return 100.0 * static_cast<double>(shown) / static_cast<double>(std::max(1L, all));
}

Circle circle_through(const Shot& shot, double from_z, double to_z, int fault) {
  // Least squares in x^2 + y^2 = a x + b y + c; places are taken from the straight line's middle, so that
  // the sums stay small.
  const Vec2 near = scene::centre_at(shot.scene, (from_z + to_z) / 2);
  double s[3][4] = {};
  Circle circle;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      const std::size_t i = shot.index(x, y);
      if (fault >= 0 && shot.with.fault[i] != fault) continue;
      const Vec3 p = shot.point(x, y);
      if (!(p.z > from_z && p.z < to_z)) continue;
      const double px = p.x - near.x, py = p.y - near.y, row[4] = {px, py, 1, px * px + py * py};
      for (int r = 0; r < 3; ++r)
        for (int c = 0; c < 4; ++c) s[r][c] += row[r] * row[c];
      ++circle.points;
    }
  if (circle.points < 50) return circle;
  for (int r = 0; r < 3; ++r)
    for (int q = 0; q < 3; ++q)
      if (q != r) {
        const double k = s[q][r] / s[r][r];
        for (int c = r; c < 4; ++c) s[q][c] -= k * s[r][c];
      }
  const double a = s[0][3] / s[0][0], b = s[1][3] / s[1][1], c = s[2][3] / s[2][2];
  circle.x = near.x + a / 2, circle.y = near.y + b / 2;
  circle.radius = std::sqrt(c + a * a / 4 + b * b / 4);
  return circle;
}

}  // namespace haunch::measure
