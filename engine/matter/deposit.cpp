// SPDX-License-Identifier: Apache-2.0
// Beds on the invert, and grease, scale and slime on the wall.
#include "matter/deposit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "matter/openings.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;

/// 0 at the ends of a stretch, 1 in its middle part.
double end_taper(double from, double to, double z, double longest_m) {
  const double taper = std::min(longest_m, 0.35 * (to - from));
  const double t = taper > 0 ? std::clamp(std::min(z - from, to - z) / taper, 0.0, 1.0) : 1.0;
  return t * t * (3 - 2 * t);
}

double rough(double x, double y, double z, double size_m, std::uint32_t seed, int octaves) {
  return static_cast<double>(layered_noise(static_cast<float>(x / size_m), static_cast<float>(y / size_m),
                                           static_cast<float>(z / size_m), seed, octaves));
}

/// Steps with a flat top each: what has set in layers breaks off layer by layer.
double terraced(double v) {
  const double steps = 3.5 * v, whole = std::floor(steps), in = steps - whole;
  const double t = std::clamp((in - 0.72) / 0.28, 0.0, 1.0);
  return (whole + t * t * (3 - 2 * t)) / 3.5;
}

/// Round knobs on a jittered grid: 0 between them, up to 1 on top. `round` cells close on themselves
/// across (0: they never do), so that a whole ring has no seam.
double knobs(double u, double v, int round, std::uint32_t seed) {
  const auto iu = static_cast<std::int32_t>(std::floor(u)), iv = static_cast<std::int32_t>(std::floor(v));
  double top = 0;
  for (std::int32_t du = -1; du <= 1; ++du)
    for (std::int32_t dv = -1; dv <= 1; ++dv) {
      const std::int32_t column = round > 0 ? (iu + du + 4 * round) % round : iu + du;
      const auto jitter = [&](std::int32_t k) {
        return 0.5 + 0.42 * static_cast<double>(lattice_noise(column, iv + dv, k, seed));
      };
      const double cu = iu + du + jitter(0) - u, cv = iv + dv + jitter(1) - v;
      const double size = 0.35 + 0.55 * jitter(2);
      top = std::max(top, (0.4 + 0.6 * jitter(3)) * std::max(0.0, 1 - (cu * cu + cv * cv) / (size * size)));
    }
  return top;
}
/// The same on the wall: `cell_m` is about their distance, `drawn` how much longer they are along it.
double wall_knobs(double angle, double radius, double z, double cell_m, double drawn, std::uint32_t seed) {
  const int round = std::max(3, static_cast<int>(std::lround(tau * radius / cell_m)));
  return knobs(angle / tau * round, z / (cell_m * drawn), round, seed);
}

int rows_for(double length, double step) { return std::clamp(static_cast<int>(length / step) + 1, 24, 2400); }

}  // namespace

double settled_depth_share(const scene::Settled& settled, double z_m) {
  return settled.depth_percent / 100 * end_taper(settled.from_m, settled.to_m, z_m, 0.35);
}

