// SPDX-License-Identifier: Apache-2.0
// A run as values: everything an author may say about it. Files of it are read in the room `scenario`.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "scene/fault.hpp"
#include "scene/note.hpp"

namespace haunch::scene {

enum class Material {
  clay,
  pvc,
  cast_iron,
  concrete,
  brick,
  polyethylene,
  pitch_fibre,
  fibre_cement,
  liner  ///< cured in place over whatever the pipe was
};
inline constexpr int material_count = 9;
std::string show(Material material);  ///< "vitrified clay", "PVC", "cast iron", "concrete", "brickwork" ..

/// What years, or the way it was made, have given a wall of a material: `usual` lies between the others.
enum class Look { usual, fresh, aged };
inline constexpr int look_count = 3;

enum class PipeShape { circular, egg, rectangular };
std::string show(PipeShape shape);  ///< "circular", "egg", "rectangular"

struct Section {
  double from_m = 0, to_m = 0;
  Material material = Material::clay;
  std::string colour;        ///< PVC: "red-brown", "grey", "green", "white"; else empty
  double unit_length_m = 1;  ///< joint spacing; of a liner: of the pipe behind it; brickwork has no joints
  double bore_mm = 100;      ///< actual clear bore; the width of what is not circular
  PipeShape shape = PipeShape::circular;
  double height_mm = 0;  ///< clear height, where it is rectangular
  double wall_mm = 15;
  double manning_n = 0.013;
  double first_joint_m = 0;  ///< distance from from_m to the section's first inner joint; 0: one unit
  Look look = Look::usual;
};

/// Of any shape: the bore, of an egg half as much again (the classic profile, from memory).
double clear_height_mm(const Section& section);

struct LowSpot {
  double from_m = 0, to_m = 0;
  double depth_mm = 0;  ///< below the even grade, in the middle
};

enum class NodeKind { manhole, inspection_chamber, rodding_eye, lamphole, outfall, junction, other };
struct Node {
  NodeKind kind = NodeKind::inspection_chamber;
  std::string name;
};

enum class WaterLook { clear, cloudy, coloured, cloudy_coloured };
enum class WaterColour { none, red, yellow, green, blue, milky, grey, black };
/// Hides what lies under it; the others only tint it.
inline bool hides(WaterLook look) { return look == WaterLook::cloudy || look == WaterLook::cloudy_coloured; }

enum class CameraKind { push, crawler };
struct CameraRig {
  CameraKind kind = CameraKind::crawler;
  double head_mm = 38;      ///< thickness of the head (common practice, no source)
  double height_mm = 0;     ///< lens above the invert; 0: push: by the ball skid, crawler: on the axis
  double field_deg = 90;    ///< full field across the picture's width
  double roll_deg = 0;      ///< largest roll of a push camera either way
  double fog = 0;           ///< share of its window that is fogged, 0 .. 1: cold pipe, warm air
  double dirt = 0;          ///< share of its window under specks and smears, 0 .. 1
  bool analogue = false;    ///< an old one, with soft colour and half pictures
  double speed_m_s = 0.15;  ///< most; 30 ft/min: Sunny Isles Beach, Florida, section 02762, cl. 3.2-3.5
};

enum class End { start, end };  ///< start: upstream end
struct Inspection {
  End from = End::start;           ///< where the camera goes in
  End distance_zero = End::start;  ///< which end distances count from
  double zero_before_m = 0;        ///< the zero lies this far outside the pipe's end (chamber centre)
};

struct Scenario {
  std::string file;
  int edition = 1;      ///< the author's revision
  std::string title;    ///< the trainee sees it before the drive
  std::string job;      ///< job sheet for the trainee: gives nothing away; may be empty
  std::string purpose;  ///< for trainers: may name what there is to be found
  std::string place_name;
  std::uint64_t seed = 1;
  base::LengthUnit units = base::LengthUnit::metres;  ///< what the author wrote in; values here are SI
  double length_m = 0;
  double gradient_percent = 1;  ///< fall towards the downstream end
  std::vector<Section> sections;
  std::vector<LowSpot> low_spots;
  double flow_l_s = 0;
  WaterLook water = WaterLook::cloudy;
  WaterColour water_colour = WaterColour::none;  ///< of coloured water
  Node start, finish;                            ///< at the upstream and the downstream end
  std::string system = "foul";                   ///< use of sewer: "foul", "surface water", "combined"
  std::vector<Fault> faults;                     ///< in the file's order: fault number n is faults[n - 1]
  std::vector<Note> notes;                       ///< what no picture shows
  CameraRig camera;
  Inspection inspection;
  std::string hash;  ///< fingerprint of the file
};

/// What a fault's chance is drawn from (number from 1): each has a seed of its own, so that changing one
/// leaves the others as they were.
std::uint64_t fault_seed(const Scenario& scenario, int number);
/// What runs at z, l/s: with what has come in by connections on the way, and without what has gone out.
double flow_at_l_s(const Scenario& scenario, double z_m);
/// So far before the place where water leaves its surface begins to dip.
inline constexpr double dips_before_m = 0.14;  // ours
/// The same run without one fault. The others look as they did; those after it go down by one number.
Scenario without(Scenario scenario, int number);

}  // namespace haunch::scene
