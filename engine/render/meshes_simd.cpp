// SPDX-License-Identifier: Apache-2.0
// Compiled once for each instruction set; plain arithmetic only, so that every set gives the same
// bits.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "render/meshes_grain.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/meshes_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Noise at a place of its block, and its slope.
struct Bump {
  V value, x, y, z;
};
HWY_INLINE Bump BumpAt(const float* cells, V x, V y, V z) {
  const F f;
  const I i;
  const V fx = hn::Floor(x), fy = hn::Floor(y), fz = hn::Floor(z);
  const V u = x - fx, v = y - fy, w = z - fz;
  const VI last = hn::Set(i, grain_side - 1), one = hn::Set(i, 1);
  const VI ix = hn::And(hn::ConvertTo(i, fx), last), iy = hn::And(hn::ConvertTo(i, fy), last),
           iz = hn::And(hn::ConvertTo(i, fz), last);
  const VI jx = hn::And(hn::Add(ix, one), last), jy = hn::And(hn::Add(iy, one), last),
           jz = hn::And(hn::Add(iz, one), last);
  const VI y0 = hn::ShiftLeft<6>(iy), y1 = hn::ShiftLeft<6>(jy), z0 = hn::ShiftLeft<12>(iz),
           z1 = hn::ShiftLeft<12>(jz);
  const auto at = [&](VI a, VI b, VI c) { return hn::GatherIndex(f, cells, hn::Add(hn::Add(a, b), c)); };
  const V c000 = at(ix, y0, z0), c100 = at(jx, y0, z0), c010 = at(ix, y1, z0), c110 = at(jx, y1, z0);
  const V c001 = at(ix, y0, z1), c101 = at(jx, y0, z1), c011 = at(ix, y1, z1), c111 = at(jx, y1, z1);
  const V d00 = c100 - c000, d10 = c110 - c010, d01 = c101 - c001, d11 = c111 - c011;
  const V x00 = c000 + u * d00, x10 = c010 + u * d10, x01 = c001 + u * d01, x11 = c011 + u * d11;
  const V e0 = x10 - x00, e1 = x11 - x01;
  const V low = x00 + v * e0, high = x01 + v * e1;
  const V s0 = d00 + v * (d10 - d00), s1 = d01 + v * (d11 - d01);
  return {low + w * (high - low), s0 + w * (s1 - s0), e0 + w * (e1 - e0), high - low};
}

