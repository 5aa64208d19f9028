// SPDX-License-Identifier: Apache-2.0
// Distances and nodes. Ours: what a person would see who walks down the sheet.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"

namespace haunch::coding {
namespace {

/// Ours: the header's length is an expectation, and cables stretch; well past it is a slip, well short
/// of it another pipe or an inspection that was broken off.
double slack_m(double length_m) { return std::max(1.0, 0.02 * length_m); }
double shortfall_m(double length_m) { return std::max(1.0, 0.05 * length_m); }

/// The first row of that role, or null.
const Observation* first_of(const RemarksOn& remarks, Role role) {
  for (std::size_t i = 0; i < remarks.entries.size(); ++i)
    if (remarks.entries[i] != nullptr && remarks.entries[i]->role == role)
      return &remarks.record.observations[i];
  return nullptr;
}

/// Distances from which an end of the inspection is told, or nothing.
std::optional<double> place_of(const Observation* one) {
  return one == nullptr ? std::nullopt : one->distance_m.value;
}

void check_between(RemarksOn& remarks, std::size_t i, double from_m, double to_m) {
  const Observation& one = remarks.record.observations[i];
  if (!one.distance_m.value || *one.distance_m.value < 0) return;
  constexpr double same_m = 0.005;  // rounding in the last digit
  const double at_m = *one.distance_m.value;
  if (at_m >= from_m - same_m && at_m <= to_m + same_m) return;
  if (remarks.length_m && at_m > *remarks.length_m) return;  // told already
  remarks.row(Rule::outside_nodes, i, "it lies outside the inspection",
              "a distance from " + base::show_number(from_m) + " to " + base::show_number(to_m) +
                  " m, between start and finish");
}

/// A node's name where local habit writes it: in the column of quantification 1.
void check_node_name(RemarksOn& remarks, std::size_t i, const std::string& wanted) {
  const std::string given = base::trim(remarks.record.observations[i].q1.show());
  if (!given.empty() && !wanted.empty() && given != wanted)
    remarks.row(Rule::node_names, i, "it names the node \"" + given + "\"",
                "\"" + wanted + "\", as the header says");
}

void check_node_names(RemarksOn& remarks) {
  const auto value = [&](std::string_view code) {
    return base::trim(remarks.record.header_value(code).value_or(""));
  };
  const std::string start = value("AAB"), one = value("AAD"), two = value("AAF");
  if (!one.empty() && one == two)
    remarks.whole(Rule::node_names, "nodes 1 and 2 of the header (AAD, AAF) are both \"" + one + "\"",
                  "two nodes", "AAF");
  else if (!start.empty() && !one.empty() && !two.empty() && start != one && start != two)
    remarks.whole(
        Rule::node_names,
        "the start node of the header (AAB) is \"" + start + "\", neither node 1 (AAD) nor node 2 (AAF)",
        "\"" + one + "\" or \"" + two + "\"", "AAB");
  if (start.empty() || (start != one && start != two)) return;
  for (std::size_t i = 0; i < remarks.entries.size(); ++i) {
    const Role role = remarks.entries[i] == nullptr ? Role::finding : remarks.entries[i]->role;
    if (role == Role::start) check_node_name(remarks, i, start);
    if (role == Role::finish) check_node_name(remarks, i, start == one ? two : one);
  }
}

}  // namespace

void check_distance(RemarksOn& remarks, std::size_t i) {
  const Number& distance = remarks.record.observations[i].distance_m;
  if (distance.empty())
    return remarks.row(Rule::distance_missing, i, "it has no distance", "metres along the pipe");
  if (!distance.value)
    return remarks.row(Rule::distance_missing, i, "its distance is \"" + distance.text + "\"",
                       "metres along the pipe, a number", nearest_number(distance.text));
  if (*distance.value < 0)
    return remarks.row(Rule::distance_impossible, i, "its distance is " + distance.show() + " m",
                       "at least 0");
  if (*distance.value > longest_pipe_m)
    return remarks.row(Rule::distance_impossible, i,
                       "its distance is " + distance.show() + " m, and no pipe is as long",
                       "at most " + base::show_number(longest_pipe_m) + " m");
  const auto& length_m = remarks.length_m;
  if (!length_m || *distance.value <= *length_m) return;
  const bool far = *distance.value - *length_m > slack_m(*length_m);
  remarks.row(far ? Rule::distance_far_past : Rule::distance_past, i,
              "its distance is " + distance.show() + " m, past the length in the header (ABQ)",
              "at most " + base::show_number(*length_m) + " m");
}

void check_order(RemarksOn& remarks) {
  const auto& observations = remarks.record.observations;
  int up = 0, down = 0;
  for (std::size_t i = 1; i < observations.size(); ++i) {
    const auto& before = observations[i - 1].distance_m.value;
    const auto& here = observations[i].distance_m.value;
    if (!before || !here) continue;
    up += *here > *before ? 1 : 0;
    down += *here < *before ? 1 : 0;
  }
  if (up == 0 || down == 0) return;
  const bool counts_down = down > up;
  for (std::size_t i = 1; i < observations.size(); ++i) {
    const auto& before = observations[i - 1].distance_m.value;
    const auto& here = observations[i].distance_m.value;
    if (before && here && (counts_down ? *here > *before : *here < *before))
      remarks.row(Rule::distance_back, i,
                  "its distance is out of order after " + observations[i - 1].distance_m.show() + " m",
                  counts_down ? "distances that fall" : "distances that grow");
  }
}

void check_twice(RemarksOn& remarks) {
  const auto& all = remarks.record.observations;
  const auto same = [](const Observation& a, const Observation& b) {
    return a.code == b.code && a.ch1 == b.ch1 && a.ch2 == b.ch2 && a.q1 == b.q1 && a.q2 == b.q2 &&
           a.clock_from == b.clock_from && a.clock_to == b.clock_to && a.at_joint == b.at_joint &&
           a.stretch == b.stretch && a.remark == b.remark && a.extra == b.extra;
  };
  // Rows of one place stand together; where very many do, only the nearest are looked at.
  for (std::size_t i = 1; i < all.size(); ++i)
    for (std::size_t back = 1; back <= std::min<std::size_t>(i, 8); ++back) {
      const Observation& before = all[i - back];
      if (!before.distance_m.value || before.distance_m.value != all[i].distance_m.value) break;
      if (!same(before, all[i])) continue;
      remarks.row(Rule::row_twice, i, "the same is written down twice", "one row, or what tells them apart");
      break;
    }
}

void check_nodes(RemarksOn& remarks) {
  const auto& all = remarks.record.observations;
  if (all.empty())
    return remarks.whole(Rule::nothing_seen, "the record has no observations", "at least a start node (BCD)");
  const Observation* start = first_of(remarks, Role::start);
  const Observation* finish = first_of(remarks, Role::finish);
  const Observation* abandoned = first_of(remarks, Role::abandoned);
  if (start == nullptr) remarks.whole(Rule::start_missing, "no start node is recorded", "an observation BCD");
  if (finish == nullptr && abandoned == nullptr)
    remarks.whole(Rule::finish_missing, "neither a finish node nor an abandonment is recorded",
                  "an observation BCE or BDC");
  check_node_names(remarks);
  const auto from = place_of(start), to = place_of(finish != nullptr ? finish : abandoned);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Role role = remarks.entries[i] == nullptr ? Role::finding : remarks.entries[i]->role;
    if ((role == Role::start && &all[i] != start) || (role == Role::finish && &all[i] != finish))
      remarks.row(Rule::node_twice, i,
                  role == Role::start ? "the inspection has a start node already"
                                      : "the inspection has a finish node already",
                  "one start and one finish");
    if (&all[i] == finish && abandoned != nullptr)
      remarks.row(Rule::after_abandoning, i, "the inspection is recorded as abandoned (BDC)",
                  "a finish node or an abandonment, not both");
    // What nobody could see may lie beyond the place where an inspection had to end.
    const auto& unseen = remarks.record.not_visible;
    const bool set_aside = std::any_of(unseen.begin(), unseen.end(), [&](const NotVisible& one) {
      return !all[i].id.empty() && one.observation == all[i].id;
    });
    if (from && to && !set_aside) check_between(remarks, i, std::min(*from, *to), std::max(*from, *to));
  }
  if (!remarks.length_m || !from || !to || finish == nullptr || abandoned != nullptr) return;
  const double driven_m = std::abs(*to - *from), length_m = *remarks.length_m;
  if (length_m - driven_m > shortfall_m(length_m))
    remarks.row(Rule::length_short, static_cast<std::size_t>(finish - all.data()),
                "the finish node is " + base::show_number(driven_m) + " m from the start",
                "about " + base::show_number(length_m) +
                    " m, the length in the header (ABQ), or an abandonment (BDC)");
}

}  // namespace haunch::coding
