// SPDX-License-Identifier: Apache-2.0
// What the parts of the owner's page are made from. Inside this room.
#pragma once

#include <kainjow/mustache.hpp>
#include <map>
#include <string>
#include <vector>

#include "report/advice.hpp"
#include "report/owner_page.hpp"

namespace haunch::report {

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
kainjow::mustache::list texts(const std::vector<std::string>& sentences);

kainjow::mustache::list facts_data(const Desk& desk);
/// The findings by what they mean; notes which pictures are missing.
kainjow::mustache::list groups_data(Desk& desk);
void put_missing_pictures(const Desk& desk, kainjow::mustache::data& page);
void put_parts(const Desk& desk, kainjow::mustache::data& page);

}  // namespace haunch::report
