// SPDX-License-Identifier: Apache-2.0
// What every verb of the command line shares: options, exit codes, reading, printing.
#pragma once

#include <boost/program_options.hpp>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "grading/grade.hpp"

namespace haunch::cli {

namespace po = boost::program_options;
using Arguments = std::vector<std::string>;

enum ExitCode { done = 0, input_has_problems = 1, wrong_usage = 2, could_not_go_on = 3 };

/// The command was given wrongly: main says so and exits with wrong_usage.
struct UsageError : std::runtime_error {
  using std::runtime_error::runtime_error;
};
/// A file is not as it should be: main prints a line a problem and exits with input_has_problems.
struct InputProblems : std::runtime_error {
  explicit InputProblems(base::Problems list)
      : std::runtime_error("the input has problems"), problems(std::move(list)) {}
  base::Problems problems;
};

/// How a verb is called, for its help and for reading its arguments.
struct Command {
  std::string call;   ///< "mark TRUTH ATTEMPT [options]"
  std::string about;  ///< what it does, in a sentence or a few lines
  po::options_description options{"Options"};
  po::positional_options_description places{};
  std::vector<std::string> needed{};  ///< names of places that must be there
  po::options_description hidden{};
  /// A file that is named without a dash.
  Command& place(const std::string& name, bool must = true);
  /// Any number of them, at the end.
  Command& places_many(const std::string& name);
};

/// The arguments; nothing when help was asked for and has been printed.
std::optional<po::variables_map> read_arguments(const Command& command, const Arguments& arguments);
std::string text_of(const po::variables_map& given, const std::string& name);
bool has(const po::variables_map& given, const std::string& name);

/// Adds `--units m|ft`; what it was set to.
void add_units(Command& command);
base::LengthUnit units_of(const po::variables_map& given);
/// A number given to an option, or a UsageError that names the option.
double number_of(const po::variables_map& given, const std::string& name);
/// A whole number from 1 to `most` given to an option, or a UsageError that says so and what they number
/// ("the file holds 2 inspections").
int which_of(const po::variables_map& given, const std::string& name, std::size_t most,
             const std::string& counted);
/// "1 inspection", "2 inspections".
std::string counted(std::size_t number, const std::string& word);

/// Adds `--site key=value` and `--site FILE`.
void add_site(Command& command);
/// What was given with it, each condition one that the scheme knows: read once, then asked for each record.
struct GivenSite {
  grading::Sites files;
  grading::Site options;
  /// What the header tells, then the files, then the single conditions: the later takes over.
  grading::Site of(const coding::Record& record) const;
};
GivenSite given_site(const po::variables_map& given, const grading::Scheme& scheme);
/// The files among what was given.
std::vector<std::filesystem::path> site_files(const po::variables_map& given);

/// The value, after its remarks went to the error stream; or InputProblems.
void print_problems(const base::Problems& problems, std::ostream& stream);
void print_remarks(const base::Problems& problems);
template <class T>
T need(base::Result<T> result) {
  if (!result.ok()) throw InputProblems(result.problems());
  print_remarks(result.problems());
  return std::move(result).value();
}

/// To standard output, with an end of line.
void print_out(const std::string& bytes);
/// Writes over what is there; throws std::runtime_error when it cannot.
void write_or_throw(const std::filesystem::path& file, const std::string& bytes);

/// "0.1.0"
std::string program_version();

}  // namespace haunch::cli
