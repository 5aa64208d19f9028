// SPDX-License-Identifier: Apache-2.0
// A file, or a text in memory, as a window of bytes that slides along it. Inside exchange.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace haunch::exchange {

class Bytes {
 public:
  static base::Result<Bytes> open(const std::filesystem::path& file, std::size_t block);
  /// The text stays the caller's.
  static Bytes over(std::string_view text);

  Bytes(Bytes&& other) noexcept;
  Bytes& operator=(Bytes&& other) noexcept;
  ~Bytes();

  /// What has been read and not been passed; without a byte order mark. UTF-16 comes as UTF-8.
  std::string_view window() const { return {data_ + at_, end_ - at_}; }
  /// Reads another block to the end of the window, which may move it. False at the end of the file.
  bool more();
  void pass(std::size_t bytes) { at_ += bytes; }
  /// Reads on until the window holds as many bytes, or all there are.
  void fill(std::size_t bytes);

  bool marked() const { return marked_; }           ///< began with a byte order mark
  bool utf16() const { return wide_ != Wide::no; }  ///< and that of UTF-16
  /// Seen so far; once true they stay so.
  bool any_foreign() const { return foreign_; }  ///< a byte past ASCII
  bool any_zero() const { return zero_; }
  bool broken() const { return broken_; }  ///< reading stopped half way

 private:
  enum class Wide { no, little, big };
  Bytes() = default;
  void start();
  void look_at(std::string_view fresh);
  void make_room();
  /// Raw bytes into `wide_rest_`, characters of it to the window's end as UTF-8.
  void narrow(std::string_view raw, bool last);

  int handle_ = -1;
  std::size_t block_ = 1;
  std::vector<char> buffer_;
  const char* data_ = nullptr;
  std::size_t at_ = 0, end_ = 0;
  Wide wide_ = Wide::no;
  std::string wide_rest_;
  bool marked_ = false, foreign_ = false, zero_ = false, broken_ = false;
};

}  // namespace haunch::exchange
