// SPDX-License-Identifier: Apache-2.0
// A set of questions as the window has it: what is asked, what is typed or chosen so far, what came of it.
// Nothing here draws, so tests run it without a display.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "play/drill_set.hpp"
#include "window/keeping.hpp"
#include "window/listener.hpp"
#include "window/session.hpp"
#include "window/writing.hpp"

namespace haunch::window {

class Drilling : public Listener {
 public:
  enum class State {
    waiting,  ///< the next question is being made
    asking,
    answered,  ///< what came of it is shown
    over
  };
  /// `keep` stores an answer and says what went wrong, or nothing.
  using Keep = std::function<std::string(const scores::Answer&)>;
  Drilling(play::DrillSet set, Settings settings, Keep keep = {});

  void press(const Press& press, bool repeated = false) override;
  void type(const std::string& utf8, bool repeated = false) override;
  void command(Command command) override;

  /// The next question is there; or none came out, and why.
  void ask(std::shared_ptr<const drills::Item> item);
  void none_came(const std::string& why);
  void tick(double seconds);

  void choose(int option);      ///< of the options, or of an hour, class, step
  void step_number(double by);  ///< the number that is typed, up or down
  void turn_bottom(double by_h);
  void set_bottom(double hour_h);
  void set_hour(int hour);  ///< first from, then to; again begins anew
  void give_class(const std::string& goal, int grade);
  void confirm();     ///< answers, or goes on to the next
  void show_again();  ///< the clip from its beginning
  void stop();        ///< ends the set here

  State state() const { return state_; }
  const drills::Item* item() const { return item_.get(); }
  const play::DrillSet& set() const { return set_; }
  /// What the camera shows now.
  Look look() const;
  bool moving() const;
  bool ready_to_answer() const;
  const drills::Answer& answer() const { return answer_; }
  const std::string& sentence() const { return sentence_; }
  double credit() const { return credit_; }
  const std::string& message() const { return message_; }
  /// The question after the one that is shown, once: whoever makes them takes it and makes it meanwhile.
  std::optional<drills::Wanted> wanted();

  Settings settings;
  Line line;
  bool full_screen_wanted = false;
  bool left = false;  ///< back to the start page
  bool quit_wanted = false;

 private:
  void read_line();
  void finish_or_wait();
  play::DrillSet set_;
  Keep keep_;
  State state_ = State::waiting;
  std::shared_ptr<const drills::Item> item_;
  drills::Answer answer_;
  double shown_s_ = 0, clip_s_ = 0, credit_ = 0;
  std::string sentence_, message_;
  bool asked_for_ = false, nothing_more_ = false;
  int failures_ = 0;
};

}  // namespace haunch::window
