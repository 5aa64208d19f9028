// SPDX-License-Identifier: Apache-2.0
#include "marking_job.hpp"

#include "base/files.hpp"
#include "cli.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

MarkingMeans read_means(const std::string& scheme_name, const std::string& rules_file) {
  const fs::path content = base::content_dir();
  const std::string scheme = scheme_name.empty() ? "three-goals" : scheme_name;
  const std::string rules_name = rules_file.empty() ? "rules" : rules_file;
  MarkingMeans means{
      need(grading::Scheme::named(scheme)), need(marking::Rules::named(rules_name)), {}, {}, {}, {}};
  means.scheme_hash = base::fingerprint(read_text_file(grading::Scheme::file_named(scheme)));
  means.rules_hash = means.rules.fingerprint();
  means.code_list_hash = base::fingerprint(read_text_file(content / "coding" / "en13508-2.json"));
  return means;
}

marking::Marking mark_with(const MarkingMeans& means, const coding::Record& truth,
                           const coding::Record& attempt, base::LengthUnit unit,
                           const std::vector<marking::InView>& in_view, const marking::OnDrive& on_drive) {
  return marking::mark(truth, attempt, means.scheme, means.site, means.rules, coding::CodeList::shipped(),
                       unit, in_view, on_drive);
}

marking::OnDrive on_drive_of(const AttemptInput& attempt) {
  return attempt.exercise ? attempt.exercise->on_drive() : marking::OnDrive{};
}

report::ExercisePage page_of(const TruthInput& truth, const coding::Record& attempt,
                             const marking::Marking& marking, const MarkingMeans& means,
                             base::LengthUnit unit) {
  report::ExercisePage page;
  page.title = truth.title;
  page.truth = truth.truth.record;
  page.attempt = attempt;
  page.marking = marking;
  page.scene = truth.scene ? &*truth.scene : nullptr;
  page.unit = unit;
  for (int one = 0; one <= means.scheme.worst_class(); ++one)
    if (const std::string meaning = means.scheme.object_class_meaning(one); !meaning.empty())
      page.object_classes.push_back(std::to_string(one) + ": " + meaning);
  if (truth.scene) {
    const scene::Scenario& scenario = truth.scene->scenario;
    page.made_with.emplace_back("Scenario", truth.file.filename().string() + ", edition " +
                                                std::to_string(scenario.edition) + ", " + scenario.hash);
  } else {
    page.made_with.emplace_back("Record taken as true", truth.file.filename().string());
  }
  page.made_with.emplace_back("Code list", means.code_list_hash);
  page.made_with.emplace_back("Grading scheme", means.scheme.id() + ", " + means.scheme_hash);
  page.made_with.emplace_back("Marking rules", means.rules.title() + ", " + means.rules_hash);
  page.made_with.emplace_back("Program", "haunch " + program_version());
  return page;
}

}  // namespace haunch::cli
