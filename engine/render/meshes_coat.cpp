// SPDX-License-Identifier: Apache-2.0
// How linings and repairs look: mortar; resin in its colour, felt or glass in it, and what use and bad work
// have done to it. Colours are ours, by eye.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/random.hpp"
#include "matter/coat.hpp"
#include "matter/noise.hpp"
#include "matter/weld.hpp"
#include "render/meshes_build.hpp"
#include "render/wall_looks.hpp"

namespace haunch::render {
namespace {

using matter::Skin;

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

class Look {
 public:
  Look(const scene::Scene& scene, const matter::Coat& coat) : scene_(scene), coat_(coat) {
    base::Random random(base::mix(coat.seed + 17U));
    static const Rgb felts[] = {linear_from_srgb(206, 190, 146), linear_from_srgb(188, 182, 164),
                                linear_from_srgb(196, 178, 128), linear_from_srgb(170, 172, 160)};
    static const Rgb glasses[] = {linear_from_srgb(168, 176, 138), linear_from_srgb(150, 160, 150),
                                  linear_from_srgb(184, 180, 146), linear_from_srgb(150, 166, 172)};
    const std::size_t pick = random.below(4);
    const bool felt = coat.finish == scene::LiningFinish::felt;
    resin_ = static_cast<float>(random.uniform(0.82, 1.05)) * (felt ? felts[pick] : glasses[pick]);
    if (coat.section >= 0)
      resin_ = look_of(scene.scenario.sections[static_cast<std::size_t>(coat.section)],
                       scene.scenario.seed + 7U * static_cast<std::uint64_t>(coat.section))
                   .face;
    static const Rgb hosts[] = {linear_from_srgb(118, 74, 52), linear_from_srgb(104, 98, 90),
                                linear_from_srgb(92, 70, 58), linear_from_srgb(112, 104, 92)};
    host_ = hosts[random.below(4)];
    static const Rgb stains[] = {linear_from_srgb(172, 112, 58), linear_from_srgb(128, 112, 92),
                                 linear_from_srgb(190, 140, 56), linear_from_srgb(162, 100, 80)};
    stain_ = stains[random.below(4)];
    static const Rgb mortars[] = {linear_from_srgb(126, 122, 114), linear_from_srgb(104, 103, 100),
                                  linear_from_srgb(142, 130, 106), linear_from_srgb(148, 146, 140)};
    mortar_ = mortars[random.below(4)];
    static const Rgb sealants[] = {linear_from_srgb(190, 142, 62), linear_from_srgb(206, 196, 160),
                                   linear_from_srgb(58, 92, 78), linear_from_srgb(62, 62, 64)};
    sealant_ = sealants[random.below(4)];
    dirt_ = static_cast<float>(random.uniform(0.25, 0.8));
  }

  /// `light`: how much reaches it.
  Rgb at(const scene::Vec3& p, Skin skin, float share, float light) const {
    const scene::Vec2 axis = scene::centre_at(scene_, p.z);
    const double low = (axis.y - p.y) / coat_.radius_m;
    Rgb body = (1 + 0.07F * rough(p, 0.05, coat_.seed, 3)) * resin_;
    if (coat_.finish == scene::LiningFinish::glass) {
      body = (1 + 0.07F * weave(p, 0.009)) * body;
    } else {
      // Felt: faint clouds where it took up more resin or less, drawn along.
      body = (1 + 0.06F * rough({p.x, p.y, p.z / 3}, 0.012, coat_.seed + 2U, 2)) * body;
    }
    body = blend(body, of(skin, p), share);
    // The flow leaves its colour low down, as on any pipe.
    const float film = within(static_cast<float>((low - 0.55) / 0.4)) * dirt_ *
                       within(0.7F + 0.6F * rough(p, 0.03, coat_.seed + 3U, 3));
    return light * blend(body, linear_from_srgb(92, 74, 50), 0.62F * film);
  }

