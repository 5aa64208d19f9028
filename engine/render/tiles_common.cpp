// SPDX-License-Identifier: Apache-2.0
// Seeded noise becomes glaze, scale, plastic and concrete.
#include "render/tile.hpp"

namespace haunch::render {
namespace {

Tile salt_glaze(std::uint64_t seed) {
  Tile tile;
  // Salt glaze: smooth, its colour from the fire in broad clouds drawn along the pipe, with tracks of
  // dirt that have run down the wall, round the pipe, each a little aslant of the next.
  const Field broad = noise(3, 2, 2, seed + 1), fine = noise(40, 50, 2, seed + 2),
              peel = noise(90, 110, 2, seed + 3);
  const Field runs = noise(3, 44, 3, seed + 4), where = noise(5, 4, 3, seed + 9),
              fire = noise(4, 3, 3, seed + 5);
  const Rgb orange = linear_from_srgb(160, 94, 58), brown = linear_from_srgb(132, 75, 47),
            dark = linear_from_srgb(74, 46, 34), pale = linear_from_srgb(184, 126, 86),
            dirt = linear_from_srgb(66, 50, 36);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(orange, brown, smooth_step(-0.9F, 0.9F, broad[t] + 0.12F * fine[t]));
    c = blend(c, pale, 0.30F * smooth_step(0.3F, 1.3F, 0.9F * broad[t] - 0.5F * fire[t]));
    c = blend(c, dark, 0.12F * smooth_step(0.45F, 1.2F, fire[t] + 0.12F * fine[t]));
    const float track = smooth_step(0.25F, 1.0F, runs[t] + 0.7F * where[t]);
    c = blend(c, dirt, 0.32F * track);
    c = (1 + 0.05F * peel[t]) * c;
    tile.albedo[t] = c;
    tile.height_mm[t] = 0.045F * peel[t] + 0.07F * fine[t] + 0.5F * broad[t] + 0.05F * track;
    tile.gloss[t] = 0.78F - 0.45F * track - 0.15F * smooth_step(0.4F, 1.0F, fire[t]);
  }
  // Iron specks and burst blisters of the firing.
  strew(420, 0.4F, 1.6F, seed + 6, [&](std::size_t t, float away, int n, float) {
    const float k = (1 - smooth_step(0.5F, 1.0F, away)) * (0.25F + 0.5F * hash_unit(seed, n, 1));
    tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(48, 32, 26), k);
  });
  strew(45, 0.8F, 2.2F, seed + 7, [&](std::size_t t, float away, int, float r) {
    const float cap = 1 - away * away;
    tile.height_mm[t] += 0.16F * r * cap * cap;
  });
  bead(tile, 80 + static_cast<int>(260 * hash_unit(seed, 8, 1)), 0.3F, 1.2F, seed + 8);
  return tile;
}

/// Fired without salt in a kiln that heats evenly: one colour, duller, hardly a speck.
Tile modern_clay(std::uint64_t seed) {
  Tile tile;
  const Field broad = noise(3, 3, 3, seed + 1), fine = noise(70, 90, 2, seed + 2),
              pull = noise(120, 2, 1, seed + 3), runs = noise(20, 4, 3, seed + 4);
  const Rgb red = linear_from_srgb(156, 84, 60), pale = linear_from_srgb(170, 98, 70),
            dirt = linear_from_srgb(92, 62, 46);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(red, pale, smooth_step(-0.9F, 0.9F, broad[t]));
    const float track = smooth_step(0.35F, 1.1F, runs[t] + 0.3F * broad[t]);
    c = blend(c, dirt, 0.22F * track);
    tile.albedo[t] = (1 + 0.05F * fine[t] + 0.02F * pull[t]) * c;
    tile.height_mm[t] = 0.05F * fine[t] + 0.02F * pull[t] + 0.15F * broad[t];
    tile.gloss[t] = 0.34F - 0.15F * track;
  }
  strew(90, 0.3F, 0.8F, seed + 6, [&](std::size_t t, float away, int, float) {
    tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(84, 52, 40), 0.4F * (1 - away));
  });
  bead(tile, 60, 0.4F, 1.5F, seed + 8);
  return tile;
}

}  // namespace

Tile clay_tile(scene::Look look, std::uint64_t seed) {
  return look == scene::Look::fresh ? modern_clay(seed) : salt_glaze(seed);
}

