// SPDX-License-Identifier: Apache-2.0
// The haze by vectors; plain arithmetic, so the same everywhere.
#include "render/haze.hpp"

#include <algorithm>
#include <cmath>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/haze_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

#ifndef HAUNCH_HAZE_LIMITS
#define HAUNCH_HAZE_LIMITS
namespace haunch::render {
constexpr float haze_hides =
    0.12F;  // less than this of the light left: nothing behind it is seen (as in water)
constexpr float haze_stands = 0.5F;  // from here the haze itself is what one sees where there is no fault
constexpr float lamps_cross_m =
    0.05F;  // the lamps stand round the lens: nearer than this they light nothing (ours)
}  // namespace haunch::render
#endif

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

HWY_INLINE V Just(float c) { return hn::Set(F(), c); }

/// What is left behind x of haze.
HWY_INLINE V LeftBehind(V x) {
  const V a = Just(1) + Just(0.125F) * x, b = a * a, c = b * b;
  return Just(1) / (c * c);
}

HWY_INLINE V SumTo(const HazeTable& h, V z) {
  const auto most = static_cast<float>(h.sum.size()) - 1.01F;
  const V at = hn::Clamp(z * Just(static_cast<float>(1 / haze_cell_m)), hn::Zero(F()), Just(most));
  const V cell = hn::Floor(at);
  const VI from = hn::ConvertTo(I(), cell);
  const V a = hn::GatherIndex(F(), h.sum.data(), from), b = hn::GatherIndex(F(), h.sum.data() + 1, from);
  return a + (b - a) * (at - cell);
}
HWY_INLINE VI CellOf(const HazeTable& h, V z) {
  return hn::ConvertTo(I(), hn::Clamp(z * Just(static_cast<float>(1 / haze_cell_m)), hn::Zero(F()),
                                      Just(static_cast<float>(h.thick.size()) - 1)));
}

/// Billows: thicker and thinner about 1, as large as the distance they hang at asks for.
HWY_INLINE V Billow(V x, V y, V z, float size, float time_s, float seed) {
  const float k = 6.2831853F / size;
  const V slow =
      Sine(Just(0.7F * k) * x + Just(0.5F * k) * y - Just(0.4F * k) * z + Just(0.6F * time_s + seed));
  const V wide = Sine(Just(0.9F * k) * y - Just(0.6F * k) * x + Just(0.5F * k) * z + Just(1.7F) * slow +
                      Just(1.3F * seed - 0.9F * time_s));
  const V fine = Sine(Just(2.1F * k) * x + Just(1.7F * k) * y + Just(1.3F * k) * z + Just(2.2F) * wide +
                      Just(2.1F * seed - 1.4F * time_s));
  const V finer = Sine(Just(4.3F * k) * y - Just(3.7F * k) * x + Just(2.6F * k) * z + Just(1.9F) * fine);
  return hn::Max(Just(1) + Just(0.42F) * wide + Just(0.34F) * fine + Just(0.20F) * finer, Just(0.08F));
}

