// SPDX-License-Identifier: Apache-2.0
#include <haunch/grading/grade.hpp>

int goals_of_the_shipped_scheme();
int goals_of_the_shipped_scheme() {
  return static_cast<int>(haunch::grading::Scheme::shipped().goals().size());
}
