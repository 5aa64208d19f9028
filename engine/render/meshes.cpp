// SPDX-License-Identifier: Apache-2.0
// Traces meshes with Embree, sixteen rays at a time, and only the rays that pass through a fault's
// box before they meet something else.
#include "render/meshes.hpp"

#include <embree3/rtcore.h>
#include <pmmintrin.h>
#include <xmmintrin.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "render/meshes_grain.hpp"

namespace haunch::render {
namespace {

/// Embree asks for tiny numbers to be flushed to zero in every thread that traces.
class FlushTiny {
 public:
  FlushTiny() : before_(_mm_getcsr()) {
    _MM_SET_FLUSH_ZERO_MODE(_MM_FLUSH_ZERO_ON);
    _MM_SET_DENORMALS_ZERO_MODE(_MM_DENORMALS_ZERO_ON);
  }
  ~FlushTiny() { _mm_setcsr(before_); }
  FlushTiny(const FlushTiny&) = delete;
  FlushTiny& operator=(const FlushTiny&) = delete;

 private:
  unsigned before_;
};

struct Box {
  float low[3] = {1e9F, 1e9F, 1e9F}, high[3] = {-1e9F, -1e9F, -1e9F};
  void take(float x, float y, float z) {
    const float p[3] = {x, y, z};
    for (int k = 0; k < 3; ++k) low[k] = std::min(low[k], p[k]), high[k] = std::max(high[k], p[k]);
  }
  bool touches(const Box& other) const {
    for (int k = 0; k < 3; ++k)
      if (low[k] > other.high[k] || other.low[k] > high[k]) return false;
    return true;
  }
};

/// Does the ray pass through the box before `far`?
bool passes(const Box& box, const Samples& m, int i, float far) {
  const float o[3] = {m.org_x[i], m.org_y[i], m.org_z[i]}, d[3] = {m.dir_x[i], m.dir_y[i], m.dir_z[i]};
  float in = 0, out = far;
  for (int k = 0; k < 3; ++k) {
    const float inverse = 1 / (std::abs(d[k]) > 1e-9F ? d[k] : 1e-9F);
    const float a = (box.low[k] - o[k]) * inverse, b = (box.high[k] - o[k]) * inverse;
    in = std::max(in, std::min(a, b));
    out = std::min(out, std::max(a, b));
  }
  return in <= out;
}

struct FaultMeshes {
  std::vector<Mesh> meshes;
  Box box;
  RTCScene scene = nullptr;
};

Box box_of(const Samples& m) {
  Box box;
  for (int i = 0; i < m.count; ++i) {
    const float far = std::min(m.depth[i], 50.0F);
    box.take(m.org_x[i], m.org_y[i], m.org_z[i]);
    box.take(m.org_x[i] + far * m.dir_x[i], m.org_y[i] + far * m.dir_y[i], m.org_z[i] + far * m.dir_z[i]);
  }
  return box;
}

struct Corner {
  float weight;
  std::uint32_t point;
};

void shade(const Mesh& mesh, const GrainNoise& grain_noise, Samples& m, int i, const RTCRayHit16& hits,
           int lane) {
  const float depth = hits.ray.tfar[lane];
  const std::uint32_t* quad = &mesh.quads[4 * static_cast<std::size_t>(hits.hit.primID[lane])];
  const float u = hits.hit.u[lane], v = hits.hit.v[lane];
  // Embree sees a quad as two triangles: corners 0 1 3 and 2 3 1.
  std::array<Corner, 3> corners;
  if (u + v <= 1)
    corners = {{{1 - u - v, quad[0]}, {u, quad[1]}, {v, quad[3]}}};
  else
    corners = {{{u + v - 1, quad[2]}, {1 - u, quad[3]}, {1 - v, quad[1]}}};
  Rgb albedo;
  float nx = 0, ny = 0, nz = 0;
  for (const Corner& c : corners) {
    const Mesh::Point& n = mesh.normals[c.point];
    nx += c.weight * n.x, ny += c.weight * n.y, nz += c.weight * n.z;
    albedo = albedo + c.weight * mesh.albedo[c.point];
  }
  const float dx = m.dir_x[i], dy = m.dir_y[i], dz = m.dir_z[i];
  // The side that was hit faces the ray.
  const float gx = hits.hit.Ng_x[lane], gy = hits.hit.Ng_y[lane], gz = hits.hit.Ng_z[lane];
  const bool turned = (gx * nx + gy * ny + gz * nz > 0) == (gx * dx + gy * dy + gz * dz > 0);
  const float side = (turned ? -1.0F : 1.0F) / std::sqrt(std::max(1e-12F, nx * nx + ny * ny + nz * nz));
  nx *= side, ny *= side, nz *= side;
  const float px = m.org_x[i] + depth * dx, py = m.org_y[i] + depth * dy, pz = m.org_z[i] + depth * dz;
  const float pixel = m.parallel ? m.pixel_size : m.pixel_size * depth;
  float gloss = mesh.gloss;
  add_grain(grain_noise, mesh.grain, px, py, pz, pixel, nx, ny, nz, albedo, gloss);
  const float cosine = std::max(0.03F, -(nx * dx + ny * dy + nz * dz));
  if (cosine < 0.72F) gloss = 0;  // the highlight is too faint there to be worth its power
  const Rgb light = lit(m, i, {albedo, gloss, mesh.shine_power}, cosine, depth);
  m.depth[i] = depth;
  m.red[i] = light.r, m.green[i] = light.g, m.blue[i] = light.b;
  m.fault[i] = mesh.fault;
  m.piece[i] = -1;
  m.normal_x[i] = nx, m.normal_y[i] = ny, m.normal_z[i] = nz;
}

void trace(const FaultMeshes& shape, const GrainNoise& grain_noise, RTCIntersectContext& context,
           const int* index, int count, Samples& m) {
  alignas(64) int valid[16];
  alignas(64) RTCRayHit16 hits;
  for (int k = 0; k < 16; ++k) {
    valid[k] = k < count ? -1 : 0;
    const int i = index[std::min(k, count - 1)];
    hits.ray.org_x[k] = m.org_x[i], hits.ray.org_y[k] = m.org_y[i], hits.ray.org_z[k] = m.org_z[i];
    hits.ray.dir_x[k] = m.dir_x[i], hits.ray.dir_y[k] = m.dir_y[i], hits.ray.dir_z[k] = m.dir_z[i];
    hits.ray.tnear[k] = 0;
    hits.ray.tfar[k] = m.depth[i];
    hits.ray.time[k] = 0;
    hits.ray.mask[k] = ~0U;
    hits.ray.id[k] = 0;
    hits.ray.flags[k] = 0;
    hits.hit.geomID[k] = RTC_INVALID_GEOMETRY_ID;
    hits.hit.primID[k] = RTC_INVALID_GEOMETRY_ID;
    hits.hit.instID[0][k] = RTC_INVALID_GEOMETRY_ID;
  }
  rtcIntersect16(valid, shape.scene, &context, &hits);
  for (int k = 0; k < count; ++k)
    if (hits.hit.geomID[k] != RTC_INVALID_GEOMETRY_ID)
      shade(shape.meshes[hits.hit.geomID[k]], grain_noise, m, index[k], hits, k);
}

}  // namespace

struct Meshes::Inside {
  RTCDevice device = nullptr;
  std::vector<FaultMeshes> shapes;
  GrainNoise grain_noise = make_grain_noise();

