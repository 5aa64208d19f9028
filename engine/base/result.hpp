// SPDX-License-Identifier: Apache-2.0
// What a reader of files gives back: a value, or every problem it found, each with its place.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace haunch::base {

/// A place in a file. line and column count from 1; 0 means "not known".
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  bool operator==(const Place&) const = default;
};

enum class Severity { error, warning, note };

/// One thing wrong with a file or a record, in words a person without programming can act on.
struct Problem {
  Place place;
  Severity severity = Severity::error;
  std::string what;        ///< what is wrong, with what was found
  std::string expected;    ///< what was expected there
  std::string suggestion;  ///< the nearest valid thing, or empty
  bool operator==(const Problem&) const = default;
};

using Problems = std::vector<Problem>;

/// `file:line:column: what is wrong; what was expected`, with `warning: ` or `note: ` before a
/// milder one, and `; did you mean "..."?` where there is a suggestion.
std::string to_line(const Problem& problem);

bool has_errors(const Problems& problems);

/// A value, or all the problems that stood in its way. A value may carry warnings and notes.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : value_(std::move(value)) {}  // NOLINT: a value is a result
  Result(T value, Problems remarks) : value_(std::move(value)), problems_(std::move(remarks)) {}
  Result(Problems problems) : problems_(std::move(problems)) { assert(!problems_.empty()); }  // NOLINT
  Result(Problem problem) : problems_{std::move(problem)} {}                                  // NOLINT

  bool ok() const { return value_.has_value(); }
  explicit operator bool() const { return ok(); }
  const T& value() const& {
    assert(ok());
    return *value_;
  }
  T& value() & {
    assert(ok());
    return *value_;
  }
  /// By value, so that `for (auto& x : read(..).value().items)` does not outlive what it walks over.
  T value() && {
    assert(ok());
    return std::move(*value_);
  }
  const Problems& problems() const { return problems_; }

 private:
  std::optional<T> value_;
  Problems problems_;
};

}  // namespace haunch::base
