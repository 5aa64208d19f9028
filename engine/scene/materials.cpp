// SPDX-License-Identifier: Apache-2.0
#include "scene/materials.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "scene/brickwork.hpp"

namespace haunch::scene {
namespace {

struct Size {
  double bore_mm, wall_mm;
};

double wall_of_nearest(const std::vector<Size>& sizes, double bore_mm) {
  Size best = sizes.front();
  for (const Size& size : sizes) {
    if (std::abs(size.bore_mm - bore_mm) < std::abs(best.bore_mm - bore_mm)) best = size;
  }
  return best.wall_mm;
}

}  // namespace

std::string show(Material material) {
  switch (material) {
    case Material::clay:
      return "vitrified clay";
    case Material::pvc:
      return "PVC";
    case Material::cast_iron:
      return "cast iron";
    case Material::concrete:
      return "concrete";
    case Material::brick:
      return "brickwork";
    case Material::polyethylene:
      return "polyethylene";
    case Material::pitch_fibre:
      return "pitch fibre";
    case Material::fibre_cement:
      return "fibre cement";
    case Material::liner:
      return "liner";
  }
  return {};
}

const std::vector<Material>& all_materials() {
  static const std::vector<Material> all{
      Material::clay,        Material::pvc,          Material::cast_iron,
      Material::concrete,    Material::brick,        Material::polyethylene,
      Material::pitch_fibre, Material::fibre_cement, Material::liner};
  return all;
}

std::optional<Material> material_from(std::string_view words) {
  const std::string word = base::lower(words);
  for (const Material material : all_materials()) {
    if (word == base::lower(show(material))) return material;
  }
  if (word == "clay") return Material::clay;
  if (word == "brick") return Material::brick;
  if (word == "pe") return Material::polyethylene;
  return std::nullopt;
}

std::string show(Look look, Material material) {
  if (look == Look::usual) return {};
  const bool fresh = look == Look::fresh;
  switch (material) {
    case Material::clay:
      return fresh ? "modern" : "salt-glazed";
    case Material::cast_iron:
      return fresh ? "new" : "scaled";
    case Material::concrete:
      return fresh ? "new" : "worn";
    default:
      return {};
  }
}

std::optional<Look> look_from(std::string_view words, Material material) {
  for (const Look look : {Look::fresh, Look::aged}) {
    const std::string word = show(look, material);
    if (!word.empty() && base::lower(words) == word) return look;
  }
  return std::nullopt;
}

bool is_flexible(Material material) {
  return material == Material::pvc || material == Material::polyethylene ||
         material == Material::pitch_fibre || material == Material::liner;
}

bool has_joints(Material material) { return material != Material::brick && material != Material::liner; }

double manning_n(Material material, Look look) {
  switch (material) {
    case Material::pvc:
    case Material::liner:
      return 0.010;
    case Material::polyethylene:
    case Material::fibre_cement:
      return 0.011;
    case Material::cast_iron:
      return look == Look::aged ? 0.020 : 0.013;
    case Material::brick:
      return 0.015;
    case Material::clay:
    case Material::concrete:
    case Material::pitch_fibre:
      return 0.013;
  }
  return 0.013;
}

double usual_unit_length_m(Material material, Look look) {
  switch (material) {
    case Material::clay:
      return look == Look::fresh ? 1.5 : 0.9;
    case Material::liner:
      return 0.9;
    case Material::concrete:
    case Material::brick:
      return 1.0;
    case Material::pvc:
    case Material::cast_iron:
      return 3.0;
    case Material::pitch_fibre:
      return 2.44;
    case Material::fibre_cement:
      return 4.0;
    case Material::polyethylene:
      return 6.0;
  }
  return 1.0;
}

double usual_joint_gap_m(Material material, Look look) {
  switch (material) {
    case Material::clay:
      return look == Look::fresh ? 0.003 : look == Look::aged ? 0.010 : 0.006;
    case Material::concrete:
      return look == Look::fresh ? 0.005 : 0.008;
    case Material::pvc:
      return 0.003;
    case Material::cast_iron:
      return 0.004;
    case Material::brick:
      return 0.008;
    case Material::polyethylene:
      return 0;
    case Material::pitch_fibre:
    case Material::liner:
      return 0.002;
    case Material::fibre_cement:
      return 0.007;
  }
  return 0.005;
}

double usual_wall_mm(Material material, double bore_mm) {
  switch (material) {
    case Material::pvc:
      return wall_of_nearest({{103.6, 3.2},
                              {118.6, 3.2},
                              {152.0, 4.0},
                              {190.2, 4.9},
                              {237.6, 6.2},
                              {299.6, 7.7},
                              {380.4, 9.8},
                              {475.4, 12.3},
                              {599.2, 15.4}},
                             bore_mm);
    case Material::cast_iron:
      return wall_of_nearest(
          {{75, 4.3}, {100, 4.6}, {151, 4.6}, {202, 5.8}, {252, 7.1}, {303, 7.1}, {385, 9.1}, {600, 12.0}},
          bore_mm);
    case Material::clay:
    case Material::concrete:
      return wall_of_nearest({{76, 12.7},
                              {102, 12.7},
                              {152, 15.9},
                              {203, 19.1},
                              {254, 22.2},
                              {305, 25.4},
                              {381, 38.1},
                              {457, 47.6},
                              {533, 57.2},
                              {610, 63.5}},
                             bore_mm);
    case Material::polyethylene:
      return wall_of_nearest({{79, 5.4},
                              {96.8, 6.6},
                              {141, 9.5},
                              {176, 11.9},
                              {220, 14.8},
                              {277, 18.7},
                              {353, 23.7},
                              {441, 29.7},
                              {555, 37.4}},
                             bore_mm);
    case Material::pitch_fibre:
      return wall_of_nearest({{76, 7.1}, {102, 8.1}, {152, 11.2}, {203, 14.7}, {305, 20.0}, {600, 32.0}},
                             bore_mm);
    case Material::fibre_cement:
      return wall_of_nearest({{100, 9}, {150, 11}, {200, 13}, {300, 18}, {450, 24}, {600, 32}}, bore_mm);
    case Material::brick:
      return 1000 * brick_ring_m;
    case Material::liner:
      return std::max(3.0, std::round(bore_mm / 4) / 10);
  }
  return 15;
}

}  // namespace haunch::scene