SettledBed settled_bed(const scene::Scene& scene, const scene::Settled& settled, std::uint64_t seed) {
  base::Random random(seed);
  const auto shape_seed = static_cast<std::uint32_t>(random.next());
  SettledBed bed;
  Sheet& top = bed.top;
  const bool coarse = settled.kind == scene::SettledKind::coarse,
             hard = settled.kind == scene::SettledKind::hard;
  const double length = std::max(settled.to_m - settled.from_m, 0.01);
  top.rows = rows_for(length, hard ? 0.0045 : 0.007);
  top.columns = hard ? 57 : 41;
  for (int i = 0; i < top.rows; ++i) {
    const double z = settled.from_m + length * i / (top.rows - 1);
    const scene::Vec2 centre = centre_at(scene, z);
    const scene::Bore bore = bore_at(scene, z);
    const double radius = bore.half_height_m;
    const double deep = settled_depth_share(settled, z) * 2 * radius;
    const double y = -radius + deep;
    const bool round = bore.round();
    const double half = round
                            ? std::sqrt(std::max(0.0, radius * radius - std::min(y, 0.0) * std::min(y, 0.0)))
                            : scene::width_m(bore, deep) / 2;
    const double reach = y < 0 ? half : bore.half_width_m;
    double lifted = 0;
    for (int k = 0; k < top.columns; ++k) {
      const double across = -1.0 + 2.0 * k / (top.columns - 1);
      // A little past the wall at either side.
      const double x = across * (reach * 1.06 + 0.002);
      const double strength = std::min(1.0, deep / 0.015);
      double bump = 0.10 * rough(x, 0, z, 0.035, shape_seed, 4);
      if (coarse) bump = 0.16 * rough(x, 0, z, 0.028, shape_seed, 4);
      // Set hard it is a crust in lumps, drawn out along the flow that has worked at it.
      if (hard)
        bump = 0.06 * rough(x, 0, z / 3.2, 0.050, shape_seed, 2) +
               0.75 * terraced(rough(x, 0, z / 2.0, 0.055, shape_seed + 5U, 2)) +
               0.05 * rough(x, 0, z / 2.0, 0.009, shape_seed + 6U, 2);
      // Silt lies smooth, with low ripples here and there, none of them right across.
      if (settled.kind == scene::SettledKind::fine) {
        const double here = std::max(0.0, 0.25 + 1.3 * rough(x, 0, z / 2, 0.055, shape_seed + 12U, 2));
        bump =
            0.07 * rough(x, 0, z / 2.5, 0.050, shape_seed, 2) +
            0.016 * here * std::sin(tau * (z / 0.052 + 1.6 * rough(x, 0, z / 2, 0.045, shape_seed + 8U, 2)));
      }
      // The flow has smoothed it where it meets the wall.
      const double beside = coarse || settled.kind == scene::SettledKind::fine
                                ? 1.0
                                : std::clamp((1.02 - std::abs(x) / std::max(reach, 1e-6)) / 0.22, 0.15, 1.0);
      // Where it runs out it does so in tongues and hollows.
      const double runs_out = std::clamp((0.024 - deep) / 0.020, 0.0, 1.0);
      const double tongues = rough(x, 0, z / 3.5, coarse ? 0.010 : 0.014, shape_seed + 31U, 2);
      // Its sides are no straight line along the wall.
      const double at_side = std::clamp(1.8 * std::abs(across) - 0.9, 0.0, 1.0);
      const double sides =
          rough(across > 0 ? 3.0 : -3.0, 0.2, z, coarse ? 0.022 : 0.036, shape_seed + 33U, 3);
      const double lift =
          bump * beside * std::min(deep, 0.030) * strength +
          (settled.kind == scene::SettledKind::fine ? 0.8 : 1.5) * tongues * runs_out *
              std::min(deep, 0.010) +
          (settled.kind == scene::SettledKind::fine ? 0.16 : 0.40) * at_side * sides * std::min(deep, 0.025);
      lifted += lift / top.columns;
      top.points.push_back({centre.x + x, centre.y + y + lift - (deep < 1e-5 ? 0.0006 : 0.0), z});
      top.thick_m.push_back(static_cast<float>(deep));
    }
    // Its mean depth is the stated one.
    for (int k = 0; k < top.columns; ++k) top.points[top.index(i, k)].y -= lifted;
  }
  if (!coarse) return bed;
  const double bore = 2 * radius_at(scene, settled.from_m);
  const double size = std::clamp(bore / 0.15, 0.6, 1.6);
  const int count = std::clamp(static_cast<int>(length * bore * 0.7 * 11000), 12, 4000);
  for (int i = 0; i < count; ++i) {
    const int row = 1 + static_cast<int>(random.below(static_cast<std::uint32_t>(top.rows - 2)));
    const int column = 2 + static_cast<int>(random.below(static_cast<std::uint32_t>(top.columns - 4)));
    const scene::Vec3 p = top.at(row, column);
    const double big = random.uniform();
    const double r = size * (0.0016 + 0.0075 * big * big * big * big);
    const scene::Vec3 half{r * random.uniform(0.8, 1.2), r * random.uniform(0.55, 0.85),
                           r * random.uniform(0.8, 1.3)};
    const double turn = random.uniform(0, tau);
    const auto stone_seed = static_cast<std::uint32_t>(random.next());
    const double deep = static_cast<double>(
        top.thick_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(top.columns)]);
    // Half sunk; where the bed runs out only what fits lies there.
    if (deep < 0.4 * r) continue;
    bed.stones.push_back({{p.x, p.y - half.y * random.uniform(0.25, 0.8), p.z}, half, turn, stone_seed});
  }
  return bed;
}

