// SPDX-License-Identifier: Apache-2.0
// What the window says, in the person's language. The source says it in English; content/language/en.json
// lists every text, and a file beside it (or in the person's own data folder, under language/) says the same
// in another. What comes from the code list, the schemes and the marking is in their own files and stays as
// it is.
#pragma once

#include <filesystem>
#include <initializer_list>
#include <map>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace haunch::window {

struct Language {
  std::string name;                          ///< in itself: "English"
  std::map<std::string, std::string> words;  ///< from the English text
  /// Problems with their places; texts that nobody says here, or places {0} that are not those of the
  /// English.
  static base::Result<Language> read(const std::filesystem::path& path);
};

/// Codes of the languages that there are files for ("en" first), the person's own after those shipped.
std::vector<std::string> languages();
/// From now on; English where there is no such language or its file is damaged.
void speak(const std::string& code);

/// The text in the language that is spoken, with {0}, {1} .. filled in; a text that its file does not have is
/// said in English.
std::string tr(const std::string& english, std::initializer_list<std::string> parts = {});

}  // namespace haunch::window
