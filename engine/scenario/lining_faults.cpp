// SPDX-License-Identifier: Apache-2.0
// Linings and what is wrong with them: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/layout.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr double end_reach_m = 0.02;   // ours: so near its end a defect is at the end
constexpr double most_of_bore = 0.08;  // ours: thicker than this of the bore no lining goes in

constexpr std::initializer_list<std::pair<const char*, LiningForm>> lining_forms = {
    {"come away", LiningForm::come_away},
    {"discoloured", LiningForm::discoloured},
    {"poor end", LiningForm::poor_end},
    {"wrinkled", LiningForm::wrinkled},
    {"bulging in", LiningForm::bulging_in},
    {"bulging out", LiningForm::bulging_out},
    {"film off", LiningForm::film_off},
    {"seam off", LiningForm::seam_off},
    {"cracked", LiningForm::cracked},
    {"holed", LiningForm::holed},
    {"poor joint", LiningForm::poor_joint},
    {"soft", LiningForm::soft},
    {"resin missing", LiningForm::resin_missing},
    {"end open", LiningForm::end_open}};

/// What cannot be where a lining covers the wall: it comes through the wall, or sticks to it.
std::string not_under_lining(const FaultKind& kind) {
  if (std::holds_alternative<Roots>(kind)) return "roots do not come through a lining";
  if (std::holds_alternative<Infiltration>(kind)) return "water does not come through a lining";
  if (std::holds_alternative<SoilIngress>(kind)) return "soil does not come through a lining";
  if (std::holds_alternative<SealingRing>(kind)) return "a ring does not hang in through a lining";
  if (std::holds_alternative<BrickDamage>(kind)) return "bricks do not move behind a lining";
  if (std::holds_alternative<BrokenWall>(kind))
    return "broken pieces of wall do not stand in through a lining";
  if (const auto* obstacle = std::get_if<Obstacle>(&kind);
      obstacle && (obstacle->form == ObstacleForm::in_joint || obstacle->form == ObstacleForm::through_wall))
    return "what comes through the wall does not come through a lining";
  const auto* repair = std::get_if<Repair>(&kind);
  if (repair && repair->form != RepairForm::pipe_replaced)
    return "what was mended there cannot be drawn under a lining yet";
  if (std::holds_alternative<Attached>(kind)) return "what sticks to a lining cannot be drawn yet";
  return {};
}

}  // namespace

std::optional<FaultKind> lining_fault(const std::string& kind, const Json& in) {
  if (kind == "short lining")
    return ShortLining{number(in, "from_m"), number(in, "to_m"), number(in, "thickness_mm", 4),
                       text(in, "finish") == "glass" ? LiningFinish::glass : LiningFinish::felt};
  if (kind == "lining defect")
    return LiningDefect{
        number(in, "from_m"),
        number(in, "to_m"),
        arc(in),
        pick(text(in, "form"), lining_forms, LiningForm::wrinkled),
        pick(text(in, "direction"),
             {{"round", FoldWay::around}, {"several", FoldWay::several}, {"spiral", FoldWay::spiral}},
             FoldWay::along),
        number(in, "percent", 0),
        number(in, "width_mm", 0)};
  return std::nullopt;
}

void Sense::check(const ShortLining& lining) {
  stretch(at_, "short lining", lining.from_m, lining.to_m);
  if (!sections_known_ || !on_run(lining.from_m) || !on_run(lining.to_m) || lining.to_m <= lining.from_m)
    return;
  const Section* section = section_of((lining.from_m + lining.to_m) / 2);
  if (section && lining.thickness_mm > most_of_bore * section->bore_mm)
    say(at_ + "/thickness_mm", "a lining of " + show(lining.thickness_mm) + " mm is too thick for this bore",
        "at most " + show(most_of_bore * section->bore_mm) + " mm");
  if (section && lining.to_m - lining.from_m < section->bore_mm / 1000 - 1e-9)
    say(at_ + "/to_m", "a lining so short would not hold",
        "at least one bore, " + show(section->bore_mm) + " mm");
  if (section && section->to_m < lining.to_m - 1e-9)
    say(at_ + "/to_m", "the pipe changes at " + metres(section->to_m) + ", within the short lining",
        "a lining on either side of the change");
  for (int other = 1; other <= static_cast<int>(scenario_.faults.size()); ++other) {
    const Fault& there = scenario_.faults[static_cast<std::size_t>(other - 1)];
    const Stretch reach = stretch_of(there);
    if (other == number_ || !(reach.from_m < lining.to_m && reach.to_m > lining.from_m)) continue;
    if (std::holds_alternative<ShortLining>(there.kind)) {
      if (other > number_)
        say(there.pointer,
            "the pipe is lined here already, from " + metres(lining.from_m) + " to " + metres(lining.to_m),
            "linings that do not overlap");
    } else if (const std::string why = not_under_lining(there.kind); !why.empty()) {
      say(there.pointer,
          why + ", and the pipe is lined from " + metres(lining.from_m) + " to " + metres(lining.to_m),
          "it, or the lining, elsewhere");
    }
  }
}

