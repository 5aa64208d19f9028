// SPDX-License-Identifier: Apache-2.0
// haunch scores: what people have made of their practice so far, and the attempts it was read from.
#include <filesystem>
#include <map>

#include "courses/exam.hpp"
#include "outputs.hpp"
#include "play/attempt.hpp"
#include "progress/page.hpp"
#include "report/output_json.hpp"
#include "report/plain_text.hpp"
#include "scores/store.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

struct Kept {
  std::vector<scores::Attempt> attempts;
  std::vector<scores::Answer> answers;
  std::vector<scores::Sitting> sittings;
};

Kept read_kept(const po::variables_map& given) {
  const std::filesystem::path file =
      has(given, "store") ? std::filesystem::path(text_of(given, "store")) : scores::default_store();
  if (!std::filesystem::exists(file)) {
    if (!has(given, "store")) return {};
    throw InputProblems({base::Problem{
        {file.string()}, base::Severity::error, "there is no such file", "a store of attempts", {}}});
  }
  std::optional<std::string> trainee;
  if (has(given, "trainee")) trainee = text_of(given, "trainee");
  const auto store = scores::Store::open(file);
  return {store.attempts(trainee), store.answers(trainee), store.sittings(trainee)};
}

/// Each person's rows apart, by name.
std::map<std::string, progress::Rows> by_person(Kept kept) {
  std::map<std::string, progress::Rows> people;
  for (auto& one : kept.attempts) people[one.trainee].attempts.push_back(std::move(one));
  for (auto& one : kept.answers) people[one.trainee].answers.push_back(std::move(one));
  for (auto& one : kept.sittings) people[one.trainee].sittings.push_back(std::move(one));
  return people;
}

std::vector<courses::Exam> exams_there_are() {
  std::vector<courses::Exam> exams;
  for (const auto& file : courses::shipped_exams())
    if (auto exam = courses::read_exam(file)) exams.push_back(std::move(exam).value());
  return exams;
}

}  // namespace

int scores(const Arguments& arguments) {
  Command command{
      "scores [--trainee CODE] [--json | --csv] [--html FILE] [--attempts] [--store FILE]",
      "What people have made of their practice: code by code, with how sure that is, and what to\n"
      "practise next. With --attempts the runs that were marked, oldest first."};
  command.options.add_options()("trainee", po::value<std::string>()->value_name("CODE"),
                                "only this person's")(
      "json", "machine-readable (schema: progress, or scores for --attempts)")(
      "csv", "a line for each person and code")("html", po::value<std::string>()->value_name("FILE"),
                                                "a page with charts, printable")(
      "attempts", "list the attempts instead")("store", po::value<std::string>()->value_name("FILE"),
                                               "where they are kept; default: your own scores");
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  if (has(*given, "json") && has(*given, "csv")) throw UsageError("give --json or --csv, not both");
  if (has(*given, "attempts") && (has(*given, "csv") || has(*given, "html")))
    throw UsageError("--attempts is listed as text or as JSON");
  std::vector<Output> outputs;
  if (has(*given, "html")) outputs.push_back({"--html", text_of(*given, "html")});
  std::vector<std::filesystem::path> inputs;
  if (has(*given, "store")) inputs.emplace_back(text_of(*given, "store"));
  keep_apart(outputs, inputs);
  Kept kept = read_kept(*given);
  keep_others(outputs, *given);
  if (has(*given, "attempts")) {
    print_out(has(*given, "json") ? report::scores_to_json(kept.attempts)
                                  : report::scores_text(kept.attempts));
    return done;
  }
  const std::string now = play::utc_now();
  std::vector<progress::Overview> people;
  const auto exams = exams_there_are();
  for (const auto& [trainee, rows] : by_person(std::move(kept)))
    people.push_back(progress::overview_of(trainee, rows, exams, learning::shipped_model(),
                                           coding::CodeList::shipped(), learning::days_of(now).value_or(0)));
  if (!outputs.empty())
    write_or_throw(outputs[0].file, progress::html(people, learning::date_of(*learning::days_of(now))));
  if (has(*given, "json"))
    print_out(progress::json(people));
  else if (has(*given, "csv"))
    print_out(progress::csv(people));
  else if (outputs.empty())
    print_out(people.empty() ? std::string("nothing has been kept yet\n") : progress::text(people));
  return done;
}

}  // namespace haunch::cli
