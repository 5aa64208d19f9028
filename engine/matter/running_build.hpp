// SPDX-License-Identifier: Apache-2.0
// What running water is built of. Inside this room.
#pragma once

#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {

/// Water at one place; bore's coordinates, m and s.
struct Running {
  static constexpr double tau = 2 * std::numbers::pi;
  static constexpr double gravity_m_s2 = 9.81;
  /// Of a camera of 25 pictures a second in the dark (common practice, no source).
  static constexpr double shutter_s = 0.012;
  using Vec3 = scene::Vec3;

  double radius;
  double hour;
  std::uint64_t seed64;
  double time_s;
  double level;  ///< of the water below, from the axis; far below where there is none
  std::uint32_t seed = static_cast<std::uint32_t>(seed64);
  double top = std::remainder(hour, 12.0) * tau / 12;  ///< of the place, from the crown

  static double bumpy(const Vec3& p, double size, std::uint32_t seed, int octaves) {
    return static_cast<double>(layered_noise(static_cast<float>(p.x / size), static_cast<float>(p.y / size),
                                             static_cast<float>(p.z / size), seed, octaves));
  }
  Vec3 on(double angle, double out, double z) const {
    return {(radius + out) * std::sin(angle), (radius + out) * std::cos(angle), z};
  }
  /// What leaves the wall with a velocity, at a time after.
  static Vec3 thrown(const Vec3& from, const Vec3& speed, double after) {
    return from + after * speed + Vec3{0, -gravity_m_s2 / 2 * after * after, 0};
  }
  bool inside(const Vec3& p) const { return p.y > level && p.x * p.x + p.y * p.y < radius * radius; }

  /// The film that runs down from a place, `wide_m` at its foot: rivulets that part and meet, and spread out
  /// on the invert.
  Solid film(double from, double z0, double wide_m, double thick_m, std::uint32_t k) const;

  /// A drop that is falling; how far it goes while the shutter is open it is drawn out, thin at both ends.
  static Solid drop(const Vec3& at, double r, const Vec3& way, Stuff stuff = Stuff::stream);

  /// When what is thrown meets the wall or the water.
  double flight_s(const Vec3& from, const Vec3& speed) const;

  /// Drops thrown up where water strikes: many small ones to a large one.
  void splash(Solid& all, const Vec3& at, int count, double speed, base::Random& random) const;

  /// Water beaten white where a jet strikes.
  Solid froth(const Vec3& at, double wide_m, double high_m) const;

  /// Rings that run out on the water where a drop has struck it.
  void rings(Solid& all, const Vec3& at, double after) const;

  /// Water in the air along its way, from a share of the flight to another: it thins as it goes faster,
  /// wavers, and parts into beads.
  void thread(Solid& all, const Vec3& from, const Vec3& speed, double whole, double first, double last,
              double r, double parts, Stuff stuff, std::uint32_t seed_t) const;

  /// The clear sheet in which a jet leaves a long gap, before it tears.
  Solid sheet(const Vec3& from, const Vec3& speed, const Vec3& aside, double fast, double whole) const;

  Solid drips() const;
  /// A cord that falls free from the upper half of the bore, else it runs down the wall.
  Solid flows() const;
  /// Under pressure: a fan that tears into threads, drops and spray.
  Solid gushes() const;
};

}  // namespace haunch::matter
