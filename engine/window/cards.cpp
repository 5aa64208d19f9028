// SPDX-License-Identifier: Apache-2.0
// What a key opens over the picture: the card at the start, help with settings, the list of what was
// logged, and the run from the side along the top edge.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/look.hpp"

namespace haunch::window {

namespace {

constexpr ImGuiWindowFlags card = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                  ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings |
                                  ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoCollapse;

std::string node_words(const scene::Node& node, const char* otherwise) {
  return node.name.empty() ? otherwise : node.name;
}

void key_row(const Binding& binding) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  text_in(type().strong, palette().accent, binding.key, false);
  ImGui::TableNextColumn();
  text_in(type().text, palette().ink, binding.does);
}

void key_table(const char* name, bool all) {
  float widest = 0;
  for (const auto& b : bindings()) {
    if (all || b.on_card)
      widest =
          std::max(widest, type().strong->CalcTextSizeA(type().strong->FontSize, 1e6F, 0, b.key.c_str()).x);
  }
  if (!ImGui::BeginTable(name, 2)) return;
  ImGui::TableSetupColumn("key", ImGuiTableColumnFlags_WidthFixed, widest + em(0.8F));
  ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthStretch);
  for (const auto& b : bindings()) {
    if (all || b.on_card) key_row(b);
  }
  ImGui::EndTable();
}

