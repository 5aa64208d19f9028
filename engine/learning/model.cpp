// SPDX-License-Identifier: Apache-2.0
#include "learning/model.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "coding/code_list.hpp"

namespace haunch::learning {
namespace {

using base::JsonDocument;
using base::Problems;
using Json = nlohmann::json;

double number(const Json& json, const char* key) { return json.at(key).get<double>(); }
int whole(const Json& json, const char* key) { return json.at(key).get<int>(); }

void read_families(const JsonDocument& document, Model& model, Problems& problems) {
  std::vector<std::string> known;
  for (const coding::CodeEntry& entry : coding::CodeList::shipped().codes()) known.push_back(entry.code);
  std::map<std::string, std::string> taken;
  const Json& families = document.root().at("families");
  for (std::size_t f = 0; f < families.size(); ++f) {
    Family family{families[f].at("id"), families[f].at("title"), families[f].at("codes")};
    for (std::size_t i = 0; i < family.codes.size(); ++i) {
      const std::string& code = family.codes[i];
      const std::string place = "/families/" + std::to_string(f) + "/codes/" + std::to_string(i);
      if (std::find(known.begin(), known.end(), code) == known.end()) {
        problems.push_back(document.problem(place, "\"" + code + "\" is no main code of the code list",
                                            "a main code", base::nearest_word(code, known)));
      } else if (!taken.emplace(code, family.id).second) {
        problems.push_back(document.problem(place, code + " is in the family \"" + taken[code] + "\" already",
                                            "every main code in one family"));
      }
      model.codes.push_back(code);
      model.family_of.push_back(f);
    }
    model.families.push_back(std::move(family));
  }
  for (const std::string& code : known)
    if (!taken.contains(code))
      problems.push_back(
          document.problem("/families", code + " is in no family", "every main code in one family"));
}

void read_pairs(const JsonDocument& document, Model& model, Problems& problems) {
  const Json& pairs = document.root().at("confusable").at("pairs");
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    const auto [a, b] = pairs[i].get<std::pair<std::string, std::string>>();
    const std::string place = "/confusable/pairs/" + std::to_string(i);
    for (const std::string& code : {a, b})
      if (model.place_of(code) == Model::none)
        problems.push_back(document.problem(place, "\"" + code + "\" is in no family", "a main code",
                                            base::nearest_word(code, model.codes)));
    if (a == b)
      problems.push_back(document.problem(place, a + " is taken for itself", "two different codes"));
    model.confusable.emplace_back(a, b);
  }
}

void read_numbers(const Json& root, Model& model) {
  const Json& hard = root.at("difficulty");
  const Json& usual = hard.at("usual");
  const Json& halving = hard.at("logits_per_halving");
  model.difficulty = {
      number(usual, "share_of_picture"),      number(usual, "contrast"),   number(usual, "seconds_in_view"),
      number(halving, "share_of_picture"),    number(halving, "contrast"), number(halving, "seconds_in_view"),
      number(hard, "logits_when_all_hidden"), number(hard, "most")};
  const Json& prior = root.at("prior");
  for (const Skill skill : all_skills)
    model.prior.mean[static_cast<std::size_t>(skill)] = prior.at("mean").at(show(skill)).get<double>();
  model.prior.global_sd = number(prior, "global_sd");
  model.prior.family_sd = number(prior, "family_sd");
  model.prior.code_sd = number(prior, "code_sd");
  const Json& practice = root.at("practice");
  model.practice = {number(practice, "gain"), number(practice, "gain_sd"), number(practice, "drift_sd")};
  const Json& memory = root.at("memory");
  model.memory = {number(memory, "half_life_days"), number(memory, "times_when_right_on_a_later_day"),
                  number(memory, "times_when_wrong"), number(memory, "shortest_days"),
                  number(memory, "longest_days")};
}

void read_order(const Json& json, OrderRules& order) {
  order.gap = whole(json, "gap");
  order.per_trial_since = number(json, "per_trial_since");
  order.slow_answer = number(json, "slow_answer");
  order.usual_latency = number(json, "usual_latency");
  order.error = number(json, "error");
  order.need = number(json, "need");
  order.new_code = number(json, "new_code");
  order.recheck = number(json, "recheck");
  order.most_trials_since = whole(json, "most_trials_since");
  order.confusable_times = number(json, "confusable_times");
  order.aim_low = json.at("aim")[0].get<double>();
  order.aim_high = json.at("aim")[1].get<double>();
  order.easiest = number(json, "easiest");
  order.hardest = number(json, "hardest");
  order.new_at_once = whole(json, "new_at_once");
  order.firm_after_right = whole(json, "firm_after_right");
  order.enough_right_a_day = whole(json, "enough_right_a_day");
}

void read_mastery(const Json& json, MasteryRules& mastery) {
  mastery.least_trials = whole(json, "least_trials");
  mastery.least_days = whole(json, "least_days");
  mastery.least_bound = number(json, "least_bound");
  mastery.last_found = whole(json, "last_found");
  mastery.most_counted = whole(json, "most_counted");
  mastery.least_difficulty = number(json, "least_difficulty");
  mastery.latency_times_own = number(json, "latency_times_own");
  mastery.most_confused = number(json, "most_confused");
  mastery.recheck_days = json.at("recheck_days").get<std::vector<double>>();
}

/// What a schema cannot say.
void check_sense(const JsonDocument& document, const Model& model, Problems& problems) {
  const auto say = [&](const char* pointer, const char* what, const char* expected) {
    problems.push_back(document.problem(pointer, what, expected));
  };
  if (model.order.aim_low > model.order.aim_high)
    say("/order/aim", "the first is larger than the second", "the smaller share first");
  if (model.order.easiest > model.order.hardest)
    say("/order/easiest", "it is harder than the hardest", "a number no larger than \"hardest\"");
  if (model.order.hardest < model.mastery.least_difficulty)
    say("/mastery/least_difficulty", "no picture as hard as this is ever shown before mastery",
        "a number no larger than \"hardest\" of the order");
  if (model.mastery.most_counted < model.mastery.least_trials)
    say("/mastery/most_counted", "fewer are looked at than are needed",
        "a number no smaller than \"least_trials\"");
  if (model.memory.shortest_days > model.memory.longest_days)
    say("/memory/shortest_days", "it is longer than the longest", "a number no larger than \"longest_days\"");
  if (!std::is_sorted(model.mastery.recheck_days.begin(), model.mastery.recheck_days.end()))
    say("/mastery/recheck_days", "they do not rise", "the shortest time first");
}

base::Result<Model> model_of(base::Result<JsonDocument> read) {
  if (!read.ok()) return read.problems();
  const JsonDocument& document = read.value();
  const Json& root = document.root();
  Model model;
  Problems problems;
  model.title = root.at("title").get<std::string>() + ", edition " + std::to_string(whole(root, "edition"));
  read_families(document, model, problems);
  read_pairs(document, model, problems);
  read_numbers(root, model);
  read_order(root.at("order"), model.order);
  read_mastery(root.at("mastery"), model.mastery);
  check_sense(document, model, problems);
  if (!problems.empty()) return problems;
  return model;
}

/// Harder the smaller it is, in halvings of what is usual; nothing at all counts as very many of them.
double halvings(double value, double usual) {
  return value > 0 ? std::clamp(std::log2(usual / value), -64.0, 64.0) : 64.0;
}

}  // namespace

