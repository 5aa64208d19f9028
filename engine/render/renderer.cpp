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
#include <numbers>

#include "base/random.hpp"
#include "render/analogue.hpp"
#include "render/between.hpp"
#include "render/ends.hpp"
#include "render/film.hpp"
#include "render/finish.hpp"
#include "render/haze.hpp"
#include "render/motion.hpp"
#include "render/oddities.hpp"
#include "render/passes.hpp"
#include "render/stages.hpp"
#include "render/textures.hpp"
#include "render/wall.hpp"
#include "render/wall_looks.hpp"
#include "render/water.hpp"
#include "scene/haze.hpp"

namespace haunch::render {
namespace {

/// Three rows of a picture with a margin at both ends, the middle one with the rows around it.
template <class T>
struct ThreeRows {
  static constexpr std::size_t margin = 16;
  std::vector<T> rows[3];
  void resize(int width) {
    for (auto& row : rows) row.resize(static_cast<std::size_t>(width) + 2 * margin);
  }
  T* row(int y) { return rows[(y + 3) % 3].data() + margin; }
  /// What lies beyond the frame repeats its rim.
  void close(int y, int width) { row(y)[-1] = row(y)[0], row(y)[width] = row(y)[width - 1]; }
};

/// Buffers of one thread.
struct Scratch {
  ThreeRows<float> luma, depth;
  ThreeRows<std::uint16_t> fault;
  std::vector<std::uint8_t> edge;
  Samples samples;
  Board traced, between;
  std::int32_t wanted[board_size];
  WaterScratch water;
  std::vector<float> px, py;
  std::vector<float> glow;           ///< a row of it
  std::vector<std::uint32_t> toned;  ///< a row
  std::vector<int> pixel;            // edges of a band
  void clear() {
    px.clear();
    py.clear();
  }
  /// One more ray through a place of the picture.
  void aim(float x, float y) {
    px.push_back(x);
    py.push_back(y);
  }
};

constexpr std::size_t most_sizes = 8;  // of pictures whose lens is remembered: a window draws a few in turn
constexpr std::size_t margin = 16;     // after (and before) a plane, so that whole vectors may be read

/// The picture in linear light (PackLight's words) and as the film saw it, row after row.
struct Light {
  std::vector<std::uint32_t> linear, toned;  // toned: after a margin
  std::vector<std::uint8_t> smooth;          // after a margin of a row; empty: nowhere
  void resize(std::size_t pixels) {
    linear.resize(pixels + margin);
    toned.resize(pixels + 2 * margin);
  }
};

/// Logarithm to base 2, straight between powers: good enough to meter by, the same everywhere.
float rough_log2(float x) {
  return static_cast<float>(std::bit_cast<std::uint32_t>(x)) * 0x1.0p-23F - 127.0F;
}

/// How squarely the camera looks along the pipe: 1 straight on, little when it is turned to the wall.
float squarely(const scene::CameraPose& pose) {
  constexpr double degree = std::numbers::pi / 180;
  const double along = std::cos(pose.yaw_deg * degree) * std::cos(pose.pitch_deg * degree);
  return static_cast<float>(std::max(0.15, along * along * along * along));
}

/// What the exposure is judged by: logarithms of brightness, weighed by how much we want to see
/// what lies there.
struct Metering {
  static constexpr int bins = 64;
  double sums[bins] = {}, weights[bins] = {};  ///< by half stops from 2^-20
  std::uint16_t lights[bins] = {};             ///< how many are how bright
  /// `turned` as squarely() has it.
  void add(float light, float depth, float turned) {
    const float stops = rough_log2(std::max(light, 1e-6F));
    const int bin = std::clamp(static_cast<int>(2 * (stops + 20)), 0, bins - 1);
    ++lights[bin];
    // The wall a person codes from lies 0.3 to 1 m ahead, the near ring may burn a little; who looks at the
    // wall beside them codes from what is there.
    const float near = std::clamp((depth - 0.06F * turned) / (0.24F * turned), 0.12F, 1.0F);
    const float far = depth > 1.2F ? std::max(0.0F, 1 - (depth - 1.2F) / 0.6F) : 1.0F;
    const float w = near * far;
    if (!(w > 0)) return;
    sums[bin] += static_cast<double>(w * stops);
    weights[bin] += static_cast<double>(w);
  }
};

/// The mean of what is judged by, in stops. What is far darker than most of it is a hole into which no light
/// gets: it must not burn the wall about it.
double mean_stops(const std::vector<Metering>& parts) {
  constexpr double dark_stops = 5;
  double sums[Metering::bins] = {}, weights[Metering::bins] = {}, weight = 0;
  for (const Metering& part : parts)
    for (int k = 0; k < Metering::bins; ++k)
      sums[k] += part.sums[k], weights[k] += part.weights[k], weight += part.weights[k];
  double below = 0, sum = 0;
  int middle = 0;
  while (middle < Metering::bins - 1 && below + weights[middle] < weight / 2) below += weights[middle++];
  const double least = 0.5 * middle - 20 - dark_stops;
  for (int k = 0; k < Metering::bins; ++k) sum += std::max(sums[k], least * weights[k]);
  return sum / weight;
}

/// Black walls are to look black and white ones white although the lamp is the same: the film makes up less
/// of the difference there. 1 for all between. Ours, by eye.
std::vector<double> tones_of(const scene::Scene& scene, const Textures& textures) {
  std::vector<double> tones;
  for (const scene::Section& section : scene.scenario.sections) {
    const Rgb tint = look_of(section, 0).tint;
    const float* mean = textures.mean[tile_kind(section)];
    const auto light =
        static_cast<double>(0.3F * tint.r * mean[0] + 0.6F * tint.g * mean[1] + 0.1F * tint.b * mean[2]);
    tones.push_back(std::min(0.48 + 0.52 * light / 0.050, 1.0) *
                    std::clamp(1 + 1.1 * (light - 0.44), 1.0, 1.3));
  }
  return tones;
}

/// A camera that looks straight at a wet wall sees its own lamps in it: it stops down until no more than a
/// part of the picture burns out, two and a half stops at most (ours).
/// Turned to the wall it has but that to show, and stops down sooner.
double spared(double gain, double meant, double turned, const std::vector<Metering>& parts) {
  constexpr double burnt_share = 0.10;
  const double burnt_from = (0.45 + 0.95 * turned) * std::max(1.0, meant);
  long all = 0, lights[Metering::bins] = {};
  for (const Metering& part : parts)
    for (int k = 0; k < Metering::bins; ++k) lights[k] += part.lights[k], all += part.lights[k];
  long burnt = 0;
  int k = Metering::bins - 1;
  for (; k > 0 && static_cast<double>(burnt + lights[k]) <= burnt_share * static_cast<double>(all); --k)
    burnt += lights[k];
  return std::max(gain * std::exp2(-2.5), std::min(gain, burnt_from / std::exp2(0.5 * k - 20)));
}

}  // namespace

struct Renderer::Inside {
  scene::Scene scene;
  tbb::task_arena arena;
  std::shared_ptr<const Textures> textures;
  Wall wall, wall_without_faults;
  WaterTable water;
  HazeTable steam, silt;
  const HazeTable* haze = nullptr;  ///< that this picture looks through
  FaultShapes shapes;
  Ends ends;
  std::vector<Oddity> oddities;
  tbb::enumerable_thread_specific<Scratch> scratch;
  Light light;
  std::vector<Metering> metering;
  /// In air, with drops on the window, and under water; of each a few sizes, the one used last in front.
  std::vector<LensMap> lens[2];
  LensMap wet;  ///< while drops run off
  Glow glow;
  Film film;                            ///< the last that stuck to the window
  std::vector<std::uint32_t> moved[2];  ///< drawn out by motion; of the analogue look's two half pictures
  double wanted = 1, got = 1;           ///< gains of the last picture
  std::vector<double> meant;            ///< of each section: how bright its wall is meant to come out
  float black_beyond = nothing_hit;     ///< of rays from the lens, in this picture
  bool lens_drowned = false;

