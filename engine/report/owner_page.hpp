// SPDX-License-Identifier: Apache-2.0
// The owner's summary: one printable page for each inspection, for people without the trade, made from
// the record alone. Pages stand one after another in one HTML file that needs nothing beside it.
#pragma once

#include <string>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/cautions.hpp"
#include "report/meanings.hpp"
#include "report/measure.hpp"
#include "report/owner_words.hpp"
#include "report/record_pictures.hpp"

namespace haunch::report {

struct OwnerPage {
  const coding::Record* record = nullptr;
  const grading::Grade* grade = nullptr;
  std::string file;    ///< named in the small print
  int inspection = 1;  ///< number within the file
  int number = 1;      ///< of the page within the HTML file: "#p1"
  RemarkCount remarks;
  Zero zero;
  base::LengthUnit unit = base::LengthUnit::metres;
  RecordPictures* pictures = nullptr;  ///< null: none is looked for
};

/// One <article>, by the template content/report/owner.mustache. Every word that comes from a file is
/// escaped.
std::string owner_article(const OwnerPage& page, const coding::CodeList& list = coding::CodeList::shipped(),
                          const Meanings& meanings = Meanings::shipped(),
                          const std::vector<Caution>& cautions = shipped_cautions());

/// What stands before and after the articles; the style sheet is content/report/owner.css.
std::string owner_head(const std::string& title);
std::string owner_foot();

}  // namespace haunch::report
