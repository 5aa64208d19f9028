// SPDX-License-Identifier: Apache-2.0
// The wall's own skin, bulged or dented. Its colour is the wall's, lit anew as the skin stands: bright where
// it faces the lens, dark where it turns away, cut off where it hides what lies behind; and plastic that has
// been bent so far has turned pale along its creases.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "render/marks_patch.hpp"

namespace haunch::render {
namespace {

constexpr float tau = 2 * std::numbers::pi_v<float>;
constexpr float most_slant = patch_bend_slant;
constexpr int most_steps = 28;

/// Bilinear from the grid, in which `inside` is the height; level wall beyond it.
PatchMark::Cell cell_at(const PatchMark& mark, float z, float s) {
  float p = z / mark.step_z, q = s / mark.step_s;
  p = std::clamp(p, 0.0F, static_cast<float>(mark.rows) - 1.001F);
  if (mark.whole) {
    const auto n = static_cast<float>(mark.columns - 1);
    q -= n * std::floor(q / n);
  }
  q = std::clamp(q, 0.0F, static_cast<float>(mark.columns) - 1.001F);
  const int row = static_cast<int>(p), column = static_cast<int>(q);
  const float u = p - static_cast<float>(row), v = q - static_cast<float>(column);
  const PatchMark::Cell* a = &mark.grid[static_cast<std::size_t>(row * mark.columns + column)];
  const PatchMark::Cell* b = a + mark.columns;
  const auto mix = [&](float aa, float ab, float ba, float bb) {
    const float near = aa + v * (ab - aa), far = ba + v * (bb - ba);
    return near + u * (far - near);
  };
  return {mix(a[0].inside, a[1].inside, b[0].inside, b[1].inside),
          mix(a[0].broad, a[1].broad, b[0].broad, b[1].broad), 0};
}

/// Between which levels a ray crosses what may be bent at all; false where it does not.
bool crosses(const PatchMark& mark, float z, float s, float run_z, float run_s, float& from, float& to) {
  const auto cut = [&](float at, float run, float low, float high) {
    // at - level * run within low .. high
    if (std::abs(run) < 1e-4F) return at >= low && at <= high;
    const float a = (at - low) / run, b = (at - high) / run;
    from = std::min(from, std::max(a, b)), to = std::max(to, std::min(a, b));
    return from > to;
  };
  const PatchBox& box = mark.bent;
  if (!cut(z, run_z, box.from_z, box.to_z)) return false;
  return mark.whole || cut(s, run_s, box.from_s, box.to_s);
}

float body(float cosine) { return rough_share * std::sqrt(cosine) + (1 - rough_share) * cosine; }

void bend(const PatchMark& mark, Samples& m, int i) {
  float around = m.wall_angle[i] - mark.from_angle;
  if (around < 0) around += tau;
  if (around > mark.span) return;
  const float z = m.wall_z[i] - mark.z0, s = around * mark.radius;
  const float per_normal = 1 / std::sqrt(m.normal_x[i] * m.normal_x[i] + m.normal_y[i] * m.normal_y[i]);
  const float sin_a = -m.normal_x[i] * per_normal, cos_a = -m.normal_y[i] * per_normal;
  const float view_z = m.dir_z[i], view_s = m.dir_x[i] * cos_a - m.dir_y[i] * sin_a;
  const float cosine = std::clamp(
      -(m.dir_x[i] * m.normal_x[i] + m.dir_y[i] * m.normal_y[i] + m.dir_z[i] * m.normal_z[i]), 0.04F, 1.0F);
  const float slant = std::min(1 / cosine, most_slant);
  const float run_z = view_z * slant, run_s = view_s * slant;
  float from = mark.relief.top, to = -mark.relief.depth;
  if (!crosses(mark, z, s, run_z, run_s, from, to)) return;

  // Down along the ray until the skin is above it.
  const auto clear = [&](float level) {
    return level - cell_at(mark, z - level * run_z, s - level * run_s).inside;
  };
  const float way = std::sqrt(run_z * run_z + run_s * run_s) * (from - to);
  const int steps = std::clamp(static_cast<int>(way / 0.004F) + 1, 2, most_steps);
  float above = from, over = clear(from), below = to, under = -1e-6F;
  for (int k = 1; k <= steps; ++k) {
    const float level = from + (to - from) * static_cast<float>(k) / static_cast<float>(steps);
    const float there = clear(level);
    if (there <= 0) {
      below = level, under = there;
      break;
    }
    above = level, over = there;
    if (k == steps) return;
  }
  for (int half = 0; half < 4; ++half) {
    const float middle = (above + below) / 2, there = clear(middle);
    (there > 0 ? above : below) = middle;
    (there > 0 ? over : under) = there;
  }
  const float level = over > under ? above + over / (over - under) * (below - above) : above;
  const float at_z = z - level * run_z, at_s = s - level * run_s;
  const PatchMark::Cell here = cell_at(mark, at_z, at_s);
  const float pixel = m.parallel ? m.pixel_size : m.pixel_size * m.depth[i];
  const float step = std::max(0.0025F, pixel);
  const float slope_z = (cell_at(mark, at_z + step, at_s).inside - cell_at(mark, at_z - step, at_s).inside) /
                        (2 * step),
              slope_s = (cell_at(mark, at_z, at_s + step).inside - cell_at(mark, at_z, at_s - step).inside) /
                        (2 * step);
  const bool bent = std::abs(here.inside) > 0.0002F || std::abs(slope_z) + std::abs(slope_s) > 0.01F;
  if (!bent) return;
  const float facing = std::clamp(
      (cosine + view_z * slope_z + view_s * slope_s) / std::sqrt(1 + slope_z * slope_z + slope_s * slope_s),
      0.0F, 1.0F);
  // What turns away from the lamp still gets a little from the wall across.
  const float depth = std::max(m.depth[i] - level * slant, 0.3F * m.depth[i]);
  const float nearer = m.depth[i] / depth;
  const float k = nearer * nearer * body(std::max(facing, 0.16F * cosine)) / body(cosine);
  const Rgb skin = k * Rgb{m.red[i], m.green[i], m.blue[i]};
  const float gloss = m.drowned ? 0 : 0.16F;
  const Rgb pale = lit(m, i, {here.broad * mark.steel, gloss, 30}, facing, depth);
  m.red[i] = (1 - 0.5F * here.broad) * skin.r + pale.r;
  m.green[i] = (1 - 0.5F * here.broad) * skin.g + pale.g;
  m.blue[i] = (1 - 0.5F * here.broad) * skin.b + pale.b;
  m.depth[i] = depth;
  m.fault[i] = mark.fault;
}

}  // namespace

void paint_bends(const PatchMark& mark, Samples& samples) {
  for (int i = 0; i < samples.count; ++i)
    if (samples.piece[i] >= 0 && samples.wall_z[i] > mark.z0 && samples.wall_z[i] < mark.z1)
      bend(mark, samples, i);
}

}  // namespace haunch::render
