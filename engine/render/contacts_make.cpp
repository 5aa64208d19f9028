// SPDX-License-Identifier: Apache-2.0
// Makes the marks that things leave on the wall where they touch it.
#include "render/contacts.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "render/contacts_touch.hpp"

namespace haunch::render {
namespace {

constexpr float tau = 2 * std::numbers::pi_v<float>;

/// The grid while it is made: how far off the wall the nearest matter stands over each cell.
struct Near {
  Contact mark;
  std::vector<float> off;
  float& at(int row, int column) {
    return off[static_cast<std::size_t>(row) * static_cast<std::size_t>(mark.columns) +
               static_cast<std::size_t>((column + mark.columns) % mark.columns)];
  }
  float step_round() const { return mark.wall * tau / static_cast<float>(mark.columns); }
  float place(int row) const { return mark.z0 + static_cast<float>(row) * mark.step; }
};

float patchy(const Near& near, int row, int column, float size_m, std::uint32_t k) {
  const float a = static_cast<float>(column) / near.mark.columns_a_radian;
  return matter::layered_noise(near.mark.wall * std::sin(a) / size_m, near.mark.wall * std::cos(a) / size_m,
                               near.place(row) / size_m, near.mark.seed + k, 2);
}

void darken(Near& near, const Touch& touch) {
  Contact& mark = near.mark;
  mark.dark.assign(near.off.size(), 0.0F);
  const float reach = std::max(touch.line, touch.shade), across = near.step_round();
  if (reach <= 0) return;
  const int rows = static_cast<int>(reach / mark.step) + 1, columns = static_cast<int>(reach / across) + 1;
  // The shortest way from each cell to matter, through the air.
  std::vector<float> way(near.off.size(), 1e9F);
  for (int r = 0; r < mark.rows; ++r)
    for (int c = 0; c < mark.columns; ++c) {
      const float off = near.at(r, c);
      if (off >= reach) continue;
      for (int dr = std::max(-rows, -r); dr <= std::min(rows, mark.rows - 1 - r); ++dr)
        for (int dc = -columns; dc <= columns; ++dc) {
          const float x = static_cast<float>(dr) * mark.step, y = static_cast<float>(dc) * across;
          const float far = std::sqrt(x * x + y * y + off * off);
          float& best = way[static_cast<std::size_t>(r + dr) * static_cast<std::size_t>(mark.columns) +
                            static_cast<std::size_t>((c + dc + 2 * mark.columns) % mark.columns)];
          best = std::min(best, far);
        }
    }
  for (int r = 0; r < mark.rows; ++r)
    for (int c = 0; c < mark.columns; ++c) {
      const std::size_t i =
          static_cast<std::size_t>(r) * static_cast<std::size_t>(mark.columns) + static_cast<std::size_t>(c);
      if (way[i] >= reach) continue;
      // The wet line is wider here than there.
      const float wide = touch.line * (1 + 0.7F * patchy(near, r, c, 0.012F, 3U));
      const float line = std::clamp(1 - way[i] / std::max(0.001F, wide), 0.0F, 1.0F);
      const float soft = touch.shade > 0 ? std::clamp(1 - way[i] / touch.shade, 0.0F, 1.0F) : 0.0F;
      mark.dark[i] = 1 - (1 - 0.60F * line) * (1 - 0.50F * soft * soft);
    }
}

/// What water runs over is darker, with a soft ragged edge.
void wet(Near& near, const Touch& touch) {
  Contact& mark = near.mark;
  mark.dark.assign(near.off.size(), 0.0F);
  const float across = near.step_round();
  constexpr float reach = 0.012F;
  const auto source = static_cast<float>(std::remainder(touch.runs_from_h, 12.0)) * tau / 12;
  const int rows = static_cast<int>(reach / mark.step) + 1, columns = static_cast<int>(reach / across) + 1;
  for (int r = 0; r < mark.rows; ++r)
    for (int c = 0; c < mark.columns; ++c) {
      float far = reach;
      for (int dr = std::max(-rows, -r); dr <= std::min(rows, mark.rows - 1 - r); ++dr)
        for (int dc = -columns; dc <= columns; ++dc) {
          if (near.at(r + dr, c + dc) > 0.02F) continue;
          const float x = static_cast<float>(dr) * mark.step, y = static_cast<float>(dc) * across;
          far = std::min(far, std::sqrt(x * x + y * y));
        }
      // Where it comes out of the wall is the darkest place.
      const float a = std::remainder(static_cast<float>(c) / mark.columns_a_radian - source, tau) * mark.wall;
      const float z = near.place(r) - touch.runs_at_m, out = std::sqrt(a * a + z * z);
      const float spot =
          std::clamp(1.5F - out / (0.013F * (1 + 0.5F * patchy(near, r, c, 0.010F, 6U))), 0.0F, 1.0F);
      if (far >= reach && spot <= 0) continue;
      const float soft = 1 - far / (reach * (0.75F + 0.5F * patchy(near, r, c, 0.014F, 5U)));
      mark.dark[static_cast<std::size_t>(r) * static_cast<std::size_t>(mark.columns) +
                static_cast<std::size_t>(c)] =
          std::max(0.48F * std::clamp(1.6F * soft, 0.0F, 1.0F), 0.78F * spot);
    }
}

/// Loose matter on the wall below the place where it came in.
void run_down(Near& near, const Touch& touch) {
  Contact& mark = near.mark;
  const auto top = static_cast<float>(std::remainder(touch.runs_from_h, 12.0)) * tau / 12;
  const float side = top >= 0 ? 1.0F : -1.0F, whole = tau / 2 - std::abs(top);
  for (int c = 0; c < mark.columns; ++c) {
    float a = static_cast<float>(c) / mark.columns_a_radian;
    if (a > tau / 2) a -= tau;
    // How far down from the place, 0 .. 1; a little beside it too.
    const float down = (side * a - std::abs(top)) / std::max(0.2F, whole);
    if (down < -0.05F || down > 1) continue;
    for (int r = 0; r < mark.rows; ++r) {
      const float wide =
          mark.wall * (0.22F + 0.35F * std::max(0.0F, down)) * (1 + 0.5F * patchy(near, r, c, 0.03F, 8U));
      const float off =
          std::abs(near.place(r) - touch.runs_at_m + 0.12F * mark.wall * patchy(near, r / 8, c, 0.04F, 9U));
      const float lies = std::clamp(1.25F * (1 - off / wide), 0.0F, 0.80F);
      float& strewn = mark.strewn[static_cast<std::size_t>(r) * static_cast<std::size_t>(mark.columns) +
                                  static_cast<std::size_t>(c)];
      strewn = std::max(strewn, lies);
    }
  }
}

/// Loose matter that the flow has carried off it, along the invert.
void strew(Near& near, const Touch& touch) {
  Contact& mark = near.mark;
  const auto index = [&](int r, int c) {
    return static_cast<std::size_t>(r) * static_cast<std::size_t>(mark.columns) +
           static_cast<std::size_t>((c + mark.columns) % mark.columns);
  };
  std::vector<float> along(near.off.size(), 1e3F);
  const float a_row = mark.step / touch.strewn_along;
  for (int c = 0; c < mark.columns; ++c) {
    float far = 1e3F;
    for (int r = 0; r < mark.rows; ++r)
      far = near.at(r, c) < 0.003F ? 0 : far + a_row, along[index(r, c)] = std::min(along[index(r, c)], far);
    far = 1e3F;
    for (int r = mark.rows - 1; r >= 0; --r)
      far = near.at(r, c) < 0.003F ? 0 : far + a_row, along[index(r, c)] = std::min(along[index(r, c)], far);
  }
  mark.strewn.assign(near.off.size(), 0.0F);
  const float a_column = near.step_round() / touch.strewn_round;
  const int reach = static_cast<int>(1 / a_column) + 1;
  for (int r = 0; r < mark.rows; ++r)
    for (int c = 0; c < mark.columns; ++c) {
      float far = 1;
      for (int k = -reach; k <= reach; ++k)
        far = std::min(far, along[index(r, c + k)] + a_column * std::abs(static_cast<float>(k)));
      // It does not lie on a steep wall.
      const float low = -std::cos(static_cast<float>(c) / mark.columns_a_radian);
      mark.strewn[index(r, c)] =
          (1 - far) * (touch.sticks ? 0.8F : std::clamp((low - 0.35F) / 0.35F, 0.0F, 1.0F));
    }
  if (touch.runs_from_h >= 0) run_down(near, touch);
  mark.matter = touch.matter;
  mark.grain_m = touch.grain;
  mark.gloss = touch.gloss;
}

/// Which way matter goes on beyond the part that is taken.
enum class GoesOn { no, upstream, downstream };

/// Of what a fault's meshes have between two chainages.
void add_contact(std::vector<Contact>& contacts, const scene::Scene& scene, const std::vector<Mesh>& meshes,
                 const Touch& touch, float from, float to, GoesOn goes_on, std::uint32_t seed) {
  Near near;
  Contact& mark = near.mark;
  mark.wall = static_cast<float>(scene::radius_at(scene, static_cast<double>(from + to) / 2));
  const float reach = touch.wets ? 0.02F : std::max(touch.shade, touch.strewn_along);
  mark.seed = seed;
  mark.step = std::max(0.003F, mark.wall / 50);
  mark.z0 = from - reach, mark.z1 = to + reach;
  mark.rows = static_cast<int>((mark.z1 - mark.z0) / mark.step) + 2;
  mark.columns = std::max(24, static_cast<int>(tau * mark.wall / mark.step));
  mark.columns_a_radian = static_cast<float>(mark.columns) / tau;
  near.off.assign(static_cast<std::size_t>(mark.rows) * static_cast<std::size_t>(mark.columns), 1.0F);
  bool any = false;
  for (const Mesh& mesh : meshes) {
    if (touch.wets != mesh.film) continue;
    for (const Mesh::Point& p : mesh.points) {
      if (p.z < from || p.z > to) continue;
      const scene::Vec2 axis = scene::centre_at(scene, static_cast<double>(p.z));
      const float x = p.x - static_cast<float>(axis.x), y = p.y - static_cast<float>(axis.y);
      const float away = std::sqrt(x * x + y * y);
      const scene::Bore bore = scene::bore_at(scene, static_cast<double>(p.z));
      float wall = mark.wall;
      if (!bore.round() && away > 0)
        wall = static_cast<float>(
            scene::radius_toward(bore, {static_cast<double>(x / away), static_cast<double>(y / away)}));
      const float off = wall - away;
      if (off < -0.0001F || off > 0.07F) continue;  // what lies outside the wall is not there to be seen
      const int row = static_cast<int>((p.z - mark.z0) / mark.step + 0.5F);
      const auto column = static_cast<int>(std::floor(std::atan2(x, y) * mark.columns_a_radian + 0.5F));
      float& best = near.at(std::clamp(row, 0, mark.rows - 1), column);
      best = std::min(best, std::max(off, 0.0F));
      any = true;
    }
  }
  if (!any) return;
  if (touch.wets)
    wet(near, touch);
  else
    darken(near, touch);
  if (touch.strewn_along > 0) strew(near, touch);
  if (goes_on != GoesOn::no)
    for (int r = 0; r < mark.rows; ++r) {
      const float in = goes_on == GoesOn::downstream ? to - near.place(r) : near.place(r) - from;
      const float share = std::clamp(in / 0.08F, 0.0F, 1.0F);
      for (int c = 0; c < mark.columns; ++c) {
        const std::size_t i = static_cast<std::size_t>(r) * static_cast<std::size_t>(mark.columns) +
                              static_cast<std::size_t>(c);
        mark.dark[i] *= share;
        if (!mark.strewn.empty()) mark.strewn[i] *= share;
      }
    }
  contacts.push_back(std::move(near.mark));
}

}  // namespace

std::vector<Contact> make_contacts(const scene::Scene& scene, const Meshes& meshes) {
  std::vector<Contact> contacts;
  for (const std::vector<Mesh>* shape : meshes.all()) {
    if (shape->empty()) continue;
    // The sound part of what has failed, a seam, has no number.
    int number = 0;
    for (const Mesh& mesh : *shape) number = std::max(number, int{mesh.fault});
    const scene::FaultKind& kind = scene.scenario.faults[static_cast<std::size_t>(number - 1)].kind;
    float from = 1e9F, to = -1e9F;
    for (const Mesh& mesh : *shape)
      for (const Mesh::Point& p : mesh.points) from = std::min(from, p.z), to = std::max(to, p.z);
    if (from > to) continue;
    // In a bend chainage does not run along z: there it is left out.
    const auto piece = static_cast<std::size_t>(scene::piece_at(scene, static_cast<double>(from + to) / 2));
    if (scene.pieces[piece].curved) continue;
    const auto radius = static_cast<float>(scene::radius_at(scene, static_cast<double>(from + to) / 2));
    const Touch touch = touch_of(kind, radius);
    if (touch.shade <= 0 && touch.strewn_along <= 0 && !touch.wets) continue;
    const auto seed = static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, number));
    constexpr float end_m = 0.15F;
    if (touch.ends_only && to - from > 2 * end_m) {
      add_contact(contacts, scene, *shape, touch, from, from + end_m, GoesOn::downstream, seed);
      add_contact(contacts, scene, *shape, touch, to - end_m, to, GoesOn::upstream, seed + 1U);
    } else {
      add_contact(contacts, scene, *shape, touch, from, to, GoesOn::no, seed);
    }
  }
  return contacts;
}

}  // namespace haunch::render
