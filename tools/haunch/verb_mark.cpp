// SPDX-License-Identifier: Apache-2.0
// haunch mark: an attempt against the truth.
#include <algorithm>
#include <iostream>

#include "base/files.hpp"
#include "mark_batch.hpp"
#include "marking_job.hpp"
#include "outputs.hpp"
#include "pictures.hpp"
#include "report/plain_text.hpp"
#include "sight_job.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

namespace {

int mark_many(const po::variables_map& given, const fs::path& truth,
              const std::vector<std::string>& attempts) {
  for (const char* option : {"html", "inspection", "trainee"})
    if (has(given, option))
      throw UsageError(std::string("--") + option + " is for one attempt, not for several");
  MarkingMeans means = read_means(text_of(given, "scheme"), text_of(given, "rules"));
  const GivenSite site = given_site(given, means.scheme);
  const std::vector<OneMarked> all = mark_all(truth, attempts, means, site);
  print_out(has(given, "json") ? marked_json(all) : marked_text(all));
  const bool any_wrong =
      std::any_of(all.begin(), all.end(), [](const OneMarked& one) { return !one.why_not.empty(); });
  return any_wrong ? input_has_problems : done;
}

}  // namespace

int mark(const Arguments& arguments) {
  Command command{
      "mark TRUTH ATTEMPT|FOLDER... [options]",
      "Marks an attempt: a verdict for each aspect of each finding, what was missed and invented, the\n"
      "score, the person's own grading, and what the difference does to the grade.\n"
      "TRUTH is a scenario or a record; ATTEMPT is a record, exchange text, or (for a scenario) the\n"
      "input log of an exercise (.jsonl). A wrong code in ATTEMPT is marked as wrong; nothing is marked\n"
      "when a clock or a number in it cannot be, or when TRUTH is no sound record. Of an input log it is\n"
      "also said how what was missed was in view on that drive, measured on pictures. Of a scenario nothing "
      "is\n"
      "held against anybody that a careful drive shows nowhere plainly; that is measured on pictures too.\n"
      "Of several attempts, or of a folder of them, a table tells the scores; TRUTH may then be a folder "
      "too,\n"
      "and each attempt goes to the run it is of: a log by its run, a record by its reference (AAA)."};
  command.place("TRUTH").places_many("ATTEMPT");
  command.options.add_options()("json", "machine-readable (schema: marking; of several: markings)")(
      "html", po::value<std::string>()->value_name("FILE"), "also write the report as one HTML page")(
      "trainee", po::value<std::string>()->value_name("CODE"), "whose attempt it is, for the report")(
      "scheme", po::value<std::string>()->value_name("NAME|FILE"),
      "a shipped grading scheme or a file; default: three-goals")(
      "rules", po::value<std::string>()->value_name("NAME|FILE"),
      "marking rules: rules (every day), teaching, exam, or a file; default: rules")(
      "inspection", po::value<std::string>()->value_name("N"), "which inspection of ATTEMPT, from 1");
  add_force(command);
  add_site(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  const auto attempts = (*given)["ATTEMPT"].as<std::vector<std::string>>();
  const fs::path truth_file = text_of(*given, "TRUTH"), attempt_file = attempts.front();
  std::error_code ignored;
  if (attempts.size() > 1 || fs::is_directory(attempt_file, ignored) || fs::is_directory(truth_file, ignored))
    return mark_many(*given, truth_file, attempts);
  std::vector<Output> outputs;
  if (has(*given, "html")) outputs.push_back({"--html", text_of(*given, "html")});
  std::vector<fs::path> inputs{truth_file, attempt_file};
  for (const char* name : {"scheme", "rules"})
    if (has(*given, name)) inputs.emplace_back(text_of(*given, name));
  for (const fs::path& file : site_files(*given)) inputs.push_back(file);
  keep_apart(outputs, inputs);
  MarkingMeans means = read_means(text_of(*given, "scheme"), text_of(*given, "rules"));
  const GivenSite site = given_site(*given, means.scheme);  // told before records are read
  TruthInput truth = read_truth(truth_file);
  WhichInspection which;
  if (has(*given, "inspection")) {
    which = [&](std::size_t count) {
      return which_of(*given, "inspection", count,
                      attempt_file.string() + " holds " + counted(count, "inspection"));
    };
  }
  const AttemptInput attempt = read_attempt(attempt_file, truth, which);
  hold_to(truth, attempt);
  keep_others(outputs, *given);
  means.site = site.of(truth.truth.record);
  const std::vector<marking::InView> in_view = look_again(truth, attempt, means);
  const marking::OnDrive on_drive = on_drive_of(attempt);
  const marking::Marking marking =
      mark_with(means, truth.truth.record, attempt.record, unit, in_view, on_drive);

  if (has(*given, "html")) {
    report::ExercisePage page = page_of(truth, attempt.record, marking, means, unit);
    page.trainee = text_of(*given, "trainee");
    if (truth.scene) {
      for (DrawnPicture& picture : draw_pictures(truth, marking, unit, [](int, int) {})) {
        page.pictures.push_back(std::move(picture.picture));
      }
    }
    write_or_throw(outputs[0].file,
                   report::exercise_html(page, coding::CodeList::shipped(), report::shipped_cautions()));
  }
  // What programs read stays in metres, sentences too.
  if (has(*given, "json"))
    print_out(marking::to_json(
        mark_with(means, truth.truth.record, attempt.record, base::LengthUnit::metres, in_view, on_drive)));
  else
    print_out(
        report::marking_text(marking, truth.truth.record, attempt.record, coding::CodeList::shipped(), unit));
  return done;
}

}  // namespace haunch::cli
