// SPDX-License-Identifier: Apache-2.0
// What lies in the bore, sticks to it or stands into it.
#include <algorithm>
#include <cmath>
#include <map>

#include "measure/rows.hpp"

namespace haunch::measure {
namespace {

using scene::Vec2;
using scene::Vec3;

/// By number, and by colour: a strand that looks like what lies behind it changes nothing.
template <class Kind>
std::vector<Measured> takes(const Shot& shot) {
  double stated = 0;
  if constexpr (std::is_same_v<Kind, scene::Roots>)
    stated = std::get<Kind>(shot.fault()).blocks_percent;
  else
    stated = std::get<Kind>(shot.fault()).takes_percent;
  return {{"takes by number", stated, percent_of_bore(shot, shot.numbered()), 0.2, 0, 100}};
}

/// The level top in the middle of a bed: the mean of its places there.
std::vector<Measured> bed_depth(const Shot& shot) {
  const auto& bed = std::get<scene::Settled>(shot.fault());
  const double z = (bed.from_m + bed.to_m) / 2, bore = 2 * scene::radius_at(shot.scene, z);
  double sum = 0;
  int points = 0;
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      if (shot.with.fault[shot.index(x, y)] != 1) continue;
      const Vec3 p = shot.point(x, y);
      const double half =
          std::sqrt(std::max(0.0, bore * bore / 4 - std::pow(bore / 2 - bed.depth_percent / 100 * bore, 2)));
      if (std::abs(p.z - z) > 0.15 || std::abs(p.x - scene::centre_at(shot.scene, p.z).x) > 0.85 * half)
        continue;
      sum += p.y - scene::invert_at(shot.scene, p.z);
      ++points;
    }
  return {{"depth", bed.depth_percent, points > 200 ? 100 * sum / points / bore : 0, 0.3, 0, 100}};
}

/// The bore's area that is lost in a slice, from the places of its face: in narrow sectors, the mean of the
/// squares of what is left.
std::vector<Measured> share_covered(const Shot& shot) {
  const auto& face = std::get<scene::Attached>(shot.fault());
  const double z = (face.from_m + face.to_m) / 2;
  constexpr int sectors = 180;
  struct Sector {
    double squares = 0;
    int points = 0;
  };
  std::vector<Sector> sector(sectors);
  for (int y = 0; y < shot.height(); ++y)
    for (int x = 0; x < shot.width(); ++x) {
      const Vec3 p = shot.point(x, y);
      if (!(std::abs(p.z - z) < 0.04)) continue;
      const Round r = round_of(shot.scene, p);
      Sector& s = sector[static_cast<std::size_t>((r.angle + tau / 2) / tau * sectors) % sectors];
      s.squares += r.radius_m * r.radius_m;
      ++s.points;
    }
  const double radius = scene::radius_at(shot.scene, z);
  double lost = 0;
  int seen = 0;
  for (const Sector& s : sector)
    if (s.points > 0) lost += 1 - s.squares / s.points / (radius * radius), ++seen;
  const double percent = seen > 0.9 * sectors ? 100 * lost / seen : -1;
  return {{"covers", face.covers_percent, percent, 0.2, 0, 100}};
}

}  // namespace

std::vector<Row> matter_rows() {
  using namespace scene;
  std::vector<Row> rows;
  struct Root {
    const char* name;
    RootForm form;
    double percent[3];
  };
  for (const Root& r : {Root{"root mass", RootForm::mass, {15, 35, 60}},
                        {"fine roots", RootForm::fine, {3, 6, 10}},
                        {"tap root", RootForm::tap, {5, 10, 15}}})
    rows.push_back({r.name, Material::clay, Look::along,
                    [=](double, int size) -> FaultKind {
                      return Roots{joint_z_m, joint_z_m + 0.3, {9, 2, false}, r.form, r.percent[size]};
                    },
                    takes<Roots>, 0.3, 1e3, ""});
  struct Thing {
    const char* name;
    ObstacleForm form;
    base::ClockArc arc;
  };
  const base::ClockArc nowhere{12, 12, true};
  for (const Thing& t : {Thing{"brick", ObstacleForm::brick, nowhere},
                         {"pipe pieces", ObstacleForm::pipe_pieces, nowhere},
                         {"ball", ObstacleForm::ball, nowhere},
                         {"timber", ObstacleForm::timber, nowhere},
                         {"through the wall", ObstacleForm::through_wall, {2, 2, false}},
                         {"in a joint", ObstacleForm::in_joint, {10, 10, false}},
                         {"crossing", ObstacleForm::crossing, {9, 3, false}},
                         {"built in", ObstacleForm::built_in, {12, 12, false}}})
    rows.push_back({t.name, Material::clay, Look::along,
                    [=](double, int size) -> FaultKind {
                      return Obstacle{t.form == ObstacleForm::in_joint ? joint_z_m : fault_z_m, t.form, t.arc,
                                      6.0 + 5 * size};
                    },
                    takes<Obstacle>, 0.3, 1e3, ""});
  rows.push_back({"soil", Material::clay, Look::along,
                  [](double, int size) -> FaultKind {
                    return SoilIngress{joint_z_m, {2, 2, false}, SoilKind::sand, 8.0 + 8 * size};
                  },
                  takes<SoilIngress>, 0.3, 1e3, ""});
  struct Bed {
    const char* name;
    SettledKind kind;
  };
  for (const Bed& b :
       {Bed{"silt", SettledKind::fine}, {"gravel", SettledKind::coarse}, {"hard bed", SettledKind::hard}})
    rows.push_back({b.name, Material::clay, Look::wide,
                    [=](double, int size) -> FaultKind {
                      return Settled{fault_z_m - 0.75, fault_z_m + 0.75, b.kind, 10.0 + 10 * size};
                    },
                    bed_depth, 0.5, 16, "a film of it lies on the wall above its edge"});
  struct Coat {
    const char* name;
    AttachedKind kind;
    base::ClockArc arc;
    double least;
  };
  for (const Coat& c : {Coat{"grease", AttachedKind::grease, {9, 3, false}, 6},
                        {"scale", AttachedKind::scale, {12, 12, true}, 6},
                        {"fouling", AttachedKind::fouling, {4, 8, false}, 1.5}})
    rows.push_back({c.name, Material::clay, Look::wide,
                    [=](double, int size) -> FaultKind {
                      return Attached{fault_z_m - 0.5, fault_z_m + 0.5, c.arc, c.kind, c.least * (1 + size)};
                    },
                    share_covered, 0.5, 10, ""});
  return rows;
}

}  // namespace haunch::measure
