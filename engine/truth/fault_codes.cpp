// SPDX-License-Identifier: Apache-2.0
// From a fault's measures to its codes, each with the reason. Clocks here look downstream.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "base/words.hpp"
#include "truth/finding.hpp"

namespace haunch::truth {
namespace {

double whole(double value) { return std::round(value); }

/// Whole hours of an arc: nearest, so that turning round mirrors them; one hour where they meet.
void set_arc(coding::Observation& line, const base::ClockArc& arc) {
  if (arc.whole) {
    line.clock_from = line.clock_to = 12;
    return;
  }
  const int from = base::nearest_hour(arc.from_h), to = base::nearest_hour(arc.to_h);
  line.clock_from = from;
  if (from != to || base::arc_width_h(arc) > 6) line.clock_to = to;
}

/// Whole hours that an opening lies between.
void set_span(coding::Observation& line, double centre_h, double half_h) {
  line.clock_from = base::nearest_hour(std::floor(centre_h - half_h + 1e-9));
  line.clock_to = base::nearest_hour(std::ceil(centre_h + half_h - 1e-9));
}

class Codes {
 public:
  Codes(const scene::Scene& scene, int number, const Rules& rules, base::LengthUnit words)
      : scene_(scene), rules_(rules), number_(number), words_(words) {
    reach_ = scene::stretch_of(fault());
  }

  std::vector<Finding> all() {
    std::visit([this](const auto& kind) { code(kind); }, fault().kind);
    return std::move(findings_);
  }

 private:
  const scene::Fault& fault() const { return scene_.scenario.faults[static_cast<std::size_t>(number_ - 1)]; }

  static coding::Observation line(const char* code, const char* ch1, const char* ch2 = "") {
    coding::Observation made;
    made.code = code;
    made.ch1 = ch1;
    made.ch2 = ch2;
    return made;
  }

  bool near_joint(double z) const {
    return std::any_of(scene_.joints.begin(), scene_.joints.end(), [&](const scene::Joint& joint) {
      return std::abs(joint.at_m - z) <= rules_.at_joint_within_m + 1e-9;
    });
  }

  Finding& add(coding::Observation made, std::string reason) {
    made.reason = std::move(reason);
    Finding finding;
    finding.line = std::move(made);
    finding.fault = number_;
    finding.from_m = reach_.from_m;
    finding.to_m = reach_.to_m;
    findings_.push_back(std::move(finding));
    return findings_.back();
  }

  /// A point in its middle, or a stretch with a begin and an end.
  void add_long(coding::Observation made, std::string reason) {
    Finding& finding = add(std::move(made), std::move(reason));
    const double length = length_written(reach_.from_m, reach_.to_m);
    finding.continuous = length > rules_.point_up_to_m + 1e-9;
    if (finding.continuous)
      finding.line.reason += "; " + show_length(length, words_) + " long, more than " +
                             show_length(rules_.point_up_to_m, words_) + ": a stretch";
    else
      finding.from_m = finding.to_m = (reach_.from_m + reach_.to_m) / 2.0;
  }

  /// A displaced joint stands where the joint is built.
  void add_joint(coding::Observation made, std::string reason) {
    made.at_joint = true;
    Finding& finding = add(std::move(made), std::move(reason));
    for (const scene::Joint& joint : scene_.joints) {
      if (std::find(joint.faults.begin(), joint.faults.end(), number_) != joint.faults.end())
        finding.from_m = finding.to_m = joint.at_m;
    }
  }

  void code(const scene::JointGap& gap) {
    const double apart = whole(gap.gap_mm);
    if (apart < rules_.joint_gap_from_mm) return;
    auto made = line("BAJ", "A");
    made.q1 = apart;
    add_joint(made, "the units stand " + show(apart) + " mm apart, at least " +
                        show(rules_.joint_gap_from_mm) + " mm: displaced joint, lengthways -> BAJ A");
  }

  void code(const scene::JointShift& shift) {
    const double offset = whole(shift.offset_mm);
    if (offset < rules_.joint_shift_from_mm) return;
    auto made = line("BAJ", "B");
    made.q1 = offset;
    made.clock_from = base::nearest_hour(shift.toward_clock_h);
    // The clock is that of the downstream unit whichever way one looks, so that both directions
    // agree on the same joint (ours); looking upstream that is the pipe the camera is still in.
    const bool ahead = scene::travel(scene_.scenario) > 0;
    add_joint(made, std::string(ahead ? "the unit ahead stands " : "the unit the camera is in stands ") +
                        show(offset) + " mm out of line, at least " + show(rules_.joint_shift_from_mm) +
                        " mm: displaced joint, radial -> BAJ B; its clock is the downstream unit's" +
                        (ahead ? ", the one ahead" : ", so the unit ahead looks moved the other way"));
  }

