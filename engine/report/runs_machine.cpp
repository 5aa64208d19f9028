// SPDX-License-Identifier: Apache-2.0
// The table of runs as JSON and CSV.
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/words.hpp"
#include "exchange/csv_columns.hpp"
#include "report/runs.hpp"

namespace haunch::report {
namespace {

using Json = nlohmann::ordered_json;

std::string written(const Json& json) { return json.dump(-1, ' ', false, Json::error_handler_t::replace); }

Json number_or_null(const std::optional<float>& number) {
  // Two decimals are more than a counter shows, and the float's tail says nothing.
  return number ? Json(std::round(static_cast<double>(*number) * 100) / 100) : Json(nullptr);
}

Json class_json(std::int16_t grade) { return grade < 0 ? Json(nullptr) : Json(grade); }

Json run_json(const RunRow& row, std::size_t rank, const RunsTable& table, const Meanings& meanings) {
  Json overall = Json::object();
  for (std::size_t i = 0; i < row.overall.size() && i < table.overall.size(); ++i)
    overall[table.overall[i]] = {{"number", number_or_null(row.overall[i].number)},
                                 {"class", class_json(row.overall[i].grade)},
                                 {"complete", row.overall[i].complete},
                                 {"provisional", row.overall[i].provisional}};
  return Json{{"rank", rank},
              {"file", table.files[row.file]},
              {"inspection", row.inspection},
              {"pipe", row.pipe},
              {"next", meanings.next()[row.next].id},
              {"action", meanings.next()[row.next].action_words},
              {"most_urgent", row.urgent ? Json(*row.urgent) : Json(nullptr)},
              {"findings", row.findings},
              {"object_class", class_json(row.worst_class)},
              {"object_class_least", class_json(row.class_least)},
              {"object_class_most", class_json(row.class_most)},
              {"not_classed", row.not_classed},
              {"overall", std::move(overall)},
              {"object_number", number_or_null(row.number)},
              {"provisional", row.provisional},
              {"wholly_inspected", row.wholly_inspected},
              {"length_m", number_or_null(row.length_m)},
              {"errors", row.errors},
              {"warnings", row.warnings},
              {"doubtful", row.doubtful.empty() ? Json(nullptr) : Json(row.doubtful)}};
}

}  // namespace

void write_runs_json(const RunsTable& table, const Meanings& meanings, std::ostream& out) {
  out << "\"runs\": [";
  for (std::size_t i = 0; i < table.runs.size(); ++i)
    out << (i > 0 ? ",\n" : "\n") << written(run_json(table.runs[i], i + 1, table, meanings));
  out << "],\n\"not_graded\": [";
  for (std::size_t i = 0; i < table.not_graded.size(); ++i) {
    const NotGraded& one = table.not_graded[i];
    out << (i > 0 ? ",\n" : "\n")
        << written({{"file", table.files[one.file]},
                    {"inspection", one.inspection > 0 ? Json(one.inspection) : Json(nullptr)},
                    {"why", one.why},
                    {"more_problems", one.more}});
  }
  out << "]";
}

std::string csv_cell(const std::string& text) {
  std::string cell = text;
  if (exchange::csv_would_run(cell)) cell.insert(cell.begin(), '\'');
  if (cell.find_first_of(",;\"\r\n") == std::string::npos && base::trim(cell) == cell) return cell;
  std::string quoted = "\"";
  for (const char letter : cell) {
    quoted += letter;
    if (letter == '"') quoted += letter;
  }
  return quoted + '"';
}

void write_runs_csv(const RunsTable& table, const Meanings& meanings, std::ostream& out) {
  out << "rank,file,inspection,pipe,next,action,most_urgent,findings,object_class,object_class_least,"
         "object_class_most,not_classed,object_number,provisional,wholly_inspected,length_m,errors,warnings";
  for (const std::string& id : table.overall)
    for (const char* what : {"number", "class", "complete", "provisional"})
      out << ',' << csv_cell(id + " " + what);
  out << ",doubtful,not_graded_because\r\n";
  const auto grade = [](std::int16_t one) { return one < 0 ? std::string() : std::to_string(one); };
  const auto number = [](const std::optional<float>& value) {
    return value ? base::show_number(std::round(static_cast<double>(*value) * 100) / 100) : std::string();
  };
  for (std::size_t i = 0; i < table.runs.size(); ++i) {
    const RunRow& row = table.runs[i];
    out << i + 1 << ',' << csv_cell(table.files[row.file]) << ',' << row.inspection << ','
        << csv_cell(row.pipe) << ',' << meanings.next()[row.next].id << ','
        << meanings.next()[row.next].action_words << ',' << (row.urgent ? csv_cell(*row.urgent) : "") << ','
        << row.findings << ',' << grade(row.worst_class) << ',' << grade(row.class_least) << ','
        << grade(row.class_most) << ',' << row.not_classed << ',' << number(row.number) << ','
        << (row.provisional ? "yes" : "no") << ',' << (row.wholly_inspected ? "yes" : "no") << ','
        << number(row.length_m) << ',' << row.errors << ',' << row.warnings;
    for (std::size_t o = 0; o < table.overall.size(); ++o) {
      const RunOverall one = o < row.overall.size() ? row.overall[o] : RunOverall{};
      out << ',' << number(one.number) << ',' << grade(one.grade) << ',' << (one.complete ? "yes" : "no")
          << ',' << (one.provisional ? "yes" : "no");
    }
    out << ',' << csv_cell(row.doubtful) << ",\r\n";
  }
  for (const NotGraded& one : table.not_graded)
    out << ',' << csv_cell(table.files[one.file]) << ','
        << (one.inspection > 0 ? std::to_string(one.inspection) : "")
        << std::string(17 + 4 * table.overall.size(), ',') << csv_cell(one.why.empty() ? "" : one.why.front())
        << "\r\n";
}

}  // namespace haunch::report
