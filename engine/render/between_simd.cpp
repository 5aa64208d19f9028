// SPDX-License-Identifier: Apache-2.0
// Pixels between traced ones, a row of them at a time; exact arithmetic as in the wall pass.
#include "render/between.hpp"

#include <algorithm>
#include <cstring>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/between_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Means of one row of pixels between; returns which differ from their neighbours, a bit each.
std::uint32_t FillRow(const Board& s, const float* nearness, Board& b, int row) {
  const hn::Rebind<std::uint16_t, F> narrow;
  // At the tile's rim the two neighbours along it stand for all four.
  const bool first = row == 0, last = row + 1 == tile_height;
  const int here = row * board_width, above = here - board_width, below = here + board_width;
  const int aside = (row & 1) != 0 ? -1 : 1, rim = aside < 0 ? 0 : board_width - 1;
  std::uint32_t differ = 0;
  for (int k = 0; k < board_width; k += lanes()) {
    const auto at_rim = hn::Iota(I(), k) == hn::Set(I(), rim);
    struct Four {
      V a, b, c, d;
    };
    const auto four = [&](const float* from) {
      const V own = hn::Load(F(), from + here + k), beside = hn::LoadU(F(), from + here + k + aside);
      if (first || last) return Four{own, beside, own, beside};
      const V c = hn::Load(F(), from + above + k), d = hn::Load(F(), from + below + k);
      const M rim_lane = hn::RebindMask(F(), at_rim);
      return Four{hn::IfThenElse(rim_lane, c, own), hn::IfThenElse(rim_lane, d, beside), c, d};
    };
    const VI kind = hn::Load(I(), s.kind + here + k);
    VI other = hn::Xor(kind, hn::LoadU(I(), s.kind + here + k + aside));
    // A corner has no two neighbours that face each other.
    other = hn::IfThenElse(at_rim, hn::Set(I(), first || last ? 1 : 0), other);
    if (!first) other = hn::Or(other, hn::Xor(kind, hn::Load(I(), s.kind + above + k)));
    if (!last) other = hn::Or(other, hn::Xor(kind, hn::Load(I(), s.kind + below + k)));
    const auto least = [](const Four& f) { return hn::Min(hn::Min(f.a, f.b), hn::Min(f.c, f.d)); };
    const auto most = [](const Four& f) { return hn::Max(hn::Max(f.a, f.b), hn::Max(f.c, f.d)); };
    const auto mean = [](const Four& f) { return ((f.a + f.b) + (f.c + f.d)) * hn::Set(F(), 0.25F); };
    const auto apart = [&](const Four& f) {
      const V low = least(f), high = most(f);
      return high - low > (high + low) * hn::Set(F(), alike_within / 2);
    };
    const Four red = four(s.red), green = four(s.green), near = four(nearness);
    M trace = hn::Or(apart(red), apart(green));
    trace = hn::Or(trace, most(near) > least(near) * hn::Set(F(), 1.06F));
    trace = hn::Or(trace, hn::RebindMask(F(), hn::Ne(other, hn::Zero(I()))));
    hn::Store(mean(red), F(), b.red + here + k);
    hn::Store(mean(green), F(), b.green + here + k);
    hn::Store(mean(four(s.blue)), F(), b.blue + here + k);
    // On a plane one over the depth is straight across a picture.
    const V nearer = mean(near);
    const V depth = hn::IfThenElse(nearer > hn::Zero(F()), Inverse(nearer), hn::Set(F(), nothing_hit));
    hn::Store(depth, F(), b.depth + here + k);
    hn::StoreU(hn::LoadU(narrow, s.fault + here + k), narrow, b.fault + here + k);
    std::uint8_t bits[8] = {};
    hn::StoreMaskBits(F(), trace, bits);
    differ |= (bits[0] | static_cast<std::uint32_t>(bits[1]) << 8U) << static_cast<unsigned>(k);
  }
  return differ;
}

void TakeBoard(const Samples& s, Board& b) {
  const auto squares = [](const auto* from, auto* to) {
    for (int n = 0; n < board_size; n += 4) {
      const BoardPlace at = board_place(n);
      std::memcpy(to + at.row * board_width + at.k, from + n, 4 * sizeof(*to));
    }
  };
  squares(s.red.data(), b.red);
  squares(s.green.data(), b.green);
  squares(s.blue.data(), b.blue);
  squares(s.depth.data(), b.depth);
  squares(s.fault.data(), b.fault);
  const hn::Rebind<std::uint16_t, F> narrow;
  alignas(64) std::int32_t kind[board_size];
  for (int n = 0; n < board_size; n += lanes()) {
    const auto at = static_cast<std::size_t>(n);
    // Which stretch of wall or its face, whether that itself is shown, and the fault.
    const VI bare = hn::BitCast(I(), hn::ShiftRight<31>(hn::BitCast(U(), hn::LoadU(I(), &s.piece[at]))));
    const VI place = hn::LoadU(I(), &s.place[at]);
    hn::Store(
        hn::Or(hn::ShiftLeft<16>(place + place + bare), hn::PromoteTo(I(), hn::LoadU(narrow, &s.fault[at]))),
        I(), kind + n);
  }
  squares(kind, b.kind);
  if (s.any_smooth) squares(s.smooth.data(), b.smooth);
}

