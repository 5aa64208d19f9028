// SPDX-License-Identifier: Apache-2.0
// The code list of EN 13508-2 for pipes, read from content/coding/en13508-2.json. Every rule says
// how solid it is: names and letters come from two outside lists, most units and clock rules only
// from memory, and those only ever warn.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace haunch::coding {

enum class Solid { sourced, memory };

/// What goes where a quantification stands.
struct QuantityRule {
  std::string meaning;
  std::string unit;      ///< "mm", "%", "degree", "count" or ""; may differ by characterisation 1
  std::string required;  ///< "yes", "no", "except ch1=A or continuous", "only ch1=A,D"
  Solid solid = Solid::memory;
  std::map<std::string, std::string> unit_by_ch1;  ///< where it differs from `unit`
  std::string says;                                ///< said after number and unit: "wide"
  std::map<std::string, std::string> says_by_ch1;
  Solid required_solid = Solid::memory;

  const std::string& unit_for(std::string_view ch1) const;
  const std::string& says_for(std::string_view ch1) const;
  bool is_required(std::string_view ch1, bool continuous) const;
};

enum class ClockRule { none, optional, one, range, one_or_range, by_ch1 };
enum class JointRule { no, optional, always };

struct CodeEntry {
  std::string code;                        ///< "BAB"
  std::string name;                        ///< "Fissure"
  std::string group;                       ///< "fabric", "operation", "inventory", "other", "header-change"
  std::map<std::string, std::string> ch1;  ///< letter -> meaning; empty when the code has none
  std::map<std::string, std::string> ch2;
  std::string ch2_applies_when;           ///< "" (always), "ch1=B" or "optional"
  std::vector<std::string> combinations;  ///< "AA", "AB" ..: every ch1 with the ch2 that go with it
  std::optional<QuantityRule> q1;
  std::optional<QuantityRule> q2;
  ClockRule clock = ClockRule::optional;
  JointRule joint = JointRule::optional;
  bool may_be_continuous = true;
  std::string note;
  std::map<std::string, ClockRule> clock_by_ch1;  ///< filled when clock is by_ch1
  Solid clock_solid = Solid::memory;
  std::vector<std::string> needs;  ///< "photo", "remark"; from memory
  /// Letters that real files carry and the list does not have, with the reason: read without an error.
  std::map<std::string, std::string> ch1_habits, ch2_habits;

  ClockRule clock_for(std::string_view ch1) const;
  /// Does characterisation 2 belong with this characterisation 1?
  bool ch2_applies(std::string_view ch1) const;
};

/// A code with a name: materials, shapes, node kinds, header fields and their values.
struct Named {
  std::string code;
  std::string name;
  std::map<std::string, std::string> values;  ///< header fields only
  std::string stiffness;                      ///< materials only: "rigid", "flexible", "unknown"
};

class CodeList {
 public:
  static base::Result<CodeList> read(const std::filesystem::path& path);
  /// The shipped list; throws std::runtime_error when the content folder is damaged.
  static const CodeList& shipped();

  const std::vector<CodeEntry>& codes() const { return codes_; }
  const CodeEntry* find(std::string_view code) const;
  const std::vector<Named>& materials() const { return materials_; }
  const std::vector<Named>& shapes() const { return shapes_; }
  const std::vector<Named>& nodes() const { return nodes_; }
  const std::vector<Named>& header_fields() const { return header_fields_; }
  const Named* material(std::string_view code) const;
  /// Main codes for the same kind of finding are kin: 0 the same code, 1 the same group and first
  /// two letters, 2 otherwise. Ours; used as a cost in pairing.
  int kinship(std::string_view code_a, std::string_view code_b) const;

  int edition() const { return edition_; }
  const std::string& standard() const { return standard_; }
  const Named* header_field(std::string_view code) const;
  const Named* node(std::string_view code) const;

 private:
  friend struct CodeListReader;  // in code_list.cpp
  int edition_ = 0;
  std::string standard_;
  std::vector<CodeEntry> codes_;
  std::vector<Named> materials_, shapes_, nodes_, header_fields_;
};

struct Observation;
/// "Fissure: crack, open line but pieces in place; along the pipe; 0.8 mm wide; at 12 o'clock; at a joint".
std::string in_words(const Observation& observation, const CodeList& list);

}  // namespace haunch::coding
