// SPDX-License-Identifier: Apache-2.0
// The clock columns of an observation as an arc round the wall.
#pragma once

#include <optional>

#include "base/clock.hpp"
#include "coding/observation.hpp"

namespace haunch::coding {

/// G and H as an arc; nothing where there is no hour from 1 to 12. One hour is an arc of no width.
std::optional<base::ClockArc> clock_arc(const Observation& observation);

}  // namespace haunch::coding
