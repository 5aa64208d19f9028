// SPDX-License-Identifier: Apache-2.0
// Surfaces that several kinds of patch are made of.
// Room-internal header.
#pragma once

#include "render/patch_tile.hpp"
#include "scene/scenario.hpp"

namespace haunch::render {

/// A sandy ground: grains and small pits about a middling height.
void sand(TileFields& fields, Rgb colour, float rough_mm);
/// The body of ware or cement as it breaks: shallow steps.
void broken(TileFields& fields, Rgb colour, float rough_mm);

}  // namespace haunch::render
