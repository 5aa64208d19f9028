// SPDX-License-Identifier: Apache-2.0
#include "play/drill_set.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "drills/make.hpp"
#include "learning/kept.hpp"
#include "learning/order.hpp"

namespace haunch::play {
namespace {

constexpr double right_from = 0.999;
// Ours: how the ease of a picture answers to the difficulty that is wished for, in logits.
constexpr double ease_a_logit = 0.25, usual_ease = 0.5;
// Pictures about no code get harder as the person gets better at them.
constexpr double aimed_at = 0.82;

bool about_codes(drills::Kind kind) {
  return kind == drills::Kind::name_it || kind == drills::Kind::which_of_two || kind == drills::Kind::size_it;
}

std::vector<std::string> both(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  if (a.empty()) return b;
  std::vector<std::string> common;
  for (const std::string& one : a)
    if (std::find(b.begin(), b.end(), one) != b.end()) common.push_back(one);
  return common;
}

}  // namespace

DrillSet::DrillSet(DrillPlan plan, std::string trainee, learning::Person person, double now_days,
                   const learning::Model& model)
    : plan_(std::move(plan)),
      trainee_(std::move(trainee)),
      person_(std::move(person)),
      now_days_(now_days),
      model_(model) {}

std::string DrillSet::code_for(drills::Kind kind, double& ease) {
  const std::vector<std::string> codes = both(plan_.codes, drills::codes_for(kind));
  const auto seed = base::mix(plan_.seed) + static_cast<std::uint64_t>(asked_);
  base::Random random(seed);
  if (codes.empty()) return {};
  if (about_codes(kind)) {
    if (const auto wish = learning::next(person_, model_, {now_days_, seed, codes, true})) {
      ease = std::clamp(usual_ease - ease_a_logit * wish->difficulty, 0.0, 1.0);
      return wish->code;
    }
  } else {
    const auto now = learning::estimate(person_.belief(drills::skill_of(kind)), model_, "", now_days_);
    ease = std::clamp(usual_ease + 1.5 * (aimed_at - now.expected), 0.0, 1.0);
    if (plan_.codes.empty()) return {};
  }
  return codes[random.below(static_cast<std::uint32_t>(codes.size()))];
}

std::optional<drills::Wanted> DrillSet::next() {
  if (!plan_.form.empty()) {
    if (asked_ >= static_cast<int>(plan_.form.size())) return std::nullopt;
    return plan_.form[static_cast<std::size_t>(asked_++)];
  }
  if (plan_.kinds.empty() || (plan_.count > 0 && asked_ >= plan_.count)) return std::nullopt;
  base::Random random(base::mix(plan_.seed ^ 0x5eedULL) + static_cast<std::uint64_t>(asked_));
  drills::Wanted wanted;
  wanted.kind = plan_.kinds[random.below(static_cast<std::uint32_t>(plan_.kinds.size()))];
  wanted.seed = random.next();
  const bool half = wanted.kind == drills::Kind::clean_or_not && !plan_.codes.empty();
  if (half) wanted.clean = random.uniform() < 0.5;
  wanted.code = wanted.clean.value_or(false) ? std::string() : code_for(wanted.kind, wanted.ease);
  ++asked_;
  return wanted;
}

DrillSet::Done DrillSet::answer(const drills::Item& item, const drills::Answer& answer, double seconds,
                                const std::string& utc, const std::string& id) {
  Done done;
  done.verdict = drills::judge(item, answer);
  scores::Answer& row = done.row;
  row.id = id;
  row.trainee = trainee_;
  row.answered_at = utc;
  row.kind = drills::show(item.wanted.kind);
  row.skill = learning::show(drills::skill_of(item.wanted.kind));
  row.code = item.code;
  row.instance = item.instance;
  row.given = drills::show(answer);
  row.right = item.right;
  row.credit = done.verdict.credit;
  row.guess = item.guess;
  row.seconds = std::max(0.0, seconds);
  if (item.shows) {
    row.share = std::clamp(item.shows->share, 0.0, 1.0);
    row.contrast = std::clamp(item.shows->contrast, 0.0, 1.0);
    row.in_view_s = std::max(item.shows->in_view_s, row.seconds.value_or(0));
  }
  row.sitting = plan_.sitting;
  for (const auto& one : learning::evidence_of(row, model_)) learning::learn(person_, model_, one);
  answered_.push_back({item.code, item.question, row.given, row.right, item.wanted.kind, row.credit,
                       *row.seconds, done.verdict.sentence});
  return done;
}

bool DrillSet::over() const {
  const int done = static_cast<int>(answered_.size());
  if (!plan_.form.empty()) return done >= static_cast<int>(plan_.form.size());
  if (plan_.count > 0 && done >= plan_.count) return true;
  return plan_.seconds > 0 && spent_s_ >= plan_.seconds;
}

double DrillSet::seconds_left() const { return std::max(0.0, plan_.seconds - spent_s_); }

int DrillSet::right() const {
  return static_cast<int>(std::count_if(answered_.begin(), answered_.end(),
                                        [](const Answered& one) { return one.credit >= right_from; }));
}

}  // namespace haunch::play
