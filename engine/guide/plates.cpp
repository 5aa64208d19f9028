// SPDX-License-Identifier: Apache-2.0
#include "guide/plates.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"
#include "scenario/read.hpp"
#include "truth/truth.hpp"

namespace haunch::guide {
namespace {

using Json = nlohmann::json;

constexpr double usual_ahead_m = 0.28;  // fills the picture's height with a ring of wall in a 150 mm bore
constexpr double least_in_m = 0.02;     // the lens never stands outside the run

/// Wherever a run says "*" for a material it is the plate's.
void set_material(Json& value, const std::string& material) {
  if (value.is_string() && value.get_ref<const std::string&>() == "*") value = material;
  if (value.is_structured())
    for (Json& inner : value) set_material(inner, material);
}

std::string with_hyphens(std::string words) {
  std::replace(words.begin(), words.end(), ' ', '-');
  return words;
}

/// Clay and concrete of one plate are two pipes, not one in two coats.
std::uint64_t seed_of(const std::string& name) {
  return std::stoull(base::fingerprint(name).substr(0, 12), nullptr, 16);
}

class Reader {
 public:
  explicit Reader(const base::JsonDocument& document) : document_(document) {}

  void read(const Json& in, const std::string& pointer) {
    for (const Json& word : in.at("materials")) {
      const std::string material = word.get<std::string>();
      const std::string stem = with_hyphens(in.at("code").get<std::string>() + " " + base::lower(material));
      const int number = ++named_[stem];
      make(in, pointer, material, number == 1 ? stem : stem + "-" + std::to_string(number));
    }
  }

  std::vector<Plate> plates;
  base::Problems problems;

 private:
  void make(const Json& in, const std::string& pointer, const std::string& material,
            const std::string& name) {
    Json run = document_.root().at("base");
    run.merge_patch(in.at("run"));
    if (!run.contains("seed")) run["seed"] = seed_of(name);
    set_material(run, material);
    auto read = scenario::scenario_from_json(run.dump(1), name);
    if (!read.ok()) {
      for (const base::Problem& wrong : read.problems())
        say(pointer + "/run", "the run of " + name + ": " + wrong.what, wrong.expected);
      return;
    }
    Plate plate;
    plate.name = name;
    plate.material = material;
    plate.scene = scene::build_scene(std::move(read).value());
    if (subject(in, pointer, plate)) plates.push_back(aimed(in, std::move(plate)));
  }

  /// What the truth has of the plate's code.
  bool subject(const Json& in, const std::string& pointer, Plate& plate) {
    const truth::Truth truth = truth::derive(plate.scene);
    const auto& lines = truth.record.observations;
    const std::string code = in.at("code").get<std::string>();
    std::string others;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (lines[i].code != "BCD" && lines[i].code != "BCE")
        others += (others.empty() ? "" : ", ") + coding::show_code(lines[i]);
      if (coding::show_code(lines[i]) != code || lines[i].stretch.starts_with('B')) continue;
      const truth::Origin& origin = truth.origins[i];
      plate.subject = lines[i];
      plate.fault = origin.fault;
      if (!lines[i].stretch.empty()) plate.length_m = origin.to_z_m - origin.from_z_m;
      from_z_m_ = origin.from_z_m;
      return true;
    }
    say(pointer + "/code",
        "the run of " + plate.name + " does not give " + code + ": it gives " +
            (others.empty() ? "nothing" : others),
        "the code of something in the run");
    return false;
  }

  Plate aimed(const Json& in, Plate plate) const {
    const Json look = in.value("look", Json::object());
    const double length = plate.scene.length_m();
    const double z = look.contains("at_m") ? look.at("at_m").get<double>()
                                           : from_z_m_ - look.value("ahead_m", usual_ahead_m);
    const double lens_z = std::clamp(z, least_in_m, length - least_in_m);
    plate.pose = scene::pose_at(plate.scene, lens_z);
    plate.pose.yaw_deg = look.value("yaw_deg", 0.0);
    plate.pose.pitch_deg = look.value("pitch_deg", 0.0);
    plate.time_s = look.value("time_s", 1.0);
    plate.lens_at_m = scene::distance_of(plate.scene.scenario, lens_z);
    return plate;
  }

  void say(const std::string& pointer, std::string what, std::string expected) {
    problems.push_back(document_.problem(pointer, std::move(what), std::move(expected)));
  }

  const base::JsonDocument& document_;
  std::map<std::string, int> named_;
  double from_z_m_ = 0;
};

}  // namespace

base::Result<Plates> read_plates(const std::filesystem::path& path) {
  const auto document = base::JsonDocument::read(path, "plates");
  if (!document) return document.problems();
  const Json& root = document.value().root();
  Reader reader(document.value());
  std::size_t number = 0;
  for (const Json& plate : root.at("plates")) reader.read(plate, "/plates/" + std::to_string(number++));
  if (!reader.problems.empty()) return reader.problems;
  Plates all{std::move(reader.plates), {}};
  for (const auto& [code, why] : root.at("unpictured").items())
    all.unpictured.push_back({code, why.get<std::string>()});
  return all;
}

std::optional<Plate> read_plate(const std::filesystem::path& path, const std::string& code,
                                const std::string& material) {
  const auto document = base::JsonDocument::read(path, "plates");
  if (!document) return std::nullopt;
  for (const Json& plate : document.value().root().at("plates")) {
    if (plate.at("code") != code) continue;
    for (const Json& word : plate.at("materials")) {
      if (!material.empty() && word != material) continue;
      Json one = plate;
      one["materials"] = Json::array({word});
      Reader reader(document.value());
      reader.read(one, "/plates");
      if (!reader.plates.empty()) return std::move(reader.plates.front());
    }
  }
  return std::nullopt;
}

std::filesystem::path shipped_plates() { return base::content_dir() / "guide" / "plates.json"; }

}  // namespace haunch::guide
