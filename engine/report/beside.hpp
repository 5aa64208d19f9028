// SPDX-License-Identifier: Apache-2.0
// What was logged drawn beside what is there: the hours on a clock face, sizes as bars; and what the code
// list says of a code. A solid line is what is there, a dashed one what was logged: nothing hangs on colour.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/observation.hpp"

namespace haunch::report {

/// An <svg>, or nothing where the true one has no clock. Hours as the camera looks.
std::string clock_svg(const coding::Observation& truth, const coding::Observation& attempt);
/// An <svg> of the first size, or nothing where either has none.
std::string size_svg(const coding::Observation& truth, const coding::Observation& attempt,
                     const coding::CodeList& list);

/// What the list says of a code with its letters, a line each: "BAB: Fissure", "B: crack, ..".
std::vector<std::string> code_lines(const coding::Observation& seen, const coding::CodeList& list);

}  // namespace haunch::report
