// SPDX-License-Identifier: Apache-2.0
#include "learners/kinds.hpp"

namespace haunch::learners {

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all = {
      {"knowledge tracing", "Corbett & Anderson 1995; numbers, and a little forgetting a day, ours",
       make_tracing},
      {"memory traces", "Pavlik & Anderson 2005 and 2008, constants from memory; spread of codes ours",
       make_traces},
      {"half-life", "in the manner of Settles & Meeder 2016, from memory; numbers ours", make_half_life},
      {"neighbours", "logistic growth, and confusion that only contrast takes away; ours", make_neighbours},
      {"skill model", "the model the order itself reckons with", make_skill_world, true},
  };
  return all;
}

}  // namespace haunch::learners
