// SPDX-License-Identifier: Apache-2.0
// What sound pipe bears too and nobody records: a run of dirty water, a score from handling, a smear of
// mortar, a cloud in the ware. They carry no fault number, and they are there without faults as with them.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

struct Oddity {
  enum class Kind { run, scores, smear, cloud } kind = Kind::cloud;
  float z = 0, angle = 0;                ///< its middle; of a run: where it starts
  float half_along = 0, half_round = 0;  ///< m
  float radius = 0;
  Rgb tint;  ///< factors; of a smear: albedo
  std::uint32_t seed = 0;
};
/// A few, by the scenario's seed: about one unit in four has one.
std::vector<Oddity> make_oddities(const scene::Scene& scene);
void show_oddities(const std::vector<Oddity>& oddities, Samples& samples);

}  // namespace haunch::render
