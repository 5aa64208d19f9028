// SPDX-License-Identifier: Apache-2.0
// What findings mean to somebody who does not know the trade, and what usually comes next
// (content/report/meanings.json).
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"

namespace haunch::report {

/// One thing that can come next. The list of a Meanings runs from the least to the most careful.
struct NextStep {
  std::string id;                        ///< "spot repair"
  std::string action_words;              ///< "have it repaired": what it says to do, for other programs
  std::optional<coding::Action> action;  ///< the same as an action of the marking rules, where it is one
  std::string heading, text, source;
  std::string after;  ///< stands for `text` beneath what is taken sooner; the same where there is none
};

/// A finding is ranked; a part belongs to the pipe; a note is about the inspection.
enum class Kind { finding, part, note };

struct Meaning {
  std::string code;
  std::string ch1;  ///< the letter it was made for; empty: the code's own
  Kind kind = Kind::finding;
  std::optional<double> finding_from_q1;  ///< from this size on a part is a finding
  std::optional<double> ask_from_q1;      ///< from this size on it is not only watched
  std::string title, what, leads_to, then, source;
  std::string brief;            ///< "hole": beside its number in the drawing; may be empty
  std::string watched;          ///< stands for `then` where it is only watched or asked about; may be empty
  std::size_t usually = 0;      ///< index of what comes next
  std::size_t when_severe = 0;  ///< the same where the class is one of the two worst; at least `usually`
};

/// Pipes that call for care whatever is found in them.
struct MaterialCare {
  std::vector<std::string> materials;
  std::size_t next = 0;
  std::string why, source;
};

/// Words in a free remark that call for care. Nothing else in a remark is judged.
struct RemarkSign {
  Meaning meaning;  ///< only title and source
  std::size_t next = 0;
  /// One or two lists: a word out of each stands in the remark. "gasrohr*": whatever begins so.
  std::vector<std::vector<std::string>> together;
  std::size_t within_words = 0;  ///< the two are so many words apart at most; 0: anywhere
  bool in_order = false;         ///< that of the second list stands after that of the first
  /// Upper and lower case are the same; numbers are no words.
  bool stands_in(std::string_view remark) const;
};

/// A sign of danger and what to do meanwhile.
struct DangerSign {
  std::string heading, text, source;
};

class Meanings {
 public:
  static base::Result<Meanings> read(const std::filesystem::path& path);
  /// Throws std::runtime_error when the content folder is damaged.
  static const Meanings& shipped();

  const std::vector<NextStep>& next() const { return next_; }
  const std::vector<MaterialCare>& materials() const { return materials_; }
  const std::vector<DangerSign>& signs() const { return signs_; }
  const std::vector<RemarkSign>& remark_signs() const { return remark_signs_; }
  /// For the letter where there are words for it, else the code's own; for an unknown code one that says
  /// only that.
  const Meaning& of(std::string_view code, std::string_view ch1) const;
  bool knows(std::string_view code) const;
  /// What comes next by an action: index into next(); 0 for carry on.
  std::size_t next_for(coding::Action action) const;
  /// What is only watched, and what somebody is asked about.
  std::size_t watch() const { return step("watch"); }
  std::size_t ask() const { return step("ask"); }
  /// What was not seen of a pipe; what a pipe in the worst class of all calls for.
  std::size_t inspect_rest() const { return step("inspect the rest"); }
  std::size_t ask_within_days() const { return step("ask within days"); }
  /// From this one on nothing is cleaned by a jet.
  std::size_t no_jet_from() const { return next_for(coding::Action::do_not_jet); }

 private:
  friend struct MeaningsReader;
  std::size_t step(std::string_view id) const;
  std::vector<NextStep> next_;
  std::vector<MaterialCare> materials_;
  std::vector<DangerSign> signs_;
  std::vector<RemarkSign> remark_signs_;
  std::map<std::string, Meaning, std::less<>> by_code_;  ///< "BAB" and "BAB A"
};

}  // namespace haunch::report
