// SPDX-License-Identifier: Apache-2.0
// A simulated person who learns to find and name codes. What they know is known exactly, so that an order of
// practice and an estimate can be held against it.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/random.hpp"

namespace haunch::learners {

/// A picture: code 0 to codes - 1, difficulty in logits.
struct Picture {
  std::size_t code = 0;
  double difficulty = 0;
  double at_days = 0;
};
/// What the learner can do at that picture, at that time.
struct Chances {
  double found = 0;
  double named = 0;  ///< once it is found
  double both() const { return found * named; }
};
struct Answer {
  bool found = false, named = false;
  std::size_t said = 0;  ///< the code said when found
  double latency_s = 0;
};

class Learner {
 public:
  virtual ~Learner() = default;
  virtual Chances chances(const Picture& picture) const = 0;
  /// Answers, is shown what was right, and learns.
  Answer answer(const Picture& picture);

 protected:
  explicit Learner(std::uint64_t seed) : random_(seed) {}
  virtual void learn(const Picture& picture, const Answer& answer) = 0;
  base::Random& random() { return random_; }

 private:
  base::Random random_;
};

/// Of somebody who finds and names a picture with that chance. Who does not know a code finds it still in 70
/// of 100 pictures (ours: there is something, but what?).
Chances chances_of(double both);
double logistic(double x);
double logit(double share);

struct Kind {
  std::string name;
  std::string source;  ///< of the model and of its numbers
  std::function<std::unique_ptr<Learner>(std::size_t codes, std::uint64_t seed)> make;
  bool of_the_scheduler = false;  ///< the scheduler reckons with this very model
};
const std::vector<Kind>& kinds();

}  // namespace haunch::learners
