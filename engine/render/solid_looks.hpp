// SPDX-License-Identifier: Apache-2.0
// How things in the bore look: what they are made of, and what a drain does to it. Colours are ours, by eye.
// Room-internal header.
#pragma once

#include <cstdint>

#include "matter/solid.hpp"
#include "render/meshes.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// The look of one stuff at a place of the thing.
struct SolidLook {
  const scene::Section& section;
  matter::Stuff stuff;
  std::uint32_t tint;  ///< picks one of the colours the stuff comes in
  std::uint32_t seed;

  Rgb clean(const scene::Vec3& own) const;
  /// How dirty it gets: what is smooth is rinsed, what is rough holds dirt.
  float soiled() const;
  Grain grain() const;
  float gloss() const;
  /// How much of what lies behind it hides.
  float cover() const;
  /// How much more where it is seen from the side.
  float rim() const;
};

}  // namespace haunch::render
