// SPDX-License-Identifier: Apache-2.0
// Opening a store: what the file is, bringing its tables up to date, the write-ahead log.
#include "scores/opening.hpp"

#include <chrono>
#include <fstream>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "scores/schema.hpp"

namespace haunch::scores {
namespace fs = std::filesystem;

void refuse(const fs::path& file, const std::string& why) {
  throw std::runtime_error("the store of attempts " + file.string() + " " + why);
}

std::string explained(const soci::sqlite3_soci_error& error) {
  switch (error.result() & 0xff) {
    case SQLITE_NOTADB:
      return "is damaged or is no store at all (it does not begin as an SQLite file); it was left as it is";
    case SQLITE_CORRUPT:
      return "is damaged; it was left as it is: put a copy of it back, or move it away to begin a new one";
    case SQLITE_BUSY:
      return "is in use by another program that does not let go; try again";
    case SQLITE_FULL:
      return "could not be written: the disk is full";
    case SQLITE_READONLY:
      return "cannot be written: it, or its folder, is read-only";
    case SQLITE_CANTOPEN:
      return "cannot be opened: its folder must exist and be writable";
    case SQLITE_IOERR:
      return "could not be read or written: the disk reported an error";
    default:
      return "could not be used: " + error.get_error_message();
  }
}

namespace {

constexpr int busy_timeout_ms = 20000;

/// SOCI reads `key=value` pairs when there is a '=' in the text and takes the whole text as the
/// name otherwise.
std::string connection(const fs::path& file) {
  const std::string name = fs::absolute(file).string();
  if (name.find('=') == std::string::npos) return name;
  if (name.find('"') != std::string::npos) refuse(file, "has both = and \" in its path; choose another name");
  return "dbname=\"" + name + "\"";
}

long long number(soci::session& sql, const std::string& query) {
  long long value = 0;
  sql << query, soci::into(value);
  return value;
}

/// Looks at the bytes before SQLite does: it would take some files for new ones and write to them.
void check_file(const fs::path& file) {
  std::error_code error;
  if (fs::is_directory(file, error)) refuse(file, "is a folder");
  if (!fs::exists(file, error)) {
    const fs::path parent = fs::absolute(file).parent_path();
    if (!fs::is_directory(parent, error))
      refuse(file, "cannot be made: there is no folder " + parent.string());
    return;
  }
  const auto size = fs::file_size(file, error);
  if (error) refuse(file, "cannot be read: " + error.message());
  if (size == 0) return;  // made and then interrupted before anything was written
  char head[16] = {};
  std::ifstream stream(file, std::ios::binary);
  if (!stream) refuse(file, "cannot be opened for reading");
  stream.read(head, sizeof head);
  if (stream.gcount() != sizeof head ||
      std::string(head, sizeof head) != std::string("SQLite format 3\0", 16)) {
    refuse(file,
           "is damaged or is no store at all (it does not begin as an SQLite file); it was left as it is");
  }
}

/// Version of the tables; 0 for a new file. Refuses what is not ours, damaged or from later.
int checked_version(soci::session& sql, const fs::path& file) {
  if (number(sql, "SELECT count(*) FROM sqlite_master") == 0) return 0;
  if (number(sql, "PRAGMA application_id") != application_id) {
    refuse(file, "is a database of another program; it was left as it is");
  }
  std::string verdict;
  sql << "PRAGMA quick_check(1)", soci::into(verdict);
  if (verdict != "ok") {
    refuse(file, "is damaged (" + verdict +
                     "); it was left as it is: put a copy of it back, or move it away to begin a new one");
  }
  const auto version = number(sql, "SELECT coalesce(max(version), 0) FROM schema_version");
  const auto known = static_cast<long long>(schema_steps().size());
  if (version > known) {
    refuse(file, "was written by a newer version of this program (its tables are version " +
                     std::to_string(version) + ", this program knows up to " + std::to_string(known) +
                     "); it was left as it is: update the program");
  }
  return static_cast<int>(version);
}

void bring_up_to_date(soci::session& sql, const fs::path& file) {
  const auto& steps = schema_steps();
  if (checked_version(sql, file) == static_cast<int>(steps.size())) return;
  // Another process may be doing the same: take the write lock first, then look again.
  sql << "BEGIN IMMEDIATE";
  try {
    int version = checked_version(sql, file);
    if (version == 0) {
      sql << "PRAGMA application_id = " + std::to_string(application_id);
      sql << "CREATE TABLE IF NOT EXISTS schema_version (version INTEGER PRIMARY KEY, applied_at TEXT NOT "
             "NULL)";
    }
    for (; version < static_cast<int>(steps.size()); ++version) {
      for (const std::string& statement : steps[static_cast<std::size_t>(version)]) sql << statement;
      sql << "INSERT INTO schema_version VALUES (" + std::to_string(version + 1) +
                 ", strftime('%Y-%m-%dT%H:%M:%SZ', 'now'))";
    }
    sql << "COMMIT";
  } catch (...) {
    try {
      sql << "ROLLBACK";
    } catch (const soci::soci_error&) {  // the first error says more
    }
    throw;
  }
}

/// Changing to the write-ahead log does not wait for other users by itself.
void use_write_ahead_log(soci::session& sql, const fs::path& file) {
  for (int tries = 0;; ++tries) {
    try {
      std::string mode;
      sql << "PRAGMA journal_mode = WAL", soci::into(mode);
      if (mode == "wal") return;
      refuse(file, "lies on a disk that cannot keep a write-ahead log (journal mode stays " + mode + ")");
    } catch (const soci::sqlite3_soci_error& error) {
      if ((error.result() & 0xff) != SQLITE_BUSY || tries > 400) throw;
      std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
  }
}

}  // namespace

void open_session(soci::session& sql, const fs::path& file) {
  check_file(file);
  in_words(file, [&] {
    sql.open(soci::sqlite3, connection(file));
    sql << "PRAGMA busy_timeout = " + std::to_string(busy_timeout_ms);
    checked_version(sql, file);  // before the first thing that writes
    use_write_ahead_log(sql, file);
    sql << "PRAGMA synchronous = FULL";
    bring_up_to_date(sql, file);
  });
}

}  // namespace haunch::scores
