// SPDX-License-Identifier: Apache-2.0
// Ends of a run that are no chamber: a bend that rises to a rodding eye, a lamphole's shaft, another pipe
// that this one joins, a pit. How they are built: common practice, no source.
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

/// A pipe's ware after years of flow: dirt low down.
Rgb used(const Rgb& ware, const scene::Vec3& p, double low, std::uint32_t seed) {
  const Rgb dirt = linear_from_srgb(70, 56, 40);
  const float dirty = within(static_cast<float>(0.9 * low - 0.25) + 0.8F * rough(p, 0.03, seed, 4) + 0.15F);
  return (1 + 0.15F * rough(p, 0.01, seed + 2U, 3)) * blend(ware, dirt, 0.75F * dirty);
}
float seam(double off, double wide) { return within(static_cast<float>(1.6 - std::abs(off) / wide)); }

void dark_disc(Mesh& mesh, const scene::Vec3& middle, const scene::Vec3& a, const scene::Vec3& b) {
  add_patch(mesh, 2, 48, true, [&](int row, int column) {
    const double turn = tau * column / 48, k = row == 0 ? 1.0 : 1e-3;
    return PatchPoint{middle + (k * std::cos(turn)) * a + (k * std::sin(turn)) * b,
                      {0.0006F, 0.0006F, 0.0006F}};
  });
}

/// The line swings up by 45 degrees and rises to the surface.
Mesh rising_bend(const EndFrame& end) {
  Mesh mesh;
  mesh.gloss = 0.25F;
  const double r = end.radius_m, bend = 4 * r, arc = tau / 8 * bend, rise = 1.1;
  const int rows = 130, columns = 120;
  const Rgb ware = whole_ware(end.section);
  const auto place = [&](double along, double turn, double away) {
    const double a = std::min(along, arc) / bend, on = std::max(0.0, along - arc);
    const double w = bend * std::sin(a) + on * std::cos(a), y = bend * (1 - std::cos(a)) + on * std::sin(a);
    const double to_wall = away * end.share_of_round(turn), up = to_wall * std::cos(turn);
    return end.as_it_is(to_wall * std::sin(turn), y + up * std::cos(a), w - up * std::sin(a));
  };
  add_patch(mesh, rows + 1, columns, true, [&](int row, int column) {
    const double t = static_cast<double>(row) / rows, along = (arc + rise) * (0.4 * t + 0.6 * t * t);
    const double turn = tau * column / columns;
    const scene::Vec3 p = place(along, turn, r);
    const float joint = std::max(seam(along - 0.004, 0.004), seam(along - arc, 0.005));
    return PatchPoint{p, 1.6F * (1 - 0.85F * joint) * used(ware, p, -std::cos(turn), end.seed + 5U)};
  });
  const scene::Vec3 middle = place(arc + rise, 0, 0);
  dark_disc(mesh, middle, place(arc + rise, 0, r) - middle, place(arc + rise, tau / 4, r) - middle);
  return mesh;
}

/// A narrow shaft that stands on the end of the run.
std::vector<Mesh> shaft(const EndFrame& end) {
  Mesh wall, floor;
  wall.grain = floor.grain = Grain::plain;
  floor.gloss = 0.10F;
  // Wider than the run, open to the sky: its upper part is pale, and so is the floor below.
  const double r = 1.5 * end.radius_m, bore = end.radius_m, high = 1.6;
  const Rgb ware = whole_ware(end.section);
  const int rows = 90, columns = 80;
  const auto far = [&](double x) { return r + std::sqrt(std::max(0.0, r * r - x * x)); };
  const double foot = -0.55 * bore, wall_foot = -bore;
  add_patch(wall, rows + 1, columns + 1, false, [&](int row, int column) {
    const double turn = 0.98 * (tau / 2 * column / columns - tau / 4), t = static_cast<double>(row) / rows;
    const double x = r * std::sin(turn), y = wall_foot + (high - wall_foot) * t * t;
    const scene::Vec3 p = end.at(x, y, far(x));
    const float joint = seam(std::remainder(y - 1.1 * bore, 0.6), 0.005);
    const auto sky = static_cast<float>(1.2 + 7.0 * std::clamp((y - foot) / (2.4 * bore), 0.0, 1.0));
    return PatchPoint{p, sky * (1 - 0.8F * joint) * used(ware, p, -y / bore - 0.4, end.seed + 15U)};
  });
  // The channel goes on over the floor; beside it the floor rises to the wall.
  add_patch(floor, 40, columns + 1, false, [&](int row, int column) {
    const double u = 2.0 * column / columns - 1, t = row / 39.0;
    const double x = r * u, hollow = std::abs(x) < bore ? -std::sqrt(bore * bore - x * x) : 0.0;
    const double y = std::abs(x) < bore ? std::min(hollow, foot) : foot + 0.25 * (std::abs(x) - bore);
    const scene::Vec3 p = end.at(x, y, (far(x) + 0.002) * t);
    const auto sky = static_cast<float>(1.5 + 3.0 * std::exp(-std::pow((t - 0.55) / 0.3, 2)));
    return PatchPoint{p, sky * used(ware, p, 0.8, end.seed + 16U)};
  });
  return {std::move(wall), std::move(floor)};
}

