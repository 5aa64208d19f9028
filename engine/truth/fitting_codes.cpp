// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "scene/water_of_run.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

struct Joined {
  const char* letter;
  const char* says;
};
Joined joined_by(scene::Fitting fitting) {
  switch (fitting) {
    case scene::Fitting::branch:
      return {"A", "a made branch piece"};
    case scene::Fitting::saddle:
      return {"B", "a saddle over a drilled hole"};
    case scene::Fitting::saddle_chiselled:
      return {"C", "a saddle over a hole cut by hand, its edge ragged"};
    case scene::Fitting::drilled_in:
      return {"D", "a pipe put into a drilled hole without a fitting, its edge clean and round"};
    case scene::Fitting::cut_in:
      return {"E", "put into a hole cut by hand without a fitting"};
    case scene::Fitting::bricked_in:
      return {"F", "brought in through bricks and mortar: no branch fitting"};
    case scene::Fitting::hose:
      break;
  }
  return {"Z", "a hose put through the wall: none of the other kinds"};
}

const char* closed_by(scene::Stop stop) {
  switch (stop) {
    case scene::Stop::cap:
      return "by a cap";
    case scene::Stop::plug:
      return "by a stopper";
    case scene::Stop::bricks:
      break;
  }
  return "with bricks and mortar";
}

const char* filled_by(scene::Filling filling) {
  switch (filling) {
    case scene::Filling::silt:
      return "silt fills";
    case scene::Filling::rubble:
      return "rubble fills";
    case scene::Filling::mortar:
      return "mortar fills";
    case scene::Filling::roots:
      break;
  }
  return "roots fill";
}

struct Looks {
  const char* letter;
  const char* says;
};
Looks looks_like(scene::IncomingLook look) {
  switch (look) {
    case scene::IncomingLook::clear:
      return {"A", "clear"};
    case scene::IncomingLook::cloudy:
      return {"C", "cloudy"};
    case scene::IncomingLook::coloured:
      return {"D", "coloured"};
    case scene::IncomingLook::cloudy_and_coloured:
      break;
  }
  return {"E", "cloudy and coloured"};
}

}  // namespace

void Codes::code(const scene::Connection& connection) {
  const auto [fitting, says] = joined_by(connection.fitting);
  auto made = line("BCA", fitting, connection.closed ? "B" : "A");
  made.q1 = whole(connection.bore_mm);
  made.clock_from = base::nearest_hour(connection.clock_h);
  add(made, "a connection of " + show(whole(connection.bore_mm)) + " mm, " + says + " -> BCA " + fitting +
                (connection.closed ? std::string("; closed ") + closed_by(connection.stop) + " -> B"
                                   : "; open -> A"));
  if (const double reaches_in = whole(connection.intrudes_percent); reaches_in > 0) {
    auto intruding = line("BAG", "");
    intruding.q1 = reaches_in;
    intruding.clock_from = made.clock_from;
    add(intruding, "it reaches in by " + show(reaches_in) + " % of the bore -> BAG");
  }
  defects(connection, *made.clock_from);
  incoming(connection, *made.clock_from);
}

void Codes::incoming(const scene::Connection& connection, int clock_h) {
  if (connection.flow_l_s <= 0) return;
  const double depth = std::max(1.0, whole(100 * scene::incoming_depth_share(scene_, connection)));
  const auto [look, looks] = looks_like(connection.look);
  const std::string& system = scene_.scenario.system;
  const char* wrong = "C";
  std::string says = "no wrong connection is known";
  if (connection.brings == scene::Brings::foul && system == "surface water")
    wrong = "A", says = "foul water comes into a pipe for surface water";
  if (connection.brings == scene::Brings::surface_water && system == "foul")
    wrong = "B", says = "surface water comes into a pipe for foul water";
  auto made = line("BDE", look, wrong);
  made.q1 = depth;
  made.clock_from = clock_h;
  add(made, base::show_number(std::round(connection.flow_l_s * 100) / 100) + " l/s of " + looks +
                " water runs in -> BDE " + look + "; " + says + " -> " + wrong + "; at a fall of " +
                show(connection.gradient_percent) + " % it stands " + show(depth) +
                " % of the incoming pipe's height deep (Manning)");
}

void Codes::defects(const scene::Connection& connection, int clock_h) {
  const auto defective = [&](const char* form, const std::string& reason) {
    auto made = line("BAH", form);
    made.clock_from = clock_h;
    add(made, reason + " -> BAH " + form);
  };
  const double from_invert = std::round(10 * base::hours_apart(connection.clock_h, 6)) / 10;
  if (from_invert < rules_.connection_low_within_h)
    defective("A", "its middle lies " + show(from_invert) + " hours from the invert, under " +
                       show(rules_.connection_low_within_h) +
                       ": in the wrong place, what flows there stands in it");
  const double set_back = whole(connection.set_back_mm), gap = whole(connection.gap_mm);
  if (set_back >= rules_.connection_set_back_from_mm)
    defective("B", "its end lies " + show(set_back) + " mm behind the wall, at least " +
                       show(rules_.connection_set_back_from_mm) + " mm: set back, the hole stands open");
  if (gap >= rules_.connection_gap_from_mm)
    defective("C", "an open gap of up to " + show(gap) + " mm, at least " +
                       show(rules_.connection_gap_from_mm) +
                       " mm, between it and the wall: not joined in all the way round");
  // Ground shows behind the wall, not within its thickness.
  const scene::Piece& piece =
      scene_.pieces[static_cast<std::size_t>(scene::piece_at(scene_, connection.at_m))];
  const double wall_mm = scene_.scenario.sections[static_cast<std::size_t>(piece.section)].wall_mm;
  const double open = std::max(gap, whole(connection.set_back_mm - wall_mm));
  if (open >= rules_.soil_shows_from_mm) {
    auto behind = line(connection.void_behind ? "BAP" : "BAO", "");
    behind.clock_from = clock_h;
    add(behind,
        connection.void_behind
            ? std::string("nothing but darkness shows beside the connection, the ground is gone -> BAP: "
                          "nobody jets here")
            : "open by " + show(open) + " mm, at least " + show(rules_.soil_shows_from_mm) +
                  " mm: soil shows beside the connection -> BAO");
  }
  if (const double broken = whole(connection.broken_mm); broken >= rules_.connection_broken_from_mm)
    defective("D", "its rim is broken, the deepest piece out of it " + show(broken) + " mm, at least " +
                       show(rules_.connection_broken_from_mm) + " mm: damaged");
  if (const double blocked = whole(connection.blocked_percent);
      blocked >= rules_.connection_blocked_from_percent)
    defective("E", std::string(filled_by(connection.filling)) + " " + show(blocked) +
                       " % of its mouth, at least " + show(rules_.connection_blocked_from_percent) +
                       " %: blocked");
}

}  // namespace haunch::truth
