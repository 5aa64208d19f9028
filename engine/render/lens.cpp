// SPDX-License-Identifier: Apache-2.0
// The window before the lens, and the lens.
#include "render/lens.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::render {
namespace {

double smooth(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

/// A drop: middle and size in half widths of the picture, x right, y down.
struct Drop {
  double x = 0, y = 0, r = 0;
  double squeeze = 0.86, lean_x = 0, lean_y = 1;  ///< narrower than long, along this direction
  double phase = 0;                               ///< of the bumps of its outline
  double takes = 0.8;                             ///< of the view, in its middle (ours, by eye)
};

/// Out of focus a speck is spread as wide as this, and is as much fainter.
constexpr double spread = 0.010;
Drop out_of_focus(Drop drop) {
  const double share = std::min(1.0, drop.r / spread);
  drop.takes *= share * share;
  drop.r = std::max(drop.r, spread);
  return drop;
}

double barrel(double r2) { return (1 + 0.075 * r2) / 1.1; }

constexpr double drop_ends = 1.35;  // in its sizes: out of focus its edge is wide

/// From a drop's middle, in its sizes; no drop that clings to a window is round.
double away_from(const Drop& drop, double ex, double ey) {
  const double along = drop.squeeze * (ex * drop.lean_x + ey * drop.lean_y),
               across = ex * drop.lean_y - ey * drop.lean_x;
  const double away = std::sqrt(along * along + across * across) / drop.r;
  if (away > 2 * drop_ends) return away;
  const double turn = std::atan2(across, along);
  return away / (1 + 0.11 * std::sin(2 * turn + drop.phase) + 0.09 * std::sin(3 * turn + 2.3 * drop.phase) +
                 0.05 * std::sin(5 * turn + 3.7 * drop.phase));
}

std::size_t at(const LensMap& map, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(map.width) +
         static_cast<std::size_t>(column);
}

void cover(LensMap& map, int column, int row, double share, double brown) {
  const std::size_t to = at(map, column, row);
  map.cover[to] = static_cast<std::uint8_t>(255 * share);
  map.brown[to] = static_cast<std::uint8_t>(255 * brown);
  if (map.cover[to] > 0) map.covered[static_cast<std::size_t>(row)] = 1;
}

/// One pixel that looks through drops. They hang far nearer than the lens is focused on, so each is a
/// soft patch of spread light, fuller towards its foot, in which the view is bent a little. Gives how
/// much of the view they take.
double look(LensMap& map, int column, int row, const std::vector<Drop>& drops) {
  const int width = map.width, height = map.height;
  double x = (2 * (column + 0.5) / width - 1), y = (2 * (row + 0.5) - height) / width;
  double bright = 1, clear = 1;
  for (const Drop& drop : drops) {
    const double ex = (x - drop.x), ey = y - drop.y, away = away_from(drop, ex, ey);
    if (away >= drop_ends) continue;
    const double inside = 1 - smooth(0.45, drop_ends, away);
    const double along = (ex * drop.lean_x + ey * drop.lean_y) / drop.r;
    clear *= 1 - drop.takes * inside;
    bright *= 1 + drop.takes * (inside * (0.2 * along - 0.06) -
                                0.12 * smooth(0.5, 0.95, away) * (1 - smooth(0.95, drop_ends, away)));
    x -= drop.takes * inside * ex;
    y -= drop.takes * inside * ey;
  }
  const double r2 = x * x + y * y;
  bright *= 1 - 0.26 * r2 * r2;
  const std::size_t to = at(map, column, row);
  const auto sixteenths = [](double place) {
    return static_cast<std::uint16_t>(std::clamp(place * 16 + 0.5, 0.0, 65535.0));
  };
  map.x[to] = sixteenths((x * barrel(r2) + 1) / 2 * width - 0.5);
  map.y[to] = sixteenths((y * barrel(r2) * width + height) / 2 - 0.5);
  map.bright[to] = static_cast<std::uint8_t>(std::clamp(bright * undimmed, 0.0, 255.0));
  return 1 - clear;
}

/// Fine drops of fog: thickest somewhere by seed, with ragged ends; `share` of the window is under it.
class Fog {
 public:
  Fog(std::uint64_t seed, double share) : share_(share), seed_(static_cast<std::uint32_t>(base::mix(seed))) {
    base::Random random(base::mix(seed ^ 0x666f67ULL));
    x_ = random.uniform(-0.7, 0.7);
    y_ = random.uniform(-0.4, 0.4);
    if (share <= 0) return;
    // As much of the window as is said lies above this level.
    std::vector<double> levels;
    for (int row = 0; row < 36; ++row)
      for (int column = 0; column < 64; ++column)
        levels.push_back(level_at((column + 0.5) / 32 - 1, (row + 0.5) / 32 - 0.5625));
    std::sort(levels.begin(), levels.end());
    const auto open = static_cast<std::size_t>((1 - share) * static_cast<double>(levels.size() - 1));
    bare_ = levels[open] - 0.02 - 0.12 * std::max(0.0, share - 0.85) / 0.15;
  }
  double at(double x, double y) const {
    if (share_ <= 0) return 0;
    const auto fx = static_cast<float>(x), fy = static_cast<float>(y);
    const double grain = static_cast<double>(matter::noise(170 * fx, 170 * fy, 2.5F, seed_));
    return std::clamp(0.86 * smooth(bare_ - 0.09, bare_ + 0.13, level_at(x, y)) * (1 + 0.13 * grain), 0.0,
                      0.93);
  }

 private:
  double level_at(double x, double y) const {
    const auto fx = static_cast<float>(x), fy = static_cast<float>(y);
    const double clouds =
        0.5 + 0.5 * static_cast<double>(matter::layered_noise(1.7F * fx, 1.7F * fy, 0.5F, seed_, 4));
    const double near = 1 - std::min(1.0, std::hypot(x - x_, y - y_) / 1.5);
    return 0.5 * clouds + 0.5 * near;
  }

  double share_, x_ = 0, y_ = 0, bare_ = 0;
  std::uint32_t seed_;
};

/// Specks, blots and smears of dirt, out of focus. About `share` of the window is under them.
class Dirt {
 public:
  Dirt(std::uint64_t seed, double share) : seed_(static_cast<std::uint32_t>(base::mix(seed ^ 7))) {
    if (share <= 0) return;
    base::Random random(base::mix(seed ^ 0x64697274ULL));
    constexpr double window = 2 * 1.125;  // its area, 16 by 9
    for (double left = share * window; left > 0;) {
      Blot blot;
      blot.x = random.uniform(-1, 1), blot.y = random.uniform(-0.6, 0.6);
      const double pick = random.uniform();
      blot.turn = random.uniform(0, std::numbers::pi);
      const bool smear = random.uniform() < 0.12;
      blot.half_long = smear ? random.uniform(0.12, 0.45) : 0.006 + 0.05 * pick * pick * pick;
      blot.half_wide = smear ? random.uniform(0.012, 0.045) : blot.half_long * random.uniform(0.6, 1);
      blot.dark = smear ? random.uniform(0.12, 0.3) : random.uniform(0.35, 0.9);
      left -= std::numbers::pi * blot.half_long * blot.half_wide * blot.dark;
      blots_.push_back(blot);
    }
  }
  bool any() const { return !blots_.empty(); }
  double at(double x, double y) const {
    double clear = 1;
    for (const Blot& blot : blots_) {
      const double reach = 1.6 * blot.half_long + 0.03;
      const double dx = x - blot.x, dy = y - blot.y;
      if (std::abs(dx) > reach || std::abs(dy) > reach) continue;
      const double c = std::cos(blot.turn), s = std::sin(blot.turn);
      const double along = (c * dx + s * dy) / blot.half_long, across = (c * dy - s * dx) / blot.half_wide;
      // A smear was wiped: streaks along it, and it thins out.
      const bool smear = blot.half_long > 0.1;
      if (std::abs(across) > 1.8) continue;
      const double rough = smear ? 0.5 : 0.17, of = smear ? 9 : 38;
      const double ragged = rough * static_cast<double>(matter::noise(
                                        static_cast<float>(along * blot.half_long * of),
                                        static_cast<float>(across * blot.half_wide * (smear ? 80 : of)),
                                        static_cast<float>(blot.x * 40), seed_));
      const double away = std::sqrt(along * along + across * across) + ragged;
      clear *= 1 - blot.dark * (1 - smooth(smear ? 0.1 : 0.45, 1.35, away));
    }
    return 1 - clear;
  }

 private:
  struct Blot {
    double x = 0, y = 0, half_long = 0, half_wide = 0, turn = 0, dark = 0;
  };
  std::vector<Blot> blots_;
  std::uint32_t seed_;
};

std::vector<Drop> few_drops(std::uint64_t seed, int width, int height) {
  base::Random random(base::mix(seed ^ 0x64726f70ULL));
  std::vector<Drop> drops;
  const int many = 3 + static_cast<int>(random.below(4));
  for (int i = 0; i < many; ++i) {
    // Drops gather towards the window's rim; the middle is swept by the skid of the air, ours.
    const double x = random.uniform(-1, 1), y = random.uniform(-0.95, 0.95) * height / width;
    if (x * x + y * y < 0.2) continue;
    const double pick = random.uniform();
    drops.push_back(
        {x, y, 0.014 + 0.036 * pick * pick, random.uniform(0.75, 1), 0, 1, random.uniform(0, 6.3)});
  }
  return drops;
}

/// Drops left on the window: each hangs a while, then runs down and drags behind; small ones dry where they
/// hang.
std::vector<Drop> running_drops(std::uint64_t seed, double ago_s, double roll_deg) {
  base::Random random(base::mix(seed ^ 0x77657474ULL));
  // Down in the picture: the camera turned clockwise sees the bottom turned the other way.
  const double roll = roll_deg * std::numbers::pi / 180;
  const double down_x = std::sin(roll), down_y = std::cos(roll);
  std::vector<Drop> drops;
  constexpr int many = 70;
  for (int i = 0; i < many; ++i) {
    Drop drop{random.uniform(-1, 1), random.uniform(-0.7, 0.62), 0};
    const double pick = random.uniform(), lets_go_s = 0.15 + 7 * pick * pick, sway = random.uniform(-1, 1);
    const double luck = random.uniform(), size = 0.008 + 0.045 * luck * luck,
                 quick = random.uniform(0.25, 0.9);
    const double running_s = size > 0.016 ? std::max(0.0, ago_s - lets_go_s) : 0;
    // Fat drops go first; what is left dries up within the time.
    drop.r = size * (1 - 0.35 * pick) * (1 - smooth(0.5 * runs_off_s, runs_off_s, ago_s));
    drop.lean_x = down_x, drop.lean_y = down_y;
    drop.squeeze = (running_s > 0 ? 0.62 : 0.9) + 0.08 * sway;
    drop.phase = 20 * luck;
    const double down = quick * running_s * std::sqrt(running_s);
    const double aside = 0.02 * sway * std::sin(9 * down + i);
    if (running_s > 0) {
      // What it dragged behind it on its way.
      for (int k = 1; k <= 4; ++k) {
        const double back = 0.06 * k;
        if (back > down) break;
        const double way = down - back;
        const double at = 0.02 * sway * std::sin(9 * way + i);
        drops.push_back({drop.x + way * down_x + at * down_y, drop.y + way * down_y - at * down_x,
                         drop.r * (0.30 - 0.05 * k)});
      }
    }
    drop.x += down * down_x + aside * down_y;
    drop.y += down * down_y - aside * down_x;
    if (drop.r > 0.003) drops.push_back(drop);
  }
  std::erase_if(drops, [](const Drop& drop) {
    return drop.r < 0.003 || std::abs(drop.x) > 1.1 || std::abs(drop.y) > 1.1;
  });
  for (Drop& drop : drops) drop = out_of_focus(drop);
  return drops;
}

}  // namespace

LensMap lens_map(int width, int height, std::uint64_t seed, const scene::CameraRig& rig, bool in_air) {
  LensMap map;
  map.width = width;
  map.height = height;
  const auto texels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height) + 16;
  map.x.assign(texels, 0);
  map.y.assign(texels, 0);
  map.bright.assign(texels, 255);
  const std::vector<Drop> drops = in_air ? few_drops(seed, width, height) : std::vector<Drop>{};
  map.cover.assign(texels, 0);
  map.brown.assign(texels, 0);
  map.covered.assign(static_cast<std::size_t>(height), 0);
  const Fog fog(seed, in_air ? rig.fog : 0);
  const Dirt dirt(seed, rig.dirt);
  for (int row = 0; row < height; ++row)
    for (int column = 0; column < width; ++column) {
      const double drop = look(map, column, row, drops);
      const double x = (2 * (column + 0.5) / width - 1), y = (2 * (row + 0.5) - height) / width;
      const double pale = 1 - (1 - fog.at(x, y)) * (1 - drop), dark = dirt.at(x, y),
                   all = 1 - (1 - pale) * (1 - dark);
      cover(map, column, row, all, all > 0 ? dark / (dark + pale) : 0);
    }
  return map;
}