  Inside(const scene::Scene& s, int threads, std::shared_ptr<const Textures> ready = {})
      : scene(s),
        arena(threads > 0 ? threads : tbb::task_arena::automatic),
        textures(ready ? std::move(ready) : arena.execute([&] {
          return std::make_shared<const Textures>(make_textures(s.scenario));
        })),
        wall(build_wall(s, *textures, true)),
        wall_without_faults(build_wall(s, *textures, false)),
        water(water_table(s)),
        steam(haze_table(s, scene::HazeKind::steam)),
        silt(haze_table(s, scene::HazeKind::silt)),
        shapes(arena.execute([&] { return FaultShapes(s); })),
        ends(s),
        oddities(make_oddities(s)),
        meant(tones_of(s, *textures)) {}

  template <class Job>
  void each(int count, Job job) {
    arena.execute([&] { tbb::parallel_for(0, count, job); });
  }

  const Wall& wall_of(const View& view) const { return view.faults ? wall : wall_without_faults; }
  void meet_matter(const View& view, const Batch& batch, Samples& samples) const {
    const InStage marks(Stage::marks);
    show_oddities(oddities, samples);
    if (view.faults) shapes.mark_wall(batch, samples);
    ends.meet(batch, samples);
    if (!view.faults) return;
    {
      const InStage meshes(Stage::meshes);
      shapes.meet_meshes(batch, samples);
    }
    const InStage strands(Stage::strands);
    shapes.meet_strands(batch, samples);
  }

