// SPDX-License-Identifier: Apache-2.0
// Things in the bore as meshes.
#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"
#include "matter/solid.hpp"
#include "render/meshes_build.hpp"
#include "render/solid_looks.hpp"

namespace haunch::render {
namespace {

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

}  // namespace

std::vector<Mesh> solid_meshes(const scene::Scene& scene, int fault_number, double time_s) {
  std::vector<Mesh> meshes;
  matter::Solid solid = matter::solid_of(scene, fault_number, time_s);
  if (const auto* connection = std::get_if<scene::Connection>(
          &scene.scenario.faults[static_cast<std::size_t>(fault_number - 1)].kind))
    solid =
        matter::incoming_solid(scene, *connection, scene::fault_seed(scene.scenario, fault_number), time_s);
  if (solid.parts.empty()) return meshes;
  const auto seed = static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, fault_number));
  const WallFrame frame = wall_frame(scene, solid.parts.front().points.front().at.z, 12);
  static const Rgb dirt = linear_from_srgb(64, 50, 34), slime = linear_from_srgb(44, 38, 24);
  auto stuff = matter::Stuff::stone;
  std::uint32_t tint = 0;
  for (const matter::SolidPart& part : solid.parts) {
    const SolidLook look{frame.section, part.stuff, part.tint, seed};
    // What looks alike is one mesh.
    if (meshes.empty() || stuff != part.stuff || tint != part.tint) {
      meshes.emplace_back();
      stuff = part.stuff, tint = part.tint;
    }
    Mesh& mesh = meshes.back();
    mesh.fault = static_cast<std::uint16_t>(fault_number);
    mesh.grain = look.grain();
    mesh.gloss = look.gloss();
    mesh.cover = look.cover();
    mesh.rim = look.rim();
    mesh.film = part.stuff == matter::Stuff::wet;
    const float holds = look.soiled();
    add_patch(mesh, part.rows, part.columns, part.closed, [&](int row, int column) {
      const matter::SolidPoint& p =
          part.points[static_cast<std::size_t>(row) * static_cast<std::size_t>(part.columns) +
                      static_cast<std::size_t>(column)];
      const scene::Vec2 axis = scene::centre_at(frame.piece, p.at.z);
      const double away = std::hypot(p.at.x - axis.x, p.at.y - axis.y);
      // Low down the flow leaves its dirt; near the wall little of the lamp's light comes back out.
      const auto low = static_cast<float>((axis.y - p.at.y) / frame.radius);
      Rgb soiled = look.clean(p.own);
      if (holds > 0) {
        const float dirty = within(holds * (0.70F + 0.7F * low + 1.6F * rough(p.own, 0.022, seed + 40U, 4)));
        soiled = blend(soiled, blend(dirt, slime, within(0.5F + rough(p.own, 0.03, seed + 41U, 2))), dirty);
      }
      const auto corner = static_cast<float>((frame.radius - away) / (0.10 * frame.radius));
      // Pieces of the wall itself stand in its light.
      const float least = part.stuff == matter::Stuff::ware ? 0.85F : 0.45F;
      return PatchPoint{p.at, (least + (1 - least) * within(corner)) * soiled};
    });
  }
  return meshes;
}

}  // namespace haunch::render
