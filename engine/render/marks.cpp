// SPDX-License-Identifier: Apache-2.0
// Cracks are painted, not cut: a dark gap whose far face catches the lamp, a chipped lip, dirt that
// has crept into the edges; all averaged over the pixel's footprint on the wall.
#include "render/marks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid.hpp"
#include "matter/coat.hpp"
#include "matter/squashed.hpp"

namespace haunch::render {
namespace {

constexpr float tau = 2 * std::numbers::pi_v<float>;
constexpr float edge_reach_m = 0.009F;  // gap, lips and crust
constexpr float damp_step_m = 0.004F;
constexpr float stain_reach_m = 0.034F;  // what has crept into the ware

/// What has crept from the crack into the ware, farther in some places than in others.
std::vector<float> damp_about(CrackMark& mark) {
  mark.damp_columns = static_cast<int>(static_cast<float>(mark.cells_s) * mark.cell / damp_step_m) + 2;
  const int columns = mark.damp_columns;
  const int rows = static_cast<int>(static_cast<float>(mark.cells_z) * mark.cell / damp_step_m) + 2;
  std::vector<float> damp(static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns), 1.0F);
  const auto at = [&](int row, int column) -> float& {
    return damp[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                static_cast<std::size_t>(column)];
  };
  // First how far off the crack is.
  constexpr int steps = static_cast<int>(stain_reach_m / damp_step_m) + 1;
  for (const CrackBit& bit : mark.bits) {
    const float z = (bit.z0 + bit.z1) / 2 - mark.z0, s = (bit.s0 + bit.s1) / 2;
    const int nz = static_cast<int>(z / damp_step_m), ns = static_cast<int>(s / damp_step_m);
    for (int iz = std::max(0, nz - steps); iz < std::min(rows, nz + steps); ++iz)
      for (int is = std::max(0, ns - steps); is < std::min(columns, ns + steps); ++is) {
        const float dz = static_cast<float>(iz) * damp_step_m - z,
                    ds = static_cast<float>(is) * damp_step_m - s;
        at(iz, is) = std::min(at(iz, is), std::sqrt(dz * dz + ds * ds) + 0.012F * bit.faintness);
      }
  }
  for (int iz = 0; iz < rows; ++iz)
    for (int is = 0; is < columns; ++is) {
      const float z = mark.z0 + static_cast<float>(iz) * damp_step_m,
                  s = static_cast<float>(is) * damp_step_m;
      const float patchy = matter::noise(z / 0.011F, s / 0.011F, 0.4F, mark.seed);
      const float broad = matter::noise(z / 0.034F, s / 0.034F, 0.1F, mark.seed + 2U);
      const float wide =
          (mark.open ? 0.017F : 0.010F) * std::clamp(1 + 0.35F * patchy + 0.75F * broad, 0.3F, 1.8F);
      const float strength = mark.open ? 0.50F : 0.44F;
      at(iz, is) = strength * std::clamp(1.25F * (1 - at(iz, is) / wide), 0.0F, 1.0F);
    }
  return damp;
}

/// `also` tells the cracks of one fault apart.
CrackMark crack_mark(const scene::Scene& scene, const scene::Crack& crack, int fault,
                     std::uint64_t also = 0) {
  CrackMark mark;
  mark.fault = static_cast<std::uint16_t>(fault);
  const double middle = (crack.from_m + crack.to_m) / 2;
  const double radius = matter::wall_radius_m(scene, crack);
  const std::uint64_t seed = scene::fault_seed(scene.scenario, fault) + also;
  const matter::CrackShape shape = matter::crack_shape(crack, radius, seed);
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, middle))];
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  mark.radius = static_cast<float>(radius);
  mark.seed = static_cast<std::uint32_t>(seed);
  mark.open = crack.width_mm > 0.16;
  mark.broken = broken_ware(section);
  mark.wall = static_cast<float>(section.wall_mm / 1000);
  // Water that seeps through leaves lime on cement and fired ware, rust on iron, nothing on plastic.
  if (section.material == scene::Material::concrete || section.material == scene::Material::brick ||
      section.material == scene::Material::fibre_cement)
    mark.crust = 0.85F, mark.lime = linear_from_srgb(186, 180, 162);
  if (section.material == scene::Material::clay)
    mark.crust = 0.60F, mark.lime = linear_from_srgb(178, 162, 138);
  if (section.material == scene::Material::cast_iron)
    mark.crust = 0.80F, mark.lime = linear_from_srgb(168, 88, 38);
  double z0 = 1e9, z1 = -1e9, a0 = 1e9, a1 = -1e9;
  for (const matter::CrackLine& line : shape.lines)
    for (const matter::CrackNode& n : line.nodes) {
      z0 = std::min(z0, n.z_m), z1 = std::max(z1, n.z_m);
      a0 = std::min(a0, n.angle), a1 = std::max(a1, n.angle);
    }
  const double margin = static_cast<double>(stain_reach_m) + 0.002;
  mark.z0 = static_cast<float>(z0 - margin);
  mark.z1 = static_cast<float>(z1 + margin);
  mark.angle0 = static_cast<float>(a0 - margin / radius);
  const double angle1 = a1 + margin / radius;
  mark.cells_z = static_cast<int>((mark.z1 - mark.z0) / mark.cell) + 1;
  mark.cells_s = static_cast<int>((angle1 - static_cast<double>(mark.angle0)) * radius /
                                  static_cast<double>(mark.cell)) +
                 1;
  std::vector<std::vector<std::int32_t>> cells(static_cast<std::size_t>(mark.cells_z) *
                                               static_cast<std::size_t>(mark.cells_s));
  for (const matter::CrackLine& line : shape.lines)
    for (std::size_t i = 1; i < line.nodes.size(); ++i) {
      const matter::CrackNode &a = line.nodes[i - 1], &b = line.nodes[i];
      const CrackBit bit{static_cast<float>(a.z_m),
                         static_cast<float>((a.angle - static_cast<double>(mark.angle0)) * radius),
                         static_cast<float>(b.z_m),
                         static_cast<float>((b.angle - static_cast<double>(mark.angle0)) * radius),
                         static_cast<float>(a.width_m / 2),
                         static_cast<float>(b.width_m / 2),
                         static_cast<float>(line.faintness)};
      const auto index = static_cast<std::int32_t>(mark.bits.size());
      mark.bits.push_back(bit);
      const float reach = edge_reach_m;
      const auto cell_of = [&](float v, int count) {
        return std::clamp(static_cast<int>(v / mark.cell), 0, count - 1);
      };
      const int cz0 = cell_of(std::min(bit.z0, bit.z1) - reach - mark.z0, mark.cells_z);
      const int cz1 = cell_of(std::max(bit.z0, bit.z1) + reach - mark.z0, mark.cells_z);
      const int cs0 = cell_of(std::min(bit.s0, bit.s1) - reach, mark.cells_s);
      const int cs1 = cell_of(std::max(bit.s0, bit.s1) + reach, mark.cells_s);
      for (int cz = cz0; cz <= cz1; ++cz)
        for (int cs = cs0; cs <= cs1; ++cs)
          cells[static_cast<std::size_t>(cz) * static_cast<std::size_t>(mark.cells_s) +
                static_cast<std::size_t>(cs)]
              .push_back(index);
    }
  mark.damp = damp_about(mark);
  mark.first.push_back(0);
  for (const auto& cell : cells) {
    mark.bits_in_cell.insert(mark.bits_in_cell.end(), cell.begin(), cell.end());
    mark.first.push_back(static_cast<std::int32_t>(mark.bits_in_cell.size()));
  }
  // As samples have it: 0 to a full turn.
  mark.angle0 = std::fmod(mark.angle0, tau);
  if (mark.angle0 < 0) mark.angle0 += tau;
  return mark;
}

