// SPDX-License-Identifier: Apache-2.0
// Draws a picture tile by tile: rays, wall, matter, water; edges once more with finer rays; then
// exposure, curve and lens. Tiles are independent, so threads change nothing.
#include "render/renderer.hpp"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <bit>
#include <cmath>

#include "base/random.hpp"
#include "render/finish.hpp"
#include "render/passes.hpp"
#include "render/textures.hpp"
#include "render/wall.hpp"
#include "render/water.hpp"

namespace haunch::render {
namespace {

constexpr int tile_width = 32, tile_height = 16;

/// Buffers of one thread.
struct Scratch {
  Samples samples;
  WaterScratch water;
  std::vector<float> px, py;
  std::vector<int> pixel;
  void clear(std::size_t count) {
    px.resize((count + 15) / 16 * 16);
    py.resize(px.size());
    pixel.resize(count);
  }
};

float luminance(float r, float g, float b) { return 0.2126F * r + 0.7152F * g + 0.0722F * b; }

constexpr std::size_t margin = 16;  // floats before and after a plane, so that neighbours may be read

/// The picture in linear light, and what edges are found by. Planes begin after a margin.
struct Light {
  std::vector<float> red, green, blue, luma, depth;
  std::vector<std::uint16_t> fault;
  std::vector<std::uint32_t> toned;
  void resize(std::size_t pixels) {
    for (auto* plane : {&red, &green, &blue, &luma, &depth}) plane->resize(pixels + 2 * margin);
    fault.resize(pixels + 2 * margin);
    toned.resize(pixels + 2 * margin);
  }
};

/// Logarithm to base 2, straight between powers: good enough to meter by, the same everywhere.
float rough_log2(float x) {
  return static_cast<float>(std::bit_cast<std::uint32_t>(x)) * 0x1.0p-23F - 127.0F;
}

/// What the exposure is judged by: logarithms of brightness, weighed by how much we want to see
/// what lies there.
struct Metering {
  double sum = 0, weight = 0;
  void add(float light, float depth) {
    // The wall a person codes from lies 0.3 to 1 m ahead; the near ring may burn a little.
    const float near = std::clamp((depth - 0.06F) / 0.24F, 0.12F, 1.0F);
    const float far = depth > 1.2F ? std::max(0.0F, 1 - (depth - 1.2F) / 0.6F) : 1.0F;
    const float w = near * far;
    if (!(w > 0)) return;
    sum += static_cast<double>(w * rough_log2(std::max(light, 1e-6F)));
    weight += static_cast<double>(w);
  }
};

}  // namespace

struct Renderer::Inside {
  scene::Scene scene;
  tbb::task_arena arena;
  Textures textures;
  Wall wall, wall_without_faults;
  WaterTable water;
  FaultShapes shapes;
  tbb::enumerable_thread_specific<Scratch> scratch;
  Light light;
  std::vector<Metering> metering;
  LensMap lens;
  double wanted = 1;
  float black_beyond = nothing_hit;  ///< of rays from the lens, in this picture

  Inside(const scene::Scene& s, int threads)
      : scene(s),
        arena(threads > 0 ? threads : tbb::task_arena::automatic),
        textures(arena.execute([&] { return make_textures(s.scenario); })),
        wall(build_wall(s, textures, true)),
        wall_without_faults(build_wall(s, textures, false)),
        water(water_table(s)),
        shapes(s) {}

  template <class Job>
  void each(int count, Job job) {
    arena.execute([&] { tbb::parallel_for(0, count, job); });
  }

  /// Everything but the water.
  void meet_solids(const View& view, const Batch& batch, Samples& samples) const {
    meet_wall(view.faults ? wall : wall_without_faults, textures, samples);
    if (!view.faults) return;
    shapes.mark_wall(batch, samples);
    shapes.meet_meshes(batch, samples);
    shapes.meet_strands(batch, samples);
  }

  void trace(const View& view, const RayCamera& camera, const Batch& batch, Scratch& own) const {
    const int count = static_cast<int>(own.pixel.size());
    own.px.resize(static_cast<std::size_t>(count + 15) / 16 * 16);
    own.py.resize(own.px.size());
    make_rays(camera, own.px.data(), own.py.data(), count, own.samples);
    own.samples.black_beyond = black_beyond;
    meet_solids(view, batch, own.samples);
    meet_water(water, camera, view.time_s, own.samples, own.water, [&](Samples& bent) {
      Batch other;
      other.from_lens = false;
      meet_solids(view, other, bent);
    });
  }

