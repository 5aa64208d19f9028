// SPDX-License-Identifier: Apache-2.0
// haunch demo: the whole main job without a display.
#include <algorithm>
#include <iostream>

#include "base/files.hpp"
#include "base/words.hpp"
#include "demo_folder.hpp"
#include "exchange/record_json.hpp"
#include "marking_job.hpp"
#include "pictures.hpp"
#include "play/attempt.hpp"
#include "report/output_json.hpp"
#include "report/standing.hpp"
#include "sight_job.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

const std::vector<std::string> fixed_names = {"report.html",  "marking.json", "truth.json",
                                              "attempt.json", "grade.json",   "scores.sqlite"};

/// Names of the files in a folder of content that end so, without the end.
std::vector<std::string> shipped(const char* folder, const std::string& end) {
  std::vector<std::string> names;
  std::error_code ignored;
  for (const auto& entry : fs::directory_iterator(base::content_dir() / folder, ignored)) {
    const std::string name = entry.path().filename().string();
    if (name.size() > end.size() && name.compare(name.size() - end.size(), end.size(), end) == 0)
      names.push_back(name.substr(0, name.size() - end.size()));
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// A shipped scenario by name ("canteen-branch"), or a scenario file.
fs::path scenario_file(const std::string& given) {
  if (given.find('/') != std::string::npos || fs::path(given).extension() == ".json") return given;
  const std::vector<std::string> names = shipped("scenarios", ".json");
  if (std::find(names.begin(), names.end(), given) == names.end()) {
    const std::string near = base::nearest_word(given, names);
    throw UsageError("--scenario " + given + ": no such run is shipped; there are " +
                     base::join(names, ", ") + (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  }
  return base::content_dir() / "scenarios" / (given + ".json");
}

/// The recorded attempt: the one named, or the shipped one of that run.
fs::path attempt_file(const po::variables_map& given, const fs::path& scenario) {
  if (has(given, "attempt")) return text_of(given, "attempt");
  const std::string name = scenario.stem().string();
  const fs::path log = base::content_dir() / "demo" / (name + ".attempt.jsonl");
  if (!fs::exists(log)) {
    throw UsageError("no recorded attempt is shipped for " + name +
                     "; give one with --attempt LOG (shipped ones: " +
                     base::join(shipped("demo", ".attempt.jsonl"), ", ") + ")");
  }
  return log;
}

/// A second demo of the same attempt differs only in its time; the first stays.
void keep_once(const fs::path& file, const scores::Attempt& attempt) {
  scores::Store store = scores::Store::open(file);
  const std::vector<scores::Attempt> before = store.attempts(attempt.trainee);
  const bool there = std::any_of(before.begin(), before.end(),
                                 [&](const scores::Attempt& other) { return other.id == attempt.id; });
  if (!there) store.add(attempt);
}

void say(const std::string& line) { std::cout << line << std::endl; }

}  // namespace

int demo(const Arguments& arguments) {
  Command command{
      "demo [--out DIR] [--scenario NAME] [--attempt LOG]",
      "The whole job without a display: takes a shipped run, replays a recorded attempt that is not\n"
      "perfect, marks and grades it, draws the places that were missed and found, keeps the attempt in\n"
      "a store of its own, and writes the report. Says where."};
  command.options.add_options()("out",
                                po::value<std::string>()->default_value("haunch-demo")->value_name("DIR"),
                                "where to write; files that are not a demo's are never written over")(
      "scenario", po::value<std::string>()->default_value("canteen-branch")->value_name("NAME"),
      "a shipped scenario or a scenario file")("attempt", po::value<std::string>()->value_name("LOG"),
                                               "an input log; default: the shipped one of that scenario")(
      "trainee", po::value<std::string>()->default_value("coder-07")->value_name("CODE"),
      "whose attempt it is");
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const base::LengthUnit unit = units_of(*given);
  const std::string trainee = text_of(*given, "trainee");
  const fs::path folder = text_of(*given, "out");
  const fs::path file = scenario_file(text_of(*given, "scenario"));
  const fs::path log = attempt_file(*given, file);
  DemoFolder out(folder);
  if (const base::Problems problems = out.in_the_way(fixed_names); !problems.empty())
    throw InputProblems(problems);

  TruthInput truth = read_truth(file);
  if (!truth.scene) throw UsageError(file.string() + " is a record; demo wants a scenario");
  say("run:     " + truth.title + ", " + base::show_distance(truth.scene->length_m(), unit));
  say("truth:   " + std::to_string(truth.truth.record.observations.size()) + " observations derived");
  AttemptInput attempt = read_attempt(log, truth);
  if (!attempt.exercise || !attempt.exercise->marking()) {
    throw InputProblems({{{log.string()},
                          base::Severity::error,
                          "the exercise was not finished",
                          "an input log (.jsonl) that ends with marking",
                          {}}});
  }
  hold_to(truth, attempt);
  say("attempt: " + log.filename().string() + " replayed, " +
      std::to_string(attempt.record.observations.size()) + " observations logged by " + trainee);

  MarkingMeans means = read_means({}, {});
  means.site = grading::site_from(truth.truth.record);
  const std::vector<marking::InView> in_view = look_again(truth, attempt, means);
  const marking::Marking own = mark_with(means, truth.truth.record, attempt.record, base::LengthUnit::metres,
                                         in_view, on_drive_of(attempt));
  const marking::Marking marking =
      mark_with(means, truth.truth.record, attempt.record, unit, in_view, on_drive_of(attempt));
  for (const std::string& warning : marking.warnings) say("WARNING: " + warning);
  say("marked:  coding " + report::show_score(marking.score) + " of 100; found " +
      std::to_string(marking.summary.found) + ", missed " + std::to_string(marking.missed.size()) +
      ", invented " + std::to_string(marking.invented.size()));
  const auto& grade = marking.consequence.truth;
  say("graded:  object class " + report::show_object_class(grade, "not given") + "; " +
      (marking.grading.given ? "given classes " + marking::show_right(marking.grading)
                             : std::string("no classes given")));

  std::vector<DrawnPicture> pictures = draw_pictures(truth, marking, unit, [](int number, int count) {
    if (number % 5 == 1 || number == count)
      say("drawing: " + std::to_string(number) + " of " + std::to_string(count));
  });
  std::vector<std::string> names;
  for (const DrawnPicture& picture : pictures) names.push_back("frames/" + picture.name);
  if (const base::Problems problems = out.in_the_way(names); !problems.empty()) throw InputProblems(problems);

  const std::string record_json = exchange::record_to_json(attempt.record);
  scores::Attempt kept = play::attempt_from(*attempt.exercise, trainee, record_json, program_version());
  // By what was done and not by when, so that a second demo does not look like a second attempt.
  kept.id = "demo-" + base::fingerprint(trainee + kept.scenario_hash + kept.rules_hash + kept.scheme_hash +
                                        kept.input_log);
  report::ExercisePage page = page_of(truth, attempt.record, marking, means, unit);
  page.trainee = trainee;
  page.finished_at = kept.finished_at;
  for (DrawnPicture& picture : pictures) {
    out.write("frames/" + picture.name, picture.png);
    page.pictures.push_back(std::move(picture.picture));
  }
  out.write("truth.json", exchange::record_to_json(truth.truth.record));
  out.write("attempt.json", record_json);
  out.write("marking.json", marking::to_json(own));
  out.write("grade.json",
            report::grade_to_json({"attempt.json", 1, &attempt.record, marking.consequence.attempt}));
  out.write("report.html",
            report::exercise_html(page, coding::CodeList::shipped(), report::shipped_cautions()));
  out.own("scores.sqlite");
  keep_once(folder / "scores.sqlite", kept);
  out.finish();
  say("written: " + std::to_string(pictures.size()) + " frames, records, marking and scores in " +
      folder.string());
  say("report:  " + fs::absolute(folder / "report.html").lexically_normal().string());
  return done;
}

}  // namespace haunch::cli
