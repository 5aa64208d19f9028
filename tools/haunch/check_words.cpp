// SPDX-License-Identifier: Apache-2.0
#include "check_words.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "cli.hpp"

namespace haunch::cli {
namespace {

using base::Severity;

/// Ours: as many lines as are read one by one, and as many problems of a kind as need no summing up.
constexpr std::size_t few_problems = 20, few_of_a_kind = 3, most_kinds = 40;
constexpr std::size_t places_said = 8;

std::string heading(Severity severity, std::size_t count) {
  static const char* const one[] = {"error", "warning", "note"};
  return counted(count, one[static_cast<int>(severity)]);
}

std::string counts(const Tally& tally) {
  std::vector<std::string> parts;
  for (const Severity severity : {Severity::error, Severity::warning, Severity::note})
    if (severity == Severity::error || tally.count(severity) > 0)
      parts.push_back(severity == Severity::error && tally.count(severity) == 0
                          ? "no errors"
                          : heading(severity, tally.count(severity)));
  return base::join(parts, ", ");
}

std::string expected_of(const ProblemKind& kind) {
  const std::string& expected = kind.first.front().problem.expected;
  const bool same = std::all_of(kind.first.begin(), kind.first.end(),
                                [&](const Told& told) { return told.problem.expected == expected; });
  return same && !expected.empty() ? "; expected " + expected : std::string();
}

/// "lines 22, 118, 121 and 57 more".
std::string places(const ProblemKind& kind) {
  std::vector<std::string> numbers;
  for (const Told& told : kind.first) {
    const std::string number = std::to_string(told.problem.place.line);
    if (told.problem.place.line > 0 && numbers.size() < places_said &&
        (numbers.empty() || numbers.back() != number))
      numbers.push_back(number);
  }
  if (numbers.empty()) return {};
  std::string said = (numbers.size() == 1 ? "line " : "lines ") + base::join(numbers, ", ");
  if (kind.count > numbers.size()) said += " and " + std::to_string(kind.count - numbers.size()) + " more";
  return said;
}

void say_kind(std::string& page, const ProblemKind& kind, std::size_t inspections) {
  if (kind.count <= few_of_a_kind) {
    for (const Told& told : kind.first) page += "  " + base::to_line(told.problem) + '\n';
    return;
  }
  page += "  " + std::to_string(kind.count) + " x " + kind.says + expected_of(kind);
  if (!kind.rule.empty()) page += " [" + kind.rule + "]";
  page += "\n      " + places(kind);
  if (inspections > 1 && kind.inspections > 0)
    page +=
        ", in " + std::to_string(kind.inspections) + " of " + std::to_string(inspections) + " inspections";
  const base::Problem& first = kind.first.front().problem;
  if (first.what != kind.says) page += "; the first: " + first.what;
  page += '\n';
}

/// As a shell takes it.
std::string as_argument(const std::string& name) {
  const bool plain = name.find_first_of(" \t'\"$&;()<>|*?[]\\`!#~") == std::string::npos;
  if (plain) return name;
  std::string quoted = "'";
  for (const char c : name) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + '\'';
}

/// A page: each kind once, with its count and its places, and the call that lists each.
std::string summary(const std::string& head, const Tally& tally, const std::string& file,
                    std::size_t inspections) {
  std::string page = head + ": " + counts(tally) + "\n";
  std::optional<Severity> severity;
  std::size_t shown = 0, left = 0;
  for (const ProblemKind* kind : tally.kinds()) {
    if (++shown > most_kinds) {
      left += kind->count;
      continue;
    }
    if (severity != kind->severity) {
      severity = kind->severity;
      page += '\n' + heading(*severity, tally.count(*severity)) + "\n";
    }
    say_kind(page, *kind, inspections);
  }
  if (left > 0)
    page += "  and " + std::to_string(left) + " of " + std::to_string(shown - most_kinds) + " other kinds\n";
  return page + "\n`haunch check --every " + as_argument(file) +
         "` lists each with its line; `--without NAME` leaves a rule out.\n";
}

std::string line_each(const Tally& tally) {
  std::string lines;
  for (const base::Problem& problem : tally.by_line()) lines += base::to_line(problem) + '\n';
  return lines;
}

}  // namespace

std::string verdict_line(const Checked& checked) {
  if (checked.tally.has_errors()) return {};
  return checked.file.string() + ": " + checked.what + ", " +
         (checked.tally.total() == 0 ? "no problems" : "no problems beyond these remarks") + '\n';
}

std::string check_in_words(const Checked& checked) {
  if (checked.tally.total() <= few_problems) return line_each(checked.tally) + verdict_line(checked);
  const std::string file = checked.file.string();
  return summary(file + ": " + checked.what +
                     (checked.rows > 0 ? " and " + counted(checked.rows, "observation") : std::string()),
                 checked.tally, file, static_cast<std::size_t>(checked.inspections));
}

std::string remarks_in_words(const Tally& tally, const std::filesystem::path& file, std::size_t inspections) {
  if (tally.total() <= few_problems) return line_each(tally);
  return summary(file.string(), tally, file.string(), inspections);
}

std::string check_to_json(const std::vector<Checked>& files) {
  using Json = nlohmann::ordered_json;
  static const char* const severities[] = {"error", "warning", "note"};
  Json out{{"kind", "check"}, {"edition", 1}, {"files", Json::array()}};
  for (const Checked& checked : files) {
    Json kinds = Json::array();
    for (const ProblemKind* kind : checked.tally.kinds()) {
      Json problems = Json::array();
      for (const Told& told : kind->first)
        problems.push_back({{"line", told.problem.place.line},
                            {"column", told.problem.place.column},
                            {"inspection", told.inspection},
                            {"what", told.problem.what},
                            {"expected", told.problem.expected},
                            {"suggestion", told.problem.suggestion}});
      kinds.push_back({{"severity", severities[static_cast<int>(kind->severity)]},
                       {"rule", kind->rule},
                       {"says", kind->says},
                       {"count", kind->count},
                       {"inspections", kind->inspections},
                       {"problems", std::move(problems)}});
    }
    out["files"].push_back({{"file", checked.file.string()},
                            {"what", checked.what},
                            {"inspections", checked.inspections},
                            {"observations", checked.rows},
                            {"errors", checked.tally.count(Severity::error)},
                            {"warnings", checked.tally.count(Severity::warning)},
                            {"notes", checked.tally.count(Severity::note)},
                            {"kinds", std::move(kinds)}});
  }
  // A file's own bytes may be in its names and words, and need not be UTF-8.
  return out.dump(2, ' ', false, Json::error_handler_t::replace);
}

std::string rules_in_words() {
  std::string out = "memory                all that is known only from memory\n";
  std::string_view group;
  for (const coding::RuleWords& rule : coding::all_rules()) {
    if (rule.group != group) {
      group = rule.group;
      out += '\n' + std::string(group) + (group == "codes" ? ", always on" : "") + '\n';
    }
    std::string line = "  " + std::string(rule.name);
    line.resize(std::max<std::size_t>(line.size() + 1, 24), ' ');
    line += heading(rule.severity, 1).substr(2);
    line.resize(std::max<std::size_t>(line.size() + 1, 33), ' ');
    out += line + std::string(rule.says) + '\n';
  }
  return out;
}

}  // namespace haunch::cli
