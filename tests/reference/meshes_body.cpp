// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>

#include "matter/branch.hpp"
#include "matter/coat.hpp"
#include "matter/deposit.hpp"
#include "matter/solid.hpp"
#include "matter/squashed.hpp"
#include "matter/wall.hpp"
#include "matter/weld.hpp"
#include "reference/meshes.hpp"

namespace haunch::reference {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

void add_sheet(Triangles& to, const matter::Sheet& sheet) {
  for (const Vec3& p : sheet.points) to.add(p);
  for (int r = 0; r + 1 < sheet.rows; ++r)
    for (int c = 0; c + 1 < sheet.columns; ++c)
      if (!sheet.open_cell(r, c)) {
        const auto at = [&](int row, int column) {
          return static_cast<std::uint32_t>(sheet.index(row, column));
        };
        to.quad(at(r, c), at(r, c + 1), at(r + 1, c + 1), at(r + 1, c));
      }
}

/// A stone as the ellipsoid it is said to be; broken ones are a little smaller.
void add_stone(Triangles& to, const matter::Stone& stone) {
  constexpr int rows = 10, columns = 20;
  const double c = std::cos(stone.turn), s = std::sin(stone.turn);
  std::vector<std::uint32_t> places;
  for (int r = 0; r <= rows; ++r)
    for (int k = 0; k < columns; ++k) {
      const double t = tau / 2 * r / rows, a = tau * k / columns;
      const Vec3 p{stone.half.x * std::sin(t) * std::cos(a), stone.half.y * std::cos(t),
                   stone.half.z * std::sin(t) * std::sin(a)};
      places.push_back(to.add(stone.centre + Vec3{c * p.x + s * p.z, p.y, c * p.z - s * p.x}));
    }
  const auto at = [&](int r, int k) { return places[static_cast<std::size_t>(r * columns + k % columns)]; };
  for (int r = 0; r < rows; ++r)
    for (int k = 0; k < columns; ++k) to.quad(at(r, k), at(r, k + 1), at(r + 1, k + 1), at(r + 1, k));
}

void add_part(Triangles& to, const matter::SolidPart& part) {
  const auto first = static_cast<std::uint32_t>(to.points.size());
  for (const matter::SolidPoint& p : part.points) to.add(p.at);
  const auto at = [&](int r, int c) {
    return first + static_cast<std::uint32_t>(r * part.columns + c % part.columns);
  };
  for (int r = 0; r + 1 < part.rows; ++r)
    for (int c = 0; c + 1 < part.columns + (part.closed ? 1 : 0); ++c)
      to.quad(at(r, c), at(r, c + 1), at(r + 1, c + 1), at(r + 1, c));
}

/// A lining, a repair, a weld: each cell is of the fault that its first corner is said to be of.
void add_coat(std::vector<Triangles>& all, const matter::Coat& coat) {
  for (const matter::CoatSheet& sheet : coat.sheets) {
    std::map<std::uint16_t, Triangles> of;
    for (int r = 0; r + 1 < sheet.rows; ++r)
      for (int c = 0; c + 1 < sheet.columns; ++c) {
        const std::size_t corners[] = {sheet.index(r, c), sheet.index(r, c + 1), sheet.index(r + 1, c + 1),
                                       sheet.index(r + 1, c)};
        if (!sheet.open.empty() &&
            std::any_of(std::begin(corners), std::end(corners), [&](std::size_t i) { return sheet.open[i]; }))
          continue;
        Triangles& to = of[sheet.fault[corners[0]]];
        std::uint32_t at[4];
        for (int k = 0; k < 4; ++k) at[k] = to.add(sheet.points[corners[k]]);
        to.quad(at[0], at[1], at[2], at[3]);
      }
    for (auto& [fault, triangles] : of) {
      triangles.part = Part::body;
      triangles.fault = fault;
      all.push_back(std::move(triangles));
    }
  }
}

/// The end of a connection that stands in: its outside, and a disc over its end, as all within is its own.
void add_stub(Triangles& to, const scene::Scene& scene, const scene::Connection& connection,
              std::uint64_t seed) {
  const double radius = matter::wall_radius_m(scene, connection.at_m, connection.clock_h);
  const matter::BranchShape shape = matter::branch_shape(connection, radius, seed);
  if (shape.reach_in_m <= 0.0005) return;
  const scene::Vec2 centre = scene::centre_at(scene, shape.z_m);
  const Vec3 middle{centre.x, centre.y, shape.z_m}, out{std::sin(shape.angle), std::cos(shape.angle), 0},
      side{std::cos(shape.angle), -std::sin(shape.angle), 0};
  const double outer = shape.bore_radius_m + shape.wall_m, end = radius - shape.reach_in_m;
  constexpr int columns = 360;
  std::vector<std::uint32_t> near, far;
  for (int k = 0; k < columns; ++k) {
    const double turn = tau * k / columns;
    const double across = std::min(outer * std::abs(std::sin(turn)), 0.9999 * radius),
                 wall = std::sqrt(radius * radius - across * across);
    const Vec3 about = Vec3{0, 0, outer * std::cos(turn)} + outer * std::sin(turn) * side;
    near.push_back(to.add(middle + about + std::min(end, wall) * out));
    far.push_back(to.add(middle + about + (wall + 0.004) * out));
  }
  const std::uint32_t hub = to.add(middle + std::min(end, radius) * out);
  for (std::size_t k = 0; k < columns; ++k) {
    const std::size_t next = (k + 1) % columns;
    to.quad(near[k], near[next], far[next], far[k]);
    to.corners.push_back({hub, near[k], near[next]});
  }
}

}  // namespace

