// SPDX-License-Identifier: Apache-2.0
#include "render/film.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "render/lens.hpp"

namespace haunch::render {
namespace {

using scene::LensFilm;

constexpr float on_window_m = 0.01F;  // as far off as the window (water.hpp)

/// One place of the window, in half widths of the picture: where the film lies first (higher), and its shade.
struct Here {
  float level = 0, shade = 1;
};

/// Smeared on: streaks along the way it was wiped, lumps.
Here grease_at(float x, float y, std::uint32_t seed, float turn) {
  const float c = std::cos(turn), s = std::sin(turn);
  const float along = c * x + s * y, across = c * y - s * x;
  const float broad = matter::layered_noise(1.4F * x, 1.4F * y, 0.5F, seed, 3);
  const float streaks = matter::noise(1.5F * along, 16 * across + 2 * broad, 1.5F, seed);
  const float fine = matter::noise(4 * along, 60 * across, 2.5F, seed);
  return {broad + 0.35F * streaks + 0.12F * fine, 1 + 0.16F * streaks + 0.08F * fine};
}

/// Splashes that ran together.
Here mud_at(float x, float y, std::uint32_t seed) {
  const float broad = matter::layered_noise(1.8F * x, 1.8F * y, 0.5F, seed, 5, 0.6F);
  return {broad, 1 + 0.45F * matter::layered_noise(9 * x, 9 * y, 1.5F, seed, 4, 0.6F)};
}

/// Froth: round bubbles of three sizes heaped on each other, pale where they are too fine to be told apart; a
/// bubble is clear in its middle and bright at its rim, and many show the lamps.
Here foam_at(float x, float y, std::uint32_t seed) {
  const float broad = matter::layered_noise(1.6F * x, 1.6F * y, 0.5F, seed, 3);
  float top = -2, shade = 1.05F + 0.15F * matter::noise(30 * x, 30 * y, 8.5F, seed), within = 0;
  for (const float size : {0.17F, 0.10F, 0.06F}) {
    const float u = x / size, v = y / size;
    const auto kind = static_cast<std::int32_t>(100 * size);
    const auto cu = static_cast<std::int32_t>(std::floor(u)), cv = static_cast<std::int32_t>(std::floor(v));
    for (std::int32_t j = cv - 1; j <= cv + 1; ++j)
      for (std::int32_t i = cu - 1; i <= cu + 1; ++i) {
        const float order = matter::lattice_noise(i, j, kind, seed);
        // Large ones are few.
        if (order < top || (size > 0.15F && order < 0.3F)) continue;
        const float dx =
                        u - static_cast<float>(i) - 0.5F - 0.4F * matter::lattice_noise(i, j, kind + 1, seed),
                    dy =
                        v - static_cast<float>(j) - 0.5F - 0.4F * matter::lattice_noise(i, j, kind + 2, seed);
        const float radius = 0.48F + 0.14F * matter::lattice_noise(i, j, kind + 3, seed);
        const float away = std::sqrt(dx * dx + dy * dy) / radius;
        if (away >= 1) continue;
        top = order;
        const float rim = away * away * away * away;
        const float gx = dx / radius + 0.33F, gy = dy / radius + 0.36F;
        const float glint = std::clamp(1 - (gx * gx + gy * gy) / 0.03F, 0.0F, 1.0F);
        shade = 0.70F + 0.10F * order + 0.55F * rim * away * away + 0.45F * glint;
        within = 1 - away;
      }
  }
  return {broad + 0.10F * within, shade};
}

/// Threads from a middle outwards, and threads across that sag between them; dust hangs in them.
struct Web {
  float x = 0, y = 0, first = 0;
  int spokes = 0;
  float apart = 0;
  std::vector<std::array<float, 3>>
      strays;  ///< threads that go anywhere: direction, and how far from the middle
};
Here web_at(float x, float y, std::uint32_t seed, const Web& web) {
  constexpr float tau = 2 * std::numbers::pi_v<float>;
  const float wave = matter::noise(2 * x, 2 * y, 0.5F, seed);
  const float dx = x - web.x + 0.03F * wave, dy = y - web.y + 0.03F * matter::noise(2 * x, 2 * y, 5.5F, seed);
  const float away = std::sqrt(dx * dx + dy * dy);
  const float turn = (std::atan2(dy, dx) / tau + 0.5F) * static_cast<float>(web.spokes) + web.first;
  const float sector = std::floor(turn), within = turn - sector;
  const auto number = static_cast<std::int32_t>(sector) % web.spokes;
  const float lean = 0.3F * matter::lattice_noise(number, 0, 3, seed);
  const float beside = std::min(within, 1 - within) * tau / static_cast<float>(web.spokes) * away;
  const float sag = 0.05F * away * 4 * within * (1 - within);
  const float rung = (away + sag) / web.apart + lean + 0.35F * wave;
  const float between = std::abs(rung - std::floor(rung) - 0.5F);
  const bool torn =
      matter::lattice_noise(number, static_cast<std::int32_t>(std::floor(rung)), 5, seed) > 0.45F;
  const float across = torn ? 1 : between * web.apart;
  float thread = std::min(beside, across);
  for (const auto& [c, s, off] : web.strays)
    thread =
        std::min(thread, std::abs(c * x + s * y - off + 0.02F * matter::noise(3 * x, 3 * y, 9 * off, seed)));
  // Dust mats them together here and there.
  const float dust = 0.020F * matter::layered_noise(2.6F * x, 2.6F * y, 2.5F, seed, 4, 0.6F);
  return {-(thread - dust), 0.95F + 0.25F * matter::layered_noise(8 * x, 8 * y, 4.5F, seed, 3)};
}

/// The window is far nearer than the lens is focused on: each place is the mean of what lies about it.
void put_out_of_focus(std::vector<float>& field, int width, int height, int reach_px) {
  const auto wide = static_cast<std::size_t>(width), high = static_cast<std::size_t>(height);
  std::vector<float> line(std::max(wide, high));
  const auto mean = [&](std::size_t first, std::size_t step, std::size_t many) {
    const auto last = static_cast<std::ptrdiff_t>(many) - 1;
    const auto at = [&](std::ptrdiff_t i) -> float& {
      return field[first + step * static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(i, 0, last))];
    };
    float sum = 0;
    for (std::ptrdiff_t i = -reach_px; i <= reach_px; ++i) sum += at(i);
    for (std::ptrdiff_t i = 0; i <= last; ++i) {
      line[static_cast<std::size_t>(i)] = sum / static_cast<float>(2 * reach_px + 1);
      sum += at(i + reach_px + 1) - at(i - reach_px);
    }
    for (std::ptrdiff_t i = 0; i <= last; ++i) at(i) = line[static_cast<std::size_t>(i)];
  };
  for (int pass = 0; pass < 2; ++pass) {
    for (std::size_t row = 0; row < high; ++row) mean(row * wide, 1, wide);
    for (std::size_t column = 0; column < wide; ++column) mean(column, wide, high);
  }
}

/// How far, in widths of the picture (ours, by eye: more would leave nothing to know it by).
float blur_of(LensFilm kind) { return kind == LensFilm::web ? 0.0022F : 0.0042F; }

/// How the ends of the film fade, in its levels.
float fades_over(LensFilm kind) {
  switch (kind) {
    case LensFilm::grease:
      return 0.22F;
    case LensFilm::foam:
      return 0.09F;
    case LensFilm::web:
      return 0.022F;
    case LensFilm::mud:
      return 0.10F;
  }
  return 0.1F;
}

/// Its colour over the spread light of the picture, the light it has of its own (in tones), and how dense it
/// is.
struct Look {
  std::array<float, 3> tint;
  std::array<float, 3> own;
  float dense;
};
Look look_of(LensFilm kind) {
  switch (kind) {
    case LensFilm::grease:
      return {{0.95F, 0.90F, 0.74F}, {120, 110, 82}, 0.90F};
    case LensFilm::foam:
      return {{0.50F, 0.51F, 0.52F}, {450, 455, 460}, 0.90F};
    case LensFilm::web:
      return {{0.60F, 0.60F, 0.58F}, {330, 325, 310}, 0.86F};
    case LensFilm::mud:
      return {{0.26F, 0.20F, 0.13F}, {60, 44, 26}, 0.99F};
  }
  return {{1, 1, 1}, {0, 0, 0}, 1};
}

}  // namespace

