// SPDX-License-Identifier: Apache-2.0
// Which picture of a code: how hard it should be, and the nearest there is.
#include <algorithm>
#include <cmath>

#include "learning/order.hpp"

namespace haunch::learning {

double expected_success(const Person& person, const Model& model, const std::string& code, double at_days,
                        double difficulty) {
  // Found and then named: as if the two hung on nothing in common, which is a little too gloomy.
  return estimate(person.belief(Skill::found), model, code, at_days, difficulty).expected *
         estimate(person.belief(Skill::named), model, code, at_days, difficulty).expected;
}

double wished_difficulty(const Person& person, const Model& model, const std::string& code, double at_days,
                         bool firm) {
  const OrderRules& order = model.order;
  const auto success = [&](double difficulty) {
    return expected_success(person, model, code, at_days, difficulty);
  };
  double low = firm ? std::max(order.easiest, model.mastery.least_difficulty) : order.easiest;
  double high = order.hardest;
  const double average = std::clamp(0.0, low, high);
  const double at_average = success(average);
  if (at_average >= order.aim_low && at_average <= order.aim_high) return average;
  const double aim = at_average < order.aim_low ? order.aim_low : order.aim_high;
  (at_average < order.aim_low ? high : low) = average;
  if (success(low) <= aim) return low;
  if (success(high) >= aim) return high;
  for (int i = 0; i < 20; ++i) {
    const double middle = (low + high) / 2;
    (success(middle) > aim ? low : high) = middle;
  }
  return (low + high) / 2;
}

std::optional<Offer> nearest_offer(const std::vector<Offer>& offers, const Wish& wish,
                                   const History& history) {
  const CodeHistory* const code = of_code(history, wish.code);
  const auto seen = [&](const std::string& instance) {
    return code != nullptr && std::any_of(code->trials.begin(), code->trials.end(),
                                          [&](const Trial& trial) { return trial.instance == instance; });
  };
  std::optional<Offer> nearest;
  for (const Offer& offer : offers) {
    if (offer.code != wish.code || seen(offer.instance)) continue;
    if (!nearest ||
        std::abs(offer.difficulty - wish.difficulty) < std::abs(nearest->difficulty - wish.difficulty))
      nearest = offer;
  }
  return nearest;
}

}  // namespace haunch::learning
