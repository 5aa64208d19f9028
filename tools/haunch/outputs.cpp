// SPDX-License-Identifier: Apache-2.0
#include "outputs.hpp"

#include <fstream>

#include "base/words.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

std::string beginning_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::string bytes(4096, '\0');
  stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(stream.gcount()));
  return bytes;
}

bool begins(const std::string& bytes, const std::string& with) {
  return bytes.compare(0, with.size(), with) == 0;
}

/// "AAD (start node reference): .." or "AAD: ..".
bool is_header_row(const std::string& line) {
  const auto capital = [&](std::size_t at) { return line[at] >= 'A' && line[at] <= 'Z'; };
  return line.size() > 4 && capital(0) && capital(1) && capital(2) &&
         (line[3] == ':' || begins(line.substr(3), " (")) && line.find(": ") != std::string::npos;
}

/// An empty file holds nothing that could be lost.
bool looks_like(const std::string& bytes, Written kind) {
  if (bytes.empty()) return true;
  switch (kind) {
    case Written::page:
      return begins(bytes, "<!DOCTYPE html>") && bytes.find(": exercise report</title>") != std::string::npos;
    case Written::picture:
      return begins(bytes, "\x89PNG\r\n\x1a\n");
    case Written::record_json:
      return begins(base::trim(bytes), "{") && (bytes.find("\"kind\": \"record\"") != std::string::npos ||
                                                bytes.find("\"kind\":\"record\"") != std::string::npos);
    case Written::exchange_text:
      return begins(bytes, "#A");
    case Written::record_table:
      return is_header_row(bytes.substr(0, bytes.find('\n')));
  }
  return false;
}

const char* words_for(Written kind) {
  switch (kind) {
    case Written::page:
      return "an exercise report";
    case Written::picture:
      return "a PNG picture";
    case Written::record_json:
      return "a record as JSON";
    case Written::exchange_text:
      return "exchange text";
    case Written::record_table:
      return "a record's table";
  }
  return "";
}

}  // namespace

bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code ignored;
  if (fs::equivalent(a, b, ignored)) return true;
  const fs::path whole_a = fs::weakly_canonical(fs::absolute(a, ignored), ignored);
  const fs::path whole_b = fs::weakly_canonical(fs::absolute(b, ignored), ignored);
  return !whole_a.empty() && whole_a == whole_b;
}

void add_force(Command& command) {
  command.options.add_options()("force", "write over a file that is there, whatever it is");
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
    if (!fs::exists(one.file, ignored)) continue;
    const auto refuse = [&](const std::string& what, const std::string& expected) {
      problems.push_back({{one.file.string()}, base::Severity::error, what, expected, {}});
    };
    // Writing replaces the name, which would do away with a device or a pipe of that name.
    if (!fs::is_regular_file(one.file, ignored)) {
      refuse("is there already and is no ordinary file", "the name of a file");
    } else if (given.count("force") == 0 && !looks_like(beginning_of(one.file), one.kind)) {
      refuse("the file is there already and was left as it is; it is not " + std::string(words_for(one.kind)),
             "a new name, or --force to write over it");
    }
  }
  if (!problems.empty()) throw InputProblems(problems);
}

}  // namespace haunch::cli