void add_water(std::vector<Mesh>& meshes, const EndFrame& end, double x0, double x1, double w0, double w1,
               double y) {
  Mesh water;
  water.gloss = 1.2F;
  water.cover = 0.75F;
  add_patch(water, 30, 30, false, [&](int row, int column) {
    const double x = x0 + (x1 - x0) * column / 29, w = w0 + (w1 - w0) * row / 29;
    const scene::Vec3 p = end.as_it_is(x, y, w);
    return PatchPoint{p + scene::Vec3{0, 0.0007 * static_cast<double>(rough(p, 0.05, end.seed + 25U, 2)), 0},
                      2.5F * linear_from_srgb(66, 60, 48)};
  });
  meshes.push_back(std::move(water));
}

/// A larger pipe that runs across.
std::vector<Mesh> pipe_across(const EndFrame& end) {
  base::Random random(end.seed);
  const double r = random.uniform(1.5, 2.0) * end.radius_m, half = 0.9, offset = random.uniform(0, 0.5);
  scene::Section section = end.section;
  if (random.below(2) == 0) section.material = scene::Material::concrete;
  const Rgb ware = whole_ware(section);
  Mesh wall;
  wall.grain = section.material == scene::Material::concrete ? Grain::stone : Grain::plain;
  wall.gloss = 0.10F;
  const double open = std::asin(std::min(0.99, end.radius_m / r));
  add_patch(wall, 120, 140, false, [&](int row, int column) {
    const double a = open + (tau - 2 * open) * row / 119, u = 2.0 * column / 139 - 1;
    const double x = half * u * (0.35 + 0.65 * std::abs(u));
    const double y = r * std::sin(a), w = r - r * std::cos(a);
    const scene::Vec3 p = end.at(x, y, w);
    const float joint = seam(std::remainder(x + offset, 0.5), 0.006);
    return PatchPoint{p, 1.5F * (1 - 0.85F * joint) * used(ware, p, -std::sin(a) - 0.1, end.seed + 31U)};
  });
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(wall));
  const double level = std::max(-0.62 * r, std::min(end.water_m - 0.01, 0.0));
  const double wide = std::sqrt(r * r - level * level);
  add_water(meshes, end, -half, half, r - wide, r + wide, level);
  return meshes;
}

/// A pit of rough concrete, its floor below the pipe.
std::vector<Mesh> pit(const EndFrame& end) {
  base::Random random(end.seed);
  const double r = end.radius_m, deep = random.uniform(0.7, 1.0) + r, half = random.uniform(0.40, 0.55) + r,
               floor = -r - 0.28, high = 1.1;
  const Rgb grey = linear_from_srgb(132, 128, 118), damp = linear_from_srgb(70, 66, 56);
  Mesh mesh;
  mesh.grain = Grain::stone;
  const auto face = [&](auto place) {
    add_patch(mesh, 100, 80, false, [&](int row, int column) {
      const double y = floor + (high - floor) * row / 99;
      const scene::Vec3 p = place(2.0 * column / 79 - 1, y);
      // Boards of the shutter, and the line where water has stood.
      const double board = 0.14, edge = std::abs(std::remainder(y, board));
      const float line = edge < 0.006 ? 0.55F : 1.0F;
      const float wet =
          within(static_cast<float>((-r - 0.02 - y) / 0.03) + 0.6F * rough(p, 0.05, end.seed + 41U, 3));
      const float run = within(1.4F * rough({p.x, p.y / 8, p.z}, 0.03, end.seed + 42U, 3) - 0.1F);
      return PatchPoint{p, 3.0F * line * (1 + 0.2F * rough(p, 0.012, end.seed + 43U, 3)) *
                               blend(blend(grey, damp, 0.6F * run), damp, wet)};
    });
  };
  face([&](double u, double y) { return end.at(half * u, y, deep); });
  face([&](double u, double y) { return end.at(-half, y, deep * (u + 1) / 2); });
  face([&](double u, double y) { return end.at(half, y, deep * (u + 1) / 2); });
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(mesh));
  add_water(meshes, end, -half, half, 0.0, deep, -r - 0.06);
  return meshes;
}

}  // namespace

std::vector<Mesh> end_meshes(const EndFrame& end, scene::NodeKind kind) {
  switch (kind) {
    case scene::NodeKind::manhole:
      return chamber_meshes(end, true);
    case scene::NodeKind::inspection_chamber:
      return chamber_meshes(end, false);
    case scene::NodeKind::rodding_eye: {
      std::vector<Mesh> meshes;
      meshes.push_back(rising_bend(end));
      return meshes;
    }
    case scene::NodeKind::lamphole:
      return shaft(end);
    case scene::NodeKind::junction:
      return pipe_across(end);
    case scene::NodeKind::other:
      return pit(end);
    case scene::NodeKind::outfall:
      break;  // daylight
  }
  return {};
}

}  // namespace haunch::render
