// SPDX-License-Identifier: Apache-2.0
// Every other pixel of a tile, as on a draughtboard, gets a ray of its own. A pixel between four that
// show the same thing in nearly the same light takes their mean; any other gets its own ray too. What
// is laid between differs from what a ray would have shown by less than the sensor's noise; a test
// measures that.
// Room-internal header.
#pragma once

#include <cstddef>
#include <cstdint>

#include "render/samples.hpp"

namespace haunch::render {

inline constexpr int tile_width = 32, tile_height = 16;
inline constexpr int board_width = tile_width / 2, board_size = board_width * tile_height;

/// How far apart the light of the four may lie, of their middle (ours: judged by eye and by the test).
inline constexpr float alike_within = 0.25F;

/// Half the pixels of a tile, row by row: those traced first (x + y even), or those between.
struct Board {
  alignas(64) float red[board_size], green[board_size], blue[board_size], depth[board_size];
  alignas(64) std::int32_t kind[board_size];  ///< what is shown, as far as it matters here
  std::uint16_t fault[board_size];
  std::uint8_t smooth[board_size];
};

/// Rays are traced in small squares, so that those of a vector lie close together: the row and the
/// column on the board of the n-th.
struct BoardPlace {
  int row, k;
};
constexpr BoardPlace board_place(int n) {
  constexpr int side = 4, across = board_width / side;
  const int square = n / (side * side), within = n % (side * side);
  return {square / across * side + within / side, square % across * side + within % side};
}
/// Column in the tile of the k-th traced pixel of a row, and of the k-th between.
constexpr int traced_column(int row, int k) { return 2 * k + (row & 1); }
constexpr int between_column(int row, int k) { return 2 * k + 1 - (row & 1); }

/// From samples in the order of board_place.
void take_board(const Samples& samples, Board& board);
/// Lays the pixels between; `wanted` lists those that want a ray of their own (as row * board_width +
/// k, in the order of board_place). Returns how many.
int fill_between(const Board& traced, Board& between, std::int32_t* wanted);
/// Puts the rays that were traced after all in their places.
void put_wanted(const Samples& samples, const std::int32_t* wanted, int count, Board& between);

/// Where a row of a tile goes: linear light (PackLight), depth, fault.
struct TileRow {
  std::uint32_t* light;
  float* depth;
  std::uint16_t* fault;
};
/// Both kinds of pixels of a row in order.
void merge_row(const Board& traced, const Board& between, int row, const TileRow& to);
/// Samples that lie in order.
void keep_row(const Samples& samples, std::size_t from, std::size_t count, const TileRow& to);

}  // namespace haunch::render
