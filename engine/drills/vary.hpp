// SPDX-License-Identifier: Apache-2.0
// A run of its own from a form: another pipe, other sizes, another hour, another place. Inside this room.
#pragma once

#include <optional>
#include <string>

#include "base/random.hpp"
#include "drills/item.hpp"
#include "drills/library.hpp"
#include "truth/truth.hpp"

namespace haunch::drills {

struct Drawn {
  scene::Scene scene;
  truth::Truth truth;
  std::size_t row = 0;  ///< of the truth: what is asked about
  Clip clip;
};

/// Nothing where what came out makes no sense, or does not show a finding of the form's main code.
/// `straight`: looks along the pipe, so that the hour on the screen is the hour less the roll.
std::optional<Drawn> draw(const Form& form, double ease, bool straight, double most_roll_deg,
                          base::Random& random);
/// A pipe with nothing wrong in it and nothing to write down.
std::optional<Drawn> draw_clean(double ease, double most_roll_deg, base::Random& random);

}  // namespace haunch::drills
