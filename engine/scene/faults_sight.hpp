// SPDX-License-Identifier: Apache-2.0
// What takes the sight away. Measures as fault.hpp has them.
#pragma once

namespace haunch::scene {

enum class HazeKind {
  steam,  ///< in the air above the water
  silt    ///< stirred up in the water: it hides what a lens under water would see
};
/// Thickens over up to 0.3 m at either end.
struct Haze {
  double from_m = 0, to_m = 0;
  HazeKind kind = HazeKind::steam;
  double sight_m = 1;  ///< through this much of it, where it is thickest, a twentieth of the light comes back
};

enum class LensFilm { grease, foam, web, mud };
/// Sticks to the window before the lens while the lens is in the stretch.
struct OnLens {
  double from_m = 0, to_m = 0;
  LensFilm film = LensFilm::grease;
  double covers_percent = 0;  ///< of the window
};

}  // namespace haunch::scene