/// Share of the interval middle +- half_pixel that lies in [from, to].
float covered(float from, float to, float middle, float half_pixel) {
  const float low = std::max(from, middle - half_pixel), high = std::min(to, middle + half_pixel);
  return std::clamp((high - low) / (2 * half_pixel), 0.0F, 1.0F);
}

struct Nearest {
  float distance = 1e9F;  // signed: which side of the line
  float normal_z = 0, normal_s = 0;
  float half = 0, faint = 0;
};

Nearest nearest_bit(const CrackMark& mark, float z, float s, int cell) {
  Nearest best;
  float best_square = 1e9F;
  for (int k = mark.first[static_cast<std::size_t>(cell)]; k < mark.first[static_cast<std::size_t>(cell) + 1];
       ++k) {
    const CrackBit& b = mark.bits[static_cast<std::size_t>(mark.bits_in_cell[static_cast<std::size_t>(k)])];
    const float dz = b.z1 - b.z0, ds = b.s1 - b.s0, ez = z - b.z0, es = s - b.s0;
    const float square = dz * dz + ds * ds;
    const float t = square > 0 ? std::clamp((dz * ez + ds * es) / square, 0.0F, 1.0F) : 0.0F;
    const float oz = ez - t * dz, os = es - t * ds;
    // A faint twig gives way where it meets its stem.
    const float away = oz * oz + os * os;
    if (away >= best_square) continue;
    best_square = away;
    const float inverse = square > 0 ? 1 / std::sqrt(square) : 0;
    best.normal_z = -ds * inverse;
    best.normal_s = dz * inverse;
    best.distance = std::copysign(std::sqrt(away), oz * best.normal_z + os * best.normal_s);
    best.half = b.half0 + t * (b.half1 - b.half0);
    best.faint = b.faintness;
  }
  return best;
}

