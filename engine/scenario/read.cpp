// SPDX-License-Identifier: Apache-2.0
// From a scenario file to values. What has the wrong type is read as NaN; the checks of sense pass over
// that and over what the schema has found wrong, and still see everything else.
#include "scenario/read.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/materials.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values
namespace {

std::optional<FaultKind> fault_kind(const Json& in) {
  const std::string kind = text(in, "kind");
  for (const auto family : {joint_fault, wall_fault, matter_fault, fitting_fault, bore_fault, brick_fault,
                            sight_fault, lining_fault, repair_fault})
    if (auto fault = family(kind, in)) return fault;
  return std::nullopt;
}

Node node(const Json& in) {
  const NodeKind kind = pick(text(in, "kind"),
                             {{"manhole", NodeKind::manhole},
                              {"inspection chamber", NodeKind::inspection_chamber},
                              {"rodding eye", NodeKind::rodding_eye},
                              {"lamphole", NodeKind::lamphole},
                              {"outfall", NodeKind::outfall},
                              {"junction", NodeKind::junction},
                              {"other", NodeKind::other}},
                             NodeKind::inspection_chamber);
  return {kind, text(in, "name")};
}

Section section(const Json& in, double from_m, double pipe_bore_mm) {
  Section out;
  out.from_m = from_m;
  out.to_m = number(in, "to_m");
  out.material = material_from(text(in, "material")).value_or(Material::clay);
  if (out.material == Material::pvc) out.colour = text(in, "colour", "red-brown");
  out.look = look_from(text(in, "look"), out.material).value_or(Look::usual);
  out.unit_length_m = number(in, "unit_length_m", usual_unit_length_m(out.material, out.look));
  out.first_joint_m = number(in, "first_joint_m", 0);
  out.bore_mm = number(in, "bore_mm", pipe_bore_mm);
  out.shape = pick(text(in, "shape"), {{"egg", PipeShape::egg}, {"rectangular", PipeShape::rectangular}},
                   PipeShape::circular);
  if (out.shape == PipeShape::rectangular) out.height_mm = number(in, "height_mm", out.bore_mm);
  out.wall_mm = number(in, "wall_mm", usual_wall_mm(out.material, out.bore_mm));
  out.manning_n = number(in, "manning_n", manning_n(out.material, out.look));
  return out;
}

void read_pipe(const Json& in, Scenario& out) {
  out.length_m = number(in, "length_m");
  out.gradient_percent = number(in, "gradient_percent", 1);
  out.flow_l_s = number(in, "flow_l_s", 0);
  out.water = pick(text(in, "water"),
                   {{"clear", WaterLook::clear},
                    {"coloured", WaterLook::coloured},
                    {"cloudy and coloured", WaterLook::cloudy_coloured}},
                   WaterLook::cloudy);
  out.water_colour = pick(text(in, "water_colour"),
                          {{"red", WaterColour::red},
                           {"yellow", WaterColour::yellow},
                           {"green", WaterColour::green},
                           {"blue", WaterColour::blue},
                           {"milky", WaterColour::milky},
                           {"grey", WaterColour::grey},
                           {"black", WaterColour::black}},
                          WaterColour::none);
  out.system = text(in, "system", "foul");
  const double bore_mm = number(in, "bore_mm");
  const Json& sections = child(in, "sections");
  double from = 0;
  for (std::size_t i = 0; i < count(sections); ++i) {
    out.sections.push_back(section(item(sections, i), from, bore_mm));
    from = out.sections.back().to_m;
  }
  const Json& spots = child(in, "low_spots");
  for (std::size_t i = 0; i < count(spots); ++i) {
    const Json& spot = item(spots, i);
    out.low_spots.push_back({number(spot, "from_m"), number(spot, "to_m"), number(spot, "depth_mm")});
  }
}

void read_faults(const Json& list, Scenario& out) {
  for (std::size_t i = 0; i < count(list); ++i) {
    if (auto kind = fault_kind(item(list, i))) {
      out.faults.push_back({std::move(*kind), "/faults/" + std::to_string(i)});
    }
  }
}

void read_notes(const Json& list, Scenario& out) {
  for (std::size_t i = 0; i < count(list); ++i)
    out.notes.push_back(note_from(item(list, i), "/notes/" + std::to_string(i)));
}

void read_camera(const Json& in, Scenario& out) {
  CameraRig& rig = out.camera;
  rig.kind = text(in, "kind", "crawler") == "push" ? CameraKind::push : CameraKind::crawler;
  rig.head_mm = number(in, "head_mm", rig.head_mm);
  rig.height_mm = number(in, "height_mm", rig.height_mm);
  rig.field_deg = number(in, "field_deg", rig.field_deg);
  rig.roll_deg = number(in, "roll_deg", rig.roll_deg);
  rig.fog = number(in, "fog", rig.fog);
  rig.dirt = number(in, "dirt", rig.dirt);
  rig.analogue = text(in, "picture") == "analogue";
}

void read_inspection(const Json& in, Scenario& out) {
  const auto end = [](const std::string& word) { return word == "end" ? End::end : End::start; };
  const std::string from = text(in, "from", "start");
  out.inspection = {end(from), end(text(in, "distance_zero", from)), number(in, "zero_before_m", 0)};
}

Scenario scenario_of(const Json& root) {
  Scenario out;
  const Json& edition = child(root, "edition");
  if (edition.is_number_integer()) out.edition = edition.get<int>();
  out.title = text(root, "title");
  out.job = text(root, "job");
  out.purpose = text(root, "purpose");
  out.place_name = text(root, "place");
  const Json& seed = child(root, "seed");
  if (seed.is_number_unsigned()) out.seed = seed.get<std::uint64_t>();
  read_pipe(child(root, "pipe"), out);
  out.start = node(child(root, "start"));
  out.finish = node(child(root, "finish"));
  if (out.start.name.empty()) out.start.name = "upstream end";
  if (out.finish.name.empty()) out.finish.name = "downstream end";
  read_faults(child(root, "faults"), out);
  read_notes(child(root, "notes"), out);
  read_camera(child(root, "camera"), out);
  read_inspection(child(root, "inspection"), out);
  return out;
}

}  // namespace

base::Result<Scenario> scenario_from_json(const std::string& text_in, const std::string& file_name) {
  const auto document = base::JsonDocument::parse(text_in, file_name);
  if (!document) return document.problems();
  base::Problems problems = document.value().check("scenario");
  Scenario scenario = scenario_of(document.value().root());
  scenario.file = file_name;
  scenario.hash = base::fingerprint(text_in);
  for (base::Problem& problem : problems_of_sense(scenario, document.value(), problems))
    problems.push_back(std::move(problem));
  std::stable_sort(problems.begin(), problems.end(), [](const base::Problem& a, const base::Problem& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  if (base::has_errors(problems)) return problems;
  for (base::Problem& remark : remarks_on_water(scenario, document.value()))
    problems.push_back(std::move(remark));
  for (base::Problem& remark : remarks_on_silt(scenario, document.value()))
    problems.push_back(std::move(remark));
  return {std::move(scenario), std::move(problems)};
}

base::Result<Scenario> read_scenario(const std::filesystem::path& path) {
  const auto bytes = base::read_file(path);
  if (!bytes) return bytes.problems();
  return scenario_from_json(bytes.value(), path.string());
}

}  // namespace haunch::scenario
