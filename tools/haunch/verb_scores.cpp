// SPDX-License-Identifier: Apache-2.0
// haunch scores: the attempts kept so far.
#include <filesystem>

#include "report/output_json.hpp"
#include "report/plain_text.hpp"
#include "scores/store.hpp"
#include "verbs.hpp"

namespace haunch::cli {

int scores(const Arguments& arguments) {
  Command command{"scores [--trainee CODE] [--json] [--store FILE]",
                  "Lists the attempts kept so far, oldest first."};
  command.options.add_options()("trainee", po::value<std::string>()->value_name("CODE"),
                                "only this person's")("json", "machine-readable (schema: scores)")(
      "store", po::value<std::string>()->value_name("FILE"), "where they are kept; default: your own scores");
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const std::filesystem::path file =
      has(*given, "store") ? std::filesystem::path(text_of(*given, "store")) : scores::default_store();
  std::vector<scores::Attempt> attempts;
  if (std::filesystem::exists(file)) {
    std::optional<std::string> trainee;
    if (has(*given, "trainee")) trainee = text_of(*given, "trainee");
    attempts = scores::Store::open(file).attempts(trainee);
  } else if (has(*given, "store")) {
    throw InputProblems({base::Problem{
        {file.string()}, base::Severity::error, "there is no such file", "a store of attempts", {}}});
  }
  print_out(has(*given, "json") ? report::scores_to_json(attempts) : report::scores_text(attempts));
  return done;
}

}  // namespace haunch::cli
