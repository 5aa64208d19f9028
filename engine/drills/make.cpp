// SPDX-License-Identifier: Apache-2.0
#include "drills/make.hpp"

#include <algorithm>
#include <cmath>

#include "base/files.hpp"
#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "drills/questions.hpp"
#include "drills/vary.hpp"
#include "marking/mark.hpp"
#include "sight/sight.hpp"

namespace haunch::drills {
namespace {

constexpr int most_tries = 30;
constexpr double least_flow_l_s = 0.02;
constexpr double least_water_percent = 5;  // shallower is not recorded
constexpr int measured_width = 320, measured_height = 180;

/// What is no defect may be named and placed, and nothing is wrong with it.
bool is_defect(const std::string& code) {
  const auto* entry = coding::CodeList::shipped().find(code);
  return entry && (entry->group == "fabric" || entry->group == "operation");
}

std::string pick(const std::vector<std::string>& codes, base::Random& random) {
  return codes[random.below(static_cast<std::uint32_t>(codes.size()))];
}

double most_roll_deg(const Wanted& wanted) {
  switch (wanted.kind) {
    case Kind::find_bottom:
      return 170;
    case Kind::clock:
      return 30 + 60 * (1 - wanted.ease);
    default:
      return 25 * (1 - wanted.ease);
  }
}

/// The header, and what is asked about as a point: where a stretch goes on to is not in the picture.
void set_truth(Item& item, const Drawn& drawn) {
  item.truth.header = drawn.truth.record.header;
  if (item.code.empty()) return;
  item.there = drawn.truth.record.observations[drawn.row];
  item.there.stretch.clear();
  item.truth.observations = {item.there};
  for (const auto& row : drawn.truth.record.observations)
    if (row.code != item.code) item.also.push_back(row.code);
}

/// At the ring on the wall, in per cent of the bore's height there.
double water_percent(const scene::Scene& scene, double ring_z_m) {
  const double deep = scene::level_at(scene.water, ring_z_m) - scene::invert_at(scene, ring_z_m);
  return 100 * deep / (2 * scene::radius_at(scene, ring_z_m));
}

/// Measured at the end of the clip, where what is asked about is nearest.
std::optional<Shows> measure(const Drawn& drawn, int fault, int threads) {
  sight::Options options;
  options.width = measured_width;
  options.height = measured_height;
  options.threads = threads;
  options.only = {fault};
  const auto seen = sight::seen_on(
      drawn.scene, {{drawn.clip.to_z_m, drawn.clip.yaw_deg, drawn.clip.pitch_deg, 1}}, options);
  for (const auto& one : seen)
    if (one.fault == fault && one.plain())
      return Shows{one.most_share, one.contrast, std::max(1.0, drawn.clip.seconds)};
  return std::nullopt;
}

class Maker {
 public:
  Maker(const Wanted& wanted, const Making& making) : wanted_(wanted), making_(making) {}

  /// One try; nothing where it came to nothing.
  std::optional<Item> attempt(int number) {
    base::Random random(base::mix(base::mix(wanted_.seed) + static_cast<std::uint64_t>(number)));
    Item item;
    item.wanted = wanted_;
    const bool clean = nothing_wrong(random);
    std::optional<Drawn> drawn;
    if (clean) {
      drawn = draw_clean(wanted_.ease, most_roll_deg(wanted_), random);
    } else {
      item.code = wanted_.code.empty() ? pick(codes_for(wanted_.kind), random) : wanted_.code;
      const auto& forms = Library::shipped().of.at(item.code);
      const Form& form =
          Library::shipped().forms[forms[random.below(static_cast<std::uint32_t>(forms.size()))]];
      drawn = draw(form, wanted_.ease, wanted_.kind == Kind::clock || wanted_.kind == Kind::find_bottom,
                   most_roll_deg(wanted_), random);
    }
    if (!drawn) return std::nullopt;
    if (wanted_.kind == Kind::find_bottom) {
      // Nothing but what runs or lies there tells where the bottom is.
      if (item.code != "BBC" && drawn->scene.scenario.flow_l_s < least_flow_l_s) return std::nullopt;
      item.code.clear();
    }
    set_truth(item, *drawn);
    if (!clean && wanted_.kind != Kind::find_bottom && !usable(item, *drawn, number)) return std::nullopt;
    item.clip = drawn->clip;
    item.scene = std::move(drawn->scene);
    ask(item, making_.scheme, random);
    if (wanted_.kind == Kind::find_bottom) {
      const double hour = base::on_screen_hour(6, item.clip.roll_deg);
      item.right = base::show_number(std::round(hour * 10) / 10);
    }
    item.instance =
        base::fingerprint(show(wanted_.kind) + "/" + item.scene.scenario.hash + "/" +
                          base::show_number(item.clip.to_z_m) + "/" + base::show_number(item.clip.roll_deg));
    return item;
  }

