// SPDX-License-Identifier: Apache-2.0
#include "base/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <stdexcept>
#include <system_error>
#include <utility>

// In each program that CMake links with this library (tools/cmake/content_place.cpp.in); another build may
// go without.
extern "C" __attribute__((weak)) const char* haunch_content_place();

namespace haunch::base {
namespace fs = std::filesystem;
namespace {

Problem file_problem(const fs::path& path, std::string what, std::string expected) {
  return Problem{Place{path.string()}, Severity::error, std::move(what), std::move(expected), {}};
}

}  // namespace

Result<std::string> read_file(const fs::path& path, std::size_t limit_bytes) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) return file_problem(path, "there is no such file", "the path of an existing file");
  if (fs::is_directory(status)) return file_problem(path, "this is a folder", "a file");
  std::ifstream stream(path, std::ios::binary);
  if (!stream)
    return file_problem(path, std::string("cannot be opened: ") + std::strerror(errno), "a readable file");
  std::string bytes;
  char chunk[1 << 16];
  while (stream.read(chunk, sizeof chunk) || stream.gcount() > 0) {
    bytes.append(chunk, static_cast<std::size_t>(stream.gcount()));
    if (bytes.size() > limit_bytes) {
      return file_problem(path, "the file is larger than " + std::to_string(limit_bytes >> 20U) + " MiB",
                          "a smaller file");
    }
  }
  if (stream.bad()) return file_problem(path, "reading stopped half way", "a readable file");
  return bytes;
}

NewFile::NewFile(fs::path path, Overwrite overwrite) : path_(std::move(path)), overwrite_(overwrite) {
  std::error_code error;
  if (overwrite == Overwrite::no && fs::exists(path_, error)) {
    fail("the file is there already and was left as it is", "a new name");
    return;
  }
  temporary_ = path_.string() + ".XXXXXX.tmp";
  handle_ = ::mkstemps(temporary_.data(), 4);
  if (handle_ < 0)
    fail(std::string("cannot be written: ") + std::strerror(errno),
         "a folder that exists and can be written to");
}

NewFile::NewFile(NewFile&& other) noexcept
    : path_(std::move(other.path_)),
      temporary_(std::move(other.temporary_)),
      handle_(std::exchange(other.handle_, -1)),
      overwrite_(other.overwrite_),
      problems_(std::move(other.problems_)) {}

NewFile::~NewFile() { give_up(); }

void NewFile::fail(std::string what, std::string expected) {
  give_up();
  problems_.push_back(file_problem(path_, std::move(what), std::move(expected)));
}

void NewFile::give_up() {
  if (handle_ < 0) return;
  ::close(handle_);
  handle_ = -1;
  ::unlink(temporary_.c_str());
}

void NewFile::write(std::string_view bytes) {
  while (handle_ >= 0 && !bytes.empty()) {
    const ssize_t wrote = ::write(handle_, bytes.data(), bytes.size());
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0)
      fail(std::string("could not be written whole: ") + std::strerror(errno),
           "room on the disk and a writable folder");
    else
      bytes.remove_prefix(static_cast<std::size_t>(wrote));
  }
}

Problems NewFile::finish() {
  if (handle_ < 0) return problems_;
  std::error_code error;
  if (::fchmod(handle_, 0644) != 0 || ::fsync(handle_) != 0) {
    fail(std::string("could not be written whole: ") + std::strerror(errno),
         "room on the disk and a writable folder");
    return problems_;
  }
  if (overwrite_ == Overwrite::no && fs::exists(path_, error)) {
    fail("the file is there already and was left as it is", "a new name");
    return problems_;
  }
  fs::rename(temporary_, path_, error);
  if (error) {
    fail("could not be written whole: " + error.message(), "room on the disk and a writable folder");
    return problems_;
  }
  ::close(handle_);
  handle_ = -1;
  return {};
}

Problems write_file(const fs::path& path, const std::string& bytes, Overwrite overwrite) {
  NewFile file(path, overwrite);
  file.write(bytes);
  return file.finish();
}

fs::path content_dir() {
  static const fs::path dir = [] {
    if (const char* chosen = std::getenv("HAUNCH_CONTENT")) {
      if (fs::is_directory(chosen)) return fs::path(chosen);
      throw std::runtime_error(std::string("HAUNCH_CONTENT names ") + chosen + ", which is not a folder");
    }
    std::error_code ignored;
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    fs::path beside = (program.parent_path() / ".." / "share" / "haunch" / "content").lexically_normal();
    if (fs::is_directory(beside, ignored)) return beside;
    fs::path told = haunch_content_place != nullptr ? haunch_content_place() : "";
    if (fs::is_directory(told, ignored)) return told;
    throw std::runtime_error("the folder content/ was not found, neither at " + beside.string() +
                             (told.empty() ? "" : " nor at " + told.string()) +
                             "; set HAUNCH_CONTENT to where it is");
  }();
  return dir;
}

fs::path user_data_dir() {
  fs::path dir;
  if (const char* chosen = std::getenv("HAUNCH_DATA")) {
    dir = chosen;
  } else if (const char* data = std::getenv("XDG_DATA_HOME"); data && *data) {
    dir = fs::path(data) / "haunch";
  } else if (const char* home = std::getenv("HOME"); home && *home) {
    dir = fs::path(home) / ".local" / "share" / "haunch";
  } else {
    throw std::runtime_error("no place to keep scores: set HAUNCH_DATA to a folder");
  }
  std::error_code error;
  fs::create_directories(dir, error);
  if (error) throw std::runtime_error("the folder " + dir.string() + " cannot be made: " + error.message());
  return dir;
}

std::string fingerprint(const std::string& bytes) {
  std::uint64_t hash = 0xcbf29ce484222325ULL;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= 0x100000001b3ULL;
  }
  char text[17];
  for (int i = 15; i >= 0; --i, hash >>= 4U) text[i] = "0123456789abcdef"[hash & 15U];
  text[16] = 0;
  return text;
}

}  // namespace haunch::base
