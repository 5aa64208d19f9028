// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

Connection connection(const Json& in) {
  Connection out;
  out.at_m = number(in, "at_m");
  out.clock_h = number(in, "clock");
  out.bore_mm = number(in, "bore_mm");
  out.fitting = pick(text(in, "fitting"),
                     {{"branch", Fitting::branch}, {"saddle", Fitting::saddle}, {"cut-in", Fitting::cut_in}},
                     Fitting::branch);
  out.intrudes_percent = number(in, "intrudes_percent", 0);
  out.closed = flag(in, "closed");
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
}

}  // namespace haunch::scenario