float damp_at(const CrackMark& mark, float z, float s) {
  const float p = (z - mark.z0) * (1 / damp_step_m), q = s * (1 / damp_step_m);
  const int row = static_cast<int>(p), column = static_cast<int>(q);
  const float u = p - static_cast<float>(row), v = q - static_cast<float>(column);
  const int columns = mark.damp_columns;
  const float* at = &mark.damp[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                               static_cast<std::size_t>(column)];
  const float near = at[0] + v * (at[1] - at[0]), far = at[columns] + v * (at[columns + 1] - at[columns]);
  return near + u * (far - near);
}

void paint_crack(const CrackMark& mark, Samples& m, int i) {
  float around = m.wall_angle[i] - mark.angle0;
  if (around < 0) around += tau;
  const float first_s = around * mark.radius, z = m.wall_z[i];
  const int cz = static_cast<int>((z - mark.z0) / mark.cell);
  if (cz < 0 || cz >= mark.cells_z) return;
  // One that goes the whole way round ends where it started: both of its ends lie here.
  float damp = 0, s = first_s;
  Nearest near;
  for (float at = first_s; static_cast<int>(at / mark.cell) < mark.cells_s; at += tau * mark.radius) {
    damp = std::max(damp, damp_at(mark, z, at));
    const int cell = cz * mark.cells_s + static_cast<int>(at / mark.cell);
    if (mark.first[static_cast<std::size_t>(cell)] == mark.first[static_cast<std::size_t>(cell) + 1])
      continue;
    const Nearest here = nearest_bit(mark, z, at, cell);
    if (std::abs(here.distance) < std::abs(near.distance)) near = here, s = at;
  }
  Rgb wall = (1 - damp) * Rgb{m.red[i], m.green[i], m.blue[i]};
  m.red[i] = wall.r, m.green[i] = wall.g, m.blue[i] = wall.b;

  // The view on the wall: its slope along z and round the wall.
  const float sin_a = std::sin(m.wall_angle[i]), cos_a = std::cos(m.wall_angle[i]);
  const float view_z = m.dir_z[i], view_s = m.dir_x[i] * cos_a - m.dir_y[i] * sin_a;
  const float cosine = std::clamp(
      -(m.dir_x[i] * m.normal_x[i] + m.dir_y[i] * m.normal_y[i] + m.dir_z[i] * m.normal_z[i]), 0.03F, 1.0F);
  const float across = near.normal_z * view_z + near.normal_s * view_s;  // of the view, over the crack
  const float pixel = m.parallel ? m.pixel_size : m.pixel_size * m.depth[i];
  const float grazing = across / std::max(0.05F, std::sqrt(view_z * view_z + view_s * view_s));
  const float stretch = std::sqrt(1 + grazing * grazing * (1 / (cosine * cosine) - 1));
  const float half_pixel = std::max(0.5F * pixel * std::min(stretch, 12.0F), 1e-5F);

  const float d = near.distance, off = std::abs(d);
  if (off > edge_reach_m + half_pixel) return;
  const float patchy = matter::noise(z / 0.011F, s / 0.011F, 0.4F, mark.seed);
  const float broad = matter::noise(z / 0.034F, s / 0.034F, 0.1F, mark.seed + 2U);
  const float grain = matter::noise(z / 0.0022F, s / 0.0022F, 0.6F, mark.seed + 1U);
  const bool open = near.half > 0.00008F;
  // Its edges have broken each in its own way.
  const float ragged =
      open ? 0.45F * matter::noise(z / 0.0042F, s / 0.0042F, d > 0 ? 21.5F : 13.5F, mark.seed + 5U) +
                 0.22F * grain
           : 0;
  const float half = near.half * std::clamp(0.94F + 0.8F * ragged, 0.65F, 1.0F);
  // A hairline shows as the dirt in it and along it, about a quarter of a millimetre; seen from afar
  // it still draws a line, as dark as its dirt makes it.
  const float gap =
      std::max({half, 0.00016F * (1 - 0.5F * near.faint), std::min(0.8F * half_pixel, 0.0008F)});
  // It comes and goes with its dirt.
  const float strength =
      open ? 1.0F
           : (0.88F - 0.30F * near.faint) * std::clamp(0.86F + 0.50F * broad + 0.25F * patchy, 0.35F, 1.0F);

  // Dirt right beside it.
  const float soot_width = (open ? 0.0030F : 0.0018F) * (1 + 0.4F * patchy) + half;
  const float reach = std::max(soot_width, half_pixel);
  const float soot = std::clamp(1 - off / (reach + 0.6F * half_pixel), 0.0F, 1.0F) * (soot_width / reach);
  wall = (1 - (open ? 0.55F : 0.40F) * soot) * wall;
  if (mark.crust > 0) {
    // A crust where it has wept: it has run down from the crack, so nearly all of it lies below.
    const float upwards = -sin_a * near.normal_s;
    const bool below = d * upwards < 0;
    const float beads = std::clamp(1.5F * (broad + 0.40F * patchy + 0.12F * grain) - (open ? 0.42F : 0.22F),
                                   0.0F, open ? 0.8F : 0.6F);
    const float width =
        (open ? 0.0010F + 0.0030F * beads : 0.0006F + 0.0012F * beads) * (below ? 1.0F : 0.30F);
    const float soft = half_pixel + 0.5F * width;
    const float crust = (1 - near.faint) * mark.crust * beads *
                        std::clamp(covered(-half - width, half + width, d, soft) * 1.4F, 0.0F, 1.0F);
    const float bump = std::clamp(cosine * (1.15F + 0.8F * grain), 0.03F, 1.0F);
    wall = blend(wall, lit(m, i, {(0.8F + 0.4F * grain) * mark.lime, 0.1F, 20}, bump, m.depth[i]), crust);
  }
  // Chips: the lip has lost its skin and shows the body, here and there a shell of it.
  if (open) {
    // They slope down into the gap: the one beyond it faces the lamp, the one before it does not.
    const bool beyond = d * across > 0;
    // Each side has broken in its own way: a narrow bare lip, and a few shells of the skin gone.
    const float side = d > 0 ? 11.5F : 3.5F;
    const float torn = matter::noise(z / 0.009F, s / 0.009F, side, mark.seed + 3U);
    const float shell = matter::noise(z / 0.019F, s / 0.019F, side, mark.seed + 4U) + 0.25F * torn;
    const float chip = std::max((0.0004F + std::min(half, 0.002F) * 0.9F) *
                                    std::clamp(0.5F + 0.9F * torn + 0.25F * grain, 0.05F, 1.5F),
                                beyond ? std::min(0.6F * half_pixel, 0.0015F) : 0.0F) +
                       0.0050F * std::clamp(2.6F * (shell - 0.50F), 0.0F, 1.0F);
    const float lip = covered(half, half + chip, off, half_pixel);
    const float facing = beyond ? 0.6F * cosine + 0.8F * std::abs(across) : cosine * 0.35F;
    const Rgb body = lit(m, i, {(0.46F + 0.16F * grain + 0.18F * torn) * mark.broken, 0.05F, 20},
                         std::clamp(facing, 0.03F, 1.0F), m.depth[i]);
    wall = blend(wall, body, (beyond ? std::clamp(0.55F + 0.8F * patchy, 0.15F, 0.85F) : 0.5F) * lip);
  }
  // In the gap the ray goes on down to the far face, which the lamp reaches ever less.
  const float cover = covered(-gap, gap, d, half_pixel) * strength;
  if (cover > 0) {
    Rgb deep = (open ? 0.015F : 0.03F) * wall;
    if (open) {
      // It meets the face across, or the ground that has come in and stands in the gap, now higher, now not.
      const float mean = std::clamp(d, -half, half);
      const float to_far = across > 0 ? half - mean : half + mean;
      const float soil_at = mark.wall * std::clamp(0.60F + 0.9F * broad + 0.3F * patchy, 0.15F, 1.0F);
      const float face_at = std::abs(across) > 1e-3F ? to_far * cosine / std::abs(across) : 1.0F;
      const bool soil = face_at > soil_at;
      const float down = soil ? soil_at : face_at;
      // The lamps are a ring about the lens: the narrower the gap the less of them shines down it.
      const float lamp_down = down / (0.8F * half + 0.0001F);
      const float seen = (0.015F + 0.055F * std::clamp((half - 0.0003F) / 0.0012F, 0.0F, 1.0F) +
                          0.14F * std::clamp((half - 0.0015F) / 0.0012F, 0.0F, 1.0F)) /
                         (1 + lamp_down * lamp_down);
      const float dirty = std::clamp(0.45F + 0.6F * down / mark.wall + 0.5F * patchy, 0.1F, 0.9F);
      static const Rgb brown = linear_from_srgb(86, 66, 46);
      const Rgb stuff = (1 + 0.5F * grain) * (soil ? brown : blend(0.6F * mark.broken, brown, dirty));
      deep = deep +
             seen * lit(m, i, {stuff, 0, 20}, soil ? 0.7F * cosine : 0.33F * std::abs(across), m.depth[i]);
    }
    wall = blend(wall, deep, cover);
  }
  m.red[i] = wall.r, m.green[i] = wall.g, m.blue[i] = wall.b;
  if (off < std::max(half, 0.0005F) + half_pixel) m.fault[i] = mark.fault;
}

}  // namespace

