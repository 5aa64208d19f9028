// SPDX-License-Identifier: Apache-2.0
// Traces meshes with Embree, sixteen rays at a time, and only the rays that pass through a fault's
// box before they meet something else.
#include "render/meshes.hpp"

#include <tbb/parallel_for.h>

#include <embree3/rtcore.h>
#include <pmmintrin.h>
#include <xmmintrin.h>

#include <algorithm>
#include <array>
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

struct FaultMeshes {
  std::vector<Mesh> meshes;
  Box box;
  RTCScene scene = nullptr;
};

struct Corner {
  float weight;
  std::uint32_t point;
};

/// Where a ray meets a triangle's plane, and by how much of its second and third corner.
struct Met {
  double t = 0, u = 0, v = 0;
};
Met meet(const scene::Vec3& origin, const scene::Vec3& way, const scene::Vec3& a, const scene::Vec3& b,
         const scene::Vec3& c) {
  const scene::Vec3 ab = b - a, ac = c - a, p = scene::cross(way, ac);
  const double turned = scene::dot(ab, p);
  const double per = turned == 0 ? 0 : 1 / turned;
  const scene::Vec3 from = origin - a, q = scene::cross(from, ab);
  return {scene::dot(ac, q) * per, scene::dot(from, p) * per, scene::dot(way, q) * per};
}

/// Embree names the quad; where on it the ray meets it is worked out again, in one order of steps: its own
/// kernels differ in the last bits from one instruction set to the next, and the grain of rough matter makes
/// much of that.
void settle(const Mesh& mesh, const Samples& m, int i, RTCRayHit16& hits, int k) {
  const std::uint32_t* quad = &mesh.quads[4 * static_cast<std::size_t>(hits.hit.primID[k])];
  const auto corner = [&](int n) {
    const Mesh::Point& p = mesh.points[quad[n]];
    return scene::Vec3{p.x, p.y, p.z};
  };
  const scene::Vec3 origin{m.org_x[i], m.org_y[i], m.org_z[i]}, way{m.dir_x[i], m.dir_y[i], m.dir_z[i]};
  // As Embree has them: corners 0 1 3 and 2 3 1.
  const bool second = hits.hit.u[k] + hits.hit.v[k] > 1;
  const Met met = second ? meet(origin, way, corner(2), corner(3), corner(1))
                         : meet(origin, way, corner(0), corner(1), corner(3));
  if (!(met.t > 0)) return;  // seen edge on: as Embree has it
  const auto share = [](double v) { return static_cast<float>(std::clamp(v, 0.0, 1.0)); };
  hits.ray.tfar[k] = static_cast<float>(met.t);
  hits.hit.u[k] = share(second ? 1 - met.u : met.u);
  hits.hit.v[k] = share(second ? 1 - met.v : met.v);
  const scene::Vec3 face = second ? scene::cross(corner(3) - corner(2), corner(1) - corner(2))
                                  : scene::cross(corner(1) - corner(0), corner(3) - corner(0));
  hits.hit.Ng_x[k] = static_cast<float>(face.x), hits.hit.Ng_y[k] = static_cast<float>(face.y),
  hits.hit.Ng_z[k] = static_cast<float>(face.z);
}

/// Puts what a ray has hit into a lane of the group.
void look_up(const Mesh& mesh, const Samples& m, int i, const RTCRayHit16& hits, int k, ShadeGroup& g,
             int lane) {
  const float depth = hits.ray.tfar[k];
  const std::uint32_t* quad = &mesh.quads[4 * static_cast<std::size_t>(hits.hit.primID[k])];
  const float u = hits.hit.u[k], v = hits.hit.v[k];
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
  const float gx = hits.hit.Ng_x[k], gy = hits.hit.Ng_y[k], gz = hits.hit.Ng_z[k];
  const bool turned = (gx * nx + gy * ny + gz * nz > 0) == (gx * dx + gy * dy + gz * dz > 0);
  const float side = (turned ? -1.0F : 1.0F) / std::sqrt(std::max(1e-12F, nx * nx + ny * ny + nz * nz));
  g.x[lane] = m.org_x[i] + depth * dx, g.y[lane] = m.org_y[i] + depth * dy,
  g.z[lane] = m.org_z[i] + depth * dz;
  g.dx[lane] = dx, g.dy[lane] = dy, g.dz[lane] = dz;
  g.nx[lane] = side * nx, g.ny[lane] = side * ny, g.nz[lane] = side * nz;
  g.red[lane] = albedo.r, g.green[lane] = albedo.g, g.blue[lane] = albedo.b;
  g.gloss[lane] = mesh.gloss;
  g.pixel[lane] = m.parallel ? m.pixel_size : m.pixel_size * depth;
  g.way[lane] = m.travelled[i] + depth;
  g.lamp[lane] = m.lamp[i];
  const GrainLook look = grain_look(mesh.grain);
  g.cell[lane] = look.cell_m, g.slope[lane] = look.slope, g.fine[lane] = look.fine;
  g.speckle[lane] = look.speckle, g.smear[lane] = look.smear;
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
    if (hits.hit.geomID[k] != RTC_INVALID_GEOMETRY_ID) {
      settle(shape.meshes[hits.hit.geomID[k]], m, index[k], hits, k);
      hit[shown++] = k;
    }
  if (shown == 0) return;
  ShadeGroup g;
  for (int lane = 0; lane < shade_lanes; ++lane) {
    const int k = hit[std::min(lane, shown - 1)];  // idle lanes repeat the last
    look_up(shape.meshes[hits.hit.geomID[k]], m, index[k], hits, k, g, lane);
  }
  shade_group(grain_noise, g);
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
      const float way = std::max(g.way[lane], lamp_nearest_m);
      const float gathers = 0.30F * mesh.rim * side * g.lamp[lane] / (way * way);
      light = light + Rgb{gathers, gathers, gathers};
    }
    if (lets_by > 0 && m.depth[i] > m.unseen[i]) {
      // What lies behind is hidden by water that is yet to be drawn.
      m.veils.push_back({i, hits.ray.tfar[k], lets_by, light, mesh.fault});
      continue;
    }
    m.depth[i] = hits.ray.tfar[k];
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
