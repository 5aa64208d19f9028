// SPDX-License-Identifier: Apache-2.0
// Paints on the wall what things do to it where they touch it, many samples at a time; exact arithmetic as in
// the wall pass.
#include <algorithm>
#include <cmath>

#include "render/contacts.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/contacts_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/lanes_simd.hpp"
#include "render/noise_simd.hpp"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

void PaintContactLanes(const Contact& mark, Samples& m, const Lanes& lanes) {
  const V zero = hn::Zero(F()), one = Set(1.0F);
  const VI one_i = hn::Set(I(), 1);
  const V z = lanes.get(m.wall_z), angle = lanes.get(m.wall_angle);
  const V p = (z - Set(mark.z0)) * Set(1 / mark.step), q = angle * Set(mark.columns_a_radian);
  const VI row = hn::Min(hn::ConvertTo(I(), p), hn::Set(I(), mark.rows - 2)),
           column = hn::Min(hn::ConvertTo(I(), q), hn::Set(I(), mark.columns - 1));
  const V u = p - hn::ConvertTo(F(), row), v = q - hn::ConvertTo(F(), column);
  const VI last = hn::Set(I(), mark.columns - 1), start = row * hn::Set(I(), mark.columns);
  const VI left = start + column,
           right = start + hn::IfThenElse(column == last, hn::Zero(I()), column + one_i);
  const auto at = [&](const std::vector<float>& grid) {
    const auto get = [&](int more, VI index) { return hn::GatherIndex(F(), grid.data() + more, index); };
    return Mix(Mix(get(0, left), get(0, right), v), Mix(get(mark.columns, left), get(mark.columns, right), v),
               u);
  };
  Colour wall{lanes.get(m.red), lanes.get(m.green), lanes.get(m.blue)};
  const V lies = mark.strewn.empty() ? zero : at(mark.strewn);
  if (!hn::AllFalse(F(), lies > zero)) {
    const V s = angle * Set(mark.wall), depth = lanes.get(m.depth);
    const V facing =
        zero - (lanes.get(m.dir_x) * lanes.get(m.normal_x) + lanes.get(m.dir_y) * lanes.get(m.normal_y) +
                lanes.get(m.dir_z) * lanes.get(m.normal_z));
    const V cosine = hn::Clamp(facing, Set(0.03F), one);
    const V pixel = (m.parallel ? Set(m.pixel_size) : Set(m.pixel_size) * depth) / cosine;
    // Streaks that the flow has drawn, and single grains as far as they can be seen.
    const V drawn = LayeredNoise(z * Set(1 / 0.060F), s * Set(1 / 0.009F), 0.3F, mark.seed + 11U);
    const V shown = hn::Clamp(Set(1.6F) - pixel * Set(1 / (3 * mark.grain_m)), zero, one);
    V grain = zero;
    if (!hn::AllFalse(F(), shown > zero))
      grain = shown * LayeredNoise(z * Set(1 / (1.6F * mark.grain_m)), s * Set(1 / mark.grain_m), 0.7F,
                                   mark.seed + 12U);
    const V thickly = Set(1.15F) * lies - Set(0.42F) + Set(0.55F) * drawn + Set(0.55F) * grain;
    V cover = hn::Clamp(Set(1.8F) * thickly, zero, one);
    cover = hn::IfThenElse(lies > zero, cover, zero);
    const Lamp lamp = LampOf(m, lanes, depth);
    const V bumpy = hn::Clamp(cosine * (one + Set(0.4F) * grain), Set(0.03F), one);
    const V body = lamp.Body(bumpy) * (one + Set(0.5F) * grain),
            shine = lamp.Shine(Set(mark.gloss), bumpy, Set(20.0F));
    wall = Mix(wall,
               {body * Set(mark.matter.r) + shine, body * Set(mark.matter.g) + shine,
                body * Set(mark.matter.b) + shine},
               cover);
  }
  const Colour light = Times(one - at(mark.dark), wall);
  lanes.put(light.r, m.red), lanes.put(light.g, m.green), lanes.put(light.b, m.blue);
}

void PaintContact(const Contact& mark, Samples& m) {
  ForLanesBetween(m, mark.z0, mark.z1, false, [&](const Lanes& lanes) { PaintContactLanes(mark, m, lanes); });
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(PaintContact);

void paint_contacts(const std::vector<Contact>& contacts, Samples& m) {
  if (contacts.empty()) return;
  float z0 = 1e9F, z1 = -1e9F;
  for (std::size_t i = 0; i < static_cast<std::size_t>(m.count); ++i)
    if (m.piece[i] >= 0) z0 = std::min(z0, m.wall_z[i]), z1 = std::max(z1, m.wall_z[i]);
  for (const Contact& mark : contacts)
    if (mark.z1 >= z0 && mark.z0 <= z1) HWY_DYNAMIC_DISPATCH(PaintContact)(mark, m);
}

}  // namespace haunch::render
#endif
