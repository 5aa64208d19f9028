// SPDX-License-Identifier: Apache-2.0
#include "exchange/inspection_writer.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "exchange/csv_writer.hpp"
#include "exchange/json_writer.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/text_writer.hpp"

namespace haunch::exchange {

using base::Severity;

namespace {

constexpr std::size_t flush_at = std::size_t{1} << 20U;

}  // namespace

struct InspectionWriter::Inside {
  Inside(const std::filesystem::path& path, WriteAs how, base::Overwrite overwrite)
      : as(std::move(how)), file(path, overwrite), text(as.style), csv(as.extra_columns), json(as.language) {
    problems = file.problems();
    if (as.kind == FileKind::exchange_text)
      for (base::Problem& wrong : problems_of_style(as.style)) {
        wrong.place = {path.string()};
        problems.push_back(std::move(wrong));
      }
    if (as.kind == FileKind::exchange_text) text.head();
    if (as.kind == FileKind::csv) csv.captions();
    // English is what is assumed of a file that names no language, so that nothing is lost.
    if (as.kind == FileKind::csv && as.language && base::lower(*as.language) != "en")
      problems.push_back(
          {{path.string(), 1, 1},
           Severity::warning,
           "CSV has no place for the language of the remarks, \"" + *as.language + "\", which was left out",
           "JSON, which has one, or --language when exchange text is made of the CSV",
           {}});
  }

  std::string& out() {
    return as.kind == FileKind::record_json ? json.out : as.kind == FileKind::csv ? csv.out : text.out;
  }

  void add(const coding::Record& record, const TextLayout& layout, const coding::RecordPlaces& places,
           const base::Place& place) {
    if (base::has_errors(problems)) return;
    // Only the end of the file may lack them.
    if (unended) text.out += unended_text;
    unended = false;
    if (as.kind == FileKind::exchange_text) {
      add_text(record, layout, places, place);
    } else if (as.kind == FileKind::csv) {
      csv.add(record);
    } else {
      refuse_hours(record, places, place);
      json.add(record);
    }
    left_out(record, place);
    if (out().size() < flush_at) return;
    file.write(out());
    out().clear();
  }

  /// What is missing at the end of this inspection is written when another one follows.
  void add_text(const coding::Record& record, const TextLayout& layout, const coding::RecordPlaces& places,
                const base::Place& place) {
    text.add(record, layout, places, place);
    const char* const end = as.style.line_end == LineEnd::crlf ? "\r\n"
                            : as.style.line_end == LineEnd::cr ? "\r"
                                                               : "\n";
    unended_text = layout.last_line_end ? "" : end;
    if (!layout.ended) unended_text += std::string("#Z") + end;
    unended = !unended_text.empty();
  }

  /// The schema of records has no such hours, so nobody could read the file.
  void refuse_hours(const coding::Record& record, const coding::RecordPlaces& places,
                    const base::Place& place) {
    for (std::size_t i = 0; i < record.observations.size(); ++i)
      for (const auto& hour : {record.observations[i].clock_from, record.observations[i].clock_to})
        if (hour && (*hour < 1 || *hour > 12))
          add_problem(problems, {i < places.observations.size() ? places.observations[i] : place,
                                 Severity::error,
                                 coding::show_code(record.observations[i]) + ": the hour " +
                                     std::to_string(*hour) + " cannot stand in a JSON record",
                                 "1 to 12, or none",
                                 {}});
  }

  /// Told once for each kind of thing.
  void left_out(const coding::Record& record, const base::Place& place) {
    if (as.kind == FileKind::record_json) return;
    const char* const form = as.kind == FileKind::csv ? "CSV" : "exchange text";
    const auto tell = [&](bool there, bool& told, const char* what) {
      if (!there || told) return;
      told = true;
      add_problem(problems, {place,
                             Severity::warning,
                             std::string(form) + " has no place for " + what + ", which was left out",
                             "JSON, which has one",
                             {}});
    };
    tell(record.judgement.has_value(), told_judgement, "the judgement");
    tell(!record.not_visible.empty(), told_hidden, "what could not be seen");
    tell(as.kind == FileKind::exchange_text &&
             std::any_of(record.observations.begin(), record.observations.end(),
                         [](const coding::Observation& one) { return !one.reason.empty(); }),
         told_reason, "the reason of an observation");
  }

  base::Problems finish() {
    if (as.kind == FileKind::record_json) json.end();
    for (base::Problem& problem : text.problems) add_problem(problems, std::move(problem));
    if (base::has_errors(problems)) return problems;
    file.write(out());
    for (base::Problem& problem : file.finish()) problems.push_back(std::move(problem));
    return problems;
  }

  WriteAs as;
  base::NewFile file;
  TextWriter text;
  CsvWriter csv;
  JsonWriter json;
  base::Problems problems{};
  bool unended = false, told_judgement = false, told_hidden = false, told_reason = false;
  std::string unended_text{};
};

InspectionWriter::InspectionWriter(const std::filesystem::path& file, WriteAs as, base::Overwrite overwrite)
    : inside_(std::make_unique<Inside>(file, std::move(as), overwrite)) {}
InspectionWriter::InspectionWriter(InspectionWriter&&) noexcept = default;
InspectionWriter& InspectionWriter::operator=(InspectionWriter&&) noexcept = default;
InspectionWriter::~InspectionWriter() = default;

void InspectionWriter::add(const Inspection& inspection) {
  inside_->add(inspection.placed.record, inspection.layout, inspection.placed.places, inspection.place);
}
void InspectionWriter::add(const coding::Record& record) { inside_->add(record, {}, {}, {}); }

base::Problems InspectionWriter::finish() { return inside_->finish(); }

}  // namespace haunch::exchange
