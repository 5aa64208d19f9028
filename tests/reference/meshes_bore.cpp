// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include "reference/meshes.hpp"

namespace haunch::reference {
namespace {

using scene::Vec2;
using scene::Vec3;

constexpr int facets = 1440;  // of a whole turn: a chord lies a millionth of the radius inside
constexpr double tau = 2 * std::numbers::pi;

/// The wall at one of its facets. A section passes evenly into the next, so places of the same facet are
/// joined by straight lines: of an ellipse by its own angle, of hinged quarters by that of the quarter's
/// circle.
Vec2 on_section(const scene::Bore& bore, int facet) {
  double turn = tau * facet / facets;
  if (bore.form == scene::BoreForm::oval)
    return {bore.half_width_m * std::sin(turn), bore.half_height_m * std::cos(turn)};
  if (bore.form != scene::BoreForm::hinged) {
    // The facet nearest to a corner has it.
    if (bore.form == scene::BoreForm::box) {
      const double corner = std::atan2(bore.half_width_m, bore.half_height_m);
      for (const double at : {corner, tau / 2 - corner, tau / 2 + corner, tau - corner})
        if (std::abs(turn - at) <= 0.5 * tau / facets) turn = at;
    }
    const Vec2 out{std::sin(turn), std::cos(turn)};
    return scene::radius_toward(bore, out) * out;
  }
  // From the springing's hinge to the crown's, about the middle of the quarter's circle.
  const double shift = scene::quarter_shift_m(bore), r = scene::quarter_radius_m(bore);
  const double share = 4 * static_cast<double>(facet % (facets / 4)) / facets;
  const int quarter = 4 * facet / facets;
  const double up = quarter % 2 == 0 ? 1 - share : share;  // 1 at crown and invert
  const double low = std::atan2(shift, bore.half_width_m - shift),
               high = std::atan2(bore.half_height_m + shift, -shift);
  const double at = low + up * (high - low);
  const double x = shift + r * std::cos(at), y = r * std::sin(at) - shift;
  return {quarter < 2 ? x : -x, quarter == 0 || quarter == 3 ? y : -y};
}

/// A ring of places at z about a middle, each `out` metres beyond its section.
std::vector<std::uint32_t> ring(Triangles& to, const scene::Bore& bore, Vec2 centre, double z, double out) {
  std::vector<std::uint32_t> places;
  for (int k = 0; k < facets; ++k) {
    const Vec2 on = on_section(bore, k);
    const Vec2 p = centre + (1 + out / scene::length(on)) * on;
    places.push_back(to.add({p.x, p.y, z}));
  }
  return places;
}
void join(Triangles& to, const std::vector<std::uint32_t>& a, const std::vector<std::uint32_t>& b) {
  for (std::size_t k = 0; k < a.size(); ++k) {
    const std::size_t next = (k + 1) % a.size();
    to.quad(a[k], a[next], b[next], b[k]);
  }
}

/// What has pressed or bent the bore in this piece, or 0.
std::uint16_t shaped_by(const scene::Scene& scene, const scene::Piece& piece) {
  const double z = (piece.from_m + piece.to_m) / 2;
  std::uint16_t pressed = 0, bent = 0, number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    ++number;
    const scene::Stretch reach = scene::stretch_of(fault);
    if (z < reach.from_m || z > reach.to_m) continue;
    if (std::holds_alternative<scene::Squashed>(fault.kind) && !piece.round() && pressed == 0)
      pressed = number;
    if (std::holds_alternative<scene::Bend>(fault.kind) && bent == 0) bent = number;
  }
  return pressed != 0 ? pressed : bent;
}

/// The bead of a sound weld, about as it is drawn: its distance is not compared, only what it hides.
Triangles bead_of(const scene::Piece& before, const scene::Piece& after, const scene::Joint& joint) {
  constexpr double half_m = 0.008, high_m = 0.0026;
  constexpr int rings = 16;
  Triangles bead{Part::rough, 0, -1, {}, {}};
  std::vector<std::uint32_t> last;
  for (int k = 0; k <= rings; ++k) {
    const double share = 2.0 * k / rings - 1, z = joint.at_m + share * half_m;
    const scene::Piece& piece = share < 0 ? before : after;
    // Two rolls side by side.
    const double across = 2 * std::abs(share) - 1;
    const std::vector<std::uint32_t> next = ring(bead, scene::bore_at(piece, z), scene::centre_at(piece, z),
                                                 z, -high_m * std::sqrt(std::max(0.0, 1 - across * across)));
    if (k > 0) join(bead, last, next);
    last = next;
  }
  return bead;
}
bool is_welded(const scene::Scene& scene, const scene::Piece& piece) {
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  return section.material == scene::Material::polyethylene && section.shape == scene::PipeShape::circular;
}

}  // namespace

