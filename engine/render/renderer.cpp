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

/// A tile and the pixels around it.
struct Apron {
  static constexpr std::size_t first = 1, stride = tile_width + 32;
  static constexpr std::size_t size = stride * (tile_height + 2) + 16;
  float luma[size] = {}, depth[size] = {};
  std::uint16_t fault[size] = {};
};

/// Buffers of one thread.
struct Scratch {
  Apron apron;
  std::vector<std::uint32_t> toned;
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

constexpr std::size_t margin = 16;  // floats before and after a plane, so that neighbours may be read

/// The picture in linear light, tile after tile (rows of a tile lie together: memory likes that),
/// and as the film saw it, row after row after a margin.
struct Light {
  std::vector<float> red, green, blue;
  std::vector<std::uint32_t> toned;
  std::vector<float> luma;           // row after row after a margin
  std::vector<std::uint8_t> smooth;  // row after row after a margin of a row; empty: nowhere
  void resize(std::size_t pixels, std::size_t tiles) {
    for (auto* plane : {&red, &green, &blue}) plane->resize(tiles * tile_width * tile_height + margin);
    toned.resize(pixels + 2 * margin);
    luma.resize(pixels + 2 * margin);
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

  const Wall& wall_of(const View& view) const { return view.faults ? wall : wall_without_faults; }
  void meet_matter(const View& view, const Batch& batch, Samples& samples) const {
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
    walk_wall(wall_of(view), own.samples);
    if (water.any) find_water(water, camera, own.samples, own.water);
    shade_wall(wall_of(view), textures, own.samples);
    meet_matter(view, batch, own.samples);
    if (!water.any) return;
    meet_water(water, view.time_s, own.samples, own.water, [&](Samples& bent) {
      walk_wall(wall_of(view), bent);
      shade_wall(wall_of(view), textures, bent);
      Batch other;
      other.from_lens = false;
      meet_matter(view, other, bent);
    });
  }

  void draw_tile(const View& view, const RayCamera& camera, int tile, Frame& frame) {
    const Batch batch = batch_of(view, tile);
    Scratch& own = scratch.local();
    own.clear(static_cast<std::size_t>((batch.x1 - batch.x0) * (batch.y1 - batch.y0)));
    std::size_t to_ray = 0;
    for (int y = batch.y0; y < batch.y1; ++y) {
      std::fill_n(&own.py[to_ray], batch.x1 - batch.x0, static_cast<float>(y) + 0.5F);
      for (int x = batch.x0; x < batch.x1; ++x) own.px[to_ray++] = static_cast<float>(x) + 0.5F;
    }
    trace(view, camera, batch, own);
    Metering meter;
    const Samples& sm = own.samples;
    const auto wide = static_cast<std::size_t>(batch.x1 - batch.x0);
    for (int y = batch.y0; y < batch.y1; ++y) {
      const std::size_t from = static_cast<std::size_t>(y - batch.y0) * wide;
      const std::size_t to = static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) +
                             static_cast<std::size_t>(batch.x0);
      const std::size_t in = light_at(view, batch.x0, y);
      keep_row(sm, from, wide,
               {&light.red[in], &light.green[in], &light.blue[in], &frame.depth_m[to], &frame.fault[to]});
      float luma[tile_width + 16];
      brightness(&sm.red[from], &sm.green[from], &sm.blue[from], batch.x1 - batch.x0, luma);
      std::copy_n(luma, wide, &light.luma[margin + to]);
      if (!light.smooth.empty()) {
        std::uint8_t* smooth = &light.smooth[to + static_cast<std::size_t>(view.width)];
        if (sm.any_smooth)
          std::copy_n(&sm.smooth[from], wide, smooth);
        else
          std::fill_n(smooth, wide, std::uint8_t{0});
      }
      if (y % 4 == 0)
        for (std::size_t n = 0; n < wide; n += 4) meter.add(luma[n], sm.depth[from + n]);
    }
    metering[static_cast<std::size_t>(tile)] = meter;
  }

