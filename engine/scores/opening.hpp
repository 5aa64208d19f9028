// SPDX-License-Identifier: Apache-2.0
// Opening a store, and what the database says in words that name the file. Inside this room.
#pragma once

#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <filesystem>
#include <string>

namespace haunch::scores {

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why);
std::string explained(const soci::sqlite3_soci_error& error);

/// Runs `work`; what the database says comes out in words that name the file.
template <class Work>
auto in_words(const std::filesystem::path& file, Work work) {
  try {
    return work();
  } catch (const soci::sqlite3_soci_error& error) {
    refuse(file, explained(error));
  } catch (const soci::soci_error& error) {
    refuse(file, "could not be used: " + error.get_error_message());
  }
}

/// Made where it is not there; tables up to date; every commit forced to disk.
void open_session(soci::session& sql, const std::filesystem::path& file);

}  // namespace haunch::scores
