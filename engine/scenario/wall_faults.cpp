// SPDX-License-Identifier: Apache-2.0
// Faults of the wall: how a file says them, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/materials.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

Crack crack(const Json& in) {
  Crack out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.arc = arc(in);
  const CrackForm usual = in.contains("at_m") ? CrackForm::around : CrackForm::along;
  out.form = pick(text(in, "form"),
                  {{"along", CrackForm::along},
                   {"around", CrackForm::around},
                   {"branching", CrackForm::branching},
                   {"spiral", CrackForm::spiral},
                   {"star", CrackForm::star}},
                  usual);
  out.width_mm = number(in, "width_mm");
  return out;
}

FailedWeld failed_weld(const Json& in) {
  FailedWeld out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.arc = arc(in);
  out.way = pick(text(in, "direction"),
                 {{"along", WeldWay::along}, {"round", WeldWay::around}, {"spiral", WeldWay::spiral}},
                 in.contains("at_m") ? WeldWay::around : WeldWay::along);
  out.gap_mm = number(in, "gap_mm");
  return out;
}

Hole hole(const Json& in) {
  return {number(in, "at_m"), number(in, "clock"), number(in, "length_mm"), number(in, "width_mm"),
          pick(text(in, "behind"), {{"stone", Behind::stone}, {"void", Behind::nothing}}, Behind::soil)};
}

BrokenWall broken_wall(const Json& in, bool fallen_in) {
  return {number(in, "at_m"),
          number(in, "clock", 12),
          number(in, "length_mm"),
          number(in, "width_mm"),
          number(in, "moved_mm", 0),
          fallen_in,
          number(in, "takes_percent", 0)};
}

SurfaceDamage surface_damage(const Json& in) {
  SurfaceDamage out;
  out.from_m = number(in, "from_m");
  out.to_m = number(in, "to_m");
  out.arc = arc(in);
  out.form = pick(text(in, "form"),
                  {{"rougher", DamageForm::rougher},
                   {"spalled", DamageForm::spalled},
                   {"stones showing", DamageForm::stones_showing},
                   {"stones standing out", DamageForm::stones_out},
                   {"stones gone", DamageForm::stones_gone},
                   {"steel showing", DamageForm::steel_showing},
                   {"steel standing out", DamageForm::steel_out},
                   {"steel corroded", DamageForm::steel_corroded},
                   {"wall gone", DamageForm::wall_gone},
                   {"rust", DamageForm::rust},
                   {"blister", DamageForm::blister},
                   {"dent", DamageForm::dent}},
                  out.form);
  out.cause = pick(text(in, "cause"),
                   {{"worn", DamageCause::worn},
                    {"chemical", DamageCause::chemical},
                    {"chemical above water", DamageCause::chemical_above},
                    {"chemical below water", DamageCause::chemical_below}},
                   DamageCause::unclear);
  out.depth_mm = number(in, "depth_mm", 0);
  return out;
}

/// What a pipe of a material cannot suffer, in words; empty where it can.
std::string impossible(DamageForm form, Material material) {
  const bool concrete = material == Material::concrete;
  switch (form) {
    case DamageForm::stones_showing:
    case DamageForm::stones_out:
    case DamageForm::stones_gone:
      return concrete ? "" : "there are no stones in a wall of ";
    case DamageForm::steel_showing:
    case DamageForm::steel_out:
    case DamageForm::steel_corroded:
      return concrete ? "" : "there is no steel in a wall of ";
    case DamageForm::spalled:
      return concrete || material == Material::clay || material == Material::brick ||
                     material == Material::fibre_cement
                 ? ""
                 : "nothing spalls from a wall of ";
    case DamageForm::rust:
      return material == Material::cast_iron ? "" : "nothing rusts on a wall of ";
    case DamageForm::blister:
    case DamageForm::dent:
      return is_flexible(material) ? "" : "neither blisters nor dents form in a wall of ";
    case DamageForm::rougher:
    case DamageForm::wall_gone:
      break;
  }
  return {};
}

/// Where each form is to be found.
std::string found_in(DamageForm form) {
  switch (form) {
    case DamageForm::spalled:
      return "concrete, vitrified clay, brickwork or fibre cement";
    case DamageForm::rust:
      return "cast iron";
    case DamageForm::blister:
    case DamageForm::dent:
      return "PVC, polyethylene, pitch fibre or liner";
    default:
      return "concrete";
  }
}

