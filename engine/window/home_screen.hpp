// SPDX-License-Identifier: Apache-2.0
// The start page on the screen, before a pipe that is dark enough to read upon. Inside this room.
#pragma once

#include <memory>
#include <string>

#include "window/home.hpp"

namespace haunch::window {

class Stage;

class HomeScreen {
 public:
  HomeScreen(Stage& stage, int threads);
  ~HomeScreen();
  HomeScreen(const HomeScreen&) = delete;
  HomeScreen& operator=(const HomeScreen&) = delete;

  /// Shows it until something is chosen, beginning on the page that was shown last; `said` is told there.
  /// `who` changes where somebody else says a name.
  Chosen choose(std::string& who, const std::string& said);

 private:
  struct Backdrop;
  Stage& stage_;
  int threads_;
  Page page_;  ///< shown last, and the row chosen on it
  int row_ = 0;
  std::unique_ptr<Backdrop> backdrop_;
};

}  // namespace haunch::window
