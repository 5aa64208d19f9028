// SPDX-License-Identifier: Apache-2.0
// Records from files, and what `haunch check` would say of them, told by every verb that takes one.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "exchange/read_records.hpp"

namespace haunch::cli {

/// What readers say of a file that turns out to be a scenario gets the call that makes a record of it.
void say_what_to_do(base::Problems& problems, const std::filesystem::path& file);

/// A CSV table of findings or of runs that `haunch grade` wrote, by the first captions of its first line;
/// also as a spreadsheet saved it again. False for what cannot be read.
bool written_by_grade(const std::filesystem::path& file);

/// All inspections of a file, or InputProblems when they have been told; what is remarked of it is told as
/// `check` tells it.
std::vector<exchange::PlacedRecord> read_inspections(const std::filesystem::path& file);

/// coding::remarks_on, each with a line.
std::vector<coding::Remark> remarks_of(const exchange::PlacedRecord& placed,
                                       const std::filesystem::path& file);
/// They do not stop a verb that goes on all the same: an error of `check` is a warning there.
void as_warnings(std::vector<coding::Remark>& remarks);

/// What a record is taken for. An answer about a pipe needs codes that exist and numbers and clocks
/// that can be; an attempt may hold wrong codes, because those are what marking is for; a copy may hold
/// anything.
enum class TakenAs { fact, attempt, copy };

/// Nothing can be said of such a record.
bool makes_no_sense(const coding::Record& record, TakenAs taken_as);

/// What `check` would say of the record goes to the error stream, all of it, told as `check` does.
/// InputProblems when it makes no sense; then they have been told.
void tell_or_refuse(const exchange::PlacedRecord& placed, const std::filesystem::path& file,
                    TakenAs taken_as);

}  // namespace haunch::cli
