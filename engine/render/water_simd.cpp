// SPDX-License-Identifier: Apache-2.0
// Water by vectors: where rays meet the surface, how it ripples, where rays go from there.
#include <algorithm>
#include <cmath>

#include "render/water.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/water_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

#ifndef HAUNCH_WATER_KINDS
#define HAUNCH_WATER_KINDS
namespace haunch::render {
/// How a ray and the water meet.
enum Meeting : int { dry = 0, into_water = 1, in_water = 2, out_of_water = 3 };
}  // namespace haunch::render
#endif

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

HWY_INLINE V K(float c) { return hn::Set(F(), c); }

/// Sine within 0.001, by two parabolas; the same bits everywhere.
HWY_INLINE V Sine(V x) {
  const V turns = x * K(0.159154943F);
  const V r = (turns - hn::Floor(turns + K(0.5F))) * K(6.28318531F);
  const V y = K(1.27323954F) * r - K(0.405284735F) * r * hn::Abs(r);
  return K(0.225F) * (y * hn::Abs(y) - y) + y;
}

HWY_INLINE VI CellAt(const WaterTable& w, V z) {
  const V cell = (z - K(w.start_m)) * K(static_cast<float>(1 / water_cell_m));
  return hn::ConvertTo(I(), hn::Clamp(cell, hn::Zero(F()), K(static_cast<float>(w.level.size()) - 1)));
}
HWY_INLINE V CellMiddle(const WaterTable& w, VI cell) {
  return (hn::ConvertTo(F(), cell) + K(0.5F)) * K(static_cast<float>(water_cell_m)) + K(w.start_m);
}
HWY_INLINE V LevelAt(const WaterTable& w, V z) {
  const VI cell = CellAt(w, z);
  return hn::GatherIndex(F(), w.level.data(), cell) +
         hn::GatherIndex(F(), w.slope.data(), cell) * (z - CellMiddle(w, cell));
}

void FindSurface(const WaterTable& w, const RayCamera& camera, Samples& s, float* surface,
                 std::int32_t* kind) {
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) {
      return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
    };
    const V oy = load(s.org_y), oz = load(s.org_z), dx = load(s.dir_x), dy = load(s.dir_y),
            dz = load(s.dir_z);
    const V ahead = dx * K(static_cast<float>(camera.forward.x)) +
                    dy * K(static_cast<float>(camera.forward.y)) +
                    dz * K(static_cast<float>(camera.forward.z));
    const V window = K(static_cast<float>(window_ahead_m)) / hn::Max(ahead, K(0.05F));
    const V window_z = oz + window * dz;
    // High above any water there is.
    if (hn::AllTrue(F(), hn::Min(oy + window * dy, oy + hn::Min(load(s.depth), K(20.0F)) * dy) > K(w.top))) {
      hn::StoreU(hn::Zero(I()), I(), kind + i);
      continue;
    }
    const M starts_wet = oy + window * dy < LevelAt(w, window_z);
    const V end = hn::Min(load(s.depth), K(20.0F));
    const V end_z = oz + end * dz, end_y = oy + end * dy;
    const M ends_wet = end_y < LevelAt(w, end_z);
    const M crosses = hn::Xor(starts_wet, ends_wet);
    // The surface is straight within a reach, so a step or two finds where it is crossed.
    V at = hn::IfThenElse(ends_wet, end_z, window_z);
    V t = end;
    for (int step = 0; step < 4; ++step) {
      const VI cell = CellAt(w, at);
      const V level = hn::GatherIndex(F(), w.level.data(), cell),
              slope = hn::GatherIndex(F(), w.slope.data(), cell);
      V fall = dy - slope * dz;
      fall = hn::IfThenElse(hn::Abs(fall) < K(1e-7F), K(1e-7F), fall);
      t = hn::Clamp((level + slope * (oz - CellMiddle(w, cell)) - oy) / fall, hn::Min(window, end), end);
      const V next = oz + t * dz;
      const bool found = hn::AllTrue(F(), next == at);
      at = next;
      if (found) break;
    }
    VI what = hn::Zero(I());
    what = hn::IfThenElse(hn::RebindMask(I(), hn::And(crosses, ends_wet)), hn::Set(I(), into_water), what);
    what =
        hn::IfThenElse(hn::RebindMask(I(), hn::And(crosses, starts_wet)), hn::Set(I(), out_of_water), what);
    what = hn::IfThenElse(hn::RebindMask(I(), hn::And(starts_wet, ends_wet)), hn::Set(I(), in_water), what);
    hn::StoreU(what, I(), kind + i);
    hn::StoreU(t, F(), surface + i);
    const M covers = hn::RebindMask(F(), what == hn::Set(I(), into_water));
    hn::StoreU(hn::IfThenElse(covers, hn::Min(t, load(s.unseen)), load(s.unseen)), F(), &s.unseen[i]);
  }
}

