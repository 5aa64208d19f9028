// SPDX-License-Identifier: Apache-2.0
#include "stored.hpp"

#include <cmath>
#include <cstdio>
#include <ctime>

#include "learners/learner.hpp"
#include "learning/kept.hpp"
#include "learning/order.hpp"
#include "scores/store.hpp"

namespace haunch::learners {
namespace {

constexpr int questions_a_day = 20;
constexpr double first_hour = 9.0 / 24, between = 25.0 / 86400;  // days

std::string two(int number) { return (number < 10 ? "0" : "") + std::to_string(number); }

std::string utc_of(double days) {
  const auto moment = static_cast<std::time_t>(std::llround(days * 86400));
  std::tm parts{};
  ::gmtime_r(&moment, &parts);
  char text[32];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts);
  return text;
}

scores::Answer row(const std::string& trainee, const std::string& id, const std::string& code,
                   const learning::Model& model, const Answer& answer, double at_days) {
  scores::Answer kept;
  kept.id = trainee + "-" + id;
  kept.trainee = trainee;
  kept.answered_at = utc_of(at_days);
  kept.kind = answer.found ? "name it" : "clean or not";
  kept.skill = answer.found ? "named" : "clean";
  kept.code = code;
  kept.instance = kept.id;
  // What a learner takes the last code for may be none of ours.
  const std::string said = answer.said < model.codes.size() ? model.codes[answer.said] : "not known";
  kept.given = !answer.found ? "clean" : answer.named ? code : said;
  kept.right = code;
  kept.credit = answer.found && answer.named ? 1 : 0;
  kept.guess = answer.found ? 0 : 0.5;
  kept.seconds = answer.latency_s;
  return kept;
}

}  // namespace

void store_practice(const std::filesystem::path& file, int people, int days, double last_day) {
  const auto& model = learning::shipped_model();
  auto store = scores::Store::open(file);
  for (int person_number = 0; person_number < people; ++person_number) {
    const std::string trainee = "learner-" + two(person_number + 1);
    const Kind& kind = kinds()[static_cast<std::size_t>(person_number) % kinds().size()];
    const auto learner = kind.make(model.codes.size(), static_cast<std::uint64_t>(person_number + 1));
    auto person = learning::fresh_person(model);
    for (int day = 0; day < days; ++day)
      for (int question = 0; question < questions_a_day; ++question) {
        const double at = std::floor(last_day) - (days - 1 - day) + first_hour + question * between;
        const auto wish =
            learning::next(person, model, {at, static_cast<std::uint64_t>(day * 1000 + question), {}, true});
        if (!wish) break;
        const Picture picture{model.place_of(wish->code), wish->difficulty, at};
        const auto kept = row(trainee, std::to_string(day) + "-" + std::to_string(question), wish->code,
                              model, learner->answer(picture), at);
        store.add(kept);
        for (const auto& one : learning::evidence_of(kept, model)) learning::learn(person, model, one);
      }
  }
}

}  // namespace haunch::learners
