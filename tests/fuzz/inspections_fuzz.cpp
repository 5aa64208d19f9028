// SPDX-License-Identifier: Apache-2.0
#include <cstddef>
#include <cstdint>

#include "fuzz/entries.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  haunch::fuzz::inspections({data, data + size});
  return 0;
}
