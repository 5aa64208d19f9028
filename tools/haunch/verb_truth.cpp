// SPDX-License-Identifier: Apache-2.0
// haunch truth: the record that a careful inspector would write of a scenario.
#include "base/files.hpp"
#include "exchange/read_records.hpp"
#include "inputs.hpp"
#include "outputs.hpp"
#include "report/plain_text.hpp"
#include "sight_job.hpp"
#include "verbs.hpp"

namespace haunch::cli {

int truth(const Arguments& arguments) {
  Command command{
      "truth SCENARIO [options]",
      "Derives the record a careful inspector would write, each line with its reason, and what\n"
      "nobody could see, with why: by the geometry of the run, or with --sight also by pictures of\n"
      "a careful drive, which takes some seconds for each fault."};
  command.place("SCENARIO");
  command.options.add_options()("json", "record as JSON, with reason and not_visible")(
      "text", "record as EN 13508-2 exchange text")("output,o", po::value<std::string>()->value_name("FILE"),
                                                    "write there instead of to standard output");
  command.options.add_options()("sight", "what a careful drive shows nowhere plainly was not to be seen");
  add_force(command);
  add_units(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  if (has(*given, "json") && has(*given, "text")) throw UsageError("give --json or --text, not both");
  const base::LengthUnit unit = units_of(*given);

  const std::filesystem::path file = text_of(*given, "SCENARIO");
  std::vector<Output> outputs;
  if (has(*given, "output")) {
    outputs.push_back({"-o", text_of(*given, "output")});
  }
  keep_apart(outputs, {file});
  const scene::Scene scene = read_scene(file);
  keep_others(outputs, *given);
  truth::Truth derived = truth::derive(scene);
  if (has(*given, "sight")) set_aside_unseen(scene, derived);
  const coding::Record& record = derived.record;
  std::string out;
  if (has(*given, "json")) {
    out = exchange::record_to_json(record);
  } else if (has(*given, "text")) {
    out = exchange::write_records({record}, exchange::FileKind::exchange_text);
  } else {
    out = report::truth_text(record, coding::CodeList::shipped(), unit);
  }
  if (outputs.empty())
    print_out(out);
  else
    write_or_throw(outputs[0].file, out);
  return done;
}

}  // namespace haunch::cli
