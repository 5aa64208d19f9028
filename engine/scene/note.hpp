// SPDX-License-Identifier: Apache-2.0
// What belongs in the record of a run and no picture shows: it is measured, remarked or put away, and the
// trainee is told of it when the camera comes to the place.
#pragma once

#include <string>

namespace haunch::scene {

enum class NoteKind { air, remark, photograph, new_video, new_photographs, weather };
enum class Gas { oxygen, hydrogen_sulphide, methane, other };

struct Note {
  double at_m = 0;  ///< from the upstream end
  NoteKind kind = NoteKind::remark;
  Gas gas = Gas::other;  ///< air: what there is too much of, of oxygen too little
  double reading = 0;    ///< air: as measured, in `unit`; more than 0
  std::string unit;      ///< air: "%", "ppm" or "% LEL" (of the lower explosive limit)
  std::string text;      ///< in the author's words; of other gases the name
  std::string pointer;   ///< JSON pointer of its place in the scenario file
};

}  // namespace haunch::scene
