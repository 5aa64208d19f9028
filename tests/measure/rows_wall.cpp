// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall, and what opens it.
#include <algorithm>
#include <cmath>

#include "measure/rows.hpp"

namespace haunch::measure {
namespace {

using scene::Vec2;
using scene::Vec3;

constexpr double mm = 0.001;

double angle_of(double clock_h) { return base::degrees_from_crown(clock_h) / 360 * tau; }
double middle_of(const base::ClockArc& arc) {
  return angle_of(arc.from_h) + base::arc_width_h(arc) / 24 * tau;
}

void add(std::vector<Measured>& to, std::vector<Measured> more) {
  to.insert(to.end(), more.begin(), more.end());
}

/// How wide a crack opens: from each of its pixels across it to the last on either side. A pixel is its
/// crack's when half of it or more lies in it.
std::vector<Measured> crack_along(const Shot& shot) {
  const auto& crack = std::get<scene::Crack>(shot.fault());
  const Mask mask = shot.numbered();
  const double middle = angle_of(crack.arc.from_h);
  std::vector<Measured> sizes = ends(shot, mask, Along::pipe, middle, crack.from_m, crack.to_m, "length");
  const auto of_it = [&](const Pixel& p) {
    const int x = static_cast<int>(std::floor(p.x)), y = static_cast<int>(std::floor(p.y));
    return x >= 0 && y >= 0 && x < shot.width() && y < shot.height() && mask[shot.index(x, y)];
  };
  double widest = 0, pixel = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (!mask[shot.index(x, y)]) continue;
      const auto wall = meet_wall(shot.scene, shot.ray(x, y));
      const double fine_m = shot.camera.pixel_m(wall->distance_m) / 8;
      const double hour = base::hours_from_degrees(wall->angle / tau * 360),
                   fine_h = fine_m / scene::radius_at(shot.scene, wall->z_m) / tau * 12;
      // It wanders: across it is where it is narrowest. Seen askew a pixel is long on the wall.
      double wide = 1, of_pixel = 0;
      for (int lean = -2; lean <= 2; ++lean) {
        const double along = std::sin(lean * tau / 12), across = std::cos(lean * tau / 12);
        const auto at = [&](int k) {
          return shot.camera.show(
              scene::wall_point(shot.scene, wall->z_m + k * fine_m * along, hour + k * fine_h * across));
        };
        int before = -1, after = 1;
        while (of_it(at(before))) --before;
        while (of_it(at(after))) ++after;
        const double here = (after - before - 1) * fine_m;
        if (here >= wide) continue;
        const Pixel a = at(before), b = at(after);
        wide = here, of_pixel = (after - before) * fine_m / std::hypot(b.x - a.x, b.y - a.y);
      }
      if (wide > widest) widest = wide, pixel = of_pixel;
    }
  // To the far side of either outermost pixel: up to two pixels too much, one on the mean, and the widest of
  // hundreds of places takes the worst of them, seen askew. What is narrower than two pixels is a line, not a
  // width.
  if (crack.width_mm * mm > 2 * pixel)
    sizes.push_back({"width", crack.width_mm * mm, widest - pixel, 2.2 * pixel, 0, 0});
  return sizes;
}

std::vector<Measured> crack_extents(const Shot& shot) {
  const auto& crack = std::get<scene::Crack>(shot.fault());
  const double radius = scene::radius_at(shot.scene, crack.from_m);
  const double half = base::arc_width_h(crack.arc) / 24 * tau * radius;
  // A crack's end is as wide as the crack; where it crosses the pixel's own grid it may be missed.
  std::vector<Measured> sizes = ends(shot, shot.numbered(), Along::round, middle_of(crack.arc), -half, half,
                                     "arc", crack.width_mm * mm);
  if (crack.to_m > crack.from_m)
    add(sizes,
        ends(shot, shot.numbered(), Along::pipe, 0, crack.from_m, crack.to_m, "length", crack.width_mm * mm));
  return sizes;
}

std::vector<Measured> opening(const Shot& shot, double at, double clock_h, double length, double width,
                              double slack) {
  const double radius = scene::radius_at(shot.scene, at);
  const Mask deep = shot.off_wall();
  std::vector<Measured> sizes =
      ends(shot, deep, Along::pipe, angle_of(clock_h), at - length / 2, at + length / 2, "length", slack);
  add(sizes, ends(shot, deep, Along::round, angle_of(clock_h), -width / 2, width / 2, "width", slack));
  (void)radius;
  return sizes;
}
std::vector<Measured> hole(const Shot& shot) {
  const auto& hole = std::get<scene::Hole>(shot.fault());
  return opening(shot, hole.at_m, hole.clock_h, hole.length_mm * mm, hole.width_mm * mm, 0.0015);
}

/// A round branch: its bore along the pipe, and across it, where the wall is cut aslant.
std::vector<Measured> branch(const Shot& shot) {
  const auto& branch = std::get<scene::Connection>(shot.fault());
  const double radius = scene::radius_at(shot.scene, branch.at_m), bore = branch.bore_mm * mm;
  const double round = 2 * radius * std::asin(std::min(1.0, bore / 2 / radius));
  // Beside the mouth's edge the branch lies hardly deeper than the wall.
  return opening(shot, branch.at_m, branch.clock_h, bore, round, 0.0015);
}

/// How far it reaches in, seen along the pipe.
std::vector<Measured> reaches_in(const Shot& shot) {
  const auto& branch = std::get<scene::Connection>(shot.fault());
  const Vec2 side = scene::toward_clock(branch.clock_h);
  double least = 1e9;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (shot.with.fault[shot.index(x, y)] != 1) continue;
      const Vec3 p = shot.ray(x, y).from;
      const Vec2 c = scene::centre_at(shot.scene, p.z);
      // Within the pipe's own bore: the mortar about it stands in too.
      const double along = (p.x - c.x) * side.x + (p.y - c.y) * side.y,
                   across = (p.x - c.x) * side.y - (p.y - c.y) * side.x;
      if (std::abs(across) < branch.bore_mm * mm / 2) least = std::min(least, along);
    }
  const double bore = 2 * scene::radius_at(shot.scene, branch.at_m), pixel = shot.camera.pixel_m(1);
  return {
      {"reaches in", branch.intrudes_percent / 100 * bore, bore / 2 - (least - pixel / 2), pixel, 0.0005, 0}};
}