  /// `between` is done before the wall is lit.
  template <class Between>
  void meet_wall(const View& view, Samples& samples, Between between) const {
    const InStage met(Stage::wall);
    walk_wall(wall_of(view), samples);
    between();
    const InStage lit(Stage::shade);
    shade_wall(wall_of(view), *textures, view.faults ? &shapes.marks() : nullptr, samples);
  }

  void trace(const View& view, const RayCamera& camera, const Batch& batch, Scratch& own) const {
    Samples& samples = own.samples;
    const int count = static_cast<int>(own.px.size());
    own.px.resize(static_cast<std::size_t>(count + 15) / 16 * 16);
    own.py.resize(own.px.size());
    const InStage rays(Stage::rays);
    make_rays(camera, own.px.data(), own.py.data(), count, samples);
    samples.black_beyond = black_beyond;
    samples.drowned = lens_drowned;
    meet_wall(view, samples, [&] {
      if (water.any) find_water(water, camera, samples, own.water);
    });
    meet_matter(view, batch, samples);
    if (water.any) look_into_water(view, samples, own);
    lay_veils(samples);
    if (haze != nullptr) go_through_haze(*haze, view.time_s, samples);
  }

  void look_into_water(const View& view, Samples& samples, Scratch& own) const {
    const InStage in_water(Stage::water);
    meet_water(water, view.time_s, samples, own.water, [&](Samples& bent) {
      meet_wall(view, bent, [] {});
      Batch other;
      other.from_lens = false;
      meet_matter(view, other, bent);
      lay_veils(bent);
    });
  }

  TileRow row_of(const View& view, const Batch& batch, int y, Frame& frame) {
    const std::size_t to = pixel_at(view, batch.x0, y);
    return {&light.linear[to], &frame.depth_m[to], &frame.fault[to]};
  }

  /// Every pixel by its own ray.
  void draw_all(const View& view, const RayCamera& camera, const Batch& batch, Scratch& own, Frame& frame) {
    own.clear();
    for (int y = batch.y0; y < batch.y1; ++y)
      for (int x = batch.x0; x < batch.x1; ++x)
        own.aim(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F);
    trace(view, camera, batch, own);
    const auto wide = static_cast<std::size_t>(batch.x1 - batch.x0);
    for (int y = batch.y0; y < batch.y1; ++y) {
      const std::size_t from = static_cast<std::size_t>(y - batch.y0) * wide;
      keep_row(own.samples, from, wide, row_of(view, batch, y, frame));
      if (light.smooth.empty()) continue;
      std::uint8_t* smooth = smooth_at(view, batch.x0, y);
      for (std::size_t n = 0; n < wide; ++n)
        smooth[n] = own.samples.any_smooth ? own.samples.smooth[from + n] : std::uint8_t{0};
    }
  }

