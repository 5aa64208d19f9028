// SPDX-License-Identifier: Apache-2.0
#include "report/runs.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "base/words.hpp"
#include "report/plain_text.hpp"
#include "report/standing.hpp"
#include "report/svg.hpp"

namespace haunch::report {

RunRow run_row(std::uint32_t file, int inspection, const coding::Record& record, const grading::Grade& grade,
               const Advice& advice, const RemarkCount& remarks, const std::vector<std::string>& overall) {
  RunRow row;
  row.file = file;
  row.inspection = inspection;
  row.pipe = pipe_title(record);
  row.urgent = advice.most_urgent_title();
  const double length_m = ends_of(record).length_m();
  if (length_m > 0) row.length_m = static_cast<float>(length_m);
  if (grade.object_number) row.number = static_cast<float>(*grade.object_number);
  row.findings = static_cast<std::uint32_t>(advice.finding_count);
  row.errors = static_cast<std::uint32_t>(remarks.errors);
  row.warnings = static_cast<std::uint32_t>(remarks.warnings);
  row.next = static_cast<std::uint8_t>(advice.next);
  if (grade.object_class) {
    row.worst_class = static_cast<std::int16_t>(*grade.object_class);
    row.class_least = static_cast<std::int16_t>(grade.object_least.value_or(*grade.object_class));
    row.class_most = static_cast<std::int16_t>(grade.object_most.value_or(*grade.object_class));
  }
  std::set<std::string_view> open;
  for (const grading::Open& one : grade.open)
    if (!one.classed && !one.observation.empty()) open.insert(one.observation);
  row.not_classed = static_cast<std::uint32_t>(open.size());
  row.overall.resize(overall.size());
  for (std::size_t i = 0; i < overall.size(); ++i)
    for (const grading::Overall& one : grade.overall) {
      if (one.id != overall[i]) continue;
      row.overall[i] = {one.number ? std::optional<float>(static_cast<float>(*one.number)) : std::nullopt,
                        static_cast<std::int16_t>(one.grade.value_or(-1)), one.complete, one.provisional};
    }
  row.provisional = grade.provisional;
  row.wholly_inspected = grade.not_inspected.empty();
  if (grade.object_class_doubtful) row.doubtful = base::join(grade.doubtful, "; ");
  row.remarks = advice.remark_count > 0;
  return row;
}

bool worse(const RunRow& a, const RunRow& b) {
  const auto weight = [](const RunRow& row) {
    const bool open = row.worst_class < 0 && row.not_classed > 0;
    return std::tuple(-static_cast<int>(row.next), open ? -3 : -2 * static_cast<int>(row.worst_class),
                      -row.number.value_or(0), row.file, row.inspection);
  };
  return weight(a) < weight(b);
}

namespace {

std::string span_words(const RunRow& row) {
  return class_in_span(row.worst_class, row.class_least, row.class_most);
}

std::string class_words(const RunRow& row) {
  if (row.worst_class < 0) return "none";
  return span_words(row) + (row.provisional ? " provisional" : "");
}

std::string length_words(const RunRow& row, base::LengthUnit unit) {
  return row.length_m ? base::show_distance(*row.length_m, unit) : "not known";
}

std::string next_words(const RunRow& row, const Meanings& meanings) {
  return row.next == 0 ? nothing_heading(row.remarks, meanings) : meanings.next()[row.next].heading;
}

/// Names without the folder that all of them lie in; a single file needs no name in each row.
std::vector<std::string> short_names(const std::vector<std::string>& files) {
  if (files.empty()) return {};
  const auto folder_end = [](const std::string& file) {
    return file.rfind('/') == std::string::npos ? 0 : file.rfind('/') + 1;
  };
  std::string common = files.front().substr(0, folder_end(files.front()));
  for (const std::string& file : files)
    while (!file.starts_with(common))
      common.erase(common.size() < 2 ? 0 : folder_end(common.substr(0, common.size() - 1)));
  std::vector<std::string> names;
  for (const std::string& file : files) names.push_back(file.substr(common.size()));
  return names;
}

/// "inspection 10 too": where the same pipe was inspected more than once. A name alone is no proof, so it is
/// said of the same ends only.
using SamePipes = std::map<std::string, std::vector<const RunRow*>>;
SamePipes same_pipes(const RunsTable& table) {
  SamePipes same;
  for (const RunRow& row : table.runs)
    if (row.pipe != "Pipe without a name") same[row.pipe].push_back(&row);
  return same;
}

std::string also_words(const RunRow& row, const SamePipes& same, const std::vector<std::string>& names) {
  const auto found = same.find(row.pipe);
  if (found == same.end() || found->second.size() < 2) return {};
  std::vector<std::string> others;
  for (const RunRow* other : found->second) {
    if (other == &row) continue;
    if (others.size() == 3) {
      others.emplace_back("more");
      break;
    }
    others.push_back((other->file == row.file ? std::string() : names[other->file] + ", ") + "inspection " +
                     std::to_string(other->inspection));
  }
  return "named the same: " + base::join(others, "; ");
}

std::string what_words(const NotGraded& one, const RunsTable& table) {
  return table.files[one.file] + (one.inspection > 0 ? ", inspection " + std::to_string(one.inspection) : "");
}

}  // namespace

std::string runs_text(const RunsTable& table, const Meanings& meanings, std::size_t most_rows) {
  std::string text;
  std::vector<Row> rows{{"", "what comes next", "class", "findings", "length", "seen", "pipe, file"}};
  bool provisional = false;
  for (std::size_t i = 0; i < table.runs.size() && i < most_rows; ++i) {
    const RunRow& row = table.runs[i];
    provisional = provisional || (row.provisional && row.worst_class >= 0);
    rows.push_back(
        {std::to_string(i + 1), next_words(row, meanings),
         class_words(row) + (row.doubtful.empty() ? "" : ", doubtful"), std::to_string(row.findings),
         length_words(row, table.unit), row.wholly_inspected ? "whole" : "not whole",
         row.pipe + "; " + table.files[row.file] + ", inspection " + std::to_string(row.inspection)});
  }
  if (!table.runs.empty()) text += "Worst first:\n" + columns(rows);
  for (std::size_t i = 0; i < table.runs.size() && i < most_rows; ++i)
    if (!table.runs[i].doubtful.empty())
      text += wrapped(
          "Doubtful: the class of " + std::to_string(i + 1) + " hangs on " + table.runs[i].doubtful, 0);
  if (table.runs.size() > most_rows)
    text +=
        "and " + std::to_string(table.runs.size() - most_rows) + " more; --runs FILE.csv or --json has all\n";
  if (provisional) text += "\nProvisional classes help to put pipes in order and are no official grade.\n";
  if (!table.not_graded.empty()) {
    text += "\nNot graded:\n";
    for (const NotGraded& one : table.not_graded) {
      text += "  " + what_words(one, table) + "\n";
      for (const std::string& why : one.why) text += "    " + why + "\n";
      if (one.more > 0) text += "    and " + std::to_string(one.more) + " more problems\n";
    }
  }
  return text;
}

std::string runs_html(const RunsTable& table, const Meanings& meanings, std::size_t most_rows,
                      std::size_t pages) {
  const std::vector<std::string> names = short_names(table.files);
  const SamePipes same = same_pipes(table);
  bool all_provisional = true, free = false;
  for (const RunRow& row : table.runs) {
    all_provisional = all_provisional && (row.provisional || row.worst_class < 0);
    free = free || row.worst_class == 0;
  }
  const auto source = [&](const RunRow& row) {
    return escaped(names[row.file]) + ", inspection " + std::to_string(row.inspection);
  };
  std::string text =
      "<section class=\"index\" aria-labelledby=\"runs\">\n<p class=\"kicker\">Drain inspections, summary "
      "for the "
      "owner</p>\n<h1 id=\"runs\">" +
      std::to_string(table.runs.size()) + (table.runs.size() == 1 ? " pipe" : " pipes") +
      ", worst first</h1>\n";
  if (!table.runs.empty()) {
    text +=
        "<table class=\"runs\">\n<thead><tr><th scope=\"col\">No.</th><th scope=\"col\">Pipe</th><th "
        "scope=\"col\">What to do next</th><th scope=\"col\">Most urgent finding</th><th scope=\"col\">"
        "Findings</th><th scope=\"col\">" +
        std::string(all_provisional ? "Provisional class" : "Class") +
        "</th><th scope=\"col\">Length</th><th "
        "scope=\"col\">Seen</th></tr>"
        "</thead>\n<tbody>\n";
    for (std::size_t i = 0; i < table.runs.size() && i < most_rows; ++i) {
      const RunRow& row = table.runs[i];
      const std::string pipe = escaped(row.pipe);
      text += "<tr><td data-name=\"No.\">" + std::to_string(i + 1) + "</td><th scope=\"row\">" +
              (i < pages ? "<a href=\"#p" + std::to_string(i + 1) + "\">" + pipe + "</a>" : pipe) +
              "<br><span class=\"recorded\">" + source(row) + "</span>" +
              (also_words(row, same, names).empty()
                   ? std::string()
                   : "<br><span class=\"small\">" + escaped(also_words(row, same, names)) + "</span>") +
              "</th><td data-name=\"What to do next\">" + escaped(next_words(row, meanings)) +
              "</td><td data-name=\"Most urgent finding\">" +
              (row.urgent ? escaped(*row.urgent) : "none recorded") + "</td><td data-name=\"Findings\">" +
              std::to_string(row.findings) + "</td><td data-name=\"Class\">" +
              (all_provisional && row.worst_class >= 0 ? span_words(row) : class_words(row)) +
              (row.doubtful.empty() ? "" : ", doubtful") + "</td><td data-name=\"Length\" class=\"tight\">" +
              length_words(row, table.unit) + "</td><td data-name=\"Seen\">" +
              (row.wholly_inspected ? "whole" : "not whole") + "</td></tr>\n";
    }
    text += "</tbody>\n</table>\n";
  }
  if (table.runs.size() > most_rows)
    text += "<p>And " + std::to_string(table.runs.size() - most_rows) +
            " more, which are in the outputs for machines.</p>\n";
  if (table.runs.size() > pages)
    text += "<p>The " + std::to_string(pages) +
            " worst have a page each below; so that this file stays small enough "
            "to open, the others do not.</p>\n";
  text +=
      "<p class=\"small\">The order is by what comes next, then by class. A class that is provisional helps "
      "to "
      "put pipes in order and is no official grade." +
      std::string(free ? " Class 0: nothing found that counts as a defect; 1 is the slightest." : "") +
      " Local codes and licensed practice decide.</p>\n";
  if (!table.not_graded.empty()) {
    text +=
        "<h2>Not graded</h2>\n<p>These could not be read or graded, so nothing is known about their "
        "pipes.</p>\n<ul>\n";
    for (const NotGraded& one : table.not_graded) {
      text += "<li>" + escaped(what_words(one, table)) + "<ul>";
      for (const std::string& why : one.why) text += "<li class=\"small\">" + escaped(why) + "</li>";
      if (one.more > 0) text += "<li class=\"small\">and " + std::to_string(one.more) + " more problems</li>";
      text += "</ul></li>\n";
    }
    text += "</ul>\n";
  }
  return text + "</section>\n";
}

}  // namespace haunch::report
