// SPDX-License-Identifier: Apache-2.0
// Animals of a drain, before they are put in their place. Inside this room.
#pragma once

#include <cstdint>

#include "base/random.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {

/// Its nose at +z, feet at y = 0.
Solid rat(double long_m, std::uint32_t seed, base::Random& random);
/// Its head at +z, lying on the plane y = 0.
Solid cockroach(double long_m, std::uint32_t seed, base::Random& random);

/// Those that look out of a connection or an open joint, in the bore's coordinates.
Solid peeping_solid(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed);

}  // namespace haunch::matter