std::size_t Model::place_of(const std::string& code) const {
  const auto found = std::find(codes.begin(), codes.end(), code);
  return found == codes.end() ? none : static_cast<std::size_t>(found - codes.begin());
}

base::Result<Model> read_model(const std::filesystem::path& path) {
  return model_of(JsonDocument::read(path, "learning-model"));
}

base::Result<Model> read_model_text(const std::string& text, const std::string& file_name) {
  return model_of(JsonDocument::read_text(text, file_name, "learning-model"));
}

const Model& shipped_model() {
  static const Model model = [] {
    auto read = read_model(base::content_dir() / "learning" / "model.json");
    if (!read.ok()) throw std::runtime_error(base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return model;
}

double difficulty_of(const Measures& measures, const DifficultyRules& rules) {
  const double sum =
      rules.per_share_halving * halvings(measures.share_of_picture, rules.usual_share) +
      rules.per_contrast_halving * halvings(measures.contrast, rules.usual_contrast) +
      rules.per_seconds_halving * halvings(measures.seconds_in_view, rules.usual_seconds) +
      (measures.hidden_share > 0 ? rules.when_hidden * std::min(measures.hidden_share, 1.0) : 0.0);
  return std::clamp(sum, -rules.most, rules.most);
}

}  // namespace haunch::learning
