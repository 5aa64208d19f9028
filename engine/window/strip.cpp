// SPDX-License-Identifier: Apache-2.0
// The run from the side along the top edge: what has been driven, how long it was looked at, what was logged,
// and in the review the marks. A click takes the camera there.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/words.hpp"
#include "window/language.hpp"
#include "window/look.hpp"

namespace haunch::window {

namespace {

struct Strip {
  const scene::Scene* scene = nullptr;
  ImVec2 from, to;  ///< the box for the pipe
  double low_y = 0, high_y = 1;
  int travel = 1;
  float x(double z) const {
    const double along = z / scene->length_m();
    return from.x + static_cast<float>(travel > 0 ? along : 1 - along) * (to.x - from.x);
  }
  float y(double elevation) const {
    const double share = (elevation - low_y) / (high_y - low_y);
    return to.y - static_cast<float>(share) * (to.y - from.y);
  }
};

void draw_profile(ImDrawList& list, const Strip& strip, double from_z, double to_z) {
  const auto& p = palette();
  const int steps = std::max(2, static_cast<int>((strip.to.x - strip.from.x) / 4));
  const auto at = [&](int i) { return from_z + (to_z - from_z) * i / steps; };
  for (int i = 0; i < steps; ++i) {
    const double a = at(i), b = at(i + 1);
    const double invert_a = scene::invert_at(*strip.scene, a), invert_b = scene::invert_at(*strip.scene, b);
    const double level_a = scene::level_at(strip.scene->water, a),
                 level_b = scene::level_at(strip.scene->water, b);
    if (level_a > invert_a && level_b > invert_b) {
      list.AddQuadFilled({strip.x(a), strip.y(level_a)}, {strip.x(b), strip.y(level_b)},
                         {strip.x(b), strip.y(invert_b)}, {strip.x(a), strip.y(invert_a)},
                         (p.accent & 0x00FFFFFFU) | 0x90000000U);
    }
    const double crown_a = scene::crown_at(*strip.scene, a);
    const double crown_b = scene::crown_at(*strip.scene, b);
    list.AddLine({strip.x(a), strip.y(invert_a)}, {strip.x(b), strip.y(invert_b)}, p.ink, 1.5F);
    list.AddLine({strip.x(a), strip.y(crown_a)}, {strip.x(b), strip.y(crown_b)}, p.ink, 1.0F);
  }
}

/// How long the camera stood or crept over each place: a line under the pipe, thicker the longer.
void draw_looked(ImDrawList& list, const Strip& strip, const play::Exercise& exercise) {
  constexpr double place_m = 0.25, long_s = 6;  // ours: longer than this is no thicker
  std::map<long, double> seconds_at;
  for (const play::Exercise::Stand& stand : exercise.driven()) {
    const double ring = stand.lens_z_m + strip.travel * scene::reference_ring_ahead_m(
                                                            scene::radius_at(*strip.scene, stand.lens_z_m));
    seconds_at[std::lround(ring / place_m)] += stand.seconds;
  }
  const float top = strip.to.y + em(0.3F);
  for (const auto& [place, seconds] : seconds_at) {
    const double z = static_cast<double>(place) * place_m;
    const float a = strip.x(std::clamp(z - place_m / 2, 0.0, strip.scene->length_m()));
    const float b = strip.x(std::clamp(z + place_m / 2, 0.0, strip.scene->length_m()));
    const auto share = static_cast<float>(std::min(1.0, seconds / long_s));
    list.AddRectFilled({std::min(a, b), top}, {std::max(a, b), top + em(0.1F + 0.35F * share)},
                       palette().soft_ink);
  }
}

/// A click on the pipe takes the camera back there, as far as it has been.
void go_where_clicked(Session& session, const Strip& strip, double seen_m) {
  ImGui::SetCursorScreenPos({strip.from.x, em(1.0F)});
  ImGui::InvisibleButton("along", {strip.to.x - strip.from.x, strip.to.y + em(0.9F) - em(1.0F)});
  const double share = (ImGui::GetIO().MousePos.x - strip.from.x) / (strip.to.x - strip.from.x);
  const double along = std::clamp(share, 0.0, 1.0) * strip.scene->length_m();
  const double z = strip.travel > 0 ? along : strip.scene->length_m() - along;
  const double counter_m = scene::distance_of(strip.scene->scenario, z) + session.exercise().counter_off_m();
  if (along > seen_m) return;
  if (ImGui::IsItemClicked()) session.go_to(counter_m);
  tip(tr("back to {0}", {base::show_distance(counter_m, session.settings.unit)}));
}

constexpr float strip_em = 5.2F;

}  // namespace

float top_edge(const Session& session) { return em(0.6F) + (session.section_open ? em(strip_em) : 0); }

void draw_long_section(Session& session) {
  if (!session.section_open) return;
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const auto& exercise = session.exercise();
  const auto& scene = exercise.scene();
  const bool review = session.screen == Screen::review;
  const float height = em(strip_em);
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({io.DisplaySize.x, height});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
  if (ImGui::Begin("section", nullptr,
                   ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                       ImGuiWindowFlags_NoFocusOnAppearing)) {
    auto& list = *ImGui::GetWindowDrawList();
    Strip strip;
    strip.scene = &scene;
    strip.from = {em(1.5F), em(1.5F)};
    strip.to = {io.DisplaySize.x - em(1.5F), height - em(1.5F)};
    strip.travel = scene::travel(scene.scenario);
    strip.low_y = 1e9;
    strip.high_y = -1e9;
    for (int i = 0; i <= 200; ++i) {
      const double z = scene.length_m() * i / 200;
      const double invert = scene::invert_at(scene, z);
      strip.low_y = std::min(strip.low_y, invert);
      strip.high_y = std::max(strip.high_y, scene::crown_at(scene, z));
    }
    list.AddLine({strip.from.x, strip.to.y + em(0.3F)}, {strip.to.x, strip.to.y + em(0.3F)}, p.rule, 1.0F);
    const auto at_end = [&](double along_m, float x, bool left_of) {
      const double z = strip.travel > 0 ? along_m : scene.length_m() - along_m;
      const std::string text = base::show_distance(
          scene::distance_of(scene.scenario, z) + exercise.counter_off_m(), session.settings.unit);
      const float wide = ImGui::CalcTextSize(text.c_str()).x;
      list.AddText({left_of ? x - wide : x, em(0.1F)}, p.faint_ink, text.c_str());
    };
    at_end(0, strip.from.x, false);
    at_end(scene.length_m(), strip.to.x, true);
    // Furthest is counted from where the camera went in; in the review the whole run is known.
    const double seen = review ? scene.length_m() : std::min(exercise.furthest_m(), scene.length_m());
    if (seen > 0) {
      if (strip.travel > 0)
        draw_profile(list, strip, 0, seen);
      else
        draw_profile(list, strip, scene.length_m() - seen, scene.length_m());
    }
    const auto look_z = session.look().pose.lens.z;
    const float cx = strip.x(look_z);
    list.AddTriangleFilled({cx - em(0.4F), em(0.3F)}, {cx + em(0.4F), em(0.3F)}, {cx, em(1.0F)}, p.accent);
    list.AddLine({cx, em(1.0F)}, {cx, strip.to.y + em(0.3F)}, p.accent, 1.0F);
    if (!review) draw_looked(list, strip, exercise);
    for (const auto& o : exercise.record().observations) {
      if (!o.distance_m.value) continue;
      const float x = strip.x(std::clamp(exercise.chainage_at(*o.distance_m.value), 0.0, scene.length_m()));
      list.AddLine({x, strip.to.y + em(0.3F)}, {x, strip.to.y + em(0.9F)}, p.ink, std::max(2.0F, em(0.12F)));
    }
    if (session.screen == Screen::driving) go_where_clicked(session, strip, seen);
    if (review) {
      for (int i = 0; i < static_cast<int>(session.items().size()); ++i) {
        const auto& item = session.items()[static_cast<std::size_t>(i)];
        if (!item.distance_m) continue;
        const float x =
            strip.x(std::clamp(scene::chainage_of(scene.scenario, *item.distance_m), 0.0, scene.length_m()));
        const bool chosen = session.item() == i;
        draw_mark(list, {x, em(1.1F)}, em(chosen ? 0.4F : 0.28F), item.kind, chosen ? p.accent : p.ink);
        ImGui::SetCursorScreenPos({x - em(0.4F), em(0.6F)});
        ImGui::PushID(i);
        if (ImGui::InvisibleButton("mark", {em(0.8F), em(1.0F)})) session.choose_item(i);
        ImGui::PopID();
      }
    }
  }
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace haunch::window
