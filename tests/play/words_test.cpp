// SPDX-License-Identifier: Apache-2.0
// The file of phrases: the shipped one holds, and a damaged one is refused with places.
#include "play/words.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <set>

#include "base/files.hpp"

namespace haunch::play {
namespace {

using ::testing::HasSubstr;

base::Result<Words> read_text(const std::string& text) {
  const auto path =
      std::filesystem::temp_directory_path() / ("haunch-words-" + std::to_string(::getpid()) + ".json");
  EXPECT_TRUE(base::write_file(path, text, base::Overwrite::yes).empty());
  auto words = Words::read(path, coding::CodeList::shipped());
  std::filesystem::remove(path);
  return words;
}

std::string file_with(const std::string& phrase) {
  return "{\"kind\": \"words\", \"edition\": 1, \"ignored\": [], \"measures\": [], \"vague\": "
         "[],\n\"phrases\": [\n" +
         phrase + "\n]}\n";
}

TEST(Words, TheShippedOnesHold) {
  const Words& words = Words::shipped();
  EXPECT_GT(words.phrases.size(), 400U);
  std::set<std::string> codes;
  for (const Phrase& phrase : words.phrases) {
    for (const Meaning& meaning : phrase.means) codes.insert(meaning.code);
  }
  // Everything a drain shows has a word; what only an office changes may be typed as a code.
  for (const auto& code : coding::CodeList::shipped().codes()) {
    if (code.group == "header-change") continue;
    EXPECT_TRUE(codes.contains(code.code)) << code.code << " " << code.name;
  }
}

TEST(Words, EveryCharacterisationACameraShowsHasAWord) {
  // Of the faults this engine draws: joints, cracks, breaks, roots, deposits, connections, water.
  for (const char* code : {"BAB", "BAC", "BAJ", "BBA", "BBB", "BBC", "BCA", "BDD", "BCD", "BCE"}) {
    for (const auto& [letter, meaning] : coding::CodeList::shipped().find(code)->ch1) {
      if (letter == "Z" || letter == "X" || letter == "F" || letter == "G") continue;  // "other", "unknown"
      bool found = false;
      for (const Phrase& phrase : Words::shipped().phrases) {
        for (const auto* meanings : {&phrase.means, &phrase.adds}) {
          for (const Meaning& one : *meanings)
            found = found || (one.code == code && (one.ch1 == letter || one.usual_ch1 == letter));
        }
      }
      EXPECT_TRUE(found) << code << " " << letter << " " << meaning;
    }
  }
}

TEST(Words, DamagedFilesAreRefusedWithPlaces) {
  const struct {
    const char* phrase;
    const char* what;
  } cases[] = {
      {R"({"say": ["zap"], "means": [{"code": "ZZZ"}]})", "no code ZZZ"},
      {R"({"say": ["zap"], "means": [{"code": "BAB", "ch1": "Q"}]})", "BAB has no Q"},
      {R"({"say": ["zap"], "adds": [{"code": "BAB", "ch2": "Q"}]})", "BAB has no Q"},
      {R"({"say": ["zap"]})", "says nothing"},
      {R"({"say": ["Zap"], "joint": true})", "not written plainly"},
      {R"({"say": ["a  b"], "joint": true})", "not written plainly"},
      {R"({"say": ["zap", "zap"], "joint": true})", "second time"},
      {R"({"say": [], "joint": true})", ""},
      {R"({"say": ["zap"], "joint": true, "loud": 1})", "loud"},
      {R"({"say": ["zap"], "clock": {"from": 13}})", "13"},
      {R"({"say": ["zap"], "joint": true)", ""},
  };
  for (const auto& one : cases) {
    const auto words = read_text(file_with(one.phrase));
    ASSERT_FALSE(words.ok()) << one.phrase;
    EXPECT_THAT(base::to_line(words.problems().front()), HasSubstr(one.what));
    EXPECT_GE(words.problems().front().place.line, 3) << base::to_line(words.problems().front());
  }
  EXPECT_TRUE(read_text(file_with(R"({"say": ["zap"], "means": [{"code": "BAB", "ch1": "B"}]})")).ok());
}

}  // namespace
}  // namespace haunch::play
