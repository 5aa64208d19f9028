// SPDX-License-Identifier: Apache-2.0
// Reads every #include under engine/ and tools/ and holds it against the table of rooms: includes
// run downwards only, and each outside package stays in the rooms that may use it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace {
namespace fs = std::filesystem;

using Words = std::set<std::string>;

/// Room -> rooms it may use besides itself. The table of DEVELOPERS.md.
const std::map<std::string, Words>& rooms() {
  static const std::map<std::string, Words> table = {
      {"base", {}},
      {"statistics", {"base"}},
      {"coding", {"base"}},
      {"exchange", {"base", "coding"}},
      {"grading", {"base", "coding"}},
      {"scene", {"base"}},
      {"scenario", {"base", "scene"}},
      {"matter", {"base", "scene"}},
      {"truth", {"base", "coding", "scene", "matter"}},
      {"render", {"base", "scene", "matter"}},
      {"sight", {"base", "scene", "render"}},
      {"guide", {"base", "coding", "scene", "scenario", "truth", "render"}},
      {"marking", {"base", "coding", "grading"}},
      {"scores", {"base", "coding", "grading", "marking"}},
      {"learning", {"base", "coding", "marking", "scores", "statistics"}},
      {"drills",
       {"base", "coding", "grading", "scene", "scenario", "matter", "truth", "render", "sight", "guide",
        "marking", "learning", "statistics"}},
      {"courses", {"base", "learning", "marking", "scores", "statistics"}},
      {"report", {"base", "coding", "exchange", "grading", "scene", "truth", "marking", "scores"}},
      {"progress", {"base", "coding", "marking", "scores", "statistics", "learning", "courses", "report"}},
      {"play",
       {"base", "coding", "grading", "scene", "truth", "sight", "marking", "scores", "learning", "drills"}},
      {"window", {"base",     "coding", "exchange", "grading", "scene",    "scenario", "matter",
                  "truth",    "render", "sight",    "guide",   "marking",  "scores",   "statistics",
                  "learning", "drills", "courses",  "report",  "progress", "play"}},
  };
  return table;
}

/// Start of an outside header's path -> rooms that may include it, and whether headers may too.
struct Outside {
  std::string starts;
  Words rooms;
  bool in_headers = false;
};
const std::vector<Outside>& outsides() {
  static const std::vector<Outside> table = {
      {"nlohmann/json_fwd.hpp", {"base", "scenario"}, true},
      {"nlohmann/",
       {"base", "coding", "exchange", "grading", "scenario", "truth", "guide", "marking", "scores", "courses",
        "learning", "drills", "report", "progress", "play", "window"}},
      {"valijson/", {"base"}},
      {"embree3/", {"render"}},
      {"tbb/", {"render"}},
      {"oneapi/", {"render"}},
      // A vector kernel is compiled once for each instruction set, so its maths can only be a header.
      {"hwy/", {"render"}, true},
      {"png.h", {"render"}},
      {"xmmintrin.h", {"render"}},
      {"pmmintrin.h", {"render"}},
      {"lemon/", {"marking"}},
      {"boost/math/", {"statistics", "learning"}},
      // In headers that only this room sees: openings and rows are templates over the database.
      {"soci/", {"scores"}, true},
      {"sqlite3.h", {"scores"}},
      {"kainjow/", {"report", "progress"}},
      {"mustache", {"report", "progress"}},
      {"SFML/", {"window"}, true},
      {"imgui", {"window"}, true},
      {"GL/", {"window"}},
  };
  return table;
}

struct Include {
  fs::path file;
  int line = 0;
  std::string target;
  bool ours = false;  // in quotes
};

std::vector<Include> includes_of(const fs::path& file) {
  static const std::regex pattern(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"])");
  std::vector<Include> found;
  std::ifstream stream(file);
  std::string text;
  for (int line = 1; std::getline(stream, text); ++line) {
    std::smatch match;
    if (std::regex_search(text, match, pattern)) {
      found.push_back({file, line, match[2].str(), match[1].str() == "\""});
    }
  }
  return found;
}

bool is_source(const fs::path& path) {
  return path.extension() == ".cpp" || path.extension() == ".hpp" || path.extension() == ".h";
}

std::vector<fs::path> sources_below(const fs::path& folder) {
  std::vector<fs::path> found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file() && is_source(entry.path())) found.push_back(entry.path());
  }
  return found;
}

std::string where(const Include& include) {
  return include.file.string() + ":" + std::to_string(include.line) + ": includes " + include.target;
}

