// SPDX-License-Identifier: Apache-2.0
// A set of questions without a screen: what is asked next, what an answer was worth, what is kept of it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "drills/item.hpp"
#include "drills/judge.hpp"
#include "learning/model.hpp"
#include "learning/person.hpp"
#include "scores/kept.hpp"

namespace haunch::play {

struct DrillPlan {
  std::string title;
  std::vector<drills::Kind> kinds;   ///< in turn by chance
  std::vector<std::string> codes{};  ///< main codes; empty: what the person needs most
  double seconds = 120;              ///< of answering; 0: as many as `count` says
  int count = 0;                     ///< 0: as many as there is time for
  bool feedback = true;              ///< an exam tells nothing until its end
  std::uint64_t seed = 1;
  std::vector<drills::Wanted> form{};  ///< of an exam: these, in this order, and nothing else
  std::string sitting{};               ///< of an exam
  bool operator==(const DrillPlan&) const = default;
};

/// One that was answered.
struct Answered {
  std::string code, question, given, right;
  drills::Kind kind = drills::Kind::name_it;
  double credit = 0, seconds = 0;
  std::string sentence;
};

class DrillSet {
 public:
  /// `person`: as far as is known of them; `now_days` as learning counts.
  DrillSet(DrillPlan plan, std::string trainee, learning::Person person, double now_days,
           const learning::Model& model = learning::shipped_model());

  const DrillPlan& plan() const { return plan_; }
  /// What to ask next; nothing when all has been asked. Called once for each question, also before the one
  /// before it is answered.
  std::optional<drills::Wanted> next();
  /// Takes an answer in. `utc` when it was given; the row is what is to be kept.
  struct Done {
    drills::Verdict verdict;
    scores::Answer row;
  };
  Done answer(const drills::Item& item, const drills::Answer& answer, double seconds, const std::string& utc,
              const std::string& id);

  bool over() const;
  double seconds_left() const;
  /// A second spent answering; looking at what came of it costs nothing.
  void spend(double seconds) { spent_s_ += seconds; }
  const std::vector<Answered>& answered() const { return answered_; }
  int right() const;
  const learning::Person& person() const { return person_; }

 private:
  std::string code_for(drills::Kind kind, double& ease);

  DrillPlan plan_;
  std::string trainee_;
  learning::Person person_;
  double now_days_ = 0;
  const learning::Model& model_;
  std::vector<Answered> answered_;
  int asked_ = 0;
  double spent_s_ = 0;
};

}  // namespace haunch::play