  void draw_tile(const View& view, const RayCamera& camera, int tile, Frame& frame) {
    const int across = (view.width + tile_width - 1) / tile_width;
    Batch batch;
    batch.x0 = tile % across * tile_width;
    batch.y0 = tile / across * tile_height;
    batch.x1 = std::min(batch.x0 + tile_width, view.width);
    batch.y1 = std::min(batch.y0 + tile_height, view.height);
    Scratch& own = scratch.local();
    own.clear(static_cast<std::size_t>((batch.x1 - batch.x0) * (batch.y1 - batch.y0)));
    std::size_t n = 0;
    for (int y = batch.y0; y < batch.y1; ++y)
      for (int x = batch.x0; x < batch.x1; ++x, ++n) {
        own.px[n] = static_cast<float>(x) + 0.5F;
        own.py[n] = static_cast<float>(y) + 0.5F;
        own.pixel[n] = y * view.width + x;
      }
    trace(view, camera, batch, own);
    Metering meter;
    const Samples& sm = own.samples;
    const auto wide = static_cast<std::size_t>(batch.x1 - batch.x0);
    for (int y = batch.y0; y < batch.y1; ++y) {
      const std::size_t from = static_cast<std::size_t>(y - batch.y0) * wide;
      const std::size_t to = static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) +
                             static_cast<std::size_t>(batch.x0);
      std::copy_n(&sm.red[from], wide, &light.red[margin + to]);
      std::copy_n(&sm.green[from], wide, &light.green[margin + to]);
      std::copy_n(&sm.blue[from], wide, &light.blue[margin + to]);
      std::copy_n(&sm.depth[from], wide, &light.depth[margin + to]);
      std::copy_n(&sm.fault[from], wide, &light.fault[margin + to]);
      std::copy_n(&sm.depth[from], wide, &frame.depth_m[to]);
      std::copy_n(&sm.fault[from], wide, &frame.fault[to]);
      for (std::size_t x = 0; x < wide; ++x)
        light.luma[margin + to + x] = luminance(sm.red[from + x], sm.green[from + x], sm.blue[from + x]);
      if (y % 4 == 0)
        for (std::size_t x = 0; x < wide; x += 4) meter.add(light.luma[margin + to + x], sm.depth[from + x]);
    }
    metering[static_cast<std::size_t>(tile)] = meter;
  }

  /// Traces the edges of a tile again, four rays a pixel.
  void smooth_tile(const View& view, const RayCamera& camera, int tile, float dark) {
    const int across = (view.width + tile_width - 1) / tile_width;
    Batch batch;
    batch.x0 = tile % across * tile_width;
    batch.y0 = tile / across * tile_height;
    batch.x1 = std::min(batch.x0 + tile_width, view.width);
    batch.y1 = std::min(batch.y0 + tile_height, view.height);
    Scratch& own = scratch.local();
    own.clear(0);
    static constexpr float offsets[4][2] = {
        {0.375F, 0.125F}, {0.875F, 0.375F}, {0.625F, 0.875F}, {0.125F, 0.625F}};
    std::uint8_t edge[tile_width + 16];
    for (int y = batch.y0; y < batch.y1; ++y) {
      const auto start = [&](int row) {
        return margin +
               static_cast<std::size_t>(std::clamp(row, 0, view.height - 1)) *
                   static_cast<std::size_t>(view.width) +
               static_cast<std::size_t>(batch.x0);
      };
      const std::size_t here = start(y), above = start(y - 1), below = start(y + 1);
      find_edges(
          {&light.luma[here], &light.luma[above], &light.luma[below], &light.depth[here], &light.depth[above],
           &light.depth[below], &light.fault[here], &light.fault[above], &light.fault[below]},
          batch.x1 - batch.x0, dark, edge);
      for (int x = batch.x0; x < batch.x1; ++x) {
        if (edge[x - batch.x0] == 0) continue;
        if (view.faults && shapes.smooth_already(light.fault[here + static_cast<std::size_t>(x - batch.x0)]))
          continue;
        for (const auto& offset : offsets) {
          own.px.push_back(static_cast<float>(x) + offset[0]);
          own.py.push_back(static_cast<float>(y) + offset[1]);
          own.pixel.push_back(y * view.width + x);
        }
      }
    }
    if (own.pixel.empty()) return;
    trace(view, camera, batch, own);
    const Samples& s = own.samples;
    // A glint brighter than the film can show must not swallow its neighbours.
    const float most = dark * 400;
    for (std::size_t i = 0; i < own.pixel.size(); i += 4) {
      const auto to = margin + static_cast<std::size_t>(own.pixel[i]);
      float r = 0, g = 0, b = 0;
      for (std::size_t n = i; n < i + 4; ++n) {
        r += std::min(s.red[n], most), g += std::min(s.green[n], most), b += std::min(s.blue[n], most);
      }
      light.red[to] = r / 4;
      light.green[to] = g / 4;
      light.blue[to] = b / 4;
    }
  }

  void draw(const View& view, Frame& frame);
  void mark_fault(const View& view, const Frame& frame);
};

