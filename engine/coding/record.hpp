// SPDX-License-Identifier: Apache-2.0
// An inspection: header and observations. The truth of a scenario, a trainee's attempt and a real
// job are all this one type.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "coding/observation.hpp"

namespace haunch::coding {

struct HeaderField {
  std::string code;  ///< EN 13508-2 header code, "AAA".."ADE"
  std::string value;
  bool operator==(const HeaderField&) const = default;
};

/// Header fields that hold a number: heights, widths, lengths and depths.
bool header_holds_number(std::string_view code);

/// What to do next, from the least to the most careful. From do_not_jet on each holds what the one
/// before it holds, and none of them jets; to clean again is to jet.
enum class Action { carry_on, clean_again, do_not_jet, stop_and_refer, call_gas_utility };
std::string show(Action action);  ///< "carry on" .. "call the gas utility"
std::optional<Action> action_from(std::string_view words);
const std::vector<Action>& all_actions();

/// Classes that a person gave one observation: goal name ("tightness") -> class.
struct GivenClasses {
  std::string observation;  ///< Observation::id
  std::map<std::string, int> classes;
  bool operator==(const GivenClasses&) const = default;
};

/// The person's own grading, apart from their coding. What is absent was not given.
struct Judgement {
  std::vector<GivenClasses> classes;
  std::optional<int> object_class;
  std::optional<Action> action;
  bool operator==(const Judgement&) const = default;
};

/// Something that is there and that even a careful drive could not show. Only truths have these.
struct NotVisible {
  std::string observation;  ///< Observation::id
  std::string why;          ///< "under cloudy water along its whole length"
  bool operator==(const NotVisible&) const = default;
};

struct Record {
  std::vector<HeaderField> header;  ///< in the order of the file
  std::vector<Observation> observations;
  std::optional<Judgement> judgement;
  std::vector<NotVisible> not_visible;

  /// First value of a header code, or nothing.
  std::optional<std::string> header_value(std::string_view code) const;
  std::optional<double> header_number(std::string_view code) const;
  void set_header(std::string_view code, std::string value);
  const Observation* find(std::string_view id) const;

  bool operator==(const Record&) const = default;
};

/// Gives "o1", "o2" .. to observations that have no id yet.
void number_observations(Record& record);

/// A continuous observation put together from its begin and end, or a point (to_m == from_m).
struct Extent {
  std::size_t first = 0;  ///< index of the point, or of the begin
  std::size_t last = 0;   ///< index of the end; equals first for a point or an unclosed begin
  double from_m = 0;
  double to_m = 0;          ///< may be less than from_m when distances count down; never for points
  bool continuous = false;  ///< begun as a run, whether it was ended or not
};
/// One Extent for each point and each A..B pair, in the order of points and begins. Lone B rows
/// are points; C rows inside a run belong to it. Pairs are found by number and distance, so the order
/// of the rows does not matter. What has no distance stands at 0.
std::vector<Extent> extents(const Record& record);

}  // namespace haunch::coding