  void code(const scene::JointBend& bend) {
    const double angle = whole(bend.angle_deg);
    if (angle < rules_.joint_bend_from_deg) return;
    auto made = line("BAJ", "C");
    made.q1 = angle;
    made.clock_from = base::nearest_hour(bend.toward_clock_h);
    add_joint(made, "the line bends by " + show(angle) + " degrees at the joint, at least " +
                        show(rules_.joint_bend_from_deg) + ": displaced joint, angular -> BAJ C");
  }

  void code(const scene::Crack& crack) {
    // Tenths: a crack of 0.6 mm is not one of 1 mm.
    const double width = std::round(crack.width_mm * 10.0) / 10.0;
    const bool open = width >= rules_.fracture_from_mm;
    const bool hairline = width < rules_.crack_opens_mm;
    std::string reason;
    if (hairline)
      reason = "opens " + show(width) + " mm, under " + show(rules_.crack_opens_mm) + " mm: a hairline -> A";
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
    }
    auto made = line("BAB", hairline ? "A" : (open ? "C" : "B"), form);
    if (!hairline) made.q1 = width;
    set_arc(made, crack.arc);
    made.at_joint = near_joint((reach_.from_m + reach_.to_m) / 2.0) &&
                    length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9;
    add_long(made, reason);
  }

  void code(const scene::Hole& hole) {
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
    auto behind = line("BAO", "");
    behind.clock_from = made.clock_from;
    behind.clock_to = made.clock_to;
    behind.at_joint = made.at_joint;
    add(behind, hole.behind == scene::Behind::soil
                    ? std::string("soil shows through the hole -> BAO")
                    : std::string("bedding stone shows through the hole; it counts as soil visible -> BAO"));
  }

  void code(const scene::Roots& roots) {
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

  void code(const scene::Settled& settled) {
    const char* form = settled.kind == scene::SettledKind::fine     ? "A"
                       : settled.kind == scene::SettledKind::coarse ? "B"
                                                                    : "C";
    const std::string what = settled.kind == scene::SettledKind::fine     ? "fine"
                             : settled.kind == scene::SettledKind::coarse ? "coarse"
                                                                          : "hard";
    auto made = line("BBC", form);
    made.q1 = whole(settled.depth_percent);
    add_long(made, what + " deposit on the invert -> BBC " + form + "; " +
                       show_percent(settled.depth_percent) + " % of the bore's height at its deepest (" +
                       show(100.0 * scene::area_share(whole(settled.depth_percent) / 100.0)) +
                       " % of its area)");
  }

  void code(const scene::Attached& attached) {
    const char* form = attached.kind == scene::AttachedKind::scale    ? "A"
                       : attached.kind == scene::AttachedKind::grease ? "B"
                                                                      : "C";
    auto made = line("BBB", form);
    made.q1 = whole(attached.covers_percent);
    set_arc(made, attached.arc);
    add_long(made, scene::kind_word(fault()) + " on the wall -> BBB " + form + "; takes " +
                       show_percent(attached.covers_percent) + " % of the bore's area at its thickest");
  }

  void code(const scene::Connection& connection) {
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

  const scene::Scene& scene_;
  const Rules& rules_;
  int number_;
  base::LengthUnit words_;
  scene::Stretch reach_;
  std::vector<Finding> findings_;
};

}  // namespace

std::string show(double value) { return base::show_number(std::round(value * 10.0) / 10.0); }

double length_written(double from_m, double to_m) {
  return base::to_centimetre(base::to_centimetre(to_m) - base::to_centimetre(from_m));
}

std::string show_percent(double percent) {
  const double rounded = whole(percent);
  return rounded < 1 ? "less than 1" : base::show_number(rounded);
}

std::string show_length(double metres, base::LengthUnit unit) {
  const double value = std::round(base::from_metres(metres, unit) * 100.0) / 100.0;
  return base::show_number(value) + (unit == base::LengthUnit::feet ? " ft" : " m");
}

std::vector<Finding> findings_of_fault(const scene::Scene& scene, int number, const Rules& rules,
                                       base::LengthUnit words) {
  return Codes(scene, number, rules, words).all();
}

}  // namespace haunch::truth
