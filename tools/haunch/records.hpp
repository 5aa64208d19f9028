// SPDX-License-Identifier: Apache-2.0
// Records from files, and what `haunch check` would say of them, told by every verb that takes one.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "exchange/read_records.hpp"

namespace haunch::cli {

/// All inspections of a file, or InputProblems; a scenario is told apart with what to do about it.
std::vector<exchange::PlacedRecord> read_inspections(const std::filesystem::path& file);

/// coding::validate, each problem with a line.
base::Problems problems_of(const exchange::PlacedRecord& placed, const std::filesystem::path& file);

/// What a record is taken for. An answer about a pipe needs codes that exist and numbers and clocks
/// that can be; an attempt may hold wrong codes, because those are what marking is for; a copy may hold
/// anything.
enum class TakenAs { fact, attempt, copy };

/// Nothing can be said of such a record.
bool makes_no_sense(const coding::Record& record, TakenAs taken_as);

/// The problems of records that make no sense, all of them; nothing when all can be used. The rest went
/// to the error stream as warnings.
base::Problems problems_in_the_way(const std::vector<exchange::PlacedRecord>& records,
                                   const std::filesystem::path& file, TakenAs taken_as);

}  // namespace haunch::cli
