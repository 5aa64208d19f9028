// SPDX-License-Identifier: Apache-2.0
// Traces meshes with Embree, sixteen rays at a time, and only the rays that pass through a fault's
// box before they meet something else.
#include "render/meshes.hpp"

#include <tbb/parallel_for.h>

#include <embree3/rtcore.h>
#include <pmmintrin.h>
#include <xmmintrin.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "render/meshes_build.hpp"
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

/// All that is asked of a corner of a mesh, side by side in memory.
struct Vertex {
  float at[4], normal[4], albedo[4];
};

struct FaultMeshes {
  std::vector<Mesh> meshes;                   // their normals and albedos are in the vertices
  std::vector<std::vector<Vertex>> vertices;  // of each mesh; Embree reads them too
  std::vector<GrainLook> grains;
  Box box;
  RTCScene scene = nullptr;
};

/// The lanes of what rays have hit: where, on which triangle, and what it is made of.
void take_hits(const FaultMeshes& shape, const Samples& m, const int* index, const RTCRayHit16& hits,
               const int* hit, int shown, ShadeGroup& g) {
  // Far apart in memory: all quads are sent for, then all their corners, before the first is looked at.
  const std::uint32_t* quads[shade_lanes];
  for (int lane = 0; lane < shade_lanes; ++lane) {
    const int k = hit[std::min(lane, shown - 1)];  // idle lanes repeat the last
    quads[lane] = &shape.meshes[hits.hit.geomID[k]].quads[4 * static_cast<std::size_t>(hits.hit.primID[k])];
    _mm_prefetch(reinterpret_cast<const char*>(quads[lane]), _MM_HINT_T0);
  }
  const Vertex* corners[shade_lanes][3];
  for (int lane = 0; lane < shade_lanes; ++lane) {
    const int k = hit[std::min(lane, shown - 1)];
    const Vertex* vertices = shape.vertices[hits.hit.geomID[k]].data();
    // Embree sees a quad as two triangles: corners 0 1 3 and 2 3 1.
    const bool second = hits.hit.u[k] + hits.hit.v[k] > 1;
    const int numbers[] = {second ? 2 : 0, second ? 3 : 1, second ? 1 : 3};
    for (int n = 0; n < 3; ++n) {
      const Vertex* corner = vertices + quads[lane][numbers[n]];
      corners[lane][n] = corner;
      // One may lie across two lines of the cache.
      _mm_prefetch(reinterpret_cast<const char*>(corner), _MM_HINT_T0);
      _mm_prefetch(reinterpret_cast<const char*>(corner) + sizeof(Vertex) - 1, _MM_HINT_T0);
    }
  }
  for (int lane = 0; lane < shade_lanes; ++lane) {
    const int k = hit[std::min(lane, shown - 1)];
    const auto i = static_cast<std::size_t>(index[k]);
    const auto number = static_cast<std::size_t>(hits.hit.geomID[k]);
    const Mesh& mesh = shape.meshes[number];
    const float u = hits.hit.u[k], v = hits.hit.v[k];
    const bool second = u + v > 1;
    const Vertex* const* three = corners[lane];
    for (int axis = 0; axis < 3; ++axis) {
      g.a[axis][lane] = three[0]->at[axis];
      g.b[axis][lane] = three[1]->at[axis];
      g.c[axis][lane] = three[2]->at[axis];
    }
    g.share_b[lane] = second ? 1 - u : u, g.share_c[lane] = second ? 1 - v : v;
    g.depth[lane] = hits.ray.tfar[k];
    g.x[lane] = m.org_x[i], g.y[lane] = m.org_y[i], g.z[lane] = m.org_z[i];
    g.dx[lane] = m.dir_x[i], g.dy[lane] = m.dir_y[i], g.dz[lane] = m.dir_z[i];
    g.travelled[lane] = m.travelled[i];
    g.lamp[lane] = m.lamp[i];
    g.gloss[lane] = mesh.gloss;
    const GrainLook& look = shape.grains[number];
    g.cell[lane] = look.cell_m, g.slope[lane] = look.slope, g.fine[lane] = look.fine;
    g.speckle[lane] = look.speckle, g.smear[lane] = look.smear;
  }
  settle_group(g);
  for (int lane = 0; lane < shade_lanes; ++lane) {
    const Vertex &a = *corners[lane][0], &b = *corners[lane][1], &c = *corners[lane][2];
    const float of_b = g.share_b[lane], of_c = g.share_c[lane], of_a = 1 - of_b - of_c;
    float normal[4], albedo[4];
    for (int n = 0; n < 4; ++n) {
      normal[n] = of_a * a.normal[n] + of_b * b.normal[n] + of_c * c.normal[n];
      albedo[n] = of_a * a.albedo[n] + of_b * b.albedo[n] + of_c * c.albedo[n];
    }
    g.nx[lane] = normal[0], g.ny[lane] = normal[1], g.nz[lane] = normal[2];
    g.red[lane] = albedo[0], g.green[lane] = albedo[1], g.blue[lane] = albedo[2];
  }
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
  int hit[16];
  int shown = 0;
  for (int k = 0; k < count; ++k)
    if (hits.hit.geomID[k] != RTC_INVALID_GEOMETRY_ID) hit[shown++] = k;
  if (shown == 0) return;
  ShadeGroup g;
  take_hits(shape, m, index, hits, hit, shown, g);
  shade_group(grain_noise, m.parallel ? 0.0F : m.pixel_size, m.parallel ? m.pixel_size : 0.0F, g);
  for (int lane = 0; lane < shown; ++lane) {
    const int k = hit[lane], i = index[k];
    const Mesh& mesh = shape.meshes[hits.hit.geomID[k]];
    Rgb light{g.red[lane], g.green[lane], g.blue[lane]};
    // Through clear water what lies behind shows, least at its rim, which gathers the lamp's light.
    float lets_by = 1 - mesh.cover;
    if (mesh.rim > 0) {
      const float facing =
          std::abs(g.nx[lane] * g.dx[lane] + g.ny[lane] * g.dy[lane] + g.nz[lane] * g.dz[lane]);
      const float side = (1 - std::min(facing, 1.0F)) * (1 - std::min(facing, 1.0F));
      lets_by *= 1 - mesh.rim * side;
      const float way = std::max(g.travelled[lane] + g.depth[lane], lamp_nearest_m);
      const float gathers = 0.30F * mesh.rim * side * g.lamp[lane] / (way * way);
      light = light + Rgb{gathers, gathers, gathers};
    }
    if (lets_by > 0 && m.depth[i] > m.unseen[i]) {
      // What lies behind is hidden by water that is yet to be drawn.
      m.veils.push_back({i, g.depth[lane], lets_by, light, mesh.fault});
      continue;
    }
    m.depth[i] = g.depth[lane];
    m.red[i] = light.r + lets_by * m.red[i], m.green[i] = light.g + lets_by * m.green[i],
    m.blue[i] = light.b + lets_by * m.blue[i];
    m.fault[i] = mesh.fault;
    m.piece[i] = -1;
    m.normal_x[i] = g.nx[lane], m.normal_y[i] = g.ny[lane], m.normal_z[i] = g.nz[lane];
  }
}

}  // namespace

