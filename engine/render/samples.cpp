// SPDX-License-Identifier: Apache-2.0
// The batch of rays itself, the lamp, and the camera's straight geometry.
#include "render/samples.hpp"

#include <algorithm>
#include <cmath>

#include "render/passes.hpp"

namespace haunch::render {

void Samples::resize(int new_count) {
  count = new_count;
  // A vector more than they fill: a row of a picture may begin within one, and its last vector is read whole.
  const auto padded = static_cast<std::size_t>((new_count + 15) / 16 * 16 + 16);
  for (auto* floats : {&org_x, &org_y, &org_z, &dir_x, &dir_y, &dir_z, &lamp, &travelled, &depth, &red,
                       &green, &blue, &wall_z, &wall_angle, &normal_x, &normal_y, &normal_z, &unseen})
    floats->resize(padded);
  fault.resize(padded);
  any_smooth = false;
  veils.clear();
  piece.resize(padded);
  place.resize(padded);
}

void Samples::pad() {
  if (count == 0) return;
  const auto last = static_cast<std::size_t>(count - 1);
  for (auto* floats : {&org_x, &org_y, &org_z, &dir_x, &dir_y, &dir_z, &lamp, &travelled})
    std::fill(floats->begin() + count, floats->end(), (*floats)[last]);
}

void lay_veils(Samples& m) {
  for (const Veil& veil : m.veils) {
    const auto i = static_cast<std::size_t>(veil.ray);
    if (veil.depth >= m.depth[i]) continue;
    m.depth[i] = veil.depth;
    m.red[i] = veil.light.r + veil.lets_by * m.red[i], m.green[i] = veil.light.g + veil.lets_by * m.green[i],
    m.blue[i] = veil.light.b + veil.lets_by * m.blue[i];
    m.fault[i] = veil.fault;
    m.piece[i] = -1;
  }
  m.veils.clear();
}

Rgb linear_from_srgb(int r, int g, int b) {
  const auto channel = [](int byte) {
    const double v = byte / 255.0;
    return static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4));
  };
  return {channel(r), channel(g), channel(b)};
}

Rgb lit(const Matter& matter, float cosine, float distance_m) {
  const float c = std::clamp(cosine, 0.0F, 1.0F);
  const float reach = std::max(distance_m, lamp_nearest_m);
  const float fall = 1.0F / (reach * reach);
  const float body = rough_share * std::sqrt(c) + (1 - rough_share) * c;
  // A narrow peak with a long tail, as wet things have; narrower with power.
  const float cos2 = std::max(c * c, 1e-4F), narrow = 2 / matter.shine_power;
  const float peak = narrow / (narrow + (1 - cos2) / cos2);
  const float shine = matter.gloss * highlight_strength * peak * peak;
  return fall * (body * matter.albedo + Rgb{shine, shine, shine});
}

Rgb lit(const Samples& samples, int i, const Matter& matter, float cosine, float depth_m) {
  return samples.lamp[i] * lit(matter, cosine, samples.travelled[i] + depth_m);
}

RayCamera ray_camera(const scene::CameraPose& pose, int width, int height, double parallel_height_m) {
  constexpr double radians = 3.14159265358979323846 / 180;
  RayCamera camera;
  camera.lens = pose.lens;
  camera.width = width;
  camera.height = height;
  const scene::Vec3 ahead = scene::normalised(pose.forward);
  // To the right seen along travel: looking downstream +x lies to the right, upstream to the left.
  const scene::Vec3 level_right = scene::normalised(scene::cross({0, 1, 0}, ahead));
  const scene::Vec3 level_up = scene::cross(ahead, level_right);
  const double yaw = pose.yaw_deg * radians, pitch = pose.pitch_deg * radians, roll = pose.roll_deg * radians;
  const scene::Vec3 turned = std::cos(yaw) * ahead + std::sin(yaw) * level_right;
  const scene::Vec3 right = std::cos(yaw) * level_right - std::sin(yaw) * ahead;
  camera.forward = std::cos(pitch) * turned + std::sin(pitch) * level_up;
  const scene::Vec3 up = std::cos(pitch) * level_up - std::sin(pitch) * turned;
  // The camera turned clockwise: its up leans towards the right.
  camera.up = std::cos(roll) * up + std::sin(roll) * right;
  camera.right = std::cos(roll) * right - std::sin(roll) * up;
  if (parallel_height_m > 0) {
    camera.parallel = true;
    camera.half_height = parallel_height_m / 2;
    camera.half_width = camera.half_height * width / height;
  } else {
    camera.half_width = std::tan(pose.field_deg * radians / 2);
    camera.half_height = camera.half_width * height / width;
  }
  return camera;
}

Ray ray_through(const RayCamera& camera, double px, double py) {
  const double x = (2 * px / camera.width - 1) * camera.half_width;
  const double y = (1 - 2 * py / camera.height) * camera.half_height;
  const scene::Vec3 aside = x * camera.right + y * camera.up;
  if (camera.parallel) return {camera.lens + aside, camera.forward};
  return {camera.lens, scene::normalised(camera.forward + aside)};
}

bool project(const RayCamera& camera, scene::Vec3 point, double& px, double& py, double& distance_m,
             double& pixel_m) {
  const scene::Vec3 away = point - camera.lens;
  const double ahead = scene::dot(away, camera.forward);
  if (ahead < 1e-4) return false;
  const double scale = camera.parallel ? 1 : ahead;
  px = (scene::dot(away, camera.right) / scale / camera.half_width + 1) / 2 * camera.width;
  py = (1 - scene::dot(away, camera.up) / scale / camera.half_height) / 2 * camera.height;
  distance_m = camera.parallel ? ahead : scene::length(away);
  pixel_m = 2 * camera.half_width / camera.width * (camera.parallel ? 1 : distance_m);
  return true;
}

}  // namespace haunch::render