  /// A tile as the film sees it; its edges are traced again, four rays a pixel.
  void finish_tile(const View& view, const RayCamera& camera, int tile, const Frame& frame, float gain) {
    const Batch batch = batch_of(view, tile);
    const int wide = batch.x1 - batch.x0;
    Scratch& own = scratch.local();
    own.clear(0);
    Apron& apron = own.apron;
    // The tile and one pixel around it, kept apart so that nothing is read beyond the picture.
    const auto index = [&](int x, int y) {
      return static_cast<std::size_t>(std::clamp(y, 0, view.height - 1)) *
                 static_cast<std::size_t>(view.width) +
             static_cast<std::size_t>(std::clamp(x, 0, view.width - 1));
    };
    const bool inmost =
        batch.x0 > 0 && batch.y0 > 0 && batch.x1 + tile_width <= view.width && batch.y1 < view.height;
    if (!inmost)
      for (int y = batch.y0 - 1; y <= batch.y1; ++y) {
        const std::size_t row = static_cast<std::size_t>(y - batch.y0 + 1) * Apron::stride + Apron::first;
        const std::size_t from = index(batch.x0, y);
        std::copy_n(&light.luma[margin + from], wide, &apron.luma[row]);
        std::copy_n(&frame.depth_m[from], wide, &apron.depth[row]);
        std::copy_n(&frame.fault[from], wide, &apron.fault[row]);
        for (const int x : {batch.x0 - 1, batch.x1}) {
          const std::size_t there = index(x, y), to = row + static_cast<std::size_t>(x - batch.x0);
          apron.luma[to] = light.luma[margin + there];
          apron.depth[to] = frame.depth_m[there];
          apron.fault[to] = frame.fault[there];
        }
      }
    // In the midst of the picture the planes themselves serve.
    const float* luma =
        inmost ? &light.luma[margin + index(batch.x0, batch.y0)] : &apron.luma[Apron::stride + Apron::first];
    const float* depth =
        inmost ? &frame.depth_m[index(batch.x0, batch.y0)] : &apron.depth[Apron::stride + Apron::first];
    const std::uint16_t* fault =
        inmost ? &frame.fault[index(batch.x0, batch.y0)] : &apron.fault[Apron::stride + Apron::first];
    const std::size_t stride = inmost ? static_cast<std::size_t>(view.width) : Apron::stride;
    const auto dark = 0.02F / gain;
    std::uint8_t edge[tile_width + 16];
    for (int y = batch.y0; y < batch.y1; ++y) {
      const std::size_t from = light_at(view, batch.x0, y);
      std::uint32_t row[tile_width + 16];
      tone(&light.red[from], &light.green[from], &light.blue[from], wide, gain, row);
      std::copy_n(row, wide, &light.toned[margin + index(batch.x0, y)]);
      const std::size_t here = static_cast<std::size_t>(y - batch.y0) * stride;
      find_edges(
          {luma + here, luma + here - stride, luma + here + stride, depth + here, depth + here - stride,
           depth + here + stride, fault + here, fault + here - stride, fault + here + stride},
          wide, dark, edge);
      for (int x = 0; x < wide; ++x) {
        if (edge[x] == 0) continue;
        // Neither strands nor what lies beside them: the jump is to a strand, and that is smooth.
        if (!light.smooth.empty()) {
          const auto w = static_cast<std::size_t>(view.width);
          const std::uint8_t* smooth = &light.smooth[w + index(batch.x0 + x, y)];
          if ((smooth[0] | smooth[-1] | smooth[1] | *(smooth - w) | smooth[w]) != 0) continue;
        }
        static constexpr float offsets[4][2] = {
            {0.375F, 0.125F}, {0.875F, 0.375F}, {0.625F, 0.875F}, {0.125F, 0.625F}};
        for (const auto& offset : offsets) {
          own.px.push_back(static_cast<float>(batch.x0 + x) + offset[0]);
          own.py.push_back(static_cast<float>(y) + offset[1]);
          own.pixel.push_back(y * view.width + batch.x0 + x);
        }
      }
    }
    if (own.pixel.empty()) return;
    trace(view, camera, batch, own);
    Samples& s = own.samples;
    // A glint brighter than the film can show must not swallow its neighbours.
    const float most = dark * 400;
    const std::size_t pixels = own.pixel.size() / 4;
    for (auto* plane : {&s.red, &s.green, &s.blue})
      for (std::size_t i = 0; i < pixels; ++i) {
        float sum = 0;
        for (std::size_t n = 4 * i; n < 4 * i + 4; ++n) sum += std::min((*plane)[n], most);
        (*plane)[i] = sum / 4;
      }
    own.toned.resize((pixels + 15) / 16 * 16);
    tone(s.red.data(), s.green.data(), s.blue.data(), static_cast<int>(pixels), gain, own.toned.data());
    for (std::size_t i = 0; i < pixels; ++i)
      light.toned[margin + static_cast<std::size_t>(own.pixel[4 * i])] = own.toned[i];
  }

  /// Where a pixel's linear light lies.
  static std::size_t light_at(const View& view, int x, int y) {
    const int across = (view.width + tile_width - 1) / tile_width;
    const int tile = y / tile_height * across + x / tile_width;
    return static_cast<std::size_t>((tile * tile_height + y % tile_height) * tile_width + x % tile_width);
  }

  static Batch batch_of(const View& view, int tile) {
    const int across = (view.width + tile_width - 1) / tile_width;
    Batch batch;
    batch.x0 = tile % across * tile_width;
    batch.y0 = tile / across * tile_height;
    batch.x1 = std::min(batch.x0 + tile_width, view.width);
    batch.y1 = std::min(batch.y0 + tile_height, view.height);
    return batch;
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
  const RayCamera camera = ray_camera(view.pose, view.width, view.height,
                                      view.lens == Lens::parallel ? view.parallel_height_m : 0);
  shapes.begin_picture(camera, view.time_s);
  black_beyond = lens_under(water, camera) ? water.black_beyond : nothing_hit;
  const int tiles =
      ((view.width + tile_width - 1) / tile_width) * ((view.height + tile_height - 1) / tile_height);
  light.resize(pixels, static_cast<std::size_t>(tiles));
  light.smooth.resize(view.faults && shapes.any_strands() ? pixels + 2 * static_cast<std::size_t>(view.width)
                                                          : 0);
  if (!light.smooth.empty()) {
    std::fill_n(light.smooth.begin(), view.width, std::uint8_t{0});
    std::fill_n(light.smooth.end() - view.width, view.width, std::uint8_t{0});
  }
  metering.assign(static_cast<std::size_t>(tiles), {});
  each(tiles, [&](int tile) { draw_tile(view, camera, tile, frame); });

  Metering all;
  for (const Metering& part : metering) all.sum += part.sum, all.weight += part.weight;
  // A dark pipe stays darker than a pale one: only four fifths of the difference are made up.
  const double seen = all.weight > 0 ? std::exp2(0.8 * (all.sum / all.weight)) : 1;
  wanted = all.weight > 0 ? std::clamp(0.092 / seen, 1e-4, 20.0) : 1;
  const double gain = view.exposure > 0 ? view.exposure : wanted;

  each(tiles, [&](int tile) { finish_tile(view, camera, tile, frame, static_cast<float>(gain)); });
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
