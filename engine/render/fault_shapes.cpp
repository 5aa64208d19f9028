// SPDX-License-Identifier: Apache-2.0
// The matter of all faults of a scene, behind one door.
#include "render/contacts.hpp"
#include "render/marks.hpp"
#include "render/meshes.hpp"
#include "render/passes.hpp"
#include "render/strands.hpp"

namespace haunch::render {

struct FaultShapes::Inside {
  Marks marks;
  Meshes meshes;
  Strands strands;
  std::vector<Contact> contacts;
  explicit Inside(const scene::Scene& scene)
      : marks(make_marks(scene)),
        meshes(scene),
        strands(make_strands(scene)),
        contacts(make_contacts(scene, meshes)) {}
};

FaultShapes::FaultShapes(const scene::Scene& scene) : inside_(std::make_unique<Inside>(scene)) {}
FaultShapes::~FaultShapes() = default;
FaultShapes::FaultShapes(FaultShapes&&) noexcept = default;
FaultShapes& FaultShapes::operator=(FaultShapes&&) noexcept = default;

void FaultShapes::begin_picture(const RayCamera& camera, double time_s) {
  inside_->meshes.at_time(time_s, camera.lens.z);
}

void FaultShapes::mark_wall(const Batch& /*batch*/, Samples& samples) const {
  render::mark_wall(inside_->marks, samples);
  paint_contacts(inside_->contacts, samples);
}
void FaultShapes::meet_meshes(const Batch& batch, Samples& samples) const {
  inside_->meshes.meet(batch, samples);
}
void FaultShapes::meet_strands(const Batch& batch, Samples& samples) const {
  render::meet_strands(inside_->strands, batch, samples);
}

const Marks& FaultShapes::marks() const { return inside_->marks; }

bool FaultShapes::any_strands() const { return !inside_->strands.links.empty(); }

}  // namespace haunch::render
