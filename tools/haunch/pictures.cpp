// SPDX-License-Identifier: Apache-2.0
#include "pictures.hpp"

#include <algorithm>
#include <cmath>

#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#include <stb/stb_image_write.h>

#include "render/renderer.hpp"
#include "report/lines.hpp"
#include "report/record_pictures.hpp"
#include "report/standing.hpp"

namespace haunch::cli {
namespace {

constexpr int jpeg_quality = 82;

/// What to draw, before it is drawn.
struct Plan {
  std::string name, truth, caption;
  double lens_z_m = 0;
  int light = 0;
  std::string attempt{};
};

/// Half the size each way: a report of many pictures stays small enough to send.
std::string small_jpeg(const render::Frame& frame) {
  const int width = frame.width / 2, height = frame.height / 2;
  std::vector<std::uint8_t> half(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
  const auto at = [&](int x, int y, int c) {
    return static_cast<int>(frame.rgb[(static_cast<std::size_t>(y) * static_cast<std::size_t>(frame.width) +
                                       static_cast<std::size_t>(x)) *
                                          3 +
                                      static_cast<std::size_t>(c)]);
  };
  std::size_t out = 0;
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      for (int c = 0; c < 3; ++c) {
        const int sum = at(2 * x, 2 * y, c) + at(2 * x + 1, 2 * y, c) + at(2 * x, 2 * y + 1, c) +
                        at(2 * x + 1, 2 * y + 1, c);
        half[out++] = static_cast<std::uint8_t>((sum + 2) / 4);
      }
    }
  }
  std::string bytes;
  stbi_write_jpg_to_func(
      [](void* to, void* data, int size) {
        static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
      },
      &bytes, width, height, 3, half.data(), jpeg_quality);
  return bytes;
}

/// Lens place from which something at [from, to] is seen whole: a ring 3.5 radii ahead fills about
/// half the picture's height at a 90 degree field (geometry).
double lens_before(const scene::Scene& scene, double from_z, double to_z) {
  const bool downstream = scene::travel(scene.scenario) > 0;
  const double near = downstream ? from_z : to_z;
  const double ahead = 3.5 * scene::radius_at(scene, near);
  return std::clamp(downstream ? near - ahead : near + ahead, 0.0, scene.length_m());
}

/// A pond is a sliver from its edge and plain from within: the lens goes in towards the deepest place as
/// far as it can while the head stays clear of the water.
double lens_over_water(const scene::Scene& scene, double from_z, double to_z) {
  const bool downstream = scene::travel(scene.scenario) > 0;
  const int steps = std::max(1, static_cast<int>(std::ceil((to_z - from_z) / 0.02)));
  const auto at = [&](int step) {
    const double share = static_cast<double>(step) / steps;
    return downstream ? from_z + share * (to_z - from_z) : to_z - share * (to_z - from_z);
  };
  const auto depth = [&](double z) { return scene::level_at(scene.water, z) - scene::invert_at(scene, z); };
  int deepest = 0;
  for (int i = 1; i <= steps; ++i)
    if (depth(at(i)) > depth(at(deepest))) deepest = i;
  const double wanted = lens_before(scene, at(deepest), at(deepest));
  double lens = lens_before(scene, from_z, to_z);
  for (int i = 0; i <= steps; ++i) {
    const double z = at(i);
    if (downstream ? z > wanted : z < wanted) break;
    if (scene::submerged_share(scene, scene::pose_at(scene, z)) > 0) break;
    lens = z;
  }
  return lens;
}

std::string numbered(const char* word, const std::string& label, const char* rest) {
  return std::string(word) + "-" + (label.size() < 2 ? "0" : "") + label + rest + ".png";
}

std::vector<Plan> plan(const TruthInput& truth, const marking::Marking& marking, base::LengthUnit unit) {
  const scene::Scene& scene = *truth.scene;
  const auto lines = report::lines_of(truth.truth.record, coding::CodeList::shipped(), unit);
  std::vector<Plan> plans;
  const auto add = [&](const std::string& id, const char* word, bool light) {
    const auto& seen = truth.truth.record.observations;
    const auto found =
        std::find_if(seen.begin(), seen.end(), [&](const coding::Observation& one) { return one.id == id; });
    const report::Line* line = report::find_line(lines, id);
    if (found == seen.end() || line == nullptr) return;
    const truth::Origin& origin = truth.truth.origins.at(static_cast<std::size_t>(found - seen.begin()));
    const bool pond = found->code == "BDD" && origin.to_z_m > origin.from_z_m;
    const double lens = pond ? lens_over_water(scene, origin.from_z_m, origin.to_z_m)
                             : lens_before(scene, origin.from_z_m, origin.to_z_m);
    std::string caption = line->words + ", at " + line->where;
    if (pond) caption += ", seen from " + base::show_distance(scene::distance_of(scene.scenario, lens), unit);
    plans.push_back({numbered(word, line->label, ""), id, caption, lens, 0});
    if (light && origin.fault > 0) {
      plans.push_back(
          {numbered(word, line->label, "-lit"), id, line->words + ", lit up", lens, origin.fault});
    }
  };
  for (const marking::Missed& missed : marking.missed) add(missed.truth, "missed", true);
  for (const marking::Hit& hit : marking.hits)
    add(hit.truth, "found", report::came_of(hit) == report::Came::partly);
  for (const marking::Invented& invented : marking.invented) {
    if (!invented.distance_m) continue;
    const double z = scene::chainage_of(scene.scenario, *invented.distance_m);
    if (z < 0 || z > scene.length_m()) continue;
    const std::string at = base::show_distance(*invented.distance_m, unit);
    plans.push_back({numbered("logged", std::to_string(1 + (&invented - marking.invented.data())), ""), "",
                     "The pipe at " + at + ", where " + invented.code + " was logged",
                     lens_before(scene, z, z), 0, invented.attempt});
  }
  for (int i = 1; i <= 3; ++i) {
    const double share = scene::travel(scene.scenario) > 0 ? i / 4.0 : 1 - i / 4.0;
    const double z = share * scene.length_m();
    if (truth.truth.stop && scene::travel(scene.scenario) * (z - truth.truth.stop->lens_z_m) > 0)
      continue;  // the camera never came there
    plans.push_back({"view-0" + std::to_string(i) + ".png", "",
                     "The pipe at " + base::show_distance(scene::distance_of(scene.scenario, z), unit), z,
                     0});
  }
  return plans;
}

}  // namespace

