// SPDX-License-Identifier: Apache-2.0
#include "window/language.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "base/files.hpp"
#include "base/json_document.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;

constexpr const char* english_code = "en";

std::map<std::string, std::string>& spoken() {
  static std::map<std::string, std::string> words;
  return words;
}

std::vector<fs::path> folders() {
  return {base::content_dir() / "language", base::user_data_dir() / "language"};
}

/// The numbers in braces.
std::set<std::string> places_in(const std::string& text) {
  std::set<std::string> places;
  for (std::size_t at = text.find('{'); at != std::string::npos; at = text.find('{', at + 1))
    if (at + 2 < text.size() && text[at + 2] == '}') places.insert(text.substr(at, 3));
  return places;
}

/// Texts that the window says: those of the English file.
const std::map<std::string, std::string>& english() {
  static const std::map<std::string, std::string> words = [] {
    const auto file = base::JsonDocument::read(base::content_dir() / "language" / "en.json", "language");
    return file ? file.value().root().at("words").get<std::map<std::string, std::string>>()
                : std::map<std::string, std::string>();
  }();
  return words;
}

}  // namespace

base::Result<Language> Language::read(const fs::path& path) {
  const auto document = base::JsonDocument::read(path, "language");
  if (!document) return document.problems();
  const auto& root = document.value().root();
  Language language{root.at("language").get<std::string>(),
                    root.at("words").get<std::map<std::string, std::string>>()};
  base::Problems problems;
  const auto pointer_to = [](std::string text) {
    for (std::size_t at = text.find_first_of("~/"); at != std::string::npos;
         at = text.find_first_of("~/", at + 2))
      text.replace(at, 1, text[at] == '~' ? "~0" : "~1");
    return "/words/" + text;
  };
  for (const auto& [text, said] : language.words) {
    if (!english().contains(text)) {
      base::Problem unknown = document.value().problem(pointer_to(text), "the window says no such text",
                                                       "a text of content/language/en.json");
      unknown.severity = base::Severity::warning;
      problems.push_back(std::move(unknown));
    } else if (places_in(text) != places_in(said)) {
      problems.push_back(document.value().problem(pointer_to(text),
                                                  "other places in braces than in the English",
                                                  "each of those, once or more, and no others"));
    }
  }
  if (base::has_errors(problems)) return problems;
  return base::Result<Language>(std::move(language), std::move(problems));
}

std::vector<std::string> languages() {
  std::vector<std::string> codes{english_code};
  for (const fs::path& folder : folders()) {
    std::vector<std::string> here;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none))
      if (entry.path().extension() == ".json") here.push_back(entry.path().stem().string());
    std::sort(here.begin(), here.end());
    for (const std::string& code : here)
      if (std::find(codes.begin(), codes.end(), code) == codes.end()) codes.push_back(code);
  }
  return codes;
}

void speak(const std::string& code) {
  spoken().clear();
  if (code == english_code) return;
  for (const fs::path& folder : folders()) {
    const fs::path file = folder / (code + ".json");
    std::error_code none;
    if (!fs::exists(file, none)) continue;
    if (auto language = Language::read(file)) spoken() = std::move(language).value().words;
    return;
  }
}

std::string tr(const std::string& english, std::initializer_list<std::string> parts) {
  const auto found = spoken().find(english);
  const std::string& form = found == spoken().end() ? english : found->second;
  if (parts.size() == 0) return form;
  std::string text;
  for (std::size_t at = 0; at < form.size(); ++at) {
    const bool place = form[at] == '{' && at + 2 < form.size() && form[at + 2] == '}' &&
                       form[at + 1] >= '0' && static_cast<std::size_t>(form[at + 1] - '0') < parts.size();
    if (!place) {
      text += form[at];
      continue;
    }
    text += parts.begin()[form[at + 1] - '0'];
    at += 2;
  }
  return text;
}

}  // namespace haunch::window
