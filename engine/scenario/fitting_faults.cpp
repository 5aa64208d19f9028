// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/materials.hpp"
#include "scene/water.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

/// Nothing is the whole way round.
base::ClockArc rim_arc(const Json& in, const char* key) {
  const Json& hours = child(in, key);
  if (count(hours) != 2 || !item(hours, 0).is_number() || !item(hours, 1).is_number()) return {12, 12, true};
  const base::ClockArc arc{item(hours, 0).get<double>(), item(hours, 1).get<double>(), false};
  return {arc.from_h, arc.to_h, arc.from_h == 12 && arc.to_h == 12};
}

Connection connection(const Json& in) {
  Connection out;
  out.at_m = number(in, "at_m");
  out.clock_h = number(in, "clock");
  out.bore_mm = number(in, "bore_mm");
  out.fitting = pick(text(in, "fitting"),
                     {{"branch", Fitting::branch},
                      {"saddle", Fitting::saddle},
                      {"cut-in", Fitting::cut_in},
                      {"saddle chiselled", Fitting::saddle_chiselled},
                      {"drilled-in", Fitting::drilled_in},
                      {"bricked-in", Fitting::bricked_in},
                      {"hose", Fitting::hose}},
                     Fitting::branch);
  out.intrudes_percent = number(in, "intrudes_percent", 0);
  out.closed = flag(in, "closed");
  out.stop = pick(text(in, "stop"), {{"plug", Stop::plug}, {"bricks", Stop::bricks}}, Stop::cap);
  out.set_back_mm = number(in, "set_back_mm", 0);
  out.gap_mm = number(in, "gap_mm", 0);
  out.gap_arc = rim_arc(in, "gap_clock");
  out.void_behind = text(in, "behind") == "void";
  out.broken_mm = number(in, "broken_mm", 0);
  out.broken_arc = rim_arc(in, "broken_clock");
  out.blocked_percent = number(in, "blocked_percent", 0);
  out.filling = pick(text(in, "blocked_by"),
                     {{"rubble", Filling::rubble}, {"mortar", Filling::mortar}, {"roots", Filling::roots}},
                     Filling::silt);
  out.flow_l_s = number(in, "flow_l_s", 0);
  out.look = pick(text(in, "water"),
                  {{"cloudy", IncomingLook::cloudy},
                   {"coloured", IncomingLook::coloured},
                   {"cloudy and coloured", IncomingLook::cloudy_and_coloured}},
                  IncomingLook::clear);
  out.brings = pick(text(in, "brings"), {{"foul", Brings::foul}, {"surface water", Brings::surface_water}},
                    Brings::unsaid);
  out.gradient_percent = number(in, "gradient_percent", out.gradient_percent);
  return out;
}

}  // namespace

std::optional<FaultKind> fitting_fault(const std::string& kind, const Json& in) {
  if (kind == "connection") return connection(in);
  return std::nullopt;
}

void Sense::check(const Connection& connection) {
  inside(at_ + "/at_m", "the connection", connection.at_m);
  if (!on_run(connection.at_m)) return;
  const Section* section = section_of(connection.at_m);
  if (section && connection.bore_mm > section->bore_mm)
    say(at_ + "/bore_mm",
        "a connection of " + show(connection.bore_mm) + " mm is wider than the pipe it joins",
        "at most " + show(section->bore_mm) + " mm");
  const double half = connection.bore_mm / 2000.0;
  if (connection.at_m - half < 0 || connection.at_m + half > scenario_.length_m)
    say(at_ + "/at_m", "the connection's mouth reaches past the end of the pipe",
        "from " + metres(half) + " to " + metres(scenario_.length_m - half));
  clear_of_joints("connection", connection.at_m, half);
  defects(connection);
}

void Sense::defects(const Connection& connection) {
  const bool loose = is_loose_pipe(connection.fitting);
  for (const auto& [key, size, what] : {std::tuple{"/set_back_mm", connection.set_back_mm, "slides back"},
                                        std::tuple{"/gap_mm", connection.gap_mm, "has a gap about it"}})
    if (size > 0 && !loose)
      say(at_ + key,
          std::string("no pipe of its own ") + what +
              ": a made branch is one with the wall, and so is a saddle",
          "fitting: cut-in, drilled-in, bricked-in or hose");
  if (connection.set_back_mm > 0 && connection.intrudes_percent > 0)
    say(at_ + "/set_back_mm", "it cannot lie behind the wall and reach in", "either of them");
  for (const auto& [key, size, arc] : {std::tuple{"gap", connection.gap_mm, connection.gap_arc},
                                       std::tuple{"broken", connection.broken_mm, connection.broken_arc}}) {
    const std::string clock = at_ + "/" + key + "_clock";
    if (!arc.whole && base::arc_width_h(arc) < 1)
      say(clock, "too short an arc of the rim to be seen", "[from, to], at least an hour apart");
    if (!arc.whole && !(size > 0))
      say(clock, "an arc of nothing",
          std::string(key) + "_mm: how far it is " + (key[0] == 'g' ? "open" : "broken"));
  }
  if (loose && connection.broken_mm > 0 && connection.intrudes_percent > 0)
    if (const Section* section = section_of(connection.at_m);
        section && connection.broken_mm > connection.intrudes_percent / 100 * section->bore_mm)
      say(at_ + "/broken_mm", "its end cannot be broken deeper than it reaches in",
          "at most " + show(connection.intrudes_percent / 100 * section->bore_mm) + " mm");
  if (connection.closed && connection.blocked_percent > 0)
    say(at_ + "/blocked_percent", "it is closed on purpose: what blocks it is not seen",
        "closed, or blocked");
  if (connection.flow_l_s > 0) {
    if (connection.closed || connection.blocked_percent >= 100)
      say(at_ + "/flow_l_s", "nothing runs in where it is closed or filled",
          "an open connection, or no flow");
    const double slope = connection.gradient_percent / 100;
    const double most =
        1000 * full_flow_m3_s(connection.bore_mm / 1000, slope, manning_n(Material::concrete));
    if (slope > 0 && connection.flow_l_s > most)
      say(at_ + "/flow_l_s",
          show(connection.flow_l_s) + " l/s is more than a pipe of " + show(connection.bore_mm) +
              " mm carries at a fall of " + show(connection.gradient_percent) + " %",
          "at most " + show(std::floor(100 * most) / 100) + " l/s");
  } else if (connection.brings != Brings::unsaid || connection.look != IncomingLook::clear) {
    say(at_ + (connection.brings != Brings::unsaid ? "/brings" : "/water"), "it brings nothing",
        "flow_l_s: how much runs in");
  }
  if (connection.stop != Stop::cap && !connection.closed)
    say(at_ + "/stop", "what closes it, and it is not closed", "closed: true");
}

}  // namespace haunch::scenario
