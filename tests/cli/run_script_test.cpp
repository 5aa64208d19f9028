// SPDX-License-Identifier: Apache-2.0
// tools/run, with stand-ins for what it installs, builds and starts.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// A tree with the script and a `haunch` that only says how it was called.
class RunScript : public testing::Test {
 protected:
  void SetUp() override {
    for (const char* name : {"tree/tools", "tree/build/release/bin", "tree/content/demo", "elsewhere"})
      fs::create_directories(haunch_.path(name));
    fs::copy_file(fs::path(HAUNCH_SOURCE_DIR) / "tools" / "run", haunch_.path("tree/tools/run"));
    script("tree/tools/install-packages", "true");
    script("tree/tools/build", "true");
    script("tree/build/release/bin/haunch", "printf 'haunch'; printf ' <%s>' \"$@\"; echo");
    haunch_.write("tree/content/demo/known.attempt.jsonl", "{}");
    haunch_.write("elsewhere/known.json", "{}");
    haunch_.write("elsewhere/mine.json", "{}");
  }
  void script(const std::string& name, const std::string& text) const {
    haunch_.write(name, "#!/bin/sh\n" + text + "\n");
    fs::permissions(haunch_.path(name), fs::perms::owner_all);
  }
  std::string run(const std::string& display, const std::string& words) const {
    const std::string command = "cd '" + haunch_.path("elsewhere").string() +
                                "' && env -u WAYLAND_DISPLAY DISPLAY=" + display + " ../tree/tools/run " +
                                words + " > ../said.txt 2>&1";
    EXPECT_EQ(std::system(command.c_str()), 0) << haunch_.read("said.txt");
    return haunch_.read("said.txt");
  }
  std::string file(const char* name) const {
    return fs::canonical(haunch_.path("elsewhere") / name).string();
  }
  Program haunch_;
};

TEST_F(RunScript, WithADisplayEverythingGoesToTrain) {
  EXPECT_THAT(run(":9", "known.json --units ft"),
              HasSubstr("haunch <train> <" + file("known.json") + "> <--units> <ft>\n"));
}

TEST_F(RunScript, WithoutOneAScenarioIsUsedWhereItsAttemptIsThere) {
  EXPECT_THAT(run("", "known.json"), HasSubstr("haunch <demo> <--scenario> <" + file("known.json") + ">\n"));
}

TEST_F(RunScript, WithoutOneWhatCannotBeUsedIsSaid) {
  const std::string said = run("", "mine.json");
  EXPECT_THAT(said, HasSubstr("Left aside without a window: " + file("mine.json")));
  EXPECT_THAT(said, HasSubstr("haunch <demo>\n"));
  EXPECT_THAT(run("", ""), HasSubstr("haunch <demo>\n"));
}

}  // namespace
}  // namespace haunch::cli_test