Film lens_film(int width, int height, const scene::OnLens& on_lens, int number, std::uint64_t seed) {
  Film film;
  film.width = width;
  film.height = height;
  film.fault = number;
  film.kind = on_lens.film;
  const auto pixels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  film.cover.resize(pixels);
  film.shade.resize(pixels);
  base::Random random(base::mix(seed ^ 0x66696c6dULL));
  const auto noise_seed = static_cast<std::uint32_t>(random.next());
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  const float wiped = between(0, std::numbers::pi);
  Web web{between(-0.6, 0.6),   between(-0.35, 0.35),
          between(0, 1),        17 + static_cast<int>(random.below(10)),
          between(0.045, 0.08), {}};
  for (int i = 0; i < 26; ++i) {
    const float turn = between(0, 2 * std::numbers::pi);
    web.strays.push_back({std::cos(turn), std::sin(turn), between(-0.9, 0.9)});
  }
  std::vector<float> levels(pixels), shades(pixels);
  for (int row = 0; row < height; ++row)
    for (int column = 0; column < width; ++column) {
      const float x = 2 * (static_cast<float>(column) + 0.5F) / static_cast<float>(width) - 1,
                  y = (2 * (static_cast<float>(row) + 0.5F) - static_cast<float>(height)) /
                      static_cast<float>(width);
      const Here here = film.kind == LensFilm::grease ? grease_at(x, y, noise_seed, wiped)
                        : film.kind == LensFilm::foam ? foam_at(x, y, noise_seed)
                        : film.kind == LensFilm::web  ? web_at(x, y, noise_seed, web)
                                                      : mud_at(x, y, noise_seed);
      const auto at =
          static_cast<std::size_t>(row) * static_cast<std::size_t>(width) + static_cast<std::size_t>(column);
      levels[at] = here.level;
      shades[at] = here.shade;
    }
  const int reach_px = static_cast<int>(blur_of(film.kind) * static_cast<float>(width) + 0.5F);
  put_out_of_focus(levels, width, height, reach_px);
  put_out_of_focus(shades, width, height, reach_px);
  std::vector<float> sorted = levels;
  const auto open =
      static_cast<std::size_t>(std::clamp((1 - on_lens.covers_percent / 100) * static_cast<double>(pixels),
                                          0.0, static_cast<double>(pixels - 1)));
  std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(open), sorted.end());
  const float edge = sorted[open], fade = fades_over(film.kind), dense = look_of(film.kind).dense;
  for (std::size_t at = 0; at < pixels; ++at) {
    // Half of the view is taken just at the edge.
    const float share = std::clamp(0.5F / dense + (levels[at] - edge) / fade, 0.0F, 1.0F);
    film.cover[at] = static_cast<std::uint8_t>(255 * dense * share + 0.5F);
    film.shade[at] = static_cast<std::uint8_t>(std::clamp(128 * shades[at], 0.0F, 255.0F));
  }
  return film;
}

void lay_film(const Film& film, const float* glow, int row, std::uint32_t* toned, std::uint16_t* fault,
              float* depth) {
  const Look look = look_of(film.kind);
  const auto width = static_cast<std::size_t>(film.width), first = static_cast<std::size_t>(row) * width;
  for (std::size_t x = 0; x < width; ++x) {
    const int cover = film.cover[first + x];
    if (cover == 0) continue;
    const float share = static_cast<float>(cover) / 255,
                shade = static_cast<float>(film.shade[first + x]) / 128;
    std::uint32_t out = 0;
    for (std::uint32_t ch = 0; ch < 3; ++ch) {
      const auto had = static_cast<float>((toned[x] >> (10 * ch)) & 1023U);
      const float own = shade * (look.tint[ch] * glow[ch * glow_plane(film.width) + x] + look.own[ch]);
      const float tone = std::clamp(had + share * (own - had), 0.0F, 1023.0F);
      out |= static_cast<std::uint32_t>(tone + 0.5F) << (10 * ch);
    }
    toned[x] = out;
    if (cover < 128) continue;
    fault[x] = static_cast<std::uint16_t>(film.fault);
    depth[x] = on_window_m;
  }
}

}  // namespace haunch::render
