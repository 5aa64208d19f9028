// SPDX-License-Identifier: Apache-2.0
// Ability and difficulty tracked answer by answer: Elo's rating with Rasch's logistic (Pelanek, Computers &
// Education 98 (2016) 169; constants from memory). Difficulties of pictures are learned with it from many
// people.
#pragma once

namespace haunch::learning {

/// How far an answer moves what n answers have settled: U(n) = first / (1 + slower n).
struct Steps {
  double first = 1;
  double slower = 0.05;
};
double step(const Steps& steps, int answers);

struct EloSide {
  double value = 0;  ///< logits: ability of a person, difficulty of an item
  int answers = 0;
  bool operator==(const EloSide&) const = default;
};

struct EloRules {
  Steps person, item;
  /// An item learns nothing from people with this many answers or fewer: their own ability is not known yet.
  int unsettled_answers = 20;
};

/// The person moves after every answer. The item moves only when the person had not seen it before and is
/// settled; else it would drift with what they remember of it. credit 0 to 1, guess 0 to below 1.
void meet(EloSide& person, EloSide& item, double credit, double guess, bool first_exposure,
          const EloRules& rules = {});

}  // namespace haunch::learning
