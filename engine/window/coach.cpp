// SPDX-License-Identifier: Apache-2.0
#include "window/coach.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "play/written.hpp"
#include "window/language.hpp"

namespace haunch::window {
namespace {

constexpr double before_ring_m = 0.15;  // as far ahead of the ring a thing is written down here
constexpr double past_ring_m = 0.05;    // and so far behind: what the ring has passed is out of sight
constexpr double in_reach_m = 1.0;      // ahead: before that it cannot be made out
constexpr double at_end_m = 0.05;
constexpr double near_bottom_h = 0.5;  // the plumb mark is right within this
constexpr double rolled_h = 0.8;       // and has to be turned anew beyond this

std::string key(Command command) { return key_of(command); }

/// What is written down when it is this, and what that means.
std::string example_of(const coding::Observation& there, const Session& session) {
  coding::Observation one = there;
  one.remark.clear();
  // The number of a stretch is found when it is logged.
  if (!one.stretch.empty()) one.stretch = one.stretch.substr(0, 1) + "1";
  const auto line = play::written(one, session.codes(), session.settings.unit);
  return tr("type  {0}  and {1} ({2})", {line.value_or(coding::show_code(one)), key(Command::log),
                                         coding::in_words(one, session.codes())});
}

/// The first along the drive that is not written down, as far as the camera can make it out.
const coding::Observation* next_thing(const play::Exercise& exercise) {
  const int way = scene::travel(exercise.scene().scenario);
  for (const std::string& id : exercise.left_to_write()) {
    const coding::Observation* row = exercise.truth().record.find(id);
    const double z = exercise.chainage_at(*row->distance_m.value + exercise.counter_off_m());
    const double along = way > 0 ? z : exercise.scene().length_m() - z;
    if (along <= exercise.furthest_m() + in_reach_m) return row;
  }
  return nullptr;
}

/// How far the mark is from the bottom as it shows now.
double plumb_off_h(const Session& session) {
  return std::abs(std::remainder(session.plumb_h - session.exercise().bottom_on_screen_h(), 12.0));
}

/// Where the run begins, while the record does not say so.
const coding::Observation* unwritten_start(const play::Exercise& exercise) {
  const auto is_start = [](const coding::Observation& row) {
    return row.code == "BCD" && row.distance_m.value;
  };
  const auto& written = exercise.record().observations;
  if (std::any_of(written.begin(), written.end(), is_start)) return nullptr;
  const auto& truth = exercise.truth().record.observations;
  const auto start = std::find_if(truth.begin(), truth.end(), is_start);
  return start == truth.end() ? nullptr : &*start;
}

/// A stretch that was begun and whose end in the truth has been passed or is here.
std::string to_be_ended(const Session& session) {
  const play::Exercise& exercise = session.exercise();
  for (const coding::Observation& row : exercise.truth().record.observations) {
    if (row.stretch.empty() || row.stretch[0] != 'B' || !row.distance_m.value) continue;
    if (std::abs(*row.distance_m.value + exercise.counter_off_m() - exercise.counter_m()) > before_ring_m)
      continue;
    for (const coding::Observation& begun : exercise.record().observations) {
      if (begun.code != row.code || begun.stretch.size() < 2 || begun.stretch[0] != 'A') continue;
      const auto open = open_stretches(exercise.record());
      for (const std::string& name : open)
        if (name == begun.stretch.substr(1)) return row.code + " B" + name;
    }
  }
  return {};
}

std::string at_hand(const coding::Observation& there, const Session& session) {
  const play::Exercise& exercise = session.exercise();
  const double at_m = *there.distance_m.value + exercise.counter_off_m();
  const double ahead = at_m - exercise.counter_m();
  const int counts = scene::distance_of(exercise.scene().scenario, scene::travel(exercise.scene().scenario)) >
                             scene::distance_of(exercise.scene().scenario, 0)
                         ? 1
                         : -1;
  const std::string place = base::show_distance(at_m, session.settings.unit);
  if (counts * ahead < -past_ring_m)
    return tr("You have passed something at {0}: drive back until the counter reads it.", {place});
  if (counts * ahead > before_ring_m)
    return tr("There is something at {0}: drive on until the counter reads it.", {place});
  if (there.clock_from && plumb_off_h(session) > rolled_h)
    return tr(
        "Before you read the clock here: the camera has rolled, so turn the plumb mark to the bottom again "
        "({0}, {1}).",
        {key(Command::plumb_left), key(Command::plumb_right)});
  std::string words = tr("Stop here and look: {0}.", {example_of(there, session)});
  if (!there.reason.empty()) words += " " + tr("Why so: {0}.", {there.reason});
  return words;
}

std::string while_driving(const Session& session) {
  const play::Exercise& exercise = session.exercise();
  if (const auto* start = unwritten_start(exercise)) {
    const double at_m = *start->distance_m.value + exercise.counter_off_m();
    if (std::abs(at_m - exercise.counter_m()) > before_ring_m) return at_hand(*start, session);
    return tr("A record says first where the run begins: {0}.", {example_of(*start, session)});
  }
  if (exercise.furthest_m() < in_reach_m / 2 && exercise.record().observations.size() < 2)
    return tr(
        "Hold {0} to drive in, and let go to stop. The number at the foot is how far along you are: it is "
        "read where the faint ring lies on the wall.",
        {key(Command::forward)});
  if (exercise.plumbs().empty())
    return tr(
        "Which way is down? The camera may have rolled over. Turn the plumb mark to the bottom of the pipe "
        "with "
        "{0} and {1}: water and dirt lie lowest. Clock positions are read from it, 12 at the top.",
        {key(Command::plumb_left), key(Command::plumb_right)});
  if (exercise.plumbs().size() < 8 && std::abs(exercise.plumbs().back().off_h) > near_bottom_h &&
      std::abs(exercise.plumbs().back().distance_m - exercise.counter_m()) < before_ring_m)
    return tr("Not there yet: look where the water runs, and turn the mark on ({0}, {1}).",
              {key(Command::plumb_left), key(Command::plumb_right)});
  if (const std::string ending = to_be_ended(session); !ending.empty())
    return tr("What you began ends here: type  {0}  and {1}.", {ending, key(Command::log)});
  if (const auto* there = next_thing(exercise)) return at_hand(*there, session);
  if (exercise.furthest_m() >= exercise.scene().length_m() - at_end_m || exercise.at_stop())
    return tr("That was the run. {0} finishes it; then you say how bad each thing is.",
              {key(Command::finish)});
  return tr("Nothing here that you have not written down. Drive on; {0} keeps driving and Space stops.",
            {key(Command::forward_on)});
}

std::string while_judging(const Session& session) {
  const auto& rows = session.rows();
  const bool each = std::all_of(rows.begin(), rows.end(), [](const JudgingRow& row) {
    return std::any_of(row.classes.begin(), row.classes.end(),
                       [](const auto& one) { return one.has_value(); });
  });
  if (!each)
    return tr(
        "How bad is each, for each of the three? A digit gives a class, 1 slightest to 5 worst, and goes on "
        "to the "
        "next; arrows go on without giving one.");
  if (!session.object_class())
    return tr(
        "Now the whole run: arrows go down to it, a digit from 0 (nothing to do) to 5 (act at once) gives "
        "it.");
  if (!session.action()) return tr("And what to do next: a digit gives it.");
  return tr("{0} marks it.", {key(Command::finish)});
}

}  // namespace

std::string coach_words(const Session& session) {
  if (session.exercise().mode() != play::Mode::guided || session.replaying()) return {};
  switch (session.screen) {
    case Screen::driving:
      return while_driving(session);
    case Screen::judging:
      return while_judging(session);
    case Screen::start:
    case Screen::review:
      return {};
  }
  return {};
}

}  // namespace haunch::window
