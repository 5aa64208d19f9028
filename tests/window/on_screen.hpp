// SPDX-License-Identifier: Apache-2.0
// A display of the test's own (Xvfb), the program on it, real keys (xdotool) and pictures of the
// screen (ImageMagick).
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "scores/store.hpp"

namespace haunch::window::test {

/// What is not installed of Xvfb, xdotool, import, convert; empty when all are there.
std::string missing_tools();

/// A started program; ended with the object.
class Child {
 public:
  /// `environment`: name -> value; an empty value takes the name away.
  Child(const std::vector<std::string>& words, const std::map<std::string, std::string>& environment,
        const std::filesystem::path& output);
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;
  bool running();
  /// Waits for its end: exit code, or 128 + signal.
  int wait();
  pid_t id() const { return pid_; }

 private:
  pid_t pid_ = -1;
  int status_ = -1;
  bool ended_ = false;
};

/// Greys of a screenshot, 0..255.
struct Shot {
  int width = 0, height = 0;
  std::vector<unsigned char> grey;
  double mean(double x0, double y0, double x1, double y1) const;  ///< of a box, in shares of the size
  double deviation() const;
};
/// Mean difference of two shots of one size.
double difference(const Shot& a, const Shot& b);

/// An empty folder that goes away with the test, a display, and the program.
class OnScreen {
 public:
  OnScreen(int width, int height);
  ~OnScreen();

  std::filesystem::path folder() const { return folder_; }
  std::filesystem::path data() const { return folder_ / "data"; }
  std::map<std::string, std::string> environment() const;
  /// Another content than the shipped one.
  void use_content(const std::filesystem::path& folder) { content_ = folder; }

  /// Starts haunch-train; true once its window is there and has the keyboard.
  bool start(const std::vector<std::string>& arguments);
  Child& program() { return *program_; }

  void type(const std::string& text) const;
  void key(const std::string& name) const;
  /// The key pressed and let go so often, as fast as fingers can.
  void taps(const std::string& name, int count) const;
  void key_down(const std::string& name) const;
  void key_up(const std::string& name) const;
  void click(int x, int y) const;
  void mouse_down(int x, int y) const;
  void mouse_up() const;
  /// Pressed at one place, moved in a few steps, let go at another.
  void drag(int from_x, int from_y, int to_x, int to_y) const;
  /// Clicks the middle of the widest stroke in the accent colour (the one filled button), within a box.
  void click_accent(int left = 0, int top = 0, int width = 100000, int height = 100000) const;
  /// Where that stroke is now, just inside its button; nothing when none is on the screen.
  std::optional<std::pair<int, int>> accent_button(int left, int top, int width, int height) const;
  /// Takes a picture of the window, kept as <name>.png in the build folder.
  Shot shot(const std::string& name) const;
  static void rest(double seconds);

 private:
  std::string tool(const std::string& command) const;
  int width_ = 0, height_ = 0;
  std::filesystem::path folder_, content_;
  std::unique_ptr<Child> server_, program_;
  std::string display_;
  std::string window_;
};

std::filesystem::path program_path();

/// Looks at something that is bound to come, this often, a fifth of a second apart; then it has not come.
inline constexpr int patience = 300;
std::string text_of(const std::filesystem::path& file);
/// The short run (runs.hpp) as a file in the test's folder.
std::string scenario_in(const OnScreen& screen);
/// The attempts in the store once there is one, or none when the program ends first.
std::vector<scores::Attempt> stored(OnScreen& screen);

#define SKIP_WITHOUT_DISPLAY_TOOLS()                                                           \
  if (const std::string missing = ::haunch::window::test::missing_tools(); !missing.empty()) { \
    GTEST_SKIP() << "the window is not tested: not installed: " << missing;                    \
  }                                                                                            \
  static_assert(true)

}  // namespace haunch::window::test
