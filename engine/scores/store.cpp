// SPDX-License-Identifier: Apache-2.0
// The store on SQLite through SOCI: write-ahead log, every commit forced to disk, append-only.
#include "scores/store.hpp"

#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <chrono>
#include <cmath>
#include <fstream>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "base/files.hpp"
#include "scores/schema.hpp"

namespace haunch::scores {
namespace fs = std::filesystem;

struct Store::Inside {
  explicit Inside(fs::path where) : file(std::move(where)) {}
  fs::path file;
  mutable soci::session sql;
};

namespace {

constexpr int busy_timeout_ms = 20000;

[[noreturn]] void refuse(const fs::path& file, const std::string& why) {
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

/// Runs `work`; what the database says comes out in words that name the file.
template <class Work>
auto in_words(const fs::path& file, Work work) {
  try {
    return work();
  } catch (const soci::sqlite3_soci_error& error) {
    refuse(file, explained(error));
  } catch (const soci::soci_error& error) {
    refuse(file, "could not be used: " + error.get_error_message());
  }
}

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

constexpr const char* columns =
    "id, trainee, finished_at, scenario, scenario_hash, program, rules_hash, scheme_hash, code_list_hash, "
    "score, hits, missed, invented, classes_right, classes_asked, action_right, record_json, marking_json, "
    "input_log, classes_right_firm, classes_asked_firm";

/// One row on its way in or out: SOCI wants places for values and for "there is none".
struct Row {
  Attempt attempt;
  struct Count {
    int value = 0;
    soci::indicator has = soci::i_null;
    Count() = default;
    explicit Count(const std::optional<int>& from)
        : value(from.value_or(0)), has(from ? soci::i_ok : soci::i_null) {}
    std::optional<int> read() const { return has == soci::i_ok ? std::optional(value) : std::nullopt; }
  };
  Count right, asked, action, right_firm, asked_firm;

  Row() = default;
  explicit Row(const Attempt& from)
      : attempt(from),
        right(from.classes_right),
        asked(from.classes_asked),
        action(from.action_right ? std::optional(*from.action_right ? 1 : 0) : std::nullopt),
        right_firm(from.classes_right_firm),
        asked_firm(from.classes_asked_firm) {}
  Attempt read() const {
    Attempt result = attempt;
    result.classes_right = right.read();
    result.classes_asked = asked.read();
    result.classes_right_firm = right_firm.read();
    result.classes_asked_firm = asked_firm.read();
    if (const auto was = action.read()) result.action_right = *was != 0;
    return result;
  }
};

void insert(soci::session& sql, const Attempt& attempt) {
  Row row(attempt);
  Attempt& a = row.attempt;
  // A repeated id is left to the trigger that keeps the first row.
  sql << std::string("INSERT INTO attempts (") + columns +
             ") VALUES (:id, :trainee, :finished, :scenario, :scenario_hash, :program, :rules, :scheme, "
             ":list, :score, "
             ":hits, :missed, :invented, :right, :asked, :action, :record, :marking, :log, "
             ":right_firm, :asked_firm)",
      soci::use(a.id), soci::use(a.trainee), soci::use(a.finished_at), soci::use(a.scenario),
      soci::use(a.scenario_hash), soci::use(a.program), soci::use(a.rules_hash), soci::use(a.scheme_hash),
      soci::use(a.code_list_hash), soci::use(a.score), soci::use(a.hits), soci::use(a.missed),
      soci::use(a.invented), soci::use(row.right.value, row.right.has),
      soci::use(row.asked.value, row.asked.has), soci::use(row.action.value, row.action.has),
      soci::use(a.record_json), soci::use(a.marking_json), soci::use(a.input_log),
      soci::use(row.right_firm.value, row.right_firm.has),
      soci::use(row.asked_firm.value, row.asked_firm.has);
}

std::vector<Attempt> select(soci::session& sql, const std::string& where, const std::string& wanted) {
  Row row;
  Attempt& a = row.attempt;
  const std::string query =
      std::string("SELECT ") + columns + " FROM attempts " + where + " ORDER BY finished_at, sequence";
  soci::statement statement(sql);
  statement.exchange(soci::into(a.id));
  statement.exchange(soci::into(a.trainee));
  statement.exchange(soci::into(a.finished_at));
  statement.exchange(soci::into(a.scenario));
  statement.exchange(soci::into(a.scenario_hash));
  statement.exchange(soci::into(a.program));
  statement.exchange(soci::into(a.rules_hash));
  statement.exchange(soci::into(a.scheme_hash));
  statement.exchange(soci::into(a.code_list_hash));
  statement.exchange(soci::into(a.score));
  statement.exchange(soci::into(a.hits));
  statement.exchange(soci::into(a.missed));
  statement.exchange(soci::into(a.invented));
  statement.exchange(soci::into(row.right.value, row.right.has));
  statement.exchange(soci::into(row.asked.value, row.asked.has));
  statement.exchange(soci::into(row.action.value, row.action.has));
  statement.exchange(soci::into(a.record_json));
  statement.exchange(soci::into(a.marking_json));
  statement.exchange(soci::into(a.input_log));
  statement.exchange(soci::into(row.right_firm.value, row.right_firm.has));
  statement.exchange(soci::into(row.asked_firm.value, row.asked_firm.has));
  if (!where.empty()) statement.exchange(soci::use(wanted));
  statement.alloc();
  statement.prepare(query);
  statement.define_and_bind();
  std::vector<Attempt> found;
  for (bool more = statement.execute(true); more; more = statement.fetch()) found.push_back(row.read());
  return found;
}

}  // namespace

Store::Store(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Store Store::open(const fs::path& file) {
  check_file(file);
  return in_words(file, [&] {
    auto inside = std::make_unique<Inside>(file);
    inside->sql.open(soci::sqlite3, connection(file));
    soci::session& sql = inside->sql;
    sql << "PRAGMA busy_timeout = " + std::to_string(busy_timeout_ms);
    checked_version(sql, file);  // before the first thing that writes
    use_write_ahead_log(sql, file);
    sql << "PRAGMA synchronous = FULL";
    bring_up_to_date(sql, file);
    return Store(std::move(inside));
  });
}

void Store::add(const Attempt& attempt) {
  if (attempt.id.empty()) throw std::runtime_error("an attempt without an id cannot be stored");
  if (!std::isfinite(attempt.score) || attempt.score < 0 || attempt.score > 100) {
    throw std::runtime_error("the attempt " + attempt.id +
                             " has a score outside 0 to 100 and was not stored");
  }
  in_words(inside_->file, [&] {
    insert(inside_->sql, attempt);
    const std::vector<Attempt> stored = select(inside_->sql, "WHERE id = :id", attempt.id);
    if (stored.size() != 1 || stored.front() != attempt) {
      throw std::runtime_error("another attempt is stored already under the id " + attempt.id +
                               ", with different content; it was kept and the new one was not stored");
    }
  });
}

std::vector<Attempt> Store::attempts(const std::optional<std::string>& trainee) const {
  return in_words(inside_->file, [&] {
    return select(inside_->sql, trainee ? "WHERE trainee = :trainee" : "", trainee.value_or(""));
  });
}

fs::path default_store() { return base::user_data_dir() / "scores.sqlite"; }

}  // namespace haunch::scores