  /// Every other pixel, then those that differ from what is around them.
  void draw_board(const View& view, const RayCamera& camera, Batch batch, Scratch& own, Frame& frame) {
    own.px.resize(board_size);
    own.py.resize(board_size);
    for (std::size_t n = 0; n < board_size; ++n) {
      const BoardPlace at = board_place(static_cast<int>(n));
      own.px[n] = static_cast<float>(batch.x0 + traced_column(at.row, at.k)) + 0.5F;
      own.py[n] = static_cast<float>(batch.y0 + at.row) + 0.5F;
    }
    trace(view, camera, batch, own);
    take_board(own.samples, own.traced);
    const int many = fill_between(own.traced, own.between, own.wanted);
    if (many > 0) {
      own.clear();
      for (int n = 0; n < many; ++n) {
        const int row = own.wanted[n] / board_width;
        own.aim(static_cast<float>(batch.x0 + between_column(row, own.wanted[n] % board_width)) + 0.5F,
                static_cast<float>(batch.y0 + row) + 0.5F);
      }
      batch.again = true;
      trace(view, camera, batch, own);
      put_wanted(own.samples, own.wanted, many, own.between);
    }
    for (int row = 0; row < tile_height; ++row) {
      merge_row(own.traced, own.between, row, row_of(view, batch, batch.y0 + row, frame));
      if (light.smooth.empty()) continue;
      std::uint8_t* smooth = smooth_at(view, batch.x0, batch.y0 + row);
      for (int k = 0; k < board_width; ++k) {
        smooth[traced_column(row, k)] = own.traced.smooth[row * board_width + k];
        smooth[between_column(row, k)] = own.between.smooth[row * board_width + k];
      }
    }
  }

  void draw_tile(const View& view, const RayCamera& camera, int tile, Frame& frame) {
    const Batch batch = batch_of(view, tile);
    Scratch& own = scratch.local();
    const int wide = batch.x1 - batch.x0;
    const InStage between(Stage::between);
    const bool whole_tile = wide == tile_width && batch.y1 - batch.y0 == tile_height;
    if (whole_tile && !view.every_pixel)
      draw_board(view, camera, batch, own, frame);
    else
      draw_all(view, camera, batch, own, frame);
    Metering meter;
    const float turned = squarely(view.pose);
    for (int y = (batch.y0 + 3) / 4 * 4; y < batch.y1; y += 4) {
      const TileRow row = row_of(view, batch, y, frame);
      float luma[tile_width + 16];
      brightness(row.light, wide, luma);
      for (int n = 0; n < wide; n += 4) meter.add(luma[n], row.depth[n], turned);
    }
    metering[static_cast<std::size_t>(tile)] = meter;
  }

