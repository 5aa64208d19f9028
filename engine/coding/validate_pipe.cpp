// SPDX-License-Identifier: Apache-2.0
// What a row says, held against the pipe it is in. Ours throughout: a warning that a person can check,
// never a refusal.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"

namespace haunch::coding {
namespace {

/// Ours: no socket holds together at such an angle.
constexpr double widest_joint_angle_degrees = 20;
/// Ours: a crack or break this near belongs to the same place.
constexpr double same_place_m = 1.0;

bool says_which(const Named* material) {
  return material != nullptr && material->code != "AZ" && material->code != "Z";
}

std::string shown_material(const CodeList& list, const std::string& code) {
  const Named* known = list.material(code);
  return known == nullptr ? code : code + " (" + known->name + ")";
}

double size_or_zero(const Number& number) { return std::max(0.0, number.value.value_or(0)); }

/// The material of a change: its letters, or the first word of the remark, where readers look as well.
std::string new_material(const Observation& one, const CodeList& list) {
  if (!one.ch1.empty()) return one.ch1;
  const std::string remark = base::trim(one.remark);
  const std::string word = remark.substr(0, remark.find_first_of(" ,;:"));
  return list.material(word) == nullptr ? std::string() : word;
}

void change_material(RemarksOn& remarks, std::size_t i, PipeHere& pipe) {
  const std::string material = new_material(remarks.record.observations[i], remarks.list);
  if (material.empty())
    remarks.row(Rule::material_unsaid, i, "it does not say to which material",
                "the letters of a material, AA to AZ or Z, as characterisation 1", {}, Solid::memory);
  else if (material == pipe.material && says_which(remarks.list.material(material)))
    remarks.row(Rule::same_material, i,
                "the pipe changes to " + shown_material(remarks.list, material) + ", which it is already",
                "another material, or another one before it (header ACD or an earlier AED)");
  pipe.material = remarks.list.material(material) == nullptr ? std::string() : material;
}

void check_shape(RemarksOn& remarks, std::size_t i, const std::string& shape, double height, double width) {
  if (shape == "A" && height > 0 && width > 0 && std::abs(height - width) > 1)
    remarks.row(Rule::shape_sizes, i,
                "a circular pipe is " + base::show_number(height) + " mm high and " +
                    base::show_number(width) + " mm wide",
                "one size, or another shape");
}

void change_shape(RemarksOn& remarks, std::size_t i, PipeHere& pipe) {
  const Observation& one = remarks.record.observations[i];
  const double height = size_or_zero(one.q1), width = one.q2.value ? size_or_zero(one.q2) : height;
  // An old height without a width is that of a round pipe.
  const double old_width = pipe.width_mm > 0 ? pipe.width_mm : pipe.height_mm;
  if (one.ch1 == pipe.shape && !one.ch1.empty() && height > 0 && height == pipe.height_mm &&
      width == old_width)
    remarks.row(Rule::same_shape, i, "the pipe changes to the shape and size that it has already",
                "another shape or size, or another one before it (header ACA, ACB, ACC or an earlier AEC)");
  check_shape(remarks, i, one.ch1, height, width);
  pipe.shape = one.ch1;
  pipe.height_mm = height;
  pipe.width_mm = width;
}

void check_material(RemarksOn& remarks, std::size_t i, const CodeEntry& entry, const PipeHere& pipe) {
  const Observation& one = remarks.record.observations[i];
  const Named* material = remarks.list.material(pipe.material);
  // What a lining hides is not the pipe's own surface.
  if (!says_which(material) || pipe.lined) return;
  auto made_of = entry.made_of.find(one.ch1);
  if (made_of == entry.made_of.end()) made_of = entry.made_of.find("");
  if (made_of != entry.made_of.end() &&
      std::find(made_of->second.begin(), made_of->second.end(), pipe.material) == made_of->second.end()) {
    std::vector<std::string> names;
    for (const std::string& code : made_of->second)
      if (const Named* known = remarks.list.material(code)) names.push_back(base::lower(known->name));
    remarks.row(Rule::material_fault, i,
                "the pipe is " + shown_material(remarks.list, pipe.material) + " here",
                "a pipe of " + base::join(names, ", ") + ", or a change of material (AED) before it");
  }
  if (entry.role != Role::deformed || material->stiffness != "rigid" || !one.distance_m.value) return;
  const auto& all = remarks.record.observations;
  const bool broken = std::any_of(all.begin(), all.end(), [&](const Observation& other) {
    return other.distance_m.value &&
           std::abs(*other.distance_m.value - *one.distance_m.value) <= same_place_m &&
           (other.code == "BAB" || other.code == "BAC");
  });
  if (!broken)
    remarks.row(Rule::rigid_deformed, i,
                "a pipe of " + shown_material(remarks.list, pipe.material) +
                    " changes shape only when it breaks, and no crack or break is recorded here",
                "BAB or BAC as well (stiffness from memory)", {}, Solid::memory);
}

void check_size(RemarksOn& remarks, std::size_t i, const CodeEntry& entry,
                const std::optional<QuantityRule>& rule, const Number& size, const PipeHere& pipe) {
  const Observation& one = remarks.record.observations[i];
  if (!rule || !size.value || rule->within.empty()) return;
  // Most sizes are small.
  if (*size.value <= widest_joint_angle_degrees && *size.value <= pipe.bore_mm()) return;
  const std::string& unit = rule->unit_for(one.ch1);
  if (entry.role == Role::joint && unit == "degree" && *size.value > widest_joint_angle_degrees &&
      *size.value <= 90)
    remarks.row(Rule::joint_angle, i,
                "quantification 1 is " + size.show() + " degrees, more than a joint can bend",
                "degrees, not mm or %", {}, Solid::memory);
  if (unit != "mm" || *size.value > widest_pipe_mm) return;
  const std::string& says = rule->says_for(one.ch1);
  if (rule->within == "bore" && pipe.bore_mm() > 0 && *size.value > pipe.bore_mm())
    remarks.row(entry.role == Role::connection ? Rule::connection_over_bore : Rule::size_over_bore, i,
                size.show() + " mm" + (says.empty() ? "" : ' ' + says) + " in a pipe of " +
                    base::show_number(pipe.bore_mm()) + " mm",
                rule->meaning + ", at most the bore", {}, rule->solid);
  const auto& length_m = remarks.length_m;
  if (rule->within == "length" && length_m && *size.value > *length_m * 1000)
    remarks.row(Rule::size_over_length, i,
                size.show() + " mm long in a pipe of " + base::show_number(*length_m) + " m",
                rule->meaning + ", at most the length in the header (ABQ)", {}, rule->solid);
}

}  // namespace

PipeHere pipe_at_start(const Record& record, const CodeList& list) {
  PipeHere pipe;
  for (const HeaderField& field : record.header) {
    double number = 0;
    if (field.code == "ACA") pipe.shape = base::trim(field.value);
    if (field.code == "ACD" && list.material(base::trim(field.value)) != nullptr)
      pipe.material = base::trim(field.value);
    if ((field.code == "ACE" || field.code == "ACF") && !base::trim(field.value).empty()) pipe.lined = true;
    if (field.code != "ACB" && field.code != "ACC") continue;
    if (!base::read_number(base::trim(field.value), number) || number > widest_pipe_mm) continue;
    (field.code == "ACB" ? pipe.height_mm : pipe.width_mm) = std::max(0.0, number);
  }
  return pipe;
}

void check_against_pipe(RemarksOn& remarks, std::size_t i, const CodeEntry& entry, PipeHere& pipe) {
  const Observation& one = remarks.record.observations[i];
  if (entry.role == Role::material) return change_material(remarks, i, pipe);
  if (entry.role == Role::shape) return change_shape(remarks, i, pipe);
  if (entry.role == Role::lining) pipe.lined = true;
  if (!entry.made_of.empty() || entry.role == Role::deformed) check_material(remarks, i, entry, pipe);
  remarks.quantification = 1;
  check_size(remarks, i, entry, entry.q1, one.q1, pipe);
  remarks.quantification = 2;
  check_size(remarks, i, entry, entry.q2, one.q2, pipe);
  remarks.quantification = 0;
}

}  // namespace haunch::coding
