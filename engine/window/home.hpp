// SPDX-License-Identifier: Apache-2.0
// The page that the program begins on and comes back to: what to do next, and everything there is to choose
// from. Nothing here draws, so tests run it without a display.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

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
struct Leave {
  bool operator==(const Leave&) const = default;
};
using Chosen = std::variant<RunChosen, Leave>;

/// One line to choose.
struct HomeRow {
  std::string title;
  std::string words;  ///< what it is
  std::string state;  ///< what the person has made of it: "best 82, 3 times"
  Chosen chosen;
};
struct HomeSection {
  std::string title;
  std::vector<HomeRow> rows;
};

class Home : public Listener {
 public:
  Home(std::string who, Settings settings);

  void press(const Press& press, bool repeated = false) override;
  void type(const std::string& utf8, bool repeated = false) override;
  void command(Command command) override;

  /// Reads again what there is and what was made of it.
  void look_again();
  const std::vector<HomeSection>& sections() const { return sections_; }
  /// Chosen row, counted through all sections.
  int row() const { return row_; }
  int rows() const;
  const HomeRow& row_at(int row) const;
  void choose(int row);
  void take();  ///< the chosen row is what is wanted
  void take(Chosen wanted) { chosen = std::move(wanted); }
  void name_given();  ///< the name that was typed is the person's from now on
  std::string message() const { return message_; }

  std::string who;
  Settings settings;
  bool asking_name = false;
  Line name;
  bool full_screen_wanted = false;
  std::function<void(const std::string&)> on_name;
  std::optional<Chosen> chosen;  ///< taken from here by whoever runs the program

 private:
  std::vector<HomeSection> sections_;
  int row_ = 0;
  std::string message_;
};

}  // namespace haunch::window
