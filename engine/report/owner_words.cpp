// SPDX-License-Identifier: Apache-2.0
#include "report/owner_words.hpp"

#include <algorithm>
#include <cctype>
#include <map>
#include <set>

#include "base/words.hpp"
#include "report/pipe_pieces.hpp"
#include "report/standing.hpp"
#include "report/unseen.hpp"

namespace haunch::report {
namespace {

std::string times(std::size_t number, const std::string& one, const std::string& many) {
  return std::to_string(number) + " " + (number == 1 ? one : many);
}

std::string hour_words(int hour) {
  static const char* const words[] = {"top",    "top",    "upper right", "right", "lower right", "bottom",
                                      "bottom", "bottom", "lower left",  "left",  "upper left",  "top"};
  return hour >= 1 && hour <= 12 ? words[hour % 12] : "";
}

/// What a scheme asks of the site, for people who do not know the scheme.
std::string missing_words(const std::string& what) {
  static const std::map<std::string, std::string> words{
      {"kind of wastewater", "whether the waste water carries substances dangerous to water"},
      {"drainage system", "what the drain carries"},
      {"water protection zone", "whether the drain lies in a zone that protects drinking water"},
      {"groundwater", "how high the ground water stands"},
      {"soil", "what soil lies round the pipe"},
      {"ground round the pipe", "what ground lies round the pipe"},
      {"importance of the area", "what street or buildings stand above"},
      {"wall thickness of the pipe", "how thick the wall of the pipe is"}};
  const auto found = words.find(what);
  return found == words.end() ? what : found->second;
}

}  // namespace

std::string small_first(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  return text;
}

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

std::vector<std::string> found_sentences(const coding::Record& record, const Advice& advice,
                                         const grading::Grade& grade, const Measure& measure) {
  std::vector<std::string> said;
  const Ends ends = ends_of(record);
  const std::string length = base::show_distance(ends.length_m(), measure.unit);
  const std::string pipe = ends.length_m() > 0 ? length + " of pipe" : "a pipe of unknown length";
  const RankedFinding* worst = advice.most_urgent();
  if (worst == nullptr)
    said.push_back(grade.not_inspected.empty() ? "No fault was recorded in " + pipe + "."
                                               : "No fault was recorded in what was seen of the pipe.");
  else
    said.push_back(times(advice.finding_count, "finding", "findings") + " in " + pipe + ".");
  if (!advice.remarks.empty()) {
    const RemarkFound& first = advice.remarks.front();
    said.push_back(
        "Most urgent: " + small_first(first.sign->meaning.title) +
        (first.at_m ? ", at " + measure.show(*first.at_m) : "") +
        (advice.remarks.size() > 1 ? ", and " + times(advice.remarks.size() - 1, "more", "more") : "") + ".");
  }
  if (worst != nullptr)
    said.push_back((advice.remarks.empty()                            ? "Most urgent: "
                    : worst->next < advice.remarks.front().sign->next ? "Most urgent of what was coded: "
                                                                      : "As urgent: ") +
                   small_first(worst->meaning->title) +
                   (worst->from_m ? ", at " + where_words(*worst, measure) : "") + ".");
  for (const FindingGroup& group : advice.groups)
    for (const RankedFinding& one : group.findings)
      if (one.by_size && one.meaning->finding_from_q1 && &one != advice.most_urgent() && one.q1)
        said.push_back("Take note too: " + small_first(one.meaning->title) + ", " +
                       base::show_number(*one.q1) + " % of the height" +
                       (one.from_m ? ", at " + where_words(one, measure) : "") + ".");
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
  int worst_class = 0;
  for (const grading::Overall& overall : grade.overall) {
    if (!overall.grade) continue;
    // How soon to act is said by the steps; a scheme's own words for it would be a second answer.
    const std::string name = grade.overall.size() > 1 ? " (" + overall.name + ")" : std::string();
    // Where it is the class of the pipe, that says its span too.
    const std::string alone = std::to_string(*overall.grade) +
                              (overall.complete || *overall.grade >= grade.worst_class ? "" : " or worse");
    const bool of_pipe = grade.overall.size() == 1 && overall.grade == grade.object_class;
    said.push_back("The whole pipe" + name + " is in class " + (of_pipe ? object_class_words(grade) : alone) +
                   (*overall.grade == 0 ? ", which says that no defect counts"
                                        : ", where " + std::to_string(grade.worst_class) + " is worst") +
                   (overall.provisional ? " (provisional)." : "."));
    worst_class = std::max(worst_class, *overall.grade);
  }
  if (grade.object_class.value_or(0) > worst_class)
    said.push_back("Taken together the pipe is in class " + object_class_words(grade) + ", where " +
                   std::to_string(grade.worst_class) + " is worst" +
                   (grade.provisional ? " (provisional)." : "."));
  // A class of one goal must not read as one of the pipe.
  std::set<std::string> without;
  for (const grading::Open& one : grade.open)
    if (!one.classed && !one.observation.empty()) without.insert(one.observation);
  if (!without.empty())
    said.push_back((grade.object_class ? "" : "The pipe as a whole has no class: ") +
                   times(without.size(), "finding", "findings") +
                   " could not be given a class in full, and may be worse than what could.");
  if (!grade.doubtful.empty()) {
    constexpr std::size_t most_named = 3;
    const std::size_t named = std::min(most_named, grade.doubtful.size());
    std::vector<std::string> sizes(grade.doubtful.begin(),
                                   grade.doubtful.begin() + static_cast<std::ptrdiff_t>(named));
    if (grade.doubtful.size() > named) sizes.push_back(times(grade.doubtful.size() - named, "more", "more"));
    said.push_back(
        std::string(grade.doubtful.size() == 1 ? "A size in the record" : "Sizes in the record") +
        " can hardly be right (" + base::join(sizes, "; ") +
        "). Ask the firm that inspected the pipe to look at the pictures again" +
        (grade.object_class_doubtful ? ": without it the class of the whole pipe would be another." : "."));
  }
  return said;
}

std::vector<std::string> sure_sentences(const coding::Record& record, const grading::Grade& grade,
                                        const RemarkCount& remarks, const Measure& measure) {
  std::vector<std::string> said;
  if (grade.not_inspected.empty())
    said.emplace_back("The record says that the camera went from one end of the pipe to the other.");
  else
    said.push_back("It is not certain that the whole pipe was seen: " +
                   base::join(unseen_words(record, grade, measure), "; ") +
                   ". What was not seen may be worse.");
  const std::string worst = std::to_string(grade.worst_class);
  std::string classes = "A class puts findings in order, from 1 (slightest) to " + worst +
                        " (worst). What to do follows from the kind of finding first, and from its class "
                        "and that of the whole pipe only then.";
  if (grade.provisional)
    classes +=
        " The classes here are provisional: some limits behind them were not checked against their source, "
        "so they help to compare and are no official grade.";
  said.push_back(classes);
  if (!grade.missing.empty()) {
    std::vector<std::string> missing;
    for (const std::string& what : grade.missing) missing.push_back(missing_words(what));
    said.push_back("Nobody told this program " + base::join(missing, ", ") +
                   ". What hangs on that counts nothing or has no class, so the true classes may be worse.");
  }
  const std::string date = base::trim(record.header_value("ABF").value_or(""));
  said.push_back("All rests on what one inspector saw and wrote down" +
                 (date.empty() ? std::string(" on a day that is not recorded") : " on " + date) +
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

std::string carries_words(const coding::Record& record, const coding::CodeList& list) {
  const std::string code = base::trim(record.header_value("ACK").value_or(""));
  static const std::map<std::string, std::string> words{{"A", "waste water"},
                                                        {"B", "rain water"},
                                                        {"C", "waste water and rain water together"},
                                                        {"D", "waste water of a business"},
                                                        {"E", "a stream in a pipe"},
                                                        {"F", "water out of the ground"}};
  if (const auto found = words.find(code); found != words.end()) return found->second;
  if (const coding::Named* named = list.header_field("ACK"))
    if (const auto found = named->values.find(code); found != named->values.end()) return found->second;
  return code;
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
