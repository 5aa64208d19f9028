// SPDX-License-Identifier: Apache-2.0
#include "scene/materials.hpp"

#include <cmath>

#include "base/words.hpp"

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
  }
  return {};
}

const std::vector<Material>& all_materials() {
  static const std::vector<Material> all{Material::clay, Material::pvc, Material::cast_iron,
                                         Material::concrete};
  return all;
}

std::optional<Material> material_from(std::string_view words) {
  const std::string word = base::lower(words);
  for (const Material material : all_materials()) {
    if (word == base::lower(show(material))) return material;
  }
  if (word == "clay") return Material::clay;
  return std::nullopt;
}

bool is_flexible(Material material) { return material == Material::pvc; }

double manning_n(Material material) { return material == Material::pvc ? 0.010 : 0.013; }

double usual_unit_length_m(Material material) {
  switch (material) {
    case Material::clay:
      return 0.9;
    case Material::concrete:
      return 1.0;
    case Material::pvc:
    case Material::cast_iron:
      return 3.0;
  }
  return 1.0;
}

double usual_joint_gap_m(Material material) {
  switch (material) {
    case Material::clay:
      return 0.006;
    case Material::concrete:
      return 0.008;
    case Material::pvc:
      return 0.003;
    case Material::cast_iron:
      return 0.004;
  }
  return 0.005;
}

double usual_wall_mm(Material material, double bore_mm) {
  switch (material) {
    case Material::pvc:
      return wall_of_nearest(
          {{103.6, 3.2}, {118.6, 3.2}, {152.0, 4.0}, {190.2, 4.9}, {237.6, 6.2}, {299.6, 7.7}}, bore_mm);
    case Material::cast_iron:
      return wall_of_nearest({{75, 4.3}, {100, 4.6}, {151, 4.6}, {202, 5.8}, {252, 7.1}, {303, 7.1}},
                             bore_mm);
    case Material::clay:
    case Material::concrete:
      return wall_of_nearest({{76, 12.7}, {102, 12.7}, {152, 15.9}, {203, 19.1}, {254, 22.2}, {305, 25.4}},
                             bore_mm);
  }
  return 15;
}

}  // namespace haunch::scene
