// SPDX-License-Identifier: Apache-2.0
// What to show next. Within a session the order has the published shape of adaptive sequencing (Mettler,
// Massey & Kellman 2011; form from memory, numbers ours): P = a (N - D) [b (1 - e) ln(RT / r) + e W], to
// which what the person is expected to fail at is added in the bracket. N trials since the code was last
// shown, D the enforced gap, e 1 after an error, RT the last right answer's time in the person's own medians.
// Errors come back soon, quick right answers last, and nothing before D others were shown that day.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "learning/model.hpp"
#include "learning/person.hpp"

namespace haunch::learning {

/// The published priority. `latency` RT over r; answers quicker than usual count 0, never less. None (nobody
/// timed it) counts like the usual.
struct Showing {
  int trials_since = 0;  ///< N
  bool error = false;
  std::optional<double> latency;
  double need = 0;  ///< 0..1, the share of failures expected
};
double priority(const Showing& showing, const OrderRules& rules);

enum class Why {
  error,     ///< the last answer was wrong
  practice,  ///< on the way to mastery
  fresh,     ///< never shown
  recheck,   ///< mastered, and asked again after days
  filler     ///< keeps the gap between the others, or keeps going
};
std::string show(Why why);

struct Wish {
  std::string code;
  double difficulty = 0;  ///< of the picture to look for, logits
  double expected = 0;    ///< chance that it is found and named
  Why why = Why::practice;
  bool operator==(const Wish&) const = default;
};

struct Asking {
  double at_days = 0;
  std::uint64_t seed = 1;
  /// Of which codes; empty for all.
  std::vector<std::string> codes{};
  /// Where nothing is due, what the person is least sure of is asked nevertheless.
  bool keep_going = false;
};

/// The next code and how hard its picture should be; nothing where all that is practised has had enough
/// today, or only what the gap forbids is left. The same person, time and seed give the same wish.
std::optional<Wish> next(const Person& person, const Model& model, const Asking& asking);

/// How hard a picture must be for success to be expected in the model's band: as near to average as the band
/// allows, and never beyond what the model asks for. What counts towards mastery is asked for once the code
/// is `firm`: easier pictures would only put it off.
double wished_difficulty(const Person& person, const Model& model, const std::string& code, double at_days,
                         bool firm);
/// The chance that a picture of the code is found and named.
double expected_success(const Person& person, const Model& model, const std::string& code, double at_days,
                        double difficulty);
/// A re-check is due: mastered so many days ago, and not asked since that day.
bool recheck_due(const CodeHistory& history, const MasteryRules& rules, double at_days);

/// What can be shown: a picture of a code.
struct Offer {
  std::string instance, code;
  double difficulty = 0;
  bool operator==(const Offer&) const = default;
};
/// The offer of that code nearest in difficulty that the person has not seen; the first of equals.
std::optional<Offer> nearest_offer(const std::vector<Offer>& offers, const Wish& wish,
                                   const History& history);

}  // namespace haunch::learning