  /// A row of tiles as the film sees it; its edges are traced again, four rays a pixel.
  void finish_band(const View& view, const RayCamera& camera, int band, const Frame& frame, float gain) {
    const int y0 = band * tile_height, y1 = std::min(y0 + tile_height, view.height), wide = view.width;
    const auto width = static_cast<std::size_t>(wide);
    const InStage in_film(Stage::film);
    Scratch& own = scratch.local();
    own.luma.resize(wide);
    own.depth.resize(wide);
    own.fault.resize(wide);
    own.edge.resize(width + margin);
    own.pixel.clear();
    const auto fetch = [&](int y) {
      const std::size_t from = pixel_at(view, 0, std::clamp(y, 0, view.height - 1));
      brightness(&light.linear[from], wide, own.luma.row(y));
      std::copy_n(&frame.depth_m[from], width, own.depth.row(y));
      std::copy_n(&frame.fault[from], width, own.fault.row(y));
      own.luma.close(y, wide), own.depth.close(y, wide), own.fault.close(y, wide);
    };
    const float dark = 0.02F / gain;
    fetch(y0 - 1);
    fetch(y0);
    for (int y = y0; y < y1; ++y) {
      fetch(y + 1);
      const std::size_t from = pixel_at(view, 0, y);
      if (y + 1 < y1) {
        tone(&light.linear[from], wide, gain, &light.toned[margin + from]);
      } else {
        // Whole vectors would run into the next band's first row, which another thread may have finished.
        own.toned.resize(width + margin);
        tone(&light.linear[from], wide, gain, own.toned.data());
        std::copy_n(own.toned.data(), width, &light.toned[margin + from]);
      }
      find_edges(
          {own.luma.row(y), own.luma.row(y - 1), own.luma.row(y + 1), own.depth.row(y), own.depth.row(y - 1),
           own.depth.row(y + 1), own.fault.row(y), own.fault.row(y - 1), own.fault.row(y + 1)},
          wide, dark, own.edge.data());
      for (int x = 0; x < wide; ++x) {
        if (own.edge[static_cast<std::size_t>(x)] == 0) continue;
        // Neither strands nor what lies beside them: the jump is to a strand, and that is smooth.
        if (!light.smooth.empty()) {
          const std::uint8_t* smooth = smooth_at(view, x, y);
          if ((smooth[0] | smooth[-1] | smooth[1] | *(smooth - width) | smooth[width]) != 0) continue;
        }
        own.pixel.push_back(static_cast<int>(from) + x);
      }
    }
    // Tile by tile, so that rays of a batch lie close together.
    const auto tile_of = [&](int pixel) { return pixel % wide / tile_width; };
    std::stable_sort(own.pixel.begin(), own.pixel.end(),
                     [&](int a, int b) { return tile_of(a) < tile_of(b); });
    for (std::size_t first = 0, end = 0; first < own.pixel.size(); first = end) {
      const int column = tile_of(own.pixel[first]);
      while (end < own.pixel.size() && tile_of(own.pixel[end]) == column) ++end;
      const int across = (wide + tile_width - 1) / tile_width;
      refine(view, camera, batch_of(view, band * across + column), own, first, end, gain);
    }
  }

  /// Traces pixels of one tile again, with four rays each.
  void refine(const View& view, const RayCamera& camera, const Batch& batch, Scratch& own, std::size_t first,
              std::size_t end, float gain) {
    static constexpr float offsets[4][2] = {
        {0.375F, 0.125F}, {0.875F, 0.375F}, {0.625F, 0.875F}, {0.125F, 0.625F}};
    const InStage edges(Stage::edges);
    own.clear();
    for (std::size_t n = first; n < end; ++n)
      for (const auto& offset : offsets)
        own.aim(static_cast<float>(own.pixel[n] % view.width) + offset[0],
                static_cast<float>(own.pixel[n] / view.width) + offset[1]);
    trace(view, camera, batch, own);
    const Samples& s = own.samples;
    // A glint brighter than the film can show must not swallow its neighbours.
    const float most = 8 / gain;
    for (std::size_t n = first; n < end; ++n) {
      Rgb sum;
      for (std::size_t ray = 4 * (n - first); ray < 4 * (n - first) + 4; ++ray)
        sum =
            sum + Rgb{std::min(s.red[ray], most), std::min(s.green[ray], most), std::min(s.blue[ray], most)};
      light.toned[margin + static_cast<std::size_t>(own.pixel[n])] = tone_one(0.25F * sum, gain);
    }
  }

