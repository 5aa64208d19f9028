// SPDX-License-Identifier: Apache-2.0
#include "reference/reference.hpp"

#include <embree3/rtcore.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <thread>

#include "matter/roots.hpp"
#include "reference/meshes.hpp"
#include "reference/painted.hpp"

namespace haunch::reference {
namespace {

using measure::Camera;
using measure::Ray;
using scene::Vec2;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;
constexpr double lamp_reaches_m = 13.5;
constexpr double nearest_hair_m = 0.004;  // nearer hair is out of focus and of the lamp
constexpr double window_ahead_m = 0.010;  // where air or water begins for the lens

struct What {
  Part part = Part::bore;
  std::uint16_t fault = 0;
  int piece = -1;
};

struct Hit {
  bool any = false;
  double distance = 0;
  What what;
};

}  // namespace

struct Reference::Inside {
  const scene::Scene& scene;
  Painting painting;
  RTCDevice device = nullptr;
  RTCScene solids = nullptr, hair = nullptr;
  std::vector<What> whats, hairs;

  explicit Inside(const scene::Scene& of) : scene(of), painting(of) {}
  ~Inside() {
    if (hair) rtcReleaseScene(hair);
    if (solids) rtcReleaseScene(solids);
    if (device) rtcReleaseDevice(device);
  }
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;

