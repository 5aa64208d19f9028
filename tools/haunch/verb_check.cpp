// SPDX-License-Identifier: Apache-2.0
// haunch check: what is wrong with files.
#include <algorithm>
#include <iostream>

#include "base/words.hpp"
#include "check_words.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

coding::Checks checks_of(const po::variables_map& given) {
  coding::Checks checks;
  if (!has(given, "without")) return checks;
  for (const std::string& names : given["without"].as<std::vector<std::string>>())
    for (const std::string& name : base::split(names, ',')) {
      if (checks.switch_off(base::trim(name))) continue;
      const std::string near = base::nearest_word(name, coding::Checks::names());
      throw UsageError("--without " + name +
                       " is not known or cannot be left out; `haunch check --rules` lists the rules" +
                       (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
    }
  return checks;
}

}  // namespace

int check(const Arguments& arguments) {
  Command command{
      "check FILE...",
      "Checks scenarios, records, code lists, grading schemes, rules, word lists and exchange files, and "
      "all\n"
      "such files of a folder. Up to twenty problems of a file are a line each: file:line:column: what is\n"
      "wrong; what was expected. More are summed up by kind, errors first.\n"
      "Warnings and notes do not make the exit code 1; errors do."};
  command.options.add_options()("every", "a line for every problem, however many")(
      "json", "for programs (content/schemas/check.schema.json); with --every, all places")(
      "without", po::value<std::vector<std::string>>()->value_name("NAME")->composing(),
      "leave out a rule or a group of rules, or `memory`: all that is known only from memory; names with\n"
      "commas, or several times")("rules", "list the rules of records and stop");
  command.places_many("FILE").needed.clear();
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  if (has(*given, "rules")) {
    print_out(rules_in_words());
    return done;
  }
  if (!has(*given, "FILE")) throw UsageError("missing: FILE; usage: haunch " + command.call);

  const bool json = has(*given, "json"), every = has(*given, "every");
  HowToCheck how{checks_of(*given), every && json ? Tally::all : Tally::few, {}};
  if (every && !json)
    how.as_it_comes = [](const base::Problem& problem) { std::cout << base::to_line(problem) << '\n'; };
  std::vector<std::filesystem::path> files;
  for (const std::string& name : (*given)["FILE"].as<std::vector<std::string>>())
    for (auto& file : files_to_check(name)) files.push_back(std::move(file));
  std::vector<Checked> all;
  std::size_t with_errors = 0;
  for (const auto& file : files) {
    Checked checked = check_file(file, how);
    with_errors += checked.tally.has_errors() ? 1 : 0;
    if (!json) std::cout << (every ? verdict_line(checked) : check_in_words(checked));
    if (json) all.push_back(std::move(checked));
  }
  if (json) print_out(check_to_json(all));
  if (!json && files.size() > 1)
    std::cout << counted(files.size(), "file") << ", "
              << (with_errors == 0 ? "none" : std::to_string(with_errors)) << " with errors\n";
  return with_errors > 0 ? input_has_problems : done;
}

}  // namespace haunch::cli