void Sense::check(const LiningDefect& defect) {
  stretch(at_, "lining defect", defect.from_m, defect.to_m);
  if (!sections_known_ || !on_run(defect.from_m) || !on_run(defect.to_m) || defect.to_m <= defect.from_m)
    return;
  const double middle_m = (defect.from_m + defect.to_m) / 2;
  const std::optional<Lined> lining = lining_over(scenario_, middle_m);
  if (!lining)
    return say(at_, "nothing is lined at " + metres(middle_m),
               "a place within a section of liner, or within a short lining: say \"kind\": \"short lining\" "
               "for it first");
  if (defect.from_m < lining->from_m - 1e-9 || defect.to_m > lining->to_m + 1e-9)
    return say(at_ + (defect.from_m < lining->from_m ? "/from_m" : "/to_m"),
               "the lining reaches from " + metres(lining->from_m) + " to " + metres(lining->to_m) + " only",
               "a place within it");
  const bool at_end = std::min(defect.from_m - lining->from_m, lining->to_m - defect.to_m) <= end_reach_m;
  if (is_at_end(defect.form) && !at_end)
    say(at_,
        "this can be only where the lining ends, at " + metres(lining->from_m) + " or " +
            metres(lining->to_m),
        "from_m or to_m at an end of the lining");
  const bool needs_width = defect.form == LiningForm::cracked || defect.form == LiningForm::end_open;
  const bool may_width = needs_width || defect.form == LiningForm::bulging_out;
  if (takes_area(defect.form) && !(defect.percent > 0))
    say(at_, "how much of the bore it takes is not said", "percent: more than 0");
  if (!takes_area(defect.form) && defect.percent > 0)
    say(at_ + "/percent", "this takes nothing of the bore", "no percent for this form");
  if (needs_width && !(defect.width_mm > 0))
    say(at_, "how far it is open is not said", "width_mm: more than 0");
  if (!may_width && defect.width_mm > 0)
    say(at_ + "/width_mm", "this has no opening", "no width_mm for this form");
  if (defect.form == LiningForm::bulging_out)
    for (const JointPlace& there : joints_)
      if (there.at_m > defect.from_m && there.at_m < defect.to_m) {
        warn(at_, "the lining bulges out over the joint at " + metres(there.at_m), "a place between joints");
        break;
      }
  const double width_h = base::arc_width_h(defect.arc);
  if (defect.form == LiningForm::seam_off) {
    for (const Fault& fault : scenario_.faults)
      if (const auto* other = std::get_if<LiningDefect>(&fault.kind);
          other && other != &defect && other->form == defect.form && fault.pointer < at_ &&
          other->from_m >= lining->from_m && other->to_m <= lining->to_m && other->arc != defect.arc)
        say(at_ + "/clock", "the seam of this lining is said to be at another clock too",
            "the same clock as in " + fault.pointer);
    if (defect.arc.whole || width_h != 0)
      say(at_ + (defect.arc.whole ? "" : "/clock"), "a seam runs along the pipe at one place",
          "clock: one hour");
  } else if (!defect.arc.whole && width_h == 0) {
    say(at_ + "/clock", "a defect of the lining covers an arc",
        "[from, to], or nothing for the whole way round");
  }
  const bool of_one_side = defect.form == LiningForm::bulging_in || defect.form == LiningForm::bulging_out ||
                           defect.form == LiningForm::holed;
  if (of_one_side && (defect.arc.whole || width_h > 6))
    say(at_ + (defect.arc.whole ? "" : "/clock"), "this is on one side of the pipe",
        "clock: [from, to], at most 6 hours");
  // More would be pressed flat against the other side.
  const double most = defect.form == LiningForm::wrinkled     ? 35
                      : defect.form == LiningForm::bulging_in ? 60
                                                              : 75;
  if (takes_area(defect.form) && defect.percent > most)
    say(at_ + "/percent", "more than such a defect can take of a round bore", "at most " + show(most) + " %");
}

}  // namespace haunch::scenario
