// SPDX-License-Identifier: Apache-2.0
// Meets the wall with eight or sixteen rays at a time. Compiled once for each
// instruction set; the machine's best is picked at run time. Plain multiply, add, divide and square
// root only (no fused or approximate ones), so every set gives the same bits.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "render/wall.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/wall_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

void MakeRays(const RayCamera& camera, const float* px, const float* py, int count, Samples& s) {
  s.resize(count);
  s.parallel = camera.parallel;
  s.pixel_size = static_cast<float>(2 * camera.half_width / camera.width);
  s.right_x = static_cast<float>(camera.right.x), s.right_y = static_cast<float>(camera.right.y),
  s.right_z = static_cast<float>(camera.right.z);
  const auto f = [](double x) { return hn::Set(F(), static_cast<float>(x)); };
  const V one = hn::Set(F(), 1.0F);
  const V kx = f(2 * camera.half_width / camera.width), ky = f(-2 * camera.half_height / camera.height);
  const V bx = f(-camera.half_width), by = f(camera.half_height);
  for (int i = 0; i < count; i += lanes()) {
    // The caller's arrays are padded as Samples are.
    const V x = hn::LoadU(F(), px + i) * kx + bx, y = hn::LoadU(F(), py + i) * ky + by;
    const V ax = x * f(camera.right.x) + y * f(camera.up.x), ay = x * f(camera.right.y) + y * f(camera.up.y),
            az = x * f(camera.right.z) + y * f(camera.up.z);
    V dx = f(camera.forward.x), dy = f(camera.forward.y), dz = f(camera.forward.z);
    V ox = f(camera.lens.x), oy = f(camera.lens.y), oz = f(camera.lens.z);
    V beam = one;
    if (camera.parallel) {
      ox = ox + ax, oy = oy + ay, oz = oz + az;
    } else {
      dx = dx + ax, dy = dy + ay, dz = dz + az;
      const V k = one / hn::Sqrt(dx * dx + dy * dy + dz * dz);
      dx = dx * k, dy = dy * k, dz = dz * k;
      // The lamps shine ahead: strongest on the axis, a twentieth in the corners.
      const V c2 = k * k;
      beam = hn::Set(F(), 0.05F) + hn::Set(F(), 0.95F) * (c2 * c2 * c2 * c2);
    }
    hn::StoreU(ox, F(), &s.org_x[i]);
    hn::StoreU(oy, F(), &s.org_y[i]);
    hn::StoreU(oz, F(), &s.org_z[i]);
    hn::StoreU(dx, F(), &s.dir_x[i]);
    hn::StoreU(dy, F(), &s.dir_y[i]);
    hn::StoreU(dz, F(), &s.dir_z[i]);
    hn::StoreU(beam, F(), &s.lamp[i]);
    hn::StoreU(hn::Zero(F()), F(), &s.travelled[i]);
  }
  s.pad();
}

struct Rays {
  V ox, oy, oz, dx, dy, dz;
};

/// Where rays are across a stretch that is not round.
struct Across {
  V qx, qy, ex, ey, along, dz;
};

/// How far outside the stretch's section: negative in the clear, 0 at the wall, about 2 for each radius
/// beyond it. `grows` is its growth along the ray.
enum class Section { oval, hinged, egg, box };

/// Egg and box: the distance to the wall, taken as the rest: about 2 for each radius beyond it.
template <Section section>
HWY_INLINE V OutsideFixed(const Stretch& st, V x, V y, V ex, V ey, V& grows) {
  const V zero = hn::Zero(F()), one = hn::Set(F(), 1.0F), wide = hn::Set(F(), st.wide),
          behind = hn::Set(F(), st.behind), per = hn::Set(F(), 2 / st.wide);
  const V side_x = hn::CopySign(one, x), ax = hn::Abs(x);
  if constexpr (section == Section::box) {
    const V across = ax - wide, up = hn::Abs(y) - hn::Set(F(), st.high);
    const M beside = across > up;
    grows = per * hn::IfThenElse(beside, side_x * ex, hn::CopySign(one, y) * ey);
    return per * (hn::Max(across, up) - behind);
  }
  // Crown, sides and invert are arcs; each rules where its own centre sees it.
  const V over = y - hn::Set(F(), 0.5F * st.wide), far = ax + wide + wide;
  const M crown = over >= zero;
  const M invert = over < hn::Set(F(), -0.75F) * far;
  const V px = hn::IfThenElse(hn::Or(crown, invert), ax, far);
  const V py = hn::IfThenElse(invert, over + hn::Set(F(), 1.5F * st.wide), over);
  const V radius =
      hn::IfThenElse(crown, wide, hn::IfThenElse(invert, hn::Set(F(), 0.5F * st.wide), wide + wide + wide));
  const V away = hn::Sqrt(hn::Max(px * px + py * py, hn::Set(F(), 1e-12F)));
  grows = per * ((px * side_x * ex + py * ey) / away);
  return per * (away - radius - behind);
}

