// SPDX-License-Identifier: Apache-2.0
// What follows what: the run that was asked for, the start page, and whatever is chosen there.
#include "window/window.hpp"

#include "scenario/read.hpp"
#include "window/home.hpp"
#include "window/home_screen.hpp"
#include "window/keeping.hpp"
#include "window/language.hpp"
#include "window/run_exercise.hpp"
#include "window/stage.hpp"

namespace haunch::window {

void run(std::optional<scene::Scene> first, const Options& options) {
  std::string who = options.trainee.empty() ? last_person() : options.trainee;
  Settings settings = settings_of(who);
  if (options.unit) settings.unit = *options.unit;
  speak(settings.language);
  Stage stage(options, first ? first->scenario.title + " - Haunch" : "Haunch", settings);
  if (first && run_exercise(stage, std::move(*first), options, who) == After::leave) return;
  Options chosen_options = options;
  chosen_options.log.reset();
  HomeScreen home(stage, options.threads);
  std::string said;
  while (stage.open()) {
    const Chosen chosen = home.choose(who, said);
    said.clear();
    if (const auto* run = std::get_if<RunChosen>(&chosen)) {
      auto scenario = scenario::read_scenario(run->file);
      if (!scenario) {
        said = base::to_line(scenario.problems().front());
        continue;
      }
      chosen_options.mode = run->mode;
      if (run_exercise(stage, scene::build_scene(std::move(scenario).value()), chosen_options, who) ==
          After::leave)
        return;
    } else {
      return;
    }
  }
}

}  // namespace haunch::window
