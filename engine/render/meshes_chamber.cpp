// SPDX-License-Identifier: Apache-2.0
// A manhole or an inspection chamber as one looks into it out of the pipe: the channel that carries the flow
// across, benching on both sides, the wall beyond and the next pipe in it. Sizes: common practice, no source.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "render/ends.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

/// What lies metres off would be black beside the pipe's near wall; an inspector turns the lamp up for it. By
/// eye.
constexpr float lamp_gain = 3.2F;

enum class Built { concrete, brick, plastic };

struct Chamber {
  const EndFrame& end;
  Built built;
  double radius;  ///< of the chamber, in plan
  double bore;    ///< radius of channel and pipes
  double rise;    ///< of the benching, per metre aside
  Rgb body;

  double chord(double w) const {
    const double off = w - radius;
    return std::sqrt(std::max(0.0, radius * radius - off * off));
  }

  Rgb brickwork(double round, double y, const scene::Vec3& p) const {
    static const Rgb bodies[] = {linear_from_srgb(150, 82, 60), linear_from_srgb(128, 66, 52),
                                 linear_from_srgb(164, 112, 76), linear_from_srgb(112, 64, 58)};
    constexpr double high = 0.075, wide = 0.225, bed = 0.0055;
    const double course = std::floor(y / high), in_y = y - high * course;
    const double along = round + (std::fmod(std::abs(course), 2) > 0.5 ? wide / 2 : 0);
    const double which = std::floor(along / wide), in_x = along - wide * which;
    const bool joint = std::min({in_y, high - in_y, in_x, wide - in_x}) < bed;
    const auto n =
        static_cast<std::uint32_t>(static_cast<int>(course) * 31 + static_cast<int>(which) * 17 + 4096);
    if (joint) return (0.8F + 0.3F * rough(p, 0.01, end.seed + 51U, 3)) * linear_from_srgb(132, 126, 114);
    return (1 + 0.25F * rough(p, 0.02, end.seed + 52U, 3)) * bodies[(n * 2654435761U >> 20U) % 4];
  }

  Rgb wall_colour(double round, double y, const scene::Vec3& p) const {
    Rgb c;
    switch (built) {
      case Built::brick:
        c = brickwork(round, y, p);
        break;
      case Built::concrete: {
        const double ring = std::abs(std::remainder(y - 0.30, 0.5));
        c = (ring < 0.006 ? 0.35F : 1.0F) * (1 + 0.18F * rough(p, 0.02, end.seed + 53U, 4)) * body;
        break;
      }
      case Built::plastic:
        c = (1 + 0.06F * rough(p, 0.03, end.seed + 54U, 3)) * body;
        break;
    }
    // Damp has run down it; low down the flow has left its dirt.
    const float run = within(1.5F * rough({p.x, p.y / 9, p.z}, 0.035, end.seed + 55U, 3) - 0.05F);
    const float low =
        within(static_cast<float>(1 - y / (0.9 * bore)) * 0.6F + 0.5F * rough(p, 0.05, end.seed + 56U, 3));
    c = blend(c, linear_from_srgb(62, 54, 42), 0.45F * run);
    return blend(c, linear_from_srgb(58, 48, 36), 0.8F * low);
  }

  /// Laid out round the mouth of the pipe beyond, so that its edge is clean.
  void wall(Mesh& mesh) const {
    const int rows = 130, columns = 240;
    const double most = std::max(1.3, 2.5 * radius);
    add_patch(mesh, rows + 1, columns, true, [&](int row, int column) {
      const double turn = tau * column / columns;
      const double away = bore * std::pow(most / bore, static_cast<double>(row) / rows);
      const double round = std::clamp(away * std::cos(turn), -2.5 * radius, 2.5 * radius),
                   y = away * std::sin(turn);
      const double a = round / radius;
      const double ribs = built == Built::plastic && y > 1.6 * bore ? 0.004 * std::sin(tau * y / 0.06) : 0;
      const scene::Vec3 p = end.at((radius + ribs) * std::sin(a), y, radius + (radius + ribs) * std::cos(a));
      // The pipe's end stands in a collar of mortar.
      const float collar = within(static_cast<float>(1.5 - (away - bore) / 0.008));
      const Rgb c = blend(wall_colour(round, y, p), linear_from_srgb(118, 112, 100), 0.7F * collar);
      return PatchPoint{p, (row == 0 ? 1.3F : 1.0F) * lamp_gain * c};
    });
  }

