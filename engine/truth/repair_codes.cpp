// SPDX-License-Identifier: Apache-2.0
// Single places that were mended, and how that went wrong; and water that leaves.
#include <cmath>
#include <numbers>

#include "matter/solid.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

Letter of_form(scene::RepairForm form) {
  using scene::RepairForm;
  switch (form) {
    case RepairForm::pipe_replaced:
      return {"A", "a piece of the pipe is newer than what is before and after it: it was replaced"};
    case RepairForm::mortar_in_joint:
      return {"C", "mortar has been pressed into the joint"};
    case RepairForm::sealant_in_joint:
      return {"D", "a resin that seals has been pressed into the joint"};
    case RepairForm::patch:
      return {"E", "mortar covers a hole in the wall"};
    case RepairForm::connection_lining:
      return {"F", "a short lining with a brim sits in the connection's mouth"};
    case RepairForm::connection_mortar:
      return {"G", "the connection's mouth has been made good with mortar"};
  }
  return {"Z", ""};
}

Letter of_flaw(scene::RepairFlaw flaw) {
  using scene::RepairFlaw;
  switch (flaw) {
    case RepairFlaw::none:
      break;
    case RepairFlaw::wall_missing:
      return {"A", "beside it part of the wall is missing still"};
    case RepairFlaw::poor_patch:
      return {"B", "the patch over the hole is poor"};
    case RepairFlaw::come_away:
      return {"C", "it has come away from the pipe"};
    case RepairFlaw::not_reaching:
      return {"D", "it does not reach what it should lie against: a gap is left all along"};
    case RepairFlaw::excess:
      return {"E", "there is too much of it, in the way"};
    case RepairFlaw::holed:
      return {"F", "there is a hole in it"};
    case RepairFlaw::cracked:
      return {"G", "it is cracked"};
  }
  return {"", ""};
}

}  // namespace

void Codes::code(const scene::Repair& repair) {
  using scene::RepairForm;
  const Letter form = of_form(repair.form);
  auto made = line("BCB", form.letter);
  const bool in_joint =
      repair.form == RepairForm::mortar_in_joint || repair.form == RepairForm::sealant_in_joint;
  if (repair.form == RepairForm::patch) {
    const double bore_mm = 2000.0 * scene::radius_at(scene_, repair.from_m);
    set_span(made, repair.arc.from_h, repair.width_mm / (std::numbers::pi * bore_mm) * 6.0);
    made.at_joint = near_joint(repair.from_m);
  } else if (in_joint) {
    set_arc(made, repair.arc);
    made.at_joint = true;
  } else if (repair.form != RepairForm::pipe_replaced) {
    for (const scene::Fault& fault : scene_.scenario.faults)
      if (const auto* c = std::get_if<scene::Connection>(&fault.kind);
          c && std::abs(c->at_m - repair.from_m) <= c->bore_mm / 2000)
        made.clock_from = base::nearest_hour(c->clock_h);
  }
  const std::string reason = std::string(form.says) + " -> BCB " + form.letter;
  if (repair.form == RepairForm::pipe_replaced) {
    add_long(made, reason);
    return;
  }
  reach_.from_m = reach_.to_m = in_joint ? matter::joint_near_m(scene_, repair.from_m) : repair.from_m;
  add(made, reason);
  if (repair.flaw == scene::RepairFlaw::none) return;
  const Letter flaw = of_flaw(repair.flaw);
  const bool cracked = repair.flaw == scene::RepairFlaw::cracked;
  auto wrong = line("BAL", flaw.letter, cracked ? of_way(repair.way).letter : "");
  wrong.clock_from = made.clock_from, wrong.clock_to = made.clock_to, wrong.at_joint = made.at_joint;
  std::string why = std::string("of what was mended here: ") + flaw.says + " -> BAL " + flaw.letter;
  if (cracked) {
    wrong.q1 = whole(repair.crack_mm);
    why += std::string(", ") + of_way(repair.way).says + " -> " + of_way(repair.way).letter + "; open " +
           show(whole(repair.crack_mm)) + " mm";
  }
  if (repair.flaw == scene::RepairFlaw::excess) {
    wrong.q1 = whole(repair.takes_percent);
    why += "; takes " + show_percent(repair.takes_percent) + " % of the bore's area";
  }
  add(wrong, why);
}

void Codes::code(const scene::Exfiltration& water) {
  auto made = line("BBG", "");
  set_arc(made, water.arc);
  made.at_joint = near_joint(water.at_m);
  add(made, "the stream dips here and " + show_percent(water.loses_percent) +
                " % of it does not go on: water leaves the pipe -> BBG");
}

}  // namespace haunch::truth
