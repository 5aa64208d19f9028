// SPDX-License-Identifier: Apache-2.0
// haunch-train [SCENARIO]: the window in which a trainee drives, codes, grades and is marked.
#include <boost/program_options.hpp>
#include <exception>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>

#include "base/files.hpp"
#include "base/words.hpp"
#include "play/exercise.hpp"
#include "scenario/read.hpp"
#include "scene/scene.hpp"
#include "window/keeping.hpp"
#include "window/window.hpp"

namespace {

namespace po = boost::program_options;
using namespace haunch;

constexpr int done = 0, input_has_problems = 1, wrong_usage = 2, cannot_go_on = 3;

int say_problems(const base::Problems& problems) {
  for (const auto& problem : problems) std::cerr << base::to_line(problem) << '\n';
  return input_has_problems;
}

int train(const po::variables_map& given, window::Options options) {
  // Somebody who was never here begins with a short run that says what to do.
  const bool first_time = options.trainee.empty() && window::last_person().empty();
  if (first_time && given.count("scenario") == 0 && given.count("mode") == 0)
    options.mode = play::Mode::guided;
  std::optional<scene::Scene> first;  // nothing: the start page
  if (given.count("scenario") != 0 || first_time) {
    auto scenario = scenario::read_scenario(given.count("scenario") != 0
                                                ? std::filesystem::path(given["scenario"].as<std::string>())
                                                : base::content_dir() / "scenarios" / "first-drive.json");
    if (!scenario) return say_problems(scenario.problems());
    first = scene::build_scene(std::move(scenario).value());
  }
  if (given.count("replay") != 0 && !first) {
    std::cerr
        << "haunch-train: a replay needs the scenario that it was driven on: haunch-train SCENARIO --replay "
           "LOG\n";
    return wrong_usage;
  }
  if (given.count("replay") != 0) {
    const auto log_file = given["replay"].as<std::string>();
    const auto text = base::read_file(log_file);
    if (!text) return say_problems(text.problems());
    const auto log = play::log_from_text(text.value(), log_file);
    if (!log) return say_problems(log.problems());
    options.log = log.value();
  }
  if (const std::string why = window::why_no_display(); !why.empty()) {
    std::cerr << why << " haunch-train needs one; \"haunch demo\" does the whole job without.\n";
    return cannot_go_on;
  }
  window::run(std::move(first), options);
  return done;
}

}  // namespace

int main(int count, char** words) {
  window::Options options;
  std::string units, mode;
  po::options_description described("Options");
  described.add_options()      //
      ("help,h", "this text")  //
      ("trainee", po::value(&options.trainee),
       "who is learning, as a code; else who was here last, or asked")                                     //
      ("mode", po::value(&mode), "practice (hints on request), guided (says what to do), exam (no help)")  //
      ("units", po::value(&units), "m or ft; else as set last")                                            //
      ("replay", po::value<std::string>(), "play an earlier exercise from its input log")                  //
      ("speed", po::value(&options.replay_speed)->default_value(1), "of a replay, times real time")        //
      ("width", po::value(&options.width)->default_value(1280), "of the window, pixels")                   //
      ("height", po::value(&options.height)->default_value(720), "of the window, pixels")                  //
      ("threads", po::value(&options.threads)->default_value(0),
       "that draw the picture; 0: one for each core");
  po::options_description all;
  all.add(described).add_options()("scenario", po::value<std::string>());
  po::positional_options_description places;
  places.add("scenario", 1);
  po::variables_map given;
  try {
    po::store(po::command_line_parser(count, words).options(all).positional(places).run(), given);
    po::notify(given);
    if (given.count("help") != 0) {
      std::cout << "haunch-train [SCENARIO]\n\n" << described;
      return done;
    }
    if (!units.empty() && units != "m" && units != "ft")
      throw po::error("units are m or ft, not \"" + units + "\"");
    if (options.width < 320 || options.height < 240 || options.width > 7680 || options.height > 4320) {
      throw po::error("a window is 320 x 240 to 7680 x 4320 pixels");
    }
    if (!(options.replay_speed > 0) || options.replay_speed > 100)
      throw po::error("a replay runs at up to 100 times");
    if (options.threads < 0 || options.threads > 256) throw po::error("threads are 0 to 256");
    if (!mode.empty() && !play::mode_from(mode))
      throw po::error("the mode is practice, guided or exam, not \"" + mode + "\"");
    if (given.count("trainee") != 0 && base::trim(options.trainee).empty())
      throw po::error("the trainee needs a code, such as coder-01");
  } catch (const po::error& error) {
    std::cerr << "haunch-train: " << error.what() << "\nTry haunch-train --help.\n";
    return wrong_usage;
  }
  options.mode = play::mode_from(mode).value_or(play::Mode::practice);
  if (units == "m") options.unit = base::LengthUnit::metres;
  if (units == "ft") options.unit = base::LengthUnit::feet;
  try {
    return train(given, std::move(options));
  } catch (const std::exception& error) {
    std::cerr << "haunch-train: " << error.what() << '\n';
    return cannot_go_on;
  }
}
