// SPDX-License-Identifier: Apache-2.0
// The tables of the store as numbered steps. A step that has been released never changes; a new
// shape is a new step at the end.
#pragma once

#include <string>
#include <vector>

namespace haunch::scores {

/// Marks an SQLite file as ours ("Hnch" as a number), so that another program's database is never
/// taken for a store.
inline constexpr int application_id = 0x486e6368;

/// What lets no row of a table be changed or removed. INSERT OR REPLACE would remove a row without waking the
/// DELETE trigger; the last keeps the first row whatever the conflict clause says.
inline std::vector<std::string> kept_for_good(const std::string& table) {
  const std::string no = " BEGIN SELECT RAISE(ABORT, '" + table + " are kept for good: they cannot be ";
  return {"CREATE TRIGGER " + table + "_never_change BEFORE UPDATE ON " + table + no + "changed'); END",
          "CREATE TRIGGER " + table + "_never_go BEFORE DELETE ON " + table + no + "removed'); END",
          "CREATE TRIGGER " + table + "_first_stays BEFORE INSERT ON " + table +
              " WHEN EXISTS (SELECT 1 FROM " + table +
              " WHERE id = NEW.id OR sequence = NEW.sequence) BEGIN SELECT RAISE(IGNORE); END"};
}

/// steps[n] brings a store from version n to version n + 1.
inline const std::vector<std::vector<std::string>>& schema_steps() {
  static const std::vector<std::vector<std::string>> steps = {
      {R"(CREATE TABLE attempts (
            sequence INTEGER PRIMARY KEY,
            id TEXT NOT NULL UNIQUE CHECK (length(id) > 0),
            trainee TEXT NOT NULL,
            finished_at TEXT NOT NULL,
            scenario TEXT NOT NULL,
            scenario_hash TEXT NOT NULL,
            program TEXT NOT NULL,
            rules_hash TEXT NOT NULL,
            scheme_hash TEXT NOT NULL,
            code_list_hash TEXT NOT NULL,
            score REAL NOT NULL CHECK (score BETWEEN 0 AND 100),
            hits INTEGER NOT NULL,
            missed INTEGER NOT NULL,
            invented INTEGER NOT NULL,
            classes_right INTEGER,
            classes_asked INTEGER,
            action_right INTEGER,
            record_json TEXT NOT NULL,
            marking_json TEXT NOT NULL,
            input_log TEXT NOT NULL))",
       "CREATE INDEX attempts_by_trainee ON attempts (trainee, finished_at)",
       R"(CREATE TRIGGER attempts_never_change BEFORE UPDATE ON attempts
            BEGIN SELECT RAISE(ABORT, 'attempts are kept for good: they cannot be changed'); END)",
       R"(CREATE TRIGGER attempts_never_go BEFORE DELETE ON attempts
            BEGIN SELECT RAISE(ABORT, 'attempts are kept for good: they cannot be removed'); END)",
       // INSERT OR REPLACE would remove a row without waking the DELETE trigger; this keeps the
       // first row whatever the conflict clause says.
       R"(CREATE TRIGGER attempts_first_stays BEFORE INSERT ON attempts
            WHEN EXISTS (SELECT 1 FROM attempts WHERE id = NEW.id OR sequence = NEW.sequence)
            BEGIN SELECT RAISE(IGNORE); END)"},
      // Of attempts stored before, nobody counted which classes were firm: NULL, and so none may decide.
      {"ALTER TABLE attempts ADD COLUMN classes_right_firm INTEGER",
       "ALTER TABLE attempts ADD COLUMN classes_asked_firm INTEGER"},
      // Questions that were answered, exams sat down to, lessons read.
      [] {
        std::vector<std::string> step = {"ALTER TABLE attempts ADD COLUMN mode TEXT NOT NULL DEFAULT ''",
                                         "ALTER TABLE attempts ADD COLUMN sitting TEXT NOT NULL DEFAULT ''",
                                         R"(CREATE TABLE answers (
                 sequence INTEGER PRIMARY KEY,
                 id TEXT NOT NULL UNIQUE CHECK (length(id) > 0),
                 trainee TEXT NOT NULL,
                 answered_at TEXT NOT NULL,
                 kind TEXT NOT NULL,
                 skill TEXT NOT NULL,
                 code TEXT NOT NULL,
                 instance TEXT NOT NULL,
                 given TEXT NOT NULL,
                 expected TEXT NOT NULL,
                 credit REAL NOT NULL CHECK (credit BETWEEN 0 AND 1),
                 guess REAL NOT NULL CHECK (guess BETWEEN 0 AND 1),
                 seconds REAL,
                 in_view_share REAL,
                 contrast REAL,
                 hidden REAL,
                 in_view_s REAL,
                 sitting TEXT NOT NULL))",
                                         "CREATE INDEX answers_by_trainee ON answers (trainee, answered_at)",
                                         R"(CREATE TABLE sittings (
                 sequence INTEGER PRIMARY KEY,
                 id TEXT NOT NULL UNIQUE CHECK (length(id) > 0),
                 trainee TEXT NOT NULL,
                 started_at TEXT NOT NULL,
                 exam TEXT NOT NULL,
                 exam_hash TEXT NOT NULL,
                 seed TEXT NOT NULL))",
                                         R"(CREATE TABLE steps (
                 sequence INTEGER PRIMARY KEY,
                 id TEXT NOT NULL UNIQUE CHECK (length(id) > 0),
                 trainee TEXT NOT NULL,
                 done_at TEXT NOT NULL,
                 course TEXT NOT NULL,
                 step TEXT NOT NULL))"};
        for (const char* table : {"answers", "sittings", "steps"})
          for (const std::string& guard : kept_for_good(table)) step.push_back(guard);
        return step;
      }(),
  };
  return steps;
}

}  // namespace haunch::scores
