// SPDX-License-Identifier: Apache-2.0
// What a pipe of a material is like when the author does not say more.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/scenario.hpp"

namespace haunch::scene {

/// Words for files; "clay", "iron" and the like are read too.
std::optional<Material> material_from(std::string_view words);
const std::vector<Material>& all_materials();

/// Flexible pipe bends under load, rigid pipe breaks (EN 1295-1 has the two words; from memory).
bool is_flexible(Material material);

/// Manning's n. Vitrified clay, concrete and cast iron 0.013, PVC 0.010: Winchester, Indiana code,
/// table 4 (after FHWA), and for clay also the n values of Dingman Township.
double manning_n(Material material);

/// Joint spacing, m: short clay and concrete units, PVC and iron 3 m (from memory; makers' lengths
/// vary).
double usual_unit_length_m(Material material);

/// Clear line between two units that fit well, m: a mortar line in clay, a ring in concrete, a
/// socket in PVC, a coupling or lead in iron. Ours.
double usual_joint_gap_m(Material material);

/// Wall, mm. PVC: an EN 1401 SN4 maker's table; iron: a maker's table for service weight; clay and
/// concrete: S. E. Dibble, Elements of Plumbing, 1918 (the walls of ASTM C14 from memory).
double usual_wall_mm(Material material, double bore_mm);

}  // namespace haunch::scene
