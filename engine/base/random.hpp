// SPDX-License-Identifier: Apache-2.0
// Random numbers that are the same on every machine and compiler (the standard library's
// distributions are not).
#pragma once

#include <cstdint>

namespace haunch::base {

/// One step of SplitMix64 (Steele, Lea, Flood 2014): mixes a 64-bit number well.
constexpr std::uint64_t mix(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15ULL;
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31U);
}

class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    state_ += 0x9e3779b97f4a7c15ULL;
    return mix(state_);
  }
  /// Uniform in [0, 1), 53 bits.
  double uniform() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }
  double uniform(double low, double high) { return low + (high - low) * uniform(); }
  /// Whole number in [0, count).
  std::uint32_t below(std::uint32_t count) {
    __extension__ using Wide = unsigned __int128;  // a compiler extension, on purpose
    return static_cast<std::uint32_t>((static_cast<Wide>(next()) * count) >> 64U);
  }
  /// Mean 0, deviation 1, from twelve uniforms (Irwin-Hall): no transcendental function, so the
  /// same bits everywhere; tails end at 6.
  double normal() {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += uniform();
    return sum;
  }

 private:
  std::uint64_t state_;
};

}  // namespace haunch::base
