// SPDX-License-Identifier: Apache-2.0
// What each kind of thing does to the wall where it touches it. How far it reaches is ours, by eye.
// Room-internal header.
#pragma once

#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// What a kind of thing does to the wall about it; lengths in metres.
struct Touch {
  float line = 0;   ///< reach of the dark line right beside it; 0: none
  float shade = 0;  ///< of the soft shade
  float strewn_along = 0, strewn_round = 0;
  Rgb matter;
  float grain = 0.0015F, gloss = 0;
  double runs_from_h = -1;  ///< clock it has run down the wall from, or none
  float runs_at_m = 0;
  bool sticks = false;     ///< it lies on a steep wall too
  bool wets = false;       ///< water runs over the wall
  bool ends_only = false;  ///< a long thing: what lies before and behind it
};

/// In a bore of that radius (m); nothing for kinds that leave no mark.
Touch touch_of(const scene::FaultKind& kind, float radius_m);

}  // namespace haunch::render
