// SPDX-License-Identifier: Apache-2.0
// Conversion tables: ISO 8859-1 is Unicode's first 256; 8859-15 and Windows-1252 differ in a few (from
// memory).
#include "exchange/charset.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

#include "base/utf8.hpp"
#include "base/words.hpp"

namespace haunch::exchange {
namespace {

constexpr std::array<std::uint16_t, 32> windows_80_to_9f{
    0x20AC, 0x81,   0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0x8D,   0x017D, 0x8F,   0x90,   0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x9D,   0x017E, 0x0178};

std::uint32_t unicode_of(unsigned char byte, Charset charset) {
  if (charset == Charset::windows1252 && byte >= 0x80 && byte <= 0x9F) return windows_80_to_9f[byte - 0x80U];
  if (charset == Charset::latin9) {
    switch (byte) {
      case 0xA4:
        return 0x20AC;
      case 0xA6:
        return 0x0160;
      case 0xA8:
        return 0x0161;
      case 0xB4:
        return 0x017D;
      case 0xB8:
        return 0x017E;
      case 0xBC:
        return 0x0152;
      case 0xBD:
        return 0x0153;
      case 0xBE:
        return 0x0178;
      default:
        break;
    }
  }
  return byte;
}

}  // namespace

std::optional<Charset> charset_named(std::string_view name) {
  std::string plain;
  for (const char c : base::lower(name)) {
    if (c == ':') break;  // the year of the standard
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) plain += c;
  }
  const auto is = [&plain](std::initializer_list<std::string_view> names) {
    return std::find(names.begin(), names.end(), plain) != names.end();
  };
  if (is({"utf8"})) return Charset::utf8;
  if (is({"ascii", "usascii", "iso646us"})) return Charset::ascii;
  if (is({"iso88591", "latin1", "l1", "88591"})) return Charset::latin1;
  if (is({"iso885915", "latin9", "l9"})) return Charset::latin9;
  if (is({"windows1252", "cp1252", "ansi"})) return Charset::windows1252;
  return {};
}

bool is_ascii(std::string_view bytes) {
  unsigned char all = 0;
  for (const char c : bytes) all = static_cast<unsigned char>(all | static_cast<unsigned char>(c));
  return all < 0x80;
}

std::size_t first_foreign_byte(std::string_view bytes, Charset charset) {
  if (charset != Charset::utf8 && charset != Charset::ascii) return std::string_view::npos;
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = base::utf8_length(bytes, i);
    if (length == 0 || (length > 1 && charset == Charset::ascii)) return i;
    i += length;
  }
  return std::string_view::npos;
}

void append_as_utf8(std::string& out, std::string_view bytes, Charset charset) {
  const bool single = charset != Charset::utf8 && charset != Charset::ascii;
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = single ? 1 : base::utf8_length(bytes, i);
    if (single)
      base::append_utf8(out, unicode_of(static_cast<unsigned char>(bytes[i]), charset));
    else if (length == 0 || (length > 1 && charset == Charset::ascii))
      base::append_utf8(out, 0xFFFD);
    else
      out.append(bytes, i, length);
    i += std::max<std::size_t>(length, 1);
  }
}

std::string to_utf8(std::string_view bytes, Charset charset) {
  std::string out;
  out.reserve(bytes.size());
  append_as_utf8(out, bytes, charset);
  return out;
}

namespace {

/// The byte of a set of single bytes for the character at `i`; nothing when the set has none. Moves `i` on.
std::optional<char> byte_of(std::string_view text, std::size_t& i, Charset charset) {
  const std::size_t length = base::utf8_length(text, i);
  if (length == 0 || length == 4) return {};
  const auto byte = [&](std::size_t k) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i + k]));
  };
  const std::uint32_t wanted =
      length == 1   ? byte(0)
      : length == 2 ? ((byte(0) & 0x1FU) << 6U) | (byte(1) & 0x3FU)
                    : ((byte(0) & 0x0FU) << 12U) | ((byte(1) & 0x3FU) << 6U) | (byte(2) & 0x3FU);
  i += length;
  if (wanted < 0x80) return static_cast<char>(wanted);
  if (charset == Charset::ascii) return {};
  for (unsigned candidate = 0x80; candidate < 0x100; ++candidate)
    if (unicode_of(static_cast<unsigned char>(candidate), charset) == wanted)
      return static_cast<char>(candidate);
  return {};
}

}  // namespace

std::size_t first_lacking(std::string_view text, Charset charset) {
  if (is_ascii(text)) return std::string_view::npos;
  if (charset == Charset::utf8) return first_foreign_byte(text, charset);
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t at = i;
    if (!byte_of(text, i, charset)) return at;
  }
  return std::string_view::npos;
}

std::optional<std::string> from_utf8(std::string_view text, Charset charset) {
  if (first_lacking(text, charset) != std::string_view::npos) return {};
  if (charset == Charset::utf8 || is_ascii(text)) return std::string(text);
  std::string out;
  for (std::size_t i = 0; i < text.size();) out += *byte_of(text, i, charset);
  return out;
}

}  // namespace haunch::exchange
