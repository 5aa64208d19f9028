// SPDX-License-Identifier: Apache-2.0
#include "outputs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code ignored;
  if (fs::equivalent(a, b, ignored)) return true;
  const fs::path whole_a = fs::weakly_canonical(fs::absolute(a, ignored), ignored);
  const fs::path whole_b = fs::weakly_canonical(fs::absolute(b, ignored), ignored);
  return !whole_a.empty() && whole_a == whole_b;
}

void add_force(Command& command) {
  command.options.add_options()(
      "force", "write over a file that is there already; without it such a file is left as it is");
}

void keep_apart(const std::vector<Output>& outputs, const std::vector<fs::path>& inputs) {
  for (std::size_t i = 0; i < outputs.size(); ++i) {
    const Output& one = outputs[i];
    for (const fs::path& input : inputs) {
      if (same_file(one.file, input))
        throw UsageError(one.option + " " + one.file.string() +
                         " is what is being read; give the output another name");
    }
    for (std::size_t k = 0; k < i; ++k) {
      if (same_file(one.file, outputs[k].file))
        throw UsageError(outputs[k].option + " and " + one.option + " name the same file, " +
                         one.file.string() + "; each needs a file of its own");
    }
  }
}

void keep_others(const std::vector<Output>& outputs, const po::variables_map& given) {
  base::Problems problems;
  for (const Output& one : outputs) {
    std::error_code ignored;
    if (!fs::exists(fs::symlink_status(one.file, ignored)))
      continue;  // a link that leads nowhere is there too
    const auto refuse = [&](const std::string& what, const std::string& expected) {
      problems.push_back({{one.file.string()}, base::Severity::error, what, expected, {}});
    };
    // Writing replaces the name, which would do away with a device or a pipe of that name.
    if (!fs::is_regular_file(one.file, ignored)) {
      refuse("is there already and is no ordinary file", "the name of a file");
    } else if (given.count("force") == 0) {
      refuse("the file is there already and was left as it is", "a new name, or --force to write over it");
    }
  }
  if (!problems.empty()) throw InputProblems(problems);
}

}  // namespace haunch::cli
