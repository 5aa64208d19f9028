// SPDX-License-Identifier: Apache-2.0
#include "exchange/bytes.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <utility>

#include "base/utf8.hpp"

namespace haunch::exchange {
namespace fs = std::filesystem;
namespace {

/// A byte that no UTF-8 holds, so that whoever checks the text tells its place.
constexpr char no_character = '\xFF';

}  // namespace

base::Result<Bytes> Bytes::open(const fs::path& file, std::size_t block) {
  const auto refuse = [&file](std::string what, std::string expected) {
    return base::Problem{{file.string()}, base::Severity::error, std::move(what), std::move(expected), {}};
  };
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (!fs::exists(status)) return refuse("there is no such file", "the path of an existing file");
  if (fs::is_directory(status)) return refuse("this is a folder", "a file");
  Bytes bytes;
  bytes.block_ = block;
  bytes.handle_ = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (bytes.handle_ < 0)
    return refuse(std::string("cannot be opened: ") + std::strerror(errno), "a readable file");
  // Enough to tell a byte order mark.
  while (bytes.end_ < 3 && bytes.more()) {
  }
  bytes.start();
  return bytes;
}

Bytes Bytes::over(std::string_view text) {
  Bytes bytes;
  bytes.data_ = text.data();
  bytes.end_ = text.size();
  bytes.look_at(text);
  bytes.start();
  return bytes;
}

Bytes::Bytes(Bytes&& other) noexcept { *this = std::move(other); }

Bytes& Bytes::operator=(Bytes&& other) noexcept {
  if (this == &other) return *this;
  if (handle_ >= 0) ::close(handle_);
  handle_ = std::exchange(other.handle_, -1);
  block_ = other.block_;
  buffer_ = std::move(other.buffer_);
  data_ = other.data_;
  at_ = other.at_;
  end_ = other.end_;
  wide_ = other.wide_;
  wide_rest_ = std::move(other.wide_rest_);
  marked_ = other.marked_;
  foreign_ = other.foreign_;
  zero_ = other.zero_;
  broken_ = other.broken_;
  return *this;
}

Bytes::~Bytes() {
  if (handle_ >= 0) ::close(handle_);
}

void Bytes::start() {
  const std::string_view first = window();
  if (first.substr(0, 3) == base::byte_order_mark) {
    marked_ = true;
    pass(3);
  } else if (first.substr(0, 2) == "\xFF\xFE" || first.substr(0, 2) == "\xFE\xFF") {
    marked_ = true;
    wide_ = first[0] == '\xFF' ? Wide::little : Wide::big;
    const std::string raw(first.substr(2));
    at_ = end_ = 0;
    foreign_ = zero_ = false;
    narrow(raw, handle_ < 0);
  }
}

void Bytes::look_at(std::string_view fresh) {
  if (!zero_ && !fresh.empty()) zero_ = std::memchr(fresh.data(), 0, fresh.size()) != nullptr;
  if (foreign_) return;
  unsigned char all = 0;
  for (const char c : fresh) all = static_cast<unsigned char>(all | static_cast<unsigned char>(c));
  foreign_ = all >= 0x80;
}

void Bytes::make_room() {
  if (at_ > 0) {
    std::memmove(buffer_.data(), buffer_.data() + at_, end_ - at_);
    end_ -= at_;
    at_ = 0;
  }
  // Twice the size each time, so that a long line is not copied again for every block.
  if (buffer_.size() < end_ + block_) buffer_.resize(std::max(end_ + block_, 2 * buffer_.size()));
  data_ = buffer_.data();
}

void Bytes::narrow(std::string_view raw, bool last) {
  wide_rest_ += raw;
  std::string text;
  const auto unit = [this](std::size_t i) {
    const auto a = static_cast<unsigned char>(wide_rest_[i]),
               b = static_cast<unsigned char>(wide_rest_[i + 1]);
    return wide_ == Wide::little ? a | static_cast<std::uint32_t>(b) << 8U
                                 : b | static_cast<std::uint32_t>(a) << 8U;
  };
  std::size_t i = 0;
  for (; i + 1 < wide_rest_.size(); i += 2) {
    const std::uint32_t one = unit(i);
    const bool high = one >= 0xD800 && one < 0xDC00;
    if (high && i + 3 >= wide_rest_.size() && !last) break;
    if (high && i + 3 < wide_rest_.size() && unit(i + 2) >= 0xDC00 && unit(i + 2) < 0xE000) {
      base::append_utf8(text, 0x10000 + ((one - 0xD800) << 10U) + (unit(i + 2) - 0xDC00));
      i += 2;
    } else if (one >= 0xD800 && one < 0xE000) {
      text += no_character;
    } else {
      base::append_utf8(text, one);
    }
  }
  wide_rest_.erase(0, std::min(i, wide_rest_.size()));
  if (last && !wide_rest_.empty()) {
    text += no_character;
    wide_rest_.clear();
  }
  if (data_ != buffer_.data()) at_ = end_ = 0;
  make_room();
  if (buffer_.size() < end_ + text.size()) buffer_.resize(end_ + text.size());
  data_ = buffer_.data();
  std::copy(text.begin(), text.end(), buffer_.begin() + static_cast<std::ptrdiff_t>(end_));
  end_ += text.size();
  look_at(text);
}

bool Bytes::more() {
  if (handle_ < 0) return false;
  make_room();
  std::string raw;
  char* into = buffer_.data() + end_;
  if (utf16()) {
    raw.resize(block_);
    into = raw.data();
  }
  ssize_t got = 0;
  do got = ::read(handle_, into, block_);
  while (got < 0 && errno == EINTR);
  if (got <= 0) {
    broken_ = got < 0;
    ::close(handle_);
    handle_ = -1;
    if (!utf16() || wide_rest_.empty()) return false;
    narrow({}, true);
    return true;
  }
  if (utf16()) {
    narrow(std::string_view(raw).substr(0, static_cast<std::size_t>(got)), false);
  } else {
    look_at({into, static_cast<std::size_t>(got)});
    end_ += static_cast<std::size_t>(got);
  }
  return true;
}

void Bytes::fill(std::size_t bytes) {
  while (end_ - at_ < bytes && more()) {
  }
}

}  // namespace haunch::exchange
