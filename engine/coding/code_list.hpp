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
  std::string unit;         ///< "mm", "%", "degree", "count"; may differ by characterisation 1
  std::string required;     ///< in words: "yes", "except ch1=A", "no"
  Solid solid = Solid::memory;
};

enum class ClockRule { none, optional, one, range, one_or_range, by_ch1 };
enum class JointRule { no, optional, always };

struct CodeEntry {
  std::string code;                        ///< "BAB"
  std::string name;                        ///< "Fissure"
  std::string group;                       ///< "fabric", "operation", "inventory", "other", "header-change"
  std::map<std::string, std::string> ch1;  ///< letter -> meaning; empty when the code has none
  std::map<std::string, std::string> ch2;
  std::string ch2_applies_when;            ///< "" or "ch1=B"
  std::vector<std::string> combinations;   ///< valid ch1+ch2 pairs known from the outside lists
  std::optional<QuantityRule> q1;
  std::optional<QuantityRule> q2;
  ClockRule clock = ClockRule::optional;
  JointRule joint = JointRule::optional;
  bool may_be_continuous = true;
  std::string note;
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

  /// The observation as a plain sentence: "crack, lines visible, along the pipe; 1.5 mm; 12 o'clock".
  /// Defined in code_words.cpp.
 private:
  std::vector<CodeEntry> codes_;
  std::vector<Named> materials_, shapes_, nodes_, header_fields_;
};

struct Observation;
/// "Fissure: crack, lines visible; along the pipe; 1.5 mm; at 12 o'clock; at a joint".
std::string in_words(const Observation& observation, const CodeList& list);

}  // namespace haunch::coding