bool is_plastic(scene::Material material) {
  return material == scene::Material::pvc || material == scene::Material::polyethylene ||
         material == scene::Material::liner;
}

Rgb broken_ware(const scene::Section& section) {
  switch (section.material) {
    case scene::Material::clay:
      return linear_from_srgb(196, 132, 92);
    case scene::Material::pvc:
      return 1.15F * whole_ware(section);
    case scene::Material::cast_iron:
      return linear_from_srgb(96, 74, 62);
    case scene::Material::brick:
      return linear_from_srgb(164, 92, 66);
    case scene::Material::polyethylene:
      return linear_from_srgb(58, 58, 60);
    case scene::Material::pitch_fibre:
      return linear_from_srgb(92, 68, 50);
    case scene::Material::fibre_cement:
      return linear_from_srgb(190, 188, 180);
    case scene::Material::liner:
      return linear_from_srgb(206, 196, 164);
    case scene::Material::concrete:
      break;
  }
  return linear_from_srgb(176, 170, 158);
}

Rgb whole_ware(const scene::Section& section) {
  switch (section.material) {
    case scene::Material::clay:
      return linear_from_srgb(150, 88, 58);
    case scene::Material::pvc:
      if (section.colour == "grey") return linear_from_srgb(150, 152, 152);
      if (section.colour == "green") return linear_from_srgb(96, 140, 100);
      if (section.colour == "white") return linear_from_srgb(212, 210, 200);
      return linear_from_srgb(168, 96, 62);
    case scene::Material::cast_iron:
      return linear_from_srgb(84, 66, 56);
    case scene::Material::brick:
      return linear_from_srgb(138, 78, 58);
    case scene::Material::polyethylene:
      return linear_from_srgb(42, 42, 44);
    case scene::Material::pitch_fibre:
      return linear_from_srgb(70, 55, 44);
    case scene::Material::fibre_cement:
      return linear_from_srgb(184, 183, 176);
    case scene::Material::liner:
      return linear_from_srgb(188, 178, 146);
    case scene::Material::concrete:
      break;
  }
  return linear_from_srgb(150, 146, 136);
}

