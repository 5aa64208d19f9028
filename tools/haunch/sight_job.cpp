// SPDX-License-Identifier: Apache-2.0
#include "sight_job.hpp"

#include <algorithm>
#include <set>

#include "play/in_view.hpp"
#include "sight/sight.hpp"

namespace haunch::cli {

std::vector<marking::InView> in_view_of(const TruthInput& truth, const AttemptInput& attempt,
                                        const marking::Marking& marking) {
  if (!truth.scene || !attempt.exercise) return {};
  return play::in_view(*truth.scene, truth.truth, attempt.exercise->driven(), marking.missed);
}

std::vector<marking::InView> look_again(TruthInput& truth, const AttemptInput& attempt,
                                        const MarkingMeans& means) {
  const marking::Marking first = mark_with(means, truth.truth.record, attempt.record);
  if (truth.scene)
    for (coding::NotVisible& one : play::not_plain(*truth.scene, truth.truth, play::lost_on(first)))
      truth.truth.record.not_visible.push_back(std::move(one));
  return in_view_of(truth, attempt, first);
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
    if (!one.plain()) truth.record.not_visible.push_back({row.id, sight::why_not_plain(one)});
  }
}

}  // namespace haunch::cli
