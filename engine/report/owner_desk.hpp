// SPDX-License-Identifier: Apache-2.0
// What the parts of the owner's page are made from. Inside this room.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "report/advice.hpp"
#include "report/owner_page.hpp"

namespace kainjow::mustache {
template <typename string_type>
class basic_data;
}

namespace haunch::report {

/// What a template is filled with: the template library's own `data` and `list`, whose heavy header stays in
/// the .cpp files.
using PageData = kainjow::mustache::basic_data<std::string>;
using PageList = std::vector<PageData>;

struct Desk {
  const OwnerPage& page;
  const coding::CodeList& list;
  const Meanings& meanings;
  const std::vector<Caution>& cautions;
  Advice advice;
  Measure measure;
  std::string id;
  std::map<std::string, std::vector<std::string>> missing_pictures;  ///< by why
};

/// Control characters have no place on a page; the template escapes the rest.
std::string plain(std::string text);
/// A number stays with its unit.
std::string unbroken(std::string text);
PageList texts(const std::vector<std::string>& sentences);

PageList facts_data(const Desk& desk);
/// The findings by what they mean; notes which pictures are missing.
PageList groups_data(Desk& desk);
void put_missing_pictures(const Desk& desk, PageData& page);
void put_parts(const Desk& desk, PageData& page);

}  // namespace haunch::report
