// SPDX-License-Identifier: Apache-2.0
// Condition classes for a Record under a scheme, each with the row that decided it.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "grading/site.hpp"

namespace haunch::grading {

/// no_defect: the scheme has a row, and by it this is too slight to be a defect.
enum class Outcome { classed, no_row, value_missing, condition_unknown, not_relevant, no_defect };
std::string show(Outcome outcome);

struct GoalClass {
  std::string goal;  ///< "tightness"
  Outcome outcome = Outcome::no_row;
  std::optional<int> grade;      ///< class, 1 slightest .. Grade::worst_class
  std::optional<double> number;  ///< of the class: a final number after boundary points, a score
  std::string row;               ///< id of the deciding row, e.g. "BAB/B/tightness"
  std::string reason;            ///< "opening width 3 mm, from 2 mm: class 3"; the rest stands apart
  std::string source;            ///< in words
  bool provisional = false;
  /// Classed, but its size is not given in full (where a run begins or changes; how far it goes round).
  bool least = false;
  bool doubtful = false;  ///< read from a size that can hardly be; the reason says which (doubt.hpp)
};

struct ObservationGrade {
  std::string observation;       ///< Observation::id
  std::vector<GoalClass> goals;  ///< in the scheme's order
  std::optional<double> max_number;
  double length_m = 0;  ///< a point counts as the scheme says
  bool provisional = false;
  std::optional<int> worst{};              ///< worst class of its goals
  std::string worst_goal{};                ///< the first goal that has it
  std::optional<double> from_m{}, to_m{};  ///< as the record counts; the same for a point
};

/// What the procedure makes of the whole pipe. A scheme may judge it in more than one way: its structure
/// apart from its working, say.
struct Overall {
  std::string id;                ///< "object", "structural"
  std::string name;              ///< for people: "object class"
  std::optional<double> number;  ///< what the class was read from
  std::optional<int> grade;      ///< 1 slightest; 0 where the scheme has a class for no defect
  std::string meaning;           ///< "act in the short term"
  std::string reason;            ///< numbers and bounds, and where the procedure stops
  std::string source;            ///< in words
  bool provisional = false;
  /// False where findings that count for it have no class, or not all of theirs: it may be worse.
  bool complete = true;
  /// What the number was reckoned from, by name: "mean" 3.23, "worst" 5. Empty where words are not wanted.
  std::vector<std::pair<std::string, double>> figures{};
  std::map<int, double> bounds{};  ///< class -> where it begins; a number on the bound:
  bool bound_included = false;     ///< true: has the worse class
  /// Its class, or the number of what has none, would be another without sizes that can hardly be
  /// (doubt.hpp).
  bool doubtful = false;
};

/// What should have counted for the class of the pipe and is not known.
struct Open {
  std::string observation;  ///< id of a finding; empty for a condition of the site
  std::string goal;         ///< empty: of any
  bool classed = false;     ///< false: the finding has no class at all for the goal
  std::string what;         ///< "row BAJ/B: offset joint (CK), the wall thickness of the pipe is not known"
};

struct Grade {
  std::string scheme;  ///< the name that may be shown (never the guideline's on a provisional grade)
  std::vector<std::string> goals;
  std::vector<ObservationGrade> observations;  ///< continuous ones once, at their begin
  std::vector<Overall> overall;                ///< in the scheme's order; empty where nothing can be said
  int worst_class = 5;                         ///< that the scheme has
  std::optional<double> object_number;         ///< three goals: preliminary object number
  std::optional<double> length_number;         ///< three goals: damage length number
  /// The worst of `overall` (ours); a procedure may take a worse one, and says so. Of what was seen; nothing
  /// where that decides nothing: no class at all, no defect in a pipe that was not wholly inspected, or the
  /// slightest class beside findings that could not be given one.
  std::optional<int> object_class;
  /// What the class might be if all of `open` were known; both are the class where nothing hangs on it. A
  /// class with a worse `object_most` is a lower bound, and has to be shown as one. Nothing beside a doubtful
  /// class that would not be there without sizes that can hardly be: no bound is known (doubt.hpp).
  std::optional<int> object_least, object_most;
  std::vector<Open> open;     ///< findings without a class, and whatever else the class hangs on
  std::string object_reason;  ///< says where the procedure stops and why
  /// Why the record does not show the whole pipe; empty when it does.
  std::vector<std::string> not_inspected;
  bool provisional = false;
  std::vector<std::string> missing;  ///< site conditions not given
  std::vector<std::string> notes;
  /// Sizes that can hardly be and that classes were read from: "BBC A at 3 m: quantification 1 is 900 %".
  /// Only where `mark_doubtful` looked for them (doubt.hpp).
  std::vector<std::string> doubtful{};
  /// False where the length of a run is not known: densities and the damage length number are too small then.
  bool lengths_complete = true;
  bool object_class_doubtful = false;  ///< it would be another without them; the reason says which
};

class Scheme {
 public:
  /// All problems of the file, each with its place.
  static base::Result<Scheme> read(const std::filesystem::path& path);
  /// content/grading/three-goals.json
  static const Scheme& shipped();
  /// Ids of all shipped schemes: the names of the files in content/grading.
  static std::vector<std::string> shipped_ids();
  /// A problem, with the nearest id, where there is none of that id.
  static base::Result<Scheme> shipped_named(const std::string& id);
  /// A shipped scheme's id, or else a file.
  static base::Result<Scheme> named(const std::string& id_or_file);
  /// The file that `named` reads.
  static std::filesystem::path file_named(const std::string& id_or_file);
  const std::string& id() const;
  const std::string& title() const;
  /// Of the bytes of its file, as base::fingerprint gives it: which edition it is.
  const std::string& fingerprint() const;
  std::string_view procedure() const;  ///< "three goals"
  /// Ids of its rows, in the order of the file.
  std::vector<std::string> row_ids() const;
  const std::vector<std::string>& goals() const;
  int worst_class() const;
  /// Ids of what its procedure judges beside the class of the pipe, in the order of `Grade::overall`; that
  /// may lack some.
  std::vector<std::string> overall_ids() const;
  std::string object_class_meaning(int object_class) const;
  /// What this scheme asks the site for.
  const std::vector<SiteField>& site_fields() const;
  /// What a field of the site may be; empty for a number, and for a field that this scheme does not ask for.
  std::vector<std::string> site_values(std::string_view field) const;
  /// Why the value cannot be, in plain words, with what it may be and the nearest; empty when it can.
  std::string wrong_site_value(std::string_view field, std::string_view value) const;

  struct Inside;  ///< defined in scheme_inside.hpp, for this room only
  const Inside& inside() const { return *inside_; }

 private:
  std::shared_ptr<const Inside> inside_;
};

/// none: reasons, meanings and notes stay empty, for tables of many pipes that only ask for classes.
enum class Words { all, none };

Grade grade(const coding::Record& record, const Scheme& scheme, const Site& site, Words words = Words::all);

/// Indices of `Grade::observations`, worst first: by class, then by number, then by place; what has no class
/// comes last.
std::vector<std::size_t> worst_first(const Grade& grade);

/// A class that rests on what nobody has read at its source is for practice only: it may be shown, marked
/// provisional, and must neither pass nor fail anyone. True where any class of the grade is such a one.
bool decides_on_provisional(const Grade& grade);
/// The class, where it may decide over a person.
std::optional<int> firm_class(const GoalClass& goal);

}  // namespace haunch::grading
