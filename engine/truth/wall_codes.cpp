// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall itself.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/solid.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

Letter of_form(scene::DamageForm form) {
  switch (form) {
    case scene::DamageForm::rougher:
      return {"A", "the wall is rougher than it was"};
    case scene::DamageForm::spalled:
      return {"B", "flakes have spalled from the wall"};
    case scene::DamageForm::stones_showing:
      return {"C", "the stones of the concrete show, flush with the wall"};
    case scene::DamageForm::stones_out:
      return {"D", "the stones of the concrete stand out of the wall"};
    case scene::DamageForm::stones_gone:
      return {"E", "stones have come out of the concrete"};
    case scene::DamageForm::steel_showing:
      return {"F", "steel shows in the concrete"};
    case scene::DamageForm::steel_out:
      return {"G", "steel stands clear of the concrete"};
    case scene::DamageForm::steel_corroded:
      return {"H", "the steel in the concrete is corroded"};
    case scene::DamageForm::wall_gone:
      return {"I", "part of the wall is gone through its whole thickness"};
    case scene::DamageForm::rust:
      return {"J", "rust stands on the wall"};
    case scene::DamageForm::blister:
      return {"K", "the wall has blisters"};
    case scene::DamageForm::dent:
      return {"K", "the wall has dents"};
  }
  return {"Z", ""};
}

Letter of_cause(scene::DamageCause cause) {
  switch (cause) {
    case scene::DamageCause::worn:
      return {"A", "worn mechanically"};
    case scene::DamageCause::chemical:
      return {"B", "chemical attack, above and below the water"};
    case scene::DamageCause::chemical_above:
      return {"C", "chemical attack above the water"};
    case scene::DamageCause::chemical_below:
      return {"D", "chemical attack below the water"};
    case scene::DamageCause::unclear:
      break;
  }
  return {"E", "the cause cannot be told from the picture"};
}

}  // namespace

void Codes::code(const scene::Crack& crack) {
  // Tenths: a crack of 0.6 mm is not one of 1 mm.
  const double width = std::round(crack.width_mm * 10.0) / 10.0;
  const bool open = width >= rules_.fracture_from_mm;
  const bool hairline = width < rules_.crack_opens_mm;
  std::string reason;
  if (hairline)
    reason = (width > 0 ? "opens " + show(width) + " mm" : std::string("does not open")) + ", under " + show(rules_.crack_opens_mm) + " mm: a hairline -> A";
  else if (open)
    reason = "open " + show(width) + " mm: from " + show(rules_.fracture_from_mm) + " mm an open gap -> C";
  else
    reason = "open " + show(width) + " mm: from " + show(rules_.crack_opens_mm) + " mm and under " +
             show(rules_.fracture_from_mm) + " mm its lines are visible -> B";
  const char* form = "A";
  switch (crack.form) {
    case scene::CrackForm::along:
      reason += "; runs along the pipe -> A";
      break;
    case scene::CrackForm::around:
      form = "B";
      reason += "; runs round the pipe -> B";
      break;
    case scene::CrackForm::branching:
      form = "C";
      reason += "; branches in several directions -> C";
      break;
    case scene::CrackForm::spiral:
      form = "D";
      reason += "; winds round the pipe and on along it -> D";
      break;
    case scene::CrackForm::star:
      form = "E";
      reason += "; spreads from one point -> E";
      break;
  }
  auto made = line("BAB", hairline ? "A" : (open ? "C" : "B"), form);
  if (!hairline) made.q1 = width;
  set_arc(made, crack.arc);
  made.at_joint = near_joint((reach_.from_m + reach_.to_m) / 2.0) &&
                  length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9;
  add_long(made, reason);
}

void Codes::code(const scene::Hole& hole) {
  const double bore_mm = 2000.0 * scene::radius_at(scene_, hole.at_m);
  const double half_h = hole.width_mm / (std::numbers::pi * bore_mm) * 6.0;
  auto made = line("BAC", "B");
  made.q1 = whole(hole.length_mm);
  set_span(made, hole.clock_h, half_h);
  made.at_joint = near_joint(hole.at_m);
  // A hole is a point at its centre; its length is its size.
  reach_ = {hole.at_m, hole.at_m};
  add(made, "a piece of the wall " + show(whole(hole.length_mm)) + " mm long and " +
                show(whole(hole.width_mm)) + " mm round the wall is missing -> BAC B");
  const bool empty = hole.behind == scene::Behind::nothing;
  auto behind = line(empty ? "BAP" : "BAO", "");
  behind.clock_from = made.clock_from;
  behind.clock_to = made.clock_to;
  behind.at_joint = made.at_joint;
  add(behind,
      empty ? std::string(
                  "nothing but darkness shows through the hole, the ground is gone -> BAP: nobody jets here")
      : hole.behind == scene::Behind::soil
          ? std::string("soil shows through the hole -> BAO")
          : std::string("bedding stone shows through the hole; it counts as soil visible -> BAO"));
}

