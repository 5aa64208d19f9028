// SPDX-License-Identifier: Apache-2.0
// Stretches of wall that are not round, or bend: their sections, and how they run on into one another.
// Room-internal header.
#pragma once

#include "render/wall.hpp"

namespace haunch::render {

/// The sections of a piece between two places of it.
void take_shape(Stretch& stretch, const scene::Piece& piece, double z0, double z1);
/// The groove between two pieces follows the larger of their sections, `deep` metres beyond it and
/// beyond any step.
void widen_shape(Stretch& groove, const scene::Piece& before, const scene::Piece& after, double deep);
/// Neighbouring stretches of what is curved meet without an edge to the light.
void smooth_curves(Wall& wall, const scene::Scene& scene);

}  // namespace haunch::render
