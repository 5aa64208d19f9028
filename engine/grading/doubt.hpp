// SPDX-License-Identifier: Apache-2.0
// Classes that were read from a size that can hardly be, marked as such. The class stands: whether the size
// or the reading of it is wrong, only a person can tell.
#pragma once

#include <vector>

#include "coding/doubtful.hpp"
#include "grading/grade.hpp"

namespace haunch::grading {

/// Marks each class that a doubtful size decided: `GoalClass::doubtful`, with the size in its reason. Names
/// those sizes in `Grade::doubtful`; where the object class, or one of `Grade::overall`, would be another
/// without them, that is marked too and its reason says which. Where there would be no object class at all,
/// `Grade::object_least` and `object_most` are nothing. `doubtful` are sizes of the record
/// (coding::doubtful_sizes); the grade is the record's own, under the scheme and the site.
void mark_doubtful(Grade& grade, const coding::Record& record, const Scheme& scheme, const Site& site,
                   const std::vector<coding::DoubtfulSize>& doubtful);

}  // namespace haunch::grading
