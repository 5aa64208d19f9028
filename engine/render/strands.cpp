// SPDX-License-Identifier: Apache-2.0
// Rays against strands. For a bundle of rays (a tile, then sixteen of it) only the links inside its
// cone are kept; each ray then gathers what it meets and lays it one over the other from the front,
// so that the order of links, and the batch a ray comes in, do not matter.
#include "render/strands_meet.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "matter/noise.hpp"
#include "matter/roots.hpp"

namespace haunch::render {
namespace {

// ---- building ----

struct Box {
  float low[3] = {1e9F, 1e9F, 1e9F}, high[3] = {-1e9F, -1e9F, -1e9F};
  void take(const Link& l) {
    const float a[3] = {l.ax, l.ay, l.az};
    const float e[3] = {l.ex, l.ey, l.ez};
    for (int k = 0; k < 3; ++k) {
      const float b = a[k] + l.length * e[k], r = std::max(l.r0, l.r0 + l.slope * l.length);
      low[k] = std::min({low[k], a[k] - r, b - r});
      high[k] = std::max({high[k], a[k] + r, b + r});
    }
  }
};

void build_balls(Strands& strands, std::vector<std::int32_t>& order, std::int32_t node, std::int32_t from,
                 std::int32_t to) {
  Box box;
  for (std::int32_t i = from; i < to; ++i)
    box.take(strands.links[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])]);
  float size[3];
  for (int k = 0; k < 3; ++k) size[k] = box.high[k] - box.low[k];
  Ball ball{(box.low[0] + box.high[0]) / 2,
            (box.low[1] + box.high[1]) / 2,
            (box.low[2] + box.high[2]) / 2,
            std::sqrt(size[0] * size[0] + size[1] * size[1] + size[2] * size[2]) / 2,
            from,
            to - from};
  if (to - from > 6) {
    const int axis = size[0] > size[1] ? (size[0] > size[2] ? 0 : 2) : (size[1] > size[2] ? 1 : 2);
    const auto middle_of = [&](std::int32_t index) {
      const Link& l = strands.links[static_cast<std::size_t>(index)];
      const float h = l.length / 2;
      return axis == 0 ? l.ax + h * l.ex : axis == 1 ? l.ay + h * l.ey : l.az + h * l.ez;
    };
    const std::int32_t half = (from + to) / 2;
    std::nth_element(order.begin() + from, order.begin() + half, order.begin() + to,
                     [&](std::int32_t a, std::int32_t b) {
                       const float ma = middle_of(a), mb = middle_of(b);
                       return ma != mb ? ma < mb : a < b;
                     });
    ball.count = 0;
    ball.first = static_cast<std::int32_t>(strands.balls.size());
    strands.balls.resize(strands.balls.size() + 2);
    const std::int32_t child = ball.first;
    strands.balls[static_cast<std::size_t>(node)] = ball;
    build_balls(strands, order, child, from, half);
    build_balls(strands, order, child + 1, half, to);
    return;
  }
  strands.balls[static_cast<std::size_t>(node)] = ball;
}

/// From young and pale to bark.
Rgb root_colour(float age) {
  static const Rgb ramp[] = {linear_from_srgb(238, 222, 188), linear_from_srgb(208, 170, 120),
                             linear_from_srgb(156, 108, 70), linear_from_srgb(88, 62, 44)};
  const float at = std::clamp(age, 0.0F, 1.0F) * 3;
  const int k = std::min(static_cast<int>(at), 2);
  return blend(ramp[k], ramp[k + 1], at - static_cast<float>(k));
}

