// SPDX-License-Identifier: Apache-2.0
// haunch render: what the camera sees at a place, as PNG.
#include <algorithm>
#include <cmath>
#include <iostream>

#include "base/files.hpp"
#include "base/words.hpp"
#include "inputs.hpp"
#include "outputs.hpp"
#include "render/renderer.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

void read_size(const std::string& text, render::View& view) {
  const auto parts = base::split(text, 'x');
  double width = 0, height = 0;
  const bool whole = parts.size() == 2 && base::read_number(parts[0], width) &&
                     base::read_number(parts[1], height) && width == std::floor(width) &&
                     height == std::floor(height);
  if (!whole || width < 16 || height < 16 || width > 8192 || height > 8192) {
    throw UsageError("--size " + text + " is not WIDTHxHEIGHT, each from 16 to 8192");
  }
  view.width = static_cast<int>(width);
  view.height = static_cast<int>(height);
}

/// Depth as whole millimetres in a 16-bit picture; 0 where nothing was hit.
std::string depth_png(const render::Frame& frame) {
  render::Frame depth{frame.width, frame.height, {}, {}, {}};
  depth.fault.resize(frame.depth_m.size());
  for (std::size_t i = 0; i < frame.depth_m.size(); ++i) {
    const float millimetres = frame.depth_m[i] * 1000.0F;
    depth.fault[i] =
        std::isfinite(millimetres) ? static_cast<std::uint16_t>(std::clamp(millimetres, 1.0F, 65535.0F)) : 0;
  }
  return render::fault_png(depth);
}

/// How far the head is turned; only a crawler's can.
double turned(const po::variables_map& given, const char* name, const scene::Scene& scene) {
  if (!has(given, name)) return 0;
  if (scene.scenario.camera.kind == scene::CameraKind::push)
    throw UsageError("--" + std::string(name) + ": the head of a push camera does not turn");
  const double degrees = number_of(given, name);
  if (!(std::abs(degrees) <= 90))
    throw UsageError("--" + std::string(name) + " " + text_of(given, name) + " is not between -90 and 90");
  return degrees;
}

}  // namespace

int render(const Arguments& arguments) {
  Command command{
      "render SCENARIO --at M -o F.png [options]",
      "Draws what the camera sees with its lens at a distance, counted as the inspection counts."};
  command.place("SCENARIO");
  command.options.add_options()("at", po::value<std::string>()->value_name("M"),
                                "distance of the lens (in --units)")(
      "output,o", po::value<std::string>()->value_name("F.png"), "the picture")(
      "size", po::value<std::string>()->value_name("WxH"), "pixels; default 1280x720")(
      "ids", po::value<std::string>()->value_name("F.png"),
      "also a 16-bit PNG of fault numbers: 0 none, n the scenario's n-th fault")(
      "depth", po::value<std::string>()->value_name("F.png"),
      "also a 16-bit PNG of distances along the ray, mm")("roll", po::value<std::string>()->value_name("DEG"),
                                                          "camera roll instead of the scenario's own")(
      "yaw", po::value<std::string>()->value_name("DEG"),
      "head turned to the right of the pipe's axis, seen along travel; -90 to 90, crawlers only")(
      "pitch", po::value<std::string>()->value_name("DEG"), "head raised above it; -90 to 90, crawlers only")(
      "speed", po::value<std::string>()->value_name("M/S"),
      "drawn out by motion along travel, as while driving")(
      "wet-ago", po::value<std::string>()->value_name("S"), "the lens came out of water so long ago")(
      "analogue", "as an old camera shows it")("time", po::value<std::string>()->value_name("S"),
                                               "moment for ripples, drips and sensor noise; default 0")(
      "light", po::value<std::string>()->value_name("N"), "light up the scenario's n-th fault")(
      "no-faults",
      "without cracks, roots, deposits, connections and the like, "
      "and with its open joints closed; joints out of line or at an "
      "angle, sags and water stay, as the rest of the run hangs on them")("plain",
                                                                          "no lens effects and no noise");
  add_force(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  for (const char* name : {"at", "output"}) {
    if (!has(*given, name))
      throw UsageError("missing: --" + std::string(name) + "; usage: haunch " + command.call);
  }
  render::View view;
  if (has(*given, "size")) read_size(text_of(*given, "size"), view);
  if (has(*given, "time")) view.time_s = number_of(*given, "time");
  if (has(*given, "speed")) view.speed_m_s = number_of(*given, "speed");
  if (has(*given, "wet-ago")) view.wet_ago_s = number_of(*given, "wet-ago");
  view.analogue = has(*given, "analogue");
  view.faults = !has(*given, "no-faults");
  view.lens_effects = view.noise = !has(*given, "plain");
  const double at_m = base::to_metres(number_of(*given, "at"), units_of(*given));

  const std::filesystem::path file = text_of(*given, "SCENARIO");
  std::vector<Output> outputs;
  for (const char* name : {"output", "ids", "depth"}) {
    if (has(*given, name)) outputs.push_back({"--" + std::string(name), text_of(*given, name)});
  }
  keep_apart(outputs, {file});
  const scene::Scene scene = read_scene(file);
  keep_others(outputs, *given);
  const double z = scene::chainage_of(scene.scenario, at_m);
  if (z < -1e-9 || z > scene.length_m() + 1e-9) {
    const double a = scene::distance_of(scene.scenario, 0),
                 b = scene::distance_of(scene.scenario, scene.length_m());
    throw UsageError("--at " + text_of(*given, "at") + " is outside the run, which goes from " +
                     base::show_distance(std::min(a, b), units_of(*given)) + " to " +
                     base::show_distance(std::max(a, b), units_of(*given)));
  }
  if (has(*given, "light")) {
    const std::size_t faults = scene.scenario.faults.size();
    if (faults == 0) throw UsageError("--light: the scenario has no faults");
    view.highlight_fault = which_of(*given, "light", faults, "the scenario has " + counted(faults, "fault"));
  }
  view.pose = scene::pose_at(scene, std::clamp(z, 0.0, scene.length_m()));
  view.pose.yaw_deg = turned(*given, "yaw", scene);
  view.pose.pitch_deg = turned(*given, "pitch", scene);
  if (has(*given, "roll")) view.pose.roll_deg = number_of(*given, "roll");

  const render::Frame frame = render::Renderer(scene).draw(view);
  write_or_throw(text_of(*given, "output"), render::colour_png(frame));
  if (has(*given, "ids")) write_or_throw(text_of(*given, "ids"), render::fault_png(frame));
  if (has(*given, "depth")) write_or_throw(text_of(*given, "depth"), depth_png(frame));
  return done;
}

}  // namespace haunch::cli
