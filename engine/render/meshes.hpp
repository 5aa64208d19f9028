// SPDX-License-Identifier: Apache-2.0
// Solid matter of faults as meshes: what lies behind a hole, branches, beds, grease.
// Room-internal header.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "render/passes.hpp"
#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// The small grain that shading adds, finer than the mesh.
enum class Grain { plain, soil, sand, fat, crust, silt, slime, stone };

/// Quads with what each corner looks like.
struct Mesh {
  std::uint16_t fault = 0;
  Grain grain = Grain::plain;
  float gloss = 0;
  float cover = 1;    ///< how much of what lies behind it hides: less for clear water
  float rim = 0;      ///< how much more where it is seen from the side
  bool film = false;  ///< a film of water on the wall
  struct Point {
    float x, y, z;
  };
  std::vector<Point> points, normals;
  std::vector<Rgb> albedo;
  std::vector<std::uint32_t> quads;  // four corners each
};

/// All meshes of one fault, in scene coordinates.
std::vector<Mesh> make_meshes(const scene::Scene& scene, int fault_number);
/// Does it look otherwise at another moment?
bool moves(const scene::FaultKind& kind);

class Meshes {
 public:
  explicit Meshes(const scene::Scene& scene);
  /// Of other things than faults, that stand still.
  Meshes(const scene::Scene& scene, std::vector<std::vector<Mesh>> still);
  ~Meshes();
  Meshes(Meshes&&) noexcept;
  Meshes& operator=(Meshes&&) noexcept;
  /// What moves and is near the lens stands where it is at this moment. Not while a picture is drawn.
  void at_time(double time_s, double lens_z_m);
  void meet(const Batch& batch, Samples& samples) const;
  /// The meshes of each fault that has any.
  std::vector<const std::vector<Mesh>*> all() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::render