  void pipe_beyond(Mesh& mesh) const {
    const Rgb ware = whole_ware(end.section);
    const int rows = 60, columns = 120;
    add_patch(mesh, rows + 1, columns, true, [&](int row, int column) {
      const double turn = tau * column / columns, in = 0.8 * row / rows;
      const scene::Vec3 p =
          end.at(bore * std::cos(turn), bore * std::sin(turn),
                 radius + std::sqrt(std::max(0.0, radius * radius - bore * bore)) - 0.001 + in);
      const float low =
          within(static_cast<float>(-std::sin(turn)) * 0.9F + 0.3F * rough(p, 0.03, end.seed + 61U, 3));
      const auto light = lamp_gain * static_cast<float>(0.75 * std::exp(-in / (1.6 * bore)));
      return PatchPoint{p, light * blend(ware, linear_from_srgb(60, 48, 36), 0.7F * low)};
    });
    add_patch(mesh, 2, columns, true, [&](int row, int column) {
      const double turn = tau * column / columns, away = bore * (row == 0 ? 1.0 : 1e-3);
      return PatchPoint{end.at(away * std::cos(turn), away * std::sin(turn), 2 * radius + 0.75),
                        {0.0006F, 0.0006F, 0.0006F}};
    });
  }

  void channel(Mesh& mesh) const {
    const Rgb ware =
        built == Built::plastic ? body : blend(whole_ware(end.section), linear_from_srgb(120, 112, 98), 0.5F);
    add_patch(mesh, 70, 81, false, [&](int row, int column) {
      const double a = tau / 2 * column / 80.0 - tau / 4, w = 2 * radius * row / 69;
      const double x = bore * std::sin(a), y = -bore * std::cos(a);
      const scene::Vec3 p = end.at(x, y, w);
      const float low =
          within(static_cast<float>(std::cos(a)) * 1.1F - 0.25F + 0.5F * rough(p, 0.03, end.seed + 63U, 4));
      return PatchPoint{p, 0.7F * lamp_gain * (1 + 0.15F * rough(p, 0.012, end.seed + 64U, 3)) *
                               blend(ware, linear_from_srgb(64, 52, 38), 0.75F * low)};
    });
  }

  void benching(Mesh& mesh) const {
    const Rgb top = built == Built::plastic ? body : linear_from_srgb(146, 140, 128);
    for (const double side : {-1.0, 1.0})
      add_patch(mesh, 70, 40, false, [&](int row, int column) {
        const double w = 2 * radius * row / 69, far = std::max(chord(w) + 0.01, bore + 0.001);
        const double t = column / 39.0, x = bore + (far - bore) * t * t;
        scene::Vec3 p = end.at(side * x, 0, w);
        const double bumps =
            built == Built::plastic ? 0 : 0.004 * static_cast<double>(rough(p, 0.06, end.seed + 65U, 3));
        // Its edge to the channel is rounded.
        const double edge = -0.006 * std::exp(-(x - bore) / 0.006);
        p = end.at(side * x, rise * (x - bore) + edge + bumps * std::min(1.0, 20 * (x - bore)), w);
        const float dirt = within(0.25F + 0.9F * rough(p, 0.05, end.seed + 66U, 4) +
                                  static_cast<float>(0.5 * std::exp(-(x - bore) / 0.03)));
        return PatchPoint{p, lamp_gain * (1 + 0.15F * rough(p, 0.01, end.seed + 67U, 3)) *
                                 blend(top, linear_from_srgb(70, 58, 42), 0.65F * dirt)};
      });
  }

