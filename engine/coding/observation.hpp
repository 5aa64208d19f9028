// SPDX-License-Identifier: Apache-2.0
// One line of an inspection: what was seen, where, how large (EN 13508-2, observation fields A..N).
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace haunch::coding {

/// A number as written. Files put node references and the like in number columns, so the text is
/// kept beside the value; a number we made ourselves has no text.
struct Number {
  std::optional<double> value;
  std::string text;  ///< as written in the file; empty for a number of our own

  Number() = default;
  Number(double number) : value(number) {}  // NOLINT: a number is a Number
  /// Keeps the text and reads a value from it where it is one ('.' decimal sign).
  static Number from_text(std::string text);

  bool empty() const { return !value && text.empty(); }
  /// The text as written, else the shortest decimal, else empty.
  std::string show() const;
  /// By value where both have one ("0.50" equals "0.5"), else by text.
  bool operator==(const Number& other) const;
};

struct Observation {
  std::string id;     ///< ours; names the observation within its Record ("o1"); not in exchange files
  Number distance_m;  ///< I: along the pipe from the Record's reference point
  std::string code;   ///< A: main code, three letters
  std::string ch1;    ///< B: characterisation 1, empty when none
  std::string ch2;    ///< C
  Number q1;          ///< D: quantification 1, unit by code (mm, %, degree)
  Number q2;          ///< E
  std::optional<int> clock_from;  ///< G: 1..12, clockwise looking the way the camera looks
  std::optional<int> clock_to;    ///< H: 12,12 means the whole circumference
  bool at_joint = false;          ///< K: "A" in exchange files
  std::string stretch;            ///< J: continuous observation, "A1" begins run 1, "B1" ends it
  std::string remark;             ///< F
  std::string manhole_place;      ///< L
  std::string photo;              ///< M
  std::string video;              ///< N: kept as text
  std::vector<std::pair<std::string, std::string>> extra;  ///< unknown columns, kept as read
  std::string reason;                                      ///< why truth wrote it; empty in people's records

  bool operator==(const Observation&) const = default;
};

/// "BAB B A": code and characterisations for people.
std::string show_code(const Observation& observation);

}  // namespace haunch::coding