Tile pvc_tile(std::uint64_t seed) {
  Tile tile;
  // Albedo is relative: the section's colour multiplies it.
  const Field lines = noise(128, 1, 1, seed + 1), lines2 = noise(31, 1, 2, seed + 9),
              film = noise(5, 8, 5, seed + 2), fine = noise(60, 90, 2, seed + 3),
              tracks = noise(26, 3, 4, seed + 4);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float grime = smooth_step(-0.1F, 1.2F, film[t] + 0.35F * tracks[t]);
    Rgb c{0.86F, 0.86F, 0.86F};
    c = (1 + 0.035F * lines[t] + 0.04F * lines2[t]) * c;
    c = blend(c, Rgb{0.50F, 0.42F, 0.32F}, 0.55F * grime);
    tile.albedo[t] = c;
    tile.height_mm[t] = 0.035F * lines[t] + 0.05F * lines2[t] + 0.02F * fine[t] + 0.25F * film[t];
    tile.gloss[t] = 0.62F - 0.35F * grime;
  }
  // Scratches of rods along the pipe.
  strew(
      60, 0.25F, 0.6F, seed + 5,
      [&](std::size_t t, float away, int, float) {
        tile.albedo[t] = blend(tile.albedo[t], {1, 1, 0.97F}, 0.3F * (1 - away));
        tile.height_mm[t] -= 0.05F * (1 - away);
      },
      90);
  // Most plastic runs are dry above the flow; some sweat.
  bead(tile, 15 + static_cast<int>(170 * hash_unit(seed, 6, 1) * hash_unit(seed, 6, 1)), 0.3F, 1.3F,
       seed + 6);
  return tile;
}

namespace {

/// Coated inside: black, smooth, the dull sheen of bitumen, here and there a run or a bloom of first rust.
Tile new_iron(std::uint64_t seed) {
  Tile tile;
  const Field broad = noise(3, 5, 4, seed + 1), peel = noise(60, 80, 2, seed + 2),
              runs = noise(18, 3, 3, seed + 3), rust = noise(9, 14, 4, seed + 4);
  const Rgb black = linear_from_srgb(52, 50, 50), grey = linear_from_srgb(76, 73, 70),
            orange = linear_from_srgb(104, 68, 46);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(black, grey, smooth_step(-0.8F, 1.1F, broad[t] + 0.3F * runs[t]));
    const float spot = smooth_step(0.62F, 1.30F, rust[t] + 0.25F * peel[t]);
    c = blend(c, orange, 0.6F * spot);
    tile.albedo[t] = (1 + 0.05F * peel[t]) * c;
    tile.height_mm[t] = 0.09F * peel[t] + 0.30F * broad[t] + 0.10F * runs[t] + 0.25F * spot;
    tile.gloss[t] = 0.46F - 0.35F * spot;
  }
  bead(tile, 70, 0.4F, 1.5F, seed + 5);
  return tile;
}

Tile rusty_iron(std::uint64_t seed, bool scaled) {
  Tile tile;
  const Field broad = noise(4, 7, 5, seed + 1), fine = noise(34, 50, 4, seed + 2),
              rust = noise(7, 12, 5, seed + 3), flake = noise(90, 140, 2, seed + 4);
  const Rgb black = linear_from_srgb(74, 67, 62), brown = linear_from_srgb(114, 78, 55),
            orange = linear_from_srgb(134, 85, 55), ochre = linear_from_srgb(144, 108, 72);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float r = smooth_step(-0.3F, 1.0F, rust[t] + 0.35F * fine[t]);
    Rgb c = blend(black, brown, r);
    c = blend(c, orange, 0.65F * smooth_step(0.4F, 1.3F, rust[t] + 0.6F * fine[t]));
    if (scaled) c = blend(c, blend(orange, ochre, 0.4F), 0.55F * smooth_step(-0.5F, 0.8F, rust[t]));
    tile.albedo[t] = (1 + 0.18F * flake[t]) * c;
    tile.height_mm[t] = 0.9F * broad[t] + 0.85F * fine[t] + 0.20F * flake[t];
    tile.gloss[t] = 0.34F - 0.24F * smooth_step(0.0F, 0.7F, rust[t]);
  }
  // Tubercles: blisters of rust with a paler broken cap and a dark foot.
  strew(
      scaled ? 620 : 280, scaled ? 2.5F : 1.5F, scaled ? 12.0F : 8.0F, seed + 5,
      [&](std::size_t t, float away, int n, float r) {
        const float wobble = away * (1.1F + 0.45F * fine[t] + 0.15F * flake[t]);
        if (wobble >= 1) return;
        tile.height_mm[t] += 0.42F * r * (1 - wobble * wobble) * (1 + 0.6F * flake[t] + 0.4F * fine[t]);
        tile.gloss[t] *= 0.4F;
        const float cap = 1 - smooth_step(0.2F, 0.75F, wobble);
        tile.albedo[t] = blend(tile.albedo[t], blend(orange, ochre, hash_unit(seed, n, 2)), 0.5F * cap);
        tile.albedo[t] =
            blend(tile.albedo[t], linear_from_srgb(40, 26, 18), 0.4F * smooth_step(0.7F, 0.95F, wobble));
        tile.open[t] = std::min(tile.open[t], 1 - 0.55F * smooth_step(0.7F, 1.0F, wobble));
      },
      1.8F);
  return tile;
}

}  // namespace

