// SPDX-License-Identifier: Apache-2.0
// The character sets that exchange files name. Inside exchange; all text within Haunch is UTF-8.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace haunch::exchange {

enum class Charset { utf8, ascii, latin1, latin9, windows1252 };

/// "ISO-8859-1", "iso-8859-1:1998", "latin1", "UTF-8" ..: nothing for one we do not know.
std::optional<Charset> charset_named(std::string_view name);
/// What a person may call them.
inline constexpr const char* known_charsets = "UTF-8, ISO-8859-1, ISO-8859-15, Windows-1252 or ASCII";

bool is_ascii(std::string_view bytes);
/// Byte where the text stops being of that set, or npos.
std::size_t first_foreign_byte(std::string_view bytes, Charset charset);

/// A byte that is not of the set becomes U+FFFD.
std::string to_utf8(std::string_view bytes, Charset charset);
void append_as_utf8(std::string& out, std::string_view bytes, Charset charset);

/// Byte of the first character that the set does not have, or npos.
std::size_t first_lacking(std::string_view text, Charset charset);
/// Nothing when a character does not exist in the set.
std::optional<std::string> from_utf8(std::string_view text, Charset charset);

}  // namespace haunch::exchange
