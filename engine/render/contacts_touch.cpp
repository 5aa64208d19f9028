// SPDX-License-Identifier: Apache-2.0
#include "render/contacts_touch.hpp"

#include <algorithm>

namespace haunch::render {
namespace {

struct TouchOf {
  float radius;
  Touch standing(float line) const { return {line, std::clamp(0.38F * radius, 0.012F, 0.06F), 0, 0, {}}; }
  Touch operator()(const scene::Obstacle&) const { return standing(0.005F); }
  Touch operator()(const scene::SoilIngress& soil) const {
    Touch touch = standing(0.004F);
    touch.strewn_along = std::clamp(1.9F * radius, 0.08F, 0.30F), touch.strewn_round = 0.35F * radius;
    switch (soil.kind) {
      case scene::SoilKind::sand:
        touch.matter = linear_from_srgb(138, 113, 76), touch.grain = 0.0011F;
        break;
      case scene::SoilKind::peat:
        touch.matter = linear_from_srgb(40, 29, 20), touch.grain = 0.0024F;
        break;
      case scene::SoilKind::fine:
        touch.matter = linear_from_srgb(82, 60, 40), touch.grain = 0.0016F;
        break;
      case scene::SoilKind::gravel:
        touch.matter = linear_from_srgb(98, 86, 68), touch.grain = 0.0022F;
        break;
    }
    touch.gloss = 0.04F;
    // It has run down the wall from where it came in.
    touch.runs_from_h = soil.arc.from_h, touch.runs_at_m = static_cast<float>(soil.at_m);
    return touch;
  }
  Touch operator()(const scene::Settled& settled) const {
    Touch touch{0.003F, 0.010F, 0.22F, 0.25F * radius, {}};
    touch.ends_only = true;
    switch (settled.kind) {
      case scene::SettledKind::fine:
        touch.matter = linear_from_srgb(76, 56, 36), touch.grain = 0.0008F, touch.gloss = 0.06F;
        break;
      case scene::SettledKind::coarse:
        touch.matter = linear_from_srgb(96, 82, 62), touch.grain = 0.0020F, touch.gloss = 0.10F;
        break;
      case scene::SettledKind::hard:
        touch.matter = linear_from_srgb(124, 110, 88), touch.grain = 0.0016F;
        touch.strewn_along = 0.06F, touch.strewn_round = 0.12F * radius;
        break;
    }
    return touch;
  }
  Touch operator()(const scene::BrokenWall& broken) const {
    if (!broken.fallen_in) return {0.003F, 0.014F, 0, 0, {}};
    Touch touch = standing(0.005F);
    touch.strewn_along = std::clamp(1.6F * radius, 0.08F, 0.30F), touch.strewn_round = 0.5F * radius;
    touch.matter = linear_from_srgb(82, 64, 46), touch.grain = 0.0022F;
    return touch;
  }
  Touch operator()(const scene::Infiltration& water) const {
    Touch touch{0.0F, 0, 0, 0, {}};
    touch.wets = true;
    touch.runs_from_h = water.arc.from_h, touch.runs_at_m = static_cast<float>(water.at_m);
    return touch;
  }
  Touch operator()(const scene::Vermin& vermin) const {
    if (vermin.place != scene::VerminPlace::pipe) return {};
    return vermin.kind == scene::VerminKind::rat
               ? Touch{0.005F, std::clamp(0.22F * radius, 0.012F, 0.03F), 0, 0, {}}
               : Touch{0.0F, 0.006F, 0, 0, {}};
  }
  Touch operator()(const scene::SealingRing&) const { return {0.003F, 0.012F, 0, 0, {}}; }
  Touch operator()(const scene::Roots& roots) const {
    return roots.form == scene::RootForm::tap ? Touch{0.005F, 0.016F, 0, 0, {}} : Touch{};
  }
  Touch operator()(const scene::Attached& attached) const {
    if (attached.kind != scene::AttachedKind::grease) return {};
    // A greasy film lies round about it, all the way up the wall.
    Touch touch{0.0F, 0.0F, 0.06F, 0.34F * radius, linear_from_srgb(134, 116, 84)};
    touch.grain = 0.0080F, touch.gloss = 0.12F;
    touch.sticks = true;
    touch.ends_only = attached.to_m - attached.from_m > 4;
    return touch;
  }
  template <class Other>
  Touch operator()(const Other&) const {
    return {};
  }
};

}  // namespace

Touch touch_of(const scene::FaultKind& kind, float radius_m) { return std::visit(TouchOf{radius_m}, kind); }

}  // namespace haunch::render
