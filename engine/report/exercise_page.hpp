// SPDX-License-Identifier: Apache-2.0
// One exercise as one printable HTML page that needs nothing beside it.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "marking/mark.hpp"
#include "report/cautions.hpp"
#include "scene/scene.hpp"

namespace haunch::report {

/// A picture of a place; whoever draws it says what for.
struct Picture {
  std::string truth;      ///< id of the true observation it shows; empty: another place
  double distance_m = 0;  ///< of the lens
  bool lit = false;       ///< the fault is lit up
  std::string caption;
  std::string address;  ///< for <img src>: a data: address or a path beside the page
  std::string
      attempt{};  ///< id of the mark at whose place nothing like it is; empty with `truth`: along the way
};

struct ExercisePage {
  std::string title;        ///< what run
  std::string trainee;      ///< a code such as "coder-07", or empty
  std::string finished_at;  ///< "2026-03-02T09:40:00Z", or empty
  coding::Record truth, attempt;
  marking::Marking marking;
  const scene::Scene* scene = nullptr;  ///< for the long section; null when there is only a record
  std::vector<Picture> pictures;
  std::vector<std::pair<std::string, std::string>> made_with;  ///< "scenario", "edition 1, 3f2a.."
  base::LengthUnit unit = base::LengthUnit::metres;
  std::vector<std::string> object_classes{};  ///< what each means: "1: slight defects .."; empty: not known
};

/// The page, by the templates content/report/exercise.mustache and exercise.css. Every word that
/// comes from a file is escaped.
std::string exercise_html(const ExercisePage& page, const coding::CodeList& list,
                          const std::vector<Caution>& cautions);

}  // namespace haunch::report