  void add(const Triangles& triangles) {
    RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    auto* points = static_cast<float*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), triangles.points.size()));
    for (const Vec3& p : triangles.points)
      *points++ = static_cast<float>(p.x), *points++ = static_cast<float>(p.y),
      *points++ = static_cast<float>(p.z);
    auto* corners = static_cast<std::uint32_t*>(
        rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                3 * sizeof(std::uint32_t), triangles.corners.size()));
    for (const auto& corner : triangles.corners) corners = std::copy(corner.begin(), corner.end(), corners);
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(solids, geometry);
    rtcReleaseGeometry(geometry);
    whats.push_back({triangles.part, triangles.fault, triangles.piece});
  }

  /// Strands as round cones from node to node, with balls where they meet.
  void add_hair(const matter::RootShape& shape, std::uint16_t fault) {
    std::vector<std::uint32_t> firsts;
    for (const matter::Strand& strand : shape.strands)
      for (int k = strand.first; k + 1 < strand.first + strand.count; ++k)
        firsts.push_back(static_cast<std::uint32_t>(k));
    if (firsts.empty()) return;
    RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_ROUND_LINEAR_CURVE);
    auto* points = static_cast<float*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4, 4 * sizeof(float), shape.nodes.size()));
    for (const matter::StrandNode& n : shape.nodes)
      *points++ = static_cast<float>(n.at.x), *points++ = static_cast<float>(n.at.y),
      *points++ = static_cast<float>(n.at.z), *points++ = static_cast<float>(n.radius_m);
    auto* index = static_cast<std::uint32_t*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT, sizeof(std::uint32_t), firsts.size()));
    std::copy(firsts.begin(), firsts.end(), index);
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(hair, geometry);
    rtcReleaseGeometry(geometry);
    hairs.push_back({Part::body, fault, -1});
  }

  static Hit cast(RTCScene what, const std::vector<What>& whats, const Ray& ray, double from) {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    RTCRayHit hit{};
    hit.ray.org_x = static_cast<float>(ray.from.x), hit.ray.org_y = static_cast<float>(ray.from.y),
    hit.ray.org_z = static_cast<float>(ray.from.z);
    hit.ray.dir_x = static_cast<float>(ray.way.x), hit.ray.dir_y = static_cast<float>(ray.way.y),
    hit.ray.dir_z = static_cast<float>(ray.way.z);
    hit.ray.tnear = static_cast<float>(from);
    hit.ray.tfar = 60;
    hit.ray.mask = ~0U;
    hit.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    rtcIntersect1(what, &context, &hit);
    if (hit.hit.geomID == RTC_INVALID_GEOMETRY_ID) return {};
    return {true, static_cast<double>(hit.ray.tfar), whats[hit.hit.geomID]};
  }

  /// Where a ray passes the wall of a piece it is known to meet near `about`, and how that place changes from
  /// pixel to pixel: by rays half a pixel off, carried to the wall's tangent plane.
  Spot spot_of(const Camera& camera, double x, double y, const Ray& ray, double distance) const {
    const Vec3 p = ray.from + distance * ray.way;
    const Vec2 c = scene::centre_at(scene, p.z);
    Spot spot;
    spot.z_m = p.z;
    spot.angle = std::atan2(p.x - c.x, p.y - c.y);
    spot.radius_m = std::hypot(p.x - c.x, p.y - c.y);
    const Vec3 out{std::sin(spot.angle), std::cos(spot.angle), 0},
        round{std::cos(spot.angle), -std::sin(spot.angle), 0};
    const auto slide = [&](double dx, double dy) {
      const Ray other = camera.through(x + dx, y + dy);
      const double along = scene::dot(other.way, out);
      const double t = scene::dot(p - other.from, out) / (std::abs(along) > 1e-6 ? along : 1e-6);
      return other.from + t * other.way - p;
    };
    const Vec3 across = slide(0.5, 0) - slide(-0.5, 0), down = slide(0, 0.5) - slide(0, -0.5);
    spot.z_across = across.z, spot.z_down = down.z;
    spot.round_across = scene::dot(across, round), spot.round_down = scene::dot(down, round);
    return spot;
  }

  /// Is the way to `distance` barred by water? Steps of a few millimetres, from the lens's window on.
  bool meets_water(const Ray& ray, const Vec3& ahead, double distance) const {
    if (scene.water.reaches.empty()) return false;
    const auto wet = [&](double t) {
      const Vec3 p = ray.from + t * ray.way;
      return p.y < scene::level_at(scene.water, p.z);
    };
    const double window = window_ahead_m / std::max(0.05, scene::dot(ray.way, ahead));
    for (double t = window;; t += 0.004) {
      if (wet(std::min(t, distance))) return true;
      if (t >= distance) return false;
    }
  }

  /// What a ray meets, before anybody asks for water; `camera`, `x`, `y`: the pixel it goes through.
  Answer along(const Camera& camera, double x, double y, const Ray& ray) const {
    Answer shown;
    double from = 0;
    for (int walls = 0; walls < 8; ++walls) {
      const Hit hit = cast(solids, whats, ray, from);
      if (!hit.any) {
        shown.skipped =
            walls == 0;  // out of the open end; or a void behind the wall, which is the opening's own
        break;
      }
      if (hit.distance > lamp_reaches_m) {
        shown.skipped = true;
        break;
      }
      if (hit.what.part == Part::bore) {
        const Painted painted = painting.at(spot_of(camera, x, y, ray, hit.distance), hit.what.fault);
        if (painted.open && hit.distance > from + 1e-6) {
          shown.fault = painted.fault;
          shown.depth_m = hit.distance;
          shown.depth_known = false;
          // All that lies beyond is the opening's own, but for what stands in it: a tube that mends it.
          const Hit within = cast(solids, whats, ray, hit.distance + 1e-5);
          if (within.any && within.what.part == Part::body && within.what.fault != 0)
            shown.fault = within.what.fault;
          break;
        }
        shown = {painted.fault, hit.what.fault, painted.either, false, !painted.either, hit.distance};
        break;
      }
      shown = {hit.what.fault, 0, false, false, hit.what.part == Part::end || hit.what.part == Part::body,
               hit.distance};
      // Mortar that is gone, and soil, show in the groove too.
      if (hit.what.part != Part::body && hit.what.fault == 0) {
        Spot spot = spot_of(camera, x, y, ray, hit.distance);
        spot.radius_m = scene::radius_at(scene, spot.z_m);
        const Painted painted = painting.at(spot, 0);
        if (painted.fault != 0) shown.either = true, shown.or_else = painted.fault;
      }
      break;
    }
    return shown;
  }

  /// Still, clear water seen from above bends a ray by Snell's law (water 1.333: handbooks) at a surface that
  /// is level. Skipped: what flows or is cloudy, what the surface mirrors too strongly to see through it
  /// (Fresnel), and long ways under water.
  Answer through_water(const Camera& camera, double x, double y, const Ray& ray) const {
    constexpr double index = 1.333, most_mirrored = 0.25, longest_m = 0.10;
    Answer skipped;
    skipped.skipped = true;
    if (scene.scenario.water != scene::WaterLook::clear || ray.way.y >= -1e-6) return skipped;
    // The surface is level over a pond: twice set right is exact.
    double t = 0;
    for (int round = 0; round < 3; ++round) {
      const double level = scene::level_at(scene.water, ray.from.z + t * ray.way.z);
      t = (level - ray.from.y) / ray.way.y;
      if (!(t > 0)) return skipped;
    }
    const Vec3 at = ray.from + t * ray.way;
    const bool still =
        std::any_of(scene.water.reaches.begin(), scene.water.reaches.end(), [&](const auto& reach) {
          return reach.standing && at.z > reach.from_m + 0.02 && at.z < reach.to_m - 0.02;
        });
    if (!still) return skipped;
    const double cos_in = -ray.way.y, sin_in = std::sqrt(std::max(0.0, 1 - cos_in * cos_in));
    const double sin_out = sin_in / index, cos_out = std::sqrt(1 - sin_out * sin_out);
    const double across = (cos_in - index * cos_out) / (cos_in + index * cos_out),
                 along_it = (index * cos_in - cos_out) / (index * cos_in + cos_out);
    if ((across * across + along_it * along_it) / 2 > most_mirrored) return skipped;
    const double keeps = sin_in > 1e-9 ? sin_out / sin_in : 0;
    const Ray bent{at, {keeps * ray.way.x, -cos_out, keeps * ray.way.z}};
    Answer below = along(camera, x, y, bent);
    if (below.depth_m > longest_m) return skipped;
    below.depth_m += t;
    below.through_water = !below.skipped;
    return below;
  }

  Answer answer(const Camera& camera, double x, double y, const Vec3& ahead) const {
    const Ray ray = camera.through(x, y);
    const Answer shown = along(camera, x, y, ray);
    if (shown.skipped || !meets_water(ray, ahead, shown.depth_m)) return shown;
    return through_water(camera, x, y, ray);
  }

  /// Hair covers what it covers: the pixel is its own when it hides more than half of it. Five rays tell most
  /// pixels; those that they do not agree on are asked sixteen times.
  void lay_hair(const Camera& camera, int x, int y, Answer& shown) const {
    const double limit = shown.skipped ? 1e9 : shown.depth_m;
    int covered = 0, asked = 0;
    double distance = 0;
    std::uint16_t fault = 0;
    const auto ask = [&](double dx, double dy) {
      const Hit hit = cast(hair, hairs, camera.through(x + dx, y + dy), nearest_hair_m);
      ++asked;
      if (!hit.any || hit.distance > limit) return;
      ++covered;
      distance += hit.distance;
      fault = hit.what.fault;
    };
    using measure::Pixel;
    for (const Pixel& place : {Pixel{0.5, 0.5}, Pixel{0.125, 0.125}, Pixel{0.875, 0.125}, Pixel{0.125, 0.875},
                               Pixel{0.875, 0.875}})
      ask(place.x, place.y);
    if (covered == 0) return;
    if (covered < asked) {
      covered = asked = 0, distance = 0;
      for (int n = 0; n < 16; ++n) ask((n % 4 + 0.5) / 4, (n / 4 + 0.5) / 4);
    }
    if (covered > 4 && covered < 12 && asked == 16)
      shown = {fault, shown.fault, true, shown.skipped, false, shown.depth_m};
    else if (2 * covered > asked)
      shown = {fault, 0, false, false, false, distance / covered};
  }
};

