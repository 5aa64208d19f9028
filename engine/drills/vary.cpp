// SPDX-License-Identifier: Apache-2.0
#include "drills/vary.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/read.hpp"

namespace haunch::drills {
namespace {

using Json = nlohmann::json;

constexpr double usual_bore_mm = 150;
constexpr double radians = 3.14159265358979323846 / 180;
// Ours: how far a picture may be from the guide's plate of its code and still be of that code.
constexpr double smallest_times = 0.7, largest_times = 1.5;
constexpr double most_moved_m = 0.3;
constexpr double farthest_more_m = 0.25;  // the lens stands so much farther off where it is hard
constexpr double least_in_m = 0.02;
constexpr double clip_m_s = 0.08;
constexpr double most_bend_deg = 15;  // of one bend in a scenario
constexpr std::array<double, 5> bores_mm = {100, 125, 150, 200, 225};

template <std::size_t N>
double one_of(const std::array<double, N>& values, base::Random& random) {
  return values[random.below(static_cast<std::uint32_t>(N))];
}

void set_material(Json& value, const std::string& material) {
  if (value.is_string() && value.get_ref<const std::string&>() == "*") value = material;
  if (value.is_structured())
    for (Json& inner : value) set_material(inner, material);
}

double rounded(double value, double step) { return std::round(value / step) * step; }

/// Sizes of what is wrong: all by the same share and with the bore, so that their shape stays.
void resize(Json& fault, double times, double bores) {
  for (auto& [key, value] : fault.items()) {
    if (!value.is_number() || key.starts_with("clock") || key.ends_with("_m") || key.ends_with("_l_s"))
      continue;
    const double now = value.get<double>();
    if (key.ends_with("_mm"))
      value = now < 10 ? rounded(now * times, 0.1) : std::round(now * times * bores);
    else if (key.ends_with("_percent") || key == "percent")
      value = std::clamp(std::round(now * times), std::min(now, 1.0), std::max(now, 90.0));
    else if (key.ends_with("_deg"))
      value = std::min(rounded(now * times, 0.5), most_bend_deg);
  }
}

void turn(Json& fault, int hours) {
  const auto later = [&](const Json& hour) {
    double turned = hour.get<double>() + hours;
    while (turned > 12) turned -= 12;
    return turned;
  };
  const auto found = fault.find("clock");
  if (found == fault.end()) return;
  if (found->is_number()) *found = later(*found);
  if (found->is_array())
    for (Json& hour : *found) hour = later(hour);
}

void move(Json& run, double by_m) {
  Json none = Json::array();
  for (Json& fault : run["faults"])
    for (const char* key : {"at_m", "from_m", "to_m"})
      if (fault.contains(key)) fault[key] = rounded(fault[key].get<double>() + by_m, 0.001);
  Json& pipe = run["pipe"];
  for (std::size_t i = 0; i + 1 < pipe["sections"].size(); ++i)
    pipe["sections"][i]["to_m"] = rounded(pipe["sections"][i]["to_m"].get<double>() + by_m, 0.001);
  for (Json& spot : pipe.contains("low_spots") ? pipe["low_spots"] : none)
    for (const char* key : {"from_m", "to_m"}) spot[key] = rounded(spot[key].get<double>() + by_m, 0.001);
  // What stands at a joint goes with its joint.
  for (Json& section : pipe["sections"]) {
    if (!section.contains("unit_length_m")) continue;
    const double unit = section["unit_length_m"].get<double>();
    double first = section.value("first_joint_m", unit) + by_m;
    if (first <= 0.05) first += unit;
    section["first_joint_m"] = rounded(first, 0.001);
  }
}

/// Things that lie where gravity puts them are not turned round the pipe.
bool may_turn(const Json& fault) {
  static const std::array<const char*, 9> lies = {
      "deposit", "grease", "obstacle", "low spot", "infiltration", "exfiltration", "foam", "vermin", "scale"};
  const std::string kind = fault.value("kind", std::string());
  return std::none_of(lies.begin(), lies.end(), [&](const char* one) { return kind == one; });
}

/// Pipes join from above or from the side: no hour between 3 and 9 after turning.
bool joins_from_below(const Json& run) {
  for (const Json& fault : run["faults"]) {
    if (fault.value("kind", std::string()) != "connection" || !fault.contains("clock")) continue;
    const double hour = fault["clock"].get<double>();
    if (hour > 3 && hour < 9) return true;
  }
  return false;
}

std::optional<scene::Scene> scene_of(const Json& run) {
  auto scenario = scenario::scenario_from_json(run.dump(), "drill");
  if (!scenario) return std::nullopt;
  return scene::build_scene(std::move(scenario).value());
}

double roll_of(double most_roll_deg, base::Random& random) {
  return random.uniform(-most_roll_deg, most_roll_deg);
}

/// The first finding of that main code that a fault or the run itself gave.
std::optional<std::size_t> row_of(const truth::Truth& truth, const std::string& main) {
  const auto& rows = truth.record.observations;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool hidden = std::any_of(truth.record.not_visible.begin(), truth.record.not_visible.end(),
                                    [&](const auto& one) { return one.observation == rows[i].id; });
    if (rows[i].code == main && !rows[i].stretch.starts_with('B') && !hidden && truth.origins[i].note == 0)
      return i;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Drawn> draw(const Form& form, double ease, bool straight, double most_roll_deg,
                          base::Random& random) {
  Json run = Json::parse(form.run);
  run["seed"] = random.below(2000000000U);
  set_material(run, form.materials[random.below(static_cast<std::uint32_t>(form.materials.size()))]);
  const bool own_bore = run["pipe"]["bore_mm"].get<double>() != usual_bore_mm;
  const double bore_mm = own_bore ? run["pipe"]["bore_mm"].get<double>() : one_of(bores_mm, random);
  const double bores = own_bore ? 1 : bore_mm / usual_bore_mm;
  run["pipe"]["bore_mm"] = bore_mm;
  if (run["pipe"].contains("low_spots")) {
    // Depths of their own, or water would always stand as high.
    const double deeper = random.uniform(0.4, 1.5) * bores;
    for (Json& spot : run["pipe"]["low_spots"])
      spot["depth_mm"] = std::max(5.0, std::round(spot["depth_mm"].get<double>() * deeper));
  } else {
    run["pipe"]["gradient_percent"] = rounded(random.uniform(0.6, 2.5), 0.1);
    if (run["pipe"].value("flow_l_s", 0.0) < 0.1)
      run["pipe"]["flow_l_s"] = rounded(random.uniform(0, 0.06), 0.01);
  }

  // Smaller where it is to be hard, larger where it is to be easy, and never all of one size.
  const double middle = smallest_times + ease * (largest_times - smallest_times);
  const double times = std::clamp(middle * random.uniform(0.85, 1.18), smallest_times, largest_times);
  const int hours = static_cast<int>(random.below(12));
  bool turned = !run["faults"].empty();
  for (const Json& fault : run["faults"]) turned = turned && may_turn(fault);
  for (Json& fault : run["faults"]) {
    resize(fault, times, bores);
    if (turned) turn(fault, hours);
  }
  if (joins_from_below(run)) return std::nullopt;
  const double anywhere_m = random.uniform(-most_moved_m, most_moved_m);
  const double by_m = form.main == "BCE" ? 0 : anywhere_m;  // the end of the run is where it is
  move(run, by_m);

  Drawn drawn;
  auto scene = scene_of(run);
  if (!scene) return std::nullopt;
  drawn.scene = std::move(*scene);
  drawn.truth = truth::derive(drawn.scene);
  const auto row = row_of(drawn.truth, form.main);
  if (!row || drawn.truth.stop) return std::nullopt;
  drawn.row = *row;

  const double length = drawn.scene.length_m();
  const double farther = (1 - ease) * random.uniform(0, farthest_more_m);
  const double ahead = form.at_m ? 0 : form.ahead_m * bores;
  const double z = (form.at_m ? *form.at_m + by_m : drawn.truth.origins[*row].from_z_m - ahead) - farther;
  drawn.clip.to_z_m = std::clamp(z, least_in_m, length - least_in_m);
  drawn.clip.from_z_m = drawn.clip.to_z_m;
  drawn.clip.roll_deg = roll_of(most_roll_deg, random);
  if (!straight) {
    // What is looked at aside has gone round the pipe by so many hours, and the head with it.
    const double angle = (turned ? hours : 0) * 30 * radians;
    drawn.clip.yaw_deg = form.yaw_deg * std::cos(angle) + form.pitch_deg * std::sin(angle);
    drawn.clip.pitch_deg = -form.yaw_deg * std::sin(angle) + form.pitch_deg * std::cos(angle);
  }
  const bool aside = drawn.clip.yaw_deg != 0 || drawn.clip.pitch_deg != 0;
  if (!aside && random.uniform() < 0.5) {
    drawn.clip.seconds = rounded(random.uniform(2, 5), 0.1);
    drawn.clip.from_z_m = std::max(least_in_m, drawn.clip.to_z_m - clip_m_s * drawn.clip.seconds);
  }
  return drawn;
}

std::optional<Drawn> draw_clean(double ease, double most_roll_deg, base::Random& random) {
  struct Make {
    const char* material;
    double unit_m;
  };
  static const std::array<Make, 6> makes = {{{"vitrified clay", 1},
                                             {"vitrified clay", 1.5},
                                             {"concrete", 1},
                                             {"concrete", 2},
                                             {"PVC", 3},
                                             {"polyethylene", 6}}};
  Json run = Json::parse(Library::shipped().clean);
  const Make& make = makes[random.below(static_cast<std::uint32_t>(makes.size()))];
  run["seed"] = random.below(2000000000U);
  run["pipe"]["bore_mm"] = one_of(bores_mm, random);
  run["pipe"]["gradient_percent"] = rounded(random.uniform(0.6, 2.5), 0.1);
  run["pipe"]["flow_l_s"] = rounded(random.uniform(0, 0.06), 0.01);
  Json& section = run["pipe"]["sections"][0];
  section["material"] = make.material;
  section["unit_length_m"] = make.unit_m;
  section["first_joint_m"] = rounded(random.uniform(0.4, std::min(make.unit_m, 1.4)), 0.01);
  Drawn drawn;
  auto scene = scene_of(run);
  if (!scene) return std::nullopt;
  drawn.scene = std::move(*scene);
  drawn.truth = truth::derive(drawn.scene);
  for (const auto& row : drawn.truth.record.observations)
    if (row.code != "BCD" && row.code != "BCE") return std::nullopt;
  drawn.clip.seconds = rounded(random.uniform(2, 5), 0.1);
  drawn.clip.from_z_m = random.uniform(0.8, 2.6);
  drawn.clip.to_z_m = drawn.clip.from_z_m + clip_m_s * drawn.clip.seconds;
  drawn.clip.roll_deg = roll_of(most_roll_deg * (1 - ease / 2), random);
  return drawn;
}

}  // namespace haunch::drills
