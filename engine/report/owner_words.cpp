// SPDX-License-Identifier: Apache-2.0
#include "report/owner_words.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include "base/words.hpp"
#include "report/pipe_pieces.hpp"
#include "report/standing.hpp"

namespace haunch::report {
namespace {

std::string times(std::size_t number, const std::string& one, const std::string& many) {
  return std::to_string(number) + " " + (number == 1 ? one : many);
}

std::string small_first(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  return text;
}

std::string hour_words(int hour) {
  static const char* const words[] = {"top",    "top",    "upper right", "right", "lower right", "bottom",
                                      "bottom", "bottom", "lower left",  "left",  "upper left",  "top"};
  return hour >= 1 && hour <= 12 ? words[hour % 12] : "";
}

/// What was not seen, as the grading tells it, in words without codes.
std::string not_seen_words(const std::vector<std::string>& reasons) {
  std::vector<std::string> plain;
  for (std::string reason : reasons) {
    const auto at = reason.rfind(" (");
    if (at != std::string::npos && reason.back() == ')') reason.erase(at);
    plain.push_back(std::move(reason));
  }
  return base::join(plain, "; ");
}

}  // namespace

std::string number_list(const std::vector<int>& numbers) {
  std::vector<int> sorted = numbers;
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < sorted.size();) {
    std::size_t end = i;
    while (end + 1 < sorted.size() && sorted[end + 1] == sorted[end] + 1) ++end;
    if (end - i < 2) {
      parts.push_back(std::to_string(sorted[i]));
      ++i;
    } else {
      parts.push_back(std::to_string(sorted[i]) + " to " + std::to_string(sorted[end]));
      i = end + 1;
    }
  }
  return base::join(parts, ", ");
}

std::string step_heading(std::size_t next, const Advice& advice, const Meanings& meanings) {
  const bool waits = advice.no_jet && next == meanings.next_for(coding::Action::clean_again);
  return waits ? "Cleaning has to wait" : meanings.next()[next].heading;
}

std::vector<OwnerStep> next_steps(const Advice& advice, const grading::Grade& grade,
                                  const Meanings& meanings) {
  std::map<std::size_t, std::vector<int>, std::greater<>> numbers;
  if (advice.next > 0) numbers[advice.next];  // a material or a note may call for more than any finding
  for (const FindingGroup& group : advice.groups)
    for (const RankedFinding& one : group.findings)
      if (group.next > 0) numbers[group.next].push_back(one.number);
  const std::size_t jet = meanings.next_for(coding::Action::clean_again);
  std::vector<OwnerStep> steps;
  for (auto& [next, list] : numbers) {
    const NextStep& step = meanings.next()[next];
    OwnerStep one{next, step_heading(next, advice, meanings), step.text, std::move(list)};
    if (next == advice.next && !advice.about_material.empty())
      one.text = base::join(advice.about_material, " ") + " " + one.text;
    if (next == jet && advice.no_jet)
      one.text =
          "These findings would usually be cleaned away. Not before a qualified person says that the "
          "pipe can bear it.";
    steps.push_back(std::move(one));
  }
  if (!grade.not_inspected.empty()) {
    OwnerStep rest{0,
                   "Have the rest of the pipe inspected",
                   "The record does not show the whole pipe: " + not_seen_words(grade.not_inspected) + ".",
                   {}};
    if (advice.no_jet) rest.text += " First settle what stands above.";
    const bool urgent = advice.next > 1;
    const auto place = urgent ? std::find_if(steps.begin(), steps.end(),
                                             [](const OwnerStep& step) { return step.next <= 1; })
                              : steps.begin();
    steps.insert(place, std::move(rest));
  }
  if (steps.empty()) {
    const NextStep& step = meanings.next().front();
    steps.push_back({0, step.heading, "Keep this page for the next inspection.", {}});
  }
  return steps;
}

