// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later.
#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::Connection& connection) {
  const char* fitting = "A";
  std::string reason = "a connection of " + show(whole(connection.bore_mm)) + " mm, ";
  switch (connection.fitting) {
    case scene::Fitting::branch:
      reason += "a made branch piece -> BCA A";
      break;
    case scene::Fitting::saddle:
      fitting = "B";
      reason += "a saddle over a drilled hole -> BCA B";
      break;
    case scene::Fitting::cut_in:
      // Cut by hand, so chiselled (E) rather than drilled (D). Ours.
      fitting = "E";
      reason += "put into a hole cut by hand without a fitting -> BCA E";
      break;
  }
  auto made = line("BCA", fitting, connection.closed ? "B" : "A");
  made.q1 = whole(connection.bore_mm);
  made.clock_from = base::nearest_hour(connection.clock_h);
  add(made, reason + (connection.closed ? "; closed -> B" : "; open -> A"));
  const double reaches_in = whole(connection.intrudes_percent);
  if (reaches_in <= 0) return;
  auto intruding = line("BAG", "");
  intruding.q1 = reaches_in;
  intruding.clock_from = made.clock_from;
  add(intruding, "it reaches in by " + show(reaches_in) + " % of the bore -> BAG");
}

}  // namespace haunch::truth
