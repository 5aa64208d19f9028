// SPDX-License-Identifier: Apache-2.0
// Reading and writing whole files, and where content is found.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace haunch::base {

/// The whole file as bytes, or a problem that says why not (missing, a folder, no permission,
/// larger than `limit_bytes`).
Result<std::string> read_file(const std::filesystem::path& path,
                              std::size_t limit_bytes = std::size_t{64} << 20U);

enum class Overwrite { no, yes };

/// Writes to a temporary file beside `path` and renames it, so that a reader never sees half a
/// file and a failure leaves the old one as it was. Empty on success.
Problems write_file(const std::filesystem::path& path, const std::string& bytes, Overwrite overwrite);

/// The same bit by bit, for what is too large to hold: the file has its name once `finish` has said so.
/// Given up before that, nothing of it is left.
class NewFile {
 public:
  NewFile(std::filesystem::path path, Overwrite overwrite);
  NewFile(NewFile&& other) noexcept;
  NewFile& operator=(NewFile&&) = delete;
  ~NewFile();
  /// What went wrong so far; nothing is written any more after it.
  const Problems& problems() const { return problems_; }
  void write(std::string_view bytes);
  Problems finish();

 private:
  void fail(std::string what, std::string expected);
  void give_up();

  std::filesystem::path path_;
  std::string temporary_;
  int handle_ = -1;
  Overwrite overwrite_;
  Problems problems_;
};

/// The folder `content/`: HAUNCH_CONTENT if set, else ../share/haunch/content beside the program, else
/// where CMake found it when it built the program: the source tree, or the prefix of the installed library.
/// Throws std::runtime_error when there is none.
std::filesystem::path content_dir();

/// Where a person's scores and attempts are kept: HAUNCH_DATA if set, else
/// $XDG_DATA_HOME/haunch, else ~/.local/share/haunch. Made when it is not there.
std::filesystem::path user_data_dir();

/// 64-bit FNV-1a of the bytes in hex: tells editions of a file apart; not a signature.
std::string fingerprint(const std::string& bytes);

}  // namespace haunch::base
