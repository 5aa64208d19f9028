// SPDX-License-Identifier: Apache-2.0
// Writes content/demo/canteen-branch.attempt.jsonl: a believable, imperfect attempt at the canteen's
// branch, driven and typed as a person would. Run it again when the scenario or the words change:
//   write_demo_attempt content/demo/canteen-branch.attempt.jsonl
#include <cstdio>
#include <exception>

#include "play/drive.hpp"

namespace haunch::play::test {
namespace {

std::string attempt() {
  Driver trainee(shipped_scene("canteen-branch"));
  trainee.wait(3);
  trainee.type("start manhole # K2");
  trainee.type("standing water 5% cloudy");
  trainee.drive_to(3.9);
  trainee.type("wye 100 mm at 2 open");
  trainee.drive_to(5.2);
  const std::string silt = trainee.type("silt 10% begin");
  trainee.drive_to(6.5);
  trainee.type("silt end");
  trainee.drive_to(7.8);
  trainee.type("standing water 30% cloudy begin");
  trainee.drive_to(10.1);
  trainee.type("water end");
  // The connection that reaches in is seen; that it is a connection of its own kind is forgotten.
  trainee.drive_to(12.75);
  const std::string intruding = trainee.type("intruding lateral 20% at 10");
  trainee.drive_to(14.45);
  trainee.type("transition pvc to concrete");
  const std::string offset = trainee.type("offset joint 28 mm at 1");  // three times what it is
  const std::string roots = trainee.type("fine roots 5% 12 to 3 at joint");
  trainee.drive_to(16.05);
  const std::string open_joint = trainee.type("open joint 20 mm");
  // The hairline crack right after it is overlooked.
  trainee.drive_to(17.4);
  const std::string fracture = trainee.type("branching fracture 2 mm 3 to 5");  // the other side of the pipe
  trainee.drive_to(18.1);
  const std::string grease = trainee.type("grease 25% 8-4 begin");
  trainee.drive_to(19.3);
  const std::string drip = trainee.type("infiltration dripping at 1");  // there is none
  // What the grease hides cannot be found; a second look at how thick it lies can be had.
  trainee.drive_to(21.3);
  trainee.drive_to(20.65, 0.08);
  coding::Observation less = *trainee.exercise.record().find(grease);
  less.q1 = 15;  // on second thoughts
  trainee.act(Change{grease, less});
  trainee.drive_to(21.95);
  trainee.type("grease end");
  trainee.drive_to(24.0);
  trainee.type("finish inspection chamber # K1");
  trainee.wait(2);
  trainee.act(Finish{});

  const auto give = [&](const std::string& id, int tightness, int stability, int operation) {
    trainee.wait(4);
    coding::GivenClasses given{id, {}};
    if (tightness > 0) given.classes["tightness"] = tightness;
    if (stability > 0) given.classes["stability"] = stability;
    if (operation > 0) given.classes["operation"] = operation;
    trainee.act(GiveClasses{given});
  };
  give(silt, 0, 0, 2);
  give(intruding, 0, 0, 3);
  give(offset, 3, 0, 0);
  give(roots, 3, 0, 2);
  give(open_joint, 2, 0, 0);
  give(fracture, 4, 3, 0);
  give(grease, 0, 0, 3);
  give(drip, 4, 0, 0);
  trainee.act(GiveObjectClass{3});
  trainee.act(GiveAction{coding::Action::clean_again});
  trainee.wait(2);
  trainee.act(Finish{});
  return log_to_text(trainee.exercise);
}

}  // namespace
}  // namespace haunch::play::test

int main(int count, char** arguments) {
  if (count != 2) {
    std::fputs("usage: write_demo_attempt FILE\n", stderr);
    return 2;
  }
  try {
    const auto problems =
        haunch::base::write_file(arguments[1], haunch::play::test::attempt(), haunch::base::Overwrite::yes);
    for (const auto& problem : problems) std::fprintf(stderr, "%s\n", haunch::base::to_line(problem).c_str());
    return problems.empty() ? 0 : 1;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 3;
  }
}