  ~Inside() {
    for (const FaultMeshes& shape : shapes)
      if (shape.scene != nullptr) rtcReleaseScene(shape.scene);
    if (device != nullptr) rtcReleaseDevice(device);
  }

  void add(std::vector<Mesh> meshes) {
    FaultMeshes shape;
    shape.meshes = std::move(meshes);
    shape.scene = rtcNewScene(device);
    rtcSetSceneFlags(shape.scene, RTC_SCENE_FLAG_ROBUST);
    for (const Mesh& mesh : shape.meshes) {
      RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_QUAD);
      auto* points = static_cast<float*>(rtcSetNewGeometryBuffer(
          geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.points.size()));
      for (const Mesh::Point& p : mesh.points) {
        *points++ = p.x, *points++ = p.y, *points++ = p.z;
        shape.box.take(p.x, p.y, p.z);
      }
      auto* quads = static_cast<std::uint32_t*>(
          rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT4,
                                  4 * sizeof(std::uint32_t), mesh.quads.size() / 4));
      std::copy(mesh.quads.begin(), mesh.quads.end(), quads);
      rtcCommitGeometry(geometry);
      rtcAttachGeometry(shape.scene, geometry);
      rtcReleaseGeometry(geometry);
    }
    rtcCommitScene(shape.scene);
    shapes.push_back(std::move(shape));
  }
};

Meshes::Meshes(const scene::Scene& scene) : inside_(std::make_unique<Inside>()) {
  int number = 0;
  for ([[maybe_unused]] const scene::Fault& fault : scene.scenario.faults) {
    std::vector<Mesh> meshes = make_meshes(scene, ++number);
    if (meshes.empty()) continue;
    if (inside_->device == nullptr) inside_->device = rtcNewDevice("start_threads=0,set_affinity=0");
    if (inside_->device == nullptr) throw std::runtime_error("the ray tracer cannot start on this machine");
    inside_->add(std::move(meshes));
  }
}
Meshes::~Meshes() = default;
Meshes::Meshes(Meshes&&) noexcept = default;
Meshes& Meshes::operator=(Meshes&&) noexcept = default;

void Meshes::meet(const Batch& batch, Samples& samples) const {
  if (inside_->shapes.empty() || samples.count == 0) return;
  const FlushTiny flush;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags =
      batch.from_lens ? RTC_INTERSECT_CONTEXT_FLAG_COHERENT : RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
  const Box seen = box_of(samples);
  for (const FaultMeshes& shape : inside_->shapes) {
    if (!seen.touches(shape.box)) continue;
    int index[16];
    int count = 0;
    for (int i = 0; i < samples.count; ++i) {
      if (!passes(shape.box, samples, i, samples.depth[i])) continue;
      index[count++] = i;
      if (count == 16) {
        trace(shape, inside_->grain_noise, context, index, count, samples);
        count = 0;
      }
    }
    if (count > 0) trace(shape, inside_->grain_noise, context, index, count, samples);
  }
}

}  // namespace haunch::render