template <class Number>
struct Vector {
  Number x, y, z;
};
template <class Number>
HWY_INLINE Vector<Number> operator-(const Vector<Number>& a, const Vector<Number>& b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
template <class Number>
HWY_INLINE Number Dot(const Vector<Number>& a, const Vector<Number>& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
template <class Number>
HWY_INLINE Vector<Number> Cross(const Vector<Number>& a, const Vector<Number>& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

/// In double precision: where two triangles meet it must not show which of them was met.
void SettleLanes(ShadeGroup& g) {
  const hn::CappedTag<double, 8> d;
  const hn::Rebind<float, decltype(d)> f;
  const auto zero = hn::Zero(d), one = hn::Set(d, 1.0);
  for (int n = 0; n < shade_lanes; n += static_cast<int>(hn::Lanes(d))) {
    const auto load = [&](const float* from) { return hn::PromoteTo(d, hn::Load(f, from + n)); };
    using Number = decltype(hn::Zero(d));
    const auto corner = [&](const float(&from)[3][shade_lanes]) {
      return Vector<Number>{load(from[0]), load(from[1]), load(from[2])};
    };
    const Vector<Number> origin{load(g.x), load(g.y), load(g.z)}, way{load(g.dx), load(g.dy), load(g.dz)};
    const Vector<Number> a = corner(g.a), ab = corner(g.b) - a, ac = corner(g.c) - a;
    const Vector<Number> p = Cross(way, ac), from = origin - a, q = Cross(from, ab);
    const auto turned = Dot(ab, p);
    const auto per = hn::IfThenElse(turned == zero, zero, one / turned);
    const auto depth = Dot(ac, q) * per;
    const auto met = depth > zero;  // or else it is seen edge on
    const auto settle = [&](auto now, float* to) {
      hn::Store(hn::DemoteTo(f, hn::IfThenElse(met, now, load(to))), f, to + n);
    };
    settle(depth, g.depth);
    settle(hn::Clamp(Dot(from, p) * per, zero, one), g.share_b);
    settle(hn::Clamp(Dot(way, q) * per, zero, one), g.share_c);
  }
}

void ShadeLanes(const GrainNoise& noise, float pixel_a_metre, float pixel_m, ShadeGroup& g) {
  static_assert(grain_side == 64, "the shifts above say so");
  const F f;
  const auto k = [&](float v) { return hn::Set(f, v); };
  const V zero = hn::Zero(f), one = k(1.0F);
  const float* cells = noise.cells.data();
  for (int n = 0; n < shade_lanes; n += lanes()) {
    const auto load = [&](const float* from) { return hn::Load(f, from + n); };
    const Vector<V> way{load(g.dx), load(g.dy), load(g.dz)};
    const V depth = load(g.depth), pixel = k(pixel_a_metre) * depth + k(pixel_m);
    const V x = load(g.x) + depth * way.x, y = load(g.y) + depth * way.y, z = load(g.z) + depth * way.z;
    V bx = zero, by = zero, bz = zero, speck = zero, gloss = load(g.gloss);
    const auto add = [&](V cell, V slope, float share) {
      const V seen = hn::Clamp(k(1.5F) - pixel / (cell + cell), zero, one);
      if (hn::AllFalse(f, seen > zero)) return;
      const Bump b = BumpAt(cells, x / cell, y / cell, z / cell);
      const V strength = k(2.0F) * slope * seen;
      bx = bx + strength * b.x, by = by + strength * b.y, bz = bz + strength * b.z;
      speck = speck + k(share) * seen * b.value;
    };
    const V cell = load(g.cell);
    add(cell, load(g.slope), 0.6F);
    add(k(0.37F) * cell, load(g.fine), 0.4F);
    const V smear = load(g.smear);
    if (!hn::AllFalse(f, smear > zero)) {
      const V broad = k(9.2F) * cell;
      const V value = smear * BumpAt(cells, x / broad, y / broad, z / broad).value;
      speck = speck + k(0.5F) * value;
      gloss = gloss * hn::Clamp(one + k(0.7F) * value, k(0.2F), k(1.7F));
    }
    // Only the part of the slope that lies in the surface bends it.
    const Vector<V> smooth{load(g.nx), load(g.ny), load(g.nz)};
    // The side that was hit faces the ray.
    const auto corner = [&](const float(&from)[3][shade_lanes]) {
      return Vector<V>{load(from[0]), load(from[1]), load(from[2])};
    };
    const Vector<V> a = corner(g.a), face = Cross(corner(g.b) - a, corner(g.c) - a);
    const M along = Dot(face, smooth) > zero, away = Dot(face, way) > zero;
    const V turn = hn::IfThenElse(hn::Xor(along, away), one, k(-1.0F)) /
                   hn::Sqrt(hn::Max(Dot(smooth, smooth), k(1e-12F)));
    V nx = turn * smooth.x, ny = turn * smooth.y, nz = turn * smooth.z;
    const V up = bx * nx + by * ny + bz * nz;
    nx = nx - (bx - up * nx), ny = ny - (by - up * ny), nz = nz - (bz - up * nz);
    const V inverse = one / hn::Sqrt(hn::Max(nx * nx + ny * ny + nz * nz, k(1e-12F)));
    nx = nx * inverse, ny = ny * inverse, nz = nz * inverse;
    hn::Store(nx, f, g.nx + n);
    hn::Store(ny, f, g.ny + n);
    hn::Store(nz, f, g.nz + n);
    // The lamp, as lit() has it.
    const V cosine = hn::Clamp(zero - (nx * way.x + ny * way.y + nz * way.z), k(0.03F), one);
    const V reach = hn::Max(load(g.travelled) + depth, k(lamp_nearest_m));
    const V fall = load(g.lamp) / (reach * reach);
    const V body = k(rough_share) * hn::Sqrt(cosine) + k(1 - rough_share) * cosine;
    static_assert(mesh_shine == 16, "five squarings make the power of 32");
    V shine = Square(Square(Square(Square(Square(cosine)))));
    shine = shine * gloss * k(highlight_strength);
    const V shade = body * hn::Max(k(0.15F), one + k(2.0F) * load(g.speckle) * speck);
    for (float* channel : {g.red, g.green, g.blue})
      hn::Store(fall * (shade * load(channel) + shine), f, channel + n);
  }
}

/// The box of the rays' starts and ends.
void BoxOfRays(const Samples& m, float* low, float* high) {
  const F f;
  const std::vector<float>* const starts[] = {&m.org_x, &m.org_y, &m.org_z};
  const std::vector<float>* const ways[] = {&m.dir_x, &m.dir_y, &m.dir_z};
  for (int axis = 0; axis < 3; ++axis) {
    V least = hn::Set(f, 1e9F), most = hn::Set(f, -1e9F);
    // Idle lanes may add an end to the box, never take one away.
    for (int n = 0; n < m.count; n += lanes()) {
      const V from = hn::LoadU(f, starts[axis]->data() + n);
      const V to = from + hn::Min(hn::LoadU(f, m.depth.data() + n), hn::Set(f, 50.0F)) *
                              hn::LoadU(f, ways[axis]->data() + n);
      least = hn::Min(least, hn::Min(from, to));
      most = hn::Max(most, hn::Max(from, to));
    }
    low[axis] = hn::GetLane(hn::MinOfLanes(f, least));
    high[axis] = hn::GetLane(hn::MaxOfLanes(f, most));
  }
}

int RaysThrough(const Samples& m, const float* low, const float* high, std::int32_t* found) {
  const F f;
  const I i;
  const auto k = [&](float v) { return hn::Set(f, v); };
  int count = 0;
  for (int n = 0; n < m.count; n += lanes()) {
    const auto load = [&](const std::vector<float>& from) { return hn::LoadU(f, from.data() + n); };
    V in = hn::Zero(f), out = load(m.depth);
    const auto narrow = [&](V o, V d, float from, float to) {
      const V inverse = k(1.0F) / hn::IfThenElse(hn::Abs(d) > k(1e-9F), d, k(1e-9F));
      const V a = (k(from) - o) * inverse, b = (k(to) - o) * inverse;
      in = hn::Max(in, hn::Min(a, b));
      out = hn::Min(out, hn::Max(a, b));
    };
    narrow(load(m.org_x), load(m.dir_x), low[0], high[0]);
    narrow(load(m.org_y), load(m.dir_y), low[1], high[1]);
    narrow(load(m.org_z), load(m.dir_z), low[2], high[2]);
    const VI index = hn::Iota(i, n);
    const auto through = hn::And(hn::RebindMask(i, in <= out), hn::Lt(index, hn::Set(i, m.count)));
    count += static_cast<int>(hn::CompressStore(index, through, i, found + count));
  }
  return count;
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {
HWY_EXPORT(SettleLanes);
HWY_EXPORT(ShadeLanes);
HWY_EXPORT(RaysThrough);
HWY_EXPORT(BoxOfRays);
void settle_group(ShadeGroup& group) { HWY_DYNAMIC_DISPATCH(SettleLanes)(group); }
void shade_group(const GrainNoise& noise, float pixel, float pixel_m, ShadeGroup& group) {
  HWY_DYNAMIC_DISPATCH(ShadeLanes)(noise, pixel, pixel_m, group);
}
int rays_through(const Samples& samples, const float* low, const float* high, std::int32_t* found) {
  return HWY_DYNAMIC_DISPATCH(RaysThrough)(samples, low, high, found);
}
void box_of_rays(const Samples& samples, float* low, float* high) {
  HWY_DYNAMIC_DISPATCH(BoxOfRays)(samples, low, high);
}
}  // namespace haunch::render
#endif
