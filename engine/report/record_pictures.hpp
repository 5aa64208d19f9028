// SPDX-License-Identifier: Apache-2.0
// Pictures that a record names, taken from beside the record's file and from nowhere else.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

namespace haunch::report {

struct RecordPicture {
  std::string name;     ///< as the record says
  std::string address;  ///< for <img src>: a data: address; empty when it is not shown
  std::string missing;  ///< why it is not shown; empty when it is
};

/// Never follows a name out of the folder, by "..", a full path or a link; takes JPEG, PNG, GIF and WebP
/// whose bytes are what the name says, up to a size each and in all.
class RecordPictures {
 public:
  static constexpr std::size_t largest_bytes = std::size_t{4} << 20U;
  /// `budget_bytes`: what all pictures of one page may weigh.
  explicit RecordPictures(std::filesystem::path folder, std::size_t budget_bytes = std::size_t{24} << 20U);

  /// A record's photograph field: one name, or several parted by ';', ',' or '|'.
  std::vector<RecordPicture> named(const std::string& field);
  /// What is left of the budget.
  std::size_t left() const { return left_; }

 private:
  RecordPicture one(const std::string& name);
  std::filesystem::path folder_;
  std::size_t left_;
};

/// RFC 4648 section 4, with padding.
std::string base64(const std::string& bytes);

}  // namespace haunch::report