bool chemical(DamageCause cause) {
  return cause == DamageCause::chemical || cause == DamageCause::chemical_above ||
         cause == DamageCause::chemical_below;
}

}  // namespace

std::optional<FaultKind> wall_fault(const std::string& kind, const Json& in) {
  if (kind == "crack") return crack(in);
  if (kind == "failed weld") return failed_weld(in);
  if (kind == "hole") return hole(in);
  if (kind == "surface damage") return surface_damage(in);
  if (kind == "missing mortar") {
    const auto [from, to] = extent(in);
    return MissingMortar{(from + to) / 2, arc(in), number(in, "depth_mm"), to - from};
  }
  if (kind == "porous wall") return PorousWall{number(in, "from_m"), number(in, "to_m"), arc(in)};
  if (kind == "sweating wall") return SweatingWall{number(in, "from_m"), number(in, "to_m"), arc(in)};
  if (kind == "break") return broken_wall(in, false);
  if (kind == "collapse") return broken_wall(in, true);
  return std::nullopt;
}

void Sense::check(const Crack& crack) {
  point_or_stretch("crack", crack.from_m, crack.to_m);
  if (crack.form == CrackForm::along && crack.from_m == crack.to_m)
    say(at_, "a crack along the pipe needs a length", "from_m and to_m");
  if (crack.form == CrackForm::along && base::arc_width_h(crack.arc) > 3)
    say(at_ + "/clock", "a crack along the pipe does not go round it",
        "an hour, or an arc of at most 3 hours");
  if (crack.form == CrackForm::spiral && crack.from_m == crack.to_m)
    say(at_, "a crack that winds round the pipe needs a length", "from_m and to_m");
  if (crack.form == CrackForm::spiral && !crack.arc.whole && base::arc_width_h(crack.arc) < 3)
    say(at_ + "/clock", "a crack that winds round the pipe crosses more of it",
        "[from, to] of at least 3 hours, or [12, 12] for a whole turn");
  if (crack.form == CrackForm::star && crack.from_m != crack.to_m)
    say(at_, "a star spreads from one point", "at_m, and not from_m and to_m");
  if (crack.form == CrackForm::star &&
      (crack.arc.whole || base::arc_width_h(crack.arc) == 0 || base::arc_width_h(crack.arc) > 8))
    say(at_ + "/clock", "a star reaches as far to each side as its arc says",
        "[from, to] of at most 8 hours with the point in the middle");
  if (crack.form == CrackForm::around && !crack.arc.whole && base::arc_width_h(crack.arc) == 0)
    say(at_ + "/clock", "a crack around the pipe needs an arc",
        "[from, to], or [12, 12] for the whole way round");
}

void Sense::check(const FailedWeld& weld) {
  const bool around = weld.way == WeldWay::around, point = weld.from_m == weld.to_m;
  if (around && !point)
    return say(at_, "a weld round the pipe is at one place", "at_m, and not from_m and to_m");
  if (!around && point)
    return say(at_, "a weld along the pipe or winding round it needs a length", "from_m and to_m");
  if (around)
    joint(weld.from_m);
  else
    point_or_stretch("failed weld", weld.from_m, weld.to_m);
  const double wide_h = base::arc_width_h(weld.arc);
  if (weld.way == WeldWay::along && (weld.arc.whole || wide_h > 0))
    say(at_ + "/clock", "a weld along the pipe stands at one hour", "an hour, such as 10");
  if (around && !weld.arc.whole && wide_h == 0)
    say(at_ + "/clock", "a weld round the pipe has opened over an arc",
        "[from, to], or [12, 12] for the whole way round");
  if (weld.way == WeldWay::spiral && !weld.arc.whole && wide_h < 3)
    say(at_ + "/clock", "a seam that winds round the pipe crosses more of it",
        "[from, to] of at least 3 hours, or [12, 12] for a whole turn");
  if (!sections_known_) return;
  for (const double z : {weld.from_m, weld.to_m}) {
    if (!on_run(z)) continue;
    const Section* section = section_of(z);
    if (!section || section->material == Material::polyethylene) continue;
    say(at_, "nobody welds " + scene::show(section->material), "a place in polyethylene");
    return;
  }
}

