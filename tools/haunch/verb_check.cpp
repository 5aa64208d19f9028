// SPDX-License-Identifier: Apache-2.0
// haunch check: what is wrong with files, a line a problem.
#include <iostream>

#include "check_file.hpp"
#include "verbs.hpp"

namespace haunch::cli {

int check(const Arguments& arguments) {
  Command command{
      "check FILE...",
      "Checks scenarios, records, code lists, grading schemes, rules, word lists and exchange files.\n"
      "Each problem is one line: file:line:column: what is wrong; what was expected.\n"
      "Warnings and notes do not make the exit code 1; errors do."};
  command.places_many("FILE");
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  bool errors = false;
  for (const std::string& file : (*given)["FILE"].as<std::vector<std::string>>()) {
    const Checked checked = check_file(file);
    print_problems(checked.problems, std::cout);
    if (!base::has_errors(checked.problems)) {
      std::cout << file << ": " << checked.what << ", "
                << (checked.problems.empty() ? "no problems" : "no problems beyond these remarks") << '\n';
    }
    errors = errors || base::has_errors(checked.problems);
  }
  return errors ? input_has_problems : done;
}

}  // namespace haunch::cli