Marks make_marks(const scene::Scene& scene) {
  Marks marks;
  int number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    ++number;
    if (const auto* damage = std::get_if<scene::SurfaceDamage>(&fault.kind)) {
      const bool bends =
          damage->form == scene::DamageForm::blister || damage->form == scene::DamageForm::dent;
      marks.patches.push_back(bends ? bent_patch(scene, *damage, number)
                                    : damage_patch(scene, *damage, number));
    } else if (const auto* mortar = std::get_if<scene::MissingMortar>(&fault.kind)) {
      marks.patches.push_back(mortar_patch(scene, *mortar, number));
    } else if (const auto* porous = std::get_if<scene::PorousWall>(&fault.kind)) {
      marks.patches.push_back(porous_patch(scene, *porous, number));
    } else if (const auto* sweating = std::get_if<scene::SweatingWall>(&fault.kind)) {
      marks.patches.push_back(sweating_patch(scene, *sweating, number));
    } else if (const auto* crack = std::get_if<scene::Crack>(&fault.kind)) {
      marks.cracks.push_back(crack_mark(scene, *crack, number));
    } else if (const auto* squashed = std::get_if<scene::Squashed>(&fault.kind)) {
      std::uint64_t also = 0;
      for (const scene::Crack& broken : matter::cracks_of(scene, *squashed))
        marks.cracks.push_back(crack_mark(scene, broken, number, ++also));
    } else if (const auto* hole = std::get_if<scene::Hole>(&fault.kind)) {
      marks.openings.push_back(hole_mark(scene, *hole, number));
    } else if (const auto* broken = std::get_if<scene::BrokenWall>(&fault.kind)) {
      marks.openings.push_back(hole_mark(scene, matter::hole_of(*broken), number));
    } else if (const auto* bricks = std::get_if<scene::BrickDamage>(&fault.kind)) {
      marks.openings.push_back(brick_mark(scene, *bricks, number));
    } else if (const auto* repair = std::get_if<scene::Repair>(&fault.kind)) {
      if (scene::leaves_open(*repair))
        marks.openings.push_back(hole_mark(scene, scene::mended_hole(*repair), number));
    } else if (const auto* lining = std::get_if<scene::LiningDefect>(&fault.kind)) {
      if (lining->form == scene::LiningForm::bulging_out)
        marks.openings.push_back(hole_mark(scene, matter::void_behind(scene, *lining), number));
    } else if (const auto* connection = std::get_if<scene::Connection>(&fault.kind)) {
      marks.openings.push_back(branch_mark(scene, *connection, number));
      std::uint64_t also = 0;
      for (const scene::Crack& torn :
           matter::cracks_of(*connection, scene::radius_at(scene, connection->at_m),
                             scene::fault_seed(scene.scenario, number)))
        marks.cracks.push_back(crack_mark(scene, torn, number, ++also));
    }
  }
  return marks;
}

void mark_wall(const Marks& marks, Samples& samples) {
  if (marks.cracks.empty() && marks.openings.empty() && marks.patches.empty()) return;
  float z0 = 1e9F, z1 = -1e9F;
  for (int i = 0; i < samples.count; ++i)
    if (samples.piece[i] >= 0) z0 = std::min(z0, samples.wall_z[i]), z1 = std::max(z1, samples.wall_z[i]);
  if (z0 > z1) return;
  for (const PatchMark& mark : marks.patches) {
    if (mark.z1 >= z0 && mark.z0 <= z1) paint_patch(mark, samples);
  }
  for (const CrackMark& mark : marks.cracks) {
    if (mark.z1 < z0 || mark.z0 > z1) continue;
    for (int i = 0; i < samples.count; ++i)
      if (samples.piece[i] >= 0 && samples.wall_z[i] > mark.z0 && samples.wall_z[i] < mark.z1)
        paint_crack(mark, samples, i);
  }
  for (const OpeningMark& mark : marks.openings) {
    if (mark.z1 < z0 || mark.z0 > z1) continue;
    open_wall(mark, samples);
  }
}

}  // namespace haunch::render
