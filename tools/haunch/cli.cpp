// SPDX-License-Identifier: Apache-2.0
#include "cli.hpp"

#include <algorithm>
#include <cmath>
#include <iostream>

#include "base/files.hpp"
#include "base/words.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

Command& Command::place(const std::string& name, bool must) {
  hidden.add_options()(name.c_str(), po::value<std::vector<std::string>>());
  places.add(name.c_str(), 1);
  if (must) needed.push_back(name);
  return *this;
}

Command& Command::places_many(const std::string& name) {
  hidden.add_options()(name.c_str(), po::value<std::vector<std::string>>());
  places.add(name.c_str(), -1);
  needed.push_back(name);
  return *this;
}

std::optional<po::variables_map> read_arguments(const Command& command, const Arguments& arguments) {
  po::options_description shown(command.options);
  shown.add_options()("help,h", "show this and stop");
  po::options_description all;
  all.add(shown).add(command.hidden);
  // No guessing from the first letters: a new option must never change what an old call means.
  const int style = po::command_line_style::default_style & ~po::command_line_style::allow_guessing;
  po::variables_map given;
  po::store(po::command_line_parser(arguments).options(all).positional(command.places).style(style).run(),
            given);
  if (given.count("help") != 0) {
    std::cout << "haunch " << command.call << "\n\n" << command.about << "\n\n" << shown;
    return {};
  }
  po::notify(given);
  for (const std::string& name : command.needed) {
    if (given.count(name) == 0) throw UsageError("missing: " + name + "; usage: haunch " + command.call);
  }
  return given;
}

std::string text_of(const po::variables_map& given, const std::string& name) {
  if (given.count(name) == 0) return {};
  const auto& value = given[name].value();
  if (const auto* list = boost::any_cast<std::vector<std::string>>(&value)) return list->front();
  return given[name].as<std::string>();
}

bool has(const po::variables_map& given, const std::string& name) { return given.count(name) != 0; }

void add_units(Command& command) {
  command.options.add_options()("units", po::value<std::string>()->value_name("m|ft"),
                                "distances in metres (m, the default) or feet (ft)");
}

base::LengthUnit units_of(const po::variables_map& given) {
  const std::string units = text_of(given, "units");
  if (units.empty() || units == "m") return base::LengthUnit::metres;
  if (units == "ft") return base::LengthUnit::feet;
  throw UsageError("--units " + units + " is not known; it is m or ft");
}

double number_of(const po::variables_map& given, const std::string& name) {
  double value = 0;
  if (!base::read_number(text_of(given, name), value)) {
    throw UsageError("--" + name + " " + text_of(given, name) + " is not a number");
  }
  return value;
}

std::string counted(std::size_t number, const std::string& word) {
  return std::to_string(number) + " " + word + (number == 1 ? "" : "s");
}

int which_of(const po::variables_map& given, const std::string& name, std::size_t most,
             const std::string& what) {
  double value = 0;
  if (!base::read_number(text_of(given, name), value) || value < 1 || value > static_cast<double>(most) ||
      value != std::floor(value)) {
    throw UsageError("--" + name + " " + text_of(given, name) + " is not a number from 1 to " +
                     std::to_string(most) + ": " + what);
  }
  return static_cast<int>(value);
}

void add_site(Command& command) {
  command.options.add_options()(
      "site", po::value<std::vector<std::string>>()->value_name("key=value|FILE")->composing(),
      "what the site is like, as often as needed: a condition, or a site file with what holds everywhere\n"
      "and for each pipe. Keys of the shipped three goals: system, water-endangering, protection-zone, "
      "groundwater, soil");
}

std::vector<fs::path> site_files(const po::variables_map& given) {
  std::vector<fs::path> files;
  if (given.count("site") != 0)
    for (const std::string& text : given["site"].as<std::vector<std::string>>())
      if (text.find('=') == std::string::npos) files.emplace_back(text);
  return files;
}

GivenSite given_site(const po::variables_map& given, const grading::Scheme& scheme) {
  GivenSite site;
  if (given.count("site") == 0) return site;
  for (const std::string& text : given["site"].as<std::vector<std::string>>()) {
    const auto at = text.find('=');
    if (at == std::string::npos) continue;
    std::string field = text.substr(0, at);
    std::replace(field.begin(), field.end(), '-', '_');
    const std::string value = text.substr(at + 1);
    const std::string wrong = scheme.wrong_site_value(field, value);
    if (!wrong.empty()) throw UsageError("--site " + text + ": " + wrong);
    site.options.values[field] = value;
  }
  base::Problems problems;
  for (const fs::path& file : site_files(given)) {
    const auto sites = grading::read_sites(file, scheme);
    problems.insert(problems.end(), sites.problems().begin(), sites.problems().end());
    if (!sites) continue;
    site.files.everywhere.take(sites.value().everywhere);
    for (const auto& [pipe, own] : sites.value().by_pipe) site.files.by_pipe[pipe].take(own);
  }
  if (base::has_errors(problems)) throw InputProblems(problems);
  print_remarks(problems);
  return site;
}

grading::Site GivenSite::of(const coding::Record& record) const {
  grading::Site site = files.of(record);
  site.take(options);
  return site;
}

void print_problems(const base::Problems& problems, std::ostream& stream) {
  for (const base::Problem& problem : problems) stream << base::to_line(problem) << '\n';
}

void print_remarks(const base::Problems& problems) { print_problems(problems, std::cerr); }

void write_or_throw(const fs::path& file, const std::string& bytes) {
  const base::Problems problems = base::write_file(file, bytes, base::Overwrite::yes);
  if (!problems.empty()) throw std::runtime_error(base::to_line(problems.front()));
}

void print_out(const std::string& bytes) {
  std::cout << bytes;
  if (!bytes.empty() && bytes.back() != '\n') std::cout << '\n';
  std::cout.flush();
  if (!std::cout) throw std::runtime_error("the output could not be written");
}

std::string program_version() { return HAUNCH_VERSION; }

}  // namespace haunch::cli
