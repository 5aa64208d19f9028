// SPDX-License-Identifier: Apache-2.0
// Draws a picture tile by tile: rays, wall, matter, water; edges once more with finer rays; then
// exposure, curve and lens. Tiles are independent, so threads change nothing.
#include "render/renderer.hpp"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
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
};

/// The picture in linear light.
struct Light {
  std::vector<float> red, green, blue;
  std::vector<std::uint32_t> toned;
  void resize(std::size_t pixels) {
    for (auto* plane : {&red, &green, &blue}) plane->resize(pixels + 16);
    toned.resize(pixels + 16);
  }
};

float luminance(float r, float g, float b) { return 0.2126F * r + 0.7152F * g + 0.0722F * b; }

/// What the exposure is judged by: logarithms of brightness, weighed by how much we want to see
/// what lies there.
struct Metering {
  double sum = 0, weight = 0;
  void add(float light, float depth) {
    // The wall a person codes from lies 0.3 to 1 m ahead; the near ring may burn a little.
    const double near = std::clamp((depth - 0.10) / 0.25, 0.06, 1.0);
    const double far = depth > 1.2 ? std::max(0.0, 1 - (depth - 1.2) / 0.6) : 1.0;
    const double w = near * far;
    if (!(w > 0)) return;
    sum += w * std::log2(std::max(light, 1e-6F));
    weight += w;
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
  Light light, smooth;
  std::vector<Metering> metering;
  LensMap lens;
  double wanted = 1;

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
    own.px.clear(), own.py.clear(), own.pixel.clear();
    for (int y = batch.y0; y < batch.y1; ++y)
      for (int x = batch.x0; x < batch.x1; ++x) {
        own.px.push_back(static_cast<float>(x) + 0.5F);
        own.py.push_back(static_cast<float>(y) + 0.5F);
        own.pixel.push_back(y * view.width + x);
      }
    trace(view, camera, batch, own);
    Metering meter;
    for (std::size_t i = 0; i < own.pixel.size(); ++i) {
      const auto to = static_cast<std::size_t>(own.pixel[i]);
      const Samples& s = own.samples;
      light.red[to] = s.red[i];
      light.green[to] = s.green[i];
      light.blue[to] = s.blue[i];
      frame.depth_m[to] = s.depth[i];
      frame.fault[to] = s.fault[i];
      if ((own.pixel[i] & 3) == 0) meter.add(luminance(s.red[i], s.green[i], s.blue[i]), s.depth[i]);
    }
    metering[static_cast<std::size_t>(tile)] = meter;
  }

  /// Does a pixel lie on an edge of something?
  bool on_edge(const Frame& frame, int x, int y, float dark) const {
    const auto at = [&](int i, int j) {
      return static_cast<std::size_t>(std::clamp(j, 0, frame.height - 1)) *
                 static_cast<std::size_t>(frame.width) +
             static_cast<std::size_t>(std::clamp(i, 0, frame.width - 1));
    };
    const std::size_t here = at(x, y);
    const std::size_t side[4] = {at(x - 1, y), at(x + 1, y), at(x, y - 1), at(x, y + 1)};
    const float own = luminance(light.red[here], light.green[here], light.blue[here]) + dark;
    for (const std::size_t other : side) {
      if (frame.fault[here] != frame.fault[other]) return true;
      const float beside = luminance(light.red[other], light.green[other], light.blue[other]) + dark;
      if (own > 1.9F * beside || beside > 1.9F * own) return true;
    }
    const float d = frame.depth_m[here];
    for (int pair = 0; pair < 4; pair += 2) {
      const float a = frame.depth_m[side[pair]], b = frame.depth_m[side[pair + 1]];
      if (std::isinf(a) != std::isinf(d) || std::isinf(b) != std::isinf(d)) return true;
      if (!std::isinf(d) && std::fabs(a + b - 2 * d) > 0.06F * d) return true;
    }
    return false;
  }

  /// Traces the edges of a tile again, four rays a pixel.
  void smooth_tile(const View& view, const RayCamera& camera, int tile, const Frame& frame, Light& out,
                   float dark) {
    const int across = (view.width + tile_width - 1) / tile_width;
    Batch batch;
    batch.x0 = tile % across * tile_width;
    batch.y0 = tile / across * tile_height;
    batch.x1 = std::min(batch.x0 + tile_width, view.width);
    batch.y1 = std::min(batch.y0 + tile_height, view.height);
    Scratch& own = scratch.local();
    own.px.clear(), own.py.clear(), own.pixel.clear();
    static constexpr float offsets[4][2] = {
        {0.375F, 0.125F}, {0.875F, 0.375F}, {0.625F, 0.875F}, {0.125F, 0.625F}};
    for (int y = batch.y0; y < batch.y1; ++y)
      for (int x = batch.x0; x < batch.x1; ++x) {
        if (!on_edge(frame, x, y, dark)) continue;
        for (const auto& offset : offsets) {
          own.px.push_back(static_cast<float>(x) + offset[0]);
          own.py.push_back(static_cast<float>(y) + offset[1]);
          own.pixel.push_back(y * view.width + x);
        }
      }
    if (own.pixel.empty()) return;
    trace(view, camera, batch, own);
    const Samples& s = own.samples;
    // A glint brighter than the film can show must not swallow its neighbours.
    const float most = dark * 400;
    for (std::size_t i = 0; i < own.pixel.size(); i += 4) {
      const auto to = static_cast<std::size_t>(own.pixel[i]);
      float r = 0, g = 0, b = 0;
      for (std::size_t n = i; n < i + 4; ++n) {
        r += std::min(s.red[n], most), g += std::min(s.green[n], most), b += std::min(s.blue[n], most);
      }
      out.red[to] = r / 4;
      out.green[to] = g / 4;
      out.blue[to] = b / 4;
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
      std::uint32_t& word = light.toned[y * w + x];
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
  const int tiles =
      ((view.width + tile_width - 1) / tile_width) * ((view.height + tile_height - 1) / tile_height);
  metering.assign(static_cast<std::size_t>(tiles), {});
  each(tiles, [&](int tile) { draw_tile(view, camera, tile, frame); });

  Metering all;
  for (const Metering& part : metering) all.sum += part.sum, all.weight += part.weight;
  wanted = all.weight > 0 ? std::clamp(0.2 / std::exp2(all.sum / all.weight), 1e-4, 20.0) : 1;
  const double gain = view.exposure > 0 ? view.exposure : wanted;

  // Edges are looked for in the first picture while the smoothed pixels go to another, so that no
  // tile sees what its neighbour has already changed.
  smooth.red = light.red;
  smooth.green = light.green;
  smooth.blue = light.blue;
  const auto dark = static_cast<float>(0.02 / gain);
  each(tiles, [&](int tile) { smooth_tile(view, camera, tile, frame, smooth, dark); });
  std::swap(light.red, smooth.red);
  std::swap(light.green, smooth.green);
  std::swap(light.blue, smooth.blue);

  constexpr int strip = 16;  // rows: a whole number of vectors whatever the width
  each((view.height + strip - 1) / strip, [&](int part) {
    const auto from = static_cast<std::size_t>(part * strip) * static_cast<std::size_t>(view.width);
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
    develop_row(light.toned.data(), view.width, view.height, row, view.lens_effects ? &lens : nullptr, grain,
                seed, frame.rgb.data());
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