// How free each link stands: few neighbours in the cells around it.
std::vector<float> openness(const Strands& strands, std::size_t from, std::size_t to, float cell) {
  std::vector<float> open;
  Box box;
  for (std::size_t i = from; i < to; ++i) box.take(strands.links[i]);
  int n[3];
  for (int k = 0; k < 3; ++k)
    n[k] = std::clamp(static_cast<int>((box.high[k] - box.low[k]) / cell) + 1, 1, 96);
  std::vector<float> matter(static_cast<std::size_t>(n[0]) * static_cast<std::size_t>(n[1]) *
                            static_cast<std::size_t>(n[2]));
  const auto index = [&](int x, int y, int z) {
    return (static_cast<std::size_t>(z) * static_cast<std::size_t>(n[1]) + static_cast<std::size_t>(y)) *
               static_cast<std::size_t>(n[0]) +
           static_cast<std::size_t>(x);
  };
  const auto cell_of = [&](const Link& l, int c[3]) {
    const float h = l.length / 2;
    const float p[3] = {l.ax + h * l.ex, l.ay + h * l.ey, l.az + h * l.ez};
    for (int k = 0; k < 3; ++k) c[k] = std::clamp(static_cast<int>((p[k] - box.low[k]) / cell), 0, n[k] - 1);
  };
  for (std::size_t i = from; i < to; ++i) {
    int c[3];
    cell_of(strands.links[i], c);
    matter[index(c[0], c[1], c[2])] += strands.links[i].length * strands.links[i].r0 * 2;
  }
  for (std::size_t i = from; i < to; ++i) {
    int c[3];
    cell_of(strands.links[i], c);
    float sum = 0;
    for (int dz = -1; dz <= 1; ++dz)
      for (int dy = -1; dy <= 1; ++dy)
        for (int dx = -1; dx <= 1; ++dx) {
          const int x = c[0] + dx, y = c[1] + dy, z = c[2] + dz;
          if (x < 0 || y < 0 || z < 0 || x >= n[0] || y >= n[1] || z >= n[2]) continue;
          sum += matter[index(x, y, z)];
        }
    // In how many layers the strands of this neighbourhood would hide each other.
    open.push_back(1 / (1 + 0.32F * sum / (9 * cell * cell)));
  }
  return open;
}

void add_roots(Strands& strands, const matter::RootShape& shape, int fault, std::uint32_t seed) {
  struct Place {
    float from, to, age;
    std::uint32_t seed;
  };
  std::vector<Place> places;
  const std::size_t begin = strands.links.size();
  std::uint32_t number = seed;
  for (const matter::Strand& s : shape.strands) {
    float along = 0;
    number = number * 1664525U + 1013904223U;
    for (int i = s.first; i + 1 < s.first + s.count; ++i) {
      const matter::StrandNode &a = shape.nodes[static_cast<std::size_t>(i)],
                              &b = shape.nodes[static_cast<std::size_t>(i) + 1];
      const scene::Vec3 d = b.at - a.at;
      const double l = scene::length(d);
      if (l < 1e-6) continue;
      const scene::Vec3 e = (1 / l) * d;
      strands.links.push_back({static_cast<float>(a.at.x), static_cast<float>(a.at.y),
                               static_cast<float>(a.at.z), static_cast<float>(e.x), static_cast<float>(e.y),
                               static_cast<float>(e.z), static_cast<float>(l), static_cast<float>(a.radius_m),
                               static_cast<float>((b.radius_m - a.radius_m) / l)});
      places.push_back({along, along + static_cast<float>(l), s.age, number});
      along += static_cast<float>(l);
    }
  }
  if (places.empty()) return;
  const std::vector<float> open = openness(strands, begin, strands.links.size(), 0.005F);
  for (std::size_t k = 0; k < places.size(); ++k) {
    const Place& p = places[k];
    const float own = static_cast<float>((p.seed >> 12U) & 255U) / 255.0F - 0.5F;
    const auto colour = [&](float along) {
      const float spots = matter::noise(along / 0.004F, 0.5F, 0.5F, p.seed);
      // Soil clings where they come in.
      const float soil = 0.30F * std::clamp(1 - along / 0.02F, 0.0F, 1.0F);
      return (0.78F * open[k] * (1 + 0.45F * own)) * root_colour(p.age + 0.14F * spots + soil);
    };
    strands.looks.push_back(
        {colour(p.from), colour(p.to), 0.10F * open[k], static_cast<std::uint16_t>(fault)});
  }
}

// ---- meeting ----

bool may_meet(const Cone& c, float x, float y, float z, float radius) {
  const float dx = x - c.ox, dy = y - c.oy, dz = z - c.oz;
  const float reach = radius + c.spread;
  const float square = dx * dx + dy * dy + dz * dz;
  if (square <= reach * reach) return true;
  const float ahead = dx * c.ax + dy * c.ay + dz * c.az;
  if (ahead > c.far + reach || ahead < -reach) return ahead >= -reach && c.all_round;
  if (c.all_round) return true;
  // Distance of the ball's centre from the cone's side.
  const float aside = std::sqrt(std::max(0.0F, square - ahead * ahead));
  return aside * c.cosine - ahead * c.sine <= reach;
}

struct Scratch {
  TileLinks tile, elsewhere;  // of the batch from the lens, and of bent or mirrored rays
  RayGroup group;
  SeenLinks seen;
};

