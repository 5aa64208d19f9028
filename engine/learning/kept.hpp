// SPDX-License-Identifier: Apache-2.0
// From what was kept of a person to what it says of their skills.
#pragma once

#include <string>
#include <vector>

#include "learning/evidence.hpp"
#include "learning/model.hpp"
#include "learning/person.hpp"
#include "scores/kept.hpp"

namespace haunch::learning {

/// Days since 1970-01-01 by the clock on the wall here: a new day begins at every whole number. From
/// "2026-03-02T09:40:00Z"; nothing where that is no time.
std::optional<double> days_of(const std::string& utc);
/// "2026-03-02", of such a day.
std::string date_of(double days);

/// A question that was answered.
std::vector<Evidence> evidence_of(const scores::Answer& answer, const Model& model);
/// A run that was marked: what there was to be found, named and sized, from its marks. None of a guided one,
/// which tells it all. `first_time`: the person had not driven it before.
std::vector<Evidence> evidence_of(const scores::Attempt& attempt, bool first_time);

/// Everything of one person's, in the order in which it happened.
std::vector<Evidence> evidence_of(const std::vector<scores::Answer>& answers,
                                  const std::vector<scores::Attempt>& attempts, const Model& model);
Person person_of(const std::vector<Evidence>& evidence, const Model& model);

}  // namespace haunch::learning
