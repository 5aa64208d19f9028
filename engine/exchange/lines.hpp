// SPDX-License-Identifier: Apache-2.0
// The lines of a file of any size, one after another. Inside exchange.
#pragma once

#include <string_view>

#include "exchange/bytes.hpp"

namespace haunch::exchange {

/// Ours: a thousand times as long as a row of the longest remarks seen.
inline constexpr std::size_t longest_line = std::size_t{1} << 20U;

enum class Ended { lf, crlf, cr, not_at_all };
struct Line {
  std::string_view text;  ///< without its end
  int number = 0;
  Ended ended = Ended::not_at_all;
  bool too_long = false;  ///< longer than `longest_line`; the text is left out
};

class Lines {
 public:
  explicit Lines(Bytes bytes) : bytes_(std::move(bytes)) {}
  /// The next line, which ends at LF, CR LF or CR; false at the end. The text is good until the next call.
  bool next(Line& line);
  /// The next call gives the last line once more.
  void again() { again_ = true; }
  const Bytes& bytes() const { return bytes_; }
  Bytes& bytes() { return bytes_; }

 private:
  /// Where a sign stands next in the window, or how far it has been looked for.
  struct Next {
    std::size_t at = 0;
    bool found = false;
  };
  void look(Next& next, char sign);
  void pass(std::size_t bytes);
  bool give(Line& line, std::size_t length, std::size_t with_end, Ended ended);
  bool give_too_long(Line& line);

  Bytes bytes_;
  Next lf_, cr_;
  std::size_t given_ = 0;  ///< bytes of the last line, which are passed when the next is asked for
  int number_ = 0;
  bool again_ = false;
  Line last_;
};

}  // namespace haunch::exchange