  static float gloss(Skin skin) {
    switch (skin) {
      case Skin::resin:
        return 0.42F;
      case Skin::seam:
        return 0.30F;
      case Skin::sticky:
        return 1.3F;
      case Skin::film:
        return 0.55F;
      case Skin::stained:
      case Skin::host:
        return 0.25F;
      case Skin::raw:
        return 0.05F;
      case Skin::split:
      case Skin::torn:
        return 0.10F;
      case Skin::mortar:
        return 0.05F;
      case Skin::rubber:
        return 0.14F;
      case Skin::sealant:
        return 0.55F;
      case Skin::plastic:
        return 0.45F;
      case Skin::fibre:
      case Skin::frayed:
      case Skin::dark:
        break;
    }
    return 0.01F;
  }
  static Grain grain(Skin skin) {
    switch (skin) {
      case Skin::fibre:
      case Skin::frayed:
      case Skin::raw:
      case Skin::split:
        return Grain::silt;
      case Skin::mortar:
        return Grain::crust;
      default:
        return Grain::plain;
    }
  }

 private:
  /// Strands over and under, on the unrolled wall.
  float weave(const scene::Vec3& p, double size_m) const {
    const scene::Vec2 axis = scene::centre_at(scene_, p.z);
    const double s = std::atan2(p.x - axis.x, p.y - axis.y) * coat_.radius_m;
    const auto u = static_cast<float>(s / size_m), v = static_cast<float>(p.z / size_m);
    const float fu = u - std::floor(u), fv = v - std::floor(v);
    const bool over = (static_cast<int>(std::floor(u)) + static_cast<int>(std::floor(v))) % 2 == 0;
    const float strand = over ? std::abs(2 * fu - 1) : std::abs(2 * fv - 1);
    return (over ? 0.35F : -0.35F) - 0.9F * strand * strand;
  }

  Rgb of(Skin skin, const scene::Vec3& p) const {
    switch (skin) {
      case Skin::resin:
        break;
      case Skin::seam:
        return (0.90F + 0.06F * rough(p, 0.006, coat_.seed + 4U, 2)) *
               blend(resin_, Rgb{0.55F, 0.54F, 0.50F}, 0.25F);
      case Skin::raw:
        return (1 + 0.18F * rough(p, 0.004, coat_.seed + 5U, 2)) *
               blend(0.85F * resin_, linear_from_srgb(176, 156, 112), 0.5F);
      case Skin::sticky: {
        const float run = rough({p.x, p.y, p.z / 0.6}, 0.016, coat_.seed + 6U, 2);
        return (1 + 0.25F * run) * blend(0.8F * resin_, linear_from_srgb(160, 152, 84), 0.55F);
      }
      case Skin::stained: {
        const float cloud = rough(p, 0.035, coat_.seed + 7U, 4);
        return blend(stain_, 0.8F * resin_, within(0.40F + 1.0F * cloud));
      }
      case Skin::fibre: {
        const float fine = rough(p, 0.0022, coat_.seed + 8U, 2),
                    streak = rough({p.x, p.y, p.z / 6}, 0.003, coat_.seed + 9U, 2);
        return (1 + 0.20F * fine + 0.16F * streak + 0.10F * weave(p, 0.005)) *
               linear_from_srgb(226, 224, 216);
      }
      case Skin::frayed:
        return (1 + 0.35F * rough({p.x, p.y, p.z / 4}, 0.002, coat_.seed + 10U, 2)) *
               linear_from_srgb(206, 198, 176);
      case Skin::film:
        return (1 + 0.15F * rough(p, 0.008, coat_.seed + 11U, 2)) * linear_from_srgb(214, 214, 206);
      case Skin::split:
        return (1 + 0.25F * rough(p, 0.002, coat_.seed + 12U, 2)) *
               blend(resin_, linear_from_srgb(226, 220, 200), 0.55F);
      case Skin::dark:
        return linear_from_srgb(14, 12, 10);
      case Skin::rubber:
        return (1 + 0.12F * rough(p, 0.008, coat_.seed + 18U, 2)) * linear_from_srgb(44, 44, 46);
      case Skin::mortar: {
        const float cloud = rough(p, 0.03, coat_.seed + 13U, 3),
                    sandy = rough(p, 0.0016, coat_.seed + 14U, 1);
        return (1 + 0.22F * cloud + 0.16F * sandy) * mortar_;
      }
      case Skin::host: {
        // Never seen by the flow since it was lined: damp, with old deposit on it.
        const float cloud = rough(p, 0.025, coat_.seed + 19U, 4), fine = rough(p, 0.004, coat_.seed + 20U, 2);
        return (0.8F + 0.35F * cloud + 0.15F * fine) * host_;
      }
      case Skin::plastic:
        return (1 + 0.10F * rough(p, 0.008, coat_.seed + 16U, 2)) * linear_from_srgb(52, 53, 60);
      case Skin::torn:
        return (1 + 0.25F * rough(p, 0.003, coat_.seed + 12U, 2)) * linear_from_srgb(124, 124, 130);
      case Skin::sealant:
        return (1 + 0.15F * rough(p, 0.012, coat_.seed + 15U, 2)) * sealant_;
    }
    return resin_;
  }