void wet_the_window(const LensMap& dry, std::uint64_t seed, double ago_s, double roll_deg, LensMap& wet) {
  wet = dry;
  const int width = dry.width, height = dry.height;
  for (const Drop& drop : running_drops(seed, ago_s, roll_deg)) {
    const double reach = 1.25 * drop_ends / drop.squeeze * drop.r * width / 2, x = (drop.x + 1) / 2 * width,
                 y = (drop.y * width + height) / 2;
    const std::vector<Drop> alone{drop};
    for (int row = std::max(0, static_cast<int>(y - reach)); row < std::min<double>(height, y + reach); ++row)
      for (int column = std::max(0, static_cast<int>(x - reach)); column < std::min<double>(width, x + reach);
           ++column) {
        const double ex = (2 * (column + 0.5) / width - 1) - drop.x,
                     ey = (2 * (row + 0.5) - height) / width - drop.y;
        if (away_from(drop, ex, ey) >= drop_ends) continue;
        const double had = wet.cover[at(wet, column, row)] / 255.0,
                     brown = wet.brown[at(wet, column, row)] / 255.0,
                     all = 1 - (1 - had) * (1 - look(wet, column, row, alone));
        cover(wet, column, row, all, all > 0 ? brown * had / all : 0);
      }
  }
}