void GoThrough(const HazeTable& h, float time_s, Samples& s) {
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) {
      return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
    };
    const V ox = load(s.org_x), oy = load(s.org_y), oz = load(s.org_z), dx = load(s.dir_x),
            dy = load(s.dir_y), dz = load(s.dir_z);
    const V depth = load(s.depth), far = hn::Min(depth, Just(8));
    const V start = SumTo(h, oz);
    if (hn::AllTrue(F(), hn::Abs(SumTo(h, oz + far * dz) - start) +
                                 hn::GatherIndex(F(), h.thick.data(), CellOf(h, oz)) <
                             Just(0.01F)))
      continue;
    const M across = hn::Abs(dz) < Just(0.05F);
    const V per_dz = Just(1) / hn::IfThenElse(across, Just(1), dz);
    const V here = hn::GatherIndex(F(), h.thick.data(), CellOf(h, oz));
    // Across the pipe it is as thick as where the ray starts.
    const auto behind = [&](V way) {
      const V along = (SumTo(h, oz + way * dz) - start) * per_dz;
      return hn::IfThenElse(across, here * way, hn::Max(along, hn::Zero(F())));
    };
    V left = Just(1), glow = hn::Zero(F()), stands = Just(0.04F);
    float edge = 0;
    for (int step = 0; step < 8; ++step) {
      const float next = step == 0 ? 0.04F : 1.8F * edge;  // to 2.5 m
      const V to = hn::Min(Just(step == 7 ? 8.0F : next), far);
      const V then = LeftBehind(behind(to));
      const V middle = hn::Min(Just(0.5F * (edge + next)), far);
      const V billow = Billow(ox + middle * dx, oy + middle * dy, oz + middle * dz, 0.03F + 0.42F * next,
                              time_s, h.seed + static_cast<float>(step));
      glow = glow + (left - then) * billow / (middle * middle + Just(lamps_cross_m * lamps_cross_m));
      stands = hn::IfThenElse(then > Just(haze_stands), to, stands);
      left = then;
      edge = next;
    }
    const V lit = glow * load(s.lamp);
    const auto pass = [&](std::vector<float>& channel, float colour) {
      hn::StoreU(load(channel) * left + lit * Just(colour), F(), &channel[static_cast<std::size_t>(i)]);
    };
    pass(s.red, h.colour.r), pass(s.green, h.colour.g), pass(s.blue, h.colour.b);
    const M hidden = left < Just(haze_hides);
    const hn::Rebind<std::uint16_t, F> half;
    const VI had = hn::PromoteTo(I(), hn::LoadU(half, &s.fault[static_cast<std::size_t>(i)]));
    const M bare = hn::RebindMask(F(), had == hn::Zero(I()));
    const M shows = hn::Or(hidden, hn::And(bare, left < Just(haze_stands)));
    if (hn::AllFalse(F(), shows)) continue;
    // The fault that hides it lies where half of the light is gone, or a little beyond.
    const VI number = hn::GatherIndex(I(), h.fault.data(), CellOf(h, oz + (stands + Just(0.02F)) * dz));
    const VI fault = hn::IfThenElse(hn::RebindMask(I(), shows), number, had);
    hn::StoreU(hn::DemoteTo(half, fault), half, &s.fault[static_cast<std::size_t>(i)]);
    hn::StoreU(hn::IfThenElse(hidden, hn::Min(depth, stands), depth), F(),
               &s.depth[static_cast<std::size_t>(i)]);
    const VI piece = hn::LoadU(I(), &s.piece[static_cast<std::size_t>(i)]);
    hn::StoreU(hn::IfThenElse(hn::RebindMask(I(), hidden), hn::Set(I(), -1), piece), I(),
               &s.piece[static_cast<std::size_t>(i)]);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
#include "base/random.hpp"
#include "matter/noise.hpp"
#include "scene/haze.hpp"

namespace haunch::render {

HWY_EXPORT(GoThrough);

bool HazeTable::near(double z_m) const {
  constexpr double sight_m = 8;
  const auto cell = [&](double z) {
    return static_cast<std::size_t>(
        std::clamp(z / haze_cell_m, 0.0, static_cast<double>(thick.empty() ? 0 : thick.size() - 1)));
  };
  return any() && sum[cell(z_m + sight_m)] > sum[cell(z_m - sight_m)];
}

HazeTable haze_table(const scene::Scene& scene, scene::HazeKind kind) {
  HazeTable table;
  const scene::Scenario& scenario = scene.scenario;
  const int first = scene::thickest_haze(scenario, kind, 0, scene.length_m());
  if (first == 0) return table;
  const std::uint64_t seed = scene::fault_seed(scenario, first);
  base::Random random(base::mix(seed ^ 0x68617a65ULL));
  table.seed = static_cast<float>(random.uniform(0, 20));
  // Steam is white; silt goes from grey to ochre (ours, by eye).
  const auto grey = static_cast<float>(random.uniform());
  table.colour = kind == scene::HazeKind::steam
                     ? 0.085F * Rgb{0.93F, 0.97F, 1.0F}
                     : blend({0.075F, 0.068F, 0.055F}, {0.105F, 0.072F, 0.032F}, grey);
  const auto cells = static_cast<std::size_t>(std::ceil(scene.length_m() / haze_cell_m)) + 2;
  table.thick.resize(cells);
  table.sum.resize(cells);
  table.fault.resize(cells);
  double sum = 0;
  for (std::size_t c = 0; c < cells; ++c) {
    const double z = haze_cell_m * static_cast<double>(c);
    // Never even: thicker and thinner by a fifth about what is said.
    const double uneven = 1 + 0.2 * static_cast<double>(matter::noise(static_cast<float>(2.3 * z), 0.5F, 0.5F,
                                                                      static_cast<std::uint32_t>(seed)));
    const double thick = uneven * scene::haze_per_m(scenario, kind, z);
    table.thick[c] = static_cast<float>(thick);
    table.sum[c] = static_cast<float>(sum);
    sum += thick * haze_cell_m;
    const int number = scene::thickest_haze(scenario, kind, z - 0.01, z + 0.01);
    table.fault[c] = number == 0 ? first : number;
  }
  return table;
}

void go_through_haze(const HazeTable& haze, double time_s, Samples& samples) {
  HWY_DYNAMIC_DISPATCH(GoThrough)(haze, static_cast<float>(time_s), samples);
}

}  // namespace haunch::render
#endif