  const scene::Scene& scene_;
  const matter::Coat& coat_;
  Rgb resin_, stain_, mortar_, sealant_, host_;
  float dirt_ = 0;
};

/// What a cell is drawn as: of which fault, and with which shine.
using Part = std::pair<std::uint16_t, Skin>;

void add_sheet(std::map<Part, Mesh>& parts, const matter::CoatSheet& sheet, const Look& look) {
  // Normals of the whole sheet first, so that no edge shows between what shines otherwise.
  Mesh whole;
  add_patch(whole, sheet.rows, sheet.columns, false, [&](int row, int column) {
    const std::size_t i = sheet.index(row, column);
    return PatchPoint{sheet.points[i], look.at(sheet.points[i], sheet.skin[i], sheet.share[i],
                                               sheet.light.empty() ? 1.0F : sheet.light[i])};
  });
  if (sheet.ring)
    for (int row = 0; row < sheet.rows; ++row) {
      Mesh::Point& a = whole.normals[sheet.index(row, 0)];
      Mesh::Point& b = whole.normals[sheet.index(row, sheet.columns - 1)];
      a = b = {(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2};
    }
  std::map<Part, std::vector<std::int64_t>> taken;
  for (std::size_t quad = 0; quad < whole.quads.size(); quad += 4) {
    const std::uint32_t* corner = &whole.quads[quad];
    if (!sheet.open.empty() &&
        (sheet.open[corner[0]] || sheet.open[corner[1]] || sheet.open[corner[2]] || sheet.open[corner[3]]))
      continue;
    const Skin skin = sheet.share[corner[0]] > 0.5F ? sheet.skin[corner[0]] : Skin::resin;
    const Part part{sheet.fault[corner[0]], skin};
    Mesh& mesh = parts[part];
    mesh.fault = part.first, mesh.gloss = Look::gloss(skin), mesh.grain = Look::grain(skin);
    std::vector<std::int64_t>& at = taken[part];
    if (at.empty()) at.assign(whole.points.size(), -1);
    for (int k = 0; k < 4; ++k) {
      std::int64_t& to = at[corner[k]];
      if (to < 0) {
        to = static_cast<std::int64_t>(mesh.points.size());
        mesh.points.push_back(whole.points[corner[k]]);
        mesh.normals.push_back(whole.normals[corner[k]]);
        mesh.albedo.push_back(whole.albedo[corner[k]]);
      }
      mesh.quads.push_back(static_cast<std::uint32_t>(to));
    }
  }
}

}  // namespace

std::vector<Mesh> coat_meshes(const scene::Scene& scene, int fault_number) {
  const scene::FaultKind& kind = scene.scenario.faults[static_cast<std::size_t>(fault_number - 1)].kind;
  const auto* repair = std::get_if<scene::Repair>(&kind);
  const auto* weld = std::get_if<scene::FailedWeld>(&kind);
  const matter::Coat coat = repair ? matter::repair_coat(scene, *repair, fault_number)
                            : weld ? matter::weld_coat(scene, *weld, fault_number)
                                   : matter::lining_coat(scene, fault_number);
  const Look look(scene, coat);
  std::map<Part, Mesh> parts;
  for (const matter::CoatSheet& sheet : coat.sheets) add_sheet(parts, sheet, look);
  std::vector<Mesh> meshes;
  for (auto& [part, mesh] : parts) meshes.push_back(std::move(mesh));
  return meshes;
}

}  // namespace haunch::render
