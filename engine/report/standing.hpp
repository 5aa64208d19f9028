// SPDX-License-Identifier: Apache-2.0
// How a true finding came off, in one word and one shape (never in colour alone).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "marking/mark.hpp"

namespace haunch::report {

enum class Came { found, partly, missed, unseen, invented, doubled, logged };

/// found when every aspect asked for is right, else partly.
Came came_of(const marking::Hit& hit);
/// "found", "found, partly right", "missed", "could not be seen", "invented", "marked twice".
std::string show(Came came);

/// "7.5": one decimal, ".0" left off.
std::string one_decimal(double number);
/// One decimal; "100" only when nothing at all was lost.
std::string show_score(double score);
/// "3 (provisional)", or `none` where there is no class.
std::string show_class(const std::optional<int>& grade, bool provisional, const std::string& none);

/// Why a class was given, without the source and the mark that stand beside it.
std::string reason_alone(const grading::GoalClass& goal);
/// Why the grade is provisional: in the scheme's words where it has some; empty when it is not.
std::string provisional_words(const grading::Grade& grade);
/// The grade's notes but those that `provisional_words` and `Grade::missing` say already.
std::vector<std::string> other_notes(const grading::Grade& grade);

}  // namespace haunch::report
