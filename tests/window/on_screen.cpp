// SPDX-License-Identifier: Apache-2.0
// Processes, keys and screenshots.
#include "window/on_screen.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <thread>

#include "window/runs.hpp"

namespace haunch::window::test {
namespace fs = std::filesystem;
namespace {

std::string output_of(const std::string& command) {
  std::FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return {};
  std::string text;
  std::array<char, 4096> buffer{};
  for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    text.append(buffer.data(), got);
  }
  ::pclose(pipe);
  return text;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

}  // namespace

fs::path program_path() { return fs::path(HAUNCH_BIN_DIR) / "haunch-train"; }

std::string missing_tools() {
  std::string missing;
  for (const char* tool : {"Xvfb", "xdotool", "import", "convert"}) {
    if (output_of(std::string("command -v ") + tool).empty())
      missing += std::string(missing.empty() ? "" : ", ") + tool;
  }
  return missing;
}

Child::Child(const std::vector<std::string>& words, const std::map<std::string, std::string>& environment,
             const fs::path& output) {
  pid_ = ::fork();
  if (pid_ < 0) throw std::runtime_error("cannot fork");
  if (pid_ > 0) return;
  const int file = ::open(output.c_str(), O_CREAT | O_APPEND | O_WRONLY, 0600);
  ::dup2(file, 1);
  ::dup2(file, 2);
  for (const auto& [name, value] : environment) {
    if (value.empty())
      ::unsetenv(name.c_str());
    else
      ::setenv(name.c_str(), value.c_str(), 1);
  }
  std::vector<char*> pointers;
  for (const std::string& word : words) pointers.push_back(const_cast<char*>(word.c_str()));
  pointers.push_back(nullptr);
  ::execvp(pointers[0], pointers.data());
  ::_exit(126);
}

Child::~Child() {
  if (!running()) return;
  ::kill(pid_, SIGTERM);
  for (int i = 0; i < 200 && running(); ++i) OnScreen::rest(0.02);
  if (running()) ::kill(pid_, SIGKILL);
  wait();
}

bool Child::running() {
  if (!ended_ && ::waitpid(pid_, &status_, WNOHANG) == pid_) ended_ = true;
  return !ended_;
}

int Child::wait() {
  if (!ended_) ::waitpid(pid_, &status_, 0);
  ended_ = true;
  return WIFEXITED(status_) ? WEXITSTATUS(status_) : 128 + WTERMSIG(status_);
}

double Shot::mean(double x0, double y0, double x1, double y1) const {
  double sum = 0;
  long count = 0;
  for (int y = static_cast<int>(y0 * height); y < static_cast<int>(y1 * height); ++y) {
    for (int x = static_cast<int>(x0 * width); x < static_cast<int>(x1 * width); ++x) {
      sum +=
          grey[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
      ++count;
    }
  }
  return count == 0 ? 0 : sum / static_cast<double>(count);
}

double Shot::deviation() const {
  const double middle = mean(0, 0, 1, 1);
  double sum = 0;
  for (const unsigned char g : grey) sum += (g - middle) * (g - middle);
  return grey.empty() ? 0 : std::sqrt(sum / static_cast<double>(grey.size()));
}

double difference(const Shot& a, const Shot& b) {
  double sum = 0;
  const std::size_t count = std::min(a.grey.size(), b.grey.size());
  for (std::size_t i = 0; i < count; ++i) sum += std::abs(a.grey[i] - b.grey[i]);
  return count == 0 ? 0 : sum / static_cast<double>(count);
}

OnScreen::OnScreen(int width, int height) : width_(width), height_(height) {
  std::string pattern = (fs::temp_directory_path() / "haunch-window-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  folder_ = pattern;
  // The server picks a free display itself and says which.
  std::array<int, 2> ends{};
  if (::pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
  server_ = std::make_unique<Child>(
      std::vector<std::string>{"Xvfb", "-displayfd", std::to_string(ends[1]), "-screen", "0",
                               std::to_string(width) + "x" + std::to_string(height) + "x24", "-noreset",
                               "-nolisten", "tcp"},
      std::map<std::string, std::string>{}, folder_ / "xvfb.txt");
  ::close(ends[1]);
  char letter = 0;
  while (::read(ends[0], &letter, 1) == 1 && letter != '\n') display_ += letter;
  ::close(ends[0]);
  if (display_.empty()) throw std::runtime_error("Xvfb did not start");
  display_ = ":" + display_;
}

OnScreen::~OnScreen() {
  program_.reset();
  server_.reset();
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

std::map<std::string, std::string> OnScreen::environment() const {
  std::map<std::string, std::string> all = {
      {"DISPLAY", display_}, {"WAYLAND_DISPLAY", ""}, {"HAUNCH_DATA", data().string()}};
  if (!content_.empty()) all["HAUNCH_CONTENT"] = content_.string();
  return all;
}

std::string OnScreen::tool(const std::string& command) const {
  return output_of("DISPLAY=" + display_ + " " + command + " 2>/dev/null");
}

bool OnScreen::start(const std::vector<std::string>& arguments) {
  std::vector<std::string> words = {program_path().string(),
                                    "--width",
                                    std::to_string(width_),
                                    "--height",
                                    std::to_string(height_),
                                    "--threads",
                                    "1"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  program_ = std::make_unique<Child>(words, environment(), folder_ / "program.txt");
  window_.clear();
  while (window_.empty() && program_->running()) {
    rest(0.1);
    window_ = first_line(tool("xdotool search --onlyvisible --name Haunch"));
  }
  if (window_.empty()) return false;
  // The start card is up when its button is.
  for (int tries = 0; tries < 100 && program_->running() && !accent_button(0, 0, width_, height_); ++tries) {
    rest(0.2);
  }
  tool("xdotool windowfocus --sync " + window_);
  return program_->running();
}

void OnScreen::type(const std::string& text) const { tool("xdotool type --delay 25 '" + text + "'"); }
void OnScreen::key(const std::string& name) const {
  tool("xdotool key " + name);
  rest(0.1);
}
void OnScreen::taps(const std::string& name, int count) const {
  std::string keys;
  for (int i = 0; i < count; ++i) keys += ' ' + name;
  tool("xdotool key --delay 40" + keys);
  rest(0.1);
}
void OnScreen::key_down(const std::string& name) const { tool("xdotool keydown " + name); }
void OnScreen::key_up(const std::string& name) const { tool("xdotool keyup " + name); }
void OnScreen::click(int x, int y) const {
  tool("xdotool mousemove " + std::to_string(x) + " " + std::to_string(y));
  rest(0.2);
  tool("xdotool click 1");
  rest(0.2);
}

void OnScreen::mouse_down(int x, int y) const {
  tool("xdotool mousemove " + std::to_string(x) + " " + std::to_string(y));
  rest(0.2);
  tool("xdotool mousedown 1");
}
void OnScreen::mouse_up() const {
  tool("xdotool mouseup 1");
  rest(0.2);
}
void OnScreen::drag(int from_x, int from_y, int to_x, int to_y) const {
  mouse_down(from_x, from_y);
  rest(0.2);
  constexpr int steps = 6;
  for (int i = 1; i <= steps; ++i) {
    tool("xdotool mousemove " + std::to_string(from_x + (to_x - from_x) * i / steps) + " " +
         std::to_string(from_y + (to_y - from_y) * i / steps));
    rest(0.05);
  }
  rest(0.2);
  mouse_up();
}

std::optional<std::pair<int, int>> OnScreen::accent_button(int left, int top, int width, int height) const {
  const fs::path raw = folder_ / "accent.rgb";
  tool("import -window " + window_ + " -depth 8 'rgb:" + raw.string() + "'");
  std::ifstream stream(raw, std::ios::binary);
  const std::vector<char> bytes{std::istreambuf_iterator<char>(stream), {}};
  const auto is_accent = [&](int x, int y) {
    const std::size_t at =
        3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x));
    if (at + 2 >= bytes.size()) return false;
    const auto near = [&](std::size_t i, int wanted) {
      return std::abs(static_cast<unsigned char>(bytes[i]) - wanted) < 8;
    };
    return near(at, 104) && near(at + 1, 190) && near(at + 2, 255);
  };
  int longest = 0, best_x = -1, best_y = -1;
  for (int y = std::max(0, top); y < std::min(height_, top + height); ++y) {
    int run = 0;
    for (int x = std::max(0, left); x < std::min(width_, left + width); ++x) {
      run = is_accent(x, y) ? run + 1 : 0;
      if (run <= longest) continue;
      longest = run;
      best_x = x - run / 2;
      best_y = y;
    }
  }
  if (longest < 20) return std::nullopt;
  return std::pair{best_x, best_y + 3};
}

void OnScreen::click_accent(int left, int top, int width, int height) const {
  // A busy machine may take its time to draw the button.
  for (int tries = 0; tries < 100; ++tries) {
    if (const auto place = accent_button(left, top, width, height)) {
      click(place->first, place->second);
      return;
    }
    rest(0.2);
  }
  throw std::runtime_error("no button in the accent colour");
}

Shot OnScreen::shot(const std::string& name) const {
  const fs::path kept = fs::path(HAUNCH_SHOTS_DIR) / (name + ".png");
  fs::create_directories(kept.parent_path());
  rest(0.3);
  tool("import -window " + window_ + " '" + kept.string() + "'");
  const fs::path raw = folder_ / (name + ".gray");
  tool("convert '" + kept.string() + "' -colorspace Gray -depth 8 'gray:" + raw.string() + "'");
  std::ifstream stream(raw, std::ios::binary);
  Shot shot{width_, height_, {std::istreambuf_iterator<char>(stream), {}}};
  if (shot.grey.size() != static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_)) {
    throw std::runtime_error("the screenshot " + name + " has another size than the window");
  }
  return shot;
}

void OnScreen::rest(double seconds) { std::this_thread::sleep_for(std::chrono::duration<double>(seconds)); }

std::string text_of(const fs::path& file) {
  std::ifstream stream(file);
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::string scenario_in(const OnScreen& screen) {
  const fs::path file = screen.folder() / "short-run.json";
  std::ofstream(file) << short_run;
  return file.string();
}

std::vector<scores::Attempt> stored(OnScreen& screen) {
  const fs::path file = screen.data() / "scores.sqlite";
  for (int tries = 0; tries < patience && screen.program().running(); ++tries) {
    if (fs::exists(file)) {
      auto attempts = scores::Store::open(file).attempts();
      if (!attempts.empty()) return attempts;
    }
    OnScreen::rest(0.2);
  }
  return {};
}

}  // namespace haunch::window::test
