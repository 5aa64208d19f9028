// SPDX-License-Identifier: Apache-2.0
#include "render/wall_curves.hpp"

#include <algorithm>
#include <cmath>

namespace haunch::render {
namespace {

double per_square(double half) { return 1 / (half * half); }

/// A section that stays as it is along the pipe, or as much larger all round as a groove is deep.
void take_bore(Stretch& s, const scene::Bore& bore, double behind) {
  s.shape = bore.form == scene::BoreForm::egg ? egg_bore : box_bore;
  s.wide = static_cast<float>(bore.half_width_m);
  s.high = static_cast<float>(bore.half_height_m);
  s.wide_slope = s.high_slope = 0;
  s.behind = static_cast<float>(behind);
}

/// What changes along a stretch, in columns that can be matched with a neighbour's.
struct Column {
  float Stretch::*slope;
  float Stretch::*lean;
  float Stretch::*lean_change;
};
constexpr Column columns[] = {
    {&Stretch::slope_x, &Stretch::lean_x, &Stretch::lean_x_change},
    {&Stretch::slope_y, &Stretch::lean_y, &Stretch::lean_y_change},
    {&Stretch::wide_slope, &Stretch::wide_lean, &Stretch::wide_lean_change},
    {&Stretch::high_slope, &Stretch::high_lean, &Stretch::high_lean_change},
};

}  // namespace

void take_shape(Stretch& s, const scene::Piece& piece, double z0, double z1) {
  const scene::Bore a = scene::bore_at(piece, z0), b = scene::bore_at(piece, z1);
  const double length = z1 - z0;
  if (piece.round()) {
    s.shape = round_bore;
  } else if (a.form == scene::BoreForm::egg || a.form == scene::BoreForm::box) {
    take_bore(s, a, 0);
  } else if (a.form == scene::BoreForm::hinged) {
    s.shape = hinged_bore;
    const double shift = scene::quarter_shift_m(a);
    s.wide = static_cast<float>(shift);
    s.wide_slope = static_cast<float>((scene::quarter_shift_m(b) - shift) / length);
  } else {
    s.shape = oval_bore;
    const double wide = per_square(a.half_width_m), high = per_square(a.half_height_m);
    s.wide = static_cast<float>(wide);
    s.wide_slope = static_cast<float>((per_square(b.half_width_m) - wide) / length);
    s.high = static_cast<float>(high);
    s.high_slope = static_cast<float>((per_square(b.half_height_m) - high) / length);
  }
  s.curved = piece.curved || !piece.round() ? 1 : 0;
}

void widen_shape(Stretch& s, const scene::Piece& before, const scene::Piece& after, double deep) {
  s.curved = s.wide_slope = s.high_slope = 0;
  if (before.round() && after.round()) {
    s.shape = round_bore;
    s.wide = s.high = 0;
    return;
  }
  const scene::Bore &a = before.to_bore, &b = after.from_bore;
  const double step = scene::length(after.from_centre - before.to_centre) / 2 + deep;
  s.curved = 1;
  s.behind = 0;
  const auto fixed = [](const scene::Bore& bore) {
    return bore.form == scene::BoreForm::egg || bore.form == scene::BoreForm::box;
  };
  if (fixed(a) || fixed(b)) {
    const bool first = fixed(a) && (!fixed(b) || a.half_height_m >= b.half_height_m);
    const scene::Bore &outer = first ? a : b, &inner = first ? b : a;
    // Where two shapes meet, the groove holds both.
    const double more =
        std::max({0.0, inner.half_width_m - outer.half_width_m, inner.half_height_m - outer.half_height_m});
    take_bore(s, outer, step + more);
    return;
  }
  if (a.form == scene::BoreForm::hinged || b.form == scene::BoreForm::hinged) {
    const scene::Bore& more =
        std::abs(scene::quarter_shift_m(a)) > std::abs(scene::quarter_shift_m(b)) ? a : b;
    s.shape = hinged_bore;
    s.wide = static_cast<float>(scene::quarter_shift_m(more));
    s.high = 0;
    return;
  }
  s.shape = oval_bore;
  s.wide = static_cast<float>(per_square(std::max(a.half_width_m, b.half_width_m) + step));
  s.high = static_cast<float>(per_square(std::max(a.half_height_m, b.half_height_m) + step));
}

void smooth_curves(Wall& wall, const scene::Scene& scene) {
  std::vector<Stretch>& row = wall.stretches;
  const auto curved = [&](std::size_t i) {
    return wall.piece[i] >= 0 && scene.pieces[static_cast<std::size_t>(wall.piece[i])].curved;
  };
  // The neighbour in the bore: a groove between does not break a curve.
  const auto next = [&](std::size_t i) {
    do ++i;
    while (i < row.size() && wall.piece[i] < 0);
    return i;
  };
  for (std::size_t i = 0; i < row.size(); ++i) {
    for (const Column& c : columns) row[i].*c.lean = row[i].*c.slope;
    wall.any_curved = wall.any_curved || row[i].curved > 0;
  }
  if (!wall.any_curved) return;
  struct Ends {
    double at0[4], at1[4];
  };
  std::vector<Ends> ends(row.size());
  for (std::size_t i = 0; i < row.size(); ++i)
    for (int c = 0; c < 4; ++c)
      ends[i].at0[c] = ends[i].at1[c] = static_cast<double>(row[i].*columns[c].slope);
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (wall.piece[i] < 0) continue;
    const std::size_t j = next(i);
    if (j >= row.size() || !(curved(i) || curved(j))) continue;
    for (int c = 0; c < 4; ++c) {
      const double own = static_cast<double>(row[i].*columns[c].slope),
                   other = static_cast<double>(row[j].*columns[c].slope);
      // What is straight stays so; the bend's first and last piece turn into it.
      const double meet = !curved(i) ? own : !curved(j) ? other : (own + other) / 2;
      ends[i].at1[c] = ends[j].at0[c] = meet;
    }
    row[i].curved = row[j].curved = 1;
  }
  for (std::size_t i = 0; i < row.size(); ++i) {
    const double length = static_cast<double>(row[i].z1 - row[i].z0);
    for (int c = 0; c < 4; ++c) {
      row[i].*columns[c].lean = static_cast<float>(ends[i].at0[c]);
      row[i].*columns[c].lean_change = static_cast<float>((ends[i].at1[c] - ends[i].at0[c]) / length);
    }
  }
}

}  // namespace haunch::render