Reference::Reference(const scene::Scene& scene, double time_s) : inside_(std::make_unique<Inside>(scene)) {
  inside_->device = rtcNewDevice("start_threads=0,set_affinity=0");
  if (!inside_->device) throw std::runtime_error("the ray tracer cannot start on this machine");
  inside_->solids = rtcNewScene(inside_->device);
  rtcSetSceneFlags(inside_->solids, RTC_SCENE_FLAG_ROBUST);
  for (const Triangles& t : bore_triangles(scene)) inside_->add(t);
  for (const Triangles& t : body_triangles(scene, time_s)) inside_->add(t);
  rtcCommitScene(inside_->solids);
  inside_->hair = rtcNewScene(inside_->device);
  std::uint16_t number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    ++number;
    if (const auto* roots = std::get_if<scene::Roots>(&fault.kind))
      inside_->add_hair(matter::root_shape(scene, *roots, scene::fault_seed(scene.scenario, number)), number);
  }
  rtcCommitScene(inside_->hair);
}
Reference::~Reference() = default;

std::vector<Answer> Reference::picture(const Camera& camera, int width, int height) const {
  std::vector<Answer> picture(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  const Vec3 ahead = camera.through(width / 2.0, height / 2.0).way;
  std::atomic<int> next{0};
  const auto rows = [&] {
    for (int y = next++; y < height; y = next++)
      for (int x = 0; x < width; ++x) {
        Answer& shown = picture[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                                static_cast<std::size_t>(x)];
        shown = inside_->answer(camera, x + 0.5, y + 0.5, ahead);
        if (!inside_->hairs.empty()) inside_->lay_hair(camera, x, y, shown);
      }
  };
  std::thread other(rows);
  rows();
  other.join();
  return picture;
}

}  // namespace haunch::reference