std::vector<Triangles> bore_triangles(const scene::Scene& scene) {
  std::vector<Triangles> all;
  std::vector<const scene::Joint*> before(scene.pieces.size() + 1, nullptr);
  for (const scene::Joint& joint : scene.joints) before[static_cast<std::size_t>(joint.after)] = &joint;
  for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
    const scene::Piece& piece = scene.pieces[i];
    const double z0 = piece.from_m + (before[i] ? before[i]->gap_m / 2 : 0),
                 z1 = piece.to_m - (before[i + 1] ? before[i + 1]->gap_m / 2 : 0);
    if (z1 - z0 < 1e-4) continue;
    Triangles wall{Part::bore, shaped_by(scene, piece), static_cast<int>(i), {}, {}};
    const auto at = [&](double z) {
      return ring(wall, scene::bore_at(piece, z), scene::centre_at(piece, z), z, 0);
    };
    const auto from = at(z0), to = at(z1);
    join(wall, from, to);
    all.push_back(std::move(wall));
  }
  for (const scene::Joint& joint : scene.joints) {
    std::uint16_t gap = 0, step = 0;
    for (const int number : joint.faults) {
      const bool opens = std::holds_alternative<scene::JointGap>(
          scene.scenario.faults[static_cast<std::size_t>(number - 1)].kind);
      auto& of = opens ? gap : step;
      if (of == 0) of = static_cast<std::uint16_t>(number);
    }
    // One fault alone is shown by all of the joint.
    if (gap == 0) gap = step;
    if (step == 0) step = gap;
    const scene::Piece &a = scene.pieces[static_cast<std::size_t>(joint.before)],
                       &b = scene.pieces[static_cast<std::size_t>(joint.after)];
    if (is_welded(scene, a) && is_welded(scene, b)) all.push_back(bead_of(a, b, joint));
    const double z0 = joint.at_m - joint.gap_m / 2, z1 = joint.at_m + joint.gap_m / 2;
    const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(a.section)];
    // How deep one sees between closed units is a thing of looks: here as the renderer has it.
    const double wall = section.wall_mm / 1000,
                 deep = (joint.open ? wall : std::min(0.5 * wall, 0.006)) + scene::length(joint.step);
    Triangles ends{joint.open ? Part::groove : Part::end, step, -1, {}, {}},
        groove{Part::groove, gap, -1, {}, {}};
    join(ends, ring(ends, a.to_bore, a.to_centre, z0, 0),
         ring(ends, a.to_bore, a.to_centre, z0, deep + 0.02));
    join(ends, ring(ends, b.from_bore, b.from_centre, z1, 0),
         ring(ends, b.from_bore, b.from_centre, z1, deep + 0.02));
    join(groove, ring(groove, a.to_bore, a.to_centre, z0 - 1e-6, deep),
         ring(groove, b.from_bore, b.from_centre, z1 + 1e-6, deep));
    all.push_back(std::move(ends));
    all.push_back(std::move(groove));
  }
  return all;
}

}  // namespace haunch::reference