/// In: points on the surface as rays' starts, the way the rays came as directions. Out: the mirrored
/// and the bent directions, and the share that is mirrored.
void Scatter(float time_s, Samples& mirrored, Samples& bent, const float* lively, float* share) {
  struct Wave {
    float across, along, speed, height;  // waves per metre, turns per second, slope
  };
  static constexpr Wave waves[] = {{7, 23, 0.9F, 0.022F},   {-13, 41, -1.3F, 0.018F},
                                   {31, 29, 1.7F, 0.015F},  {-43, 67, 2.3F, 0.013F},
                                   {71, 97, -2.9F, 0.010F}, {-120, 150, 3.1F, 0.008F}};
  for (int i = 0; i < mirrored.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) {
      return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
    };
    const V x = load(mirrored.org_x), z = load(mirrored.org_z);
    const V dx = load(mirrored.dir_x), dy = load(mirrored.dir_y), dz = load(mirrored.dir_z);
    const V patch = K(mirrored.pixel_size) * (mirrored.parallel ? K(1) : load(mirrored.travelled)) /
                    hn::Max(hn::Abs(dy), K(0.02F));
    const V live = K(0.10F) + K(0.9F) * hn::LoadU(F(), lively + i);
    V gx = hn::Zero(F()), gz = hn::Zero(F());
    int n = 0;
    for (const Wave& wave : waves) {
      ++n;
      // Waves finer than a pixel are not drawn.
      const V seen = K(1) / (K(1) + Square(patch * K(2.2F * wave.along)));
      const V phase = K(6.2831853F) * (x * K(wave.across) + z * K(wave.along) +
                                       K(time_s * wave.speed + 0.37F * static_cast<float>(n * n)));
      const V high =
          Sine(phase + K(1.3F) * Sine(phase * K(0.31F) + x * K(40.0F))) * K(wave.height) * live * seen;
      const float unit = 1 / std::sqrt(wave.across * wave.across + wave.along * wave.along);
      gx = gx + high * K(wave.across * unit);
      gz = gz + high * K(wave.along * unit);
    }
    const V size = K(1) / hn::Sqrt(gx * gx + gz * gz + K(1));
    const V up = hn::IfThenElse(dy < hn::Zero(F()), K(1), K(-1));  // seen from below the surface faces down
    const V nx = hn::Zero(F()) - gx * size * up, ny = size * up, nz = hn::Zero(F()) - gz * size * up;
    const V cosine = hn::Clamp(hn::Zero(F()) - (dx * nx + dy * ny + dz * nz), K(0.004F), K(1));
    const V c1 = K(1) - cosine, c2 = c1 * c1;
    const V eta = hn::IfThenElse(dy < hn::Zero(F()), K(1 / 1.333F), K(1.333F));
    const V below = K(1) - eta * eta * (K(1) - cosine * cosine);
    const M whole = below <= hn::Zero(F());  // nothing gets out: a mirror from below
    const V cos_bent = hn::Sqrt(hn::Max(below, hn::Zero(F())));
    const V c3 = K(1) - cos_bent, c4 = c3 * c3;
    const V low = hn::IfThenElse(eta > K(1), c4 * c4 * c3, c2 * c2 * c1);
    const V mirror = hn::IfThenElse(whole, K(1), K(0.02F) + K(0.98F) * low);
    const V twice = cosine + cosine;
    V rx = dx + twice * nx, ry = dy + twice * ny, rz = dz + twice * nz;
    ry = hn::IfThenElse(up > hn::Zero(F()), hn::Max(ry, K(0.002F)), hn::Min(ry, K(-0.002F)));
    const V rs = K(1) / hn::Sqrt(rx * rx + ry * ry + rz * rz);
    const V k = eta * cosine - cos_bent;
    V bx = eta * dx + k * nx, by = eta * dy + k * ny, bz = eta * dz + k * nz;
    bx = hn::IfThenElse(whole, dx, bx), by = hn::IfThenElse(whole, dy, by),
    bz = hn::IfThenElse(whole, dz, bz);
    const V bs = K(1) / hn::Sqrt(bx * bx + by * by + bz * bz);
    const auto store = [&](V value, std::vector<float>& to) {
      hn::StoreU(value, F(), &to[static_cast<std::size_t>(i)]);
    };
    store(rx * rs, mirrored.dir_x), store(ry * rs, mirrored.dir_y), store(rz * rs, mirrored.dir_z);
    store(bx * bs, bent.dir_x), store(by * bs, bent.dir_y), store(bz * bs, bent.dir_z);
    hn::StoreU(mirror, F(), share + i);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(FindSurface);
HWY_EXPORT(Scatter);

namespace {

/// What is left after a way through the water; 1 / (1 + x/8)^8 stands for exp(-x).
float left(float dim, float way_m) {
  const float a = 1 + dim * way_m / 8, b = a * a, c = b * b;
  return 1 / (c * c);
}

}  // namespace

WaterTable water_table(const scene::Scene& scene) {
  WaterTable table;
  const int cells = static_cast<int>(std::ceil(scene.length_m() / water_cell_m)) + 1;
  const auto dry_level = static_cast<float>(-1e6);
  table.level.assign(static_cast<std::size_t>(cells), dry_level);
  table.slope.assign(table.level.size(), 0);
  table.liveliness.assign(table.level.size(), 0);
  for (const scene::WaterReach& reach : scene.water.reaches) {
    const double length = reach.to_m - reach.from_m;
    if (length <= 0) continue;
    const double slope = (reach.to_level_m - reach.from_level_m) / length;
    for (int c = std::max(0, static_cast<int>(reach.from_m / water_cell_m) - 1); c < cells; ++c) {
      const double z = (c + 0.5) * water_cell_m;
      if (z < reach.from_m) continue;
      if (z > reach.to_m) break;
      const auto at = static_cast<std::size_t>(c);
      const double depth = reach.from_level_m + slope * (z - reach.from_m) - scene::invert_at(scene, z);
      if (depth <= 0) continue;
      table.any = true;
      table.level[at] = static_cast<float>(reach.from_level_m + slope * (z - reach.from_m));
      table.slope[at] = static_cast<float>(slope);
      table.top = std::max(table.top, table.level[at] + 0.002F);
      table.liveliness[at] = reach.standing ? 0.05F : 0.8F;
    }
  }
  if (scene.scenario.water == scene::WaterLook::cloudy) {
    table.dim[0] = 30, table.dim[1] = 34, table.dim[2] = 46;
    table.murk = {0.135F, 0.112F, 0.066F};
  } else {
    table.dim[0] = 5.0F, table.dim[1] = 2.6F, table.dim[2] = 2.2F;
    table.murk = {0.020F, 0.030F, 0.028F};
  }
  // A 200th of the light is left: (1 + x/8)^8 = 200.
  table.black_beyond = 8 * (1.939F - 1) / *std::min_element(table.dim, table.dim + 3);
  return table;
}

bool lens_under(const WaterTable& water, const RayCamera& camera) {
  if (!water.any) return false;
  const auto under = [&](double px, double py) {
    const Ray ray = ray_through(camera, px, py);
    const double t = window_ahead_m / std::max(0.05, scene::dot(ray.direction, camera.forward));
    const scene::Vec3 at = ray.from + t * ray.direction;
    const auto cell = static_cast<std::size_t>(
        std::clamp(at.z / water_cell_m, 0.0, static_cast<double>(water.level.size()) - 1));
    return at.y < static_cast<double>(water.level[cell]);
  };
  const double w = camera.width, h = camera.height;
  return under(0, 0) && under(w, 0) && under(0, h) && under(w, h);
}

void find_water(const WaterTable& water, const RayCamera& camera, Samples& s, WaterScratch& own) {
  own.surface.resize(s.depth.size());
  own.kind.resize(s.depth.size());
  HWY_DYNAMIC_DISPATCH(FindSurface)(water, camera, s, own.surface.data(), own.kind.data());
}

namespace {

constexpr float glow_at_m = 0.09F;     // murk before the lens is lit as if it hung here
constexpr float hardly_shows = 0.03F;  // a mirrored or bent share smaller than this is left out

/// What murk adds and takes on a way through it; `fall` is the light that reaches it.
struct Through {
  Rgb colour;
  float share;
};
Through murky(const WaterTable& water, float way, float fall, Rgb colour) {
  const float r = left(water.dim[0], way), g = left(water.dim[1], way), b = left(water.dim[2], way);
  return {{colour.r * r + fall * water.murk.r * (1 - r), colour.g * g + fall * water.murk.g * (1 - g),
           colour.b * b + fall * water.murk.b * (1 - b)},
          g};
}
/// Light that comes back from murk at a distance.
float glow(float lamp, float cosine, float distance) {
  const float d = std::max(distance, lamp_nearest_m);
  return lamp * (rough_share * std::sqrt(cosine) + (1 - rough_share) * cosine) / (d * d);
}

/// Keeps only the rays that are wanted, in order; at[k] is where ray k went, or -1.
template <class Wanted>
void keep_rays(Samples& rays, std::vector<std::int32_t>& at, Wanted wanted) {
  int to = 0;
  at.resize(static_cast<std::size_t>(rays.count));
  for (int k = 0; k < rays.count; ++k) {
    const auto from = static_cast<std::size_t>(k);
    at[from] = -1;
    if (!wanted(from)) continue;
    for (auto* floats : {&rays.org_x, &rays.org_y, &rays.org_z, &rays.dir_x, &rays.dir_y, &rays.dir_z,
                         &rays.lamp, &rays.travelled})
      (*floats)[static_cast<std::size_t>(to)] = (*floats)[from];
    at[from] = to++;
  }
  rays.resize(to);
  rays.pad();
}

}  // namespace

void meet_water(const WaterTable& water, double time_s, Samples& s, WaterScratch& own,
                const MeetSolids& meet_solids) {
  own.index.clear();
  bool from_above = true, from_below = true;
  for (int i = 0; i < s.count; ++i) {
    const auto n = static_cast<std::size_t>(i);
    std::int32_t& kind = own.kind[n];
    if (kind == dry) continue;
    // Something stands before the surface.
    if (kind == into_water && s.depth[n] <= own.surface[n]) kind = dry;
    // From below: something stands in the water, or the murk hides the surface.
    if (kind == out_of_water && (s.depth[n] <= own.surface[n] || own.surface[n] > water.black_beyond))
      kind = in_water;
    if (kind == into_water || kind == out_of_water) {
      own.index.push_back(i);
      (kind == into_water ? from_below : from_above) = false;
    } else if (kind == in_water) {
      const Through seen = murky(water, std::min(s.depth[n], 20.0F), glow(s.lamp[n], 1, glow_at_m),
                                 {s.red[n], s.green[n], s.blue[n]});
      s.red[n] = seen.colour.r, s.green[n] = seen.colour.g, s.blue[n] = seen.colour.b;
      if (seen.share < seen_through) {
        s.fault[n] = 0;
        s.depth[n] = std::min(s.depth[n], glow_at_m);
        s.piece[n] = -1;
      }
    }
  }
  if (own.index.empty()) return;

  const int many = static_cast<int>(own.index.size());
  for (Samples* ray : {&own.mirrored, &own.bent}) {
    ray->resize(many);
    ray->pixel_size = s.pixel_size;
    ray->parallel = s.parallel;
  }
  own.lively.resize(own.mirrored.depth.size());
  own.mirror_share.resize(own.mirrored.depth.size());
  for (int k = 0; k < many; ++k) {
    const auto i = static_cast<std::size_t>(own.index[static_cast<std::size_t>(k)]);
    const auto to = static_cast<std::size_t>(k);
    const float t = own.surface[i];
    const float z = s.org_z[i] + t * s.dir_z[i];
    const int cell = std::clamp(static_cast<int>((z - water.start_m) / static_cast<float>(water_cell_m)), 0,
                                static_cast<int>(water.level.size()) - 1);
    own.lively[to] = water.liveliness[static_cast<std::size_t>(cell)];
    for (Samples* ray : {&own.mirrored, &own.bent}) {
      ray->org_x[to] = s.org_x[i] + t * s.dir_x[i];
      ray->org_y[to] = s.org_y[i] + t * s.dir_y[i];
      ray->org_z[to] = z;
      ray->dir_x[to] = s.dir_x[i], ray->dir_y[to] = s.dir_y[i], ray->dir_z[to] = s.dir_z[i];
      ray->travelled[to] = s.travelled[i] + t;
      ray->lamp[to] = s.lamp[i];
    }
  }
  own.mirrored.pad();
  own.bent.pad();
  std::fill(own.lively.begin() + many, own.lively.end(), 0.0F);
  HWY_DYNAMIC_DISPATCH(Scatter)
  (static_cast<float>(time_s), own.mirrored, own.bent, own.lively.data(), own.mirror_share.data());
  keep_rays(own.mirrored, own.mirrored_at, [&](std::size_t k) { return own.mirror_share[k] > hardly_shows; });
  keep_rays(own.bent, own.bent_at, [&](std::size_t k) { return own.mirror_share[k] < 1 - hardly_shows; });
  own.mirrored.black_beyond = from_below ? water.black_beyond : nothing_hit;
  own.bent.black_beyond = from_above ? water.black_beyond : nothing_hit;
  if (own.mirrored.count > 0) meet_solids(own.mirrored);
  if (own.bent.count > 0) meet_solids(own.bent);

  for (int k = 0; k < many; ++k) {
    const auto n = static_cast<std::size_t>(k);
    const auto i = static_cast<std::size_t>(own.index[n]);
    const float share = own.mirror_share[n], t = own.surface[i];
    const Samples &m = own.mirrored, &b = own.bent;
    Rgb mirror, deep;
    float mirror_way = 20, way = 20;
    std::uint16_t fault = 0;
    if (own.mirrored_at[n] >= 0) {
      const auto at = static_cast<std::size_t>(own.mirrored_at[n]);
      mirror = {m.red[at], m.green[at], m.blue[at]};
      mirror_way = std::min(m.depth[at], 20.0F);
    }
    if (own.bent_at[n] >= 0) {
      const auto at = static_cast<std::size_t>(own.bent_at[n]);
      deep = {b.red[at], b.green[at], b.blue[at]};
      way = b.depth[at];
      fault = b.fault[at];
    }
    Through seen;
    if (own.kind[i] == into_water) {
      seen = murky(water, std::min(way, 20.0F), glow(s.lamp[i], std::fabs(s.dir_y[i]), t + 0.05F), deep);
      seen.colour = share * mirror + (1 - share) * seen.colour;
    } else {
      // From below: both what is mirrored and the way to the surface lie in the water.
      const float fall = glow(s.lamp[i], 1, glow_at_m);
      mirror = murky(water, mirror_way, fall, mirror).colour;
      seen = murky(water, t, fall, share * mirror + (1 - share) * deep);
    }
    s.red[i] = seen.colour.r, s.green[i] = seen.colour.g, s.blue[i] = seen.colour.b;
    s.piece[i] = -1;
    const bool plain = seen.share * (1 - share) >= seen_through;
    s.fault[i] = plain ? fault : std::uint16_t{0};
    s.depth[i] = plain ? t + way : t;
  }
}

}  // namespace haunch::render
#endif