/// Review: the fault in question glows and has an outline.
void Renderer::Inside::mark_fault(const View& view, const Frame& frame) {
  const auto number = static_cast<std::uint16_t>(view.highlight_fault);
  const auto w = static_cast<std::size_t>(view.width), h = static_cast<std::size_t>(view.height);
  constexpr std::uint32_t lit_up[3] = {120, 900, 1000};  // clear of every colour a drain has
  each(view.height, [&](int row) {
    for (std::size_t x = 0, y = static_cast<std::size_t>(row); x < w; ++x) {
      const bool inside = frame.fault[y * w + x] == number;
      bool rim = false;
      for (std::size_t j = y > 1 ? y - 2 : 0; j <= std::min(y + 2, h - 1) && !rim; ++j)
        for (std::size_t i = x > 1 ? x - 2 : 0; i <= std::min(x + 2, w - 1) && !rim; ++i)
          rim = (frame.fault[j * w + i] == number) != inside;
      if (!inside && !rim) continue;
      std::uint32_t& word = light.toned[margin + y * w + x];
      const std::uint32_t share = rim ? 230 : 70;
      std::uint32_t out = 0;
      for (std::uint32_t ch = 0; ch < 3; ++ch) {
        const std::uint32_t had = (word >> (10 * ch)) & 1023U;
        out |= (had * (256 - share) + lit_up[ch] * share) / 256 << (10 * ch);
      }
      word = out;
    }
  });
}

void Renderer::Inside::draw(const View& view, Frame& frame) {
  const auto pixels = static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height);
  frame.width = view.width;
  frame.height = view.height;
  frame.rgb.resize(3 * pixels);
  frame.fault.resize(pixels);
  frame.depth_m.resize(pixels);
  light.resize(pixels);
  const RayCamera camera = ray_camera(view.pose, view.width, view.height,
                                      view.lens == Lens::parallel ? view.parallel_height_m : 0);
  shapes.begin_picture(camera, view.time_s);
  black_beyond = lens_under(water, camera) ? water.black_beyond : nothing_hit;
  const int tiles =
      ((view.width + tile_width - 1) / tile_width) * ((view.height + tile_height - 1) / tile_height);
  metering.assign(static_cast<std::size_t>(tiles), {});
  each(tiles, [&](int tile) { draw_tile(view, camera, tile, frame); });

  Metering all;
  for (const Metering& part : metering) all.sum += part.sum, all.weight += part.weight;
  // A dark pipe stays darker than a pale one: only four fifths of the difference are made up.
  const double seen = all.weight > 0 ? std::exp2(0.8 * (all.sum / all.weight)) : 1;
  wanted = all.weight > 0 ? std::clamp(0.092 / seen, 1e-4, 20.0) : 1;
  const double gain = view.exposure > 0 ? view.exposure : wanted;

  // Edges are found by planes that stay as they are, so no tile sees what its neighbour has changed.
  const auto dark = static_cast<float>(0.02 / gain);
  each(tiles, [&](int tile) { smooth_tile(view, camera, tile, dark); });

  constexpr int strip = 16;  // rows: a whole number of vectors whatever the width
  each((view.height + strip - 1) / strip, [&](int part) {
    const auto from = margin + static_cast<std::size_t>(part * strip) * static_cast<std::size_t>(view.width);
    const int rows = std::min(strip, view.height - part * strip);
    tone(&light.red[from], &light.green[from], &light.blue[from], rows * view.width, static_cast<float>(gain),
         &light.toned[from]);
  });
  if (view.highlight_fault > 0) mark_fault(view, frame);

  if (view.lens_effects && (lens.width != view.width || lens.height != view.height))
    lens = lens_map(view.width, view.height, scene.scenario.seed);
  // A picture in the dark is pushed harder and is noisier.
  const float grain =
      view.noise ? static_cast<float>(std::clamp(7 + 2.5 * std::log2(gain + 1), 7.0, 20.0)) : 0.0F;
  const auto seed = static_cast<std::uint32_t>(base::mix(
      scene.scenario.seed ^ base::mix(static_cast<std::uint64_t>(std::llround(view.time_s * 1000)))));
  each(view.height, [&](int row) {
    develop_row(light.toned.data() + margin, view.width, view.height, row,
                view.lens_effects ? &lens : nullptr, grain, seed, frame.rgb.data());
  });
}

Renderer::Renderer(const scene::Scene& scene, int threads)
    : inside_(std::make_unique<Inside>(scene, threads)) {}
Renderer::~Renderer() = default;
Renderer::Renderer(Renderer&&) noexcept = default;
Renderer& Renderer::operator=(Renderer&&) noexcept = default;

Frame Renderer::draw(const View& view) {
  Frame frame;
  inside_->draw(view, frame);
  return frame;
}
void Renderer::draw(const View& view, Frame& frame) { inside_->draw(view, frame); }
double Renderer::wanted_exposure() const { return inside_->wanted; }

}  // namespace haunch::render
