// SPDX-License-Identifier: Apache-2.0
#include "cli/program.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <regex>
#include <sstream>
#include <stdexcept>

#include "base/json_document.hpp"
#include "base/words.hpp"

namespace haunch::cli_test {
namespace fs = std::filesystem;
namespace {

std::string bytes_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// The child's side: streams into files, its own environment, then the program.
[[noreturn]] void become(const std::vector<std::string>& words, const fs::path& folder) {
  const int out = ::open((folder / ".out").c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
  const int err = ::open((folder / ".err").c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
  if (::chdir(folder.c_str()) != 0) ::_exit(125);
  ::dup2(out, 1);
  ::dup2(err, 2);
  ::unsetenv("DISPLAY");
  ::unsetenv("WAYLAND_DISPLAY");
  ::setenv("HAUNCH_DATA", (folder / "data").c_str(), 1);
  std::vector<char*> pointers;
  for (const std::string& word : words) pointers.push_back(const_cast<char*>(word.c_str()));
  pointers.push_back(nullptr);
  ::execv(pointers[0], pointers.data());
  ::_exit(126);
}

}  // namespace

const char* const clean_scenario = R"({
  "kind": "scenario", "edition": 1, "title": "A clean run",
  "pipe": { "bore_mm": 100, "length_m": 6.0, "gradient_percent": 2,
            "sections": [ { "to_m": 6.0, "material": "PVC", "unit_length_m": 3.0 } ] },
  "inspection": { "from": "start", "distance_zero": "start" }
})";

Program::Program() {
  std::string pattern = (fs::temp_directory_path() / "haunch-cli-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  folder_ = pattern;
}

Program::~Program() {
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

Ran Program::run(const std::vector<std::string>& arguments) const {
  std::vector<std::string> words{HAUNCH_BIN_DIR "/haunch"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  const pid_t child = ::fork();
  if (child == 0) become(words, folder_);
  int status = 0;
  ::waitpid(child, &status, 0);
  Ran ran;
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  ran.out = bytes_of(folder_ / ".out");
  ran.err = bytes_of(folder_ / ".err");
  return ran;
}

Json Program::json(const std::vector<std::string>& arguments) const {
  const Ran ran = run(arguments);
  EXPECT_EQ(ran.code, 0) << base::join(arguments, " ") << '\n' << ran.err;
  Json json = Json::parse(ran.out, nullptr, false);
  EXPECT_FALSE(json.is_discarded()) << ran.out;
  return json;
}

void Program::write(const std::string& name, const std::string& text) const {
  std::ofstream(folder_ / name, std::ios::binary) << text;
}

std::string Program::read(const std::string& name) const { return bytes_of(folder_ / name); }

fs::path shipped(const std::string& name) {
  return fs::path(HAUNCH_SOURCE_DIR) / "content" / "scenarios" / (name + ".json");
}

std::vector<fs::path> shipped_scenarios() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(HAUNCH_SOURCE_DIR) / "content" / "scenarios")) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

void expect_schema(const std::string& text, const std::string& schema) {
  const auto read = base::JsonDocument::read_text(text, schema + " output", schema);
  for (const auto& problem : read.problems()) ADD_FAILURE() << base::to_line(problem);
}

std::string without_pictures(const std::string& html) {
  // By hand: std::regex takes a step of the stack for each of a million letters.
  std::string text;
  for (std::size_t at = 0; at < html.size();) {
    const std::size_t picture = html.find("data:image/", at);
    text += html.substr(at, picture - at);
    if (picture == std::string::npos) break;
    at = std::min(html.find('"', picture), html.size());
  }
  return text;
}

int problem_lines(const std::string& text, const std::string& file) {
  int count = 0;
  for (const std::string& line : base::split(text, '\n')) {
    if (line.rfind(file, 0) != 0) continue;
    static const std::regex form("^:[1-9][0-9]*:[1-9][0-9]*: .+; expected .+");
    EXPECT_TRUE(std::regex_search(line.substr(file.size()), form)) << line;
    ++count;
  }
  EXPECT_GT(count, 0) << "no problem of " << file << " in\n" << text;
  return count;
}

}  // namespace haunch::cli_test