/// The links the cone may meet, nearer balls first.
void gather(const Strands& strands, const Cone& cone, TileLinks& t) {
  for (auto* floats : {&t.ax, &t.ay, &t.az, &t.ex, &t.ey, &t.ez, &t.length, &t.radius, &t.nearest})
    floats->clear();
  t.link.clear();
  const auto away = [&](const Ball& b) {
    const float dx = b.x - cone.ox, dy = b.y - cone.oy, dz = b.z - cone.oz;
    return dx * dx + dy * dy + dz * dz;
  };
  std::int32_t stack[96];
  int top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const Ball& ball = strands.balls[static_cast<std::size_t>(stack[--top])];
    if (!may_meet(cone, ball.x, ball.y, ball.z, ball.radius)) continue;
    if (ball.count == 0) {
      const bool swap = away(strands.balls[static_cast<std::size_t>(ball.first)]) <
                        away(strands.balls[static_cast<std::size_t>(ball.first) + 1]);
      stack[top++] = swap ? ball.first + 1 : ball.first;
      stack[top++] = swap ? ball.first : ball.first + 1;
      continue;
    }
    for (std::int32_t i = ball.first; i < ball.first + ball.count; ++i) {
      const Link& l = strands.links[static_cast<std::size_t>(i)];
      const float thick = std::max(l.r0, l.r0 + l.slope * l.length), h = l.length / 2, radius = h + thick;
      const float x = l.ax + h * l.ex, y = l.ay + h * l.ey, z = l.az + h * l.ez;
      if (!may_meet(cone, x, y, z, radius)) continue;
      t.ax.push_back(l.ax), t.ay.push_back(l.ay), t.az.push_back(l.az);
      t.ex.push_back(l.ex), t.ey.push_back(l.ey), t.ez.push_back(l.ez);
      t.length.push_back(l.length), t.radius.push_back(thick);
      const float dx = x - cone.ox, dy = y - cone.oy, dz = z - cone.oz;
      t.nearest.push_back(std::sqrt(dx * dx + dy * dy + dz * dz) - radius);
      t.link.push_back(i);
    }
  }
  t.count = static_cast<int>(t.link.size());
  t.spread = cone.spread;
  for (int i = t.count - 2; i >= 0; --i)
    t.nearest[static_cast<std::size_t>(i)] =
        std::min(t.nearest[static_cast<std::size_t>(i)], t.nearest[static_cast<std::size_t>(i) + 1]);
  const auto padded = static_cast<std::size_t>((t.count + group_size - 1) / group_size * group_size);
  for (auto* floats : {&t.ax, &t.ay, &t.az, &t.ex, &t.ey, &t.ez, &t.length, &t.radius})
    floats->resize(padded);
}

/// Bark of thick strands: cracks along it, rings across.
float bark_at(const RayGroup& g, int ray, float depth) {
  const float x = g.ox[ray] + depth * g.dx[ray], y = g.oy[ray] + depth * g.dy[ray],
              z = g.oz[ray] + depth * g.dz[ray];
  const float bark = matter::layered_noise(x / 0.0021F, y / 0.0021F, z / 0.0045F, 5U, 3);
  const float patch = matter::noise(x / 0.012F, y / 0.012F, z / 0.016F, 6U);
  return std::max(0.25F, 1 + 1.1F * bark + 0.35F * patch);
}

/// What a ray shows in the end.
struct Shown {
  int first = 0, end = 0;  // in SeenLinks
  float through = 1, depth = 0;
  std::uint16_t fault = 0;
};

/// Front to back; equal depths by the link, so that the order they came in does not show. Few are
/// seen, so the next one is looked for rather than all put in order.
Shown see(const Strands& strands, RayGroup& g, int lane, SeenLinks& seen) {
  const auto before = [](const Met& a, const Met& b) {
    return a.depth != b.depth ? a.depth < b.depth : a.link < b.link;
  };
  Shown shown;
  shown.first = seen.count;
  Met* const all = g.met[lane];
  const int count = g.count[lane];
  for (int k = 0; k < count && shown.through > 0.016F; ++k) {
    int next = k;
    for (int n = k + 1; n < count; ++n)
      if (before(all[n], all[next])) next = n;
    std::swap(all[k], all[next]);
    const Met& met = all[k];
    const float share = shown.through * met.cover;
    const int to = seen.count++;
    seen.ray[to] = lane, seen.link[to] = met.link;
    seen.depth[to] = met.depth, seen.along[to] = met.along, seen.across[to] = met.across;
    seen.share[to] = share;
    seen.bark[to] = strands.links[static_cast<std::size_t>(met.link)].r0 > bark_radius_m
                        ? bark_at(g, lane, met.depth)
                        : 1.0F;
    shown.through -= share;
    if (shown.fault == 0 && shown.through < 0.5F) {
      shown.fault = strands.looks[static_cast<std::size_t>(met.link)].fault;
      shown.depth = met.depth;
    }
  }
  if (shown.through <= 0.016F) shown.through = 0;
  shown.end = seen.count;
  return shown;
}

