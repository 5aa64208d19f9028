// SPDX-License-Identifier: Apache-2.0
// What a pipe of a material is like when the author does not say more.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/scenario.hpp"

namespace haunch::scene {

/// Words for files; "clay", "brick" and the like are read too.
std::optional<Material> material_from(std::string_view words);
const std::vector<Material>& all_materials();

/// The word a file has for a look of a material: clay "modern" and "salt-glazed", cast iron "new" and
/// "scaled", concrete "new" and "worn"; empty where the material has none.
std::string show(Look look, Material material);
std::optional<Look> look_from(std::string_view words, Material material);

/// Flexible pipe bends under load, rigid pipe breaks (EN 1295-1 has the two words; from memory).
bool is_flexible(Material material);
/// Neither brickwork nor a liner comes in units that meet at joints.
bool has_joints(Material material);

/// Manning's n. Vitrified clay, concrete and cast iron 0.013, brick 0.015, PVC 0.010, smooth PE 0.011:
/// Winchester, Indiana code, table 4 (after FHWA), and for clay and brick also the n values of Dingman
/// Township. Iron full of tubercles 0.020: a public spreadsheet. Pitch fibre, fibre cement and liners: from
/// memory.
double manning_n(Material material, Look look = Look::usual);

/// Joint spacing, m: short clay and concrete units, PVC and iron 3 m, fibre cement 4 m, modern clay 1.5 m
/// (from memory; makers' lengths vary). Pitch fibre 8 ft: read in a text that quotes it. PE 6 to 12 m between
/// welds (from memory). A liner: the clay behind it.
double usual_unit_length_m(Material material, Look look = Look::usual);

/// Clear line between two units that fit well, m: a mortar line in clay (as wide as 1/4 to 1/2 in: S. E.
/// Dibble, Elements of Plumbing, 1918), a ring in concrete, a socket in PVC, a coupling or lead in iron,
/// plain ends under a sleeve in fibre cement; none where PE is welded. Ours.
double usual_joint_gap_m(Material material, Look look = Look::usual);

/// Wall, mm, of the nearest bore in a table. PVC: an EN 1401 SN4 maker's table; iron: a maker's table for
/// service weight; clay and concrete: S. E. Dibble, Elements of Plumbing, 1918 (the walls of ASTM C14 from
/// memory). Wider than those, and PE (SDR 17), pitch fibre, fibre cement and half a brick: from memory.
/// A liner is a fortieth of the bore, 3 mm at least: common practice, no source.
double usual_wall_mm(Material material, double bore_mm);

}  // namespace haunch::scene
