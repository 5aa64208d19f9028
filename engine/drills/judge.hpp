// SPDX-License-Identifier: Apache-2.0
// What an answer is worth: by the very marking that whole runs are marked by.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "drills/item.hpp"
#include "grading/grade.hpp"

namespace haunch::drills {

/// What a person said. Only what the kind of question asks for is looked at.
struct Answer {
  std::string option;  ///< value of an option; of name it any main code
  std::optional<double> number;
  std::optional<int> clock_from, clock_to;
  std::optional<double> bottom_h;      ///< hour on the screen, 0 to 12
  std::map<std::string, int> classes;  ///< goal -> class
};
/// In words, as it is kept: "BAC", "10 to 2", "14".
std::string show(const Answer& answer);
/// Is there anything in it that answers the question?
bool answers(const Item& item, const Answer& answer);

struct Verdict {
  double credit = 0;     ///< 0..1
  std::string sentence;  ///< one, plain
};
Verdict judge(const Item& item, const Answer& answer,
              const grading::Scheme& scheme = grading::Scheme::shipped());
/// The answer that is wholly right.
Answer right_answer(const Item& item, const grading::Scheme& scheme = grading::Scheme::shipped());

}  // namespace haunch::drills