namespace {
constexpr double attached_taper_m = 0.16;
}

double attached_share(const scene::Attached& attached, double z_m) {
  return attached.covers_percent / 100 * end_taper(attached.from_m, attached.to_m, z_m, attached_taper_m);
}

namespace {

/// A place on the wall as the forms of matter see it.
struct WallPlace {
  double angle = 0, radius = 0, z = 0;
  double nx = 0, ny = 0;  // across the pipe, m
};

/// How thick, before scaling, the matter sits here. `edge` runs 0 at the arc's ends to 1 inside. Seen
/// along the pipe all lengths shrink, so what is to look round is drawn out along it.
double attached_form(scene::AttachedKind kind, bool iron, const WallPlace& p, double edge,
                     std::uint32_t seed) {
  const auto [angle, radius, z, nx, ny] = p;
  switch (kind) {
    case scene::AttachedKind::grease: {
      // Fat sets like candle wax: broad lobes that have slumped into one another, smooth, with runs
      // down the wall, and more on one side than on the other.
      const double broad = rough(nx, ny, z / 3.5, 0.062, seed, 1);
      const double lobes = rough(nx, ny, z / 3.8, 0.027, seed + 11U, 1);
      const double runs = std::max(0.0, rough(nx / 3, ny / 3, z, 0.020, seed + 23U, 1));
      const double heavier = 0.45 * std::sin(angle) * rough(0.3, 0.7, z, 0.30, seed + 29U, 1);
      // Curds that have stuck to one another, here more than there.
      const double curds = std::sqrt(wall_knobs(angle, radius, z, 0.013, 1.7, seed + 31U)) - 0.5;
      const double curdled = std::clamp(0.5 + 1.4 * rough(nx, ny, z / 2, 0.055, seed + 33U, 1), 0.0, 1.0);
      return edge * std::max(0.16, 0.66 + 0.55 * broad + 0.34 * lobes + heavier + 0.22 * runs * (1.2 - edge) +
                                       0.17 * curdled * curds);
    }
    case scene::AttachedKind::scale: {
      // Lime lies in layers that have run down the wall and broken off in steps, with a few warts.
      if (!iron)
        return edge *
               std::max(0.10, 0.65 + 0.55 * terraced(1.3 * rough(nx / 2, ny / 2, z / 1.6, 0.040, seed, 2)) +
                                  0.25 * rough(nx / 3, ny / 3, z, 0.018, seed + 8U, 2) +
                                  0.05 * rough(nx, ny, z / 2, 0.006, seed + 6U, 2) +
                                  0.30 * wall_knobs(angle, radius, z, 0.024, 1.6, seed + 3U));
      // Rust stands in round tubercles, big ones far apart, small ones between and on top of them.
      const double bent_z = z + 0.006 * rough(nx, ny, z, 0.020, seed + 7U, 1);
      const auto dome = [&](double cell_m, std::uint32_t k) {
        return std::sqrt(wall_knobs(angle, radius, bent_z, cell_m, 3.2, seed + k));
      };
      return edge *
             std::max(0.05, 0.10 + 0.10 * rough(nx, ny, z / 2, 0.030, seed, 2) + 1.15 * dome(0.026, 3U) +
                                0.42 * dome(0.0125, 4U) + 0.05 * rough(nx, ny, z / 2, 0.007, seed + 5U, 1));
    }
    case scene::AttachedKind::fouling:
      break;
  }
  // Slime lies in soft pads, thicker here than there, drawn along by the flow.
  const double pads = rough(nx, ny, z / 5, 0.020, seed + 9U, 2);
  return edge *
         std::max(0.10, 0.7 + 0.25 * rough(nx, ny, z / 6, 0.011, seed, 1) + 1.0 * std::max(-0.5, pads) +
                            0.45 * rough(nx, ny, z / 3, 0.05, seed + 7U, 2));
}

/// Where matter ends to one side of its arc: a line that wanders, with tongues that have run down the
/// wall, as a share of `most`. One value for each chainage, so that nothing lies apart from the rest.
double ragged_side(double side, double z, double run_m, std::uint32_t seed) {
  const double broad = 0.5 + 0.9 * rough(7.3 * side, 0, z, 0.19, seed + 40U, 2);
  const double fingers = 0.5 + 0.9 * rough(9.1 * side, 0.4, z, run_m, seed + 41U, 2);
  return std::clamp(0.76 * broad + 0.24 * fingers, 0.0, 1.0);
}

/// The factor that makes a row of forms take up `area_m2` of the bore.
double fitted(const std::vector<double>& forms, double step, double radius, double area_m2) {
  const double most = 0.93 * radius;
  const auto taken = [&](double k) {
    double sum = 0;
    for (const double f : forms) {
      const double t = std::min(k * f, most);
      sum += step * (radius * t - t * t / 2);
    }
    return sum;
  };
  double low = 0, high = 1e-4;
  while (taken(high) < area_m2 && high < 50 * radius) high *= 2;
  for (int i = 0; i < 40; ++i) {
    const double k = (low + high) / 2;
    (taken(k) < area_m2 ? low : high) = k;
  }
  return (low + high) / 2;
}

/// What is left of matter on the wall near openings: nothing inside them, all of it some way off.
class Mouths {
 public:
  Mouths(const scene::Scene& scene, const scene::Stretch& stretch)
      : openings_(openings_in(scene, {stretch.from_m - reach_m, stretch.to_m + reach_m})) {}
  bool any_near(double z) const {
    return std::any_of(openings_.begin(), openings_.end(),
                       [&](const Opening& o) { return std::abs(z - o.z_m) < o.half_length_m + reach_m; });
  }
  /// Metres to the nearest edge, no farther than anything reaches.
  double edge(double radius, double z, double angle) const {
    double nearest = reach_m;
    for (const Opening& o : openings_) nearest = std::min(nearest, edge_distance_m(o, radius, z, angle));
    return nearest;
  }
  /// Bare for a cell of the sheet beside the edge, so that cells left out never show as teeth.
  static double left(double edge_m) {
    const double t = std::max(0.0, edge_m - bare_m) / (reach_m - bare_m);
    return t * (2 - t);
  }

