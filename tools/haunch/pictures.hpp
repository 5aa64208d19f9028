// SPDX-License-Identifier: Apache-2.0
// Pictures for a report: each missed or found place from just before it, and views along the way.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "inputs.hpp"
#include "marking/mark.hpp"
#include "report/exercise_page.hpp"

namespace haunch::cli {

struct DrawnPicture {
  std::string name;         ///< "missed-03-lit.png"
  std::string png;          ///< full size
  report::Picture picture;  ///< with a smaller copy as a data: address
};

/// `tell` is called before each picture with its number and how many there are.
std::vector<DrawnPicture> draw_pictures(const TruthInput& truth, const marking::Marking& marking,
                                        base::LengthUnit unit, const std::function<void(int, int)>& tell);

}  // namespace haunch::cli
