// SPDX-License-Identifier: Apache-2.0
// Points of the scene, in metres. z runs along the pipe from its upstream end, y is up, and x is
// to the right looking downstream: so clock 3 lies at +x and clock 12 at +y.
#pragma once

#include <cmath>

namespace haunch::scene {

struct Vec2 {
  double x = 0, y = 0;
  bool operator==(const Vec2&) const = default;
};
inline Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
inline Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
inline Vec2 operator*(double k, Vec2 a) { return {k * a.x, k * a.y}; }
inline double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
inline double length(Vec2 a) { return std::sqrt(a.x * a.x + a.y * a.y); }

struct Vec3 {
  double x = 0, y = 0, z = 0;
  bool operator==(const Vec3&) const = default;
};
inline Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
inline Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
inline Vec3 operator*(double k, Vec3 a) { return {k * a.x, k * a.y, k * a.z}; }
inline double dot(Vec3 a, Vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
inline Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a) { return std::sqrt(dot(a, a)); }
inline Vec3 normalised(Vec3 a) { return (1.0 / length(a)) * a; }

/// Unit vector from the axis towards a clock hour (looking downstream).
Vec2 toward_clock(double hour_h);
/// The clock hour of a direction from the axis; 12 for the zero vector.
double clock_of(Vec2 direction);

}  // namespace haunch::scene