template <Section section>
HWY_INLINE V Outside(const Stretch& st, const Across& a, V t, V& grows) {
  const V one = hn::Set(F(), 1.0F), two = hn::Set(F(), 2.0F);
  const V x = a.qx + t * a.ex, y = a.qy + t * a.ey, along = a.along + t * a.dz;
  if constexpr (section == Section::egg || section == Section::box)
    return OutsideFixed<section>(st, x, y, a.ex, a.ey, grows);
  const V wide_slope = hn::Set(F(), st.wide_slope) * a.dz;
  const V wide = hn::Set(F(), st.wide) + hn::Set(F(), st.wide_slope) * along;
  if constexpr (section == Section::hinged) {
    const V per_square = one / hn::Set(F(), st.radius * st.radius);
    const V side_x = hn::CopySign(one, x), side_y = hn::CopySign(one, y);
    const V px = hn::Abs(x) - wide, py = hn::Abs(y) + wide;
    grows = two * per_square * (px * (side_x * a.ex - wide_slope) + py * (side_y * a.ey + wide_slope));
    return (px * px + py * py) * per_square - one;
  }
  const V high_slope = hn::Set(F(), st.high_slope) * a.dz;
  const V high = hn::Set(F(), st.high) + hn::Set(F(), st.high_slope) * along;
  grows = two * (x * a.ex * wide + y * a.ey * high) + x * x * wide_slope + y * y * high_slope;
  return x * x * wide + y * y * high - one;
}

/// Between t_in, inside, and t_end, outside: the wall. Newton's steps from outside, halving where one
/// would leave the bracket.
template <Section section>
HWY_INLINE V MeetShape(const Stretch& st, const Across& a, V t_in, V t_end) {
  V low = t_in, high = t_end, t = t_end;
  for (int i = 0; i < 9; ++i) {
    V grows;
    const V out = Outside<section>(st, a, t, grows);
    const M beyond = out > hn::Zero(F());
    high = hn::IfThenElse(beyond, t, high);
    low = hn::IfThenElse(beyond, low, t);
    const V next = t - out / hn::Max(grows, hn::Set(F(), 1e-6F));
    const V middle = hn::Set(F(), 0.5F) * (low + high);
    t = hn::IfThenElse(hn::And(next >= low, next <= high), next, middle);
  }
  return t;
}

struct Met {
  M face, wall;
  V t_in, t_wall;
};

/// A stretch whose sections are not round: the end planes decide, then the wall is found between them.
template <Section section>
HWY_INLINE Met MeetStretch(const Stretch& st, const Across& a, M here, M enters, V t_in, V t_plane) {
  const V zero = hn::Zero(F());
  V grows;
  // As far as a ray can go at all before it leaves the widest section.
  const V speed2 = hn::Max(a.ex * a.ex + a.ey * a.ey, hn::Set(F(), 1e-12F));
  const V most = hn::Set(F(), 8 * st.radius) / hn::Sqrt(speed2);
  const V t_end = hn::Max(hn::Min(t_plane, t_in + most), t_in);
  Met met;
  met.t_in = met.t_wall = t_in;
  // 1e-5 m outside.
  const V slack = hn::Set(F(), 2e-5F / st.radius);
  met.face = hn::And(enters, Outside<section>(st, a, t_in, grows) > slack);
  met.wall = hn::AndNot(met.face, hn::And(here, Outside<section>(st, a, t_end, grows) >= zero));
  if (!hn::AllFalse(F(), met.wall)) met.t_wall = MeetShape<section>(st, a, t_in, t_end);
  return met;
}

