// SPDX-License-Identifier: Apache-2.0
#include "pov_scene.hpp"

#include <cmath>
#include <cstdio>
#include <numbers>

#include "matter/deposit.hpp"
#include "matter/roots.hpp"
#include "matter/solid.hpp"

namespace haunch::bench {
namespace {

using scene::Vec2;
using scene::Vec3;

std::string number(double v) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", v);
  return text;
}
std::string at(const Vec3& v) { return "<" + number(v.x) + "," + number(v.y) + "," + number(v.z) + ">"; }

const char* ware_of(scene::Material material) {
  switch (material) {
    case scene::Material::clay:
      return "rgb <.31,.10,.042>";
    case scene::Material::pvc:
      return "rgb <.39,.11,.05>";
    case scene::Material::cast_iron:
      return "rgb <.09,.055,.04>";
    case scene::Material::brick:
      return "rgb <.25,.08,.045>";
    case scene::Material::polyethylene:
    case scene::Material::pitch_fibre:
      return "rgb <.03,.03,.03>";
    case scene::Material::concrete:
    case scene::Material::fibre_cement:
    case scene::Material::liner:
      break;
  }
  return "rgb <.30,.28,.24>";
}

/// Ware that is blotched, rough and a little wet, about as ours is.
std::string ware(scene::Material material) {
  const std::string colour = ware_of(material);
  return "texture { pigment { granite scale 0.04 color_map { [0 " + colour + "*0.6] [1 " + colour +
         "*1.2] } } normal { wrinkles 0.25 scale 0.006 } finish { ambient 0 diffuse 0.9 specular 0.25 "
         "roughness 0.03 } }\n";
}

/// A sheet of rows x columns places as triangles.
template <class At, class Open>
std::string sheet(int rows, int columns, At place, Open open, const char* pigment) {
  std::string points, faces;
  int count = 0;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) points += "," + at(place(r, c));
  for (int r = 0; r + 1 < rows; ++r)
    for (int c = 0; c + 1 < columns; ++c) {
      if (open(r, c)) continue;
      const auto corner = [&](int row, int column) { return std::to_string(row * columns + column); };
      faces += ",<" + corner(r, c) + "," + corner(r, c + 1) + "," + corner(r + 1, c) + ">,<" +
               corner(r + 1, c) + "," + corner(r, c + 1) + "," + corner(r + 1, c + 1) + ">";
      count += 2;
    }
  return "mesh2 { vertex_vectors { " + std::to_string(rows * columns) + points + " } face_indices { " +
         std::to_string(count) + faces + " } texture { pigment { " + pigment +
         " } normal { bumps 0.3 scale 0.002 } finish { ambient 0 diffuse 0.9 specular 0.2 } } }\n";
}

std::string bore(const scene::Scene& run) {
  std::string text;
  for (const scene::Piece& piece : run.pieces) {
    const Vec3 from{piece.from_centre.x, piece.from_centre.y, piece.from_m},
        to{piece.to_centre.x, piece.to_centre.y, piece.to_m};
    const scene::Material material = run.scenario.sections[static_cast<std::size_t>(piece.section)].material;
    if (piece.round()) {
      text += "cylinder { " + at(from) + ", " + at(to) + ", " + number(piece.radius_m) + " open " +
              ware(material) + "}\n";
      continue;
    }
    constexpr int facets = 180;
    text += sheet(
        2, facets + 1,
        [&](int row, int column) {
          const double z = row == 0 ? piece.from_m : piece.to_m,
                       turn = 2 * std::numbers::pi * column / facets;
          const Vec2 out{std::sin(turn), std::cos(turn)}, c = scene::centre_at(piece, z);
          const Vec2 p = c + scene::radius_toward(scene::bore_at(piece, z), out) * out;
          return Vec3{p.x, p.y, z};
        },
        [](int, int) { return false; }, ware_of(material));
  }
  for (const scene::Joint& joint : run.joints) {
    const scene::Piece& piece = run.pieces[static_cast<std::size_t>(joint.before)];
    // A dark ring stands for the gap.
    text += "torus { " + number(piece.radius_m) + ", " + number(joint.gap_m / 2 + 0.001) +
            " rotate <90,0,0> translate " + at({piece.to_centre.x, piece.to_centre.y, joint.at_m}) +
            " pigment { rgb 0.08 } finish { ambient 0 } }\n";
  }
  return text;
}

