// SPDX-License-Identifier: Apache-2.0
// Plates: for each code and characterisation a run that shows it, and where to look from. A plate says its
// code, but what it shows is derived like any truth, and a plate whose run does not give that code is
// refused. File: content/guide/plates.json.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/observation.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::guide {

struct Plate {
  std::string name;  ///< "BAB-C-A-clay"; a second of the same code and material: "BAB-C-A-clay-2"
  std::string material;
  scene::Scene scene;
  coding::Observation subject;  ///< as derived
  coding::Number length_m;      ///< of a continuous observation; else empty
  int fault = 0;                ///< number of the fault it comes from; 0: of the run itself
  scene::CameraPose pose;
  double lens_at_m = 0;  ///< as the inspection counts
  double time_s = 0;
};

/// A code that no picture can show, and why.
struct Unpictured {
  std::string code;
  std::string why;
};

struct Plates {
  std::vector<Plate> plates;  ///< in the file's order, the materials of one after another
  std::vector<Unpictured> unpictured;
};

/// Every problem of the file and of each plate's run.
base::Result<Plates> read_plates(const std::filesystem::path& path);
/// The first plate of that code, and of that material where one is given; nothing where there is none, or its
/// run has a problem. Builds no other.
std::optional<Plate> read_plate(const std::filesystem::path& path, const std::string& code,
                                const std::string& material = {});
std::filesystem::path shipped_plates();

}  // namespace haunch::guide
