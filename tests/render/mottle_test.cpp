// SPDX-License-Identifier: Apache-2.0
// A wall's blotches do not lie in rows and columns.
#include <gtest/gtest.h>

#include "render/test_scenes.hpp"
#include "render/textures.hpp"

namespace haunch::render {
namespace {

/// How much the damp blotches vary at one corner of every cell of the noise they are made of, sixteen texels a
/// side.
double varies_at(const Textures& textures, int from) {
  double sum = 0, squares = 0;
  int many = 0;
  for (int y = from; y < mottle_size; y += 16)
    for (int x = from; x < mottle_size; x += 16) {
      // Rows are kept turned by eight texels each.
      const std::uint32_t word =
          textures.mottle[static_cast<std::size_t>(y * mottle_size + (x + 8 * y) % mottle_size)];
      const double value = static_cast<double>((word >> 16U) & 255U);
      sum += value, squares += value * value;
      ++many;
    }
  return squares / many - sum * sum / many / many;
}

// Smooth noise is strongest where its cells meet: blotches stand in a lattice, unless they are pushed about.
TEST(Mottle, LiesInNoLattice) {
  double corners = 0, middles = 0;
  for (const std::uint64_t seed : {3U, 8U, 21U, 40U}) {
    scene::Scenario pipe = render_test::straight_run(scene::Material::clay);
    pipe.seed = seed;
    const Textures textures = make_textures(pipe);
    corners += varies_at(textures, 0), middles += varies_at(textures, 8);
  }
  EXPECT_LT(corners, 1.2 * middles);
}

}  // namespace
}  // namespace haunch::render
