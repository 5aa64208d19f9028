// SPDX-License-Identifier: Apache-2.0
#include "scenario/sense.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "scene/materials.hpp"
#include "scene/scene.hpp"
#include "scene/water.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

/// A measure as people read it, to a thousandth.
std::string shown(double value) { return base::show_number(std::round(value * 1000.0) / 1000.0); }

}  // namespace

std::string Sense::show(double value) { return shown(value); }
std::string Sense::metres(double value) { return shown(value) + " m"; }

Sense::Sense(const Scenario& scenario, const base::JsonDocument& document, const base::Problems& already)
    : scenario_(scenario), document_(document) {
  for (const base::Problem& problem : already) wrong_.insert({problem.place.line, problem.place.column});
  run_known_ = std::isfinite(scenario.length_m) && !is_wrong("/pipe/length_m");
}

base::Problems Sense::all() {
  sections();
  low_spots();
  water();
  camera();
  // Joints can only be told from sections that are in order.
  if (sections_known_) joints_ = joint_places(scenario_);
  for (number_ = 1; number_ <= static_cast<int>(scenario_.faults.size()); ++number_) {
    at_ = fault().pointer;
    std::visit([this](const auto& kind) { check(kind); }, fault().kind);
    fits_the_shape();
  }
  fullness();
  notes();
  return std::move(problems_);
}

bool Sense::is_wrong(const std::string& pointer) const {
  const base::Place place = document_.place(pointer);
  return document_.root().contains(nlohmann::json::json_pointer(pointer)) &&
         wrong_.count({place.line, place.column}) > 0;
}
bool Sense::bore_is_wrong(std::size_t section) const {
  return is_wrong("/pipe/bore_mm") || is_wrong("/pipe/sections/" + std::to_string(section) + "/bore_mm");
}

void Sense::say(const std::string& pointer, std::string what, std::string expected) {
  if (!is_wrong(pointer))
    problems_.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
}

void Sense::warn(const std::string& pointer, std::string what, std::string expected) {
  problems_.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
  problems_.back().severity = base::Severity::warning;
}

void Sense::sections() {
  sections_known_ = run_known_ && !scenario_.sections.empty();
  for (std::size_t i = 0; i < scenario_.sections.size(); ++i) {
    const Section& section = scenario_.sections[i];
    const std::string pointer = "/pipe/sections/" + std::to_string(i);
    if (!std::isfinite(section.to_m) || !std::isfinite(section.unit_length_m) ||
        !std::isfinite(section.bore_mm) || !std::isfinite(section.first_joint_m)) {
      sections_known_ = false;
    }
    for (const char* key : {"/to_m", "/unit_length_m", "/bore_mm", "/first_joint_m"}) {
      if (is_wrong(pointer + key)) sections_known_ = false;
    }
    if (is_wrong("/pipe/bore_mm")) sections_known_ = false;
    if (section.to_m <= section.from_m) {
      sections_known_ = false;
      say(pointer + "/to_m",
          "section " + std::to_string(i + 1) + " ends at " + metres(section.to_m) + ", before it starts at " +
              metres(section.from_m),
          "more than " + metres(section.from_m));
    } else if (section.first_joint_m >= section.to_m - section.from_m) {
      say(pointer + "/first_joint_m", "the first joint lies past the end of the section",
          "less than " + metres(section.to_m - section.from_m));
    }
    shape_of(section, pointer);
    look(pointer, section);
    if (run_known_ && i + 1 == scenario_.sections.size() &&
        std::abs(section.to_m - scenario_.length_m) > 1e-6) {
      sections_known_ = false;
      say(pointer + "/to_m",
          "the last section ends at " + metres(section.to_m) + " but the pipe is " +
              metres(scenario_.length_m) + " long",
          "the last section to end where the pipe ends");
    }
  }
}

