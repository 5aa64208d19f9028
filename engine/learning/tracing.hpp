// SPDX-License-Identifier: Apache-2.0
// Bayesian knowledge tracing (Corbett & Anderson, User Modeling and User-Adapted Interaction 4 (1995) 253):
// something is known or not, and is learned all at once. All numbers are chances, 0 to 1.
#pragma once

namespace haunch::learning {

struct Tracing {
  double learn = 0;  ///< T: learned with an answer
  double slip = 0;   ///< S: wrong although known
  double guess = 0;  ///< G: right although not known
};

/// The chance of a right answer where it is known with that chance.
double traced_success(const Tracing& rules, double known);
/// Known, as the answer says, before anything is learned from it.
double known_by(const Tracing& rules, double known, bool right);
/// Known when the next answer is asked for.
double known_after(const Tracing& rules, double known, bool right);

}  // namespace haunch::learning
