// SPDX-License-Identifier: Apache-2.0
// Where pictures are measured for a truth or a marking, which themselves read none: they get the outcome as
// plain data.
#pragma once

#include <vector>

#include "inputs.hpp"
#include "marking/mark.hpp"
#include "marking_job.hpp"

namespace haunch::cli {

/// How what was missed was in view on the attempt's own drive; nothing for what is no fault of the scenario,
/// and nothing at all for an attempt without a drive. Measured on some dozens of small pictures.
std::vector<marking::InView> in_view_of(const TruthInput& truth, const AttemptInput& attempt,
                                        const marking::Marking& marking);

/// What a first marking calls missed is looked for: what a careful drive shows nowhere plainly is listed in
/// the truth as not visible, so that the next marking holds it against nobody; and how it was in view on the
/// attempt's own drive, which only adds to what is said. Draws pictures of the places.
std::vector<marking::InView> look_again(TruthInput& truth, const AttemptInput& attempt,
                                        const MarkingMeans& means);

/// What a careful drive shows nowhere plainly is listed as not visible, with why. Draws the whole drive.
void set_aside_unseen(const scene::Scene& scene, truth::Truth& truth);

}  // namespace haunch::cli
