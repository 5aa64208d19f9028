// SPDX-License-Identifier: Apache-2.0
#include "scene/fault.hpp"

#include <algorithm>

namespace haunch::scene {
namespace {

struct StretchOf {
  Stretch operator()(const JointGap& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const JointShift& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const JointBend& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Connection& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const MissingMortar& f) const {
    return {f.at_m - f.length_m / 2, f.at_m + f.length_m / 2};
  }
  Stretch operator()(const Obstacle& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const SoilIngress& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Infiltration& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Vermin& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const SealingRing& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const BrokenWall& f) const {
    return {f.at_m - f.length_mm / 2000.0, f.at_m + f.length_mm / 2000.0};
  }
  Stretch operator()(const Exfiltration& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Repair& f) const {
    const double half = f.form == RepairForm::patch ? f.length_mm / 2000.0 : 0;
    return {f.from_m - half, f.to_m + half};
  }
  Stretch operator()(const Hole& f) const {
    return {f.at_m - f.length_mm / 2000.0, f.at_m + f.length_mm / 2000.0};
  }
  // Roots may trail upstream of the place where they come in.
  template <class T>
  Stretch operator()(const T& f) const {
    return {std::min(f.from_m, f.to_m), std::max(f.from_m, f.to_m)};
  }
};

struct WordOf {
  std::string operator()(const JointGap&) const { return "joint gap"; }
  std::string operator()(const JointShift&) const { return "joint shift"; }
  std::string operator()(const JointBend&) const { return "joint bend"; }
  std::string operator()(const Crack&) const { return "crack"; }
  std::string operator()(const Hole&) const { return "hole"; }
  std::string operator()(const SurfaceDamage&) const { return "surface damage"; }
  std::string operator()(const MissingMortar&) const { return "missing mortar"; }
  std::string operator()(const PorousWall&) const { return "porous wall"; }
  std::string operator()(const SweatingWall&) const { return "sweating wall"; }
  std::string operator()(const Roots&) const { return "roots"; }
  std::string operator()(const Settled&) const { return "deposit"; }
  std::string operator()(const Attached& f) const {
    switch (f.kind) {
      case AttachedKind::grease:
        return "grease";
      case AttachedKind::scale:
        return "scale";
      case AttachedKind::fouling:
        return "fouling";
    }
    return {};
  }
  std::string operator()(const Connection&) const { return "connection"; }
  std::string operator()(const Obstacle&) const { return "obstacle"; }
  std::string operator()(const SoilIngress&) const { return "soil"; }
  std::string operator()(const Infiltration&) const { return "infiltration"; }
  std::string operator()(const Vermin&) const { return "vermin"; }
  std::string operator()(const BrokenWall& f) const { return f.fallen_in ? "collapse" : "break"; }
  std::string operator()(const SealingRing&) const { return "sealing ring"; }
  std::string operator()(const BrickDamage&) const { return "bricks"; }
  std::string operator()(const Squashed&) const { return "squashed"; }
  std::string operator()(const Bend&) const { return "bend"; }
  std::string operator()(const Haze& f) const { return f.kind == HazeKind::steam ? "steam" : "stirred silt"; }
  std::string operator()(const OnLens&) const { return "on lens"; }
  std::string operator()(const Repair&) const { return "repair"; }
  std::string operator()(const Exfiltration&) const { return "exfiltration"; }
  std::string operator()(const FailedWeld&) const { return "failed weld"; }
  std::string operator()(const ShortLining&) const { return "short lining"; }
  std::string operator()(const LiningDefect&) const { return "lining defect"; }
};

}  // namespace

Stretch stretch_of(const Fault& fault) { return std::visit(StretchOf{}, fault.kind); }

std::string kind_word(const Fault& fault) { return std::visit(WordOf{}, fault.kind); }

double depth_m_of(const SurfaceDamage& damage, double wall_m) {
  const auto usual_m = [&]() -> double {
    switch (damage.form) {
      case DamageForm::rougher:
        return 0.0012;
      case DamageForm::spalled:
        return 0.004;
      case DamageForm::stones_showing:
        return 0.002;
      case DamageForm::stones_out:
        return 0.005;
      case DamageForm::stones_gone:
        return 0.008;
      case DamageForm::steel_showing:
        return 0.45 * wall_m;
      case DamageForm::steel_out:
      case DamageForm::steel_corroded:
        return 0.65 * wall_m;
      case DamageForm::wall_gone:
        return wall_m;
      case DamageForm::rust:
        return 0.0025;
      case DamageForm::blister:
      case DamageForm::dent:
        return 0.006;
    }
    return 0;
  };
  if (damage.form == DamageForm::wall_gone) return wall_m;
  const double depth = damage.depth_mm > 0 ? damage.depth_mm / 1000 : usual_m();
  const bool inwards = damage.form == DamageForm::rust || damage.form == DamageForm::blister ||
                       damage.form == DamageForm::dent;
  return inwards ? depth : std::min(depth, 0.95 * wall_m);
}

}  // namespace haunch::scene