void centre_card(float width_em, float most_height_share) {
  const auto& io = ImGui::GetIO();
  const float width = std::min(em(width_em), io.DisplaySize.x * 0.94F);
  ImGui::SetNextWindowPos({io.DisplaySize.x / 2, io.DisplaySize.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::SetNextWindowSizeConstraints({width, 0}, {width, io.DisplaySize.y * most_height_share});
}

}  // namespace

void draw_start_card(Session& session) {
  const auto& p = palette();
  const auto& scenario = session.exercise().scene().scenario;
  centre_card(34, 0.96F);
  if (ImGui::Begin("start", nullptr, card | ImGuiWindowFlags_AlwaysAutoResize)) {
    text_in(type().strong, p.ink, scenario.title);
    // The purpose may name what there is to be found: that is for the review.
    if (!scenario.job.empty()) text_in(type().text, p.ink, scenario.job);
    const bool downstream = scene::travel(scenario) > 0;
    const std::string up = node_words(scenario.start, "the upstream end");
    const std::string down = node_words(scenario.finish, "the downstream end");
    const std::string bore =
        base::show_number(scenario.sections.empty() ? 0 : scenario.sections.front().bore_mm);
    std::string facts = base::show_distance(scenario.length_m, session.settings.unit) + ", bore " + bore +
                        " mm, from " + (downstream ? up : down) + " to " + (downstream ? down : up) +
                        ", looking " + (downstream ? "downstream" : "upstream") + ". " +
                        session.counter_words();
    text_in(type().text, p.soft_ink, facts);
    // Nothing of the drive's own has happened yet: this is what is known before it.
    for (const auto& told : session.exercise().told())
      text_in(type().text, p.ink,
              base::show_distance(told.distance_m, session.settings.unit) + ": " + told.words);
    ImGui::Dummy({0, em(0.2F)});
    ImGui::Separator();
    ImGui::Dummy({0, em(0.2F)});
    key_table("card keys", false);
    text_in(
        type().text, p.soft_ink,
        "Type at any time, now as well: a code such as BAJ B 14 mm 10-2, or words such as offset joint "
        "14 mm 10 to 2. It is logged where the faint ring lies on the wall. The buttons at the foot do the "
        "same with the mouse.");
    ImGui::Dummy({0, em(0.2F)});
    ImGui::PushStyleColor(ImGuiCol_Button, p.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, p.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, p.accent);
    ImGui::PushStyleColor(ImGuiCol_Text, p.accent_ink);
    if (ImGui::Button("Begin   Enter", {0, em(2)})) session.begin();
    ImGui::PopStyleColor(4);
    ImGui::Dummy({0, em(0.2F)});
    text_in(type().text, p.soft_ink,
            "This trains people; it does not replace local codes, a qualified assessment or a permit.");
  }
  ImGui::End();
}

void draw_help(Session& session) {
  if (!session.help_open) return;
  const auto& p = palette();
  centre_card(34, 0.9F);
  if (ImGui::Begin("help", nullptr, card)) {
    const auto& now = session.settings;
    const struct {
      const char* label;
      Command command;
      bool on;
    } controls[] = {{"Text smaller", Command::smaller, false},
                    {"Text larger", Command::larger, false},
                    {"Strong contrast", Command::contrast, now.strong_contrast},
                    {"Ring on the wall", Command::ring, now.ring},
                    {"Feet", Command::units, now.unit == base::LengthUnit::feet},
                    {"Run from the side", Command::long_section, session.section_open},
                    {"Whole screen", Command::full_screen, session.full_screen_wanted},
                    {"Leave the program", Command::quit, false},
                    {"Close", Command::leave, false}};
    for (const auto& one : controls) {
      if (&one != controls) beside_if_it_fits(one.label);
      if (quiet_button(one.label, key_of(one.command), one.on)) session.command(one.command);
    }
    ImGui::Dummy({0, em(0.2F)});
    ImGui::Separator();
    key_table("all keys", true);
    if (session.screen == Screen::judging) {
      text_in(type().text, p.soft_ink,
              "Here: arrows choose, digits give, Del takes a class back, F10 marks, F9 goes back to coding.");
    }
    if (session.screen == Screen::review) {
      text_in(type().text, p.soft_ink,
              "Here: Up and Down choose a line, Left and Right show marks of one kind, Enter shows the "
              "picture alone, "
              "Page Up and Page Down drive.");
    }
  }
  ImGui::End();
}

void draw_log_list(Session& session) {
  if (!session.list_open) return;
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float margin = em(0.6F);
  const float width = std::min(em(26), io.DisplaySize.x - 2 * margin);
  ImGui::SetNextWindowPos({margin, top_edge(session)});
  ImGui::SetNextWindowSizeConstraints({width, 0},
                                      {width, std::max(em(6), room_above_words() - top_edge(session))});
  if (ImGui::Begin("logged", nullptr, card | ImGuiWindowFlags_AlwaysAutoResize)) {
    ImGui::AlignTextToFramePadding();
    text_in(type().strong, p.ink, "Logged");
    ImGui::SameLine(ImGui::GetContentRegionMax().x - em(3.6F));
    if (quiet_button("Close", key_of(Command::log_list))) session.command(Command::log_list);
    for (const auto& told : session.exercise().told())
      text_in(type().text, p.soft_ink,
              "Told at " + base::show_distance(told.distance_m, session.settings.unit) + ": " + told.words);
    const auto observations = session.exercise().record().observations;  // a copy: a line may remove itself
    if (observations.empty()) text_in(type().text, p.soft_ink, "Nothing yet.");
    const auto open = open_stretches(session.exercise().record());
    for (const auto& o : observations) {
      ImGui::PushID(o.id.c_str());
      ImGui::Separator();
      const double at = o.distance_m.value.value_or(0);
      std::string place = base::show_distance(at, session.settings.unit);
      const bool begins = !o.stretch.empty() && o.stretch[0] == 'A';
      const bool ends = !o.stretch.empty() && o.stretch[0] == 'B';
      if (begins) place += "  begins";
      if (ends) place += "  ends";
      ImGui::AlignTextToFramePadding();
      text_in(type().strong, p.ink, place, false);
      const bool is_open = begins && std::find(open.begin(), open.end(), o.stretch.substr(1)) != open.end();
      const float buttons = is_open ? em(12.2F) : em(7.4F);
      ImGui::SameLine(std::max(ImGui::GetCursorPosX() + em(4), ImGui::GetContentRegionMax().x - buttons));
      if (is_open) {
        if (quiet_button("End it here", "the continuous observation ends at the distance shown"))
          session.end_stretch(o.id);
        ImGui::SameLine();
      }
      if (quiet_button("Go", "take the camera back there")) session.go_to(at);
      ImGui::SameLine();
      if (quiet_button("Remove", "")) session.remove(o.id);
      text_in(type().text, p.soft_ink, coding::in_words(o, session.codes()));
      ImGui::PopID();
    }
  }
  ImGui::End();
}

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
    for (const auto& o : exercise.record().observations) {
      if (!o.distance_m.value) continue;
      const float x =
          strip.x(std::clamp(scene::chainage_of(scene.scenario, *o.distance_m.value), 0.0, scene.length_m()));
      list.AddLine({x, strip.to.y + em(0.3F)}, {x, strip.to.y + em(0.9F)}, p.ink, std::max(2.0F, em(0.12F)));
    }
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
