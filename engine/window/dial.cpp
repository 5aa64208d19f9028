// SPDX-License-Identifier: Apache-2.0
// The clock on the wall: the plumb mark that a person sets to where they take the bottom to be, and the hours
// of a finding drawn along the pipe's wall with the pointer.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "window/look.hpp"

namespace haunch::window {
namespace {

constexpr double dial_off_axis_deg = 20;  // so that the whole round of it is in a wide picture; ours
constexpr int samples = 360;              // of the ring, evenly by hours

double turns(double hours) { return hours * std::numbers::pi / 6; }

/// A circle on the pipe's wall as the picture shows it, by hours on the screen: 6 is what hangs lowest in the
/// picture of a camera that has not rolled.
class Ring {
 public:
  /// Where the wall's own circle is not whole in the picture, one round the picture's middle.
  explicit Ring(const scene::Scene& scene) {
    if (!on_wall(scene)) flat();
    for (const ImVec2& point : points_) {
      centre_.x += point.x / samples;
      centre_.y += point.y / samples;
    }
  }

  ImVec2 centre() const { return centre_; }
  ImVec2 at(double hour, float scale = 1) const {
    const double place = base::wrap_hours(hour) / 12 * samples;
    const auto before = static_cast<std::size_t>(place) % samples;
    const ImVec2 a = points_[before], b = points_[(before + 1) % samples];
    const auto part = static_cast<float>(place - std::floor(place));
    const ImVec2 on{a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)};
    return {centre_.x + scale * (on.x - centre_.x), centre_.y + scale * (on.y - centre_.y)};
  }
  double hour_of(ImVec2 point) const {
    const auto angle = [&](ImVec2 of) { return std::atan2(of.x - centre_.x, centre_.y - of.y); };
    const double wanted = angle(point);
    std::size_t best = 0;
    double best_off = 10;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const double off = std::abs(std::remainder(angle(points_[i]) - wanted, 2 * std::numbers::pi));
      if (off < best_off) best_off = off, best = i;
    }
    return base::wrap_hours(12.0 * static_cast<double>(best) / samples);
  }
  float share_of(ImVec2 point) const {
    const ImVec2 on = at(hour_of(point));
    const float whole = std::hypot(on.x - centre_.x, on.y - centre_.y);
    return std::hypot(point.x - centre_.x, point.y - centre_.y) / std::max(whole, 1.0F);
  }
  /// Half the side of a square round it.
  float reach() const {
    float most = 0;
    for (const ImVec2& point : points_)
      most = std::max({most, std::abs(point.x - centre_.x), std::abs(point.y - centre_.y)});
    return most;
  }

 private:
  bool on_wall(const scene::Scene& scene) {
    const ShownPicture& shown = shown_picture();
    const scene::CameraPose& pose = shown.pose;
    if (shown.width <= 0 || pose.yaw_deg != 0 || pose.pitch_deg != 0) return false;
    const int way = scene::travel(scene.scenario);
    const double ahead =
        scene::radius_at(scene, pose.lens.z) / std::tan(dial_off_axis_deg * std::numbers::pi / 180);
    const double z = std::clamp(pose.lens.z + way * ahead, 0.0, scene.length_m());
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    for (int i = 0; i < samples; ++i) {
      // What the screen shows at an hour lies on the wall where the camera has rolled to; the scene has its
      // hours looking downstream.
      const double looking = 12.0 * i / samples + pose.roll_deg / 30;
      const auto place = place_in_picture(
          pose, scene::wall_point(scene, z, base::wrap_hours(way > 0 ? looking : 12 - looking)), shown.width,
          shown.height);
      if (!place) return false;
      const ImVec2 point = shown.on_screen(*place);
      if (point.x < em(1) || point.y < em(1) || point.x > screen.x - em(1) ||
          point.y > screen.y - foot_height())
        return false;
      points_[static_cast<std::size_t>(i)] = point;
    }
    centre_ = {0, 0};
    return std::abs(points_[0].y - points_[samples / 2].y) > em(6);
  }
  void flat() {
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    const float room = screen.y / 2 - foot_height() - em(3.6F);
    const float radius = std::max(em(4), std::min({screen.x * 0.34F, screen.y * 0.34F, room}));
    for (int i = 0; i < samples; ++i) {
      const double angle = turns(12.0 * i / samples);
      points_[static_cast<std::size_t>(i)] = {screen.x / 2 + radius * static_cast<float>(std::sin(angle)),
                                              screen.y / 2 - radius * static_cast<float>(std::cos(angle))};
    }
  }

  std::array<ImVec2, samples> points_{};
  ImVec2 centre_{0, 0};
};