struct Meshes::Inside {
  RTCDevice device = nullptr;
  struct Moving {
    int fault = 0;
    double z_m = 0, time_s = 0;
    std::size_t shape = 0;
  };
  std::vector<FaultMeshes> shapes;
  scene::Scene scene;  // for what moves
  std::vector<Moving> moving;
  GrainNoise grain_noise = make_grain_noise();

  explicit Inside(const scene::Scene& of) : scene(of) {}
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;
  ~Inside() {
    for (const FaultMeshes& shape : shapes)
      if (shape.scene != nullptr) rtcReleaseScene(shape.scene);
    if (device != nullptr) rtcReleaseDevice(device);
  }

  void add(std::vector<Mesh> meshes) {
    if (meshes.empty()) return;
    if (device == nullptr) device = rtcNewDevice("start_threads=0,set_affinity=0");
    if (device == nullptr) throw std::runtime_error("the ray tracer cannot start on this machine");
    shapes.push_back(shape_of(std::move(meshes)));
  }

  FaultMeshes shape_of(std::vector<Mesh> meshes) const {
    FaultMeshes shape;
    shape.meshes = std::move(meshes);
    shape.scene = rtcNewScene(device);
    rtcSetSceneFlags(shape.scene, RTC_SCENE_FLAG_ROBUST);
    for (Mesh& mesh : shape.meshes) {
      std::vector<Vertex>& vertices = shape.vertices.emplace_back();
      vertices.reserve(mesh.points.size());
      for (std::size_t n = 0; n < mesh.points.size(); ++n) {
        const Mesh::Point &p = mesh.points[n], &normal = mesh.normals[n];
        const Rgb& albedo = mesh.albedo[n];
        vertices.push_back(
            {{p.x, p.y, p.z, 0}, {normal.x, normal.y, normal.z, 0}, {albedo.r, albedo.g, albedo.b, 0}});
        shape.box.take(p.x, p.y, p.z);
      }
      mesh.normals = {}, mesh.albedo = {};
      shape.grains.push_back(grain_look(mesh.grain));
      RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_QUAD);
      rtcSetSharedGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, vertices.data(), 0,
                                 sizeof(Vertex), vertices.size());
      rtcSetSharedGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT4, mesh.quads.data(), 0,
                                 4 * sizeof(std::uint32_t), mesh.quads.size() / 4);
      rtcCommitGeometry(geometry);
      rtcAttachGeometry(shape.scene, geometry);
      rtcReleaseGeometry(geometry);
    }
    rtcCommitScene(shape.scene);
    return shape;
  }
};

