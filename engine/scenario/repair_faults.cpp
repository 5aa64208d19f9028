// SPDX-License-Identifier: Apache-2.0
// Single places that were mended, and water that leaves: how a file says them, and what makes no sense.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr std::initializer_list<std::pair<const char*, RepairForm>> forms = {
    {"pipe replaced", RepairForm::pipe_replaced},
    {"mortar in joint", RepairForm::mortar_in_joint},
    {"sealant in joint", RepairForm::sealant_in_joint},
    {"patch", RepairForm::patch},
    {"connection lining", RepairForm::connection_lining},
    {"connection mortar", RepairForm::connection_mortar}};

constexpr std::initializer_list<std::pair<const char*, RepairFlaw>> flaws = {
    {"none", RepairFlaw::none},
    {"wall missing", RepairFlaw::wall_missing},
    {"poor patch", RepairFlaw::poor_patch},
    {"come away", RepairFlaw::come_away},
    {"not reaching", RepairFlaw::not_reaching},
    {"excess", RepairFlaw::excess},
    {"holed", RepairFlaw::holed},
    {"cracked", RepairFlaw::cracked}};

bool in_joint(RepairForm form) {
  return form == RepairForm::mortar_in_joint || form == RepairForm::sealant_in_joint;
}

/// What can go wrong with each that shows: ours.
bool can_have(RepairForm form, RepairFlaw flaw) {
  if (flaw == RepairFlaw::none) return true;
  switch (form) {
    case RepairForm::pipe_replaced:
      return false;
    case RepairForm::patch:
      return true;
    case RepairForm::mortar_in_joint:
      return flaw == RepairFlaw::come_away || flaw == RepairFlaw::excess || flaw == RepairFlaw::cracked;
    case RepairForm::sealant_in_joint:
      return flaw == RepairFlaw::come_away || flaw == RepairFlaw::excess;
    case RepairForm::connection_lining:
      return flaw == RepairFlaw::not_reaching;
    case RepairForm::connection_mortar:
      return false;
  }
  return false;
}
const char* what_can_be(RepairForm form) {
  switch (form) {
    case RepairForm::mortar_in_joint:
      return "come away, excess or cracked for mortar in a joint";
    case RepairForm::sealant_in_joint:
      return "come away or excess for sealant in a joint";
    case RepairForm::connection_lining:
      return "not reaching for the lining of a connection";
    default:
      return "no flaw for this form";
  }
}

}  // namespace

std::optional<FaultKind> repair_fault(const std::string& kind, const Json& in) {
  if (kind == "exfiltration") return Exfiltration{number(in, "at_m"), arc(in), number(in, "loses_percent")};
  if (kind != "repair") return std::nullopt;
  Repair out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.form = pick(text(in, "form"), forms, RepairForm::patch);
  out.arc = arc(in);
  out.length_mm = number(in, "length_mm", 0);
  out.width_mm = number(in, "width_mm", 0);
  out.flaw = pick(text(in, "flaw"), flaws, RepairFlaw::none);
  out.takes_percent = number(in, "takes_percent", 0);
  out.crack_mm = number(in, "crack_mm", 0);
  out.way = pick(text(in, "direction"),
                 {{"round", FoldWay::around}, {"several", FoldWay::several}, {"spiral", FoldWay::spiral}},
                 FoldWay::along);
  return out;
}

/// The picture shows it by what the section is made of.
void Sense::replaced(const Repair& repair) {
  stretch(at_, "replaced pipe", repair.from_m, repair.to_m);
  if (!sections_known_) return;
  for (std::size_t i = 0; i < scenario_.sections.size(); ++i) {
    const Section& section = scenario_.sections[i];
    if (std::abs(section.from_m - repair.from_m) > 0.01 || std::abs(section.to_m - repair.to_m) > 0.01)
      continue;
    const auto like = [&](std::size_t other) {
      return scenario_.sections[other].material == section.material &&
             scenario_.sections[other].colour == section.colour;
    };
    if ((i > 0 && like(i - 1)) || (i + 1 < scenario_.sections.size() && like(i + 1)))
      say(at_,
          "nobody can tell that this pipe was replaced: it is of " + scene::show(section.material) +
              " as its neighbour is",
          "a section of another material or colour than those beside it");
    if (scenario_.sections.size() == 1)
      say(at_, "the whole run is of one section: none of it was replaced", "a section between others");
    return;
  }
  say(at_,
      "a replaced pipe is a section of its own, and none reaches from " + metres(repair.from_m) + " to " +
          metres(repair.to_m),
      "from_m and to_m of a section under /pipe/sections");
}