std::vector<DrawnPicture> draw_pictures(const TruthInput& truth, const marking::Marking& marking,
                                        base::LengthUnit unit, const std::function<void(int, int)>& tell) {
  const scene::Scene& scene = *truth.scene;
  render::Renderer renderer(scene);
  const std::vector<Plan> plans = plan(truth, marking, unit);
  std::vector<DrawnPicture> drawn;
  for (const Plan& one : plans) {
    tell(static_cast<int>(drawn.size()) + 1, static_cast<int>(plans.size()));
    // Findings at one place share their picture.
    const auto same = std::find_if(
        plans.begin(), plans.begin() + static_cast<std::ptrdiff_t>(drawn.size()),
        [&](const Plan& other) { return other.lens_z_m == one.lens_z_m && other.light == one.light; });
    if (const auto index = static_cast<std::size_t>(same - plans.begin()); index < drawn.size()) {
      DrawnPicture again{one.name, drawn[index].png, drawn[index].picture};
      again.picture.truth = one.truth;
      again.picture.attempt = one.attempt;
      again.picture.caption = one.caption;
      drawn.push_back(std::move(again));
      continue;
    }
    render::View view;
    view.pose = scene::pose_at(scene, one.lens_z_m);
    view.highlight_fault = one.light;
    const render::Frame frame = renderer.draw(view);
    DrawnPicture picture{one.name, render::colour_png(frame), {}};
    picture.picture = {one.truth,
                       scene::distance_of(scene.scenario, one.lens_z_m),
                       one.light > 0,
                       one.caption,
                       "data:image/jpeg;base64," + report::base64(small_jpeg(frame)),
                       one.attempt};
    drawn.push_back(std::move(picture));
  }
  return drawn;
}

}  // namespace haunch::cli
