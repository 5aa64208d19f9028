// SPDX-License-Identifier: Apache-2.0
// What is in the bore: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/layout.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr double opening_reach_m = 0.1;  // ours: roots, soil and water follow a socket before they show

Roots roots(const Json& in) {
  Roots out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.arc = arc(in);
  out.form = pick(text(in, "form"),
                  {{"tap", RootForm::tap}, {"fine", RootForm::fine}, {"mass", RootForm::mass}}, out.form);
  out.blocks_percent = number(in, "blocks_percent");
  return out;
}

Attached attached(const Json& in, AttachedKind kind) {
  return {number(in, "from_m"), number(in, "to_m"), arc(in), kind, number(in, "covers_percent")};
}

Settled settled(const Json& in) {
  return {number(in, "from_m"), number(in, "to_m"),
          pick(text(in, "form"), {{"coarse", SettledKind::coarse}, {"hard", SettledKind::hard}},
               SettledKind::fine),
          number(in, "depth_percent")};
}

constexpr std::initializer_list<std::pair<const char*, ObstacleForm>> obstacle_forms = {
    {"brick", ObstacleForm::brick},
    {"pipe pieces", ObstacleForm::pipe_pieces},
    {"bottle", ObstacleForm::bottle},
    {"rag", ObstacleForm::rag},
    {"ball", ObstacleForm::ball},
    {"timber", ObstacleForm::timber},
    {"through wall", ObstacleForm::through_wall},
    {"in joint", ObstacleForm::in_joint},
    {"from connection", ObstacleForm::from_connection},
    {"crossing", ObstacleForm::crossing},
    {"built in", ObstacleForm::built_in},
    {"jammed rod", ObstacleForm::jammed}};

Obstacle obstacle(const Json& in) {
  return {number(in, "at_m"), pick(text(in, "form"), obstacle_forms, ObstacleForm::brick), arc(in),
          number(in, "takes_percent")};
}

SoilIngress soil(const Json& in) {
  return {number(in, "at_m"), arc(in),
          pick(text(in, "form"),
               {{"sand", SoilKind::sand},
                {"peat", SoilKind::peat},
                {"fine", SoilKind::fine},
                {"gravel", SoilKind::gravel}},
               SoilKind::fine),
          number(in, "takes_percent")};
}

Infiltration infiltration(const Json& in) {
  return {number(in, "at_m"), arc(in),
          pick(text(in, "form"),
               {{"drips", WaterRate::drips}, {"flows", WaterRate::flows}, {"gushes", WaterRate::gushes}},
               WaterRate::drips)};
}

Vermin vermin(const Json& in) {
  return {number(in, "at_m"), text(in, "form") == "cockroach" ? VerminKind::cockroach : VerminKind::rat,
          number(in, "count", 1),
          pick(text(in, "where"),
               {{"connection", VerminPlace::connection}, {"open joint", VerminPlace::open_joint}},
               VerminPlace::pipe)};
}

/// As much of the bore's area as one can take up and still look like it: ours.
double most_percent(ObstacleForm form) {
  switch (form) {
    case ObstacleForm::brick:
    case ObstacleForm::timber:
      return 45;
    case ObstacleForm::bottle:
    case ObstacleForm::crossing:
      return 60;
    case ObstacleForm::rag:
      return 70;
    case ObstacleForm::ball:
      return 85;
    case ObstacleForm::built_in:
      return 50;
    case ObstacleForm::pipe_pieces:
    case ObstacleForm::through_wall:
    case ObstacleForm::in_joint:
      return 35;
    case ObstacleForm::from_connection:
    case ObstacleForm::jammed:
      break;
  }
  return 25;
}

}  // namespace

std::optional<FaultKind> matter_fault(const std::string& kind, const Json& in) {
  if (kind == "roots") return roots(in);
  if (kind == "deposit") return settled(in);
  if (kind == "grease") return attached(in, AttachedKind::grease);
  if (kind == "scale") return attached(in, AttachedKind::scale);
  if (kind == "fouling") return attached(in, AttachedKind::fouling);
  if (kind == "obstacle") return obstacle(in);
  if (kind == "soil") return soil(in);
  if (kind == "infiltration") return infiltration(in);
  if (kind == "vermin") return vermin(in);
  return std::nullopt;
}

void Sense::check(const Roots& roots) {
  point_or_stretch("roots", roots.from_m, roots.to_m, true);
  opening_for("roots", roots.from_m);
}
void Sense::opening_for(const std::string& thing, double at_m, const std::string& way) {
  if (!sections_known_ || !on_run(at_m)) return;
  // Roots come in where the wall is not whole: Ostberg et al. 2010, Svenskt Vatten Utveckling 2010-04
  // (joints, connections); S. E. Dibble, Elements of Plumbing (cracks, cement joints). So do soil and water.
  const auto near = nearest_joint(joints_, at_m);
  if (near && std::abs(near->at_m - at_m) <= opening_reach_m) return;
  for (const Fault& other : scenario_.faults) {
    const auto* damage = std::get_if<SurfaceDamage>(&other.kind);
    const bool opens =
        (damage && damage->form == DamageForm::wall_gone) || std::holds_alternative<PorousWall>(other.kind) ||
        std::holds_alternative<BrokenWall>(other.kind) || std::holds_alternative<Crack>(other.kind) ||
        std::holds_alternative<Hole>(other.kind) || std::holds_alternative<FailedWeld>(other.kind) ||
        std::holds_alternative<Connection>(other.kind);
    const Stretch reach = stretch_of(other);
    if (opens && at_m >= reach.from_m - opening_reach_m && at_m <= reach.to_m + opening_reach_m) return;
  }
  warn(at_, "there is nothing here for the " + thing + " to " + way,
       near ? "a joint, a crack, a hole or a connection; the nearest joint is at " + metres(near->at_m)
            : "a crack, a hole or a connection");
}
void Sense::check(const Settled& settled) { stretch(at_, "deposit", settled.from_m, settled.to_m); }
void Sense::check(const Attached& attached) {
  stretch(at_, kind_word(fault()), attached.from_m, attached.to_m);
  if (!attached.arc.whole && base::arc_width_h(attached.arc) == 0)
    say(at_ + "/clock", "what sticks to the wall covers an arc",
        "[from, to], or nothing for the whole way round");
}

