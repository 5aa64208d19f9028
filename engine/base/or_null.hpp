// SPDX-License-Identifier: Apache-2.0
// A value that may be absent, as JSON: `or_null<Json>(size)`. The kind of JSON is the caller's, so that
// no header here brings it in.
#pragma once

#include <optional>

namespace haunch::base {

template <class Json, class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

}  // namespace haunch::base
