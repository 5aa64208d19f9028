// SPDX-License-Identifier: Apache-2.0
#include "demo_folder.hpp"

#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "cli.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

const char* const list_name = "files-of-this-demo.txt";
const char* const list_head = "haunch demo wrote these files; the next demo here replaces them\n";

}  // namespace

DemoFolder::DemoFolder(fs::path folder) : folder_(std::move(folder)) {
  const auto list = base::read_file(folder_ / list_name);
  if (!list || list.value().rfind(list_head, 0) != 0) return;
  list_is_ours_ = true;
  for (const std::string& line : base::split(list.value().substr(std::string(list_head).size()), '\n')) {
    // Only names within the folder: a list that was tampered with must not reach outside.
    const fs::path name(line);
    bool inside = !line.empty() && name.is_relative();
    for (const fs::path& part : name) inside = inside && part != "..";
    if (inside) before_.insert(line);
  }
}

base::Problems DemoFolder::in_the_way(const std::vector<std::string>& names) const {
  base::Problems problems;
  std::error_code ignored;
  const auto refuse = [&](const fs::path& path, const char* what) {
    problems.push_back({{path.string()},
                        base::Severity::error,
                        what,
                        "a new folder, or one that an earlier demo wrote",
                        {}});
  };
  if (fs::exists(folder_, ignored) && !fs::is_directory(folder_, ignored)) {
    refuse(folder_, "this is a file");
    return problems;
  }
  for (const std::string& name : names) {
    if (before_.count(name) == 0 && fs::exists(folder_ / name, ignored)) {
      refuse(folder_ / name, "is there already and no demo wrote it; it was left as it is");
    }
  }
  if (!list_is_ours_ && fs::exists(folder_ / list_name, ignored)) {
    refuse(folder_ / list_name, "is there already and is no list of a demo's files; it was left as it is");
  }
  return problems;
}

void DemoFolder::write(const std::string& name, const std::string& bytes) {
  const fs::path path = folder_ / name;
  if (const base::Problems problems = in_the_way({name}); !problems.empty() && now_.count(name) == 0) {
    throw InputProblems(problems);
  }
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  if (error)
    throw std::runtime_error("the folder " + path.parent_path().string() +
                             " cannot be made: " + error.message());
  own(name);
  write_or_throw(path, bytes);
}

void DemoFolder::own(const std::string& name) {
  now_.insert(name);
  remember();
}

void DemoFolder::finish() {
  for (const std::string& name : before_) {
    std::error_code ignored;
    if (now_.count(name) == 0) fs::remove(folder_ / name, ignored);
  }
  before_ = now_;
  remember();
}

/// Before each file is written, so that a demo that was cut off still knows its own.
void DemoFolder::remember() {
  std::string list = list_head;
  std::set<std::string> all = before_;
  all.insert(now_.begin(), now_.end());
  for (const std::string& name : all) list += name + '\n';
  std::error_code error;
  fs::create_directories(folder_, error);
  write_or_throw(folder_ / list_name, list);
  list_is_ours_ = true;
}

}  // namespace haunch::cli
