// SPDX-License-Identifier: Apache-2.0
// The world that learning/skill.hpp describes, simulated: an ability for each code that drifts back, answers
// and gains. Estimates are held against it.
#pragma once

#include <string>
#include <vector>

#include "base/random.hpp"
#include "learning/model.hpp"
#include "learning/skill.hpp"

namespace haunch::learners {

class SkillWorld {
 public:
  SkillWorld(const learning::Model& model, learning::Skill skill, base::Random& random);
  /// Every term drifts; call before asking at a later time.
  void wait_until(double at_days);
  double ability(std::size_t code) const;
  /// Teaches and remembers an answer that was right or wrong at the present time.
  void practise(std::size_t code, bool right);
  /// What is left of a code's own term on average after some more days.
  double expected_ability(std::size_t code, double later_days) const;

 private:
  const learning::Model& model_;
  base::Random& random_;
  double person_ = 0;
  std::vector<double> families_, codes_;
  std::vector<learning::CodeMemory> memory_;
  double at_days_ = 0;
};

}  // namespace haunch::learners