/// What a file says of a look its material does not have.
void Sense::look(const std::string& pointer, const Section& section) {
  const nlohmann::json::json_pointer place(pointer + "/look");
  if (section.look != Look::usual || !document_.root().contains(place)) return;
  std::vector<std::string> words;
  for (const Look one : {Look::fresh, Look::aged})
    if (const std::string word = scene::show(one, section.material); !word.empty()) words.push_back(word);
  say(pointer + "/look", "this is no look of " + scene::show(section.material),
      words.empty() ? "no look for this material" : "\"" + base::join(words, "\" or \"") + "\", or none");
}

void Sense::inside(const std::string& pointer, const std::string& thing, double z) {
  const std::string lies = thing == "the roots" ? " lie " : " lies ";
  if (run_known_ && z > scenario_.length_m) {
    say(pointer, thing + " at " + metres(z) + lies + "past the end of the pipe",
        "at most " + metres(scenario_.length_m));
  } else if (z < 0) {
    say(pointer, thing + " at " + metres(z) + lies + "before the pipe begins", "0 m or more");
  }
}

bool Sense::on_run(double z) const { return run_known_ && z >= 0 && z <= scenario_.length_m; }

void Sense::stretch(const std::string& pointer, const std::string& thing, double from, double to) {
  inside(pointer + "/from_m", "the beginning of the " + thing, from);
  inside(pointer + "/to_m", "the end of the " + thing, to);
  if (to <= from)
    say(pointer + "/to_m",
        "the " + thing + " ends at " + metres(to) + ", before it begins at " + metres(from),
        "more than " + metres(from));
}

void Sense::low_spots() {
  for (std::size_t i = 0; i < scenario_.low_spots.size(); ++i) {
    const LowSpot& spot = scenario_.low_spots[i];
    stretch("/pipe/low_spots/" + std::to_string(i), "low spot", spot.from_m, spot.to_m);
  }
}

void Sense::water() {
  const bool coloured =
      scenario_.water == WaterLook::coloured || scenario_.water == WaterLook::cloudy_coloured;
  const WaterColour colour = scenario_.water_colour;
  if (coloured && colour == WaterColour::none && !is_wrong("/pipe/water_colour"))
    say("/pipe/water", "coloured water has a colour", "\"water_colour\" beside it: red, green, blue ..");
  if (!coloured && colour != WaterColour::none)
    say("/pipe/water_colour", "the water is not said to be coloured",
        "\"water\": \"coloured\" or \"cloudy and coloured\"");
  if (scenario_.water == WaterLook::coloured && colour >= WaterColour::milky)
    say("/pipe/water_colour", "nobody sees through water of this colour",
        "\"water\": \"cloudy and coloured\"");
}

void Sense::camera() {
  const CameraRig& rig = scenario_.camera;
  double narrowest = INFINITY;
  for (std::size_t i = 0; i < scenario_.sections.size(); ++i) {
    const double bore = scenario_.sections[i].bore_mm;
    if (!bore_is_wrong(i) && bore < narrowest) narrowest = bore;
  }
  if (is_wrong("/camera/head_mm")) return;
  if (rig.head_mm >= narrowest)
    say("/camera/head_mm", "the camera's head, " + show(rig.head_mm) + " mm, does not go into the pipe",
        "less than the narrowest bore, " + show(narrowest) + " mm");
  else if (rig.height_mm > 0 && rig.height_mm + rig.head_mm / 2 > narrowest)
    say("/camera/height_mm", "with its lens at " + show(rig.height_mm) + " mm the head strikes the crown",
        "at most " + show(narrowest - rig.head_mm / 2) + " mm in a bore of " + show(narrowest) + " mm");
  else if (rig.height_mm > 0 && rig.height_mm < rig.head_mm / 2)
    say("/camera/height_mm", "with its lens at " + show(rig.height_mm) + " mm the head is sunk in the invert",
        "at least half the head, " + show(rig.head_mm / 2) + " mm");
}

