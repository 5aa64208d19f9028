// SPDX-License-Identifier: Apache-2.0
// The verbs of the command line, one small file each. They give the exit code back, and throw
// UsageError, InputProblems or std::exception for main to catch.
#pragma once

#include "cli.hpp"

namespace haunch::cli {

int train(const Arguments& arguments);
int demo(const Arguments& arguments);
int check(const Arguments& arguments);
int truth(const Arguments& arguments);
int render(const Arguments& arguments);
int sight(const Arguments& arguments);
int drill(const Arguments& arguments);
int guide(const Arguments& arguments);
int mark(const Arguments& arguments);
int grade(const Arguments& arguments);
int convert(const Arguments& arguments);
int scores(const Arguments& arguments);

}  // namespace haunch::cli
