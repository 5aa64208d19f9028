// SPDX-License-Identifier: Apache-2.0
// One exercise without a screen: the drive, what was logged, the judgement, the marking; and a log
// of every input from which the whole exercise can be replayed.
#pragma once

#include <compare>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "marking/mark.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::play {

/// A `Log` or `Change` whose stretch is "A" begins the next free stretch; "B" ends the stretch of its code
/// that is open, taking from the begin whatever was not said again; "A3" and "B3" name the stretch.
///
/// Everything a trainee can do. Times are whole ticks of 1/60 s, so that a replay is exact.
struct Drive {
  double speed_m_s = 0;
};  ///< along travel; negative reverses; 0 stops
/// Where a crawler's head is to turn: it gets there at its own pace, and no farther off the axis than it can.
struct TurnHead {
  double yaw_deg = 0, pitch_deg = 0;  ///< right of the pipe's axis seen along travel, and above it
};
struct GoTo {
  double distance_m = 0;
};  ///< jump back to a distance already reached
struct Log {
  coding::Observation observation;
};  ///< distance empty: where the counter stands
struct Change {
  std::string id;
  coding::Observation observation;
};
struct Remove {
  std::string id;
};
struct GiveClasses {
  coding::GivenClasses classes;
};
struct GiveObjectClass {
  int object_class = 0;
};
struct GiveAction {
  coding::Action action = coding::Action::carry_on;
};
struct Finish {};
struct Resume {};  ///< from judging back to the drive; what was given so far is kept
/// How much help there is. In an exam none, and no way back from judging.
enum class Mode { practice, guided, exam };
std::string show(Mode mode);
std::optional<Mode> mode_from(const std::string& word);
/// The first input of all, or none: practice.
struct Begin {
  Mode mode = Mode::practice;
};
/// Where the person takes the bottom of the pipe to be, as an hour on the screen.
struct SetPlumb {
  double on_screen_h = 6;
};
/// The counter shall read this where it stands, as when it is set to zero at the start of a run.
struct SetCounter {
  double reads_m = 0;
};
struct TakeHint {};
/// Keeps the picture as it is now, with a finding that was written down, or by itself.
struct KeepPicture {
  std::string id;
};
using Input = std::variant<Drive, TurnHead, GoTo, Log, Change, Remove, GiveClasses, GiveObjectClass,
                           GiveAction, Finish, Resume, Begin, SetPlumb, SetCounter, TakeHint, KeepPicture>;

struct TimedInput {
  long tick = 0;
  Input input;
};

enum class Phase { driving, judging, review };
// driving: Drive, TurnHead, GoTo, Log, Change, Remove, SetPlumb, SetCounter, TakeHint, KeepPicture. Finish
// ends it and asks for classes and an action (judging), from which Resume goes back; a second Finish marks
// (review), and that is for good.

class Exercise {
 public:
  explicit Exercise(scene::Scene scene, grading::Scheme scheme = grading::Scheme::shipped());

  const scene::Scene& scene() const { return scene_; }
  const grading::Scheme& scheme() const { return scheme_; }  ///< what classes are given and marked by
  const truth::Truth& truth() const { return truth_; }
  /// What the attempt is held to: of what no picture shows only that which the drive came to be told of.
  coding::Record expected() const { return truth::as_told(truth_, scene_.scenario, furthest_along_m_); }
  struct Told {
    double distance_m = 0;
    std::string words;
  };
  /// What the trainee has been told so far, in the order of the drive; before it begins, what is told before.
  std::vector<Told> told() const;
  Phase phase() const { return phase_; }
  long tick() const { return tick_; }
  double time_s() const { return static_cast<double>(tick_) / 60.0; }

  /// Moves time on by one tick.
  void step();
  /// Moves time on to a tick (nothing when it has passed).
  void step_to(long tick);
  /// Does an input now; a problem (in words) when it makes no sense in this phase, and then nothing
  /// has changed and nothing is logged.
  base::Problems act(const Input& input);

  double lens_z_m() const;   ///< may lie a ring's distance outside the run at the entry; pose() does not
  double counter_m() const;  ///< distance shown: at the reference ring
  /// Scene chainage of what the counter shows, as it is set now.
  double chainage_at(double counter_m) const;
  double counter_off_m() const { return counter_off_m_; }  ///< by how much it shows too much
  double furthest_m() const;  ///< length of the run that the reference ring has passed
  double speed_m_s() const { return speed_m_s_; }
  /// `ahead_s`: as it will be so long after this tick (less than one tick), for pictures between two.
  scene::CameraPose pose(double ahead_s = 0) const;
  bool head_turns() const { return scene::head_turns(scene_.scenario); }
  /// Is the head turned aside, or on its way to it?
  bool turned() const { return yaw_deg_ != 0 || pitch_deg_ != 0 || turning(); }
  TurnHead head_wanted() const { return {yaw_wanted_deg_, pitch_wanted_deg_}; }
  bool turning() const { return yaw_deg_ != yaw_wanted_deg_ || pitch_deg_ != pitch_wanted_deg_; }
  bool under_water() const;
  /// How long ago the lens was last wetted on this drive, s; nothing: it never was.
  std::optional<double> wet_ago_s() const;
  /// Has the camera come to where it can go no farther although the run goes on?
  bool at_stop() const;

  /// Where the lens has been on this drive and how long, while there was something to write down: places 5 cm
  /// apart (ours), in m from the upstream end, along travel; and how it looked there, to ten degrees (ours).
  struct Stand {
    double lens_z_m = 0, yaw_deg = 0, pitch_deg = 0, seconds = 0;
  };
  std::vector<Stand> driven() const;