/// Walks along the stretches from the rays' start. `sign` +1: rays going downstream.
/// place = 2 * stretch + (1 for its end face).
HWY_INLINE void Walk(const Wall& wall, const Rays& r, float sign, int first, V& depth, VI& place) {
  const V zero = hn::Zero(F());
  M open = sign > 0 ? r.dz >= zero : r.dz < zero;
  const int count = static_cast<int>(wall.stretches.size()), step = sign > 0 ? 1 : -1;
  const V slack = hn::Set(F(), 1e-5F);
  for (int k = first; k >= 0 && k < count && !hn::AllFalse(F(), open); k += step) {
    const Stretch& st = wall.stretches[static_cast<std::size_t>(k)];
    const V z0 = hn::Set(F(), st.z0), near_z = hn::Set(F(), sign > 0 ? st.z0 : st.z1),
            end_z = hn::Set(F(), sign > 0 ? st.z1 : st.z0);
    const M here = hn::And(open, sign > 0 ? r.oz < end_z : r.oz > end_z);
    if (hn::AllFalse(F(), here)) continue;
    const V sx = hn::Set(F(), st.slope_x), sy = hn::Set(F(), st.slope_y), radius = hn::Set(F(), st.radius);
    const auto note_place = [&](M face, M wall_hit, M enters, V t_in) {
      const M hit = hn::Or(face, wall_hit);
      const VI note = hn::IfThenElse(hn::RebindMask(I(), face), hn::Set(I(), 2 * k + 1), hn::Set(I(), 2 * k));
      place = hn::IfThenElse(hn::RebindMask(I(), hit), note, place);
      open = hn::AndNot(hit, open);
      const M too_far = hn::And(enters, t_in > hn::Set(F(), static_cast<float>(sight_m)));
      open = hn::AndNot(too_far, open);
    };
    const V along = r.oz - z0;
    const V qx = r.ox - hn::Set(F(), st.centre_x) - sx * along,
            qy = r.oy - hn::Set(F(), st.centre_y) - sy * along;
    const V ex = r.dx - sx * r.dz, ey = r.dy - sy * r.dz;
    // Where the ray comes in through the plane between two stretches: inside the next bore?
    const M enters = hn::And(here, sign > 0 ? r.oz < near_z : r.oz > near_z);
    const V t_in = hn::IfThenElse(enters, (near_z - r.oz) / r.dz, zero);
    if (st.shape != round_bore) {
      const Across across{qx, qy, ex, ey, along, r.dz};
      const V t_plane = hn::Abs(end_z - r.oz) / hn::Max(hn::Abs(r.dz), hn::Set(F(), 1e-9F));
      const auto meet = [&]<Section section>() {
        return MeetStretch<section>(st, across, here, enters, t_in, t_plane);
      };
      const Met met = st.shape == oval_bore     ? meet.template operator()<Section::oval>()
                      : st.shape == hinged_bore ? meet.template operator()<Section::hinged>()
                      : st.shape == egg_bore    ? meet.template operator()<Section::egg>()
                                                : meet.template operator()<Section::box>();
      depth = hn::IfThenElse(met.face, met.t_in, hn::IfThenElse(met.wall, met.t_wall, depth));
      note_place(met.face, met.wall, enters, t_in);
      continue;
    }
    // A ray exactly along the bore meets its wall far beyond all sight, not at once.
    const V a = hn::Max(ex * ex + ey * ey, hn::Set(F(), 1e-12F)), b = qx * ex + qy * ey,
            c = qx * qx + qy * qy - radius * radius;
    const V inx = qx + t_in * ex, iny = qy + t_in * ey, most = radius + slack;
    const M face = hn::And(enters, inx * inx + iny * iny > most * most);
    const V root = hn::Sqrt(hn::Max(b * b - a * c, zero));
    const V t_out = hn::Max(hn::IfThenElse(b > zero, zero - c / (b + root), (root - b) / a), t_in);
    const V z_out = r.oz + t_out * r.dz;
    const M wall_hit = hn::AndNot(face, hn::And(here, sign > 0 ? z_out <= end_z : z_out >= end_z));
    depth = hn::IfThenElse(face, t_in, hn::IfThenElse(wall_hit, t_out, depth));
    note_place(face, wall_hit, enters, t_in);
  }
}

void WalkWall(const Wall& wall, Samples& s) {
  const int count = static_cast<int>(wall.stretches.size());
  const auto stretch_at = [&](float z) {
    const auto it = std::upper_bound(wall.stretches.begin(), wall.stretches.end(), z,
                                     [](float at, const Stretch& st) { return at < st.z0; });
    return std::clamp(static_cast<int>(it - wall.stretches.begin()) - 1, 0, count - 1);
  };
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) { return hn::LoadU(F(), &from[i]); };
    const Rays r{load(s.org_x), load(s.org_y), load(s.org_z), load(s.dir_x), load(s.dir_y), load(s.dir_z)};
    V depth = hn::Set(F(), nothing_hit);
    VI place = hn::Set(I(), -1);
    const float least = hn::GetLane(hn::MinOfLanes(F(), r.oz)), most = hn::GetLane(hn::MaxOfLanes(F(), r.oz));
    Walk(wall, r, 1, stretch_at(least), depth, place);
    Walk(wall, r, -1, stretch_at(most), depth, place);
    hn::StoreU(depth, F(), &s.depth[i]);
    hn::StoreU(place, I(), &s.place[i]);
    hn::StoreU(hn::Set(F(), s.black_beyond), F(), &s.unseen[i]);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(MakeRays);
HWY_EXPORT(WalkWall);

void make_rays(const RayCamera& camera, const float* px, const float* py, int count, Samples& samples) {
  HWY_DYNAMIC_DISPATCH(MakeRays)(camera, px, py, count, samples);
}
void walk_wall(const Wall& wall, Samples& samples) { HWY_DYNAMIC_DISPATCH(WalkWall)(wall, samples); }

}  // namespace haunch::render
#endif
