// SPDX-License-Identifier: Apache-2.0
#include "truth/codes.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace haunch::truth {

double whole(double value) { return std::round(value); }

void set_arc(coding::Observation& line, const base::ClockArc& arc) {
  if (arc.whole) {
    line.clock_from = line.clock_to = 12;
    return;
  }
  const int from = base::nearest_hour(arc.from_h), to = base::nearest_hour(arc.to_h);
  line.clock_from = from;
  if (from != to || base::arc_width_h(arc) > 6) line.clock_to = to;
}

void set_span(coding::Observation& line, double centre_h, double half_h) {
  line.clock_from = base::nearest_hour(std::floor(centre_h - half_h + 1e-9));
  line.clock_to = base::nearest_hour(std::ceil(centre_h + half_h - 1e-9));
}

coding::Observation line(const char* code, const char* ch1, const char* ch2) {
  coding::Observation made;
  made.code = code;
  made.ch1 = ch1;
  made.ch2 = ch2;
  return made;
}

Codes::Codes(const scene::Scene& scene, int number, const Rules& rules, base::LengthUnit words)
    : scene_(scene), rules_(rules), number_(number), words_(words) {
  reach_ = scene::stretch_of(fault());
}

std::vector<Finding> Codes::all() {
  std::visit([this](const auto& kind) { code(kind); }, fault().kind);
  return std::move(findings_);
}

bool Codes::near_joint(double z) const {
  return std::any_of(scene_.joints.begin(), scene_.joints.end(), [&](const scene::Joint& joint) {
    return std::abs(joint.at_m - z) <= rules_.at_joint_within_m + 1e-9;
  });
}

Finding& Codes::add(coding::Observation made, std::string reason) {
  made.reason = std::move(reason);
  Finding finding;
  finding.line = std::move(made);
  finding.fault = number_;
  finding.from_m = reach_.from_m;
  finding.to_m = reach_.to_m;
  findings_.push_back(std::move(finding));
  return findings_.back();
}

void Codes::add_long(coding::Observation made, std::string reason) {
  Finding& finding = add(std::move(made), std::move(reason));
  const double length = length_written(reach_.from_m, reach_.to_m);
  finding.continuous = length > rules_.point_up_to_m + 1e-9;
  if (finding.continuous)
    finding.line.reason += "; " + show_length(length, words_) + " long, more than " +
                           show_length(rules_.point_up_to_m, words_) + ": a stretch";
  else
    finding.from_m = finding.to_m = (reach_.from_m + reach_.to_m) / 2.0;
}

void Codes::add_joint(coding::Observation made, std::string reason) {
  made.at_joint = true;
  Finding& finding = add(std::move(made), std::move(reason));
  for (const scene::Joint& joint : scene_.joints) {
    if (std::find(joint.faults.begin(), joint.faults.end(), number_) != joint.faults.end())
      finding.from_m = finding.to_m = joint.at_m;
  }
}

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
