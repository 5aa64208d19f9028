// SPDX-License-Identifier: Apache-2.0
// Palette, fonts, style.
#include "window/look.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <vector>

namespace haunch::window {
namespace {

Palette current{};
Type fonts{};
ShownPicture last_shown{};

constexpr float half_turn = 3.14159265F;

constexpr ImU32 rgba(unsigned r, unsigned g, unsigned b, unsigned a = 255) {
  return r | g << 8U | b << 16U | a << 24U;
}

// Pipe pictures are brown and grey, so a clear light blue stands off them for every kind of eye.
const Palette calm{rgba(236, 238, 240), rgba(176, 184, 192),     rgba(124, 134, 144),
                   rgba(104, 190, 255), rgba(8, 18, 28),         rgba(10, 13, 16),
                   rgba(18, 22, 27),    rgba(255, 255, 255, 20), rgba(255, 255, 255, 36)};
const Palette strong_contrast{rgba(255, 255, 255), rgba(232, 236, 240),     rgba(200, 206, 212),
                              rgba(130, 206, 255), rgba(0, 0, 0),           rgba(0, 0, 0),
                              rgba(0, 0, 0),       rgba(255, 255, 255, 48), rgba(255, 255, 255, 120)};

ImVec4 vec(ImU32 colour) { return ImGui::ColorConvertU32ToFloat4(colour); }

}  // namespace

const Palette& palette() { return current; }
const Type& type() { return fonts; }
const ShownPicture& shown_picture() { return last_shown; }
float em(float n) { return n * ImGui::GetFontSize(); }

float text_pixels(const Settings& settings, int window_height) {
  // 20 px on a picture 720 high reads at arm's length and a little beyond.
  const float base = std::clamp(static_cast<float>(window_height) / 36.0F, 12.0F, 40.0F);
  return std::round(base * static_cast<float>(settings.text_percent) / 100.0F);
}

std::optional<std::filesystem::path> find_font(const std::string& file_name) {
  std::vector<std::filesystem::path> folders;
  if (const char* data = std::getenv("XDG_DATA_HOME"))
    folders.emplace_back(std::filesystem::path(data) / "fonts");
  if (const char* home = std::getenv("HOME")) {
    folders.emplace_back(std::filesystem::path(home) / ".local/share/fonts");
    folders.emplace_back(std::filesystem::path(home) / ".fonts");
  }
  for (const char* folder : {"/usr/share/fonts/truetype/dejavu", "/usr/share/fonts/dejavu",
                             "/usr/share/fonts/TTF", "/usr/share/fonts", "/usr/local/share/fonts"}) {
    folders.emplace_back(folder);
  }
  for (const auto& folder : folders) {
    std::error_code none;
    if (std::filesystem::is_regular_file(folder / file_name, none)) return folder / file_name;
  }
  return std::nullopt;
}

void make_type(const Settings& settings, int window_height) {
  // Latin with accents, general punctuation (dashes, bullets), arrows.
  static const std::array<ImWchar, 9> ranges = {0x20,   0x24F,  0x2010, 0x2044, 0x2190,
                                                0x2193, 0x25A0, 0x25FF, 0};
  auto& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  fonts = {};
  const float size = text_pixels(settings, window_height);
  const auto load = [&](const char* file, float pixels) -> ImFont* {
    const auto path = find_font(file);
    return path ? atlas.AddFontFromFileTTF(path->c_str(), pixels, nullptr, ranges.data()) : nullptr;
  };
  fonts.text = load("DejaVuSans.ttf", size);
  if (fonts.text == nullptr) fonts.text = atlas.AddFontDefault();
  fonts.strong = load("DejaVuSans-Bold.ttf", size);
  if (fonts.strong == nullptr) fonts.strong = fonts.text;
  fonts.large = load("DejaVuSans-Bold.ttf", std::round(size * 2.2F));
  if (fonts.large == nullptr) fonts.large = fonts.strong;
  atlas.Build();
}

void apply_style(const Settings& settings) {
  current = settings.strong_contrast ? strong_contrast : calm;
  // Light on dark all three, so that eyes that see no hue tell them from the ground as well.
  constexpr std::array<ImU32, accents> others = {rgba(104, 190, 255), rgba(255, 196, 84),
                                                 rgba(246, 246, 246)};
  if (settings.accent > 0) current.accent = others[static_cast<std::size_t>(settings.accent) % others.size()];
  const float size = fonts.text == nullptr ? 16.0F : fonts.text->FontSize;
  ImGuiStyle style;
  style.WindowPadding = {size, size * 0.8F};
  style.FramePadding = {size * 0.55F, size * 0.28F};
  style.ItemSpacing = {size * 0.5F, size * 0.4F};
  style.WindowRounding = size * 0.35F;
  style.FrameRounding = size * 0.3F;
  style.ChildRounding = size * 0.3F;
  style.PopupRounding = size * 0.3F;
  style.WindowBorderSize = settings.strong_contrast ? 1.0F : 0.0F;
  style.ScrollbarSize = size * 0.6F;
  style.ScrollbarRounding = size;
  style.CellPadding = {size * 0.3F, size * 0.3F};
  auto* c = style.Colors;
  c[ImGuiCol_Text] = vec(current.ink);
  c[ImGuiCol_TextDisabled] = vec(current.faint_ink);
  c[ImGuiCol_WindowBg] = vec(current.panel);
  c[ImGuiCol_PopupBg] = vec(current.panel);
  c[ImGuiCol_ChildBg] = {0, 0, 0, 0};
  c[ImGuiCol_Border] = vec(current.rule);
  c[ImGuiCol_Separator] = vec(current.rule);
  c[ImGuiCol_FrameBg] = vec(current.field);
  c[ImGuiCol_FrameBgHovered] = c[ImGuiCol_FrameBgActive] = vec(current.rule);
  c[ImGuiCol_Button] = vec(current.field);
  c[ImGuiCol_ButtonHovered] = vec(current.rule);
  c[ImGuiCol_ButtonActive] = vec(current.rule);  // text in any of the inks stays readable on it
  c[ImGuiCol_Header] = vec(current.field);
  c[ImGuiCol_HeaderHovered] = c[ImGuiCol_HeaderActive] = vec(current.rule);
  c[ImGuiCol_ScrollbarBg] = {0, 0, 0, 0};
  c[ImGuiCol_ScrollbarGrab] = vec(current.rule);
  c[ImGuiCol_ScrollbarGrabHovered] = c[ImGuiCol_ScrollbarGrabActive] = vec(current.faint_ink);
  c[ImGuiCol_CheckMark] = c[ImGuiCol_SliderGrab] = c[ImGuiCol_SliderGrabActive] = vec(current.accent);
  c[ImGuiCol_TableRowBg] = {0, 0, 0, 0};
  ImGui::GetStyle() = style;
}

bool quiet_button(const std::string& label, const std::string& key, bool on) {
  if (on) {
    ImGui::PushStyleColor(ImGuiCol_Button, current.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, current.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, current.accent);
    ImGui::PushStyleColor(ImGuiCol_Text, current.accent_ink);
    ImGui::PushStyleVar(ImGuiStyleVar_Alpha, 1.0F);  // faded, its dark words would be lost on a dim ground
  }
  const bool pressed = ImGui::Button(label.c_str());
  if (on) {
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(4);
  }
  if (!key.empty()) tip(key);
  return pressed;
}

void beside_if_it_fits(const std::string& label) {
  ImGui::SameLine();
  const float width = ImGui::CalcTextSize(label.c_str()).x + 2 * ImGui::GetStyle().FramePadding.x;
  if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
}

void tip(const std::string& text) {
  if (!ImGui::IsItemHovered() || ImGui::IsItemActive()) return;
  const auto& io = ImGui::GetIO();
  // The pivot follows the pointer across the window, so that the words never leave it.
  const float across = std::clamp(io.MousePos.x / std::max(1.0F, io.DisplaySize.x), 0.0F, 1.0F);
  const float top = ImGui::GetItemRectMin().y;
  const bool above = top > em(4);
  ImGui::SetNextWindowPos({io.MousePos.x, above ? top - em(0.3F) : ImGui::GetItemRectMax().y + em(0.3F)},
                          ImGuiCond_Always, {across, above ? 1.0F : 0.0F});
  ImGui::PushStyleVar(ImGuiStyleVar_Alpha, 1.0F);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {em(0.5F), em(0.3F)});
  ImGui::BeginTooltip();
  ImGui::TextUnformatted(text.c_str());
  ImGui::EndTooltip();
  ImGui::PopStyleVar(2);
}