/// Ragged by as much as the outline may fall short (matter/patch.hpp), and frayed by what the surface is.
template <class Kind>
std::vector<Measured> patch(const Shot& shot) {
  const auto& patch = std::get<Kind>(shot.fault());
  const double radius = scene::radius_at(shot.scene, patch.from_m);
  const double half = base::arc_width_h(patch.arc) / 24 * tau * radius;
  const double ragged = std::min(0.016, 0.22 * std::min(patch.to_m - patch.from_m, 2 * half)) + 0.003;
  const Mask mask = shot.numbered();
  std::vector<Measured> sizes = ends(shot, mask, Along::pipe, 0, patch.from_m, patch.to_m, "length", ragged);
  add(sizes, ends(shot, mask, Along::round, middle_of(patch.arc), -half, half, "arc", ragged));
  return sizes;
}

/// The opening round the pieces, and how far the piece that moved most stands in.
std::vector<Measured> broken(const Shot& shot) {
  const auto& broken = std::get<scene::BrokenWall>(shot.fault());
  const double radius = scene::radius_at(shot.scene, broken.at_m);
  double most = 0, pixel = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (shot.with.fault[shot.index(x, y)] != 1) continue;
      const double in = radius - round_of(shot.scene, shot.point(x, y)).radius_m;
      if (in > most)
        most = in, pixel = shot.camera.pixel_m(static_cast<double>(shot.with.depth_m[shot.index(x, y)]));
    }
  std::vector<Measured> sizes{{"stands in", broken.moved_mm * mm, most, pixel, 0.0005, 0}};
  // Pieces slide by up to a third of what they move, and the edge is chipped. What stands in hides the far
  // end.
  const double slack = 0.3 * broken.moved_mm * mm + 0.003;
  const Mask mask = shot.numbered();
  const double half_long = broken.length_mm * mm / 2, half_wide = broken.width_mm * mm / 2;
  sizes.push_back(
      ends(shot, mask, Along::pipe, 0, broken.at_m - half_long, broken.at_m + half_long, "length", slack)
          .front());
  add(sizes, ends(shot, mask, Along::round, angle_of(broken.clock_h), -half_wide, half_wide, "width", slack));
  return sizes;
}

std::vector<Measured> fallen(const Shot& shot) {
  const auto& broken = std::get<scene::BrokenWall>(shot.fault());
  return {{"takes", broken.takes_percent, percent_of_bore(shot, shot.numbered()), 0.2, 1.5, 100}};
}

double middle(double bore_mm) { return fault_z_m + 0 * bore_mm; }

}  // namespace