std::vector<std::string> found_sentences(const coding::Record& record, const Advice& advice,
                                         const grading::Grade& grade, const Measure& measure) {
  std::vector<std::string> said;
  const Ends ends = ends_of(record);
  const std::string length = base::show_distance(ends.length_m(), measure.unit);
  const std::string pipe = ends.length_m() > 0 ? length + " of pipe" : "a pipe of unknown length";
  if (advice.finding_count == 0) {
    said.push_back(grade.not_inspected.empty() ? "No fault was recorded in " + pipe + "."
                                               : "No fault was recorded in what was seen of the pipe.");
  } else {
    const RankedFinding& worst = *advice.most_urgent();
    said.push_back(times(advice.finding_count, "finding", "findings") + " in " + pipe + ".");
    said.push_back("Most urgent: " + small_first(worst.meaning->title) +
                   (worst.from_m ? ", at " + where_words(worst, measure) : "") + ".");
  }
  if (advice.groups.size() > 1) {
    // In the order of the list below, by kind whatever it calls for.
    std::vector<std::pair<std::string, std::size_t>> kinds;
    for (const FindingGroup& group : advice.groups) {
      const std::string& title = group.meaning->title;
      const auto known =
          std::find_if(kinds.begin(), kinds.end(), [&](const auto& kind) { return kind.first == title; });
      if (known == kinds.end())
        kinds.emplace_back(title, group.findings.size());
      else
        known->second += group.findings.size();
    }
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < kinds.size() && i < 5; ++i)
      parts.push_back(small_first(kinds[i].first) +
                      (kinds[i].second > 1 ? " (" + std::to_string(kinds[i].second) + " places)" : ""));
    std::string text = "In all: " + base::join(parts, "; ");
    if (kinds.size() > 5) text += "; and " + times(kinds.size() - 5, "other kind", "other kinds");
    said.push_back(text + ".");
  }
  for (const grading::Overall& overall : grade.overall) {
    if (!overall.grade) continue;
    const std::string worst = std::to_string(grade.worst_class);
    said.push_back("The whole pipe" + (grade.overall.size() > 1 ? " (" + overall.name + ")" : std::string()) +
                   " is in class " + std::to_string(*overall.grade) + ", where " + worst + " is worst" +
                   (overall.meaning.empty() ? "" : ": \"" + overall.meaning + "\"") +
                   (overall.provisional ? "; provisional." : "."));
  }
  return said;
}

std::vector<std::string> sure_sentences(const coding::Record& record, const grading::Grade& grade,
                                        const RemarkCount& remarks) {
  std::vector<std::string> said;
  said.push_back(grade.not_inspected.empty()
                     ? "The camera went from one end of the pipe to the other, by its record."
                     : "It is not certain that the whole pipe was seen: " +
                           not_seen_words(grade.not_inspected) + ". What was not seen may be worse.");
  if (grade.provisional)
    said.emplace_back(
        "All classes here are provisional: some limits behind them could not be checked against "
        "their source. They help to put findings in order and are no official grade.");
  if (!grade.missing.empty())
    said.push_back("Not known about the site: " + base::join(grade.missing, ", ") +
                   ". The classes count these as harmless.");
  const std::string date = base::trim(record.header_value("ABF").value_or(""));
  said.push_back("It rests on what one inspector saw and wrote down" + (date.empty() ? "" : " on " + date) +
                 "; no record is free of misses.");
  if (remarks.errors + remarks.warnings > 0) {
    std::vector<std::string> parts;
    if (remarks.errors > 0) parts.push_back(times(remarks.errors, "fault", "faults"));
    if (remarks.warnings > 0) parts.push_back(times(remarks.warnings, "oddity", "oddities"));
    said.push_back("The record itself has " + base::join(parts, " and ") +
                   " of writing; whoever made it can put that right.");
  }
  return said;
}

std::string pipe_title(const coding::Record& record) {
  const NodeNames names = node_names(record);
  if (!names.start.empty() && !names.finish.empty())
    return "Pipe from " + names.start + " to " + names.finish;
  const std::string reference = base::trim(record.header_value("AAA").value_or(""));
  if (!reference.empty()) return "Pipe " + reference;
  return names.start.empty() ? "Pipe without a name" : "Pipe from " + names.start;
}

std::string round_the_pipe(const coding::Observation& seen) {
  if (!seen.clock_from) return {};
  const std::string from = hour_words(*seen.clock_from);
  if (!seen.clock_to) return from;
  if (*seen.clock_from == 12 && *seen.clock_to == 12) return "all round";
  const std::string to = hour_words(*seen.clock_to);
  if (from == to && (*seen.clock_to - *seen.clock_from + 12) % 12 <= 2) return from;
  return from + " to " + to;
}

std::string size_words(const RankedFinding& finding, const coding::CodeList& list, base::LengthUnit length) {
  const coding::CodeEntry* entry = list.find(finding.seen->code);
  if (entry == nullptr) return {};
  std::vector<std::string> parts;
  const auto add = [&](const std::optional<double>& size, const std::optional<coding::QuantityRule>& rule) {
    if (!size || !rule) return;
    const std::string& unit = rule->unit_for(finding.seen->ch1);
    std::string text = unit == "mm" ? show_mm(*size, length) : base::show_number(*size);
    if (unit == "degree")
      text += "°";
    else if (unit != "count" && unit != "mm" && !unit.empty())
      text += " " + unit;
    const std::string& says = rule->says_for(finding.seen->ch1);
    if (!says.empty()) text += " " + says;
    parts.push_back(std::move(text));
  };
  add(finding.q1, entry->q1);
  add(finding.q2, entry->q2);
  return base::join(parts, ", ");
}

std::string where_words(const RankedFinding& finding, const Measure& measure) {
  if (!finding.from_m) return "no distance";
  std::string text = measure.show(*finding.from_m);
  if (finding.continuous && finding.to_m) text += " to " + measure.show(*finding.to_m);
  return text;
}

}  // namespace haunch::report
