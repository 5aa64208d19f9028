// SPDX-License-Identifier: Apache-2.0
// What repairs are built of. Inside this room.
#pragma once

#include "matter/coat_build.hpp"

namespace haunch::matter {

Skin skin_of(const scene::Repair& repair);
/// A tube in a connection's mouth with a brim on the run's wall, or only the brim.
void add_brim(Coat& coat, const scene::Scene& scene, const scene::Repair& repair, std::uint64_t seed,
              std::uint16_t fault);

}  // namespace haunch::matter
