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
  };
  return steps;
}

}  // namespace haunch::scores
