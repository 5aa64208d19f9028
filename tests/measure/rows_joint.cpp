// SPDX-License-Identifier: Apache-2.0
// Joints, and the shape of the bore and of its line.
#include <algorithm>
#include <cmath>
#include <map>

#include "measure/rows.hpp"

namespace haunch::measure {
namespace {

using scene::Vec2;
using scene::Vec3;

std::vector<Measured> gap(const Shot& shot) {
  const auto& gap = std::get<scene::JointGap>(shot.fault());
  const double half = gap.gap_mm / 2000;
  std::vector<Measured> sizes =
      ends(shot, shot.numbered(), Along::pipe, 0, joint_z_m - half, joint_z_m + half, "gap by number");
  for (Measured& m :
       ends(shot, shot.off_wall(), Along::pipe, 0, joint_z_m - half, joint_z_m + half, "gap by depth"))
    sizes.push_back(m);
  return sizes;
}

/// The end of the unit that stands in: how far, on the side where it does so most.
std::vector<Measured> shift(const Shot& shot) {
  const auto& shift = std::get<scene::JointShift>(shot.fault());
  const scene::Joint& joint = shot.scene.joints[3];
  const scene::Piece &before = shot.scene.pieces[static_cast<std::size_t>(joint.before)],
                     &after = shot.scene.pieces[static_cast<std::size_t>(joint.after)];
  const double plane = joint.at_m + joint.gap_m / 2, stands_in_h = shift.toward_clock_h + 6;
  const Vec2 side = scene::toward_clock(stands_in_h);
  double least = 1e9, pixel = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (shot.with.fault[shot.index(x, y)] != 1) continue;
      const Ray r = shot.ray(x, y);
      const double t = (plane - r.from.z) / r.way.z;
      const Vec3 p = r.from + t * r.way;
      const Vec2 off{p.x - before.to_centre.x, p.y - before.to_centre.y};
      const double away = scene::length(off);
      if (off.x * side.x + off.y * side.y < 0.995 * away || away >= least) continue;
      least = away;
      pixel = shot.camera.pixel_m(t);
    }
  return {
      {"step", shift.offset_mm / 1000, before.radius_m - (least - pixel / 2), pixel, 0, 0 * after.radius_m}};
}

/// How far the line has turned between two stretches, from circles laid through their walls.
double turned(const Shot& shot, const double (&z)[4], double half, int& points) {
  Circle c[4];
  for (int k = 0; k < 4; ++k) {
    c[k] = circle_through(shot, z[k] - half, z[k] + half, -1);
    points = std::min(points, c[k].points);
  }
  const auto along = [&](int a, int b) {
    return scene::normalised(Vec3{c[b].x - c[a].x, c[b].y - c[a].y, z[b] - z[a]});
  };
  return std::acos(std::min(1.0, scene::dot(along(0, 1), along(2, 3)))) * 360 / tau;
}

std::vector<Measured> joint_bend(const Shot& shot) {
  const auto& bend = std::get<scene::JointBend>(shot.fault());
  const double bore = 2 * scene::radius_at(shot.scene, joint_z_m);
  int points = 1000000;
  const double angle =
      turned(shot, {joint_z_m - 0.6 * bore, joint_z_m - 0.2 * bore, joint_z_m + 0.2 * bore, joint_z_m + bore},
             0.1 * bore, points);
  // A pixel's width at the far slice against the way between the slices.
  const double pixel = shot.camera.pixel_m(2.6 * bore) / (0.4 * bore) * 360 / tau;
  return {{points < 100 ? "angle: too little shows" : "angle", bend.angle_deg, points < 100 ? 0 : angle,
           pixel, 0, 0}};
}

std::vector<Measured> bend(const Shot& shot) {
  const auto& bend = std::get<scene::Bend>(shot.fault());
  int points = 1000000;
  const double a = bend.from_m, b = bend.to_m, bore = 2 * scene::radius_at(shot.scene, a);
  const double angle =
      turned(shot, {a - 0.6 * bore, a - 0.15 * bore, b + 0.15 * bore, b + bore}, 0.1 * bore, points);
  const double pixel = shot.camera.pixel_m(b - a + 2 * bore) / (0.45 * bore) * 360 / tau;
  return {{points < 100 ? "angle: too little shows" : "angle", bend.angle_deg, points < 100 ? 0 : angle,
           pixel, 0, 0}};
}

/// Height or width on the axis where it is least, from the wall's own places in short slices.
std::vector<Measured> squashed(const Shot& shot) {
  const auto& pressed = std::get<scene::Squashed>(shot.fault());
  const double bore = 2 * scene::radius_at(shot.scene, pressed.from_m), slice_m = 0.03;
  struct Slice {
    double low = 1e9, high = -1e9, distance = 0;
  };
  std::map<int, Slice> slices;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (shot.with.fault[shot.index(x, y)] != 1) continue;
      const Vec3 p = shot.point(x, y);
      const Vec2 c = scene::centre_at(shot.scene, p.z);
      const Vec2 off = pressed.vertical ? Vec2{p.x - c.x, p.y - c.y} : Vec2{p.y - c.y, p.x - c.x};
      // On the axis itself: beside a hinge that stands in, the quarters reach a little past it. Joints have
      // depth of their own.
      if (std::abs(off.x) > 0.006 * bore || std::abs(p.z - std::round(p.z)) < 0.02) continue;
      Slice& s = slices[static_cast<int>(std::floor(p.z / slice_m))];
      s.low = std::min(s.low, off.y), s.high = std::max(s.high, off.y);
      s.distance = static_cast<double>(shot.with.depth_m[shot.index(x, y)]);
    }
  double least = bore, distance = 0;
  for (const auto& [z, s] : slices)
    if (s.low < 0 && s.high > 0 && s.high - s.low < least) least = s.high - s.low, distance = s.distance;
  const double pixel = shot.camera.pixel_m(distance);
  return {{"percent", pressed.percent, 100 * (1 - least / bore), 100 * pixel / bore, 0, 0}};
}

