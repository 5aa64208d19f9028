// SPDX-License-Identifier: Apache-2.0
// haunch mark: an attempt against the truth.
#include <iostream>

#include "base/files.hpp"
#include "marking_job.hpp"
#include "pictures.hpp"
#include "report/plain_text.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

int mark(const Arguments& arguments) {
  Command command{
      "mark TRUTH ATTEMPT [options]",
      "Marks an attempt: a verdict for each aspect of each finding, what was missed and invented, the\n"
      "score, the person's own grading, and what the difference does to the grade.\n"
      "TRUTH is a scenario or a record; ATTEMPT is a record, exchange text, or (for a scenario) the\n"
      "input log of an exercise (.jsonl)."};
  command.place("TRUTH").place("ATTEMPT");
  command.options.add_options()("json", "machine-readable (schema: marking)")(
      "html", po::value<std::string>()->value_name("FILE"), "also write the report as one HTML page")(
      "trainee", po::value<std::string>()->value_name("CODE"), "whose attempt it is, for the report")(
      "scheme", po::value<std::string>()->value_name("FILE"),
      "a grading scheme; default: the shipped three goals")(
      "rules", po::value<std::string>()->value_name("FILE"), "marking rules; default: the shipped ones")(
      "inspection", po::value<std::string>()->value_name("N"), "which inspection of ATTEMPT, from 1");
  add_site(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  const int inspection = has(*given, "inspection") ? static_cast<int>(number_of(*given, "inspection")) : 1;

  const fs::path truth_file = text_of(*given, "TRUTH"), attempt_file = text_of(*given, "ATTEMPT");
  const TruthInput truth = read_truth(truth_file);
  const AttemptInput attempt = read_attempt(attempt_file, truth, inspection);
  MarkingMeans means = read_means(text_of(*given, "scheme"), text_of(*given, "rules"));
  means.site = site_of(*given, grading::site_from(truth.truth.record));
  const marking::Marking marking = mark_with(means, truth.truth.record, attempt.record);

  if (has(*given, "html")) {
    report::ExercisePage page = page_of(truth, attempt.record, marking, means, unit);
    page.trainee = text_of(*given, "trainee");
    if (truth.scene) {
      for (DrawnPicture& picture : draw_pictures(truth, marking, unit, [](int, int) {})) {
        page.pictures.push_back(std::move(picture.picture));
      }
    }
    put_out(text_of(*given, "html"),
            report::exercise_html(page, coding::CodeList::shipped(), report::shipped_cautions()),
            {truth_file, attempt_file});
  }
  put_out({},
          has(*given, "json") ? marking::to_json(marking)
                              : report::marking_text(marking, truth.truth.record, attempt.record,
                                                     coding::CodeList::shipped(), unit),
          {});
  return done;
}

}  // namespace haunch::cli
