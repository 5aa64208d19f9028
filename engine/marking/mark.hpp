// SPDX-License-Identifier: Apache-2.0
// An attempt against the truth: verdicts, score, consequence on the grade. Neither Record says
// where it came from.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"

namespace haunch::marking {

/// Tolerances and weights (content/marking/rules.json), each with its source or `ours`.
class Rules {
 public:
  static base::Result<Rules> read(const std::filesystem::path& path);
  static const Rules& shipped();
  /// content/marking/NAME.json ("rules", "teaching", "exam"), or a file where that is none of them.
  static base::Result<Rules> named(const std::string& name_or_file);
  static std::filesystem::path file_named(const std::string& name_or_file);
  struct Inside;  ///< defined in rules_inside.hpp, for this room only
  const Inside& inside() const { return *inside_; }
  const std::string& title() const { return title_; }  ///< "Everyday marking, edition 4"
  /// Of all that they say, what they are based on as well: what marks by them may be held against.
  const std::string& fingerprint() const { return fingerprint_; }

 private:
  std::shared_ptr<const Inside> inside_;
  std::string title_, fingerprint_;
};

enum class Aspect { code, characterisation, place, clock, size, joint, extent };
std::string show(Aspect aspect);
enum class Standing { right, partly, wrong, not_asked };
std::string show(Standing standing);

struct Verdict {
  Aspect aspect = Aspect::code;
  Standing standing = Standing::right;
  std::string given, expected;
  std::string tolerance;  ///< "within 0.30 m"
  std::string source;     ///< or "ours"
  std::string sentence;   ///< one plain sentence
  double earned = 0;      ///< share of this aspect's weight, 0..1
  bool counts = true;     ///< false: told only, as the rules give the aspect no weight
};

struct Hit {
  std::string truth, attempt;  ///< ids of observations (the begin of a continuous one)
  std::vector<Verdict> verdicts;
  double weight = 0;                     ///< how much this truth counts
  double earned = 0;                     ///< of that weight
  std::string truth_code, attempt_code;  ///< "BAB B A"
  std::optional<double> truth_m, attempt_m;
  bool neutral = false;      ///< found although it could not be seen: neither earns nor costs
  std::string weight_why{};  ///< what the weight is made of: "2 for a finding of its kind, 4 for class 4"
  /// What else it stands for: stretches that go on where those end, on either side.
  std::vector<std::string> also_truths{}, also_attempts{};
};
/// How a true finding was in view on the attempt's own drive. Measured by whoever has the pictures.
struct InView {
  std::string truth;        ///< its id
  double in_view_s = 0;     ///< any of it showed
  double plainly_s = 0;     ///< it stood out plainly
  double most_percent = 0;  ///< of the picture that it changed at most; 0 where that is too little to measure
  bool has_outline = true;  ///< false: a change or an end of the pipe, which cannot be measured in pictures
};
/// Where a person took the bottom of the pipe to be on the screen, and where it was: the mark that clock
/// positions are read from.
struct PlumbMark {
  double distance_m = 0;  ///< that the counter showed
  double off_h = 0;       ///< hours on the screen, clockwise; -6 to 6
};
/// Help that was asked for on the way.
struct HintTaken {
  double distance_m = 0;
  bool named = false;  ///< it told the code
};
/// What an attempt's own drive tells besides its record. It changes no score.
struct OnDrive {
  std::vector<PlumbMark> plumbs;
  std::vector<HintTaken> hints;
};
struct Missed {
  std::string truth;
  double weight = 0;
  bool dangerous = false;
  std::string sentence;
  std::string code;  ///< "BAB B A"
  std::optional<double> distance_m;
  std::optional<InView> in_view;  ///< nothing where nobody measured it
  std::string weight_why{};       ///< as of a hit
};
struct Invented {
  std::string attempt;
  double penalty = 0;
  bool duplicate = false;  ///< a second mark on something already found
  std::string sentence;
  std::string code;
  std::optional<double> distance_m;
};
/// An error of the counter that moved every mark, told once: what was counted is zero_m + scale x what is
/// true. Places are judged with it taken off.
struct CounterError {
  double zero_m = 0, scale = 1;
  int agree = 0, common = 0;           ///< so many marks of those whose code is in both records say so
  double penalty = 0;                  ///< in the weight of findings; never more than taking it off brings
  std::vector<std::string> sentences;  ///< one for the zero, one for the scale
};
/// One of the things a person has to be able to do, over the whole attempt.
struct Skill {
  /// "searching", "naming", "placing", "clock", "finding the bottom", "water depth", "sizes"
  std::string name;
  int right = 0, partly = 0, wrong = 0;
  std::optional<double> earned;  ///< mean share earned, 0..1; nothing where it was not asked for
  std::string sentence;
};
/// What was there to be found and what was made of it: free-response counts.
struct Summary {
  int there = 0, found = 0, right_name = 0, missed = 0, false_calls = 0, duplicates = 0, not_visible = 0;
  std::optional<double> inspected_m;  ///< between the first and the last distance of the truth
  std::optional<double> false_per_100m;
  std::string sentence;
};
/// Not found and not held against the attempt.
struct NotVisible {
  std::string truth;
  std::string why;
  std::string code;
  std::optional<double> distance_m;
};

/// The two Records graded, and what differs, in words.
struct Consequence {
  grading::Grade truth, attempt;
  std::vector<std::string> sentences;  ///< worst first; empty when nothing differs
};

/// A class the person gave against what the scheme gives.
struct ClassVerdict {
  std::string observation;  ///< attempt id; empty for the object class
  std::string goal;
  std::optional<int> given, own_record, truth;
  bool own_provisional = false, truth_provisional = false;  ///< of the two classes by the scheme
  std::string sentence;  ///< tells misgrading (given differs from own record) from miscoding
  /// The row of the scheme that decides each, with what was read in it: "row BAB/C/tightness: .. class 3".
  std::string own_row{}, truth_row{};
};
struct GradingMarks {
  bool given = false;  ///< false: the record carries no classes
  std::vector<ClassVerdict> classes;
  ClassVerdict object;
  int right = 0, asked = 0;  ///< against the person's own record
  /// Of these, those that rest on no provisional row. Only they may pass or fail anyone.
  int right_firm = 0, asked_firm = 0;
};
/// "3 of 5 right, all provisional: practice only".
std::string show_right(const GradingMarks& grading);
/// safer: stricter than called for where something is dangerous, which is never wrong. more_than_needed:
/// stricter where nothing is. dangerous: milder than called for, with the jet let in or nobody told.
enum class ActionStanding { not_given, right, safer, more_than_needed, not_enough, dangerous };
std::string show(ActionStanding standing);  ///< "not given", "safer than needed"

struct ActionMark {
  std::optional<coding::Action> given;
  ActionStanding standing = ActionStanding::not_given;
  coding::Action own_record = coding::Action::carry_on;  ///< what the rules say for the person's record
  coding::Action truth = coding::Action::carry_on;
  bool right = false;  ///< right or safer
  std::string sentence;
};

/// What one thing takes from the score.
struct Cost {
  std::string truth, attempt;  ///< what it is about: one of them, or both of what was found
  std::string what;            ///< "missed: BAB A A from 16.15 m to 16.80 m"
  double points = 0;           ///< of 100
};

struct Marking {
  double score = 0;  ///< 0..100, coding only
  /// Largest first. 100 less all of them is the score but for its tenths, never below 0, and never above 99.9
  /// where there are any.
  std::vector<Cost> costs;
  std::vector<std::string> warnings;  ///< what could hurt someone: said first whatever the score
  std::vector<std::string> remarks;   ///< what of the attempt could not be taken as it stands
  std::vector<Hit> hits;
  std::vector<Missed> missed;
  std::vector<Invented> invented;
  std::vector<NotVisible> not_visible;
  std::optional<CounterError> counter;
  Summary summary;
  std::vector<Skill> skills;
  Consequence consequence;
  GradingMarks grading;
  ActionMark action;
  std::vector<HintTaken> hints{};
  std::string help{};  ///< "2 hints were taken, at 3.20 m and 5.00 m; 1 told the code."; empty where none was
};

/// Marks an attempt. What the truth lists as not visible is not held against it. Order of observations in
/// either Record never matters. Distances in sentences are in `unit`; numbers stay in metres. `in_view` is
/// told with what was missed and `on_drive` with the skills; they decide nothing.
Marking mark(const coding::Record& truth, const coding::Record& attempt, const grading::Scheme& scheme,
             const grading::Site& site, const Rules& rules,
             const coding::CodeList& list = coding::CodeList::shipped(),
             base::LengthUnit unit = base::LengthUnit::metres, const std::vector<InView>& in_view = {},
             const OnDrive& on_drive = {});

/// What to do next, by the rules, for a Record; with the observation that decides it.
struct ActionReason {
  coding::Action action = coding::Action::carry_on;
  std::string observation;
  std::string why;    ///< with the place: "BAC B at 0.50 m: the pipe is broken: do not jet"
  std::string cause;  ///< the same without it; empty where nothing calls for more
};
/// What each finding calls for by itself, in an order that the order of the rows cannot change.
std::vector<ActionReason> actions_by_finding(const coding::Record& record, const Rules& rules,
                                             base::LengthUnit unit = base::LengthUnit::metres);
/// The most serious of them; of equally serious findings the first along the pipe is named.
ActionReason action_for(const coding::Record& record, const Rules& rules,
                        base::LengthUnit unit = base::LengthUnit::metres);

/// The machine-readable form (schema: content/schemas/marking.schema.json).
std::string to_json(const Marking& marking);

}  // namespace haunch::marking
