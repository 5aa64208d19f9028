// SPDX-License-Identifier: Apache-2.0
// What questions are made from: the runs of the field guide's plates, each of which shows one code plainly.
// Inside this room.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace haunch::drills {

/// A plate's run before anything is varied.
struct Form {
  std::string code, main;              ///< "BAB B A", "BAB"
  std::vector<std::string> materials;  ///< that it can be of
  std::string run;                     ///< a scenario as JSON; "*" stands for the material
  std::optional<double> at_m;          ///< where the lens stands; else so far before the thing:
  double ahead_m = 0;
  double yaw_deg = 0, pitch_deg = 0;
};

struct Library {
  std::vector<Form> forms;
  std::vector<std::string> codes;  ///< main codes that some form shows, in the order of the file
  std::map<std::string, std::vector<std::size_t>> of;  ///< main code -> numbers of forms
  std::string clean;                                   ///< a run with nothing wrong in it

  /// Of content/guide/plates.json; throws std::runtime_error where it is damaged.
  static const Library& shipped();
};

}  // namespace haunch::drills
