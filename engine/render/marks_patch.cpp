// SPDX-License-Identifier: Apache-2.0
// A ray that meets the wall in a patch goes on into its hollows, or strikes what rises from it, before it
// takes on a colour: what lies behind an edge is hidden by it, and a face that looks at the lamp is bright.
#include "render/marks_patch.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"

namespace haunch::render {
namespace {

constexpr float tau = 2 * std::numbers::pi_v<float>;

float smooth(float from, float to, float x) {
  const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

/// Floor of the binary logarithm, and how far on towards the next (a straight line between them).
struct Level {
  int at;
  float on;
};
Level level_of(float texels, int most) {
  if (!(texels > 1)) return {0, 0};
  // Out of the number's own bits, without a call.
  const auto bits = std::bit_cast<std::uint32_t>(texels);
  const int at = static_cast<int>(bits >> 23U) - 127;
  if (at >= most) return {most, 0};
  return {at, std::bit_cast<float>((bits & 0x007fffffU) | 0x3f800000U) - 1};
}

/// Looks a pixel's footprint wide.
class Look {
 public:
  Look(const PatchMark& mark, float foot_z, float foot_s) : mark_(mark), foot_(std::max(foot_z, foot_s)) {
    u_ = level_of(foot_s * mark.per_texel_u, PatchTile::levels_u - 1);
    v_ = level_of(foot_z * mark.per_texel_v, PatchTile::levels_v - 1);
    near_u_ = u_.on > 0.5F ? std::min(u_.at + 1, PatchTile::levels_u - 1) : u_.at;
    step_z_ = std::max(0.8F / mark.per_texel_v * static_cast<float>(1 << v_.at), 0.4F * foot_z);
    step_s_ = std::max(0.8F / mark.per_texel_u * static_cast<float>(1 << near_u_), 0.4F * foot_s);
    top_ = mark.relief.top, bottom_ = -mark.relief.depth;
  }

  PatchMark::Cell cell(float z, float s) const {
    float p = z / mark_.step_z, q = s / mark_.step_s;
    p = std::clamp(p, 0.0F, static_cast<float>(mark_.rows) - 1.001F);
    if (mark_.whole) {
      const auto n = static_cast<float>(mark_.columns - 1);
      q -= n * std::floor(q / n);
    }
    q = std::clamp(q, 0.0F, static_cast<float>(mark_.columns) - 1.001F);
    const int row = static_cast<int>(p), column = static_cast<int>(q);
    const float u = p - static_cast<float>(row), v = q - static_cast<float>(column);
    const PatchMark::Cell* a = &mark_.grid[static_cast<std::size_t>(row * mark_.columns + column)];
    const PatchMark::Cell* b = a + mark_.columns;
    const auto mix = [&](float aa, float ab, float ba, float bb) {
      const float near = aa + v * (ab - aa), far = ba + v * (bb - ba);
      return near + u * (far - near);
    };
    return {mix(a[0].inside, a[1].inside, b[0].inside, b[1].inside),
            mix(a[0].broad, a[1].broad, b[0].broad, b[1].broad),
            mix(a[0].stain, a[1].stain, b[0].stain, b[1].stain)};
  }

  /// Well inside a patch, `reach` from anything but its tile, no edge need be asked for.
  void settle(const PatchMark::Cell& start, float reach) {
    const PatchRelief& relief = mark_.relief;
    const PatchTile& tile = mark_.tile.front();
    const float frays = relief.fray * std::max(tile.highest() - relief.middle, relief.middle - tile.lowest());
    inner_ = start.inside - reach - frays > relief.edge;
    floor_ = -relief.depth * (1 - relief.uneven * start.broad);
    if (inner_) {
      top_ = std::min(relief.top, floor_ + tile.highest());
      bottom_ = std::min(floor_ + tile.lowest(), top_);
    }
  }
  float top() const { return top_; }
  float bottom() const { return bottom_; }

  PatchTexel texel(float z, float s) const {
    const float u = tile_u(s), v = z * mark_.per_texel_v + mark_.shift_v;
    const PatchTexel near = mark_.tile.front().at(u, v, near_u_, v_.at);
    if (v_.on <= 0 || v_.at + 1 >= PatchTile::levels_v) return near;
    return mixed(near, mark_.tile.front().at(u, v, near_u_, v_.at + 1), v_.on);
  }

  /// A bar beside or before a place: where on the wall's height it is struck, and which way it looks.
  struct Bar {
    float level = -1;                     // m above the wall where the ray meets it; -1 it does not
    float out = 1, along = 0, round = 0;  // its normal there
    float z = 0, s = 0;
  };
  /// What a ray that passes (z, s) at the wall's height meets above `floor`.
  Bar strike(float z, float s, float run_z, float run_s, float floor) const {
    const PatchBars& bars = mark_.bars;
    Bar best;
    const auto across = [&](float x, float run, float every, float from, float y, float run_y, bool ring) {
      const float deepest = x - floor * run;
      const int first = static_cast<int>(std::floor((std::min(x, deepest) - from - bars.radius) / every)),
                last = static_cast<int>(std::ceil((std::max(x, deepest) - from + bars.radius) / every));
      for (int n = first; n <= std::min(last, first + 6); ++n) {
        const float at_axis = y - bars.axis * run_y;
        // Clear of it even at its thickest?
        const float near = x - bars.axis * run - from - static_cast<float>(n) * every;
        const float thick = 0.0015F + 2.2F * bars.radius + bars.bow;
        if (near * near > thick * thick * (1 + run * run)) continue;
        const Form form = form_of(static_cast<float>(n), at_axis, ring);
        if (form.radius <= 0) continue;
        const float c = from + static_cast<float>(n) * every + form.sway;
        // Depth q below the wall: (x + q run - c)^2 + (q + axis)^2 = radius^2.
        const float b = run * (x - c) + form.axis, square = run * run + 1;
        const float rest = (x - c) * (x - c) + form.axis * form.axis - form.radius * form.radius;
        const float inside = b * b - square * rest;
        if (inside <= 0) continue;
        const float q = (-b - std::sqrt(inside)) / square;
        if (-q < floor || -q <= best.level) continue;
        best.level = -q;
        best.out = (-q - form.axis) / form.radius;
        const float side = (x + q * run - c) / form.radius;
        best.along = ring ? side : 0, best.round = ring ? 0 : side;
        best.z = z + q * run_z, best.s = s + q * run_s;
      }
    };
    across(z, run_z, bars.rings_every, bars.rings_from, s, run_s, true);
    across(s, run_s, bars.lengths_every, bars.lengths_from, z, run_z, false);
    return best;
  }

  /// Metres on the wall from the nearest bar's middle.
  float beside_bar(float z, float s) const {
    const auto off = [](float x, float every, float from) {
      return std::abs(x - from - every * std::floor((x - from) / every + 0.5F));
    };
    return std::min(off(z, mark_.bars.rings_every, mark_.bars.rings_from),
                    off(s, mark_.bars.lengths_every, mark_.bars.lengths_from));
  }

  /// Metres inside the edge as the tile frays it.
  float inside(const PatchMark::Cell& cell, float tile_height) const {
    return cell.inside + mark_.relief.fray * (tile_height - mark_.relief.middle);
  }

  float height(float z, float s) const {
    const PatchRelief& relief = mark_.relief;
    const float tile =
        mark_.tile.front().height(tile_u(s), z * mark_.per_texel_v + mark_.shift_v, near_u_, v_.at);
    if (inner_) return std::min(floor_ + tile, relief.top);
    const PatchMark::Cell here = cell(z, s);
    const float ramp = smooth(0, relief.edge, inside(here, tile));
    const float floor = -relief.depth * (1 - relief.uneven * here.broad);
    return std::min(ramp * (floor + tile), relief.top);
  }

  float foot() const { return foot_; }
  float step_z() const { return step_z_; }
  float step_s() const { return step_s_; }

 private:
  /// Film runs down on either side: its tiles are laid from the crown, one side the other's mirror image.
  float tile_u(float s) const {
    if (mark_.relief.film) {
      const float off = s - mark_.crown_s;
      s = std::abs(off - mark_.full_s * std::floor(off / mark_.full_s + 0.5F));
    }
    return s * mark_.per_texel_u + mark_.shift_u;
  }
  struct Form {
    float sway, radius, axis;
  };
  /// A bar at a place along it: never quite straight, and eaten away where it rusts.
  Form form_of(float number, float along, bool ring) const {
    const PatchBars& bars = mark_.bars;
    const std::uint32_t more = mark_.seed + (ring ? 21U : 22U);
    Form form{0.0014F * matter::noise(along / 0.05F, number, 0.5F, more), bars.radius, bars.axis};
    if (bars.flaky > 0) {
      const float eaten = 0.6F * matter::noise(along / 0.017F, number, 3.5F, more) +
                          0.32F * matter::noise(along / 0.0045F, number, 1.5F, more);
      const float left = 1 + bars.flaky * (0.95F * eaten + 0.05F);
      // Eaten through at the worst places.
      form.radius *= bars.flaky > 0.8F && left < 0.3F ? 0 : std::max(0.2F, left);
    }
    if (bars.bow > 0) form.axis += bars.bow * matter::noise(along / 0.075F, number, 6.5F, more);
    if (bars.hidden > 0 && matter::noise(along / 0.036F, number, 8.5F, more) +
                                   0.35F * matter::noise(along / 0.009F, number, 9.5F, more) <
                               bars.hidden - 0.55F)
      form.radius = 0;
    return form;
  }

  const PatchMark& mark_;
  float foot_, step_z_, step_s_;
  Level u_, v_;
  int near_u_;
  bool inner_ = false;
  float floor_ = 0, top_ = 0, bottom_ = 0;
};

/// Where a ray comes down on the relief: z and s run with it, height below (or above) the wall.
struct Landing {
  float z, s, height;
};
Landing land(const Look& look, float z, float s, float run_z, float run_s) {
  const float top = look.top(), bottom = look.bottom();
  const float shift = std::sqrt(run_z * run_z + run_s * run_s) * (top - bottom);
  const int most = top - bottom > 0.016F ? 13 : 7;
  const int steps = std::clamp(static_cast<int>(shift / std::max(0.002F, look.foot())), 0, most);
  if (steps == 0) return {z, s, look.height(z, s)};
  // The level falls from the top to the bottom; where the relief is above it the ray has struck.
  float level = top, over = top - look.height(z - top * run_z, s - top * run_s);
  for (int k = 1; k <= steps; ++k) {
    const float next = top + (bottom - top) * static_cast<float>(k) / static_cast<float>(steps);
    const float clear = next - look.height(z - next * run_z, s - next * run_s);
    if (clear <= 0) {
      float above = level, below = next, under = clear;
      for (int half = 0; half < (most > 7 ? 4 : 2); ++half) {
        const float middle = (above + below) / 2;
        const float there = middle - look.height(z - middle * run_z, s - middle * run_s);
        (there > 0 ? above : below) = middle;
        (there > 0 ? over : under) = there;
      }
      level = above + (over > under ? over / (over - under) : 0) * (below - above);
      break;
    }
    level = next, over = clear;
  }
  return {z - level * run_z, s - level * run_s, level};
}

/// Where a ray met the wall, or would have, had there been no groove of a joint.
struct Spot {
  float z = 0, angle = 0, normal_x = 0, normal_y = 0, normal_z = 0, depth = 0;
};
bool find_spot(const PatchMark& mark, const Samples& m, int i, Spot& at) {
  at = {m.wall_z[i], m.wall_angle[i], m.normal_x[i], m.normal_y[i], m.normal_z[i], m.depth[i]};
  if (m.piece[i] >= 0) return true;
  if (!mark.over_joint || m.fault[i] != 0 || m.depth[i] == nothing_hit) return false;
  const float x = m.org_x[i] + m.dir_x[i] * m.depth[i] - mark.centre_x,
              y = m.org_y[i] + m.dir_y[i] * m.depth[i] - mark.centre_y;
  const float beyond = x * x + y * y - mark.radius * mark.radius;
  if (beyond <= 0) return false;
  // Back along the ray to the wall's face.
  const float a = m.dir_x[i] * m.dir_x[i] + m.dir_y[i] * m.dir_y[i], b = x * m.dir_x[i] + y * m.dir_y[i];
  const float root = b * b - a * beyond;
  if (root <= 0 || a <= 0 || b <= 0) return false;
  const float back = (-b + std::sqrt(root)) / a;
  const float wx = x + back * m.dir_x[i], wy = y + back * m.dir_y[i];
  at.z += back * m.dir_z[i];
  at.angle = std::atan2(wx, wy);
  if (at.angle < 0) at.angle += tau;
  at.normal_x = -wx / mark.radius, at.normal_y = -wy / mark.radius, at.normal_z = 0;
  at.depth += back;
  return true;
}

void paint(const PatchMark& mark, Samples& m, int i) {
  Spot spot;
  if (!find_spot(mark, m, i, spot)) return;
  float around = spot.angle - mark.from_angle;
  if (around < 0) around += tau;
  if (around > mark.span) return;
  const float z = spot.z - mark.z0, s = around * mark.radius;
  // The view on the wall, in its own frame: along, round, and square on it.
  const float per_normal = 1 / std::sqrt(spot.normal_x * spot.normal_x + spot.normal_y * spot.normal_y);
  const float sin_a = -spot.normal_x * per_normal, cos_a = -spot.normal_y * per_normal;
  const float view_z = m.dir_z[i], view_s = m.dir_x[i] * cos_a - m.dir_y[i] * sin_a;
  const float cosine = std::clamp(
      -(m.dir_x[i] * spot.normal_x + m.dir_y[i] * spot.normal_y + m.dir_z[i] * spot.normal_z), 0.04F, 1.0F);
  const float flat = std::max(1e-4F, std::sqrt(view_z * view_z + view_s * view_s));
  const float pixel = m.parallel ? m.pixel_size : m.pixel_size * spot.depth;
  const float tz = view_z / flat, ts = view_s / flat, far = 1 / cosine;
  Look look(mark, pixel * std::sqrt(tz * tz * far * far + ts * ts),
            pixel * std::sqrt(ts * ts * far * far + tz * tz));

  const PatchMark::Cell start = look.cell(z, s);
  const Rgb wall{m.red[i], m.green[i], m.blue[i]};
  Rgb out = wall;
  if (start.stain > 0) {
    const float k = mark.relief.stains * start.stain;
    out = Rgb{1 + k * (mark.relief.stain.r - 1), 1 + k * (mark.relief.stain.g - 1),
              1 + k * (mark.relief.stain.b - 1)} *
          out;
  }
  const auto keep = [&] { m.red[i] = out.r, m.green[i] = out.g, m.blue[i] = out.b; };
  const float reach = 0.004F + mark.relief.soft + look.foot();
  if (start.inside < -reach && mark.relief.top <= 0) return keep();

  const float slant = std::min(far, 4.5F);
  look.settle(start, slant * flat * (mark.relief.depth + mark.relief.top) + 0.004F);
  const Landing at = land(look, z, s, view_z * slant, view_s * slant);
  const float dz = look.step_z(), ds = look.step_s();
  const float here_high = look.height(at.z, at.s);
  const float slope_z = (look.height(at.z + dz, at.s) - here_high) / dz,
              slope_s = (look.height(at.z, at.s + ds) - here_high) / ds;
  const float per_length = 1 / std::sqrt(1 + slope_z * slope_z + slope_s * slope_s);
  const float ground_facing =
      std::clamp((cosine + view_z * slope_z + view_s * slope_s) * per_length, 0.0F, 1.0F);

  const PatchMark::Cell here = look.cell(at.z, at.s);
  PatchTexel texel = look.texel(at.z, at.s);
  const float inside = look.inside(here, texel.height);
  const float soft = mark.relief.soft + 0.5F * look.foot();
  // The far side of a hollow belongs to it although it lies under the wall beyond its edge.
  float cover = smooth(-soft, soft, inside);
  if (at.height < -0.0008F && inside > -0.004F)
    cover = std::max(cover, smooth(-0.0006F, -0.0016F, at.height));
  if (at.height > 0.0004F) cover = std::max(cover, smooth(0.0003F, 0.0008F, at.height));
  cover *= mark.relief.solid;
  const bool barred = mark.bars.radius > 0 && start.inside > -0.004F;
  if (cover <= 0.01F && !barred) return keep();
  if (mark.relief.film) {
    // The wall itself, as the film bends its face, darkens or coats it.
    const float was = rough_share * std::sqrt(cosine) + (1 - rough_share) * cosine;
    const float stands = std::max(ground_facing, 0.40F * cosine);
    const float is = texel.open * (rough_share * std::sqrt(stands) + (1 - rough_share) * stands);
    const float gloss = m.drowned ? 0 : texel.gloss * texel.open;
    out =
        blend(out, (is / was) * (texel.albedo * out) + lit(m, i, {{}, gloss, 50}, ground_facing, spot.depth),
              cover);
    keep();
    if (cover > 0.5F) m.fault[i] = mark.fault;
    return;
  }
  // A step as steep as this shows what the wall is made of, not the face of it drawn out.
  const float steep = smooth(0.7F, 1.8F, std::abs(slope_z) + std::abs(slope_s));
  if (steep > 0) {
    const float coarse = matter::noise(at.z / 0.0065F, at.s / 0.0065F, at.height / 0.0065F, mark.seed + 9U),
                grain = matter::noise(at.z / 0.0021F, at.s / 0.0021F, at.height / 0.0021F, mark.seed + 10U);
    texel.albedo =
        blend(texel.albedo, (0.88F + 0.35F * coarse + 0.30F * grain) * mark.relief.body, 0.85F * steep);
    texel.open *= 1 - 0.30F * steep * smooth(0.0F, 0.5F, coarse + 0.6F * grain);
  }
  // Years of grime, in clouds.
  texel.albedo = (1 - mark.relief.grime * smooth(0.35F, 0.95F, here.broad)) * texel.albedo;
  if (mark.relief.rim_to > 0) {
    const float grain = matter::noise(at.z / 0.0022F, at.s / 0.0022F, 0.3F, mark.seed + 5U),
                blotch = matter::noise(at.z / 0.010F, at.s / 0.010F, 0.6F, mark.seed + 6U);
    const float under = smooth(0.70F * mark.relief.rim_to, mark.relief.rim_to,
                               -at.height + 0.25F * mark.relief.rim_to * blotch);
    texel.albedo = blend((0.9F + 0.3F * grain + 0.3F * blotch) * mark.relief.rim, texel.albedo, under);
  }
  float facing = ground_facing;
  if (barred) {
    const Look::Bar bar = look.strike(z, s, view_z * slant, view_s * slant, at.height);
    const float pz = bar.level > -1 ? bar.z : at.z, ps = bar.level > -1 ? bar.s : at.s;
    const float grain = matter::noise(pz / 0.0016F, ps / 0.0016F, 0.3F, mark.seed + 5U);
    const float blotch = matter::noise(pz / 0.007F, ps / 0.007F, 0.6F, mark.seed + 6U);
    if (bar.level > -1) {
      const float rusty = std::clamp(0.18F + 0.9F * blotch + 0.3F * grain, 0.0F, 1.0F);
      static const Rgb thin_rust = linear_from_srgb(116, 78, 52), thick_rust = linear_from_srgb(62, 44, 35),
                       fresh_rust = linear_from_srgb(138, 82, 46);
      const Rgb film = blend(mark.steel, thin_rust, rusty);
      // Scale: dark where it is thick, orange where a flake has just come off.
      const float fresh = std::clamp(0.30F + 0.9F * blotch + 0.6F * grain, 0.0F, 1.0F);
      const Rgb scale = blend(thick_rust, fresh_rust, fresh);
      texel.albedo = (1 + 0.30F * grain) * blend(film, scale, std::max(0.0F, 1.5F * mark.bars.flaky - 0.5F));
      texel.gloss = 0.10F * (1 - mark.bars.flaky);
      texel.open = 1 - 0.5F * smooth(0.4F, -0.6F, bar.out);
      facing = std::clamp(cosine * bar.out - view_z * bar.along - view_s * bar.round, 0.0F, 1.0F);
      cover = 1;
    } else {
      // Rust runs into the cement beside a bar, and a bar keeps light from what lies under it.
      const float off = look.beside_bar(at.z, at.s);
      const float beside =
          1 - smooth(0.3F * mark.bars.radius, (2.2F + 3 * mark.bars.flaky) * mark.bars.radius, off);
      const float red = std::clamp(beside * (0.25F + 0.6F * mark.bars.flaky + 0.7F * blotch), 0.0F, 0.8F);
      static const Rgb rust_in_cement = linear_from_srgb(118, 78, 50);
      texel.albedo = blend(texel.albedo, rust_in_cement, red);
      texel.open *= 1 - mark.bars.shade * beside;
    }
  }
  if (mark.relief.deep_from > 0) {
    const float under = smooth(0.4F * mark.relief.deep_from, mark.relief.deep_from, -at.height);
    texel.albedo = blend(texel.albedo, mark.relief.deep, under);
  }
  texel.open /= 1 + mark.relief.dark * std::max(-at.height, 0.0F);
  // Hollows narrow at their edge get little light from about.
  const float sunk = smooth(0.001F, 0.012F, -at.height);
  texel.open *= 1 - 0.35F * sunk * (1 - smooth(0, 2.5F * mark.relief.depth, here.inside));
  // Below what usually flows all is dark with slime, and wet.
  const int row = std::clamp(static_cast<int>(at.z / mark.step_z), 0, mark.rows - 1);
  const float y = m.org_y[i] + m.dir_y[i] * spot.depth;
  const float above = (y - mark.flow_y[static_cast<std::size_t>(row)]) / mark.radius;
  const float slime = 1 - smooth(-0.02F, 0.10F, above);
  texel.albedo = blend(texel.albedo, Rgb{0.062F, 0.047F, 0.028F}, 0.55F * slime);
  texel.gloss = m.drowned ? 0 : std::max(texel.gloss, 0.22F * slime);
  if (m.drowned) texel.albedo = 0.62F * texel.albedo;
  // Faces turned from the lamp still get what comes from across.
  const float bent = std::max(facing, 0.40F * cosine);
  const Rgb body = texel.open * lit(m, i, {texel.albedo, 0, 20}, bent, spot.depth);
  const Rgb shine =
      lit(m, i, {{}, texel.gloss * texel.open, texel.gloss > 0.6F ? 20.0F : 40.0F}, facing, spot.depth);
  out = blend(out, body + shine, cover);
  keep();
  if (cover > 0.5F) m.fault[i] = mark.fault;
}

}  // namespace

void paint_patch(const PatchMark& mark, Samples& samples) {
  if (mark.relief.bends) return paint_bends(mark, samples);
  for (int i = 0; i < samples.count; ++i)
    if ((samples.piece[i] >= 0 || mark.over_joint) && samples.wall_z[i] > mark.z0 &&
        samples.wall_z[i] < mark.z1)
      paint(mark, samples, i);
}

}  // namespace haunch::render
