// SPDX-License-Identifier: Apache-2.0
// The code list of EN 13508-2 for pipes, read from content/coding/en13508-2.json. Every rule says
// how solid it is: names and letters come from two outside lists, most units and clock rules only
// from memory, and those only ever warn.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.hpp"

namespace haunch::coding {

enum class Solid { sourced, memory };

/// What goes where a quantification stands.
struct QuantityRule {
  std::string meaning;
  std::string unit;      ///< "mm", "%", "degree", "count" or ""; may differ by characterisation 1
  std::string required;  ///< "yes", "no", "except ch1=A or continuous", "except ch2=A", "only ch1=A,D"
  Solid solid = Solid::memory;
  std::map<std::string, std::string> unit_by_ch1;  ///< where it differs from `unit`
  std::string says;                                ///< said after number and unit: "wide"
  std::map<std::string, std::string> says_by_ch1;
  Solid required_solid = Solid::memory;
  std::string within;  ///< "bore" or "length": what of the pipe a size in mm cannot pass; ours

  const std::string& unit_for(std::string_view ch1) const;
  const std::string& says_for(std::string_view ch1) const;
  bool is_required(std::string_view ch1, bool continuous, std::string_view ch2 = {}) const;
};

enum class ClockRule { none, optional, one, range, one_or_range, by_ch1 };
enum class JointRule { no, optional, always };
/// Codes that mean something to the pipe or the inspection as a whole.
enum class Role : std::uint8_t {
  finding,
  start,      ///< BCD
  finish,     ///< BCE
  abandoned,  ///< BDC
  shape,      ///< AEC
  material,   ///< AED
  lining,     ///< AEE
  deformed,   ///< BAA
  broken,     ///< BAB, BAC
  joint,      ///< BAJ
  connection  ///< BCA
};

/// What two characterisations are to a code.
enum class Fit : std::uint8_t {
  good,         ///< in the list
  in_one_list,  ///< one of the two outside lists has them, the other does not
  habit,        ///< letters of real files that the list does not have; `CodeEntry` says why
  translated,   ///< Y: a mark of codings translated from an older system
  missing,      ///< a letter that the list asks for is not there
  unknown       ///< a letter that the code does not have
};

struct CodeEntry {
  std::string code;                        ///< "BAB"
  std::string name;                        ///< "Fissure"
  std::string group;                       ///< "fabric", "operation", "inventory", "other", "header-change"
  std::map<std::string, std::string> ch1;  ///< letter -> meaning; empty when the code has none
  std::map<std::string, std::string> ch2;
  std::string ch2_applies_when;           ///< "" (always), "ch1=B", "except ch1=YY" or "optional"
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
  /// Pairs as in `combinations` that real files carry and the list does not have, with the reason: read
  /// without an error. Then the letters among them that the list does not have.
  std::map<std::string, std::string> habits;
  std::map<std::string, std::string> ch1_habits, ch2_habits;
  /// Combinations as in `combinations` ("" for no letters) that only one of the two outside lists has.
  std::vector<std::string> in_one_list;
  /// Materials such a finding belongs to, by characterisation 1 ("" for all of them); ours.
  std::map<std::string, std::vector<std::string>> made_of;

  Role role = Role::finding;
  /// `fit` of no letter or one capital each, worked out when the list is read.
  std::array<Fit, 27 * 27> fits{};

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

/// Finds a place in a list by its code: three capital letters in one step, others in a few.
class CodeIndex {
 public:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  /// False when the code is there already.
  bool add(const std::string& code, std::size_t at);
  std::size_t find(std::string_view code) const;

 private:
  std::vector<std::uint32_t> by_letters_;  ///< place + 1
  std::map<std::string, std::size_t, std::less<>> others_;
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
  const Named* shape(std::string_view code) const;
  const Named* header_field(std::string_view code) const;
  const Named* node(std::string_view code) const;
  /// Main codes for the same kind of finding are kin: 0 the same code, 1 the same group and first
  /// two letters, 2 otherwise. Ours; used as a cost in pairing.
  int kinship(std::string_view code_a, std::string_view code_b) const;

  int edition() const { return edition_; }
  const std::string& standard() const { return standard_; }

 private:
  friend struct CodeListReader;  // in read_code_list.cpp
  int edition_ = 0;
  std::string standard_;
  std::vector<CodeEntry> codes_;
  std::vector<Named> materials_, shapes_, nodes_, header_fields_;
  CodeIndex code_index_, material_index_, shape_index_, node_index_, header_index_;
};

Fit fit(const CodeEntry& entry, const std::string& ch1, const std::string& ch2);
/// Fills `fits` of an entry that is otherwise whole.
void work_out_fits(CodeEntry& entry);

struct Observation;
/// "Fissure: crack, open line but pieces in place; along the pipe; 0.8 mm wide; at 12 o'clock; at a joint".
std::string in_words(const Observation& observation, const CodeList& list);

}  // namespace haunch::coding