namespace {

/// How wide something in the wall may be, as a share of its circumference.
double most_width_mm(const Section& section, double share) {
  return share * std::numbers::pi * section.bore_mm;
}

}  // namespace

void Sense::check(const Hole& hole) {
  const double half = hole.length_mm / 2000.0;
  inside(at_ + "/at_m", "the hole", hole.at_m);
  if (!on_run(hole.at_m)) return;
  if (hole.at_m - half < 0 || hole.at_m + half > scenario_.length_m)
    say(at_ + "/length_mm", "the hole reaches past the end of the pipe",
        "at most " + show(2000.0 * std::min(hole.at_m, scenario_.length_m - hole.at_m)) + " mm here");
  const Section* section = section_of(hole.at_m);
  if (section && hole.width_mm > std::numbers::pi * section->bore_mm / 2.0)
    say(at_ + "/width_mm", "a hole " + show(hole.width_mm) + " mm wide leaves less than half the wall",
        "at most " + show(std::floor(std::numbers::pi * section->bore_mm / 2.0)) + " mm in this bore");
  clear_of_joints("hole", hole.at_m, half);
}

void Sense::check(const SurfaceDamage& damage) {
  stretch(at_, "surface damage", damage.from_m, damage.to_m);
  if (!damage.arc.whole && base::arc_width_h(damage.arc) == 0)
    say(at_ + "/clock", "damage of the surface covers an arc",
        "[from, to], or nothing for the whole way round");
  if (damage.form == DamageForm::wall_gone && damage.depth_mm > 0)
    say(at_ + "/depth_mm", "where the wall is gone it is gone through its whole thickness",
        "no depth_mm for this form");
  // Pairs that no list of codes has, and no pipe either. Ours.
  if ((damage.form == DamageForm::rust || damage.form == DamageForm::steel_corroded) &&
      damage.cause == DamageCause::worn)
    say(at_ + "/cause", "nothing rusts by being worn", "chemical, or not clear");
  if ((damage.form == DamageForm::spalled || damage.form == DamageForm::blister ||
       damage.form == DamageForm::dent) &&
      chemical(damage.cause))
    say(at_ + "/cause", "what eats the wall away leaves neither flakes, blisters nor dents",
        "worn, or not clear");
  // What gas attacks lies above the water, what the flow attacks at the bottom.
  if (damage.cause == DamageCause::chemical_above && !base::arc_contains(damage.arc, 12) &&
      !base::arc_contains(damage.arc, 2) && !base::arc_contains(damage.arc, 10))
    warn(at_ + "/clock", "gas above the water attacks the upper part of the pipe first",
         "an arc that reaches above 10 or 2");
  if (damage.cause == DamageCause::chemical_below && !base::arc_contains(damage.arc, 6))
    warn(at_ + "/clock", "what lies below the water is at the bottom", "an arc that holds 6");
  if (!sections_known_ || !on_run(damage.from_m) || !on_run(damage.to_m)) return;
  for (const Section& section : scenario_.sections) {
    if (section.to_m <= damage.from_m || section.from_m >= damage.to_m) continue;
    const std::string why = impossible(damage.form, section.material);
    if (!why.empty())
      say(at_ + "/form", why + scene::show(section.material), "a stretch of " + found_in(damage.form));
    const bool out_of_wall = damage.form == DamageForm::rust || damage.form == DamageForm::blister ||
                             damage.form == DamageForm::dent;
    if (!out_of_wall && damage.form != DamageForm::wall_gone && damage.depth_mm >= section.wall_mm)
      say(at_ + "/depth_mm",
          show(damage.depth_mm) + " mm goes through the wall, which is " + show(section.wall_mm) +
              " mm thick",
          "less, or the form \"wall gone\"");
    if (out_of_wall && damage.depth_mm > section.bore_mm / 5)
      say(at_ + "/depth_mm", show(damage.depth_mm) + " mm is more than a fifth of the bore",
          "at most " + show(section.bore_mm / 5) + " mm here");
  }
}