void Codes::code(const scene::BrokenWall& broken) {
  const double bore_mm = 2000.0 * scene::radius_at(scene_, broken.at_m);
  const double half_h = broken.width_mm / (std::numbers::pi * bore_mm) * 6.0;
  auto made = line("BAC", broken.fallen_in ? "C" : "A");
  if (!broken.fallen_in) made.q1 = whole(broken.length_mm);
  set_span(made, broken.clock_h, half_h);
  made.at_joint = near_joint(broken.at_m);
  reach_ = {broken.at_m, broken.at_m};
  add(made, broken.fallen_in
                ? "the wall has fallen in over " + show(whole(broken.length_mm)) + " mm and takes " +
                      show_percent(broken.takes_percent) + " % of the bore's area -> BAC C: nobody jets here"
                : "the wall is in pieces over " + show(whole(broken.length_mm)) + " mm, all there, up to " +
                      show(whole(broken.moved_mm)) + " mm out of place -> BAC A");
  if (!broken.fallen_in && whole(broken.moved_mm) < rules_.soil_shows_from_mm) return;
  auto behind = line("BAO", "");
  behind.clock_from = made.clock_from;
  behind.clock_to = made.clock_to;
  behind.at_joint = made.at_joint;
  add(behind, broken.fallen_in ? std::string("soil shows where the wall was -> BAO")
                               : "pieces " + show(whole(broken.moved_mm)) + " mm out of place, at least " +
                                     show(rules_.soil_shows_from_mm) + " mm: soil shows between them -> BAO");
}

void Codes::code(const scene::SurfaceDamage& damage) {
  const Letter form = of_form(damage.form), cause = of_cause(damage.cause);
  auto made = line("BAF", form.letter, cause.letter);
  set_arc(made, damage.arc);
  made.at_joint = near_joint((reach_.from_m + reach_.to_m) / 2.0) &&
                  length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9;
  const bool through = damage.form == scene::DamageForm::wall_gone;
  auto behind = line("BAO", "");
  behind.clock_from = made.clock_from;
  behind.clock_to = made.clock_to;
  behind.at_joint = made.at_joint;
  add_long(made, std::string(form.says) + " -> " + form.letter + "; " + cause.says + " -> " + cause.letter);
  if (through) add_long(behind, "soil shows where the wall is gone -> BAO");
}

void Codes::code(const scene::MissingMortar& mortar) {
  const double depth = whole(mortar.depth_mm);
  if (depth < rules_.mortar_gone_from_mm) return;
  auto made = line("BAE", "");
  made.q1 = depth;
  set_arc(made, mortar.arc);
  if (mortar.length_m > 0)
    return add_long(made, "the joints between the bricks are empty of mortar " + show(depth) +
                              " mm deep, at least " + show(rules_.mortar_gone_from_mm) + " mm -> BAE");
  Finding& finding = add(made, "the joint is empty of mortar " + show(depth) + " mm deep, at least " +
                                   show(rules_.mortar_gone_from_mm) + " mm -> BAE");
  const auto nearest = std::min_element(
      scene_.joints.begin(), scene_.joints.end(), [&](const scene::Joint& a, const scene::Joint& b) {
        return std::abs(a.at_m - mortar.at_m) < std::abs(b.at_m - mortar.at_m);
      });
  if (nearest != scene_.joints.end()) finding.from_m = finding.to_m = nearest->at_m;
}

void Codes::code(const scene::FailedWeld& weld) {
  using scene::WeldWay;
  const Letter way = weld.way == WeldWay::along    ? Letter{"A", "along the pipe"}
                     : weld.way == WeldWay::around ? Letter{"B", "round the pipe"}
                                                   : Letter{"C", "in a spiral"};
  auto made = line("BAM", way.letter);
  // A seam that winds round the pipe has no hour.
  if (weld.way != WeldWay::spiral) set_arc(made, weld.arc);
  const std::string reason =
      "the weld " + std::string(way.says) + " has opened " + show(weld.gap_mm) + " mm -> BAM " + way.letter;
  if (weld.way != WeldWay::around) return add_long(made, reason);
  Finding& finding = add(made, reason);
  finding.from_m = finding.to_m = matter::joint_near_m(scene_, weld.from_m);
}

void Codes::code(const scene::PorousWall& porous) {
  auto made = line("BAN", "");
  set_arc(made, porous.arc);
  add_long(made, "the wall is full of pores and damp -> BAN");
}

void Codes::code(const scene::SweatingWall& wall) {
  auto made = line("BBF", "A");
  set_arc(made, wall.arc);
  made.at_joint = near_joint((reach_.from_m + reach_.to_m) / 2.0) &&
                  length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9;
  add_long(made, "water stands on the wall in beads and does not drip -> A");
}

}  // namespace haunch::truth