  static std::size_t pixel_at(const View& view, int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) + static_cast<std::size_t>(x);
  }
  std::uint8_t* smooth_at(const View& view, int x, int y) {
    return &light.smooth[pixel_at(view, x, y) + static_cast<std::size_t>(view.width)];
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

  bool draw(const View& view, Frame& frame);
  void cover_lens(const View& view, Frame& frame);
  void draw_motion(const View& view, const RayCamera& camera, const Frame& frame, int halves);
  const LensMap* window_of(const View& view, const std::uint32_t* toned);
  void spread_glow(const View& view, const std::uint32_t* toned);
  const float* glow_row(const View& view, int row);
  void develop(const View& view, const RayCamera& camera, Frame& frame);
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

bool Renderer::Inside::draw(const View& view, Frame& frame) {
  const auto pixels = static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height);
  frame.width = view.width;
  frame.height = view.height;
  frame.rgb.resize(3 * pixels);
  frame.fault.resize(pixels);
  frame.depth_m.resize(pixels);
  const RayCamera camera = ray_camera(view.pose, view.width, view.height,
                                      view.lens == Lens::parallel ? view.parallel_height_m : 0);
  shapes.begin_picture(camera, view.time_s);
  ends.begin_picture(camera.lens.z);
  lens_drowned = lens_under(water, camera);
  black_beyond = lens_drowned ? water.black_beyond : nothing_hit;
  const HazeTable& about = lens_drowned ? silt : steam;
  haze = view.faults && about.near(view.pose.lens.z) ? &about : nullptr;
  const int tiles =
      ((view.width + tile_width - 1) / tile_width) * ((view.height + tile_height - 1) / tile_height);
  light.resize(pixels);
  light.smooth.resize(view.faults && shapes.any_strands() ? pixels + 2 * static_cast<std::size_t>(view.width)
                                                          : 0);
  if (!light.smooth.empty()) {
    std::fill_n(light.smooth.begin(), view.width, std::uint8_t{0});
    std::fill_n(light.smooth.end() - view.width, view.width, std::uint8_t{0});
  }
  metering.assign(static_cast<std::size_t>(tiles), {});
  const auto given_up = [&] { return view.stop != nullptr && *view.stop; };
  each(tiles, [&](int tile) {
    if (!given_up()) draw_tile(view, camera, tile, frame);
  });
  if (given_up()) return false;

  const double stops = mean_stops(metering);
  const bool any = std::isfinite(stops);
  // A dark pipe stays darker than a pale one: only four fifths of the difference are made up.
  const double seen = any ? std::exp2(0.8 * stops) : 1;
  const int here = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, view.pose.lens.z))].section;
  const double tone = meant[static_cast<std::size_t>(here)];
  wanted = any ? spared(std::clamp(0.092 * tone / seen, 1e-4, 20.0), tone,
                        static_cast<double>(squarely(view.pose)), metering)
               : 1;
  got = view.exposure > 0 ? view.exposure : eased_exposure(view.eased_from, wanted, view.eased_s);

  each((view.height + tile_height - 1) / tile_height,
       [&](int band) { finish_band(view, camera, band, frame, static_cast<float>(got)); });
  cover_lens(view, frame);
  if (view.highlight_fault > 0) mark_fault(view, frame);

  develop(view, camera, frame);
  return true;
}

/// Lays over the picture what sticks to the window here.
void Renderer::Inside::cover_lens(const View& view, Frame& frame) {
  const int number = view.faults ? scene::film_at(scene.scenario, view.pose.lens.z) : 0;
  if (number == 0) return;
  if (film.fault != number || film.width != view.width || film.height != view.height)
    film =
        lens_film(view.width, view.height,
                  std::get<scene::OnLens>(scene.scenario.faults[static_cast<std::size_t>(number - 1)].kind),
                  number, scene::fault_seed(scene.scenario, number));
  std::uint32_t* toned = light.toned.data() + margin;
  spread_glow(view, toned);
  each(view.height, [&](int row) {
    const float* own = glow_row(view, row);
    const std::size_t from = pixel_at(view, 0, row);
    lay_film(film, own, row, toned + from, &frame.fault[from], &frame.depth_m[from]);
  });
}

void Renderer::Inside::spread_glow(const View& view, const std::uint32_t* toned) {
  glow.resize(view.width, view.height);
  each(glow.rows(), [&](int row) { glow.gather_row(toned, row); });
  glow.spread();
}
const float* Renderer::Inside::glow_row(const View& view, int row) {
  std::vector<float>& own = scratch.local().glow;
  own.resize(3 * glow_plane(view.width));
  glow.row(row, own.data());
  return own.data();
}

