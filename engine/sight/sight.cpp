// SPDX-License-Identifier: Apache-2.0
// Draws every look with all faults, to know which are in view, and again without each of those.
#include "sight/sight.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/words.hpp"
#include "render/exposure.hpp"
#include "render/renderer.hpp"
#include "scene/camera.hpp"

namespace haunch::sight {
namespace {

/// Of the same scene, with its place in it as `look` says. Where the run goes on elsewhere without a fault (a
/// joint out of line), the camera goes with it.
render::View view_of(const scene::Scene& scene, const Look& look, const Options& options) {
  render::View view;
  view.pose = scene::pose_at(scene, std::clamp(look.lens_z_m, 0.0, scene.length_m()));
  view.pose.yaw_deg += look.yaw_deg;
  view.pose.pitch_deg += look.pitch_deg;
  view.width = options.width;
  view.height = options.height;
  // Noise and the drops on the window are the same with and without a fault, and tell nothing.
  view.lens_effects = view.noise = false;
  return view;
}

struct Difference {
  double share = 0, contrast = 0;
};

/// Where `fault` shows in `with`, the pixels that differ from `bare`.
Difference difference(const render::Frame& with, const render::Frame& bare, std::uint16_t fault,
                      double from) {
  const double least = 255 * from;
  long pixels = 0;
  double sum = 0;
  for (std::size_t i = 0; i < with.fault.size(); ++i) {
    if (with.fault[i] != fault) continue;
    int most = 0;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      most = std::max(most, std::abs(static_cast<int>(with.rgb[k]) - static_cast<int>(bare.rgb[k])));
    if (most < least) continue;
    ++pixels;
    sum += most;
  }
  if (pixels == 0) return {};
  return {static_cast<double>(pixels) / static_cast<double>(with.fault.size()),
          sum / (255.0 * static_cast<double>(pixels))};
}

/// The run without one fault, drawn. Kept while the fault is in view, as a drive comes back to it look after
/// look.
struct Without {
  scene::Scene scene;
  render::Renderer renderer;
  std::size_t last_look = 0;
};

class Measuring {
 public:
  Measuring(const scene::Scene& scene, const Options& options)
      : scene_(scene),
        options_(options),
        all_(scene, options.threads),
        seen_(scene.scenario.faults.size()),
        here_(seen_.size() + 1) {
    for (std::size_t k = 0; k < seen_.size(); ++k) seen_[k].fault = static_cast<int>(k) + 1;
  }

  void look(const Look& look, std::size_t number) {
    render::View view = view_of(scene_, look, options_);
    eye_.expose(view, look.seconds);
    all_.draw(view, with_);
    eye_.took(all_);
    std::fill(here_.begin(), here_.end(), 0);
    for (const std::uint16_t fault : with_.fault) ++here_[fault];
    const double enough = options_.plain.share_from * static_cast<double>(with_.fault.size());
    for (std::size_t fault = 1; fault < here_.size(); ++fault) {
      if (here_[fault] == 0) continue;
      seen_[fault - 1].in_view_s += look.seconds;
      // Too few pixels to be plain however much they differ: that saves most of the pictures.
      if (static_cast<double>(here_[fault]) >= enough && wanted(static_cast<int>(fault)))
        take(static_cast<int>(fault), look, number);
    }
    std::erase_if(others_, [&](const auto& one) { return one.second.last_look + patience < number; });
  }

  std::vector<Seen> result() { return std::move(seen_); }

 private:
  static constexpr std::size_t patience = 20;  // looks

  bool wanted(int fault) const {
    return options_.only.empty() ||
           std::find(options_.only.begin(), options_.only.end(), fault) != options_.only.end();
  }

  void take(int fault, const Look& look, std::size_t number) {
    Without& rest = without(fault);
    rest.last_look = number;
    render::View view = view_of(rest.scene, look, options_);
    // Exposed alike: else what the fault does to the light of the whole picture would count too.
    view.exposure = eye_.gain();
    rest.renderer.draw(view, bare_);
    const Difference here =
        difference(with_, bare_, static_cast<std::uint16_t>(fault), options_.plain.differs_from);
    Seen& one = seen_[static_cast<std::size_t>(fault - 1)];
    if (here.share >= options_.plain.share_from) one.plainly_s += look.seconds;
    if (here.share <= one.most_share) return;
    one.most_share = here.share;
    one.contrast = here.contrast;
    one.best_z_m = look.lens_z_m;
  }

  Without& without(int fault) {
    const auto found = others_.find(fault);
    if (found != others_.end()) return found->second;
    scene::Scene rest = scene::build_scene(scene::without(scene_.scenario, fault));
    render::Renderer renderer(rest, all_, options_.threads);
    return others_.emplace(fault, Without{std::move(rest), std::move(renderer)}).first->second;
  }

  const scene::Scene& scene_;
  const Options& options_;
  render::Renderer all_;
  render::AutoExposure
      eye_;  ///< what the camera's exposure made of the looks before; a look ends as it is judged
  std::map<int, Without> others_;
  std::vector<Seen> seen_;
  std::vector<long> here_;  ///< pixels that show each fault
  render::Frame with_, bare_;
};

}  // namespace

std::vector<Seen> seen_on(const scene::Scene& scene, const Drive& drive, const Options& options) {
  Measuring measuring(scene, options);
  for (std::size_t k = 0; k < drive.size() && !(options.stop && *options.stop); ++k)
    measuring.look(drive[k], k);
  return measuring.result();
}

std::string why_not_plain(const Seen& seen) {
  const std::string words = "a careful drive shows it nowhere plainly: ";
  if (seen.in_view_s <= 0) return words + "it is never in view";
  if (seen.most_share <= 0) return words + "too little of any picture shows it";
  return words + "it changes at most " + base::show_number(std::round(10000 * seen.most_share) / 100) +
         " % of a picture";
}

}  // namespace haunch::sight
