// SPDX-License-Identifier: Apache-2.0
// Linings, repairs, and welds that have opened.
#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "measure/rows.hpp"

namespace haunch::measure {
namespace {

constexpr double mm = 0.001;

/// What it leaves of the bore, seen along the pipe.
std::vector<Measured> ring(const Shot& shot) {
  const auto& lining = std::get<scene::ShortLining>(shot.fault());
  const double left = 1 - lining.thickness_mm * mm / scene::radius_at(shot.scene, lining.from_m);
  return {{"takes", 100 * (1 - left * left), percent_of_bore(shot, shot.numbered()), 0.2, 0.8, 100}};
}

std::vector<Measured> in_the_way(const Shot& shot) {
  const auto& repair = std::get<scene::Repair>(shot.fault());
  return {{"takes", repair.takes_percent, percent_of_bore(shot, shot.numbered()), 0.2, 1.5, 100}};
}

/// From tip to tip: there it closes to a line, and its torn lips end there too. It lies on a bead, and what
/// stands off the wall is seen against wall farther on, by its height for each radius of the way to it.
std::vector<Measured> gap(const Shot& shot) {
  const auto& weld = std::get<scene::FailedWeld>(shot.fault());
  constexpr double bead_m = 0.003;
  const double radius = scene::radius_at(shot.scene, weld.from_m);
  if (weld.way == scene::WeldWay::along)
    return ends(shot, shot.numbered(), Along::pipe, 0, weld.from_m, weld.to_m, "length",
                0.003 + bead_m * (weld.to_m - shot.view.pose.lens.z) / radius);
  const double half = base::arc_width_h(weld.arc) / 24 * tau * radius;
  const double middle = base::degrees_from_crown(weld.arc.from_h) / 360 * tau + half / radius;
  return ends(shot, shot.numbered(), Along::round, middle, -half, half, "arc", 0.008);
}

}  // namespace

std::vector<Row> mended_rows() {
  using namespace scene;
  return {
      {"short lining", Material::clay, Look::along,
       [](double bore, int size) -> FaultKind {
         return ShortLining{fault_z_m, fault_z_m + 0.4, std::max(3.0, 0.02 * bore) + 2 * size, LiningFinish::felt};
       },
       ring, 0.3, 1e3, "its edge is cut by hand, a little uneven"},
      {"repair in the way", Material::clay, Look::along,
       [](double bore, int size) -> FaultKind {
         return Repair{fault_z_m,  fault_z_m,          RepairForm::patch, {2, 2, false}, 0.5 * bore,
                       0.4 * bore, RepairFlaw::excess, 6.0 + 4 * size};
       },
       in_the_way, 0.3, 1e3, "lumps of it are sought to a hundredth of the bore"},
      {"weld along", Material::polyethylene, Look::ahead,
       [](double, int size) -> FaultKind {
         return FailedWeld{fault_z_m, fault_z_m + 0.15 + 0.1 * size, {10, 10, false}, WeldWay::along, 3.0 + size};
       },
       gap, 0.5, 1e3, "it tapers to a line at either end, on a bead that stands in; the whole seam is new as well"},
      {"weld round", Material::polyethylene, Look::ahead,
       [](double, int size) -> FaultKind {
         return FailedWeld{joint_z_m, joint_z_m, {9.5 - 0.5 * size, 1.5, false}, WeldWay::around, 3.0 + size};
       },
       gap, 0.4, 12, "it tapers at either end to what a pixel may miss, on a bead that stands in"},
  };
}

}  // namespace haunch::measure
