// SPDX-License-Identifier: Apache-2.0
// Broken JSON of many sorts. The judge of what is JSON at all is nlohmann/json, asked beside ours.
#include "base/json_scan.hpp"
#include "campaign.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/random.hpp"

namespace haunch::base {
namespace {

std::string first_line(const std::string& text) {
  const JsonScan scan = scan_json(text, "f");
  return scan.problems.empty() ? "" : to_line(scan.problems.front());
}

struct Broken {
  const char* text;
  const char* said;
};

TEST(JsonScan, EverySlipIsTold) {
  const Broken cases[] = {
      {"", "f:1:1: the file is empty; expected a JSON object: { ... }"},
      {" \n ", "f:2:2: the file is empty; expected a JSON object: { ... }"},
      {"{\"a\": 1,}", "f:1:9: a comma stands before }; expected a key, or no comma after the last value"},
      {"[1,]", "f:1:4: a comma stands before ]; expected a value, or no comma after the last value"},
      {"{\"a\" 1}", "f:1:6: no colon after the key \"a\": found 1; expected :"},
      {"{\"a\": 1 \"b\": 2}", "f:1:9: no comma or } after the value of \"a\": found \"; expected , or }"},
      {"[1 2]", "f:1:4: no comma or ] after a value of the list: found 2; expected , or ]"},
      {"{\"a\": }", "f:1:7: a value is missing before }; expected a value, or no comma before it"},
      {"{\"a\":\n", "f:2:1: the file ends after the key \"a\"; expected a value"},
      {"{\n\"a\": 1", "f:2:7: the file ends inside { opened in line 1; expected the closing }"},
      {"[1", "f:1:3: the file ends inside [ opened in line 1; expected the closing ]"},
      {"{a: 1}", "f:1:2: a key is missing: found a; expected a key in double quotes"},
      {"{'a': 1}", "f:1:2: a key is missing: found '; expected a key in double quotes"},
      {"['a']", "f:1:2: text is in single quotes; expected double quotes: \"...\""},
      {"[\"a\nb\"]",
       "f:1:2: the line ends inside the text that begins here; expected the closing \" in the same line"},
      {"[\"a", "f:1:2: the file ends inside the text that begins here; expected the closing \""},
      {"[\"\\q\"]",
       "f:1:3: \\ is followed by something that JSON does not know; expected \\\\ for a backslash itself"},
      {"[\"\\u12\"]",
       "f:1:7: \\u is not followed by four hexadecimal digits: found \"; expected for instance \\u00e9"},
      {"[\"\\ud800x\"]", "f:1:9: half a character: a lone \\u surrogate; expected both halves"},
      {"[\"\xff\"]", "f:1:3: a byte that is not UTF-8; expected the file saved as UTF-8"},
      {"[01]", "f:1:2: a number begins with a needless 0; expected the number without it"},
      {"[1.]", "f:1:4: a number is broken off after its point: found ]; expected a digit"},
      {"[.5]", "f:1:2: a number begins with a point; expected a digit before the point: 0.5"},
      {"[+5]", "f:1:2: a number begins with +; expected the number without +"},
      {"[-]", "f:1:3: a number is broken off: found ]; expected a digit"},
      {"[1e]", "f:1:4: a number is broken off in its exponent: found ]; expected a digit"},
      {"[True]",
       "f:1:2: a value is missing: found True; expected text in double quotes, a number, true, false, null, "
       "{ or ["},
      {"[nul]",
       "f:1:2: a value is missing: found nul; expected text in double quotes, a number, true, false, null, { "
       "or ["},
      {"{} x", "f:1:4: there is more text after the end: found x; expected nothing after the last bracket"},
      {"{} // why", "f:1:4: JSON has no comments: found //; expected the comment taken out"},
      {"[1, /* x */ 2]", "f:1:5: JSON has no comments: found /*; expected the comment taken out"},
  };
  for (const Broken& one : cases) EXPECT_EQ(first_line(one.text), one.said) << one.text;
}

TEST(JsonScan, DeepNestingIsRefusedNotFollowed) {
  const std::string deep(100000, '[');
  EXPECT_EQ(first_line(deep),
            "f:1:65: brackets are nested deeper than 64 levels; expected at most 64 levels");
  std::string fits(64, '[');
  fits += std::string(64, ']');
  EXPECT_EQ(first_line(fits), "");
}

TEST(JsonScan, EscapedKeysMeetTheParsersKeys) {
  const JsonScan scan = scan_json(R"({"a\u00e9\ud83d\ude00\n": 1})", "f");
  EXPECT_TRUE(scan.values.contains("/aé😀\n"));
}

/// Counting from the start of the line each time would take a day on a long one; the places are the same.
TEST(LinePlaces, OnOneLongLineAsByCounting) {
  Random random(7);
  for (const std::string mark : {"", "\xEF\xBB\xBF"})
    for (const std::size_t size : {0U, 1U, 255U, 256U, 257U, 512U, 1500U}) {
      std::string text;
      while (text.size() < size)
        text += random.below(40) == 0  ? "\n"
                : random.below(3) == 0 ? "\u00e9"
                : random.below(3) == 0 ? "\u20ac"
                                       : "x";
      text = mark + text;
      const LinePlaces places(text, "f");
      int line = 1, column = 1;
      for (std::size_t byte = mark.size(); byte <= text.size(); ++byte) {
        const bool begins = byte == text.size() || (static_cast<unsigned char>(text[byte]) & 0xC0U) != 0x80U;
        if (begins) {
          ASSERT_EQ(places.at(byte), (Place{"f", line, column})) << byte;
        }
        if (byte == text.size()) break;
        if (begins) ++column;
        if (text[byte] == '\n') {
          ++line;
          column = 1;
        }
      }
    }
  const std::string line(2000000, 'x');
  const LinePlaces places(line, "f");
  for (int byte = 0; byte < 2000000; byte += 4)
    ASSERT_EQ(places.at(static_cast<std::size_t>(byte)).column, byte + 1);
}

/// Cuts and flips of a sample: ours and nlohmann/json agree on what is JSON.
TEST(JsonScan, AgreesWithNlohmannOnBrokenText) {
  const std::string sample =
      R"({"kind": "pit", "n": [0, -1.5e+3, 12.25, true, false, null], "t": "a\"b\\\u00e9é€😀", "o": {"x": {}, "y": []}})";
  const auto agree = [](const std::string& text) {
    const JsonScan scan = scan_json(text, "f");
    const bool twice =
        !scan.problems.empty() && scan.problems.front().what.find("twice") != std::string::npos;
    if (!twice) {
      EXPECT_EQ(scan.problems.empty(), nlohmann::json::accept(text)) << text;
    }
  };
  for (std::size_t cut = 0; cut <= sample.size(); ++cut) agree(sample.substr(0, cut));
  Random random(20260302);
  for (int i = 0; i < campaign::rounds(20000); ++i) {
    std::string text = sample;
    for (std::uint32_t flips = 1 + random.below(2); flips > 0; --flips)
      text[random.below(static_cast<std::uint32_t>(text.size()))] = static_cast<char>(random.below(256));
    agree(text);
  }
}

}  // namespace
}  // namespace haunch::base
