// SPDX-License-Identifier: Apache-2.0
// Daylight at an outfall: what lies outside, far too bright for a camera set for the dark, and how it shines
// in on the last of the pipe. All of it by eye.
#include "render/ends.hpp"

#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"
#include "render/wall.hpp"

namespace haunch::render {
namespace {

constexpr double near_m = 8;           // farther off the lamp shows nothing of a chamber
constexpr float outside_m = 60;        // how far off the view outside counts as
constexpr float daylight = 26.0F;      // against white paper a metre from the lamp: it burns out
constexpr float falls_in = 0.9F;       // of it on the wall at the very end
constexpr double untouched_radii = 3;  // so far from the line nothing is drawn to the bore's shape
constexpr float shines_in_bores = 5;   // how far daylight is seen on the wall

/// Sky, a bank with growth on it, and the ditch it falls to.
Rgb view_outside(const EndFrame& end, float across, float up) {
  const auto n = [&](float size, std::uint32_t k) {
    return matter::layered_noise(across / size, up / size, 0.5F, end.seed + k, 3);
  };
  const float bank = 0.05F + 0.05F * matter::layered_noise(across / 0.25F, 0.2F, 0, end.seed + 3U, 3);
  if (up > bank + 0.02F * n(0.02F, 5U)) {
    const float cloud = 0.85F + 0.25F * n(0.3F, 7U);
    return cloud * Rgb{0.92F, 0.97F, 1.05F};
  }
  if (up > -0.10F + 0.02F * n(0.1F, 9U)) {
    // Grass and brambles: dark hollows, stalks on end, each clump of another green.
    const float stalks = matter::layered_noise(across / 0.004F, up / 0.03F, 0.3F, end.seed + 15U, 2);
    const float leaf = 0.45F + 0.8F * n(0.03F, 11U) + 0.35F * n(0.008F, 17U) + 0.4F * stalks;
    const Rgb light = blend(Rgb{0.30F, 0.36F, 0.13F}, Rgb{0.40F, 0.36F, 0.20F},
                            std::clamp(0.5F + n(0.09F, 19U), 0.0F, 1.0F));
    return blend(Rgb{0.03F, 0.045F, 0.02F}, light, std::clamp(leaf, 0.0F, 1.0F));
  }
  const float ripple = matter::layered_noise(across / 0.08F, up / 0.012F, 0.3F, end.seed + 13U, 3);
  return (0.42F + 0.25F * ripple) * Rgb{0.80F, 0.88F, 0.92F};
}

std::vector<std::vector<Mesh>> meshes_of_ends(const scene::Scene& scene) {
  std::vector<std::vector<Mesh>> all;
  for (const bool upstream : {true, false}) {
    std::vector<Mesh> meshes = end_meshes(end_frame(scene, upstream),
                                          (upstream ? scene.scenario.start : scene.scenario.finish).kind);
    if (!meshes.empty()) all.push_back(std::move(meshes));
  }
  return all;
}

}  // namespace

double EndFrame::share_of_round(double turn) const {
  // A little wider than the bore, so that facets which cut a corner do so out of sight.
  const double over = bore.round() ? 1 : 1.03;
  return over * scene::radius_toward(bore, {std::sin(turn), std::cos(turn)}) / radius_m;
}
double EndFrame::drawn_to_shape(double x, double y) const {
  const double away = std::hypot(x, y) / radius_m;
  if (bore.round() || away < 1e-9 || away >= untouched_radii) return 1;
  const double share = share_of_round(std::atan2(x, y));
  const double t = std::clamp((untouched_radii - away) / (untouched_radii - 1), 0.0, 1.0);
  return 1 + (share - 1) * t * t * (3 - 2 * t);
}

EndFrame end_frame(const scene::Scene& scene, bool upstream) {
  EndFrame end;
  const scene::Piece& piece = upstream ? scene.pieces.front() : scene.pieces.back();
  end.way = upstream ? -1 : 1;
  end.z_m = upstream ? 0 : scene.length_m();
  end.middle = scene::centre_at(piece, end.z_m);
  end.lean = (end.way / (piece.to_m - piece.from_m)) * (piece.to_centre - piece.from_centre);
  end.bore = scene::bore_at(piece, end.z_m);
  end.radius_m = scene::mean_radius_m(end.bore);
  end.section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  end.water_m = scene::level_at(scene.water, end.z_m - end.way * 1e-4) - end.middle.y;
  end.seed = static_cast<std::uint32_t>(scene.scenario.seed * 2654435761U) + (upstream ? 77U : 0U);
  return end;
}

Ends::Ends(const scene::Scene& scene) : meshes_(scene, meshes_of_ends(scene)), length_m_(scene.length_m()) {
  for (const bool upstream : {true, false}) {
    Daylight& day = daylight_[upstream ? 0 : 1];
    day.open = (upstream ? scene.scenario.start : scene.scenario.finish).kind == scene::NodeKind::outfall;
    day.end = end_frame(scene, upstream);
  }
}

void Ends::begin_picture(double lens_z_m) {
  near_ = lens_z_m < near_m || lens_z_m > length_m_ - near_m;
  for (Daylight& day : daylight_) day.near = day.open && std::abs(day.end.z_m - lens_z_m) < sight_m;
}

void Ends::meet(const Batch& batch, Samples& samples) const {
  if (near_) meshes_.meet(batch, samples);
  for (const Daylight& day : daylight_)
    if (day.near) shine(day, samples);
}

void Ends::shine(const Daylight& daylight_here, Samples& m) const {
  const EndFrame& end = daylight_here.end;
  const auto z = static_cast<float>(end.z_m), way = static_cast<float>(end.way),
             radius = static_cast<float>(end.radius_m);
  const float reach = shines_in_bores * 2 * radius;
  for (int i = 0; i < m.count; ++i) {
    if (m.depth[i] == nothing_hit) {
      if (m.dir_z[i] * way <= 1e-4F || m.place[i] >= 0) continue;
      const float t = (z - m.org_z[i]) / m.dir_z[i];
      if (t < 0) continue;
      const float x = m.org_x[i] + t * m.dir_x[i] - static_cast<float>(end.middle.x),
                  y = m.org_y[i] + t * m.dir_y[i] - static_cast<float>(end.middle.y);
      const scene::Vec2 across{static_cast<double>(x), static_cast<double>(y)};
      if (t > m.black_beyond || !scene::inside(end.bore, across, 0.01 * end.radius_m)) continue;
      const float ahead = m.dir_z[i] * way;
      const Rgb seen = daylight * view_outside(end, m.dir_x[i] / ahead, m.dir_y[i] / ahead);
      m.red[i] = seen.r, m.green[i] = seen.g, m.blue[i] = seen.b;
      m.depth[i] = outside_m;
      continue;
    }
    // What the lamp shows of a thing tells how pale it is; daylight falls on it as well.
    const float in = (z - (m.org_z[i] + m.depth[i] * m.dir_z[i])) * way;
    if (in < 0 || in > reach) continue;
    const float cosine = std::max(
        0.05F, -(m.dir_x[i] * m.normal_x[i] + m.dir_y[i] * m.normal_y[i] + m.dir_z[i] * m.normal_z[i]));
    const Rgb white = lit(m, i, {{1, 1, 1}, 0, 20}, cosine, m.depth[i]);
    // The end as a disc in the sky of a place on the wall, and none at the reach.
    const float open = radius * radius / (radius * radius + 2.2F * in * in) * (1 - in / reach);
    const float k = falls_in * open / std::max(white.g, 1e-4F);
    m.red[i] += k * m.red[i], m.green[i] += k * m.green[i], m.blue[i] += k * m.blue[i];
  }
}

}  // namespace haunch::render
