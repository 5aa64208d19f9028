// SPDX-License-Identifier: Apache-2.0
// What marking needs besides the two records, and the page round a marking.
#pragma once

#include <string>
#include <vector>

#include "grading/grade.hpp"
#include "inputs.hpp"
#include "marking/mark.hpp"
#include "report/exercise_page.hpp"

namespace haunch::cli {

struct MarkingMeans {
  grading::Scheme scheme;
  marking::Rules rules;
  grading::Site site;
  std::string scheme_hash, rules_hash, code_list_hash;
};

/// The shipped ones where a name is empty; a scheme goes by a shipped one's id or by its file.
MarkingMeans read_means(const std::string& scheme_name, const std::string& rules_file);

marking::Marking mark_with(const MarkingMeans& means, const coding::Record& truth,
                           const coding::Record& attempt, base::LengthUnit unit = base::LengthUnit::metres,
                           const std::vector<marking::InView>& in_view = {},
                           const marking::OnDrive& on_drive = {});
/// What the attempt's own drive tells, where there was one.
marking::OnDrive on_drive_of(const AttemptInput& attempt);

/// The page without pictures, trainee and time.
report::ExercisePage page_of(const TruthInput& truth, const coding::Record& attempt,
                             const marking::Marking& marking, const MarkingMeans& means,
                             base::LengthUnit unit);

}  // namespace haunch::cli
