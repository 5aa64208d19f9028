// SPDX-License-Identifier: Apache-2.0
// What the window knows: which screen, what is typed, what is open, what the camera shows. Keys and
// pointer end up in the same few calls here; nothing here draws, so tests run it without a display.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "grading/grade.hpp"
#include "play/entry.hpp"
#include "play/exercise.hpp"
#include "window/keeping.hpp"
#include "window/keys.hpp"
#include "window/listener.hpp"
#include "window/review_items.hpp"
#include "window/writing.hpp"

namespace haunch::window {

enum class Screen { start, driving, judging, review };

/// What the camera looks at now, for the picture.
struct Look {
  scene::CameraPose pose;
  double time_s = 0;
  double speed_m_s = 0, roll_deg_s = 0;  ///< what moves is drawn out
  std::optional<double> wet_ago_s;       ///< the lens was wetted so long ago
  int highlight_fault = 0;
  std::optional<double> ring_z_m;  ///< where the counter reads, when it is to be shown
};

class Session : public Listener {
 public:
  /// `keep` stores the marked exercise and says in words what became of it.
  using Keep = std::function<std::string(const play::Exercise&)>;
  /// `journal` is called after every input that counted, and now and then while the camera moves.
  using Journal = std::function<void(const play::Exercise&)>;
  Session(scene::Scene scene, Settings settings, Keep keep = {}, Journal journal = {});

  // -- what the window sends --------------------------------------------------------------------
  void press(const Press& press, bool repeated = false) override;
  void release(Key key) override;
  void release_all() override;
  void type(const std::string& utf8, bool repeated = false) override;
  void paste(const std::string& text) override;
  void command(Command command) override;
  void hold(int direction) override;
  void button_up() override { plumb_set(); }
  /// How what was missed was in view, when that has been measured: the review tells it from now on.
  void was_in_view(std::vector<marking::InView> in_view);
  /// The picture is dragged: a crawler's head turns by so much, a push camera's says why not.
  void turn_by(double right_deg, double up_deg);
  void tick(double seconds);  ///< real time has gone by

  // -- steps ------------------------------------------------------------------------------------
  void begin();
  void log_line();
  bool log_draft();
  void end_stretch(const std::string& id);
  void remove(const std::string& id);
  void go_to(double distance_m);
  void put_in_line(const std::string& text);
  void finish();          ///< to the judging screen, then from it to the review; asks when nothing was given
  void finish_without();  ///< the answer: yes, without them
  void resume();          ///< from judging back to coding
  void undo();            ///< what was logged, changed or removed last
  void redo();
  /// Puts what was logged into the line; logging the line changes it then.
  void edit(const std::string& id);
  void edit_last();          ///< the last, and with each further call the one before
  void turn_plumb(int way);  ///< by a tenth of an hour, clockwise or back
  void set_plumb(double on_screen_h);
  void plumb_set();  ///< the mark has come to rest: it counts now
  void hint();
  void keep_picture();  ///< with what was logged last within reach of here, or by itself
  void go_on();         ///< on the start card: takes up what was left unfinished
  void choose_row(int row);
  void give_class(int row, int goal, std::optional<int> grade);
  void give_object_class(int object_class);
  void give_action(coding::Action action);
  void choose_item(int item);
  void step_item(int by);  ///< to the next that is shown; past the last the notes come
  void say(std::string message, double for_seconds = 4);
  /// Inputs to be fed at their ticks instead of the person's; the log of an earlier exercise.
  void replay(std::vector<play::TimedInput> log);
  bool replaying() const { return replay_next_ < replay_.size(); }

  // -- what is shown ----------------------------------------------------------------------------
  Look look() const;
  bool moving() const;  ///< does what the camera shows change with time alone?
  std::string distance_text() const;
  /// What the counter reads at both ends of the pipe, and where its zero lies.
  std::string counter_words() const;
  /// Completion shown after the caret, or empty.
  std::string ghost() const;
  /// What the completion adds, in words, or empty.
  std::string ghost_meaning() const;
  /// A line of words about what is typed: echo, what is missing, what was not understood.
  struct Echo {
    std::string sentence, missing, not_understood;
  };
  Echo echo() const;
  std::string message() const { return clock_s_ < message_until_s_ ? message_ : std::string(); }
  std::string score_text() const;

