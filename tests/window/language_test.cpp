// SPDX-License-Identifier: Apache-2.0
// Every text that the window says stands in content/language/en.json, and a language of somebody else's is
// spoken. HAUNCH_WRITE_LANGUAGE=FILE writes that file anew from the sources.
#include "window/language.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "base/files.hpp"
#include "window/coach.hpp"
#include "window/runs.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// A C++ literal's value; only the escapes that texts use.
std::string value_of(const std::string& literal) {
  std::string value;
  for (std::size_t i = 1; i + 1 < literal.size(); ++i) {
    if (literal[i] == '\\') ++i;
    value += literal[i];
  }
  return value;
}

/// All texts of the first argument of a call of tr that begins behind its bracket.
void take_texts(const std::string& source, std::size_t at, std::set<std::string>& texts) {
  std::string text;
  bool open = false;
  for (int depth = 0; at < source.size(); ++at) {
    const char c = source[at];
    if (c == '"') {
      std::size_t end = at + 1;
      while (source[end] != '"') end += source[end] == '\\' ? 2 : 1;
      text += value_of(source.substr(at, end - at + 1));
      open = true;
      at = end;
      continue;
    }
    if (c == ' ' || c == '\n') continue;
    if (open) texts.insert(text);
    open = false;
    text.clear();
    if (c == '(') ++depth;
    if (c == ')' && --depth < 0) return;
    if (c == ',' && depth == 0) return;
  }
}

std::set<std::string> texts_said() {
  std::set<std::string> texts;
  for (const auto& entry : fs::directory_iterator(fs::path(HAUNCH_SOURCE_DIR) / "engine" / "window")) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string source = base::read_file(entry.path()).value();
    for (std::size_t at = source.find("tr("); at != std::string::npos; at = source.find("tr(", at + 1)) {
      const char before = at == 0 ? ' ' : source[at - 1];
      if (std::isalnum(static_cast<unsigned char>(before)) == 0 && before != '_')
        take_texts(source, at + 3, texts);
    }
  }
  // Texts of tables.
  for (const Binding& binding : bindings()) texts.insert(binding.does);
  for (const Group& group : groups()) texts.insert(group.name);
  for (const ItemKind kind :
       {ItemKind::missed, ItemKind::partly, ItemKind::invented, ItemKind::right, ItemKind::not_visible}) {
    texts.insert(heading(kind));
    texts.insert(short_name(kind));
  }
  return texts;
}

TEST(Language, TheEnglishFileHasEveryTextAndNoOther) {
  const std::set<std::string> said = texts_said();
  EXPECT_GT(said.size(), 120U);
  if (const char* file = std::getenv("HAUNCH_WRITE_LANGUAGE")) {
    nlohmann::ordered_json json = {{"kind", "language"}, {"edition", 1}, {"language", "English"}};
    for (const std::string& text : said) json["words"][text] = text;
    std::ofstream(file) << json.dump(2) << '\n';
  }
  const auto english = Language::read(base::content_dir() / "language" / "en.json");
  ASSERT_TRUE(english) << base::to_line(english.problems().front());
  std::set<std::string> listed;
  for (const auto& [text, words] : english.value().words) {
    EXPECT_EQ(text, words) << "in English it is itself";
    listed.insert(text);
  }
  std::vector<std::string> missing, too_many;
  std::set_difference(said.begin(), said.end(), listed.begin(), listed.end(), std::back_inserter(missing));
  std::set_difference(listed.begin(), listed.end(), said.begin(), said.end(), std::back_inserter(too_many));
  EXPECT_THAT(missing, IsEmpty());
  EXPECT_THAT(too_many, IsEmpty());
}

/// A folder for a person's own files, for as long as the object lives.
class OwnFolder {
 public:
  OwnFolder() : folder_(fs::temp_directory_path() / ("haunch-language-" + std::to_string(::getpid()))) {
    fs::create_directories(folder_ / "language");
    ::setenv("HAUNCH_DATA", folder_.c_str(), 1);
  }
  ~OwnFolder() {
    speak("en");
    ::unsetenv("HAUNCH_DATA");
    std::error_code none;
    fs::remove_all(folder_, none);
  }
  fs::path write(const std::string& words) const {
    const fs::path file = folder_ / "language" / "xx.json";
    std::ofstream(file) << R"({"kind": "language", "edition": 1, "language": "Made up", "words": )" << words
                        << "}";
    return file;
  }

 private:
  fs::path folder_;
};

TEST(Language, OfSomebodysOwnIsSpoken) {
  const OwnFolder own;
  own.write(R"({"Logged at {0}: {1}": "{1} <- {0} opgeschreven", "Nothing is logged yet.": "Nog niets."})");
  EXPECT_THAT(languages(), ::testing::ElementsAre("en", "xx"));
  speak("xx");
  EXPECT_EQ(tr("Nothing is logged yet."), "Nog niets.");
  EXPECT_EQ(tr("Done again."), "Done again.") << "what it does not have is said in English";
  Session session(test::short_scene(), {});
  test::press(session, Key::enter);
  test::type_words(session, "BCD B");
  test::press(session, Key::enter);
  EXPECT_THAT(session.message(), HasSubstr("<- 0.00 m opgeschreven")) << "places may change";
  session.command(Command::language);
  EXPECT_EQ(session.settings.language, "xx");
  session.command(Command::language);
  EXPECT_EQ(session.settings.language, "en");
  EXPECT_EQ(tr("Nothing is logged yet."), "Nothing is logged yet.");
}

TEST(Language, AWrongFileIsToldAndNotSpoken) {
  const OwnFolder own;
  const fs::path file = own.write(R"({"Logged at {0}: {1}": "opgeschreven {2}"})");
  const auto read = Language::read(file);
  ASSERT_FALSE(read);
  EXPECT_THAT(base::to_line(read.problems().front()), HasSubstr("places in braces"));
  speak("xx");
  EXPECT_EQ(tr("Logged at {0}: {1}", {"1 m", "x"}), "Logged at 1 m: x");
  speak("no such language");
  EXPECT_EQ(tr("Done again."), "Done again.");
  own.write(R"({"Nobody says this.": "x"})");
  const auto unknown = Language::read(file);
  ASSERT_TRUE(unknown) << "an older file still serves";
  EXPECT_THAT(base::to_line(unknown.problems().front()), HasSubstr("says no such text"));
}

TEST(Language, FillsInWhatIsGivenAndLeavesOtherBraces) {
  EXPECT_EQ(tr("{1} of {0}", {"a", "b"}), "b of a");
  EXPECT_EQ(tr("{0} {5} {x}", {"a"}), "a {5} {x}");
  EXPECT_EQ(tr("{0}", {"{0}"}), "{0}");
}

}  // namespace
}  // namespace haunch::window
