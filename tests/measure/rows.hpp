// SPDX-License-Identifier: Apache-2.0
// The table: for each kind of fault what is measured in its pictures and how, or why it cannot be.
#pragma once

#include <functional>
#include <vector>

#include "measure/shot.hpp"
#include "scene/fault.hpp"

namespace haunch::measure {

inline constexpr double joint_z_m = 4.0;   ///< units are 1 m long
inline constexpr double fault_z_m = 4.45;  ///< clear of joints by half a unit or less

enum class Look {
  ahead,  ///< as a drive sees it
  wide,   ///< a square picture of 120 degrees from close by: little hides anything behind it
  along,  ///< rays side by side along the pipe
};

struct Row {
  const char* name;
  scene::Material material = scene::Material::clay;
  Look look = Look::ahead;
  /// Of three sizes, 0 the smallest, in a bore.
  std::function<scene::FaultKind(double bore_mm, int size)> fault;
  std::function<std::vector<Measured>(const Shot& shot)> measure;
  /// Colours: this share of its pixels, at least, differ by 12 of 255 or more from the pipe without it; -1:
  /// not asked, since the pipe beyond it has moved and all differs.
  double changed_share = 0.5;
  /// .. and hardly a pixel beyond this differs by 40 or more: dirt, chips, damp and shade about it, mm.
  double fringe_mm = 0;
  const char* slack = "";  ///< why a size may be off by more than a pixel or two per cent
};

std::vector<Row> joint_rows();
std::vector<Row> wall_rows();
std::vector<Row> matter_rows();
std::vector<Row> mended_rows();

/// A kind that has no size a picture could be measured against.
struct Unmeasured {
  scene::FaultKind kind;
  const char* why;
};
const std::vector<Unmeasured>& unmeasured();

}  // namespace haunch::measure
