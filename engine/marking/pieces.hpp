// SPDX-License-Identifier: Apache-2.0
// A stretch that was closed and opened again is one thing in pieces: what is left over of a record after
// pairing goes to the pair that it continues. Only then, so that pieces which pair one with another stay
// apart. Inside this room.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

/// Both as one stretch where one goes on where the other ends, within `gap_m`, as the same thing: code,
/// letters, hours, joint, and sizes as one estimates a thing twice. Its id is the first's, its sizes the
/// larger.
std::optional<Finding> joined(const Finding& a, const Finding& b, double gap_m);

/// `left_over` was taken into `into`: indices of one side's findings.
struct Piece {
  std::size_t left_over = 0, into = 0;
};

/// Takes what is not paired into a paired finding of the same side that it continues, where it lies within
/// what the other side says there. `partner_of(i)`: the other side's finding, null for what is not paired;
/// `may(left_over, into)` can forbid it. What is taken into grows. Works along the pipe and back, so that the
/// order of the list never matters.
std::vector<Piece> take_in_pieces(std::vector<Finding>& findings,
                                  const std::function<const Finding*(std::size_t)>& partner_of,
                                  const std::function<bool(std::size_t, std::size_t)>& may,
                                  const Rules::Inside& rules);

}  // namespace haunch::marking