 private:
  bool nothing_wrong(base::Random& random) const {
    if (wanted_.kind == Kind::find_bottom) return random.uniform() < 0.5;
    if (wanted_.kind != Kind::clean_or_not) return false;
    return wanted_.clean ? *wanted_.clean : wanted_.code.empty() && random.uniform() < 0.5;
  }

  bool usable(Item& item, const Drawn& drawn, int number) const {
    if (!can_be_asked(item, making_.scheme)) return false;
    if (wanted_.kind == Kind::next_step && !wished_action(item, number)) return false;
    if (wanted_.kind == Kind::water_depth) {
      const double ring_z = *ring_z_m(drawn.scene, drawn.clip, wanted_.kind);
      const double percent = std::round(water_percent(drawn.scene, ring_z));
      if (!(percent >= least_water_percent && percent < 100)) return false;
      item.there.q1 = coding::Number(percent);
      item.truth.observations.front() = item.there;
    }
    item.fault = drawn.truth.origins[drawn.row].fault;
    if (item.fault == 0 || !making_.measured) return true;  // of the run itself: it has no outline
    item.shows = measure(drawn, item.fault, making_.threads);
    return item.shows.has_value();
  }

  /// Each action is as often the right one as any other, as far as that goes.
  bool wished_action(const Item& item, int number) const {
    if (!wanted_.code.empty() || number > most_tries * 2 / 3) return true;
    base::Random random(base::mix(wanted_.seed + 77));
    const auto& actions = coding::all_actions();
    const auto wished = actions[random.below(static_cast<std::uint32_t>(actions.size()))];
    return marking::action_for(item.truth, marking::Rules::shipped()).action == wished;
  }

  const Wanted& wanted_;
  const Making& making_;
};

base::Problems no(const std::string& what, const std::string& expected) {
  return {base::Problem{{}, base::Severity::error, what, expected, {}}};
}

}  // namespace

std::vector<std::string> codes_for(Kind kind) {
  const auto& library = Library::shipped();
  std::vector<std::string> codes;
  const auto& list = coding::CodeList::shipped();
  for (const std::string& code : library.codes) {
    const auto* entry = list.find(code);
    if (entry == nullptr) continue;
    bool fits = true;
    switch (kind) {
      case Kind::find_bottom:
        fits = code == "BBC" || code == "BBA" || code == "BCA";
        break;
      case Kind::water_depth:
        fits = code == "BDD";
        break;
      case Kind::size_it:
        fits = entry->q1.has_value() && code != "BDD" && is_defect(code);
        break;
      case Kind::clock:
        fits = entry->clock != coding::ClockRule::none;
        break;
      case Kind::which_of_two:
        fits = !mixed_up_with(code).empty();
        break;
      case Kind::clean_or_not:
      case Kind::grade_it:
        fits = is_defect(code);
        break;
      case Kind::next_step:
        fits = is_defect(code) || code == "BCA";
        break;
      case Kind::name_it:
        break;
    }
    if (fits) codes.push_back(code);
  }
  return codes;
}

std::vector<std::pair<std::string, std::string>> not_asked() {
  return {{"BCD", "the camera stands in it when the record begins"},
          {"BDA", "it is a photograph itself"},
          {"BDB", "it is a remark in words"},
          {"BDC", "it says that the inspection ends, not what is in the pipe"},
          {"BDF", "nobody sees the air"},
          {"AEA", "it is about the video, not the pipe"},
          {"AEB", "it is about photographs, not the pipe"},
          {"AEE", "no short run shows a lining begin yet"},
          {"AEF", "it is measured from joint to joint, not seen in a picture"},
          {"AEG", "it is about the weather"}};
}

base::Result<Item> make(const Wanted& wanted, const Making& making) {
  const auto codes = codes_for(wanted.kind);
  if (!wanted.code.empty() && std::find(codes.begin(), codes.end(), wanted.code) == codes.end())
    return no("\"" + show(wanted.kind) + "\" cannot be asked about " + wanted.code,
              "one of " + base::join(codes, ", "));
  Maker maker(wanted, making);
  for (int number = 0; number < most_tries; ++number)
    if (auto item = maker.attempt(number)) return std::move(*item);
  return no("no picture of " + (wanted.code.empty() ? std::string("anything") : wanted.code) + " for \"" +
                show(wanted.kind) + "\" came out of seed " + std::to_string(wanted.seed),
            "another seed, or a larger ease");
}

}  // namespace haunch::drills
