// SPDX-License-Identifier: Apache-2.0
#include "sight_job.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/words.hpp"
#include "play/in_view.hpp"
#include "sight/sight.hpp"

namespace haunch::cli {
namespace {

double percent(double share) { return std::round(10000 * share) / 100; }

std::string why_unseen(const sight::Seen& seen) {
  const std::string words = "a careful drive shows it nowhere plainly: ";
  if (seen.in_view_s <= 0) return words + "it is never in view";
  if (seen.most_share <= 0) return words + "too little of any picture shows it";
  return words + "it changes at most " + base::show_number(percent(seen.most_share)) + " % of a picture";
}

}  // namespace

std::vector<marking::InView> in_view_of(const TruthInput& truth, const AttemptInput& attempt,
                                        const marking::Marking& marking) {
  if (!truth.scene || !attempt.exercise) return {};
  return play::in_view(*truth.scene, truth.truth, attempt.exercise->driven(), marking.missed);
}

void set_aside_unseen(const scene::Scene& scene, truth::Truth& truth) {
  const auto until = truth.stop ? std::optional<double>(truth.stop->lens_z_m) : std::nullopt;
  const std::vector<sight::Seen> seen = sight::seen_on(scene, sight::careful_drive(scene, until));
  std::set<std::string> known;
  for (const coding::NotVisible& one : truth.record.not_visible) known.insert(one.observation);
  for (std::size_t i = 0; i < truth.origins.size(); ++i) {
    const coding::Observation& row = truth.record.observations[i];
    const int fault = truth.origins[i].fault;
    const bool end = !row.stretch.empty() && row.stretch[0] == 'B';
    if (fault == 0 || end || known.contains(row.id)) continue;
    const sight::Seen& one = seen.at(static_cast<std::size_t>(fault - 1));
    if (!one.plain()) truth.record.not_visible.push_back({row.id, why_unseen(one)});
  }
}

}  // namespace haunch::cli
