// SPDX-License-Identifier: Apache-2.0
#include "exchange/lines.hpp"

#include <algorithm>
#include <cstring>

namespace haunch::exchange {

void Lines::look(Next& next, char sign) {
  const std::string_view window = bytes_.window();
  if (next.found || next.at >= window.size()) return;
  const void* found = std::memchr(window.data() + next.at, sign, window.size() - next.at);
  next.found = found != nullptr;
  next.at =
      next.found ? static_cast<std::size_t>(static_cast<const char*>(found) - window.data()) : window.size();
}

void Lines::pass(std::size_t bytes) {
  bytes_.pass(bytes);
  for (Next* one : {&lf_, &cr_}) {
    one->found = one->found && one->at >= bytes;
    one->at = one->at >= bytes ? one->at - bytes : 0;
  }
}

bool Lines::give(Line& line, std::size_t length, std::size_t with_end, Ended ended) {
  given_ = with_end;
  line = last_ = {bytes_.window().substr(0, length), ++number_, ended, false};
  return true;
}

bool Lines::give_too_long(Line& line) {
  while (!lf_.found && !cr_.found) {
    pass(bytes_.window().size());
    if (!bytes_.more()) break;
    look(lf_, '\n');
    look(cr_, '\r');
  }
  pass(std::min({lf_.at, cr_.at, bytes_.window().size()}));
  bytes_.fill(2);
  const std::string_view rest = bytes_.window();
  const bool crlf = rest.substr(0, 2) == "\r\n";
  give(line, 0, std::min<std::size_t>(rest.size(), crlf ? 2 : 1), crlf ? Ended::crlf : Ended::lf);
  line.too_long = last_.too_long = true;
  return true;
}

bool Lines::next(Line& line) {
  if (again_) {
    again_ = false;
    line = last_;
    return true;
  }
  pass(given_);
  given_ = 0;
  for (;;) {
    look(lf_, '\n');
    look(cr_, '\r');
    const std::size_t size = bytes_.window().size();
    if (!lf_.found && !cr_.found) {
      if (size > longest_line) return give_too_long(line);
      if (bytes_.more()) continue;
      if (bytes_.window().empty()) return false;
      return give(line, size, size, Ended::not_at_all);
    }
    const std::size_t end = std::min(lf_.at, cr_.at);
    if (end > longest_line) return give_too_long(line);
    const bool at_cr = cr_.found && cr_.at == end;
    if (!at_cr) return give(line, end, end + 1, Ended::lf);
    // The LF of a CR LF may stand in the next block.
    if (end + 1 == size && bytes_.more()) continue;
    const bool crlf = lf_.found && lf_.at == end + 1;
    return give(line, end, end + (crlf ? 2 : 1), crlf ? Ended::crlf : Ended::cr);
  }
}

}  // namespace haunch::exchange