int FillBetween(const Board& s, Board& b, std::int32_t* wanted) {
  // One over the depth; what is too far to be seen counts as nothing.
  alignas(64) float nearness[board_size];
  for (int n = 0; n < board_size; n += lanes()) {
    const V depth = hn::Load(F(), s.depth + n);
    const V nearer = Inverse(hn::Clamp(depth, hn::Set(F(), 1e-4F), hn::Set(F(), 1e4F)));
    hn::Store(hn::IfThenElseZero(depth < hn::Set(F(), 1e4F), nearer), F(), nearness + n);
  }
  std::uint32_t differ[tile_height];
  for (int row = 0; row < tile_height; ++row) differ[row] = FillRow(s, nearness, b, row);
  // Strands are finer than pixels: beside one, nothing can be told from the neighbours.
  std::uint32_t smooth[tile_height];
  for (int row = 0; row < tile_height; ++row) {
    smooth[row] = 0;
    for (int k = 0; k < board_width; ++k)
      smooth[row] |= static_cast<std::uint32_t>(s.smooth[row * board_width + k] != 0)
                     << static_cast<unsigned>(k);
  }
  for (int row = 0; row < tile_height; ++row) {
    differ[row] |= smooth[row] | ((row & 1) != 0 ? smooth[row] << 1U : smooth[row] >> 1U);
    if (row > 0) differ[row] |= smooth[row - 1];
    if (row + 1 < tile_height) differ[row] |= smooth[row + 1];
  }
  int count = 0;
  for (int n = 0; n < board_size; n += 4) {
    const BoardPlace at = board_place(n);
    for (std::uint32_t four = differ[at.row] >> static_cast<unsigned>(at.k) & 15U, k = 0; four != 0;
         four >>= 1U, ++k)
      if ((four & 1U) != 0) wanted[count++] = at.row * board_width + at.k + static_cast<int>(k);
  }
  return count;
}

void MergeRow(const Board& s, const Board& b, int row, const TileRow& to) {
  const int from = row * board_width;
  const Board &even = (row & 1) != 0 ? b : s, &odd = (row & 1) != 0 ? s : b;
  for (int k = 0; k < board_width; k += lanes()) {
    const auto light = [&](const Board& of) {
      const auto at = [&](const float* plane) { return hn::Load(F(), plane + from + k); };
      return PackLight(at(of.red), at(of.green), at(of.blue));
    };
    hn::StoreInterleaved2(light(even), light(odd), U(), to.light + 2 * k);
    hn::StoreInterleaved2(hn::Load(F(), even.depth + from + k), hn::Load(F(), odd.depth + from + k), F(),
                          to.depth + 2 * k);
  }
  for (int k = 0; k < board_width; ++k)
    to.fault[2 * k] = even.fault[from + k], to.fault[2 * k + 1] = odd.fault[from + k];
}

void KeepRow(const Samples& s, std::size_t from, std::size_t count, const TileRow& to) {
  alignas(64) std::uint32_t light[16];
  for (std::size_t x = 0; x < count; x += hn::Lanes(F())) {
    const auto at = [&](const std::vector<float>& plane) { return hn::LoadU(F(), &plane[from + x]); };
    hn::Store(PackLight(at(s.red), at(s.green), at(s.blue)), U(), light);
    std::copy_n(light, std::min(count - x, hn::Lanes(F())), to.light + x);
  }
  std::copy_n(&s.depth[from], count, to.depth);
  std::copy_n(&s.fault[from], count, to.fault);
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE

namespace haunch::render {

HWY_EXPORT(TakeBoard);
HWY_EXPORT(FillBetween);
HWY_EXPORT(MergeRow);
HWY_EXPORT(KeepRow);

void take_board(const Samples& samples, Board& board) {
  if (!samples.any_smooth) std::fill_n(board.smooth, board_size, std::uint8_t{0});
  HWY_DYNAMIC_DISPATCH(TakeBoard)(samples, board);
}

int fill_between(const Board& traced, Board& between, std::int32_t* wanted) {
  std::fill_n(between.smooth, board_size, std::uint8_t{0});
  return HWY_DYNAMIC_DISPATCH(FillBetween)(traced, between, wanted);
}

void put_wanted(const Samples& samples, const std::int32_t* wanted, int count, Board& b) {
  for (int n = 0; n < count; ++n) {
    const auto from = static_cast<std::size_t>(n);
    const int to = wanted[n];
    b.red[to] = samples.red[from], b.green[to] = samples.green[from], b.blue[to] = samples.blue[from];
    b.depth[to] = samples.depth[from], b.fault[to] = samples.fault[from];
    if (samples.any_smooth) b.smooth[to] = samples.smooth[from];
  }
}

void merge_row(const Board& traced, const Board& between, int row, const TileRow& to) {
  HWY_DYNAMIC_DISPATCH(MergeRow)(traced, between, row, to);
}
void keep_row(const Samples& samples, std::size_t from, std::size_t count, const TileRow& to) {
  HWY_DYNAMIC_DISPATCH(KeepRow)(samples, from, count, to);
}

}  // namespace haunch::render
#endif