Meshes::Meshes(const scene::Scene& scene) : inside_(std::make_unique<Inside>(scene)) {
  // Each by itself, side by side; what is built of them lies in the faults' own order.
  std::vector<std::vector<Mesh>> made(scene.scenario.faults.size());
  tbb::parallel_for(std::size_t{0}, made.size(),
                    [&](std::size_t k) { made[k] = make_meshes(scene, static_cast<int>(k) + 1); });
  int number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    inside_->add(std::move(made[static_cast<std::size_t>(number++)]));
    if (!moves(fault.kind)) continue;
    std::vector<Mesh> moving = solid_meshes(scene, number, 0);
    if (moving.empty()) continue;
    inside_->moving.push_back({number, scene::stretch_of(fault).from_m, 0, inside_->shapes.size()});
    inside_->add(std::move(moving));
  }
}
Meshes::Meshes(const scene::Scene& scene, std::vector<std::vector<Mesh>> still)
    : inside_(std::make_unique<Inside>(scene)) {
  for (std::vector<Mesh>& meshes : still) inside_->add(std::move(meshes));
}
Meshes::~Meshes() = default;
Meshes::Meshes(Meshes&&) noexcept = default;
Meshes& Meshes::operator=(Meshes&&) noexcept = default;

std::vector<const std::vector<Mesh>*> Meshes::all() const {
  std::vector<const std::vector<Mesh>*> all;
  for (const FaultMeshes& shape : inside_->shapes) all.push_back(&shape.meshes);
  return all;
}

void Meshes::at_time(double time_s, double lens_z_m) {
  // Farther off nobody sees it move: there it stands as at the first moment.
  constexpr double near_m = 5;
  for (Inside::Moving& moving : inside_->moving) {
    const double wanted_s = std::abs(moving.z_m - lens_z_m) < near_m ? time_s : 0;
    if (wanted_s == moving.time_s) continue;
    moving.time_s = wanted_s;
    FaultMeshes& shape = inside_->shapes[moving.shape];
    rtcReleaseScene(shape.scene);
    shape = inside_->shape_of(solid_meshes(inside_->scene, moving.fault, wanted_s));
  }
}

void Meshes::meet(const Batch& batch, Samples& samples) const {
  if (inside_->shapes.empty() || samples.count == 0) return;
  const FlushTiny flush;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags =
      batch.from_lens ? RTC_INTERSECT_CONTEXT_FLAG_COHERENT : RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
  static thread_local std::vector<std::int32_t> found;
  Box seen;
  box_of_rays(samples, seen.low, seen.high);
  for (const FaultMeshes& shape : inside_->shapes) {
    if (!seen.touches(shape.box)) continue;
    found.resize(static_cast<std::size_t>(samples.count) + 16);
    const int count = rays_through(samples, shape.box.low, shape.box.high, found.data());
    for (int from = 0; from < count; from += 16)
      trace(shape, inside_->grain_noise, context, found.data() + from, std::min(16, count - from), samples);
  }
}

}  // namespace haunch::render
