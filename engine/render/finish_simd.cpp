// SPDX-License-Identifier: Apache-2.0
// The picture's last steps, many pixels at a time; exact arithmetic as in the wall pass.
#include "render/finish.hpp"

#include <algorithm>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/finish_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// A film-like curve with a toe and a long shoulder that ends in sRGB without another step (J. Hejl
/// and R. Burgess-Dawson's fit, 2010, given away by its authors).
HWY_INLINE V Curve(V light) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  const V x = hn::Clamp(light - k(0.004F), k(0), k(1e4F));
  const V y = k(6.2F) * x;
  return x * (y + k(0.5F)) / (x * (y + k(1.7F)) + k(0.06F));
}

void Brightness(const std::uint32_t* light, int count, float* luma) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  for (int i = 0; i < count; i += lanes()) {
    V r, g, b;
    UnpackLight(hn::LoadU(U(), light + i), r, g, b);
    hn::StoreU(k(0.2126F) * r + k(0.7152F) * g + k(0.0722F) * b, F(), luma + i);
  }
}

void FindEdges(const EdgeRow& row, int count, float dark, std::uint8_t* edge) {
  const hn::Rebind<std::uint16_t, F> narrow;
  const hn::Rebind<std::uint8_t, F> bytes;
  const V floor = hn::Set(F(), dark), most = hn::Set(F(), 1e30F);
  for (int i = 0; i < count; i += lanes()) {
    const auto number = [&](const std::uint16_t* from) {
      return hn::PromoteTo(I(), hn::LoadU(narrow, from + i));
    };
    const VI own = number(row.fault);
    auto other = hn::Or(hn::Or(hn::Xor(own, number(row.fault - 1)), hn::Xor(own, number(row.fault + 1))),
                        hn::Or(hn::Xor(own, number(row.fault_above)), hn::Xor(own, number(row.fault_below))));
    const auto light = [&](const float* from) { return hn::LoadU(F(), from + i) + floor; };
    const V here = light(row.luma), a = light(row.luma - 1), b = light(row.luma + 1),
            c = light(row.luma_above), d = light(row.luma_below);
    const V high = hn::Max(hn::Max(a, b), hn::Max(c, d)), low = hn::Min(hn::Min(a, b), hn::Min(c, d));
    M jumps = hn::Or(high > here * hn::Set(F(), 1.9F), here > low * hn::Set(F(), 1.9F));
    const auto away = [&](const float* from) { return hn::Min(hn::LoadU(F(), from + i), most); };
    const V depth = away(row.depth),
            bend_x = hn::Abs(away(row.depth - 1) + away(row.depth + 1) - depth - depth),
            bend_y = hn::Abs(away(row.depth_above) + away(row.depth_below) - depth - depth);
    jumps = hn::Or(jumps, hn::Max(bend_x, bend_y) > depth * hn::Set(F(), 0.06F));
    other = hn::IfThenElse(hn::RebindMask(I(), jumps), hn::Set(I(), 1), other);
    hn::StoreU(hn::DemoteTo(bytes, hn::Min(hn::Abs(other), hn::Set(I(), 255))), bytes, edge + i);
  }
}

HWY_INLINE VU ToneOf(V red, V green, V blue, float gain) {
  const V g = hn::Set(F(), gain), most = hn::Set(F(), 1023.0F), half = hn::Set(F(), 0.5F);
  // Small cameras see less colour than eyes do, and their lamps are cold.
  const V grey = hn::Set(F(), 0.10F), keep = hn::Set(F(), 0.90F);
  const V r = red * g, gr = green * g, b = blue * g * hn::Set(F(), 1.03F);
  const V luma = (hn::Set(F(), 0.30F) * r + hn::Set(F(), 0.59F) * gr + hn::Set(F(), 0.11F) * b) * grey;
  const auto ten = [&](V x) {
    return hn::BitCast(U(), hn::ConvertTo(I(), Curve(x * keep + luma) * most + half));
  };
  return hn::Or(ten(r), hn::Or(hn::ShiftLeft<10>(ten(gr)), hn::ShiftLeft<20>(ten(b))));
}

void Tone(const std::uint32_t* light, int count, float gain, std::uint32_t* out) {
  for (int i = 0; i < count; i += lanes()) {
    V r, g, b;
    UnpackLight(hn::LoadU(U(), light + i), r, g, b);
    hn::StoreU(ToneOf(r, g, b, gain), U(), out + i);
  }
}

std::uint32_t ToneOne(float red, float green, float blue, float gain) {
  return hn::GetLane(ToneOf(hn::Set(F(), red), hn::Set(F(), green), hn::Set(F(), blue), gain));
}