std::vector<Row> wall_rows() {
  using namespace scene;
  const auto part = [](double bore, double share) { return share * bore; };
  const base::ClockArc top{10.5, 1.5, false};
  std::vector<Row> rows{
      {"crack along", Material::clay, Look::ahead,
       [](double bore, int size) -> FaultKind {
         return Crack{
             middle(bore) - 0.1, middle(bore) + 0.2, {10, 10, false}, CrackForm::along, 2.0 + 2 * size};
       },
       crack_along, 0.5, 45, "damp about it creeps up to 34 mm into the ware"},
      {"crack around", Material::concrete, Look::ahead,
       [](double bore, int size) -> FaultKind {
         return Crack{middle(bore), middle(bore), {9.0 - size, 2, false}, CrackForm::around, 3};
       },
       crack_extents, 0.5, 45, ""},
      {"crack, branching", Material::clay, Look::ahead,
       [](double bore, int size) -> FaultKind {
         return Crack{
             middle(bore) - 0.1, middle(bore) + 0.15, {9.5 - size, 1, false}, CrackForm::branching, 3};
       },
       crack_extents, 0.4, 45, ""},
      {"hole, soil", Material::clay, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return Hole{middle(bore), 10, part(bore, 0.3 + 0.2 * size), part(bore, 0.25 + 0.15 * size),
                     Behind::soil};
       },
       hole, 0.6, 12, "its arris stands out by a third of a millimetre and hides a little behind it"},
      {"hole, void", Material::concrete, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return Hole{middle(bore), 2, part(bore, 0.3 + 0.2 * size), part(bore, 0.25 + 0.15 * size),
                     Behind::nothing};
       },
       hole, 0.6, 12, "its arris stands out by a third of a millimetre and hides a little behind it"},
      {"branch", Material::clay, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return Connection{middle(bore), 3, part(bore, 0.3 + 0.2 * size), Fitting::branch, 0, false};
       },
       branch, 0.6, 85, "a streak runs down from it; beside its edge it lies hardly deeper than the wall"},
      {"branch that reaches in", Material::clay, Look::along,
       [=](double bore, int size) -> FaultKind {
         return Connection{middle(bore), 2, part(bore, 0.4), Fitting::cut_in, 10.0 + 12 * size, false};
       },
       reaches_in, 0.3, 1e3, "its inner arris stands out by half a millimetre"},
      {"broken wall", Material::clay, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return BrokenWall{middle(bore),
                           10,
                           part(bore, 0.6 + 0.2 * size),
                           part(bore, 0.5 + 0.1 * size),
                           (0.05 + 0.03 * size) * bore,
                           false,
                           0};
       },
       broken, 0.4, 30, "pieces slide while they move, and their arrises are chipped by half a millimetre"},
      {"fallen in", Material::clay, Look::along,
       [=](double bore, int size) -> FaultKind {
         return BrokenWall{middle(bore), 12, part(bore, 1.2), part(bore, 0.9), 0, true, 15.0 + 15 * size};
       },
       fallen, 0.3, 1e3, "pieces lie as they fall: their share is sought to a hundredth"},
      {"porous wall", Material::concrete, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return PorousWall{middle(bore), middle(bore) + 0.1 + 0.1 * size, {10.5, 1.5, false}};
       },
       patch<PorousWall>, 0.3, 60, "a ragged edge; what runs from it stains the wall below"},
      {"sweating wall", Material::concrete, Look::ahead,
       [=](double bore, int size) -> FaultKind {
         return SweatingWall{middle(bore), middle(bore) + 0.1 + 0.1 * size, {10.5, 1.5, false}};
       },
       patch<SweatingWall>, 0.3, 60, "a ragged edge; what runs from it stains the wall below"},
  };
  struct Surface {
    const char* name;
    DamageForm form;
    Material material;
  };
  for (const Surface& s : {Surface{"spalled", DamageForm::spalled, Material::clay},
                           {"stones out", DamageForm::stones_out, Material::concrete},
                           {"steel showing", DamageForm::steel_showing, Material::concrete},
                           {"wall gone", DamageForm::wall_gone, Material::clay},
                           {"rust", DamageForm::rust, Material::cast_iron}})
    rows.push_back(
        {s.name, s.material, Look::ahead,
         [=](double bore, int size) -> FaultKind {
           return SurfaceDamage{
               middle(bore), middle(bore) + 0.1 + 0.1 * size, top, s.form, DamageCause::unclear, 0};
         },
         patch<SurfaceDamage>, 0.3, 60, "a ragged edge; its depth is in the light alone"});
  return rows;
}

const std::vector<Unmeasured>& unmeasured() {
  static const std::vector<Unmeasured> kinds{
      {scene::Infiltration{}, "how fast it comes is all that is stated; it has no size"},
      {scene::BrickDamage{},
       "whole bricks go, those whose middles lie in what is stated: its edges are the bond's"},
      {scene::Haze{}, "it hangs in the air or the water and has no edge"},
      {scene::OnLens{}, "it lies on the lens: no part of the pipe, and none of its pixels has its number"},
      {scene::LiningDefect{}, "it stands in a lining, and each picture here shows one fault: measured in tests/render"},
      {scene::Exfiltration{},
       "a share of the flow is all that is stated: what shows is the water's depth before and after"},
      {scene::Vermin{}, "how many there are is all that is stated, and one may sit behind another"},
  };
  return kinds;
}

}  // namespace haunch::measure