void Glow::resize(int width, int height) {
  width_ = width, height_ = height;
  columns_ = (width + cell_px - 1) / cell_px;
  rows_ = (height + cell_px - 1) / cell_px;
  cells_.resize(3 * static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
}

void Glow::gather_row(const std::uint32_t* toned, int cell_row) {
  for (int c = 0; c < columns_; ++c) {
    std::uint32_t sum[3] = {0, 0, 0}, many = 0;
    // One pixel in sixteen will do.
    for (int y = cell_row * cell_px; y < std::min(height_, (cell_row + 1) * cell_px); y += 4)
      for (int x = c * cell_px; x < std::min(width_, (c + 1) * cell_px); x += 4, ++many) {
        const std::uint32_t word = toned[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                                         static_cast<std::size_t>(x)];
        for (std::uint32_t ch = 0; ch < 3; ++ch) sum[ch] += (word >> (10 * ch)) & 1023U;
      }
    float* to = &cells_[3 * (static_cast<std::size_t>(cell_row) * static_cast<std::size_t>(columns_) +
                             static_cast<std::size_t>(c))];
    for (int ch = 0; ch < 3; ++ch) to[ch] = static_cast<float>(sum[ch]) / static_cast<float>(many);
  }
}

void Glow::spread() {
  // The lamps light the fog itself a little (ours).
  constexpr float own = 70, through = 0.93F;
  for (int pass = 0; pass < 2; ++pass) {
    other_ = cells_;
    for (int r = 0; r < rows_; ++r)
      for (int c = 0; c < columns_; ++c)
        for (int ch = 0; ch < 3; ++ch) {
          float sum = 0, weight = 0;
          for (int j = -2; j <= 2; ++j)
            for (int i = -2; i <= 2; ++i) {
              const int y = r + j, x = c + i;
              if (y < 0 || x < 0 || y >= rows_ || x >= columns_) continue;
              const auto w = static_cast<float>((3 - std::abs(i)) * (3 - std::abs(j)));
              sum +=
                  w * other_[3 * static_cast<std::size_t>(y * columns_ + x) + static_cast<std::size_t>(ch)];
              weight += w;
            }
          cells_[3 * static_cast<std::size_t>(r * columns_ + c) + static_cast<std::size_t>(ch)] =
              sum / weight;
        }
  }
  for (float& cell : cells_) cell = own + through * cell;
}

void Glow::row(int y, float* out) const {
  const float fy =
      std::clamp((static_cast<float>(y) + 0.5F) / cell_px - 0.5F, 0.0F, static_cast<float>(rows_ - 1));
  const int r = std::min(static_cast<int>(fy), std::max(0, rows_ - 2)), r2 = std::min(r + 1, rows_ - 1);
  const float wy = fy - static_cast<float>(r);
  for (int ch = 0; ch < 3; ++ch) {
    const auto cell = [&](int column) {
      const auto of = [&](int row) {
        return cells_[3 * static_cast<std::size_t>(row * columns_ + column) + static_cast<std::size_t>(ch)];
      };
      return of(r) + (of(r2) - of(r)) * wy;
    };
    // From middle to middle of the cells; before the first and after the last nothing changes.
    float* to = out + static_cast<std::size_t>(ch) * glow_plane(width_);
    for (int c = -1, x = 0; x < width_; ++c) {
      const float from = cell(std::max(c, 0)), step = (cell(std::min(c + 1, columns_ - 1)) - from) / cell_px;
      const int start = c * cell_px + cell_px / 2, end = std::min(width_, start + cell_px);
      for (; x < end; ++x) to[x] = from + step * (static_cast<float>(x - start) + 0.5F);
    }
  }
}

}  // namespace haunch::render