/// The picture in time: drawn out where the camera moves. One, or the analogue look's two half pictures.
void Renderer::Inside::draw_motion(const View& view, const RayCamera& camera, const Frame& frame,
                                   int halves) {
  Motion motion = motion_of(camera, view.pose, view.speed_m_s, view.roll_deg_s, view.shutter_s);
  for (int half = 0; half < halves; ++half) {
    std::vector<std::uint32_t>& out = moved[half];
    out.resize(light.toned.size());
    motion.shift = half == 0 ? 0 : static_cast<float>(half_picture_s / view.shutter_s);
    each(view.height, [&](int row) {
      draw_out(motion, light.toned.data() + margin, frame.depth_m.data(), view.width, view.height, row,
               out.data() + margin + pixel_at(view, 0, row));
    });
  }
}

/// What the window in front of the lens does to the picture; null: no lens effects.
const LensMap* Renderer::Inside::window_of(const View& view, const std::uint32_t* toned) {
  if (!view.lens_effects) return nullptr;
  std::vector<LensMap>& sizes = lens[lens_drowned ? 1 : 0];
  const auto known = std::find_if(sizes.begin(), sizes.end(), [&](const LensMap& one) {
    return one.width == view.width && one.height == view.height;
  });
  if (known != sizes.end()) {
    std::rotate(sizes.begin(), known, known + 1);
  } else {
    if (sizes.size() >= most_sizes) sizes.pop_back();
    sizes.insert(sizes.begin(), lens_map(view.width, view.height, scene.scenario.seed, scene.scenario.camera,
                                         !lens_drowned));
  }
  const LensMap& window = sizes.front();
  const LensMap* map = &window;
  if (!lens_drowned && view.wet_ago_s < runs_off_s) {
    wet_the_window(window, scene.scenario.seed, std::max(0.0, view.wet_ago_s), view.pose.roll_deg, wet);
    map = &wet;
  }
  if (!map->clean()) spread_glow(view, toned);
  return map;
}

void Renderer::Inside::develop(const View& view, const RayCamera& camera, Frame& frame) {
  const bool analogue = view.lens_effects && (view.analogue || scene.scenario.camera.analogue);
  const bool moves = (view.speed_m_s != 0 || view.roll_deg_s != 0) && view.shutter_s > 0 && !camera.parallel;
  const int halves = moves ? (analogue ? 2 : 1) : 0;
  if (halves > 0) draw_motion(view, camera, frame, halves);
  const std::uint32_t* fields[2] = {light.toned.data() + margin, light.toned.data() + margin};
  for (int half = 0; half < halves; ++half) fields[half] = moved[half].data() + margin;
  if (halves == 1) fields[1] = fields[0];
  const LensMap* window = window_of(view, fields[0]);
  // A picture in the dark is pushed harder and is noisier.
  const float grain =
      view.noise ? static_cast<float>(std::clamp(7 + 2.5 * std::log2(got + 1), 7.0, 20.0)) : 0.0F;
  const auto seed = static_cast<std::uint32_t>(base::mix(
      scene.scenario.seed ^ base::mix(static_cast<std::uint64_t>(std::llround(view.time_s * 1000)))));
  each(view.height, [&](int row) {
    const InStage developed(Stage::lens);
    const bool covered = window != nullptr && window->covered[static_cast<std::size_t>(row)] != 0;
    const float* own = covered ? glow_row(view, row) : nullptr;
    develop_row(fields[row % 2], view.width, view.height, row, window, own, grain, seed, frame.rgb.data());
    if (analogue) make_analogue(&frame.rgb[3 * pixel_at(view, 0, row)], view.width, row, seed);
  });
}

Renderer::Renderer(const scene::Scene& scene, int threads)
    : inside_(std::make_unique<Inside>(scene, threads)) {}
Renderer::Renderer(const scene::Scene& scene, const Renderer& like, int threads)
    : inside_(std::make_unique<Inside>(scene, threads, like.inside_->textures)) {}
Renderer::~Renderer() = default;
Renderer::Renderer(Renderer&&) noexcept = default;
Renderer& Renderer::operator=(Renderer&&) noexcept = default;

Frame Renderer::draw(const View& view) {
  Frame frame;
  inside_->draw(view, frame);
  return frame;
}
bool Renderer::draw(const View& view, Frame& frame) { return inside_->draw(view, frame); }
double Renderer::wanted_exposure() const { return inside_->wanted; }
double Renderer::exposure() const { return inside_->got; }

}  // namespace haunch::render
