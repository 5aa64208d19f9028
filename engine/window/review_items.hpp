// SPDX-License-Identifier: Apache-2.0
// What the review lists, and what the judging screen asks for, as plain values: no drawing here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "grading/grade.hpp"
#include "play/exercise.hpp"

namespace haunch::window {

enum class ItemKind { missed, partly, invented, right, not_visible };
std::string heading(ItemKind kind);
std::string short_name(ItemKind kind);  ///< for a button

/// One line of the review, and where to stand to see it.
struct ReviewItem {
  ItemKind kind = ItemKind::right;
  std::string title;                   ///< the observation in words
  std::string place;                   ///< "12.40 m"
  std::vector<std::string> sentences;  ///< each verdict, with its reason
  std::vector<std::string> code_says;  ///< what the code list says of the code that is right there
  bool dangerous = false;
  double earned = 0, weight = 0;     ///< points of the score this line was worth
  int fault = 0;                     ///< to light up; 0 none
  std::optional<double> stand_z_m;   ///< where the lens has a good view of it
  std::optional<double> distance_m;  ///< for the long section
  /// Hours as the camera looks, to be drawn on the wall there: of what is there, and as they were logged.
  std::optional<base::ClockArc> clock_there, clock_given;
  double clock_z_m = 0;
};

/// Missed first, then partly right, invented, right, not visible; within each along the run.
std::vector<ReviewItem> review_items(const play::Exercise& exercise, base::LengthUnit unit);

/// Lengths written in metres ("0.42 m long") in another unit; sizes in mm stay.
std::string lengths_in(const std::string& words, base::LengthUnit unit);

/// Sentences that belong to no single place.
struct ReviewNotes {
  std::vector<std::string> warnings, counter, skills, consequence, grading, action, costs;
  std::string graded;  ///< "Classes 2 of 4 right; next action right"
};
ReviewNotes review_notes(const play::Exercise& exercise, base::LengthUnit unit);

/// Where to put the lens so that something from `from_z` to `to_z` is just beyond the counter's ring.
double stand_before(const scene::Scene& scene, double from_z_m, double to_z_m);

/// An observation that the trainee is asked to class.
struct JudgingRow {
  std::string observation;  ///< id
  std::string title, place;
  bool provisional = false;                 ///< what the scheme would say of it is
  std::vector<std::optional<int>> classes;  ///< one a goal
};
/// Those for which the scheme has a class to give in any goal; begin rows of continuous ones only.
std::vector<JudgingRow> judging_rows(const play::Exercise& exercise, const grading::Scheme& scheme,
                                     base::LengthUnit unit);

}  // namespace haunch::window