namespace {

/// Ware that lets water through where it is badly made or eaten: cement and fired clay.
bool lets_water_through(Material material) {
  return material == Material::concrete || material == Material::clay || material == Material::brick ||
         material == Material::fibre_cement;
}

}  // namespace

void Sense::check(const MissingMortar& mortar) {
  const bool brickwork = mortar.length_m != 0;
  if (brickwork)
    stretch(at_, "missing mortar", mortar.at_m - mortar.length_m / 2, mortar.at_m + mortar.length_m / 2);
  if (!mortar.arc.whole && base::arc_width_h(mortar.arc) == 0)
    say(at_ + "/clock", "mortar is missing from an arc of the wall",
        "[from, to], or nothing for the whole way round");
  const Section* section = section_of(mortar.at_m);
  if (section && (section->material == Material::brick) != brickwork) {
    if (brickwork)
      say(at_ + "/from_m", "between joints there is no mortar in a wall of " + scene::show(section->material),
          "at_m of one joint, or a stretch of brickwork");
    else
      say(at_ + "/at_m", "brickwork loses its mortar over a stretch", "from_m and to_m");
    return;
  }
  if (!brickwork) joint(mortar.at_m);
  if (!section) return;
  if (!brickwork && section->material != Material::concrete && section->material != Material::clay)
    return say(at_ + "/at_m", "there is no mortar in the joints of " + scene::show(section->material),
               "a joint of concrete or vitrified clay, or a stretch of brickwork");
  if (brickwork && (mortar.at_m - mortar.length_m / 2 < section->from_m - 1e-9 ||
                    mortar.at_m + mortar.length_m / 2 > section->to_m + 1e-9))
    say(at_, "the missing mortar reaches past the end of the brickwork",
        "from " + metres(section->from_m) + " to " + metres(section->to_m));
  const double most = brickwork ? section->wall_mm : 2 * section->wall_mm;
  if (mortar.depth_mm > most)
    say(at_ + "/depth_mm",
        show(mortar.depth_mm) + " mm is deeper than a joint in a wall of " + show(section->wall_mm) + " mm",
        "at most " + show(most) + " mm");
}

void Sense::wet_wall(const std::string& thing, double from, double to, const base::ClockArc& arc) {
  stretch(at_, thing, from, to);
  if (!arc.whole && base::arc_width_h(arc) == 0)
    say(at_ + "/clock", "a " + thing + " covers an arc", "[from, to], or nothing for the whole way round");
  if (!sections_known_ || !on_run(from) || !on_run(to)) return;
  for (const Section& section : scenario_.sections)
    if (section.to_m > from && section.from_m < to && !lets_water_through(section.material))
      say(at_, "no water comes through a wall of " + scene::show(section.material),
          "a stretch of concrete, vitrified clay, brickwork or fibre cement");
}
void Sense::check(const PorousWall& porous) {
  wet_wall("porous wall", porous.from_m, porous.to_m, porous.arc);
}
void Sense::check(const SweatingWall& wall) { wet_wall("sweating wall", wall.from_m, wall.to_m, wall.arc); }

void Sense::check(const BrokenWall& broken) {
  const std::string name = "the " + kind_word(fault());
  const double half = broken.length_mm / 2000.0;
  inside(at_ + "/at_m", name, broken.at_m);
  if (!on_run(broken.at_m)) return;
  if (broken.at_m - half < 0 || broken.at_m + half > scenario_.length_m)
    say(at_ + "/length_mm", name + " reaches past the end of the pipe",
        "at most " + show(2000.0 * std::min(broken.at_m, scenario_.length_m - broken.at_m)) + " mm here");
  const Section* section = section_of(broken.at_m);
  if (section && broken.width_mm > most_width_mm(*section, 0.6))
    say(at_ + "/width_mm", "so little of the wall would be left that nothing held it up",
        "at most " + show(std::floor(most_width_mm(*section, 0.6))) + " mm in this bore");
  if (section && !broken.fallen_in && broken.moved_mm > section->bore_mm / 4)
    say(at_ + "/moved_mm", "pieces that stand so far in do not stay up",
        "at most " + show(section->bore_mm / 4) + " mm in this bore, or a collapse");
  clear_of_joints(kind_word(fault()), broken.at_m, half);
}

}  // namespace haunch::scenario
