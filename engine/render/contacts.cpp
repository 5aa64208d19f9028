// SPDX-License-Identifier: Apache-2.0
// Paints on the wall what things do to it where they touch it.
#include "render/contacts.hpp"

#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"

namespace haunch::render {
namespace {

void paint(const Contact& mark, Samples& m, int i) {
  const auto k = static_cast<std::size_t>(i);
  const float p = (m.wall_z[k] - mark.z0) / mark.step, q = m.wall_angle[k] * mark.columns_a_radian;
  const int row = std::min(static_cast<int>(p), mark.rows - 2),
            column = std::min(static_cast<int>(q), mark.columns - 1);
  const float u = p - static_cast<float>(row), v = q - static_cast<float>(column);
  const auto a = static_cast<std::size_t>(row) * static_cast<std::size_t>(mark.columns),
             b = a + static_cast<std::size_t>(mark.columns), left = static_cast<std::size_t>(column),
             right = static_cast<std::size_t>(column + 1 == mark.columns ? 0 : column + 1);
  const auto at = [&](const std::vector<float>& grid) {
    const float low = grid[a + left] + v * (grid[a + right] - grid[a + left]);
    return low + u * (grid[b + left] + v * (grid[b + right] - grid[b + left]) - low);
  };
  Rgb wall{m.red[k], m.green[k], m.blue[k]};
  if (!mark.strewn.empty()) {
    if (const float lies = at(mark.strewn); lies > 0) {
      const float s = m.wall_angle[k] * mark.wall, z = m.wall_z[k];
      const float cosine =
          std::clamp(-(m.dir_x[k] * m.normal_x[k] + m.dir_y[k] * m.normal_y[k] + m.dir_z[k] * m.normal_z[k]),
                     0.03F, 1.0F);
      const float pixel = (m.parallel ? m.pixel_size : m.pixel_size * m.depth[k]) / cosine;
      // Streaks that the flow has drawn, and single grains as far as they can be seen.
      const float drawn = matter::layered_noise(z / 0.060F, s / 0.009F, 0.3F, mark.seed + 11U, 2);
      const float shown = std::clamp(1.6F - pixel / (3 * mark.grain_m), 0.0F, 1.0F);
      const float grain = shown > 0
                              ? shown * matter::layered_noise(z / (1.6F * mark.grain_m), s / mark.grain_m,
                                                              0.7F, mark.seed + 12U, 2)
                              : 0.0F;
      const float cover =
          std::clamp(1.8F * (1.15F * lies - 0.42F + 0.55F * drawn + 0.55F * grain), 0.0F, 1.0F);
      if (cover > 0)
        wall = blend(wall,
                     lit(m, i, {(1 + 0.5F * grain) * mark.matter, mark.gloss, 20},
                         std::clamp(cosine * (1 + 0.4F * grain), 0.03F, 1.0F), m.depth[k]),
                     cover);
    }
  }
  const float light = 1 - at(mark.dark);
  m.red[k] = light * wall.r, m.green[k] = light * wall.g, m.blue[k] = light * wall.b;
}

}  // namespace

void paint_contacts(const std::vector<Contact>& contacts, Samples& m) {
  if (contacts.empty()) return;
  float z0 = 1e9F, z1 = -1e9F;
  for (std::size_t i = 0; i < static_cast<std::size_t>(m.count); ++i)
    if (m.piece[i] >= 0) z0 = std::min(z0, m.wall_z[i]), z1 = std::max(z1, m.wall_z[i]);
  for (const Contact& mark : contacts) {
    if (mark.z1 < z0 || mark.z0 > z1) continue;
    for (int i = 0; i < m.count; ++i) {
      const auto k = static_cast<std::size_t>(i);
      if (m.piece[k] >= 0 && m.wall_z[k] > mark.z0 && m.wall_z[k] < mark.z1) paint(mark, m, i);
    }
  }
}

}  // namespace haunch::render
