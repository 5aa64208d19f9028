// SPDX-License-Identifier: Apache-2.0
#include "play/in_view.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "sight/sight.hpp"

namespace haunch::play {
namespace {

constexpr std::size_t most_looks = 60;  // ours: a few seconds on two cores
constexpr std::size_t few_looks = 12;   // ours: most of what is plain at all is plain in one of so many
constexpr int small_width = 320, small_height = 180;

double percent(double share) { return std::round(10000 * share) / 100; }
double tenths(double seconds) { return std::round(10 * seconds) / 10; }

int fault_of(const truth::Truth& truth, const std::string& id) {
  const auto& rows = truth.record.observations;
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& one) { return one.id == id; });
  return row == rows.end() ? 0 : truth.origins.at(static_cast<std::size_t>(row - rows.begin())).fault;
}

}  // namespace

std::vector<marking::InView> in_view(const scene::Scene& scene, const truth::Truth& truth,
                                     const std::vector<Exercise::Stand>& driven,
                                     const std::vector<marking::Missed>& missed, int threads,
                                     const std::atomic<bool>* stop) {
  std::set<int> faults;
  for (const marking::Missed& one : missed) faults.insert(fault_of(truth, one.truth));
  faults.erase(0);
  std::vector<marking::InView> all;
  for (const marking::Missed& one : missed)
    if (fault_of(truth, one.truth) == 0) all.push_back({one.truth, 0, 0, 0, false});
  if (faults.empty()) return all;
  sight::Drive drive;
  for (const Exercise::Stand& stand : driven)
    drive.push_back({stand.lens_z_m, stand.yaw_deg, stand.pitch_deg, stand.seconds});
  sight::Options options;
  options.width = small_width;
  options.height = small_height;
  options.threads = threads;
  options.only.assign(faults.begin(), faults.end());
  options.stop = stop;
  const std::vector<sight::Seen> seen =
      sight::seen_on(scene, sight::near(scene, drive, options.only, most_looks), options);
  if (stop && *stop) return {};
  for (const marking::Missed& one : missed) {
    const int fault = fault_of(truth, one.truth);
    if (fault == 0) continue;
    const sight::Seen& of_it = seen.at(static_cast<std::size_t>(fault - 1));
    all.push_back({one.truth, tenths(of_it.in_view_s), tenths(of_it.plainly_s), percent(of_it.most_share)});
  }
  return all;
}

std::vector<std::string> lost_on(const marking::Marking& marking) {
  std::vector<std::string> rows;
  for (const marking::Missed& one : marking.missed) rows.push_back(one.truth);
  for (const marking::Hit& hit : marking.hits) {
    if (hit.neutral || hit.earned >= hit.weight) continue;
    rows.push_back(hit.truth);
    rows.insert(rows.end(), hit.also_truths.begin(), hit.also_truths.end());
  }
  return rows;
}

std::vector<coding::NotVisible> not_plain(const scene::Scene& scene, const truth::Truth& truth,
                                          const std::vector<std::string>& rows, int threads,
                                          const std::atomic<bool>* stop) {
  std::set<int> faults;
  for (const std::string& row : rows) faults.insert(fault_of(truth, row));
  faults.erase(0);
  const auto until = truth.stop ? std::optional<double>(truth.stop->lens_z_m) : std::nullopt;
  const sight::Drive careful = sight::careful_drive(scene, until);
  std::vector<sight::Seen> seen;
  // One plain look is enough; what a few do not show is looked for all the way.
  for (const std::size_t most : {few_looks, careful.size()}) {
    if (faults.empty()) return {};
    sight::Options options;
    options.threads = threads;
    options.only.assign(faults.begin(), faults.end());
    options.stop = stop;
    seen = sight::seen_on(scene, sight::near(scene, careful, options.only, most), options);
    if (stop && *stop) return {};
    std::erase_if(faults, [&](int fault) { return seen.at(static_cast<std::size_t>(fault - 1)).plain(); });
  }
  std::vector<coding::NotVisible> unseen;
  for (const std::string& row : rows)
    if (const int fault = fault_of(truth, row); faults.contains(fault))
      unseen.push_back({row, sight::why_not_plain(seen.at(static_cast<std::size_t>(fault - 1)))});
  return unseen;
}

}  // namespace haunch::play
