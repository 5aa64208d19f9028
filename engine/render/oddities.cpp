// SPDX-License-Identifier: Apache-2.0
#include "render/oddities.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "render/marks.hpp"

namespace haunch::render {
namespace {

using scene::Material;
using Kind = Oddity::Kind;
constexpr float tau = 2 * std::numbers::pi_v<float>;
constexpr double one_unit_in = 4;  // ours

float smooth(float from, float to, float x) {
  const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

/// Kinds that a material shows; mortar only where joints are made with it.
Kind pick_kind(base::Random& random, Material material) {
  const double luck = random.uniform();
  switch (material) {
    case Material::brick:
      return luck < 0.5 ? Kind::run : luck < 0.8 ? Kind::cloud : Kind::smear;
    case Material::polyethylene:
      return luck < 0.7 ? Kind::scores : Kind::run;
    case Material::pitch_fibre:
    case Material::fibre_cement:
      return luck < 0.4 ? Kind::run : luck < 0.7 ? Kind::cloud : Kind::scores;
    case Material::liner:
      return luck < 0.5 ? Kind::run : Kind::cloud;
    case Material::clay:
      return luck < 0.3 ? Kind::smear : luck < 0.55 ? Kind::run : luck < 0.85 ? Kind::cloud : Kind::scores;
    case Material::concrete:
      return luck < 0.25 ? Kind::smear : luck < 0.55 ? Kind::run : luck < 0.75 ? Kind::cloud : Kind::scores;
    case Material::pvc:
      return luck < 0.6 ? Kind::scores : Kind::run;
    case Material::cast_iron:
      break;
  }
  return luck < 0.6 ? Kind::run : Kind::cloud;
}

Oddity oddity_in(base::Random& random, const scene::Piece& piece, Material material) {
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  const double length = piece.to_m - piece.from_m;
  Oddity odd;
  odd.seed = static_cast<std::uint32_t>(random.next());
  odd.radius = static_cast<float>(piece.radius_m);
  odd.kind = pick_kind(random, material);
  odd.z = static_cast<float>(piece.from_m) + between(0.15, 0.85) * static_cast<float>(length);
  odd.angle = between(0, 1) * tau;
  switch (odd.kind) {
    case Kind::run: {
      // Falls from somewhere in the upper half; dirt, or rust from above.
      odd.angle = between(-0.30, 0.30) * tau;
      odd.half_along = between(0.003, 0.008), odd.half_round = 0.35F * tau * odd.radius;
      const float dark = between(0.62, 0.82);
      odd.tint = {dark + 0.06F, dark, 0.92F * dark};
      break;
    }
    case Kind::scores:
      odd.half_along = between(0.03, 0.12), odd.half_round = between(0.004, 0.010);
      odd.tint = is_plastic(material) ? Rgb{1.22F, 1.28F, 1.32F} : Rgb{1.30F, 1.28F, 1.24F};
      break;
    case Kind::smear: {
      // Where the joint was wiped: near an end, seldom overhead.
      const bool at_end = random.uniform() < 0.5;
      odd.half_along = between(0.010, 0.028), odd.half_round = between(0.006, 0.018);
      const float in = odd.half_along + between(0.010, 0.040);
      odd.z = static_cast<float>(at_end ? piece.to_m : piece.from_m) + (at_end ? -in : in);
      odd.angle = tau / 2 + between(-0.33, 0.33) * tau;
      odd.tint = between(0.8, 1.1) * linear_from_srgb(140, 134, 122);
      break;
    }
    case Kind::cloud: {
      odd.half_along = between(0.03, 0.09), odd.half_round = between(0.02, 0.05);
      const float k = random.uniform() < 0.6 ? between(0.72, 0.88) : between(1.10, 1.22);
      odd.tint = {k, k, k};
      break;
    }
  }
  if (odd.angle < 0) odd.angle += tau;
  return odd;
}

/// Where joints were made with much mortar some of it has dripped on the invert and set there.
void add_drips(std::vector<Oddity>& oddities, const scene::Scene& scene, const scene::Piece& piece) {
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  if (section.material != Material::clay || section.look != scene::Look::aged) return;
  base::Random random(base::mix(scene.scenario.seed * 137 + static_cast<std::uint64_t>(piece.unit) + 29));
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  for (int n = 0; n < 3; ++n) {
    if (random.uniform() > 0.55) continue;
    Oddity odd;
    odd.kind = Kind::smear;
    odd.seed = static_cast<std::uint32_t>(random.next());
    odd.radius = static_cast<float>(piece.radius_m);
    odd.half_along = between(0.012, 0.034), odd.half_round = between(0.007, 0.016);
    odd.z = static_cast<float>(piece.from_m) + odd.half_along + between(0.012, 0.07);
    odd.angle = tau / 2 + between(-0.09, 0.09) * tau;
    odd.tint = between(0.9, 1.15) * linear_from_srgb(146, 140, 126);
    oddities.push_back(odd);
  }
}

void dim(Samples& m, int i, Rgb tint, float share) {
  m.red[i] *= 1 + share * (tint.r - 1), m.green[i] *= 1 + share * (tint.g - 1),
      m.blue[i] *= 1 + share * (tint.b - 1);
}

void show(const Oddity& odd, Samples& m, int i) {
  float around = m.wall_angle[i] - odd.angle;
  around -= around > tau / 2 ? tau : around < -tau / 2 ? -tau : 0;
  const float dz = m.wall_z[i] - odd.z, ds = around * odd.radius;
  const float pixel = m.parallel ? m.pixel_size : m.pixel_size * m.depth[i];
  const auto noise = [&](float size_z, float size_s, std::uint32_t more) {
    return matter::noise(dz / size_z, ds / size_s, 0.4F, odd.seed + more);
  };
  switch (odd.kind) {
    case Kind::run: {
      // Down is away from the crown, on the side it started.
      const bool clockwise = odd.angle < tau / 2;
      const float down = clockwise ? ds : -ds;
      if (down < -0.004F || down > odd.half_round) return;
      const float sway = 0.6F * odd.half_along * noise(1, 0.035F, 1U);
      const float wide = odd.half_along * (0.8F + 0.4F * noise(1, 0.05F, 2U)) + 0.5F * pixel;
      const float share = (1 - smooth(0.4F * wide, wide, std::abs(dz - sway))) *
                          smooth(-0.004F, 0.002F, down) *
                          (1 - smooth(0.3F * odd.half_round, odd.half_round, down));
      return dim(m, i, odd.tint, share * std::clamp(0.75F + 0.5F * noise(0.003F, 0.02F, 3U), 0.2F, 1.0F));
    }
    case Kind::scores: {
      if (std::abs(dz) > odd.half_along || std::abs(ds) > odd.half_round + 0.004F) return;
      // Two to four lines side by side, each with its own length.
      const int lines = 2 + static_cast<int>(odd.seed % 3U);
      float share = 0;
      for (int n = 0; n < lines; ++n) {
        const float own = matter::lattice_noise(n, 3, 1, odd.seed),
                    slant = 0.02F * matter::lattice_noise(0, 5, 1, odd.seed);
        const float at = odd.half_round * own + slant * dz +
                         0.0006F * matter::noise(dz / 0.03F, static_cast<float>(n), 0, odd.seed);
        const float reach = odd.half_along * (0.55F + 0.45F * matter::lattice_noise(n, 4, 1, odd.seed));
        const float half = 0.00045F, foot = std::max(half, 0.6F * pixel);
        const float line = std::clamp(1 - std::abs(ds - at) / (2 * foot), 0.0F, 1.0F) * (half / foot);
        share = std::max(share, line * (1 - smooth(0.6F * reach, reach, std::abs(dz))));
      }
      return dim(m, i, odd.tint, share * std::clamp(0.7F + 0.6F * noise(0.006F, 1, 4U), 0.0F, 1.0F));
    }
    case Kind::cloud: {
      const float a = dz / odd.half_along, b = ds / odd.half_round;
      const float off = a * a + b * b + 0.5F * noise(0.03F, 0.02F, 1U);
      return dim(m, i, odd.tint, 1 - smooth(0.2F, 1.0F, off));
    }
    case Kind::smear: {
      const float a = dz / odd.half_along, b = ds / odd.half_round;
      if (a * a + b * b > 2.5F) return;
      const float off =
          std::sqrt(a * a + b * b) + 0.45F * noise(0.010F, 0.006F, 1U) + 0.18F * noise(0.003F, 0.002F, 2U);
      const float share = 0.85F * (1 - smooth(0.86F, 0.98F + 40 * pixel, off));
      if (share <= 0) return;
      const float cosine =
          std::clamp(-(m.dir_x[i] * m.normal_x[i] + m.dir_y[i] * m.normal_y[i] + m.dir_z[i] * m.normal_z[i]),
                     0.03F, 1.0F);
      const float grain = 1 + 0.25F * noise(0.0016F, 0.0016F, 3U);
      const Rgb body = lit(m, i, {grain * odd.tint, 0.03F, 20}, cosine, m.depth[i]);
      const Rgb out = blend({m.red[i], m.green[i], m.blue[i]}, body, share);
      m.red[i] = out.r, m.green[i] = out.g, m.blue[i] = out.b;
      return;
    }
  }
}

}  // namespace

std::vector<Oddity> make_oddities(const scene::Scene& scene) {
  std::vector<Oddity> oddities;
  int unit = -1;
  for (const scene::Piece& piece : scene.pieces) {
    if (piece.unit == unit) continue;
    unit = piece.unit;
    base::Random random(base::mix(scene.scenario.seed * 131 + static_cast<std::uint64_t>(unit) + 17));
    add_drips(oddities, scene, piece);
    // Long units have room for more.
    const int room = std::clamp(static_cast<int>(piece.to_m - piece.from_m), 1, 3);
    for (int n = 0; n < room; ++n)
      if (random.uniform() < 1 / one_unit_in)
        oddities.push_back(oddity_in(
            random, piece, scene.scenario.sections[static_cast<std::size_t>(piece.section)].material));
  }
  return oddities;
}

void show_oddities(const std::vector<Oddity>& oddities, Samples& m) {
  if (oddities.empty()) return;
  float z0 = 1e9F, z1 = -1e9F;
  for (int i = 0; i < m.count; ++i)
    if (m.piece[i] >= 0) z0 = std::min(z0, m.wall_z[i]), z1 = std::max(z1, m.wall_z[i]);
  for (const Oddity& odd : oddities) {
    const float reach = 1.7F * odd.half_along + 0.01F;
    if (odd.z + reach < z0 || odd.z - reach > z1) continue;
    for (int i = 0; i < m.count; ++i)
      if (m.piece[i] >= 0 && std::abs(m.wall_z[i] - odd.z) < reach) show(odd, m, i);
  }
}

}  // namespace haunch::render
