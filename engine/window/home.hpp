// SPDX-License-Identifier: Apache-2.0
// The page that the program begins on and comes back to, and the pages behind it: what to do next, courses
// and their lessons, runs, exams, scores. Nothing here draws, so tests run it without a display.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "courses/course.hpp"
#include "play/drill_set.hpp"
#include "play/exercise.hpp"
#include "window/keeping.hpp"
#include "window/listener.hpp"
#include "window/writing.hpp"

namespace haunch::window {

/// A run is to be driven.
struct RunChosen {
  std::filesystem::path file;
  play::Mode mode = play::Mode::practice;
  bool operator==(const RunChosen&) const = default;
};
/// A set of questions is to be answered.
struct DrillChosen {
  play::DrillPlan plan;
  bool operator==(const DrillChosen&) const = default;
};
/// An exam is to be sat down to, or gone on with.
struct ExamChosen {
  std::filesystem::path file;
  bool operator==(const ExamChosen&) const = default;
};
struct Leave {
  bool operator==(const Leave&) const = default;
};
using Chosen = std::variant<RunChosen, DrillChosen, ExamChosen, Leave>;

/// Another page.
struct Page {
  enum class Kind { start, course, lesson, scores };
  Kind kind = Kind::start;
  std::string course, lesson;  ///< ids
  bool operator==(const Page&) const = default;
};
/// That a lesson was read is to be kept.
struct LessonRead {
  std::string course, lesson;
  bool operator==(const LessonRead&) const = default;
};
/// A picture is to be looked at beside the page.
struct Look_at {
  courses::LessonPicture picture;
  bool operator==(const Look_at&) const = default;
};

/// One line to choose.
struct HomeRow {
  std::string title;
  std::string words;  ///< what it is
  std::string state;  ///< what the person has made of it: "best 82, 3 times"
  std::variant<Chosen, Page, LessonRead, Look_at> does;
  std::string why_not{};  ///< why it cannot be chosen yet; empty: it can
  bool done = false;
};
struct HomeSection {
  std::string title;
  std::vector<HomeRow> rows;
};
struct HomePage {
  std::string title;
  std::vector<std::string> text;  ///< paragraphs above the rows
  std::vector<HomeSection> sections;
};

class Home : public Listener {
 public:
  Home(std::string who, Settings settings, Page page = {});

  void press(const Press& press, bool repeated = false) override;
  void type(const std::string& utf8, bool repeated = false) override;
  void command(Command command) override;

  /// Reads again what there is and what was made of it.
  void look_again();
  void go(Page page);
  void back();
  const Page& page() const { return page_; }
  const HomePage& shown() const { return shown_; }
  /// Chosen row, counted through all sections.
  int row() const { return row_; }
  int rows() const;
  const HomeRow& row_at(int row) const;
  void choose(int row);
  void take();        ///< does what the chosen row is for
  void name_given();  ///< the name that was typed is the person's from now on
  std::string message() const { return message_; }
  /// The picture that the chosen row is about, if it is about one.
  std::optional<courses::LessonPicture> picture() const;

  std::string who;
  Settings settings;
  bool asking_name = false;
  Line name;
  bool full_screen_wanted = false;
  bool settings_open = false;
  std::function<void(const std::string&)> on_name;
  std::optional<Chosen> chosen;  ///< taken from here by whoever runs the program

 private:
  HomePage shown_;
  Page page_;
  int row_ = 0;
  std::string message_;
};

}  // namespace haunch::window