Tile iron_tile(scene::Look look, std::uint64_t seed) {
  return look == scene::Look::fresh ? new_iron(seed) : rusty_iron(seed, look == scene::Look::aged);
}

Tile concrete_tile(scene::Look look, std::uint64_t seed) {
  Tile tile;
  const Field broad = noise(4, 6, 5, seed + 1), fine = noise(60, 56, 3, seed + 2),
              form = noise(1, 14, 4, seed + 3), stain = noise(18, 4, 4, seed + 4);
  // The mould's face hides the stones until the flow has worn it off.
  const bool fresh = look == scene::Look::fresh, worn = look == scene::Look::aged;
  const float bare = fresh ? 0.0F : worn ? 1.7F : 1.0F, stained = fresh ? 0.35F : worn ? 1.3F : 1.0F;
  const Rgb grey = linear_from_srgb(150, 144, 132), pale = linear_from_srgb(184, 178, 164),
            dark = linear_from_srgb(96, 90, 80), ochre = linear_from_srgb(134, 104, 70);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(grey, pale, smooth_step(-0.8F, 1.0F, broad[t] + 0.3F * fine[t]));
    c = blend(c, dark, 0.42F * stained * smooth_step(0.2F, 1.2F, form[t] + 0.4F * broad[t]));
    c = blend(c, ochre, 0.32F * stained * smooth_step(0.3F, 1.2F, stain[t] + 0.4F * broad[t]));
    tile.albedo[t] = (1 + (fresh ? 0.06F : 0.14F) * fine[t]) * c;
    tile.height_mm[t] = 0.35F * broad[t] + (fresh ? 0.08F : worn ? 0.5F : 0.22F) * fine[t] + 0.25F * form[t];
    tile.gloss[t] = 0.22F;
  }
  // Stones the flow has laid bare, each of its own colour.
  const Field chip = noise(90, 170, 3, seed + 8);
  strew(fresh  ? 0
        : worn ? 1900
               : 950,
        0.9F, worn ? 6.0F : 5.0F, seed + 5, [&](std::size_t t, float away, int n, float r) {
          const float wobble = away * (1.12F + 0.22F * broad[t] + 0.34F * chip[t]);
          if (wobble >= 1) return;
          const float k = std::min(0.50F * bare, 0.8F) * (1 - smooth_step(0.55F, 0.98F, wobble));
          const float hue = hash_unit(seed, n, 3), light = 0.55F + 0.8F * hash_unit(seed, n, 4);
          const Rgb stone =
              light * blend(linear_from_srgb(122, 112, 100), linear_from_srgb(150, 118, 88), hue);
          tile.albedo[t] = blend(tile.albedo[t], stone, k);
          tile.height_mm[t] += 0.16F * bare * r * std::sqrt(std::max(0.0F, 1 - wobble * wobble));
          tile.open[t] = std::min(tile.open[t], 1 - 0.45F * smooth_step(0.8F, 0.97F, wobble));
          tile.gloss[t] = std::max(tile.gloss[t], 0.45F * k);
        });
  // Blow holes, small ones for the most part, in swarms.
  const Field swarm = noise(5, 7, 2, seed + 9);
  strew(520, 0.35F, 2.3F, seed + 6, [&](std::size_t t, float away, int, float r) {
    const float k = (1 - smooth_step(0.6F, 1.0F, away)) * smooth_step(-0.10F, 0.25F, swarm[t]);
    tile.height_mm[t] -= 0.8F * r * k;
    tile.open[t] = std::min(tile.open[t], 1 - 0.8F * k);
    tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(54, 48, 42), 0.75F * k);
  });
  bead(tile, 160, 0.5F, 1.4F, seed + 7);
  return tile;
}

}  // namespace haunch::render