void Sense::check(const Obstacle& obstacle) {
  inside(at_ + "/at_m", "the obstacle", obstacle.at_m);
  const ObstacleForm form = obstacle.form;
  const bool has_clock = !obstacle.arc.whole;
  if (lies_on_invert(form) || form == ObstacleForm::jammed || form == ObstacleForm::from_connection) {
    if (has_clock)
      say(at_ + "/clock", "its place round the wall follows from what it is",
          "no clock for what lies on the invert, is jammed or comes in by a connection");
  } else if (form == ObstacleForm::crossing) {
    if (!has_clock || base::arc_width_h(obstacle.arc) < 2 || base::arc_width_h(obstacle.arc) > 10)
      say(at_ + (has_clock ? "/clock" : ""),
          "what crosses the bore comes in at one place and goes out at another",
          "clock: [from, to], at least two hours apart");
  } else if (!has_clock || base::arc_width_h(obstacle.arc) != 0) {
    say(at_ + (has_clock ? "/clock" : ""), "it comes in at one place", "clock: one hour");
  }
  if (obstacle.takes_percent > most_percent(form))
    say(at_ + "/takes_percent", "more than such a thing can take up in a round bore",
        "at most " + show(most_percent(form)) + " %");
  if (!sections_known_ || !on_run(obstacle.at_m)) return;
  if (form == ObstacleForm::in_joint) {
    const auto near = nearest_joint(joints_, obstacle.at_m);
    if (!near || std::abs(near->at_m - obstacle.at_m) > joint_reach_m)
      say(at_ + "/at_m", "there is no joint at " + metres(obstacle.at_m) + " for it to be stuck in",
          near ? "a joint; the nearest is at " + metres(near->at_m) : "a pipe of more than one unit");
  }
  if (form == ObstacleForm::from_connection) {
    for (const Fault& other : scenario_.faults)
      if (const auto* by = std::get_if<Connection>(&other.kind);
          by && std::abs(by->at_m - obstacle.at_m) <= by->bore_mm / 2000)
        return;
    say(at_ + "/at_m", "there is no connection at " + metres(obstacle.at_m) + " for it to come in by",
        "the place of a connection");
  }
}

void Sense::check(const SoilIngress& soil) {
  inside(at_ + "/at_m", "the soil", soil.at_m);
  if (soil.arc.whole || base::arc_width_h(soil.arc) != 0)
    say(at_ + (soil.arc.whole ? "" : "/clock"), "soil comes in at one place", "clock: one hour");
  opening_for("soil", soil.at_m);
}
void Sense::check(const Infiltration& water) {
  inside(at_ + "/at_m", "the infiltration", water.at_m);
  if (water.arc.whole || base::arc_width_h(water.arc) != 0)
    say(at_ + (water.arc.whole ? "" : "/clock"), "the water comes in at one place", "clock: one hour");
  const double down = std::abs(std::remainder(water.arc.from_h - 6, 12.0));
  if (water.rate == WaterRate::drips && down < 3)
    say(at_ + "/clock", "water that comes in below mid-height does not drip: nothing falls from there",
        "an hour from 9 over 12 to 3, or form: flows");
  opening_for("water", water.at_m);
}
void Sense::check(const Vermin& vermin) {
  inside(at_ + "/at_m", "the vermin", vermin.at_m);
  if (vermin.count != std::floor(vermin.count)) say(at_ + "/count", "animals are counted", "a whole number");
  if (vermin.place == VerminPlace::pipe) return;
  constexpr double rat_needs_mm = 30, cockroach_needs_mm = 8;  // ours
  const double needs = vermin.kind == VerminKind::rat ? rat_needs_mm : cockroach_needs_mm;
  for (const Fault& other : scenario_.faults) {
    const auto* by = std::get_if<Connection>(&other.kind);
    const auto* gap = std::get_if<JointGap>(&other.kind);
    if (vermin.place == VerminPlace::connection && by && !by->closed &&
        std::abs(by->at_m - vermin.at_m) <= by->bore_mm / 2000)
      return;
    if (vermin.place == VerminPlace::open_joint && gap && gap->gap_mm >= needs &&
        std::abs(gap->at_m - vermin.at_m) <= joint_reach_m)
      return;
  }
  if (vermin.place == VerminPlace::connection)
    say(at_ + "/where", "there is no open connection at " + metres(vermin.at_m),
        "the place of an open connection");
  else
    say(at_ + "/where", "no joint at " + metres(vermin.at_m) + " is open wide enough for it",
        "the place of a joint gap of at least " + show(needs) + " mm");
}

}  // namespace haunch::scenario