/// What is wrong with an include standing in `room`; empty when nothing is.
std::string complaint(const std::string& room, const Include& include) {
  const bool in_header = include.file.extension() != ".cpp";
  for (const Outside& outside : outsides()) {
    if (include.target.rfind(outside.starts, 0) != 0) continue;
    if (!outside.rooms.contains(room)) return "belongs in another room";
    if (in_header && !outside.in_headers) return "a heavy header may stand only in a .cpp file";
    return {};
  }
  const std::string first = include.target.substr(0, include.target.find('/'));
  const bool names_room = rooms().contains(first) && include.target.find('/') != std::string::npos;
  if (include.ours && !names_room) return "our own headers are written \"room/file.hpp\"";
  if (names_room && first != room && !rooms().at(room).contains(first)) {
    return room + " may not use " + first;
  }
  // The standard library and the operating system have no dot but in .h.
  if (!include.ours && include.target.find(".hpp") != std::string::npos)
    return "an outside package that is not in the table";
  return {};
}

const fs::path root = HAUNCH_SOURCE_DIR;

TEST(Architecture, EveryRoomIsInTheTable) {
  for (const auto& entry : fs::directory_iterator(root / "engine")) {
    if (!entry.is_directory()) continue;
    EXPECT_TRUE(rooms().contains(entry.path().filename().string())) << entry.path();
  }
  for (const auto& [room, uses] : rooms()) {
    EXPECT_TRUE(fs::is_directory(root / "engine" / room)) << room;
    for (const std::string& used : uses) {
      EXPECT_TRUE(rooms().contains(used)) << room << " uses " << used;
      EXPECT_FALSE(rooms().at(used).contains(room)) << room << " and " << used << " use each other";
    }
  }
}

TEST(Architecture, IncludesRunDownwardsOnly) {
  int checked = 0;
  for (const auto& [room, uses] : rooms()) {
    for (const fs::path& file : sources_below(root / "engine" / room)) {
      for (const Include& include : includes_of(file)) {
        const std::string wrong = complaint(room, include);
        EXPECT_TRUE(wrong.empty()) << where(include) << ": " << wrong;
        ++checked;
      }
    }
  }
  EXPECT_GT(checked, 200) << "the includes were not found";
}

TEST(Architecture, AWrongIncludeIsSeen) {
  const fs::path source = "engine/scene/a.cpp";
  const fs::path header = "engine/render/a.hpp";
  EXPECT_THAT(complaint("scene", {source, 1, "coding/record.hpp", true}), testing::HasSubstr("may not use"));
  EXPECT_THAT(complaint("truth", {source, 1, "render/frame.hpp", true}), testing::HasSubstr("may not use"));
  EXPECT_THAT(complaint("marking", {source, 1, "scene/scene.hpp", true}), testing::HasSubstr("may not use"));
  EXPECT_THAT(complaint("play", {source, 1, "SFML/Graphics.hpp", false}), testing::HasSubstr("another room"));
  EXPECT_THAT(complaint("render", {header, 1, "embree3/rtcore.h", false}), testing::HasSubstr("heavy"));
  EXPECT_THAT(complaint("render", {header, 1, "frame.hpp", true}), testing::HasSubstr("room/file"));
  EXPECT_THAT(complaint("base", {source, 1, "boost/any.hpp", false}), testing::HasSubstr("not in the table"));
  EXPECT_EQ(complaint("render", {header, 1, "scene/scene.hpp", true}), "");
  EXPECT_EQ(complaint("render", {header, 1, "vector", false}), "");
}

TEST(Architecture, CommandLineNeedsNoWindow) {
  for (const fs::path& file : sources_below(root / "tools" / "haunch")) {
    for (const Include& include : includes_of(file)) {
      EXPECT_FALSE(include.target.rfind("SFML/", 0) == 0 || include.target.rfind("window/", 0) == 0 ||
                   include.target.rfind("imgui", 0) == 0)
          << where(include);
    }
  }
}

TEST(Architecture, EverySourceSaysItsLicence) {
  for (const char* folder : {"engine", "tools", "tests"}) {
    for (const fs::path& file : sources_below(root / folder)) {
      std::ifstream stream(file);
      std::string first;
      std::getline(stream, first);
      EXPECT_EQ(first, "// SPDX-License-Identifier: Apache-2.0") << file;
    }
  }
}

TEST(Architecture, EverySourceIsListed) {
  for (const char* folder : {"engine", "tools", "tests"}) {
    std::string lists;
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
      if (entry.path().filename() != "CMakeLists.txt") continue;
      std::ifstream stream(entry.path());
      lists.append(std::istreambuf_iterator<char>(stream), {});
    }
    for (const fs::path& file : sources_below(root / folder)) {
      if (file.extension() != ".cpp") continue;
      EXPECT_THAT(lists, testing::HasSubstr(file.filename().string())) << file << " is in no CMakeLists.txt";
    }
    EXPECT_THAT(lists, testing::Not(testing::HasSubstr("GLOB"))) << "sources are listed, not globbed";
  }
}

TEST(Architecture, BaseStaysSmall) {
  int headers = 0;
  for (const fs::path& file : sources_below(root / "engine" / "base"))
    headers += file.extension() == ".hpp" ? 1 : 0;
  EXPECT_LE(headers, 10);
}

}  // namespace
