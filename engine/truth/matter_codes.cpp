// SPDX-License-Identifier: Apache-2.0
// What is in the bore that should not be.
#include "matter/solid.hpp"
#include "scene/water.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

struct Named {
  const char* form;
  const char* what;
};
Named named(scene::ObstacleForm form) {
  switch (form) {
    case scene::ObstacleForm::brick:
      return {"A", "brick lies on the invert"};
    case scene::ObstacleForm::pipe_pieces:
      return {"B", "pieces of pipe lie on the invert"};
    case scene::ObstacleForm::bottle:
      return {"C", "a bottle, an object, lies on the invert"};
    case scene::ObstacleForm::rag:
      return {"C", "cloth, an object, lies on the invert"};
    case scene::ObstacleForm::ball:
      return {"C", "a ball, an object, lies on the invert"};
    case scene::ObstacleForm::timber:
      return {"C", "timber, an object, lies on the invert"};
    case scene::ObstacleForm::through_wall:
      return {"D", "something comes in through the wall"};
    case scene::ObstacleForm::in_joint:
      return {"E", "something is wedged in a joint"};
    case scene::ObstacleForm::from_connection:
      return {"F", "something comes in through a connection"};
    case scene::ObstacleForm::crossing:
      return {"G", "a pipe or cable that is no part of the drain crosses the bore"};
    case scene::ObstacleForm::built_in:
      return {"H", "something is built into the pipe"};
    case scene::ObstacleForm::jammed:
      break;
  }
  return {"Z", "a rod is stuck aslant in the bore: neither on the invert nor through the wall"};
}

/// Common practice where drains are cut and jetted: what it is cannot be told by its colour.
std::string of_gas(scene::ObstacleForm form) {
  if (form == scene::ObstacleForm::crossing)
    return "; it may be a gas pipe or a live cable whatever its colour: nobody cuts or jets, leave it and "
           "call "
           "the gas utility";
  if (form == scene::ObstacleForm::through_wall)
    return "; it may be a gas pipe or a cable: nobody cuts or jets before it is known to be none";
  return {};
}

}  // namespace

void Codes::code(const scene::Roots& roots) {
  const char* form =
      roots.form == scene::RootForm::tap ? "A" : (roots.form == scene::RootForm::fine ? "B" : "C");
  const std::string what = roots.form == scene::RootForm::tap    ? "one thick root"
                           : roots.form == scene::RootForm::fine ? "single fine roots"
                                                                 : "a dense mass of roots";
  auto made = line("BBA", form);
  made.q1 = whole(roots.blocks_percent);
  set_arc(made, roots.arc);
  made.at_joint = near_joint(roots.from_m);
  add_long(made, what + " -> BBA " + form + "; takes " + show_percent(roots.blocks_percent) +
                     " % of the bore's area" + (made.at_joint ? "; comes in at a joint" : ""));
}

void Codes::code(const scene::Settled& settled) {
  const char* form = settled.kind == scene::SettledKind::fine     ? "A"
                     : settled.kind == scene::SettledKind::coarse ? "B"
                                                                  : "C";
  const std::string what = settled.kind == scene::SettledKind::fine     ? "fine"
                           : settled.kind == scene::SettledKind::coarse ? "coarse"
                                                                        : "hard";
  auto made = line("BBC", form);
  made.q1 = whole(settled.depth_percent);
  add_long(made, what + " deposit on the invert -> BBC " + form + "; " + show_percent(settled.depth_percent) +
                     " % of the bore's height at its deepest (" +
                     show(100.0 * scene::area_share(whole(settled.depth_percent) / 100.0)) +
                     " % of its area)");
}

void Codes::code(const scene::Attached& attached) {
  const char* form = attached.kind == scene::AttachedKind::scale    ? "A"
                     : attached.kind == scene::AttachedKind::grease ? "B"
                                                                    : "C";
  auto made = line("BBB", form);
  made.q1 = whole(attached.covers_percent);
  set_arc(made, attached.arc);
  add_long(made, scene::kind_word(fault()) + " on the wall -> BBB " + form + "; takes " +
                     show_percent(attached.covers_percent) + " % of the bore's area at its thickest");
}

void Codes::code(const scene::Obstacle& obstacle) {
  const auto [form, what] = named(obstacle.form);
  auto made = line("BBE", form);
  made.q1 = whole(obstacle.takes_percent);
  const base::ClockArc arc = matter::solid_of(scene_, number_).arc;
  const double half_h = base::arc_width_h(arc) / 2;
  if (obstacle.form == scene::ObstacleForm::crossing || obstacle.form == scene::ObstacleForm::jammed) {
    made.clock_from = base::nearest_hour(arc.from_h);
    made.clock_to = base::nearest_hour(arc.to_h);
  } else {
    set_span(made, arc.from_h + half_h, half_h);
  }
  made.at_joint = near_joint(obstacle.at_m);
  add(made, std::string(what) + " -> BBE " + form + "; takes " + show_percent(obstacle.takes_percent) +
                " % of the bore's area" + of_gas(obstacle.form));
}

void Codes::code(const scene::SoilIngress& soil) {
  const char* form = soil.kind == scene::SoilKind::sand   ? "A"
                     : soil.kind == scene::SoilKind::peat ? "B"
                     : soil.kind == scene::SoilKind::fine ? "C"
                                                          : "D";
  const std::string what = soil.kind == scene::SoilKind::sand   ? "sand"
                           : soil.kind == scene::SoilKind::peat ? "peat"
                           : soil.kind == scene::SoilKind::fine ? "fine soil"
                                                                : "gravel";
  auto made = line("BBD", form);
  made.q1 = whole(soil.takes_percent);
  made.clock_from = base::nearest_hour(soil.arc.from_h);
  made.at_joint = near_joint(soil.at_m);
  add(made, what + " from outside lies in the bore -> BBD " + form + "; takes " +
                show_percent(soil.takes_percent) + " % of the bore's area; its clock is where it comes in");
}

void Codes::code(const scene::Infiltration& water) {
  const char* form = water.rate == scene::WaterRate::drips   ? "B"
                     : water.rate == scene::WaterRate::flows ? "C"
                                                             : "D";
  auto made = line("BBF", form);
  made.clock_from = base::nearest_hour(water.arc.from_h);
  made.at_joint = near_joint(water.at_m);
  add(made, std::string(water.rate == scene::WaterRate::drips   ? "water comes in drop by drop"
                        : water.rate == scene::WaterRate::flows ? "water runs in without a break"
                                                                : "water spurts in under pressure") +
                " -> BBF " + form);
}

void Codes::code(const scene::Vermin& vermin) {
  const bool rat = vermin.kind == scene::VerminKind::rat;
  const char* place = vermin.place == scene::VerminPlace::pipe         ? "A"
                      : vermin.place == scene::VerminPlace::connection ? "B"
                                                                       : "C";
  auto made = line("BBH", rat ? "A" : "B", place);
  made.q1 = whole(vermin.count);
  add(made, show(whole(vermin.count)) +
                (rat ? (vermin.count == 1 ? " rat" : " rats")
                     : (vermin.count == 1 ? " cockroach" : " cockroaches")) +
                " -> BBH " + (rat ? "A" : "B") +
                (vermin.place == scene::VerminPlace::pipe         ? "; in the pipe itself -> A"
                 : vermin.place == scene::VerminPlace::connection ? "; in a connection -> B"
                                                                  : "; in an open joint -> C"));
}

}  // namespace haunch::truth