/// The stated arc; it ends in tatters.
std::vector<Measured> mortar(const Shot& shot) {
  const auto& mortar = std::get<scene::MissingMortar>(shot.fault());
  const double radius = scene::radius_at(shot.scene, joint_z_m);
  const double half = base::arc_width_h(mortar.arc) / 24 * tau * radius;
  const double middle =
      (base::degrees_from_crown(mortar.arc.from_h) / 360 + base::arc_width_h(mortar.arc) / 24) * tau;
  return ends(shot, shot.numbered(), Along::round, middle, -half, half, "arc", 0.007);
}

/// The farthest it hangs from the wall that it has left, in a picture along the pipe.
std::vector<Measured> ring(const Shot& shot) {
  const auto& ring = std::get<scene::SealingRing>(shot.fault());
  double most = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x)
      if (shot.with.fault[shot.index(x, y)] == 1) {
        const Vec3 p = shot.ray(x, y).from;
        // Straight up from there to the wall.
        const Vec2 c = scene::centre_at(shot.scene, p.z);
        const double radius = scene::radius_at(shot.scene, p.z), aside = p.x - c.x;
        if (std::abs(aside) < radius)
          most = std::max(most, c.y + std::sqrt(radius * radius - aside * aside) - p.y);
      }
  const double pixel = shot.camera.pixel_m(1);
  return {{"hangs", ring.hangs_mm / 1000, most + pixel / 2, pixel, 0, 0}};
}

}  // namespace

std::vector<Row> joint_rows() {
  using namespace scene;
  return {
      {"joint gap", Material::clay, Look::ahead,
       [](double, int size) -> FaultKind {
         return JointGap{joint_z_m, 15.0 + 20 * size};
       },
       gap, 0.5, 14, "the mortar beside the joint goes with the ends of the units"},
      {"joint gap, plastic", Material::pvc, Look::ahead,
       [](double, int size) -> FaultKind {
         return JointGap{joint_z_m, 15.0 + 20 * size};
       },
       gap, 0.5, 14, ""},
      {"joint shift", Material::concrete, Look::ahead,
       [](double bore, int size) -> FaultKind {
         return JointShift{joint_z_m, (0.04 + 0.05 * size) * bore, 8};
       },
       shift, -1, 0, ""},
      {"joint bend", Material::concrete, Look::ahead,
       [](double, int size) -> FaultKind {
         return JointBend{joint_z_m, 2.0 + 2 * size, 4};
       },
       joint_bend, -1, 0, ""},
      {"missing mortar", Material::clay, Look::ahead,
       [](double, int size) -> FaultKind {
         return MissingMortar{joint_z_m, {10.0 - size, 1.0 + size / 2.0, false}, 12};
       },
       mortar, 0.4, 16, "it breaks away with teeth left standing, up to 7 mm"},
      {"sealing ring", Material::concrete, Look::along,
       [](double bore, int size) -> FaultKind {
         return SealingRing{joint_z_m, {10.5, 1.5, false}, (0.15 + 0.15 * size) * bore, false};
       },
       ring, -1, 0, "black rubber before a pipe that is dark"},
      {"squashed plastic", Material::pvc, Look::ahead,
       [](double, int size) -> FaultKind {
         return Squashed{2.5, 5.5, true, 6.0 + 6 * size};
       },
       squashed, -1, 0, ""},
      {"squashed clay, sideways", Material::clay, Look::ahead,
       [](double, int size) -> FaultKind {
         return Squashed{2.5, 5.5, false, 5.0 + 5 * size};
       },
       squashed, -1, 0, ""},
      {"bend", Material::pvc, Look::ahead,
       [](double bore, int size) -> FaultKind {
         return Bend{fault_z_m - 0.1, fault_z_m - 0.1 + std::max(0.3, 1.5 * bore / 1000), 4.0 + 3 * size, 3};
       },
       bend, -1, 0, ""},
  };
}

}  // namespace haunch::measure
