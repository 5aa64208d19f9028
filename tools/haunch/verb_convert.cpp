// SPDX-License-Identifier: Apache-2.0
// haunch convert: records between exchange text, JSON and CSV.
#include <iostream>

#include "base/files.hpp"
#include "exchange/read_records.hpp"
#include "outputs.hpp"
#include "records.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

int convert(const Arguments& arguments) {
  Command command{
      "convert IN OUT [--force]",
      "Reads inspections (exchange text, JSON or CSV, told apart by what stands in the file) and\n"
      "writes them: .json as JSON, .csv as CSV, any other name as EN 13508-2 exchange text.\n"
      "What `haunch check` would say of them is said, and copied all the same.\n"
      "A file that is there already is left as it is unless --force is given."};
  command.place("IN").place("OUT");
  command.options.add_options()("force", "write over OUT when it is there");
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const fs::path in = text_of(*given, "IN"), out = text_of(*given, "OUT");
  if (same_file(in, out)) throw UsageError("IN and OUT are the same file");

  std::vector<exchange::PlacedRecord> read = read_inspections(in);
  problems_in_the_way(read, in, TakenAs::copy);
  std::vector<coding::Record> records;
  for (exchange::PlacedRecord& placed : read) records.push_back(std::move(placed.record));
  const std::string bytes = exchange::write_records(records, exchange::kind_for_writing(out));
  if (!has(*given, "force") && fs::exists(out)) {
    throw InputProblems(base::write_file(out, bytes, base::Overwrite::no));
  }
  write_or_throw(out, bytes);
  std::size_t observations = 0;
  for (const coding::Record& record : records) observations += record.observations.size();
  std::cout << out.string() << ": " << counted(records.size(), "inspection") << ", "
            << counted(observations, "observation") << '\n';
  return done;
}

}  // namespace haunch::cli