// The picture keeps its shape: it was made for the room it is shown in, or for the room before.
void draw_picture(ImTextureID texture, const Picture::Image& image, float left, const WallLines& lines) {
  const auto& io = ImGui::GetIO();
  const auto width = static_cast<float>(image.width), height = static_cast<float>(image.height);
  const float room = std::max(1.0F, io.DisplaySize.x - left), high = std::max(1.0F, io.DisplaySize.y);
  const float scale = std::max(room / width, high / height);
  const ImVec2 from{left + (room - scale * width) / 2, (high - scale * height) / 2};
  last_shown = {image.look.pose, image.width, image.height, from, scale};
  auto& list = *ImGui::GetBackgroundDrawList();
  list.PushClipRect({left, 0}, io.DisplaySize);
  list.AddImage(texture, from, {from.x + scale * width, from.y + scale * height});
  // Dark under light, so that it shows on a pale wall and in the dark; thin, so that it hides nothing.
  const bool strong = current.ink == strong_contrast.ink;
  const auto follow = [&](const std::vector<Place>& stroke) {
    for (const Place& place : stroke)
      list.PathLineTo(
          {from.x + scale * static_cast<float>(place.x), from.y + scale * static_cast<float>(place.y)});
  };
  for (const bool dark : {true, false}) {
    for (const auto& stroke : lines.hours) {
      follow(stroke);
      const float wide = em(0.22F);
      list.PathStroke(dark ? rgba(0, 0, 0, 200) : rgba(255, 255, 255, 240), 0, dark ? 2.0F * wide : wide);
    }
    for (const auto& stroke : lines.ring) {
      follow(stroke);
      const float thin = std::max(1.0F, em(strong ? 0.12F : 0.07F));
      list.PathStroke(dark ? rgba(0, 0, 0, strong ? 170 : 70) : rgba(255, 255, 255, strong ? 220 : 110), 0,
                      dark ? 2.6F * thin : thin);
    }
  }
  list.PopClipRect();
}