std::string bodies(const scene::Scene& run) {
  std::string text;
  int fault_number = 0;
  for (const scene::Fault& fault : run.scenario.faults) {
    const std::uint64_t seed = scene::fault_seed(run.scenario, ++fault_number);
    const auto of_sheet = [&](const matter::Sheet& s, const char* pigment) {
      text += sheet(
          s.rows, s.columns, [&](int r, int c) { return s.at(r, c); },
          [&](int r, int c) { return s.open_cell(r, c); }, pigment);
    };
    if (const auto* settled = std::get_if<scene::Settled>(&fault.kind)) {
      const matter::SettledBed bed = matter::settled_bed(run, *settled, seed);
      of_sheet(bed.top, "rgb <.16,.12,.08>");
      for (const matter::Stone& s : bed.stones)
        text += "sphere { 0, 1 scale " + at(s.half) + " rotate y*" + number(s.turn * 180 / std::numbers::pi) +
                " translate " + at(s.centre) +
                " pigment { rgb <.12,.10,.08> } finish { ambient 0 specular 0.2 } }\n";
    }
    if (const auto* attached = std::get_if<scene::Attached>(&fault.kind))
      of_sheet(matter::attached_sheet(run, *attached, seed), "rgb <.45,.36,.2>");
    if (const auto* roots = std::get_if<scene::Roots>(&fault.kind)) {
      const matter::RootShape shape = matter::root_shape(run, *roots, seed);
      text += "union {\n";
      for (const matter::Strand& strand : shape.strands)
        for (int k = strand.first; k + 1 < strand.first + strand.count; ++k) {
          const auto &a = shape.nodes[static_cast<std::size_t>(k)],
                     &b = shape.nodes[static_cast<std::size_t>(k) + 1];
          if (scene::length(b.at - a.at) > 1e-6)
            text += "cone { " + at(a.at) + "," + number(a.radius_m) + "," + at(b.at) + "," +
                    number(b.radius_m) + " open }\n";
        }
      text += "pigment { rgb <.55,.38,.22> } finish { ambient 0 diffuse 0.9 specular 0.1 } }\n";
    }
    for (const matter::SolidPart& part : matter::solid_of(run, fault_number).parts)
      text += sheet(
          part.rows, part.columns + (part.closed ? 1 : 0),
          [&](int r, int c) {
            return part.points[static_cast<std::size_t>(r * part.columns + c % part.columns)].at;
          },
          [](int, int) { return false; }, "rgb <.25,.17,.1>");
  }
  return text;
}

/// Each reach as a sheet that mirrors and bends, with murk below.
std::string water(const scene::Scene& run) {
  std::string text;
  for (const scene::WaterReach& reach : run.water.reaches) {
    const Vec2 a = scene::centre_at(run, reach.from_m), b = scene::centre_at(run, reach.to_m);
    const double wide = 1.1 * scene::radius_at(run, reach.from_m);
    text += "polygon { 5, " + at({a.x - wide, reach.from_level_m, reach.from_m}) + "," +
            at({a.x + wide, reach.from_level_m, reach.from_m}) + "," +
            at({b.x + wide, reach.to_level_m, reach.to_m}) + "," +
            at({b.x - wide, reach.to_level_m, reach.to_m}) + "," +
            at({a.x - wide, reach.from_level_m, reach.from_m}) +
            " pigment { rgbf <.9,.9,.8,.9> } normal { ripples 0.05 scale 0.02 } finish { ambient 0 "
            "reflection { 0.02, 1 fresnel } conserve_energy } interior { ior 1.333 } }\n";
  }
  return text;
}

}  // namespace

std::string pov_scene(const Shot& shot) {
  const scene::CameraPose& pose = shot.pose;
  const Vec3 ahead = scene::normalised(pose.forward),
             right = scene::normalised(scene::cross({0, 1, 0}, ahead)), up = scene::cross(ahead, right);
  const double wide = 2 * std::tan(pose.field_deg * std::numbers::pi / 360);
  std::string text =
      "#version 3.7;\nglobal_settings { assumed_gamma 1 max_trace_level 5 }\nbackground { rgb 0 }\n";
  text += "camera { perspective location " + at(pose.lens) + " right " + at(wide * right) + " up " +
          at(9.0 / 16 * wide * up) + " direction " + at(ahead) + " }\n";
  // A ring of lamps about the lens throws no shadow that it sees.
  text += "light_source { " + at(pose.lens) + " rgb 30 fade_distance 0.03 fade_power 2 shadowless }\n";
  return text + bore(shot.run) + bodies(shot.run) + water(shot.run);
}

}  // namespace haunch::bench
