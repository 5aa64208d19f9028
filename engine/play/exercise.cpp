// SPDX-License-Identifier: Apache-2.0
// The drive: where the camera is, what may be done when. What is written down: recording.cpp.
#include "play/exercise.hpp"

#include <algorithm>
#include <cmath>

#include "play/in_view.hpp"
#include "play/say.hpp"

namespace haunch::play {
namespace {

constexpr double ticks_per_s = 60;
constexpr double place_m = 0.05;           // as finely as a drive is looked at again
constexpr double look_deg = 10;            // and as finely as it looked aside
constexpr double reached_slack_m = 0.005;  // what a counter that shows centimetres cannot tell apart

}  // namespace

Exercise::Exercise(scene::Scene scene, grading::Scheme scheme)
    : scene_(std::move(scene)), scheme_(std::move(scheme)), truth_(truth::derive(scene_)) {
  // What the job sheet says about the run; only the findings are the trainee's to write.
  record_.header = truth_.record.header;
  lens_along_m_ = lens_along_m(0);
  notice_water();
}

double Exercise::ring_along_m(double lens_along) const {
  const double z = scene::travel(scene_.scenario) > 0 ? lens_along : scene_.length_m() - lens_along;
  return lens_along + scene::reference_ring_ahead_m(scene::radius_at(scene_, z));
}

double Exercise::lens_along_m(double ring_along) const {
  // The ring's distance hangs on the bore at the lens: two rounds settle it unless the bore changes
  // just there, and then it is off by that change.
  double lens = ring_along;
  for (int round = 0; round < 2; ++round) lens = ring_along - (ring_along_m(lens) - lens);
  return lens;
}

double Exercise::lens_z_m() const {
  return scene::travel(scene_.scenario) > 0 ? lens_along_m_ : scene_.length_m() - lens_along_m_;
}

double Exercise::counter_m() const {
  const double along = std::clamp(ring_along_m(lens_along_m_), 0.0, scene_.length_m());
  const double z = scene::travel(scene_.scenario) > 0 ? along : scene_.length_m() - along;
  return scene::distance_of(scene_.scenario, z) + counter_off_m_;
}

double Exercise::chainage_at(double counter_m) const {
  return scene::chainage_of(scene_.scenario, counter_m - counter_off_m_);
}

double Exercise::furthest_m() const { return furthest_along_m_; }

scene::CameraPose Exercise::pose(double ahead_s) const {
  double lens_z = lens_z_m();
  if (ahead_s > 0 && phase_ == Phase::driving && speed_m_s_ != 0) {
    const double low = lens_along_m(0), high = std::max(low, most_lens_along_m());
    const double along = std::clamp(lens_along_m_ + speed_m_s_ * ahead_s, low, high);
    lens_z += scene::travel(scene_.scenario) * (along - lens_along_m_);
  }
  scene::CameraPose pose = scene::pose_at(scene_, lens_z);
  pose.yaw_deg += yaw_deg_;
  pose.pitch_deg += pitch_deg_;
  return pose;
}

std::vector<Exercise::Told> Exercise::told() const {
  std::vector<Told> told;
  for (std::size_t i = 0; i < truth_.origins.size(); ++i) {
    const int note = truth_.origins[i].note;
    if (note == 0 || !truth::is_told(truth_.origins[i], scene_.scenario, furthest_along_m_)) continue;
    told.push_back({*truth_.record.observations[i].distance_m.value + counter_off_m_,
                    truth::told_of(scene_.scenario.notes[static_cast<std::size_t>(note - 1)])});
  }
  return told;
}

bool Exercise::under_water() const { return scene::submerged_share(scene_, pose()) >= 1.0; }

std::optional<double> Exercise::wet_ago_s() const {
  if (!wet_tick_) return std::nullopt;
  return static_cast<double>(tick_ - *wet_tick_) / ticks_per_s;
}

void Exercise::notice_water() {
  wetted_ = scene::lens_wetted(scene_, pose());
  if (wetted_) wet_tick_ = tick_;
}

double Exercise::most_lens_along_m() const {
  const double end = lens_along_m(scene_.length_m());
  if (!truth_.stop) return end;
  const double stop = truth_.stop->lens_z_m;
  return std::min(end, scene::travel(scene_.scenario) > 0 ? stop : scene_.length_m() - stop);
}

bool Exercise::at_stop() const {
  return truth_.stop && lens_along_m_ >= most_lens_along_m() - reached_slack_m;
}

std::vector<Exercise::Stand> Exercise::driven() const {
  std::vector<Stand> all;
  for (const auto& [place, ticks] : ticks_at_) {
    const double along =
        std::clamp((static_cast<double>(place.lens) + 0.5) * place_m, 0.0, scene_.length_m());
    all.push_back({scene::travel(scene_.scenario) > 0 ? along : scene_.length_m() - along,
                   static_cast<double>(place.yaw) * look_deg, static_cast<double>(place.pitch) * look_deg,
                   static_cast<double>(ticks) / ticks_per_s});
  }
  return all;
}

void Exercise::step() {
  ++tick_;
  if (phase_ == Phase::driving) {
    ++ticks_at_[{static_cast<long>(std::floor(lens_along_m_ / place_m)), std::lround(yaw_deg_ / look_deg),
                 std::lround(pitch_deg_ / look_deg)}];
    turn_on();
  }
  if (phase_ != Phase::driving || speed_m_s_ == 0) {
    if (wetted_) wet_tick_ = tick_;
    return;
  }
  const double low = lens_along_m(0), high = std::max(low, most_lens_along_m());
  const double wanted = lens_along_m_ + speed_m_s_ / ticks_per_s;
  lens_along_m_ = std::clamp(wanted, low, high);
  if (lens_along_m_ != wanted) speed_m_s_ = 0;
  furthest_along_m_ =
      std::max(furthest_along_m_, std::clamp(ring_along_m(lens_along_m_), 0.0, scene_.length_m()));
  notice_water();
}

void Exercise::step_to(long tick) {
  while (tick_ < tick) step();
}

base::Problems Exercise::act(const Input& input) {
  struct Do {
    Exercise& exercise;
    base::Problems operator()(const Drive& input) const { return exercise.drive(input); }
    base::Problems operator()(const TurnHead& input) const { return exercise.turn_head(input); }
    base::Problems operator()(const GoTo& input) const { return exercise.go_to(input); }
    base::Problems operator()(const Log& input) const { return exercise.log(input); }
    base::Problems operator()(const Change& input) const { return exercise.change(input); }
    base::Problems operator()(const Remove& input) const { return exercise.remove(input); }
    base::Problems operator()(const GiveClasses& input) const { return exercise.give(input); }
    base::Problems operator()(const GiveObjectClass& input) const { return exercise.give(input); }
    base::Problems operator()(const GiveAction& input) const { return exercise.give(input); }
    base::Problems operator()(const Finish&) const { return exercise.finish(); }
    base::Problems operator()(const Resume&) const { return exercise.resume(); }
    base::Problems operator()(const Begin& input) const { return exercise.begin(input); }
    base::Problems operator()(const SetPlumb& input) const { return exercise.set_plumb(input); }
    base::Problems operator()(const SetCounter& input) const { return exercise.set_counter(input); }
    base::Problems operator()(const TakeHint&) const { return exercise.take_hint(); }
    base::Problems operator()(const KeepPicture& input) const { return exercise.keep_picture(input); }
  };
  base::Problems problems = std::visit(Do{*this}, input);
  if (problems.empty()) log_.push_back({tick_, input});
  return problems;
}

base::Problems Exercise::in_phase(Phase wanted, const std::string& what) const {
  if (phase_ == wanted) return {};
  const char* now = phase_ == Phase::driving   ? "the drive is not finished"
                    : phase_ == Phase::judging ? "the drive is finished; now come the classes and the action"
                                               : "the exercise is marked";
  return say(what + " is not possible now: " + now,
             wanted == Phase::driving ? "it while driving" : "it after the drive, before the marking");
}

base::Problems Exercise::drive(const Drive& input) {
  if (auto problems = in_phase(Phase::driving, "driving"); !problems.empty()) return problems;
  if (!std::isfinite(input.speed_m_s)) return say("the speed is not a number", "a speed in m/s");
  const double most = scene_.scenario.camera.speed_m_s;
  speed_m_s_ = std::clamp(input.speed_m_s, -most, most);
  return {};
}

base::Problems Exercise::turn_head(const TurnHead& input) {
  if (auto problems = in_phase(Phase::driving, "turning the head"); !problems.empty()) return problems;
  if (!head_turns()) return say("the head of a push camera does not turn", "a crawler");
  if (!std::isfinite(input.yaw_deg) || !std::isfinite(input.pitch_deg))
    return say("the direction is not a number", "degrees right of the pipe's axis and above it");
  const double aside = std::hypot(input.yaw_deg, input.pitch_deg);
  const double share = aside > scene::most_turn_deg ? scene::most_turn_deg / aside : 1;
  yaw_wanted_deg_ = share * input.yaw_deg;
  pitch_wanted_deg_ = share * input.pitch_deg;
  return {};
}

/// A tick of its turning: straight from where it looks to where it is to look.
void Exercise::turn_on() {
  if (!turning()) return;
  const double right = yaw_wanted_deg_ - yaw_deg_, up = pitch_wanted_deg_ - pitch_deg_;
  const double left = std::hypot(right, up), step = scene::turn_deg_s / ticks_per_s;
  if (left <= step) {
    yaw_deg_ = yaw_wanted_deg_, pitch_deg_ = pitch_wanted_deg_;
    return;
  }
  yaw_deg_ += right * step / left;
  pitch_deg_ += up * step / left;
}

base::Problems Exercise::go_to(const GoTo& input) {
  if (auto problems = in_phase(Phase::driving, "going there"); !problems.empty()) return problems;
  if (!std::isfinite(input.distance_m)) return say("the distance is not a number", "a distance in m");
  const double z = chainage_at(input.distance_m);
  const double along = scene::travel(scene_.scenario) > 0 ? z : scene_.length_m() - z;
  if (along < -reached_slack_m || along > furthest_along_m_ + reached_slack_m) {
    const bool outside = along < 0 || along > scene_.length_m() + reached_slack_m;
    return say(show(input.distance_m) + (outside ? " lies outside the run" : " has not been reached yet"),
               "a place that the drive has passed");
  }
  lens_along_m_ = lens_along_m(std::clamp(along, 0.0, furthest_along_m_));
  speed_m_s_ = 0;
  notice_water();
  return {};
}

std::string Exercise::show(double distance_m) const { return base::show_distance(distance_m, unit_); }

marking::Marking Exercise::marked(base::LengthUnit unit) const {
  coding::Record truth = expected();
  truth.not_visible.insert(truth.not_visible.end(), set_aside_.begin(), set_aside_.end());
  return marking::mark(truth, record_, scheme_, grading::site_from(truth_.record), marking::Rules::shipped(),
                       coding::CodeList::shipped(), unit, in_view_, on_drive());
}

void Exercise::was_in_view(std::vector<marking::InView> in_view) {
  in_view_ = std::move(in_view);
  if (marking_) marking_ = marked(base::LengthUnit::metres);
}

std::vector<std::string> Exercise::would_lose_on() const {
  return lost_on(marking_ ? *marking_ : marked(base::LengthUnit::metres));
}

void Exercise::set_aside(std::vector<coding::NotVisible> unseen) {
  if (phase_ != Phase::review) set_aside_ = std::move(unseen);
}

std::optional<marking::Marking> Exercise::marking_in(base::LengthUnit unit) const {
  if (!marking_ || unit == base::LengthUnit::metres) return marking_;
  return marked(unit);
}

base::Problems Exercise::finish() {
  if (phase_ == Phase::review) return in_phase(Phase::judging, "finishing");
  speed_m_s_ = 0;
  if (phase_ == Phase::driving) {
    phase_ = Phase::judging;
    return {};
  }
  marking_ = marked(base::LengthUnit::metres);
  phase_ = Phase::review;
  return {};
}

base::Problems Exercise::resume() {
  if (auto problems = in_phase(Phase::judging, "going back to coding"); !problems.empty()) return problems;
  if (mode_ == Mode::exam) return say("this is an exam: the drive is over", "the classes and the action");
  phase_ = Phase::driving;
  return {};
}

base::Result<Exercise> replay(scene::Scene scene, const std::vector<TimedInput>& log) {
  Exercise exercise(std::move(scene));
  base::Problems problems;
  for (std::size_t i = 0; i < log.size(); ++i) {
    const auto refuse = [&](base::Problem problem) {
      problem.place.line = static_cast<int>(i) + 2;  // after the header line
      problem.what = "at tick " + std::to_string(log[i].tick) + ": " + problem.what;
      problems.push_back(std::move(problem));
    };
    if (log[i].tick < exercise.tick()) {
      refuse({{}, base::Severity::error, "time runs backwards", "ticks that never fall", {}});
      continue;
    }
    exercise.step_to(log[i].tick);
    for (base::Problem& problem : exercise.act(log[i].input)) refuse(std::move(problem));
  }
  if (!problems.empty()) return problems;
  return exercise;
}

}  // namespace haunch::play