void draw_mark(ImDrawList& list, ImVec2 centre, float radius, ItemKind kind, ImU32 colour) {
  const float thick = std::max(1.5F, radius * 0.3F);
  switch (kind) {
    case ItemKind::missed:
      list.AddCircle(centre, radius, colour, 0, thick);
      return;
    case ItemKind::partly:
      list.AddCircle(centre, radius, colour, 0, thick);
      list.PathArcTo(centre, radius, half_turn * 0.5F, half_turn * 1.5F, 16);
      list.PathFillConvex(colour);
      return;
    case ItemKind::invented: {
      const float r = radius * 0.8F;
      list.AddLine({centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}, colour, thick);
      list.AddLine({centre.x - r, centre.y + r}, {centre.x + r, centre.y - r}, colour, thick);
      return;
    }
    case ItemKind::right:
      list.AddCircleFilled(centre, radius, colour);
      return;
    case ItemKind::not_visible:
      list.AddLine({centre.x - radius, centre.y}, {centre.x - radius * 0.3F, centre.y}, colour, thick);
      list.AddLine({centre.x + radius * 0.3F, centre.y}, {centre.x + radius, centre.y}, colour, thick);
      return;
  }
}

std::string by_words(const std::string& text, float width) {
  std::string out, line;
  const auto end_line = [&] {
    out += line + '\n';
    line.clear();
  };
  std::string word;
  const auto take_word = [&] {
    if (word.empty()) return;
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && ImGui::CalcTextSize(longer.c_str()).x > width) {
      end_line();
      line = word;
    } else {
      line = longer;
    }
    word.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') {
      take_word();
      end_line();
    } else if (text[i] == ' ' && i + 1 < text.size() && text[i + 1] != ' ' && !word.empty() &&
               word.back() != ' ') {
      take_word();
    } else {
      word += text[i];  // two spaces together are meant, and stay
    }
  }
  take_word();
  return out + line;
}

void text_in(ImFont* font, ImU32 colour, const std::string& text, bool wrapped) {
  ImGui::PushFont(font);
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  if (wrapped) ImGui::PushTextWrapPos(0);
  const std::string shown = wrapped ? by_words(text, ImGui::GetContentRegionAvail().x) : text;
  ImGui::TextUnformatted(shown.data(), shown.data() + shown.size());
  if (wrapped) ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

}  // namespace haunch::window