  /// Rungs in the wall for those who climb down.
  void irons(Mesh& mesh, double from_a) const {
    const Rgb rust = linear_from_srgb(96, 62, 42);
    for (int i = 0; i < 3; ++i) {
      const double y = 1.3 * bore + 0.14 + 0.25 * i, half = 0.14;
      const auto centre = [&](double t) {
        // Out of the wall, across, and back into it.
        const double legs = 0.28, stand = 0.11;
        const double out = t < legs ? stand * t / legs : t > 1 - legs ? stand * (1 - t) / legs : stand;
        const double on = std::clamp((t - legs) / (1 - 2 * legs), 0.0, 1.0) * 2 - 1;
        const double a = from_a + on * half / radius, away = radius - out + 0.01;
        return end.at(away * std::sin(a), y, radius + away * std::cos(a));
      };
      add_patch(mesh, 60, 12, true, [&](int row, int column) {
        const double t = row / 59.0, turn = tau * column / 12, thick = 0.010;
        const scene::Vec3 along =
            scene::normalised(centre(std::min(1.0, t + 0.01)) - centre(std::max(0.0, t - 0.01)));
        const scene::Vec3 up{0, 1, 0}, aside = scene::normalised(scene::cross(along, up));
        const scene::Vec3 p = centre(t) + (thick * std::cos(turn)) * up + (thick * std::sin(turn)) * aside;
        return PatchPoint{p, lamp_gain * (1 + 0.4F * rough(p, 0.01, end.seed + 71U, 3)) * rust};
      });
    }
  }

  void water(Mesh& mesh) const {
    const double y = end.water_m, half = scene::width_m(end.bore, y + end.bore.half_height_m) / 2;
    add_patch(mesh, 60, 25, false, [&](int row, int column) {
      const double w = 2 * radius * row / 59, x = half * (2.0 * column / 24 - 1);
      scene::Vec3 p = end.as_it_is(x, y, w);
      p.y += 0.0006 * static_cast<double>(rough({p.x * 2, 0, p.z}, 0.03, end.seed + 73U, 2));
      return PatchPoint{p, 1.5F * linear_from_srgb(84, 76, 60)};
    });
  }
};

}  // namespace

std::vector<Mesh> chamber_meshes(const EndFrame& end, bool manhole) {
  base::Random random(end.seed);
  const double bore = end.radius_m;
  Chamber chamber{end, Built::plastic, 0, bore, 0.25, {}};
  const std::uint32_t sort = random.below(3);
  if (manhole) {
    chamber.built = sort == 0 ? Built::brick : Built::concrete;
    chamber.radius = std::max(random.below(2) == 0 ? 0.50 : 0.60, bore + 0.25);
    chamber.body = random.below(2) == 0 ? linear_from_srgb(150, 146, 136) : linear_from_srgb(126, 120, 108);
  } else {
    static const Rgb plastics[] = {linear_from_srgb(52, 54, 56), linear_from_srgb(62, 92, 74),
                                   linear_from_srgb(150, 84, 52), linear_from_srgb(96, 98, 100)};
    chamber.built = sort == 0 ? Built::brick : Built::plastic;
    chamber.radius = std::max(random.below(2) == 0 ? 0.225 : 0.30, bore + 0.12);
    chamber.body = plastics[random.below(4)];
    chamber.rise = 0.35;
  }
  Mesh wall, pipe, base, iron;
  wall.grain = chamber.built == Built::plastic ? Grain::plain : Grain::stone;
  wall.gloss = chamber.built == Built::plastic ? 0.15F : 0.03F;
  base.grain = Grain::plain;  // the flow has worn it smooth
  base.gloss = 0.10F;
  iron.grain = Grain::crust;
  chamber.wall(wall);
  chamber.pipe_beyond(pipe);
  chamber.channel(base);
  chamber.benching(base);
  if (manhole) chamber.irons(iron, random.below(2) == 0 ? 0.62 : -0.62);
  std::vector<Mesh> meshes;
  if (const double high = end.bore.half_height_m; end.water_m > -high + 0.001 && end.water_m < high) {
    Mesh water;
    water.gloss = 1.2F;
    water.cover = 0.7F;
    chamber.water(water);
    meshes.push_back(std::move(water));
  }
  meshes.push_back(std::move(wall));
  meshes.push_back(std::move(pipe));
  meshes.push_back(std::move(base));
  if (!iron.quads.empty()) meshes.push_back(std::move(iron));
  return meshes;
}

}  // namespace haunch::render