void lay_over(const Shown& shown, const SeenLinks& seen, Samples& m, int i) {
  if (!m.any_smooth) {
    m.any_smooth = true;
    m.smooth.assign(m.depth.size(), 0);
  }
  m.smooth[static_cast<std::size_t>(i)] = 1;
  Rgb light;
  for (int k = shown.first; k < shown.end; ++k) light = light + Rgb{seen.red[k], seen.green[k], seen.blue[k]};
  m.red[i] = light.r + shown.through * m.red[i];
  m.green[i] = light.g + shown.through * m.green[i];
  m.blue[i] = light.b + shown.through * m.blue[i];
  if (shown.fault == 0) return;
  m.fault[i] = shown.fault;
  m.depth[i] = shown.depth;
  m.piece[i] = -1;
  m.normal_x[i] = -m.dir_x[i], m.normal_y[i] = -m.dir_y[i], m.normal_z[i] = -m.dir_z[i];
}

}  // namespace

Strands make_strands(const scene::Scene& scene) {
  Strands strands;
  const std::vector<scene::Fault>& faults = scene.scenario.faults;
  std::vector<matter::RootShape> grown(faults.size());
  tbb::parallel_for(std::size_t{0}, faults.size(), [&](std::size_t k) {
    if (const auto* roots = std::get_if<scene::Roots>(&faults[k].kind))
      grown[k] = matter::root_shape(scene, *roots,
                                    scene::fault_seed(scene.scenario, static_cast<int>(k) + 1));
  });
  for (std::size_t k = 0; k < faults.size(); ++k) {
    if (!std::holds_alternative<scene::Roots>(faults[k].kind)) continue;
    const int number = static_cast<int>(k) + 1;
    add_roots(strands, grown[k], number,
              static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, number)));
  }
  if (strands.links.empty()) return strands;
  std::vector<std::int32_t> order(strands.links.size());
  std::iota(order.begin(), order.end(), 0);
  strands.balls.resize(1);
  build_balls(strands, order, 0, 0, static_cast<std::int32_t>(order.size()));
  // Links lie in the order of the balls that hold them.
  std::vector<Link> links;
  std::vector<LinkLook> looks;
  for (const std::int32_t i : order) {
    links.push_back(strands.links[static_cast<std::size_t>(i)]);
    looks.push_back(strands.looks[static_cast<std::size_t>(i)]);
  }
  strands.links = std::move(links);
  strands.looks = std::move(looks);
  return strands;
}

void meet_strands(const Strands& strands, const Batch& batch, Samples& m) {
  if (strands.links.empty() || m.count == 0) return;
  static thread_local Scratch scratch;
  TileLinks& tile = batch.from_lens ? scratch.tile : scratch.elsewhere;
  if (!batch.again) {
    Cone whole = cone_of(m);
    // The same links serve the tile's other rays.
    if (batch.from_lens) whole.far = 1e6F;
    gather(strands, whole, tile);
  }
  if (tile.count == 0) return;
  RayGroup& g = scratch.group;
  g.half_pixel = 0.5F * m.pixel_size;
  g.parallel = m.parallel;
  for (int first = 0; first < m.count; first += group_size) {
    const int count = std::min(group_size, m.count - first);
    const auto from = [&](const std::vector<float>& plane) { return plane.data() + first; };
    g.ox = from(m.org_x), g.oy = from(m.org_y), g.oz = from(m.org_z);
    g.dx = from(m.dir_x), g.dy = from(m.dir_y), g.dz = from(m.dir_z);
    g.lamp = from(m.lamp), g.travelled = from(m.travelled);
    std::copy_n(from(m.depth), group_size, g.limit);
    std::fill(g.limit + count, g.limit + group_size, 0.0F);
    std::fill_n(g.count, group_size, 0);
    meet_group(strands.links, tile, m, first, g);
    SeenLinks& seen = scratch.seen;
    seen.count = 0;
    Shown shown[group_size];
    for (int k = 0; k < count; ++k)
      if (g.count[k] > 0) shown[k] = see(strands, g, k, seen);
    if (seen.count == 0) continue;
    shade_seen(strands, g, seen);
    for (int k = 0; k < count; ++k)
      if (g.count[k] > 0) lay_over(shown[k], seen, m, first + k);
  }
}

}  // namespace haunch::render
