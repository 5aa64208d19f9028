// SPDX-License-Identifier: Apache-2.0
// The matter of all faults of a scene, behind one door.
#include "render/marks.hpp"
#include "render/meshes.hpp"
#include "render/passes.hpp"
#include "render/strands.hpp"

namespace haunch::render {

struct FaultShapes::Inside {
  std::vector<bool> is_roots;  // by fault number
  Marks marks;
  Meshes meshes;
  Strands strands;
};

namespace {
std::vector<bool> roots_among(const scene::Scene& scene) {
  std::vector<bool> is_roots{false};
  for (const scene::Fault& fault : scene.scenario.faults)
    is_roots.push_back(std::holds_alternative<scene::Roots>(fault.kind));
  return is_roots;
}
}  // namespace

FaultShapes::FaultShapes(const scene::Scene& scene)
    : inside_(std::make_unique<Inside>(
          Inside{roots_among(scene), make_marks(scene), Meshes(scene), make_strands(scene)})) {}
FaultShapes::~FaultShapes() = default;
FaultShapes::FaultShapes(FaultShapes&&) noexcept = default;
FaultShapes& FaultShapes::operator=(FaultShapes&&) noexcept = default;

void FaultShapes::begin_picture(const RayCamera& /*camera*/, double /*time_s*/) {}

void FaultShapes::mark_wall(const Batch& /*batch*/, Samples& samples) const {
  render::mark_wall(inside_->marks, samples);
}
void FaultShapes::meet_meshes(const Batch& batch, Samples& samples) const {
  inside_->meshes.meet(batch, samples);
}
void FaultShapes::meet_strands(const Batch& batch, Samples& samples) const {
  render::meet_strands(inside_->strands, batch, samples);
}

bool FaultShapes::smooth_already(std::uint16_t fault) const {
  return fault < inside_->is_roots.size() && inside_->is_roots[fault];
}

}  // namespace haunch::render
