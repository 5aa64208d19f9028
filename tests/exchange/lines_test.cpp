// SPDX-License-Identifier: Apache-2.0
// Lines are the same however the file comes in blocks.
#include "exchange/lines.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

#include "base/random.hpp"
#include "campaign.hpp"

namespace haunch::exchange {
namespace {

namespace fs = std::filesystem;

struct Seen {
  std::string text;
  int number = 0;
  Ended ended = Ended::not_at_all;
  bool too_long = false;
  bool operator==(const Seen&) const = default;
};
void PrintTo(const Seen& seen, std::ostream* out) {
  *out << seen.number << ' ' << seen.text.substr(0, 40) << ' ' << static_cast<int>(seen.ended);
}

std::vector<Seen> by_lines(Bytes bytes) {
  std::vector<Seen> seen;
  Lines lines(std::move(bytes));
  Line line;
  while (lines.next(line)) {
    seen.push_back({std::string(line.text), line.number, line.ended, line.too_long});
    if (seen.size() % 3 == 0) {
      lines.again();
      EXPECT_TRUE(lines.next(line));
      EXPECT_EQ(line.text, seen.back().text);
    }
  }
  EXPECT_FALSE(lines.next(line));
  return seen;
}

/// Another way of splitting: one character at a time.
std::vector<Seen> by_characters(const std::string& text) {
  std::vector<Seen> seen;
  std::string line;
  int number = 1;
  const auto end = [&](Ended ended) {
    seen.push_back({line.size() > longest_line ? "" : line, number++, ended, line.size() > longest_line});
    line.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') {
      end(Ended::lf);
    } else if (text[i] == '\r') {
      const bool both = i + 1 < text.size() && text[i + 1] == '\n';
      i += both ? 1 : 0;
      end(both ? Ended::crlf : Ended::cr);
    } else {
      line += text[i];
    }
  }
  if (!line.empty()) end(Ended::not_at_all);
  return seen;
}

class LinesOf : public ::testing::Test {
 protected:
  LinesOf() : path_(fs::temp_directory_path() / ("haunch-lines-" + std::to_string(::getpid()))) {}
  ~LinesOf() override { fs::remove(path_); }
  Bytes blocks(const std::string& text, std::size_t block) {
    std::ofstream(path_, std::ios::binary) << text;
    auto bytes = Bytes::open(path_, block);
    EXPECT_TRUE(bytes.ok());
    return std::move(bytes).value();
  }
  fs::path path_;
};

TEST_F(LinesOf, BlocksOfAnySize) {
  base::Random random(4);
  for (int round = 0; round < campaign::rounds(60); ++round) {
    std::string text;
    for (std::uint32_t n = random.below(30); n > 0; --n) {
      text.append(random.below(9), 'x');
      text +=
          std::string(std::vector<const char*>{"\n", "\r\n", "\r", "\n\n", "y", "\r\r\n"}[random.below(6)]);
    }
    const auto expected = by_characters(text);
    EXPECT_EQ(by_lines(Bytes::over(text)), expected);
    for (const std::size_t block : {1U, 2U, 3U, 5U, 16U, 4096U})
      EXPECT_EQ(by_lines(blocks(text, block)), expected) << block;
  }
}

TEST_F(LinesOf, ALineLongerThanTheLimitIsLeftOut) {
  for (const char* end : {"\n", "\r\n", ""}) {
    const std::string text = "a\n" + std::string(longest_line, 'b') + "\n" +
                             std::string(longest_line + 1, 'c') + end + (*end != 0 ? "d\ne" : "");
    auto expected = by_characters(text);
    for (const auto& seen : {by_lines(Bytes::over(text)), by_lines(blocks(text, 1 << 16))}) {
      ASSERT_EQ(seen.size(), expected.size());
      EXPECT_EQ(seen[1].text.size(), longest_line);
      EXPECT_TRUE(seen[2].too_long);
      for (std::size_t i = 3; i < seen.size(); ++i) EXPECT_EQ(seen[i], expected[i]);
    }
  }
}

TEST_F(LinesOf, MarksAndWideCharactersInBlocksOfAnySize) {
  const std::string marked = "\xEF\xBB\xBFone\ntwo";
  std::string wide = "\xFF\xFE";
  for (const char c : std::string("one\n")) wide += {c, '\0'};
  wide += std::string("\x3D\xD8\x00\xDE", 4);  // a character past U+FFFF: two units
  for (const std::size_t block : {1U, 2U, 3U, 4U, 7U, 4096U}) {
    EXPECT_EQ(by_lines(blocks(marked, block))[0].text, "one") << block;
    const auto seen = by_lines(blocks(wide, block));
    ASSERT_EQ(seen.size(), 2U) << block;
    EXPECT_EQ(seen[1].text, "😀") << block;
    EXPECT_EQ(
        by_lines(blocks(wide.substr(0, wide.size() - 1), block))[1].text.find('\xFF') != std::string::npos,
        true)
        << "half a character is none";
  }
}

}  // namespace
}  // namespace haunch::exchange