void DevelopRow(const std::uint32_t* toned, int width, int height, int row, const LensMap* map,
                const float* glow, float grain, std::uint32_t grain_seed, std::uint8_t* rgb) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  const VI ten = hn::Set(I(), 1023);
  const auto* words = reinterpret_cast<const std::int32_t*>(toned);
  const auto channel = [&](VI word, int which) {
    return hn::ConvertTo(F(), (which == 0   ? word
                               : which == 1 ? hn::ShiftRight<10>(word)
                                            : hn::ShiftRight<20>(word)) &
                                  ten);
  };
  const int row_start = row * width;
  for (int x = 0; x < width; x += lanes()) {
    V colour[3];
    const VI at = hn::Iota(I(), row_start + x);
    if (map != nullptr) {
      const hn::Rebind<std::uint16_t, F> narrow;
      const hn::Rebind<std::uint8_t, F> narrowest;
      const auto from_map = static_cast<std::size_t>(row_start + x);
      const auto place = [&](const std::vector<std::uint16_t>& map_of, int size) {
        const V there =
            hn::ConvertTo(F(), hn::PromoteTo(I(), hn::LoadU(narrow, &map_of[from_map]))) * k(1 / 16.0F);
        return hn::Min(there, k(static_cast<float>(size) - 1.01F));
      };
      const V sx = place(map->x, width), sy = place(map->y, height);
      const V bright = hn::ConvertTo(F(), hn::PromoteTo(I(), hn::LoadU(narrowest, &map->bright[from_map]))) *
                       k(static_cast<float>(1 / undimmed));
      const V fx = hn::Floor(sx), fy = hn::Floor(sy);
      const V wx = sx - fx, wy = sy - fy;
      const VI from = hn::ConvertTo(I(), fy) * hn::Set(I(), width) + hn::ConvertTo(I(), fx);
      const VI a = hn::GatherIndex(I(), words, from), b = hn::GatherIndex(I(), words + 1, from),
               c = hn::GatherIndex(I(), words + width, from),
               d = hn::GatherIndex(I(), words + width + 1, from);
      for (int ch = 0; ch < 3; ++ch) {
        const V ca = channel(a, ch), cb = channel(b, ch), cc = channel(c, ch), cd = channel(d, ch);
        const V top = ca + (cb - ca) * wx, low = cc + (cd - cc) * wx;
        colour[ch] = top + (low - top) * wy;
      }
      if (glow != nullptr) {
        const auto share = [&](const std::vector<std::uint8_t>& of) {
          return hn::ConvertTo(F(), hn::PromoteTo(I(), hn::LoadU(narrowest, &of[from_map]))) * k(1 / 255.0F);
        };
        const V cover = share(map->cover), brown = share(map->brown);
        for (int ch = 0; ch < 3; ++ch) {
          const V film = hn::LoadU(F(), glow + static_cast<std::size_t>(ch) * glow_plane(width) + x) *
                         (k(1) - k(dirt_takes[ch]) * brown);
          colour[ch] = colour[ch] + (film - colour[ch]) * cover;
        }
      }
      for (V& light : colour) light = hn::Min(light * bright, k(1023));
    } else {
      const VI word = hn::LoadU(I(), words + row_start + x);
      for (int ch = 0; ch < 3; ++ch) colour[ch] = channel(word, ch);
    }
    if (grain > 0) {
      // Brightness noise of three numbers, and a little of its own in each colour; more in the dark.
      const VI bits = hn::BitCast(
          I(), Scramble(hn::BitCast(U(), at) * hn::Set(U(), 0x9e3779b1U) + hn::Set(U(), grain_seed)));
      const V own[3] = {channel(bits, 0), channel(bits, 1), channel(bits, 2)};
      const V shared = own[0] + own[1] + own[2] - k(3 * 511.5F);
      const V dark = (k(1.35F) - colour[1] * k(0.0009F)) * k(grain / 1023.0F);
      for (int ch = 0; ch < 3; ++ch)
        colour[ch] = colour[ch] + (shared + k(0.8F) * (own[ch] - k(511.5F))) * dark;
    }
    const hn::Rebind<std::uint8_t, F> bytes;
    const auto byte = [&](V c) {
      return hn::DemoteTo(bytes,
                          hn::ConvertTo(I(), hn::Clamp(c * k(255.0F / 1023.0F), k(0), k(255)) + k(0.5F)));
    };
    const auto r = byte(colour[0]), g = byte(colour[1]), b = byte(colour[2]);
    std::uint8_t* to = rgb + 3 * static_cast<std::size_t>(row_start + x);
    const int left = width - x;
    // Few lanes of bytes are stored with a tail, so the row's last pixels always go one by one.
    if (lanes() == 16 && left > 16) {
      hn::StoreInterleaved3(r, g, b, bytes, to);
      continue;
    }
    alignas(64) std::uint8_t planes[3][16];
    hn::StoreU(r, bytes, planes[0]), hn::StoreU(g, bytes, planes[1]), hn::StoreU(b, bytes, planes[2]);
    for (int n = 0; n < std::min(left, lanes()); ++n)
      for (int ch = 0; ch < 3; ++ch) to[3 * n + ch] = planes[ch][n];
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(Brightness);
HWY_EXPORT(FindEdges);
HWY_EXPORT(Tone);
HWY_EXPORT(ToneOne);
HWY_EXPORT(DevelopRow);

void brightness(const std::uint32_t* light, int count, float* luma) {
  HWY_DYNAMIC_DISPATCH(Brightness)(light, count, luma);
}
void find_edges(const EdgeRow& row, int count, float dark, std::uint8_t* edge) {
  HWY_DYNAMIC_DISPATCH(FindEdges)(row, count, dark, edge);
}
void tone(const std::uint32_t* light, int count, float gain, std::uint32_t* out) {
  HWY_DYNAMIC_DISPATCH(Tone)(light, count, gain, out);
}
std::uint32_t tone_one(Rgb light, float gain) {
  return HWY_DYNAMIC_DISPATCH(ToneOne)(light.r, light.g, light.b, gain);
}
void develop_row(const std::uint32_t* toned, int width, int height, int row, const LensMap* map,
                 const float* glow, float grain, std::uint32_t grain_seed, std::uint8_t* rgb) {
  HWY_DYNAMIC_DISPATCH(DevelopRow)(toned, width, height, row, map, glow, grain, grain_seed, rgb);
}

}  // namespace haunch::render
#endif
