// SPDX-License-Identifier: Apache-2.0
// A sheet of plates: pictures without a word on them, and a list that says what each shows. For whoever tests
// whether a picture can be named by sight.
#pragma once

#include <string>

#include "guide/plates.hpp"

namespace haunch::guide {

struct PictureSize {
  int width = 1280, height = 720;
};

/// PNG bytes of one plate. threads 0: as many as the machine has.
std::string draw_plate(const Plate& plate, const PictureSize& size = {}, int threads = 0);

/// `index.json` (schema: sheet): the file of each plate, its code, sizes, clock and place, as derived.
std::string sheet_index(const Plates& plates);

}  // namespace haunch::guide
