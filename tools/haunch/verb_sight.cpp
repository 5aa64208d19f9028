// SPDX-License-Identifier: Apache-2.0
// haunch sight: how plainly each fault of a scenario shows on a careful drive. For whoever writes scenarios:
// what nobody can see is no use in an exam.
#include <cmath>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "inputs.hpp"
#include "sight/sight.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

/// To a hundredth of a percent.
double percent(double share) { return std::round(10000.0 * share) / 100.0; }

nlohmann::ordered_json json_of(const scene::Scene& scene, const sight::Seen& seen) {
  const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(seen.fault - 1)];
  nlohmann::ordered_json one{{"fault", seen.fault},
                             {"kind", scene::kind_word(fault)},
                             {"plain", seen.plain()},
                             {"in_view_s", std::round(10 * seen.in_view_s) / 10},
                             {"plainly_s", std::round(10 * seen.plainly_s) / 10},
                             {"most_percent", percent(seen.most_share)},
                             {"contrast_percent", std::round(100 * seen.contrast)}};
  one["best_at_m"] =
      seen.most_share > 0
          ? nlohmann::ordered_json(base::to_centimetre(scene::distance_of(scene.scenario, seen.best_z_m)))
          : nlohmann::ordered_json(nullptr);
  return one;
}

void print_table(const scene::Scene& scene, const std::vector<sight::Seen>& all, base::LengthUnit unit) {
  std::printf("%-4s%-16s%-10s%-10s%-12s%-10s%s\n", "no.", "fault", "in view", "plainly", "at most",
              "contrast", "best from");
  for (const sight::Seen& seen : all) {
    const std::string kind =
        scene::kind_word(scene.scenario.faults[static_cast<std::size_t>(seen.fault - 1)]);
    const std::string best =
        seen.most_share > 0 ? base::show_distance(scene::distance_of(scene.scenario, seen.best_z_m), unit)
                            : "nowhere";
    const auto shown = [](double value, const char* what) { return base::show_number(value) + what; };
    std::printf("%-4d%-16s%-10s%-10s%-12s%-10s%s%s\n", seen.fault, kind.c_str(),
                shown(std::round(10 * seen.in_view_s) / 10, " s").c_str(),
                shown(std::round(10 * seen.plainly_s) / 10, " s").c_str(),
                shown(percent(seen.most_share), " %").c_str(),
                shown(std::round(100 * seen.contrast), " %").c_str(), best.c_str(),
                seen.plain() ? "" : "   NOT PLAINLY SEEN");
  }
}

}  // namespace

int sight(const Arguments& arguments) {
  Command command{
      "sight SCENARIO [options]",
      "Says how long and how plainly each fault shows on a careful drive: the whole length, a halt at\n"
      "each connection, a look into it where the camera can turn. Measured on pictures drawn with and\n"
      "without the fault: the share of the picture that differs by a tenth of white or more, and by how\n"
      "much (contrast). Takes some seconds for each fault."};
  command.place("SCENARIO");
  command.options.add_options()("json", "machine-readable (schema: sight)");
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const scene::Scene scene = read_scene(text_of(*given, "SCENARIO"));
  const std::optional<truth::Stop> stop = truth::derive(scene).stop;
  const auto until = stop ? std::optional<double>(stop->lens_z_m) : std::nullopt;
  const std::vector<sight::Seen> all = sight::seen_on(scene, sight::careful_drive(scene, until));
  if (has(*given, "json")) {
    nlohmann::ordered_json out{
        {"kind", "sight"}, {"edition", 1}, {"faults", nlohmann::ordered_json::array()}};
    for (const sight::Seen& seen : all) out["faults"].push_back(json_of(scene, seen));
    print_out(out.dump(2) + "\n");
  } else if (all.empty()) {
    print_out("The scenario has no faults.\n");
  } else {
    print_table(scene, all, units_of(*given));
  }
  return done;
}

}  // namespace haunch::cli