 private:
  static constexpr double bare_m = 0.004, reach_m = 0.015;
  std::vector<Opening> openings_;
};

/// Matter breaks where a joint has opened or stepped by more than it is thick there. Ours.
void break_at_joints(const scene::Scene& scene, Sheet& sheet) {
  const double first = sheet.at(0, 0).z, spacing = (sheet.at(sheet.rows - 1, 0).z - first) / (sheet.rows - 1);
  for (const scene::Joint& joint : scene.joints) {
    const double apart = displaced_m(joint);
    const int middle = static_cast<int>(std::lround((joint.at_m - first) / spacing));
    if (apart <= 0 || middle < 0 || middle >= sheet.rows) continue;
    double thick = 0;
    for (int k = 0; k < sheet.columns; ++k)
      thick += static_cast<double>(sheet.thick_m[sheet.index(middle, k)]) / sheet.columns;
    if (apart <= thick) continue;
    const int half = static_cast<int>(joint.gap_m / 2 / spacing);
    for (int i = std::max(0, middle - half); i <= std::min(sheet.rows - 1, middle + half); ++i)
      for (int k = 0; k < sheet.columns; ++k) sheet.open[sheet.index(i, k)] = true;
  }
}

}  // namespace

Sheet attached_sheet(const scene::Scene& scene, const scene::Attached& attached, std::uint64_t seed,
                     const std::optional<scene::Stretch>& only) {
  base::Random random(seed);
  const auto shape_seed = static_cast<std::uint32_t>(random.next());
  const double askew = tau * random.uniform();
  Sheet sheet;
  const double length = std::max(attached.to_m - attached.from_m, 0.01);
  const double width = base::arc_width_h(attached.arc) * tau / 12;
  const double from = base::degrees_from_crown(attached.arc.from_h) * tau / 360;
  const double radius0 = radius_at(scene, attached.from_m);
  const bool grease = attached.kind == scene::AttachedKind::grease,
             fouling = attached.kind == scene::AttachedKind::fouling,
             scale = attached.kind == scene::AttachedKind::scale;
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(piece_at(scene, attached.from_m))];
  const bool iron =
      scene.scenario.sections[static_cast<std::size_t>(piece.section)].material == scene::Material::cast_iron;
  sheet.rows = rows_for(length, scale ? 0.0025 : 0.0045);
  sheet.columns = std::clamp(static_cast<int>(width * radius0 / (scale ? 0.0022 : 0.003)), 12, 260) + 1;
  const double step = width / (sheet.columns - 1);
  std::vector<double> forms(static_cast<std::size_t>(sheet.columns)), whole = forms;
  const Mouths mouths(scene, {attached.from_m, attached.to_m});
  for (int i = 0; i < sheet.rows; ++i) {
    const double z = attached.from_m + length * i / (sheet.rows - 1);
    const double radius = radius_at(scene, z);
    const scene::Vec2 centre = centre_at(scene, z);
    const double spacing = length / (sheet.rows - 1);
    if (only && (z < only->from_m - spacing || z > only->to_m + spacing)) {
      for (int k = 0; k < sheet.columns; ++k) {
        const double angle = from + step * k;
        const scene::Vec2 at = pressed(scene, z, {radius * std::sin(angle), radius * std::cos(angle)});
        sheet.points.push_back({centre.x + at.x, centre.y + at.y, z});
        sheet.thick_m.push_back(0);
        sheet.open.push_back(false);
      }
      continue;
    }
    const double full = end_taper(attached.from_m, attached.to_m, z, attached_taper_m);
    for (int k = 0; k < sheet.columns; ++k) {
      const double angle = from + step * k;
      // Askew to the noise's own lattice, which would show as a likeness of left and right.
      const double nx = radius0 * std::sin(angle + askew) + 0.4, ny = radius0 * std::cos(angle + askew) + 0.7;
      double edge = 1;
      if (!attached.arc.whole) {
        // From either side by itself, so that there is no ridge where the two would meet.
        edge = k == 0 || k == sheet.columns - 1 ? 0 : 1;
        for (const int side : {1, 2}) {
          const double back = std::min(0.36, (grease ? 0.22 : 0.20) * width *
                                                 ragged_side(side, z, grease ? 0.034 : 0.040, shape_seed));
          const double in = (side == 1 ? step * k : width - step * k) - back;
          const double rise =
              1 - std::clamp(in / std::min((grease ? 0.42 : 0.36) * width, grease ? 1.15 : 0.70), 0.0, 1.0);
          edge *= std::pow(1 - rise * rise, grease ? 1.15 : 1.4);
        }
      }
      // Where it begins and ends along the pipe it does so in tongues, not in a ring: the row's share
      // goes to the tongues, as far as they are no thicker than the matter is farther in. Only slime
      // begins in patches that lie apart; anything else holds together.
      const double apart = fouling ? z / 2.2 : 0.0;
      const double tongue = (fouling ? 2.0 : 1.9) * full - (fouling ? 0.42 : 0.28) +
                            (fouling ? 1.0 : 0.85) * rough(nx, ny, apart, 0.038, shape_seed + 60U, 2) +
                            (grease ? 0.08 : 0.25) * rough(nx, ny, apart, 0.014, shape_seed + 61U, 2);
      const double gate = std::clamp(tongue / (scale ? 0.30 : 0.60), 0.0, 1.0);
      const WallPlace place{angle, radius0, z, nx, ny};
      whole[static_cast<std::size_t>(k)] = attached_form(attached.kind, iron, place, edge, shape_seed);
      forms[static_cast<std::size_t>(k)] =
          whole[static_cast<std::size_t>(k)] * (0.006 + 0.994 * gate * gate * (3 - 2 * gate));
    }
    if (attached.arc.whole) forms.back() = forms.front();  // the ring closes on itself
    std::vector<double> counted = forms;
    counted.back() = whole.back() = 0;  // its strip is the first one again, or bare
    const double bore = std::numbers::pi * radius * radius;
    double factor = fitted(counted, step, radius, attached_share(attached, z) * bore);
    if (full < 1)
      factor = std::min(
          factor, (0.45 + 0.6 * full) * fitted(whole, step, radius, attached.covers_percent / 100 * bore));
    const bool near_mouth = mouths.any_near(z);
    for (int k = 0; k < sheet.columns; ++k) {
      const double angle = from + step * k;
      const double edge = near_mouth ? mouths.edge(radius, z, angle) : 1;
      const double t = (near_mouth ? Mouths::left(edge) : 1) *
                       std::min(factor * forms[static_cast<std::size_t>(k)], 0.93 * radius);
      // Where it thins out it goes under the wall's face rather than ending in a step; where it has
      // a thickness to speak of, that thickness is exactly what was asked for.
      const double r = radius - t + std::max(0.0, 0.00025 - t);
      const scene::Vec2 at = pressed(scene, z, {r * std::sin(angle), r * std::cos(angle)});
      sheet.points.push_back({centre.x + at.x, centre.y + at.y, z});
      sheet.thick_m.push_back(static_cast<float>(t));
      sheet.open.push_back(edge <= 0);
    }
  }
  break_at_joints(scene, sheet);
  return sheet;
}

double lost_share(const scene::Scene& scene, const Sheet& sheet, int row) {
  const double z = sheet.at(row, 0).z;
  const scene::Vec2 centre = centre_at(scene, z);
  const scene::Bore bore = bore_at(scene, z);
  const auto wall = [&](scene::Vec2 p) { return radius_toward(bore, 1 / length(p) * p); };
  // The area between the face and the wall, by thin triangles from the bore's centre.
  double inner = 0, outer = 0;
  for (int k = 0; k + 1 < sheet.columns; ++k) {
    const scene::Vec3 a = sheet.at(row, k), b = sheet.at(row, k + 1);
    const scene::Vec2 p{a.x - centre.x, a.y - centre.y}, q{b.x - centre.x, b.y - centre.y};
    const double r_p = std::min(length(p), wall(p)), r_q = std::min(length(q), wall(q));
    const double angle = std::remainder(std::atan2(q.x, q.y) - std::atan2(p.x, p.y), tau);
    inner += angle * r_p * r_q / 2;
    outer += angle * wall(p) * wall(q) / 2;
  }
  const double mean = scene::mean_radius_m(bore);
  return (outer - inner) / (std::numbers::pi * mean * mean);
}

}  // namespace haunch::matter
