// SPDX-License-Identifier: Apache-2.0
// What mends a connection: a short tube with a brim, or mortar round its mouth. What nobody states is ours,
// by eye.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/branch.hpp"
#include "matter/noise.hpp"
#include "matter/repair_build.hpp"

namespace haunch::matter {
namespace {

using scene::RepairFlaw;
using scene::RepairForm;
using scene::Vec2;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;
constexpr double sunk_m = 0.0006;

double smooth(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

}  // namespace

Skin skin_of(const scene::Repair& repair) {
  switch (repair.form) {
    case RepairForm::sealant_in_joint:
      return Skin::sealant;
    case RepairForm::connection_lining:
      return Skin::resin;
    default:
      return Skin::mortar;
  }
}

void add_brim(Coat& coat, const scene::Scene& scene, const scene::Repair& repair, std::uint64_t seed,
              std::uint16_t fault) {
  const scene::Connection* connection = nullptr;
  int number = 0, of = 0;
  for (const scene::Fault& there : scene.scenario.faults) {
    ++number;
    if (const auto* c = std::get_if<scene::Connection>(&there.kind);
        c && (!connection || std::abs(c->at_m - repair.from_m) < std::abs(connection->at_m - repair.from_m)))
      connection = c, of = number;
  }
  if (connection == nullptr || std::abs(connection->at_m - repair.from_m) > connection->bore_mm / 2000)
    return;
  const double radius = scene::radius_at(scene, connection->at_m);
  const BranchShape branch = branch_shape(*connection, radius, scene::fault_seed(scene.scenario, of));
  const bool lining = repair.form == RepairForm::connection_lining;
  base::Random random(base::mix(seed + 21U));
  const double thick = lining ? 0.003 : random.uniform(0.004, 0.007);
  const double brim = lining ? random.uniform(0.026, 0.042) : random.uniform(0.022, 0.034);
  const double mouth = branch.bore_radius_m - (lining ? thick : 0.0);
  const double turn = random.uniform(0, tau);
  const auto s = static_cast<std::uint32_t>(seed);
  const Vec2 out{std::sin(branch.angle), std::cos(branch.angle)}, across{out.y, -out.x};
  const Vec2 axis = scene::centre_at(scene, branch.z_m);
  const int columns = 241, tube = lining ? 14 : 0, flat = 26, rows = tube + flat;
  CoatSheet sheet = empty_sheet(rows, columns), shade = empty_sheet(8, columns);
  sheet.ring = shade.ring = true;
  const auto place = [&](double rho, double phi, double into) {
    const double x = rho * std::cos(phi), y = std::clamp(rho * std::sin(phi), -0.97 * radius, 0.97 * radius);
    const double run = radius - std::max(into, -0.002);
    double along_out = std::sqrt(std::max(run * run - y * y, 1e-8));
    if (into < -0.002) along_out = std::sqrt(radius * radius - y * y) - into;
    return Vec3{axis.x + along_out * out.x + y * across.x, axis.y + along_out * out.y + y * across.y,
                branch.z_m + x};
  };
  for (int c = 0; c < columns; ++c) {
    const double phi = tau * (c % (columns - 1)) / (columns - 1);
    const auto noise_at = [&](double size, std::uint32_t more) {
      return static_cast<double>(
          layered_noise(static_cast<float>(std::cos(phi) * branch.bore_radius_m / size),
                        static_cast<float>(std::sin(phi) * branch.bore_radius_m / size), 0.5F, s + more, 2));
    };
    const double wide = brim * (lining ? 1 + 0.02 * noise_at(0.03, 1U) : 1 + 0.45 * noise_at(0.022, 2U));
    // Not laid against the pipe: worst on one side.
    const double gap =
        repair.flaw == RepairFlaw::not_reaching ? 0.004 + 0.008 * std::max(0.0, std::cos(phi - turn)) : 0.0;
    const double lump = repair.flaw == RepairFlaw::excess ? std::max(0.0, 0.35 + std::cos(phi - turn)) : 0;
    for (int r = 0; r < rows; ++r) {
      const std::size_t i = sheet.index(r, c);
      sheet.skin[i] = skin_of(repair), sheet.share[i] = lining ? 0.0F : 1.0F, sheet.fault[i] = fault;
      if (r < tube) {
        sheet.points[i] = place(mouth, phi, -0.075 * (1 - static_cast<double>(r) / tube) - 0.0021);
        continue;
      }
      const double t = static_cast<double>(r - tube) / (flat - 2);
      const bool foot = r == rows - 1;
      const double rho = mouth + std::min(1.0, t) * (wide + branch.bore_radius_m - mouth);
      double high = thick + gap * smooth(0, 1, t);
      if (!lining)
        high = thick * (0.6 + 0.8 * std::max(0.0, 0.5 + noise_at(0.018, 3U))) *
                   smooth(0, 0.25, 1 - std::min(t, 1.0)) +
               0.0008;
      high += lump * repair.takes_percent / 100 * radius * smooth(0, 0.3, t) *
              smooth(0, 0.4, 1 - std::min(1.0, t));
      if (r == tube) high = lining ? 0.0 : -0.0015;
      if (foot) high = gap > 0 ? gap : -sunk_m;
      sheet.points[i] = place(rho, phi, high);
      if (foot && lining) sheet.skin[i] = Skin::split, sheet.share[i] = 0.8F;
    }
    for (int r = 0; r < 8; ++r) {
      const std::size_t i = shade.index(r, c);
      shade.points[i] = place(branch.bore_radius_m + 0.001 + (wide - 0.003) * r / 7.0, phi, 0.0004);
      shade.skin[i] = Skin::dark, shade.share[i] = 1, shade.fault[i] = fault;
    }
  }
  coat.sheets.push_back(std::move(sheet));
  if (repair.flaw == RepairFlaw::not_reaching) coat.sheets.push_back(std::move(shade));
}

}  // namespace haunch::matter