void Sense::at_connection(const Repair& repair) {
  inside(at_ + "/at_m", "the repair", repair.from_m);
  for (const Fault& there : scenario_.faults)
    if (const auto* c = std::get_if<Connection>(&there.kind);
        c && std::abs(c->at_m - repair.from_m) <= c->bore_mm / 2000) {
      if (c->intrudes_percent > 0 || c->closed)
        say(at_, "a connection that reaches in, or is closed, cannot be mended like this",
            "an open connection that does not reach in");
      return;
    }
  say(at_ + "/at_m", "there is no connection at " + metres(repair.from_m) + " to be mended",
      "the place of a connection");
}

void Sense::check(const Repair& repair) {
  const bool has_from = document_.root().contains(nlohmann::json::json_pointer(at_ + "/from_m"));
  if ((repair.form == RepairForm::pipe_replaced) != has_from) {
    return say(at_, has_from ? "this repair is at one place" : "a replaced pipe has two ends",
               has_from ? "at_m" : "from_m and to_m");
  }
  if (repair.form != RepairForm::patch && (repair.length_mm > 0 || repair.width_mm > 0))
    say(at_, "there is no hole under this form of repair",
        "no length_mm and no width_mm, or the form \"patch\"");
  if (!can_have(repair.form, repair.flaw))
    say(at_ + "/flaw", "this cannot be wrong with such a repair", what_can_be(repair.form));
  if ((repair.flaw == RepairFlaw::excess) != (repair.takes_percent > 0))
    say(at_,
        repair.flaw == RepairFlaw::excess ? "how much of the bore it takes is not said"
                                          : "only what is too much takes of the bore",
        repair.flaw == RepairFlaw::excess ? "takes_percent: more than 0" : "no takes_percent for this flaw");
  if ((repair.flaw == RepairFlaw::cracked) != (repair.crack_mm > 0))
    say(at_,
        repair.flaw == RepairFlaw::cracked ? "how wide the crack is open is not said"
                                           : "only what is cracked has a crack",
        repair.flaw == RepairFlaw::cracked ? "crack_mm: more than 0" : "no crack_mm for this flaw");
  if (repair.form == RepairForm::pipe_replaced) return replaced(repair);
  if (in_joint(repair.form)) {
    joint(repair.from_m);
    if (!repair.arc.whole && base::arc_width_h(repair.arc) < 0.5)
      say(at_ + "/clock", "what is in a joint covers an arc of it",
          "[from, to], or nothing for the whole way round");
    return;
  }
  if (repair.form != RepairForm::patch) return at_connection(repair);
  inside(at_ + "/at_m", "the repair", repair.from_m);
  if (repair.arc.whole || base::arc_width_h(repair.arc) != 0)
    say(at_ + (repair.arc.whole ? "" : "/clock"), "a patch is at one place of the wall",
        "clock: one hour, its middle");
  if (!(repair.length_mm > 0) || !(repair.width_mm > 0))
    return say(at_, "how large the hole under the patch is is not said", "length_mm and width_mm");
  if (!on_run(repair.from_m)) return;
  const double room_mm = 1000 * std::min(repair.from_m, scenario_.length_m - repair.from_m) - 40;
  if (repair.length_mm / 2 > room_mm)
    say(at_ + "/length_mm", "the patch reaches past the end of the pipe",
        "at most " + show(std::max(0.0, 2 * room_mm)) + " mm here");
  const Section* section = section_of(repair.from_m);
  const double most = section ? std::floor(std::numbers::pi * section->bore_mm / 3) : 1e9;
  if (repair.width_mm > most)
    say(at_ + "/width_mm", "a patch over so wide a hole would not hold",
        "at most " + show(most) + " mm in this bore");
  clear_of_joints("patch", repair.from_m, repair.length_mm / 2000);
}

void Sense::check(const Exfiltration& water) {
  inside(at_ + "/at_m", "the exfiltration", water.at_m);
  const double up = std::abs(std::remainder(water.arc.from_h - 6, 12.0));
  if (up > 2)
    say(at_ + "/clock", "water leaves by the bottom of the pipe, where it runs", "an hour from 4 to 8");
  if (!(scenario_.flow_l_s > 0) && !is_wrong("/pipe/flow_l_s"))
    say(at_, "no water runs in this pipe that could leave it", "flow_l_s more than 0 under /pipe");
  opening_for("water", water.at_m, "go out by");
}

}  // namespace haunch::scenario