const Section* Sense::section_of(double z) const {
  if (!sections_known_ || !on_run(z)) return nullptr;
  return &scenario_.sections[static_cast<std::size_t>(section_at(scenario_, z))];
}

void Sense::clear_of_joints(const std::string& thing, double at_m, double half_m) {
  if (!sections_known_) return;
  const auto near = nearest_joint(joints_, at_m);
  if (near && std::abs(near->at_m - at_m) < half_m)
    warn(at_ + "/at_m", "the " + thing + " crosses the joint at " + metres(near->at_m),
         "its middle at least " + metres(half_m) + " from a joint");
}

void Sense::point_or_stretch(const std::string& thing, double from, double to, bool either_way) {
  if (from == to) return inside(at_ + "/at_m", "the " + thing, from);
  if (!either_way) return stretch(at_, thing, from, to);
  inside(at_ + "/from_m", "the beginning of the " + thing, from);
  inside(at_ + "/to_m", "the end of the " + thing, to);
}

double Sense::area_percent(const Fault& fault) {
  if (const auto* roots = std::get_if<Roots>(&fault.kind)) return roots->blocks_percent;
  if (const auto* attached = std::get_if<Attached>(&fault.kind)) return attached->covers_percent;
  if (const auto* obstacle = std::get_if<Obstacle>(&fault.kind)) return obstacle->takes_percent;
  if (const auto* soil = std::get_if<SoilIngress>(&fault.kind)) return soil->takes_percent;
  if (const auto* broken = std::get_if<BrokenWall>(&fault.kind)) return broken->takes_percent;
  if (const auto* bricks = std::get_if<BrickDamage>(&fault.kind)) return bricks->takes_percent;
  if (const auto* settled = std::get_if<Settled>(&fault.kind))
    return 100.0 * area_share(settled->depth_percent / 100.0);
  return 0;
}
void Sense::fullness() {
  std::set<std::size_t> told;
  for (const Fault& here : scenario_.faults) {
    const Stretch stretch_here = stretch_of(here);
    const double z = (stretch_here.from_m + stretch_here.to_m) / 2.0;
    double sum = 0;
    std::size_t last = 0;
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < scenario_.faults.size(); ++i) {
      const Fault& other = scenario_.faults[i];
      const Stretch reach = stretch_of(other);
      const double percent = area_percent(other);
      if (!(percent > 0 && percent <= 100 && reach.from_m <= z && z <= reach.to_m)) continue;
      sum += percent;
      last = i;
      parts.push_back(kind_word(other) + " " + show(std::round(percent)) + " %");
    }
    if (sum <= 100 || parts.size() < 2 || !told.insert(last).second) continue;
    say(scenario_.faults[last].pointer,
        "at " + metres(z) + " more lies in the pipe than fits: " + base::join(parts, ", "),
        "100 % together at most");
  }
}

base::Problems remarks_on_water(const Scenario& scenario, const base::JsonDocument& document) {
  const Scene scene = build_scene(scenario);
  double full_m = 0;
  for (const Piece& piece : scene.pieces) {
    const double z = (piece.from_m + piece.to_m) / 2.0;
    if (level_at(scene.water, z) >= centre_at(piece, z).y + bore_at(piece, z).half_height_m)
      full_m += piece.to_m - piece.from_m;
  }
  if (full_m <= scenario.length_m / 4.0) return {};
  base::Problem remark = document.problem(
      "/pipe",
      "water fills the bore to the crown over " + shown(full_m) + " m of the " + shown(scenario.length_m) +
          " m",
      "a run that drains; a bend or a shift towards 12 that rises more than the fall holds all water back");
  remark.severity = base::Severity::warning;
  return {remark};
}

base::Problems problems_of_sense(const Scenario& scenario, const base::JsonDocument& document,
                                 const base::Problems& already) {
  return Sense(scenario, document, already).all();
}

}  // namespace haunch::scenario
