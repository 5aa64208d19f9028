// SPDX-License-Identifier: Apache-2.0
// Small exchange texts and what is said of them.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "exchange/exchange_text.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange::test {

inline const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
inline const std::string head = "#B01=AAA;AAK\nK3-K4;A\n";

inline ExchangeFile read(const std::string& text, std::size_t remarks = 0) {
  auto result = exchange_from_text(text, "f");
  EXPECT_TRUE(result.ok()) << (result.ok() ? "" : base::to_line(result.problems().front()));
  EXPECT_EQ(result.problems().size(), remarks)
      << (result.problems().empty() ? "" : base::to_line(result.problems().front()));
  return result.ok() ? std::move(result).value() : ExchangeFile{};
}
inline std::vector<std::string> said(const std::string& text) {
  return lines(exchange_from_text(text, "f").problems());
}

}  // namespace haunch::exchange::test