  Screen screen = Screen::start;
  Settings settings;
  Line line;
  Draft draft;
  double plumb_h = 6;                   ///< where on the screen the person thinks the bottom is
  std::optional<base::ClockArc> drawn;  ///< arc drawn on the screen for the draft
  bool list_open = false, menu_open = false, section_open = false, help_open = false;
  bool guide_open = false;       ///< codes are being looked up by what is in the line
  bool narrow = false;           ///< list and menu do not fit side by side: opening one closes the other
  bool notes_wanted = false;     ///< review: Down past the last line shows the notes below it
  bool picture_alone = false;    ///< review: the list is put away
  std::optional<ItemKind> only;  ///< review: marks of one kind, or all
  bool looking_back = false;     ///< how what was missed was in view is being measured
  /// What a careful drive shows nowhere plainly, of what would be missed as it stands; may take a moment.
  /// Asked just before it is marked.
  std::function<std::vector<coding::NotVisible>()> careful_look;
  /// Is it there without waiting? Where nobody says, it is.
  std::function<bool()> careful_look_ready;
  bool waiting_to_mark() const { return waiting_; }
  /// Judging: what is not given is asked about before the attempt is stored for good.
  bool asking = false;
  std::string not_given() const;  ///< "no class and no action", or empty
  bool full_screen_wanted = false;
  /// Whom scores are kept under; asked on the start card where nobody has said.
  bool asking_name = false;
  Line name;
  std::string who;  ///< once it is known
  std::function<void(const std::string&)> on_name;
  play::Mode mode = play::Mode::practice;  ///< that will begin
  /// An earlier drive of this very run that did not come to its end.
  std::optional<Unfinished> unfinished;
  std::function<void(bool taken_up)> on_unfinished;  ///< what becomes of it, once that is decided
  /// Name of a picture that whoever draws is to keep; taken from here.
  std::optional<std::string> picture_wanted;
  bool plumb_shown() const;
  const std::string& editing() const { return editing_; }  ///< id of what the line changes, or empty
  bool quit_wanted = false;
  bool start_page_wanted = false;
  double replay_speed = 1;

  const play::Exercise& exercise() const { return exercise_; }
  const coding::CodeList& codes() const { return codes_; }
  const grading::Scheme& scheme() const { return scheme_; }
  const play::Entry& entry() const { return entry_; }
  const std::vector<JudgingRow>& rows() const { return rows_; }
  int row() const { return row_; }
  int goal() const { return goal_; }
  std::optional<int> object_class() const { return object_class_; }
  std::optional<coding::Action> action() const { return action_; }
  const std::vector<ReviewItem>& items() const { return items_; }
  const ReviewNotes& notes() const { return notes_; }
  bool shows(const ReviewItem& shown) const { return !only || *only == shown.kind; }
  /// Those that there are any of, in the order of the list.
  std::vector<ItemKind> kinds() const;
  void show_only(std::optional<ItemKind> kind);
  int item() const { return item_; }
  const std::string& kept() const { return kept_; }
  int driving() const;  ///< -1, 0, +1: which way the camera is moving

 private:
  bool act(const play::Input& input);  ///< false, with a message, when it made no sense
  /// The same for what can be taken back.
  bool write_down(play::Input input);
  /// How to take an input back, from what stands in the record before it; nothing for what has no way back.
  std::optional<play::Input> way_back(const play::Input& input) const;
  bool step_over(bool back);
  bool counter_typed();  ///< "counter 0": the line sets the counter; "go 3.2": takes the camera there
  bool go_typed(const std::vector<std::string>& words);
  void tell();                        ///< says what no picture shows, once, where the camera comes to it
  void turn_held(int right, int up);  ///< keys turn the head while they are held
  void turn_to(double yaw_deg, double pitch_deg);
  void drive();  ///< sends the speed that keys and buttons ask for
  void line_changed();
  void unit_changed();
  void press_driving(Command command);
  void press_judging(const Press& press);
  void press_review(const Press& press);
  void enter_judging();
  void enter_coding();
  void enter_review(bool watched);  ///< watched: a replay brought us here
  void recall_judgement();          ///< shows the classes the exercise holds
  void next_cell(int by);

  struct Step {
    play::Input there, back;
  };
  void mark_now();  ///< or as soon as the careful look is there
  bool waiting_ = false;
  std::vector<Step> done_, undone_;
  std::string editing_;
  bool plumb_moved_ = false;
  double plumb_until_s_ = 0;

  play::Exercise exercise_;
  const coding::CodeList& codes_;
  const grading::Scheme& scheme_;
  Keep keep_;
  Journal journal_;
  play::Entry entry_;
  int completion_ = 0;
  int key_direction_ = 0, button_direction_ = 0, latched_ = 0;
  int turn_right_ = 0, turn_up_ = 0;
  bool slow_ = false;
  double sent_speed_ = 0;
  double clock_s_ = 0, owed_s_ = 0, journaled_s_ = 0;
  std::string message_;
  double message_until_s_ = 0;
  bool stopped_ = false;  ///< it has been said that the camera goes no farther
  std::size_t told_ = 0;  ///< how much of what the exercise tells has been said
  std::vector<JudgingRow> rows_;
  int row_ = 0, goal_ = 0;
  std::optional<int> object_class_;
  std::optional<coding::Action> action_;
  std::vector<ReviewItem> items_;
  ReviewNotes notes_;
  int item_ = -1;
  std::optional<double> look_z_m_;  ///< judging and review: where the picture is taken
  int lit_fault_ = 0;
  std::string kept_;
  std::vector<play::TimedInput> replay_;
  std::size_t replay_next_ = 0;
};

}  // namespace haunch::window
