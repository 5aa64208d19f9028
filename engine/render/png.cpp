// SPDX-License-Identifier: Apache-2.0
// PNG files from frames.
#include <png.h>

#include <csetjmp>
#include <stdexcept>

#include "render/frame.hpp"

namespace haunch::render {
namespace {

void append(png_structp png, png_bytep data, png_size_t size) {
  static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(data), size);
}
[[noreturn]] void fail(png_structp, png_const_charp what) {
  throw std::runtime_error(std::string("cannot write PNG: ") + what);
}

std::string encode(int width, int height, int colour, int depth, const std::uint8_t* rows,
                   std::size_t row_bytes) {
  std::string out;
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, nullptr);
  png_infop info = png_create_info_struct(png);
  struct Close {
    png_structp png;
    png_infop info;
    ~Close() { png_destroy_write_struct(&png, &info); }
  } close{png, info};
  png_set_write_fn(png, &out, append, nullptr);
  png_set_compression_level(png, 3);
  png_set_IHDR(png, info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), depth, colour,
               PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info(png, info);
  for (int y = 0; y < height; ++y) png_write_row(png, rows + static_cast<std::size_t>(y) * row_bytes);
  png_write_end(png, nullptr);
  return out;
}

}  // namespace

std::string colour_png(const Frame& frame) {
  return encode(frame.width, frame.height, PNG_COLOR_TYPE_RGB, 8, frame.rgb.data(),
                3 * static_cast<std::size_t>(frame.width));
}

std::string fault_png(const Frame& frame) {
  // PNG keeps the high byte first.
  std::vector<std::uint8_t> bytes;
  bytes.reserve(2 * frame.fault.size());
  for (const std::uint16_t number : frame.fault) {
    bytes.push_back(static_cast<std::uint8_t>(number >> 8U));
    bytes.push_back(static_cast<std::uint8_t>(number & 0xffU));
  }
  return encode(frame.width, frame.height, PNG_COLOR_TYPE_GRAY, 16, bytes.data(),
                2 * static_cast<std::size_t>(frame.width));
}

}  // namespace haunch::render
