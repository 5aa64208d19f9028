// SPDX-License-Identifier: Apache-2.0
// Scored defects along a pipe, and what lying close together makes of them. For procedure "mean score and
// worst". Inside this room.
//
// Two defects that no more than `together` of clear pipe lies between are in one place if all of a place can
// meet one stretch of that length; the scores of a place add up, to at most `most`. Defects linked by such
// gaps are one compound, which scores as its worst place: a row of slight defects along a whole pipe does not
// add up to a failing one. (Ours: the rule says only that defects within 1 m are added into one.)
#pragma once

#include <vector>

namespace haunch::grading {

struct Scored {
  double from_m = 0, to_m = 0;  ///< along the way of the camera, as counted; from <= to
  double score = 0;
  bool placed = true;  ///< false: nobody knows where, so it is near nothing
};
struct Closeness {
  double together_m = 1, close_m = 1.5, factor = 1, most = 0;
};
struct Compound {
  double score = 0, length_m = 0;
  bool close = false;  ///< another one lies no more than `close_m` clear of it
  std::size_t defects = 0;
};

/// In order along the pipe.
std::vector<Compound> compounds(std::vector<Scored> items, const Closeness& rule);

/// No less than the mean of any choice of the defects, nor than their worst place, could be: it never falls
/// when a defect is added, where the mean of all may. For each neighbourhood (linked by gaps of at most
/// `close_m`) the two worst places apart from each other count as if they were alone and close.
double worst_of_any_choice(const std::vector<Scored>& items, const Closeness& rule);

}  // namespace haunch::grading