std::vector<Triangles> body_triangles(const scene::Scene& scene, double time_s) {
  std::vector<Triangles> all;
  int number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    const std::uint64_t seed = scene::fault_seed(scene.scenario, ++number);
    Triangles body{Part::body, static_cast<std::uint16_t>(number), -1, {}, {}};
    Triangles rough{Part::rough, body.fault, -1, {}, {}};
    if (const auto* settled = std::get_if<scene::Settled>(&fault.kind)) {
      const matter::SettledBed bed = matter::settled_bed(scene, *settled, seed);
      add_sheet(body, bed.top);
      for (const matter::Stone& stone : bed.stones) add_stone(rough, stone);
    }
    if (const auto* attached = std::get_if<scene::Attached>(&fault.kind))
      // Fat hangs in drops besides.
      add_sheet(attached->kind == scene::AttachedKind::grease ? rough : body,
                matter::attached_sheet(scene, *attached, seed));
    if (const auto* connection = std::get_if<scene::Connection>(&fault.kind))
      add_stub(rough, scene, *connection, seed);
    if (std::holds_alternative<scene::ShortLining>(fault.kind))
      add_coat(all, matter::lining_coat(scene, number));
    if (const auto* defect = std::get_if<scene::LiningDefect>(&fault.kind)) {
      const auto lining = scene::lining_over(scene.scenario, (defect->from_m + defect->to_m) / 2);
      if (lining && lining->is_the_wall()) add_coat(all, matter::lining_coat(scene, number));
    }
    if (const auto* repair = std::get_if<scene::Repair>(&fault.kind))
      add_coat(all, matter::repair_coat(scene, *repair, number));
    if (const auto* weld = std::get_if<scene::FailedWeld>(&fault.kind))
      add_coat(all, matter::weld_coat(scene, *weld, number));
    for (const matter::SolidPart& part : matter::solid_of(scene, number, time_s).parts) add_part(body, part);
    if (!body.corners.empty()) all.push_back(std::move(body));
    if (!rough.corners.empty()) all.push_back(std::move(rough));
  }
  return all;
}

}  // namespace haunch::reference