  Mode mode() const { return mode_; }
  /// How far the mark for the bottom is from it, of every time it was set.
  const std::vector<marking::PlumbMark>& plumbs() const { return plumbs_; }
  double bottom_on_screen_h() const;  ///< where the bottom of the pipe shows now
  /// Rows of the truth that could be seen, along the drive, for which nothing with their code is written down
  /// near.
  std::vector<std::string> left_to_write() const;
  struct Hint {
    double distance_m = 0;  ///< that the counter showed when it was asked for
    int level = 0;      ///< 0: nothing near is left; 1: that there is something; 2: of what kind; 3: its code
    std::string truth;  ///< id of what it is about, empty at level 0
  };
  const std::vector<Hint>& hints() const { return hints_; }
  /// What a hint would be about here and now; asking takes none.
  Hint next_hint() const;
  /// What the drive tells beside the record, for the marking.
  marking::OnDrive on_drive() const;
  std::string in_words(const Hint& hint) const;
  struct Kept {
    std::string name;         ///< "picture-01", as the finding's photograph is called
    std::string observation;  ///< or empty
    double distance_m = 0;    ///< that the counter showed
    scene::CameraPose pose;
    long tick = 0;
  };
  const std::vector<Kept>& pictures() const { return pictures_; }

  const coding::Record& record() const { return record_; }  ///< the attempt so far
  const std::optional<marking::Marking>& marking() const { return marking_; }
  const std::vector<TimedInput>& log() const { return log_; }

  /// How what was missed was in view on the drive, as far as somebody has measured it: the marking tells it
  /// from now on. It is no input, and changes no score.
  void was_in_view(std::vector<marking::InView> in_view);

  /// What points would be lost on if it were marked as it stands (play::lost_on); once it is marked, were
  /// lost.
  std::vector<std::string> would_lose_on() const;
  /// What a careful drive shows nowhere plainly is held against nobody (play::not_plain). Before it is
  /// marked; it is no input, as it follows from the scene and from what was logged.
  void set_aside(std::vector<coding::NotVisible> unseen);

  /// Unit of the distances in problems from now on. It is no input: record, marks and log stay as they are.
  void speak_in(base::LengthUnit unit) { unit_ = unit; }
  /// The same marking with its sentences in a unit; nothing before the review.
  std::optional<marking::Marking> marking_in(base::LengthUnit unit) const;

 private:
  base::Problems drive(const Drive& input);
  base::Problems turn_head(const TurnHead& input);
  void turn_on();
  base::Problems go_to(const GoTo& input);
  base::Problems log(const Log& input);
  base::Problems change(const Change& input);
  base::Problems remove(const Remove& input);
  base::Problems give(const GiveClasses& input);
  base::Problems give(const GiveObjectClass& input);
  base::Problems give(const GiveAction& input);
  base::Problems finish();
  base::Problems resume();
  base::Problems begin(const Begin& input);
  base::Problems set_plumb(const SetPlumb& input);
  base::Problems set_counter(const SetCounter& input);
  base::Problems take_hint();
  base::Problems keep_picture(const KeepPicture& input);
  base::Problems in_phase(Phase wanted, const std::string& what) const;
  base::Problems check(const coding::Observation& observation) const;
  base::Problems settle_stretch(coding::Observation& observation, const std::string& own_id) const;
  coding::Judgement& judgement();
  std::string show(double distance_m) const;
  void notice_water();
  double most_lens_along_m() const;
  marking::Marking marked(base::LengthUnit unit) const;
  double ring_along_m(double lens_along_m) const;  ///< both measured from where the camera goes in
  double lens_along_m(double ring_along_m) const;

  scene::Scene scene_;
  grading::Scheme scheme_;
  truth::Truth truth_;
  Phase phase_ = Phase::driving;
  long tick_ = 0;
  double lens_along_m_ = 0;      ///< from where the camera goes in; below 0 while the lens is still outside
  double furthest_along_m_ = 0;  ///< of the ring
  double speed_m_s_ = 0;
  double yaw_deg_ = 0, pitch_deg_ = 0, yaw_wanted_deg_ = 0, pitch_wanted_deg_ = 0;
  bool wetted_ = false;  ///< where the lens is now
  std::optional<long> wet_tick_;
  int next_id_ = 1;
  coding::Record record_;
  std::optional<marking::Marking> marking_;
  std::vector<TimedInput> log_;
  struct Place {
    long lens = 0, yaw = 0, pitch = 0;
    auto operator<=>(const Place&) const = default;
  };
  std::map<Place, long> ticks_at_;
  std::vector<marking::InView> in_view_;
  std::vector<coding::NotVisible> set_aside_;
  Mode mode_ = Mode::practice;
  double counter_off_m_ = 0;
  std::vector<marking::PlumbMark> plumbs_;
  std::vector<Hint> hints_;
  std::vector<Kept> pictures_;
  base::LengthUnit unit_ = base::LengthUnit::metres;
};

/// The input log as text (JSON Lines: one header line naming scenario hash and edition, then one
/// line an input; `by`: whose drive it is) and back. A problem names the line and column.
std::string log_to_text(const Exercise& exercise, const std::string& by = {});
struct LogFile {
  std::string scenario, scenario_hash;
  std::string by;  ///< whose drive it is, or empty
  std::vector<TimedInput> inputs;
};
base::Result<LogFile> log_file_from_text(const std::string& text, const std::string& file_name);
base::Result<std::vector<TimedInput>> log_from_text(const std::string& text, const std::string& file_name);
/// Plays a log from the beginning. A problem when an input makes no sense where it stands; its line is
/// that of the log as text.
base::Result<Exercise> replay(scene::Scene scene, const std::vector<TimedInput>& log);

}  // namespace haunch::play
