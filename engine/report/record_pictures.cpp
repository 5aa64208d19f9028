// SPDX-License-Identifier: Apache-2.0
#include "report/record_pictures.hpp"

#include <algorithm>
#include <cstdint>

#include "base/files.hpp"
#include "base/words.hpp"

namespace haunch::report {
namespace fs = std::filesystem;
namespace {

/// Media type by what the bytes begin with; empty when it is none that pages show.
std::string type_of(const std::string& bytes) {
  const auto begins = [&](std::string_view head, std::size_t at = 0) {
    return bytes.size() >= at + head.size() && bytes.compare(at, head.size(), head) == 0;
  };
  if (begins("\xFF\xD8\xFF")) return "image/jpeg";
  if (begins("\x89PNG\r\n\x1A\n")) return "image/png";
  if (begins("GIF87a") || begins("GIF89a")) return "image/gif";
  if (begins("RIFF") && begins("WEBP", 8)) return "image/webp";
  return {};
}

bool named_as_picture(const std::string& name) {
  const std::string ending = base::lower(fs::path(name).extension().string());
  const char* const known[] = {".jpg", ".jpeg", ".png", ".gif", ".webp"};
  return std::find(std::begin(known), std::end(known), ending) != std::end(known);
}

/// Both without links; the folder itself is not inside.
bool lies_inside(const fs::path& file, const fs::path& folder) {
  const auto [in_folder, in_file] = std::mismatch(folder.begin(), folder.end(), file.begin(), file.end());
  return in_folder == folder.end() && in_file != file.end();
}

}  // namespace

std::string base64(const std::string& bytes) {
  static constexpr char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k)
      three = three << 8U | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k)
      text += i + k > bytes.size() ? '=' : letters[(three >> (18U - 6U * static_cast<unsigned>(k))) & 63U];
  }
  return text;
}

RecordPictures::RecordPictures(fs::path folder, std::size_t budget_bytes)
    : folder_(folder.empty() ? fs::path(".") : std::move(folder)), left_(budget_bytes) {}

RecordPicture RecordPictures::one(const std::string& name) {
  RecordPicture picture{name, {}, {}};
  if (!named_as_picture(name)) {
    picture.missing = "the record gives no file name of a picture";
    return picture;
  }
  std::string portable = name;  // records from other systems part folders by '\'
  std::replace(portable.begin(), portable.end(), '\\', '/');
  const bool full = fs::path(portable).is_absolute() || portable.find(':') != std::string::npos;
  std::error_code wrong;
  const fs::path folder = fs::canonical(folder_, wrong);
  const fs::path file = full || wrong ? fs::path() : fs::weakly_canonical(folder / portable, wrong);
  if (full || wrong || file.empty() || !lies_inside(file, folder)) {
    picture.missing = "it does not lie with the record, and nothing else is opened";
    return picture;
  }
  if (!fs::is_regular_file(file, wrong)) {
    picture.missing = "there is no such file with the record";
    return picture;
  }
  const auto size = fs::file_size(file, wrong);
  if (wrong || size > largest_bytes || size > left_) {
    picture.missing = size > largest_bytes ? "the file is too large to be shown here"
                                           : "this page holds as many pictures as it can";
    return picture;
  }
  const auto bytes = base::read_file(file, largest_bytes);
  const std::string type = bytes.ok() ? type_of(bytes.value()) : std::string();
  if (type.empty()) {
    picture.missing = "the file is no picture that a page can show";
    return picture;
  }
  left_ -= std::min(left_, bytes.value().size());
  picture.address = "data:" + type + ";base64," + base64(bytes.value());
  return picture;
}

std::vector<RecordPicture> RecordPictures::named(const std::string& field) {
  std::vector<RecordPicture> pictures;
  std::string name;
  const auto close = [&] {
    if (const std::string clean = base::trim(name); !clean.empty()) pictures.push_back(one(clean));
    name.clear();
  };
  for (const char letter : field) {
    if (letter == ';' || letter == ',' || letter == '|')
      close();
    else
      name += letter;
  }
  close();
  return pictures;
}

}  // namespace haunch::report
