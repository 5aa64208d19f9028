// SPDX-License-Identifier: Apache-2.0
#include "sight_job.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/words.hpp"
#include "sight/sight.hpp"

namespace haunch::cli {
namespace {

constexpr std::size_t most_looks = 60;  // ours: a few seconds on two cores
constexpr int small_width = 320, small_height = 180;

double percent(double share) { return std::round(10000 * share) / 100; }
double tenths(double seconds) { return std::round(10 * seconds) / 10; }

int fault_of(const truth::Truth& truth, const std::string& id) {
  const auto& rows = truth.record.observations;
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& one) { return one.id == id; });
  return row == rows.end() ? 0 : truth.origins.at(static_cast<std::size_t>(row - rows.begin())).fault;
}

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
  std::set<int> faults;
  for (const marking::Missed& missed : marking.missed) faults.insert(fault_of(truth.truth, missed.truth));
  faults.erase(0);
  if (faults.empty()) return {};
  sight::Drive drive;
  for (const play::Exercise::Stand& stand : attempt.exercise->driven())
    drive.push_back({stand.lens_z_m, stand.yaw_deg, stand.pitch_deg, stand.seconds});
  sight::Options options;
  options.width = small_width;
  options.height = small_height;
  options.only.assign(faults.begin(), faults.end());
  const std::vector<sight::Seen> seen =
      sight::seen_on(*truth.scene, sight::near(*truth.scene, drive, options.only, most_looks), options);
  std::vector<marking::InView> in_view;
  for (const marking::Missed& missed : marking.missed) {
    const int fault = fault_of(truth.truth, missed.truth);
    if (fault == 0) continue;
    const sight::Seen& one = seen.at(static_cast<std::size_t>(fault - 1));
    in_view.push_back({missed.truth, tenths(one.in_view_s), tenths(one.plainly_s), percent(one.most_share)});
  }
  return in_view;
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