void drag_ring(Session& session, const Ring& ring) {
  enum class Dragging { nothing, plumb, arc };
  static Dragging dragging = Dragging::nothing;
  static double began_h = 0, turned_h = 0, last_h = 0;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const double hour = ring.hour_of(mouse);
  if (ImGui::IsItemActivated()) {
    const float share = ring.share_of(mouse);
    const bool near_plumb = base::hours_apart(hour, session.plumb_h) < 0.8 && share > 0.45F && share < 0.82F;
    dragging = near_plumb                     ? Dragging::plumb
               : share > 0.8F && share < 1.4F ? Dragging::arc
                                              : Dragging::nothing;
    began_h = last_h = hour;
    turned_h = 0;
  }
  if (ImGui::IsItemActive() && dragging == Dragging::plumb) session.set_plumb(hour);
  if (ImGui::IsItemActive() && dragging == Dragging::arc) {
    double step = hour - last_h;
    if (step > 6) step -= 12;
    if (step < -6) step += 12;
    turned_h = std::clamp(turned_h + step, -12.0, 12.0);
    last_h = hour;
    const double begin = turned_h >= 0 ? began_h : began_h + turned_h;
    const double turned = std::abs(turned_h);
    session.drawn = base::ClockArc{base::wrap_hours(begin),
                                   base::wrap_hours(begin + (turned < 0.4 ? 0 : turned)), turned > 11.5};
  }
  if (dragging != Dragging::nothing && session.drawn && !session.drawn->whole) {
    set_clock(session.draft, true_arc(*session.drawn, session.plumb_h), session.codes());
  } else if (dragging == Dragging::arc && session.drawn) {
    set_clock(session.draft, *session.drawn, session.codes());
  }
  if (ImGui::IsItemDeactivated()) {
    if (dragging == Dragging::plumb) session.plumb_set();
    dragging = Dragging::nothing;
  }
}

void draw_ring(const Session& session, const Ring& ring) {
  const auto& p = palette();
  auto& list = *ImGui::GetWindowDrawList();
  const float thin = std::max(1.5F, em(0.08F));
  const auto round = [&](ImU32 colour, float thick) {
    for (int i = 0; i < 96; ++i) list.PathLineTo(ring.at(i / 8.0));
    list.PathStroke(colour, ImDrawFlags_Closed, thick);
  };
  round(IM_COL32(0, 0, 0, 120), thin + 3);
  round(IM_COL32(255, 255, 255, 150), thin);
  for (int h = 1; h <= 12; ++h) {
    const double on_screen = h + session.plumb_h - 6;
    list.AddLine(ring.at(on_screen, 0.97F), ring.at(on_screen, 1.03F), p.ink, thin);
    const std::string name = std::to_string(h);
    const ImVec2 size = ImGui::CalcTextSize(name.c_str());
    const ImVec2 at = ring.at(on_screen, 0.88F);
    list.AddText({at.x - size.x / 2 + 1, at.y - size.y / 2 + 1}, IM_COL32_BLACK, name.c_str());
    list.AddText({at.x - size.x / 2, at.y - size.y / 2}, p.ink, name.c_str());
  }
  if (session.drawn) {
    const double width = session.drawn->whole ? 12 : base::arc_width_h(*session.drawn);
    const int pieces = std::max(1, static_cast<int>(width * 8));
    for (int i = 0; i <= pieces; ++i) list.PathLineTo(ring.at(session.drawn->from_h + width * i / pieces));
    if (width > 0)
      list.PathStroke(p.accent, 0, em(0.35F));
    else
      list.PathClear();
    list.AddCircleFilled(ring.at(session.drawn->from_h), em(0.35F), p.accent);
    list.AddCircleFilled(ring.at(session.drawn->to_h), em(0.35F), p.accent);
  }
}

/// The plumb mark hangs inside the ring: a line from the middle with a bob.
void draw_plumb(const Session& session, const Ring& ring, ImDrawList& list) {
  const auto& p = palette();
  const float thin = std::max(1.5F, em(0.08F));
  list.AddLine(ring.centre(), ring.at(session.plumb_h, 0.55F), IM_COL32(0, 0, 0, 140), thin + 3);
  list.AddLine(ring.centre(), ring.at(session.plumb_h, 0.55F), p.accent, thin);
  const ImVec2 tip_at = ring.at(session.plumb_h, 0.78F), a = ring.at(session.plumb_h - 0.22, 0.6F),
               top = ring.at(session.plumb_h, 0.52F), b = ring.at(session.plumb_h + 0.22, 0.6F);
  list.AddQuadFilled(tip_at, a, top, b, p.accent);
  list.AddQuad(tip_at, a, top, b, IM_COL32_BLACK, 1.5F);
}

}  // namespace

void draw_dial(Session& session) {
  const bool asked = session.menu_open && !session.draft.observation.code.empty() &&
                     asks_clock(session.draft, session.codes());
  if (!asked && !session.plumb_shown()) return;
  const Ring ring(session.exercise().scene());
  if (!asked) return draw_plumb(session, ring, *ImGui::GetBackgroundDrawList());
  const float half = ring.reach() * 1.42F;
  const ImVec2 middle = ring.centre();
  ImGui::SetNextWindowPos({middle.x - half, middle.y - half});
  ImGui::SetNextWindowSize({2 * half, 2 * half});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  if (ImGui::Begin("dial", nullptr,
                   ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoMove |
                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                       ImGuiWindowFlags_NoNav)) {
    ImGui::InvisibleButton("ring", {2 * half, 2 * half});
    drag_ring(session, ring);
    draw_ring(session, ring);
    draw_plumb(session, ring, *ImGui::GetWindowDrawList());
  }
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace haunch::window
