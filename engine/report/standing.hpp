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
std::string two_decimals(double number);  ///< both always shown
/// One decimal; "100" only when nothing at all was lost.
std::string show_score(double score);
/// "3 (provisional)", or `none` where there is no class.
std::string show_class(const std::optional<int>& grade, bool provisional, const std::string& none);

/// The class of the pipe; one that might be worse is "at least 3", one that might be better too says its
/// span.
std::string show_object_class(const grading::Grade& grade, const std::string& none);
/// The class of the pipe within a sentence: "3 or worse", "3 (2 to 5 possible)", "3"; empty where it has
/// none.
std::string object_class_words(const grading::Grade& grade);
/// "at least 3", "3 (2 to 5 possible)"; without a span the class alone.
std::string class_in_span(int grade, int least, int most);

/// Why a class was given, without the source and the mark that stand beside it.
std::string reason_alone(const grading::GoalClass& goal);
/// Why the grade is provisional: in the scheme's words where it has some; empty when it is not.
std::string provisional_words(const grading::Grade& grade);
/// What is not known about the site, and what follows from that; empty where nothing is missing.
std::string not_known_words(const grading::Grade& grade);
/// The grade's notes but those that `provisional_words` and `not_known_words` say already.
std::vector<std::string> other_notes(const grading::Grade& grade);

}  // namespace haunch::report
